"""A thread by its name: its sizes, what a sound one measures, its holes, and the heads it is met under."""

import re
from dataclasses import dataclass, field

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard, either
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.quantity import NotUnderstood, plain, read_number, shown
from fingertight.tighten.spanners.heads import PRACTICE, spanner_mark, spanners_for, threads_under
from fingertight.tighten.threads.holes import NoSuchHole, clearance_holes, tapping_drill
from fingertight.tighten.threads.limits import bolt_limits, nut_limits
from fingertight.tighten.threads.lookalikes import look_alikes
from fingertight.tighten.threads.names import (
    INCH_MM,
    SERIES,
    NoSuchThread,
    Thread,
    is_left_hand,
    thread_meant,
)

BY_HAND = "Start every bolt by fingers for its first three turns; one that binds is crossed, or the wrong thread."
# ISO 228-1 is by its title for joints that are not made pressure-tight on the threads.
_SEALS = (
    "It seals on a washer or a cone, not on its thread. The taper pipe threads, R and NPT, are others: never force "
    "them together."
)
_LEFT_HAND = (
    "Left-hand: its sizes and drills are the same; it tightens anticlockwise and loosens clockwise, and its tap and "
    "die are left-hand too."
)
_LIMITS = {
    "coarse": "ISO 965-1:1998",
    "fine": "ISO 965-1:1998",
    "UNC": "ASME B1.1-2003",
    "UNF": "ASME B1.1-2003",
    "BSW": "BS 84:2007",
    "G": "ISO 228-1:2000",
}
_SIZES = {"coarse": "ISO 261, ISO 724", "fine": "ISO 261, ISO 724", "UNC": "ASME B1.1-2003", "UNF": "ASME B1.1-2003"}
_SPANNER = (
    r"\s*([0-9]+(?:[.,][0-9]+)?|(?:[0-9]+ )?[0-9]+/[0-9]+)\s*(mm|in|inch|inches|\")?\s*"
    r"(spanner|wrench|socket|ring|head|bolt|nut|a/?f|across flats|key)?\s*\Z"
)


@dataclass(frozen=True)
class BoltCard(Card):
    """Least and largest outside, pitch and root diameter of a sound bolt [mm], and its tolerance class."""

    tolerance: str
    major_mm: tuple[float, float]
    pitch_diameter_mm: tuple[float, float]
    minor_mm: tuple[float, float]


@dataclass(frozen=True)
class NutCard(Card):
    """Least and largest pitch diameter and bore of a sound nut or tapped hole [mm], and its tolerance class."""

    tolerance: str
    pitch_diameter_mm: tuple[float, float]
    minor_mm: tuple[float, float]


@dataclass(frozen=True)
class MetUnder(Card):
    """One head of the thread: its spanner or key, what stands on it, the standard, where it is usual ("" unsaid)."""

    head: str
    driver: str
    mark: str
    source: str
    usual: str


