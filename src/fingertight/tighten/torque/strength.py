"""How strong a bolt is by the mark on its head: what the mark says by its name, and what its standard asks at least."""

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from fingertight.quantity import UNITS
from fingertight.tighten.tables import rows
from fingertight.tighten.threads.names import INCH_MM, Thread
from fingertight.tighten.torque.preload import preload_at_share_of_yield_n

PSI_MPA = UNITS["lbf"].in_house / UNITS["in"].in_house ** 2
"""One pound-force a square inch in MPa, exact by definition (NIST SP 811, appendix B.8)."""


class NoSuchGrade(ValueError):
    """No table here has this grade; the message says why, or names the nearest there are; `nearest` lists them."""

    def __init__(self, typed: str, nearest: tuple[str, ...], why: str = "") -> None:
        said = typed if len(typed) <= 20 else f"{typed[:20]}…"
        super().__init__(why or f"There is no grade “{said}” here; the nearest are {', '.join(nearest)}.")
        self.nearest = nearest


class NoSuchStrength(ValueError):
    """The standard of a grade says nothing about this size; the message says what it covers."""


@dataclass(frozen=True, slots=True)
class Strength:
    """What a standard asks of a bolt at least [MPa]: tensile strength, yield (or 0.2 % stretch), proof stress."""

    tensile_mpa: float
    yield_mpa: float
    proof_mpa: float


@dataclass(frozen=True, slots=True)
class Grade:
    """A mark on a bolt's head, the standard behind it, and its strengths by size: (above, up to [mm], strength).

    has_proof: whether the standard has a proof stress. Where it has none the 0.2 % limit stands in its place.
    """

    name: str
    standard: str
    material: str
    by_size: tuple[tuple[float, float, Strength], ...]
    has_proof: bool = True

    @property
    def is_metric(self) -> bool:
        """Whether its standard is one of metric threads."""
        return not self.standard.startswith("SAE")


@dataclass(frozen=True, slots=True)
class _Table:
    """One published table: where its marks stand, how a grade is called, and the units it is printed in."""

    file: str
    marks: str
    called: str
    standard: str
    material: str
    size: str = "mm"
    stress: str = "mpa"
    has_proof: bool = True


_TABLES = (
    _Table("iso-898-1.csv", "class", "{}", "ISO 898-1:2013, table 3", "steel"),
    _Table("sae-j429.csv", "grade", "SAE {}", "SAE J429", "steel", size="in", stress="psi"),
    _Table("iso-3506-1.csv", "mark", "{}", "ISO 3506-1:2020", "stainless", has_proof=False),
    _Table("iso-8839.csv", "mark", "brass {}", "ISO 8839:1986", "brass", has_proof=False),
)
_LONG_MM = {"mm": 1.0, "in": INCH_MM}
_STRESS_MPA = {"mpa": 1.0, "psi": PSI_MPA}


def _strength(table: _Table, row: dict[str, str]) -> tuple[float, float, Strength]:
    """One row of a table, its sizes in mm and its stresses in MPa."""
    above, to = (float(row[f"{end}_{table.size}"]) * _LONG_MM[table.size] for end in ("above", "to"))
    tensile, yields, proof = (
        float(row.get(f"{kind}_{table.stress}", row[f"yield_{table.stress}"])) * _STRESS_MPA[table.stress]
        for kind in ("tensile", "yield", "proof")
    )
    return above, to, Strength(tensile, yields, proof)


@cache
def grades() -> dict[str, Grade]:
    """Every grade there is, by its name: property classes, SAE grades, stainless steel, brass.

    >>> list(grades())[:3], grades()["SAE 5"].standard
    (['4.6', '4.8', '5.6'], 'SAE J429')
    """
    by_size: dict[str, list[tuple[float, float, Strength]]] = {}
    of: dict[str, _Table] = {}
    for table in _TABLES:
        for row in rows(table.file):
            name = table.called.format(row[table.marks])
            of[name] = table
            by_size.setdefault(name, []).append(_strength(table, row))
    return {
        name: Grade(name, of[name].standard, of[name].material, tuple(ranges), of[name].has_proof)
        for name, ranges in by_size.items()
    }


_BEFORE = re.compile(r"\A(?:(?:property|strength|sae|j429|class|grade|gr|iso|stainless|steel|brass)(?![a-z])[ .:-]*)+")


