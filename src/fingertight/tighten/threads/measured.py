"""What a caliper and a pitch gauge said, as people write it: "5.9 mm, 10 threads in 10 mm", "about 1/4 in, 20 tpi"."""

import re
from dataclasses import dataclass
from fractions import Fraction

from fingertight.quantity import NotUnderstood, plain, read_number
from fingertight.tighten.threads.names import INCH_MM, NoSuchThread, named_elsewhere, thread_meant

EXAMPLE = "5.9 mm, 10 threads in 10 mm"
_LONGEST = 200
# A rule has thirty-seconds of an inch: a fraction is not read more coarsely than that, nor is 0.5 in, one half.
_COARSEST_IN = Fraction(1, 32)
# No caliper shows less than a micrometre, and no thread is finer or coarser than this (ISO 261: 0.2 to 6 mm).
_FINEST_MM = 0.001
_PITCHES_MM = (0.01, 100.0)
# A number alone behind the diameter is the pitch where it can be one: below 8, and less than half of the diameter.
_BARE_PITCH, _OF_DIAMETER = 8.0, 0.5
_UNITS_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH_MM, "thou": INCH_MM / 1000, "µm": 0.001}
_SPELT = {'"': "in", "″": "in", "”": "in", "inch": "in", "inches": "in", "ins": "in", "um": "µm", "μm": "µm"}