@dataclass(frozen=True)
class ThreadCard(SumCard):
    """Everything the tables say of one thread. `clearance` is empty where no table has the size."""

    thread: str
    series: str
    diameter_mm: float
    pitch_mm: float
    threads_per_inch: float
    flank_angle_deg: int
    pitch_diameter_mm: float
    minor_external_mm: float
    minor_internal_mm: float
    stress_area_mm2: float
    bolt: BoltCard
    nut: NutCard
    tapping_drill_mm: float
    tapping_drill: str
    tapping_thread_percent: float
    tapping_rule_mm: float
    clearance_mm: dict[str, float]
    clearance: dict[str, str]
    heads: tuple[MetUnder, ...]
    look_alikes: tuple[str, ...]
    left_hand: bool
    sources: tuple[str, ...]

    @property
    def answer(self) -> Answer:
        """Name and pitch first; then sizes, sound ones, holes, heads."""
        alike = self.look_alikes
        marked = any(one.source == PRACTICE or PRACTICE in one.usual for one in self.heads)
        return Answer(
            title=f"{self.thread}{' left-hand' if self.left_hand else ''}: {self.series}",
            lead=(
                f"{self.thread} is {_both(self.diameter_mm)} over its thread, {self._pitch()}.",
                *((_LEFT_HAND,) if self.left_hand else ()),
                self._named(),
            ),
            sections=(
                Section("Sizes by name", self._sizes(), ("", "mm", "in")),
                Section(
                    "A sound one measures",
                    (
                        (f"bolt {self.bolt.tolerance}, outside", *_span(self.bolt.major_mm)),
                        ("bolt, pitch diameter", *_span(self.bolt.pitch_diameter_mm)),
                        (f"hole {self.nut.tolerance}, bore over the crests", *_span(self.nut.minor_mm)),
                        ("hole, pitch diameter", *_span(self.nut.pitch_diameter_mm)),
                    ),
                    ("", "mm", "in"),
                ),
                Section("Holes", self._holes()),
                Section("Heads it is met under", self._by_driver(), ("turned by", "head")),
            ),
            cautions=(BY_HAND,),
            notes=(
                *((f"* {PRACTICE}",) if marked else ()),
                *((f"Taken for it, never to be forced together: {', '.join(alike)}.",) if alike else ()),
                *((_SEALS,) if self.thread.startswith("G") else ()),
            ),
            sources=self.sources,
        )

    def _pitch(self) -> str:
        if self.series.startswith("ISO metric"):
            return f"{plain(self.pitch_mm)} mm from crest to crest ({shown(self.threads_per_inch, 0.1)} to the inch)"
        per_inch = plain(self.threads_per_inch)
        return f"{per_inch} threads to the inch ({shown(self.pitch_mm, 0.001)} mm from crest to crest)"

    def _named(self) -> str:
        if not self.heads:
            return "A bolt is named by its thread, not by its spanner; no table here has a head for this one."
        spanners = dict.fromkeys(one.mark for one in self.heads if not one.driver.endswith(" key"))
        keys = dict.fromkeys(one.driver.removesuffix(" key") for one in self.heads if one.driver.endswith(" key"))
        met = [f"spanners of {either(list(spanners))}"] if spanners else []
        met += [f"keys of {either(list(keys))}"] if keys else []
        return f"A bolt is named by its thread, not by its spanner: this one is met with {' and '.join(met)}."

    def _sizes(self) -> tuple[tuple[str, ...], ...]:
        sizes = (
            ("outside diameter", self.diameter_mm),
            ("pitch", self.pitch_mm),
            ("pitch diameter", self.pitch_diameter_mm),
            ("root of the bolt", self.minor_external_mm),
            ("bore of the nut", self.minor_internal_mm),
        )
        rows = [(name, shown(size, 0.001), shown(size / INCH_MM, 0.0001)) for name, size in sizes]
        area = self.stress_area_mm2
        rows.append(("tensile stress area", f"{shown(area, 0.1)} mm²", f"{shown(area / INCH_MM**2, 0.0001)} in²"))
        rows.append(("angle of the flanks", f"{self.flank_angle_deg}°", ""))
        return tuple(rows)

    def _holes(self) -> tuple[tuple[str, ...], ...]:
        leaves = f"leaves {round(self.tapping_thread_percent)} % of a full thread"
        rule = f"rule: diameter less pitch, {shown(self.tapping_rule_mm, 0.01)} mm"
        drill = _drill_said(self.tapping_drill, self.tapping_drill_mm)
        holes = [(_drill_said(self.clearance[fit], size), fit) for fit, size in self.clearance_mm.items()]
        clearance = ", ".join(f"{said} {fit}" for said, fit in holes) or "no table here has one"
        return (
            ("tapping drill, soft metal", f"{drill}; {leaves}; {rule}"),
            ("clearance hole", clearance),
        )

    def _by_driver(self) -> tuple[tuple[str, ...], ...]:
        heads: dict[str, list[str]] = {}
        for one in self.heads:
            star = " *" if one.source == PRACTICE or PRACTICE in one.usual else ""
            by = f" ({one.source})" if one.source != PRACTICE else ""
            usual = f", {one.usual.removesuffix(f': {PRACTICE}')}" if one.usual else ""
            heads.setdefault(one.mark, []).append(f"{one.head}{by}{usual}{star}")
        return tuple((driver, "; ".join(met)) for driver, met in heads.items())