def grade_named(text: str) -> Grade:
    """Which grade is meant by this text?

    >>> [grade_named(typed).name for typed in ("8,8", "class 10.9", "grade 5", "SAE 5", "a2-70", "brass")]
    ['8.8', '10.9', 'SAE 5', 'SAE 5', 'A2-70', 'brass CU2']

    Brass without its mark is CU2: CU3 has the same strengths. Raises NoSuchGrade, naming the nearest there are.
    """
    lowered = _evened(text)
    if lowered == "brass":
        return grades()["brass CU2"]
    bare = _BEFORE.sub("", lowered).upper()
    if re.fullmatch(r"A[24][ /]?[578]0", bare):
        bare = f"{bare[:2]}-{bare[-2:]}"
    found = next((grades()[name] for name in (bare, f"SAE {bare}", f"brass {bare}") if name in grades()), None)
    if found is None:
        raise NoSuchGrade(text, _nearest(lowered, bare))
    return found


_BOLT_OF_NUT = {"5": "5.8", "6": "6.8", "8": "8.8", "9": "9.8", "10": "10.9", "12": "12.9"}
_THIN_NUTS = ("04", "05")
_LINES = {"5": "three", "8": "six"}
_UNMARKED = ("unmarked", "not marked", "none", "no mark", "no marks", "without mark", "nothing", "blank", "-")
_STAINLESS = r"(?:stainless|inox|niro|rostfrei|ss)(?: steel)?|a[245]|v[24]a|304|316|18[-/]8"


def class_of_nut(text: str) -> str:
    """Which property class of a nut is this? "" where it is none: a bolt's class has two numbers, a nut's only one.

    >>> class_of_nut("class 8"), class_of_nut("8.8")
    ('8', '')

    Source: ISO 898-2:2012, which nut goes with which bolt at most, as reprinted on a public fastener page.
    """
    bare = _BEFORE.sub("", _evened(text))
    return bare if bare in _BOLT_OF_NUT else ""


def grade_meant(text: str, thread: Thread, head: str = "hex") -> Grade:
    """Which grade has the bolt on whose head, or on whose nut, a person read this? As `grade_named`, but no guess.

    thread: a bare 8 is SAE 8 on an inch thread only. head: its style; a metric nut of class 8 stands for the strongest
    bolt that goes with it, 8.8.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> m8, quarter = thread_named("M8"), thread_named("1/4-20")
    >>> grade_meant("8", m8, "hex nut").name, grade_meant("8", quarter).name, grade_meant("8.8", m8).name
    ('8.8', 'SAE 8', '8.8')

    Raises NoSuchGrade as `grade_named` does; for one bare number on a metric thread, which no bolt carries; for no mark
    at all; and for stainless steel without its strength.
    Source: ISO 898-2:2012, which nut goes with which bolt at most, as reprinted on a public fastener page. What a bolt
    without a mark is reckoned as: common practice, no source.
    """
    lowered, is_metric = _evened(text), on_metric(thread)
    if lowered in _UNMARKED:
        most = "4.6" if is_metric else "SAE 2"
        why = f"An unmarked bolt is reckoned as {most} at most (common practice, no source): write {most}."
        raise NoSuchGrade(text, (most,), why)
    if re.fullmatch(_STAINLESS, lowered):
        why = "Stainless steel comes in several strengths: write the mark on the head, for example A2-70 or A4-70."
        raise NoSuchGrade(text, ("A2-70", "A4-70"), why)
    bare = _BEFORE.sub("", lowered)
    if is_metric and bare.isdecimal() and "sae" not in lowered and "j429" not in lowered:
        beside = _BOLT_OF_NUT.get(bare, "")
        if head.endswith("nut") and beside:
            return grades()[beside]
        raise NoSuchGrade(text, (beside or "8.8",), _why_not_bare(bare, beside, thread.name))
    return grade_named(text)


def _why_not_bare(bare: str, beside: str, thread: str) -> str:
    """Why one number alone is no mark of a metric bolt, and what may be meant."""
    if bare in _THIN_NUTS:
        return f"{bare} is the class of a thin nut, which strips before the bolt is pulled home: write the bolt’s mark."
    inch = f"SAE {bare}"
    if inch in grades() and beside:
        alone = f"{bare} alone is a mark of inch bolts ({inch}), and {thread} is metric: is it {beside}?"
        nut = f"{bare} is also the class of the nut that goes with {beside} bolts (ISO 898-2)."
        return f"{alone} {nut} Write {beside}; a head with {_LINES[bare]} lines is {inch}."
    if inch in grades():
        return f"{bare} alone is a mark of inch bolts ({inch}), and {thread} is metric: write both numbers, as in 8.8."
    if beside:
        return f"{bare} alone is the class of the nut that goes with {beside} bolts (ISO 898-2): is it {beside}?"
    return f"A metric bolt has two numbers, and here is only {bare}: write both, as in 8.8."