_BARE = r"(?:(?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?![0-9.,/]|-[0-9])"
_NUMBER = rf"(?<![\w.,/]){_BARE}"
_UNIT = r"(?:mm|cm|m|inch(?:es)?|ins?|thou|[µμu]m)(?![a-z])|[\"″”]"
_ABOUT = r"(?P<about>about|approx\w*|roughly|around|nearly|circa|ca|some|~)?\s*"
_THREADS = r"(?:full\s+)?(?:threads?|turns?|pitches|grooves?|crests?)"
_COUNTED = re.compile(
    rf"{_ABOUT}(?P<threads>{_NUMBER})\s*(?P<word>{_THREADS})?\s*(?:/|(?:in|over|on|per|to|across|within|an|a|each)\b)\s*"
    rf"(?:about\s+)?(?:the\s+|an?\s+|one\s+)?(?:(?P<length>{_NUMBER})\s*(?P<unit>{_UNIT})?|(?P<one>{_UNIT}))"
)
_PER_INCH = re.compile(
    rf"{_ABOUT}(?:(?P<threads>{_NUMBER})\s*tpi\b|(?<![\w.,/])(?P<slash>[0-9]+)\s*/\s*(?:inch|in|[\"″”])(?![a-z]))"
    rf"|\btpi\s*[:=]?\s*(?P<behind>{_NUMBER})"
)
_PITCH = re.compile(
    rf"(?:\bpitch(?:es)?\b(?:\s+gauge)?(?:\s+leaf)?|\bleaf|[x×*]|\bp\s*=)\s*(?:is|of|=|:|says|reads)?\s*"
    rf"{_ABOUT}(?P<pitch>{_BARE})\s*(?P<unit>{_UNIT})?"
)
_PITCH_BEHIND = re.compile(rf"{_ABOUT}(?P<pitch>{_NUMBER})\s*(?P<unit>{_UNIT})?\s*(?:pitch|leaf)\b")
_ACROSS = re.compile(rf"{_ABOUT}(?P<size>{_NUMBER})\s*(?P<unit>{_UNIT})?")
_WORDS = re.compile(r"[^\s,;:()]+")
_FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_FILLING = frozenset(
    {
        "a",
        "an",
        "and",
        "are",
        "as",
        "at",
        "bolt",
        "by",
        "caliper",
        "calipers",
        "calliper",
        "callipers",
        "clean",
        "crest",
        "crests",
        "d",
        "dia",
        "diameter",
        "from",
        "gauge",
        "good",
        "is",
        "it",
        "leaf",
        "major",
        "measured",
        "measures",
        "new",
        "od",
        "of",
        "on",
        "outer",
        "outside",
        "over",
        "pitch",
        "reading",
        "reads",
        "says",
        "screw",
        "size",
        "sound",
        "stud",
        "the",
        "thick",
        "thread",
        "threaded",
        "threads",
        "to",
        "vernier",
        "wide",
        "with",
        "ø",
    }
)
_MARKS = {
    "inside": {"hole", "inside", "internal", "bore", "nut", "tapped", "female", "id"},
    "worn": {"worn", "rusty", "rusted", "corroded", "battered"},
    "painted": {"painted", "paint", "plated", "coated", "dirty", "galvanised"},
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PitchRead:
    """A pitch as it was found: threads counted over a length [mm], or one leaf of a pitch gauge (threads 1)."""

    threads: float
    length_mm: float
    counted: bool
    about: bool = False

    @property
    def pitch_mm(self) -> float:
        """Length over threads [mm], to nine digits.

        >>> PitchRead(20, 25.4, True).pitch_mm
        1.27
        """
        return float(f"{self.length_mm / self.threads:.9g}")


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured of a thread: the diameter over the crests, and the pitch where it was found.

    diameter_mm: outside, or the bore of a hole. step_mm: the last digit that was written, as a size. about: whether it
    was said to be rough. unit_said: whether a unit stood beside it. worn, painted: what is known of the crests.
    """

    diameter_mm: float
    step_mm: float
    about: bool = False
    pitch: PitchRead | None = None
    inside: bool = False
    worn: bool = False
    painted: bool = False
    unit_said: bool = True


def read_measured(text: str, *, inside: bool = False, worn: bool = False, painted: bool = False) -> Measured:
    """What was measured, from a sentence as people write it?

    text: a diameter (mm where no unit stands), and with it threads counted over a length, threads to the inch, or a
    pitch; decimal point or comma; "about" for a rough one; "hole", "worn", "painted" in the sentence count as ticked.
    inside, worn, painted: what was ticked. Returns the sizes [mm] with the step of their last digit.

    >>> read_measured("6.3 mm, about 20 to the inch").pitch
    PitchRead(threads=20.0, length_mm=25.4, counted=True, about=True)
    >>> read_measured("7,9 mm, pitch 1,25").diameter_mm, read_measured("0.31 in, 18 tpi").step_mm
    (7.9, 0.254)

    A number alone behind the diameter is the pitch where it is below 8 and less than half of it.

    Raises NotUnderstood, with a sentence, for words it does not know, a size of 0, two diameters, or none, and a pitch
    that no thread comes near (below 0.01 mm, above 100 mm).
    """
    typed = " ".join(text.split())
    left, pitch = _take_pitch(_evened(typed))
    if uncounted := re.search(rf"({_NUMBER})\s*{_THREADS}\b", left):
        raise NotUnderstood(f"“{uncounted[0]}” in what length? Write for example {uncounted[1]} threads in 10 mm.")
    found = list(_ACROSS.finditer(left))
    words = _known_words(_ACROSS.sub(" ", left), typed)
    if not found:
        raise NotUnderstood(f"The diameter is missing: write it first, for example {EXAMPLE}.")
    across, *behind = found
    size_mm, step_mm = _size_of(across)
    if len(behind) == 1 and pitch is None:
        pitch = _bare_pitch(behind.pop(), size_mm)
    if behind or (len(found) > 1 and pitch is None):
        sizes = " and ".join(f"“{one['size']}”" for one in found[:2])
        raise NotUnderstood(f"{sizes} might both be the diameter; write one, then the pitch, for example {EXAMPLE}.")
    return Measured(
        diameter_mm=size_mm,
        step_mm=step_mm,
        about=bool(across["about"]),
        pitch=pitch,
        inside=inside or "inside" in words,
        worn=worn or "worn" in words,
        painted=painted or "painted" in words,
        unit_said=bool(across["unit"]),
    )


def _size_of(across: re.Match[str]) -> tuple[float, float]:
    """The diameter and what its last digit is worth [mm]; half an inch is no rough size because it is written 0.5."""
    unit = across["unit"] or "mm"
    size, step = _with_step(across["size"])
    if _unit_mm(unit) == INCH_MM and (size * 8).is_integer():
        step = min(step, float(_COARSEST_IN))
    size_mm = round(size * _unit_mm(unit), 9)
    if size_mm < _FINEST_MM:
        said = f"“{across['size']}” is no diameter; it is more than 0"
        raise NotUnderstood(f"{said}{'' if size <= 0 else ' by what a caliper shows'}, for example {EXAMPLE}.")
    return size_mm, max(round(step * _unit_mm(unit), 9), _FINEST_MM)


def _bare_pitch(behind: re.Match[str], diameter_mm: float) -> PitchRead | None:
    """The pitch, where a number alone behind the diameter can be nothing else."""
    pitch, _ = _with_step(behind["size"])
    if behind["unit"] or not 0 < pitch < min(_BARE_PITCH, _OF_DIAMETER * diameter_mm):
        return None
    return _possible(PitchRead(1.0, pitch, False, bool(behind["about"])), behind["size"])


def _possible(read: PitchRead, said: str) -> PitchRead:
    """The pitch as it was read, if any thread comes near it."""
    least, most = _PITCHES_MM
    if not least <= read.pitch_mm <= most:
        pitch = plain(float(f"{read.pitch_mm:.3g}"))
        raise NotUnderstood(
            f"“{said.strip()}” is a pitch of {pitch} mm, which no thread has; write for example pitch 1.25 or 20 tpi."
        )
    return read


def _evened(typed: str) -> str:
    """The sentence in small letters, its parts parted by semicolons, if it can be one."""
    if not typed:
        raise NotUnderstood(f"Nothing was typed; write for example {EXAMPLE}.")
    if len(typed) > _LONGEST:
        raise NotUnderstood(f"“{typed[:20]}…” is too long for a measurement; write for example {EXAMPLE}.")
    try:
        named = thread_meant(typed)
    except NoSuchThread:
        named = None
    if named is not None:
        raise NotUnderstood(f"“{typed}” is the name of a thread; write what was measured, for example {EXAMPLE}.")
    if elsewhere := named_elsewhere(typed):
        raise NotUnderstood(f"{elsewhere[0]} Write what was measured, for example {EXAMPLE}.")
    if below := re.search(r"(?<![\w/.])[-−]\s*[0-9.,/]+", typed):
        raise NotUnderstood(f"“{below[0]}” is below 0; write for example {EXAMPLE}.")
    for sign, fraction in _FRACTIONS.items():
        typed = typed.replace(sign, f" {fraction}")
    typed = typed.lower().replace("t.p.i", "tpi")
    # A comma or a point between digits is the decimal mark; elsewhere it parts the sentence.
    return re.sub(r"(?<=[^\W\d_]),|(?<=\"),|,(?![0-9])|\.(?![0-9])|;", " ; ", typed).strip()


def _take_pitch(sentence: str) -> tuple[str, PitchRead | None]:
    """The pitch, if one is said, and what is left of the sentence without it."""
    found: list[PitchRead] = []
    for pattern, read in _WAYS:
        while match := _first(pattern, sentence):
            found.append(read(match))
            sentence = f"{sentence[: match.start()]} ; {sentence[match.end() :]}"
    if len(found) > 1:
        said = " and ".join(plain(round(one.pitch_mm, 3)) for one in found[:2])
        raise NotUnderstood(f"The pitch is said twice ({said} mm); write the one that is surer.")
    return sentence, found[0] if found else None


def _first(pattern: re.Pattern[str], sentence: str) -> re.Match[str] | None:
    """The first place that fits; without the word threads a count is a whole number, or "0.31 in 1 …" would be one."""
    match = pattern.search(sentence)
    while match and pattern is _COUNTED and not match["word"]:
        if match["threads"].isdigit() and int(match["threads"]) > 2:
            break
        match = pattern.search(sentence, match.start() + 1)
    return match


def _counted(match: re.Match[str]) -> PitchRead:
    threads, _ = _with_step(match["threads"])
    length, _ = _with_step(match["length"]) if match["length"] else (1.0, 1.0)
    length_mm = length * _unit_mm(match["one"] or match["unit"] or "mm")
    if threads < 1 or length_mm <= 0:
        raise NotUnderstood(f"“{match[0].strip()}” is no count of threads; write for example 10 threads in 10 mm.")
    return _possible(PitchRead(threads, round(length_mm, 9), True, bool(match["about"])), match[0])


def _per_inch(match: re.Match[str]) -> PitchRead:
    threads, _ = _with_step(match["threads"] or match["slash"] or match["behind"])
    if threads <= 0:
        raise NotUnderstood("Threads to the inch are more than 0; write for example 20 tpi.")
    return _possible(PitchRead(threads, INCH_MM, match["about"] is not None, bool(match["about"])), match[0])


def _pitch(match: re.Match[str]) -> PitchRead:
    number, unit = match["pitch"], match["unit"]
    pitch, _ = _with_step(number)
    if pitch <= 0:
        raise NotUnderstood("A pitch is more than 0; write for example pitch 1.25.")
    if not unit and 8 < pitch < 100:
        raise NotUnderstood(f"No thread has a pitch of {number} mm; for threads to the inch write {number} tpi.")
    pitch_mm = pitch * (_unit_mm(unit) if unit else 1.0)
    return _possible(PitchRead(1.0, pitch_mm, False, bool(match["about"])), match[0])


_WAYS = ((_PER_INCH, _per_inch), (_COUNTED, _counted), (_PITCH, _pitch), (_PITCH_BEHIND, _pitch))


def _known_words(rest: str, typed: str) -> set[str]:
    """Which of the marks are said; a word that says nothing here is named, in the sentence as it was typed."""
    said: set[str] = set()
    for word in _WORDS.findall(rest):
        mark = next((mark for mark, words in _MARKS.items() if word in words), None)
        if mark:
            said.add(mark)
        elif word not in _FILLING:
            at = typed.lower().find(word)
            shown = typed[at : at + len(word)] if at >= 0 else word
            raise NotUnderstood(f"“{shown}” is not understood in “{typed[:60]}”; write for example {EXAMPLE}.")
    return said


def _with_step(number: str) -> tuple[float, float]:
    """The number, and what its last digit is worth."""
    try:
        value = read_number(number.replace("-", " "))
    except NotUnderstood:
        short = number if len(number) <= 20 else f"{number[:12]}…"
        raise NotUnderstood(f"“{short}” is no size; write for example {EXAMPLE}.") from None
    if "/" in number:
        bottom = int(number.rsplit("/", 1)[1])
        return value, float(min(Fraction(1, bottom), _COARSEST_IN))
    _, mark, decimals = number.replace(",", ".").partition(".")
    return value, 10.0 ** -len(decimals) if mark else 1.0


def _unit_mm(unit: str) -> float:
    return _UNITS_MM[_SPELT.get(unit, unit)]