@dataclass(frozen=True)
class NoThreadCard(SumCard):
    """There is no such thread: why, and the nearest there are; under a spanner, the threads and their heads."""

    thread: None
    because: str
    nearest: tuple[str, ...]
    asked: str
    under: dict[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def is_no(self) -> bool:
        """It always is."""
        return True

    @property
    def answer(self) -> Answer:
        """The reason as it stands, and what sits under a spanner."""
        rows = tuple((name, ", ".join(heads)) for name, heads in self.under.items())
        return Answer(
            title=f"“{_short(self.asked)}” is no thread here",
            lead=(self.because,),
            sections=(Section("Under such a head", rows),) if rows else (),
        )


def _compute(typed: Typed) -> ThreadCard | NoThreadCard:
    asked = typed.text("thread")
    try:
        return _card(thread_meant(asked), left_hand=is_left_hand(asked))
    except NoSuchThread as missing:
        spanner = re.match(_SPANNER, asked, re.IGNORECASE)
        if spanner and (spanner[2] or spanner[3]):
            return _under_a_spanner(asked, *spanner.groups())
        return NoThreadCard(None, str(missing), missing.nearest, asked)


def _card(thread: Thread, *, left_hand: bool) -> ThreadCard:
    bolt, nut, tapping = bolt_limits(thread), nut_limits(thread), tapping_drill(thread)
    try:
        holes = clearance_holes(thread)
        clearance = {"close": holes.close, "normal": holes.normal, "loose": holes.loose}
        sources: tuple[str, ...] = (f"clearance: {holes.source}",)
    except NoSuchHole:
        clearance, sources = {}, ()
    return ThreadCard(
        thread=thread.name,
        series=SERIES[thread.series],
        diameter_mm=round(thread.diameter_mm, 6),
        pitch_mm=round(thread.pitch_mm, 6),
        threads_per_inch=thread.threads_per_inch,
        flank_angle_deg=thread.flank_angle_deg,
        pitch_diameter_mm=round(thread.pitch_diameter_mm, 6),
        minor_external_mm=round(thread.minor_external_mm, 6),
        minor_internal_mm=round(thread.minor_internal_mm, 6),
        stress_area_mm2=round(thread.stress_area_mm2, 2),
        bolt=BoltCard(bolt.tolerance, _rounded(bolt.major_mm), _rounded(bolt.pitch_mm), _rounded(bolt.minor_mm)),
        nut=NutCard(nut.tolerance, _rounded(nut.pitch_mm), _rounded(nut.minor_mm)),
        tapping_drill_mm=round(tapping.drill.diameter_mm, 6),
        tapping_drill=tapping.drill.name,
        tapping_thread_percent=round(tapping.thread_percent, 1),
        tapping_rule_mm=round(tapping.rule_mm, 6),
        clearance_mm={fit: round(drill.diameter_mm, 6) for fit, drill in clearance.items()},
        clearance={fit: drill.name for fit, drill in clearance.items()},
        heads=tuple(
            MetUnder(one.head, one.driver, spanner_mark(one.driver, thread, one.source), one.source, one.usual)
            for one in spanners_for(thread)
        ),
        look_alikes=tuple(one.thread.name for one in look_alikes(thread)),
        left_hand=left_hand,
        sources=(
            f"sizes: {_SIZES.get(thread.series, _LIMITS[thread.series])}",
            f"sound sizes: {_LIMITS[thread.series]}",
            f"tapping drill: {tapping.source}",
            *sources,
        ),
    )


def _under_a_spanner(asked: str, size: str, unit: str | None, word: str | None) -> NoThreadCard:
    """A spanner was named, and a bolt is named by its thread: which threads usually sit under such a head."""
    inches = "/" in size or (unit or "mm").lower() not in {"mm"}
    try:
        width_mm = read_number(size) * (INCH_MM if inches else 1.0)
    except NotUnderstood:
        return NoThreadCard(None, f"“{_short(asked)}” is no size; write for example M6 or 10 mm.", (), asked)
    said = f"{size} {'in' if inches else 'mm'}"
    if (word or "").lower() == "key":
        because = f'A bolt is named by its thread, not by its key; `fingertight spanner "{said} key"` knows the key.'
        return NoThreadCard(None, because, (), asked)
    met: dict[str, list[str]] = {}
    for thread, head in threads_under(width_mm):
        met.setdefault(thread.name, []).append(head)
    sits = f"Under {said} across the flats sits {either(list(met))}." if met else f"No head is {said} across its flats."
    named = () if word else _of_size(size if inches else f"M{size}")
    means = f"If {said} is the thread itself, write {either(list(named))}. " if named else ""
    measure = f'{means}If {said} is what a caliper reads over the thread, ask: fingertight identify "{said}".'
    because = f"A bolt is named by its thread, not by its spanner. {sits} {measure}"
    return NoThreadCard(None, because, tuple(met), asked, {name: tuple(heads) for name, heads in met.items()})


def _of_size(size: str) -> tuple[str, ...]:
    """The threads of exactly this size, by name."""
    try:
        return (thread_meant(size).name,)
    except NoSuchThread as missing:
        return tuple(name for name in missing.nearest if name.startswith(f"{size}-"))


def _short(typed: str) -> str:
    return typed if len(typed) <= 40 else f"{typed[:40]}…"


def _rounded(span: tuple[float, float]) -> tuple[float, float]:
    return round(span[0], 6), round(span[1], 6)


def _span(span: tuple[float, float]) -> tuple[str, str]:
    mm = f"{shown(span[0], 0.001)} to {shown(span[1], 0.001)}"
    return mm, f"{shown(span[0] / INCH_MM, 0.0001)} to {shown(span[1] / INCH_MM, 0.0001)}"


def _both(size_mm: float) -> str:
    return f"{plain(round(size_mm, 3))} mm ({shown(size_mm / INCH_MM, 0.0001)} in)"


def _drill_said(name: str, diameter_mm: float) -> str:
    return name if name.endswith(" mm") else f"{name} ({shown(diameter_mm, 0.01)} mm)"


SUM = Sum(
    name="thread",
    title="Thread",
    question="a thread by its name: sizes, sound ones, holes to drill, heads and their spanners",
    fields=(
        Field("thread", "Thread", "text", "the thread by its name: M6, M8x1, 1/4-20 UNC, #10-24, 1/4 BSW, G1/8", "M6",
              must=True, first=True),
    ),
    compute=_compute,
    card=ThreadCard | NoThreadCard,
    example="M8x1",
)  # fmt: skip