def on_metric(thread: Thread) -> bool:
    """Whether this thread is one of those whose bolts carry property classes.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> on_metric(thread_named("M8x1")), on_metric(thread_named("1/4-20"))
    (True, False)
    """
    return thread.series in {"coarse", "fine"}


def _evened(text: str) -> str:
    return " ".join(text.split()).lower().replace(",", ".")


def _nearest(lowered: str, bare: str) -> tuple[str, ...]:
    """The grades a wrong mark most likely meant."""
    from difflib import get_close_matches  # here: only a misspelling needs it, and it is slow to read

    names = list(grades())
    for word, family in (("brass", "brass"), ("stainless", "A"), ("a", "A"), ("sae", "SAE"), ("gr", "SAE")):
        if lowered.startswith(word):
            wanted = [name for name in names if name.startswith(family)]
            if bare.isdecimal() and len(bare) < 4:
                wanted.sort(key=lambda name: abs(int(bare) - int(name[-2:])))
            return tuple(get_close_matches(bare[:12], wanted, n=3, cutoff=0.5) or wanted[:3])
    return tuple(get_close_matches(bare[:12], names, n=3, cutoff=0.6)) or ("8.8", "10.9", "SAE 5")


def named_strengths(grade: Grade) -> tuple[float, float]:
    """Which tensile strength and yield do the two numbers of a property class stand for [MPa]?

    Rm = 100 · first number; Re = Rm · second number / 10. They are round names, not what the table asks: 10.9 is named
    1000 and 900, its table asks 1040 and 940, and its proof stress is 830.

    grade: a property class of ISO 898-1. Returns (tensile strength, yield) [MPa].

    >>> named_strengths(grade_named("10.9"))
    (1000.0, 900.0)

    Raises ValueError for another kind of mark: "SAE 5" names no strength.
    Source: ISO 898-1:2013, clause 5, designation of property classes.
    """
    if not grade.standard.startswith("ISO 898-1"):
        raise ValueError(f"the mark {grade.name} names no strengths")
    first, second = grade.name.split(".")
    return int(first) * 100.0, int(first) * int(second) * 10.0


def strength_of(grade: Grade, thread: Thread) -> Strength:
    """What does the standard of this grade ask at least of a bolt of this thread?

    grade: as marked. thread: its size decides where a grade changes: 8.8 above M16, SAE 2 above 3/4 in, SAE 5 above
    1 in, brass above M6. Returns tensile strength, yield and proof stress [MPa].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> strength_of(grade_named("8.8"), thread_named("M8")).proof_mpa
    580.0
    >>> strength_of(grade_named("8.8"), thread_named("M20")).proof_mpa
    600.0

    The minima hold at room temperature, for bolts that were not heated, ground or pulled before. A grade may be asked
    about a thread of the other family (8.8 on 1/4-20): strengths are stresses, but such a mark is worth a second look.

    Raises NoSuchStrength for a size the standard does not cover, and for pipe threads, which no bolt has.
    Source: ISO 898-1:2013 table 3, SAE J429, ISO 3506-1:2020, ISO 8839:1986 (files in tables/); checked against proof
    and breaking loads printed elsewhere (tests/outside/strength.toml).
    """
    if thread.series == "G":
        raise NoSuchStrength(f"{thread.name} is a pipe thread: no bolt has it, and no table its strength.")
    for above, to, strength in grade.by_size:
        if above < thread.diameter_mm <= to + 1e-9:
            return strength
    covered = f"{_size(grade, grade.by_size[0][0])} to {_size(grade, grade.by_size[-1][1])}"
    raise NoSuchStrength(f"{grade.standard.split(',')[0]} has no {grade.name} for {thread.name}; it covers {covered}.")


def _size(grade: Grade, millimetres: float) -> str:
    """The first or last size of a grade as its standard names it."""
    first = millimetres < 1.6 or (not grade.is_metric and millimetres < 6)
    if grade.is_metric:
        return "M1.6" if first else f"M{millimetres:g}"
    return "1/4 in" if first else f"{'1 1/2' if millimetres > 38 else millimetres / INCH_MM} in"


def proof_load_n(thread: Thread, grade: Grade) -> float:
    """How hard may a bolt be pulled without staying longer?

    F_p = S_p · A_s

    thread: gives the tensile stress area A_s, with three digits as the standards print it. grade: gives the proof
    stress S_p; stainless steel and brass have none, there it is the stress of 0.2 % stretch. Returns the load [N].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> round(proof_load_n(thread_named("M8"), grade_named("10.9")), -2)
    30400.0

    It holds for a straight pull, with the thread as the thinnest place. Raises NoSuchStrength as `strength_of` does.
    Source: ISO 898-1:2013, 9.6 and tables 5 and 7 (loads); SAE J429.
    """
    return strength_of(grade, thread).proof_mpa * _printed_area_mm2(thread)


def breaking_load_n(thread: Thread, grade: Grade) -> float:
    """At which pull must a sound bolt not yet break?

    F_m = R_m · A_s

    thread, A_s: as for `proof_load_n`. grade: gives the least tensile strength R_m. Returns the load [N].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> round(breaking_load_n(thread_named("M6"), grade_named("8.8")), -2)
    16100.0

    It holds for a straight pull; while it is being tightened a bolt breaks earlier, by the twist. Most bolts are
    stronger than the least. Raises NoSuchStrength as `strength_of` does.
    Source: ISO 898-1:2013, tables 4 and 6 (loads); SAE J429; ISO 8839, table of breaking loads.
    """
    return strength_of(grade, thread).tensile_mpa * _printed_area_mm2(thread)


def _printed_area_mm2(thread: Thread) -> float:
    """The stress area with three digits, in the unit of its standard: printed loads are made with it."""
    unit = INCH_MM**2 if thread.series in {"UNC", "UNF"} else 1.0
    area = thread.stress_area_mm2 / unit
    return round(area, 2 - math.floor(math.log10(area))) * unit


def bears_n(thread: Thread, grade: Grade, thread_friction: float) -> float:
    """Which preload does a bolt bear: not over its proof load when done, nor over yield while it is being turned?

    F = min(S_p · A_s, preload at yield with the twist of this friction)

    thread_friction: the more the thread rubs, the more of the torque twists the bolt. Returns the preload [N].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> m8, stainless = thread_named("M8"), grade_named("A2-70")
    >>> [round(bears_n(m8, stainless, rubs) / proof_load_n(m8, stainless), 2) for rubs in (0.08, 0.30)]
    [0.93, 0.67]

    It holds below yield, at room temperature. Raises NoSuchStrength as `strength_of` does, ValueError for friction
    below 0. Source: `proof_load_n` and `preload_at_share_of_yield_n` (VDI 2230) with a share of 1.
    """
    yields_n = preload_at_share_of_yield_n(thread, strength_of(grade, thread).yield_mpa, 1.0, thread_friction)
    return min(proof_load_n(thread, grade), yields_n)


class Strain(StrEnum):
    """How a bolt bears the preload it is given, from well to worst."""

    WITHIN = "within what it bears"
    OVER_WHEN_SLIPPERY = "over what it bears when slippery"
    OVER = "over what it bears"
    BREAKS = "may break"


def strain_of(usual_n: float, slippery_n: float, bears: tuple[float, float], breaks: tuple[float, float]) -> Strain:
    """How does a bolt bear a preload that is only known as a band?

    usual_n, slippery_n: the preload of a usual bolt, and of one as slippery as the band allows [N]. bears: what each of
    them bears. breaks: at which pull each breaks while it is being turned. Returns how it ends; at a limit itself it is
    still within.

    >>> limits = (20_300, 21_200), (25_300, 27_000)
    >>> strain_of(16_000, 20_900, *limits).value, strain_of(19_000, 24_800, *limits).value
    ('within what it bears', 'over what it bears when slippery')

    Source: the limits are the standards' (see `bears_n`); that the slippery end counts is how VDI 2230 picks a torque.
    """
    past = 1 + 1e-9
    if usual_n > breaks[0] * past or slippery_n > breaks[1] * past:
        return Strain.BREAKS
    if usual_n > bears[0] * past:
        return Strain.OVER
    return Strain.OVER_WHEN_SLIPPERY if slippery_n > bears[1] * past else Strain.WITHIN
