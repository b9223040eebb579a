"""Which thread is meant by what was typed, and the nearest ones where there is no such thread."""

import re
from fractions import Fraction
from functools import cache, lru_cache

from fingertight.quantity import plain
from fingertight.tighten.threads.names.elsewhere import named_elsewhere
from fingertight.tighten.threads.names.table import INCH_MM, Thread, spaced, threads

# Patterns as text: `re` compiles each where it is first used and keeps it, so a start needs only the one it uses.
_METRIC = r"M\s*([0-9]+(?:[.,][0-9]+)?)(?:\s*[xX×*-]\s*([0-9]+(?:[.,][0-9]+)?))?(?: coarse)?\Z"
_INCH = (
    r"(?:(UNC|UNF|BSW|W)\s*)?((?:#|No\.?\s*)?[0-9]+(?:[ -][0-9]+(?=/))?(?:/[0-9]+)?)\s*(?:\"|in\b)?"
    r"(?:\s*[-xX×]\s*([0-9]+(?:\.[0-9]+)?))?\s*-?\s*(UNC|UNF|UN|BSW|W)?\Z"
)
_PIPE = r"(?:G|BSPP?)\s*([0-9]+(?:[ -][0-9]+)?(?:/[0-9]+)?)(?:-[0-9]+)?\Z|([0-9 /-]+?)\s*(?:G|BSPP?)\Z"
# A tolerance class behind the name says how closely it is made, not which thread it is.
_CLASS = r"(?<=[0-9A-Z])\s*(?:[- ]\s*(?:[456][gh][456]?[gh]?|[4-7]H)|[- ]?\s*(?<![0-9])[123][AB])\Z"
_PIPE_CLASS = r"((?:G|BSPP?)\s*[0-9 /-]*[0-9])\s*[AB]\Z"
_LEFT_HAND = r"\s*[-,]?\s*\b(?:L\.?\s?H\.?|left[\s-]?hand(?:ed)?(?:\s+thread)?)\s*\Z"
# A metric name with what may be its length behind it, or with its M forgotten.
_WITH_LENGTH = r"M([0-9.,]+)(?:\s*[x×*]\s*([0-9.,]+))?\s*[x×*]\s*([0-9.,]+)\Z"
_WITHOUT_M = r"([0-9]+(?:[.,][0-9]+)?)(?:\s*([x×*-])\s*([0-9]+(?:[.,][0-9]+)?))?(?:\s*[x×*]\s*[0-9.,]+)?\Z"
_LONGEST = 40
# ISO 261 has no pitch above 6 mm: a larger number behind a metric name is a length.
_COARSEST_MM = 6.0


class NoSuchThread(ValueError):
    """No table here has this thread; the message says why and names the nearest that exist, `nearest` lists them."""

    def __init__(self, typed: str, nearest: tuple[str, ...], because: str = "") -> None:
        meant = f"; the nearest are {', '.join(nearest)}" if nearest else '; write for example "M6" or "1/4-20 UNC"'
        super().__init__(because or f"There is no thread “{typed}” in the tables{meant}.")
        self.nearest = nearest


@cache
def _spellings() -> dict[str, Thread]:
    """Every way a thread may be written, once spaces and the sign × are evened out; the first series wins."""
    spelt: dict[str, Thread] = {}
    for thread in threads().values():
        names = [thread.name]
        if thread.series in {"coarse", "fine"}:
            names.append(f"{thread.size}x{plain(thread.pitch_mm)}")
        elif thread.series != "G":
            names += [thread.name.split(f" {thread.series}")[0], f"{thread.size} {thread.series}"]
        for name in names:
            spelt.setdefault(name, thread)
    return spelt


def _evened(typed: str) -> str:
    """The text with its spaces and signs as `_spellings` writes them, without a tolerance class."""
    text = " ".join(typed.split())
    metric = re.match(_METRIC, text)
    if not metric:
        text = re.sub(_PIPE_CLASS, r"\1", text) if re.match(_PIPE_CLASS, text) else re.sub(_CLASS, "", text)
        metric = re.match(_METRIC, text)
    if metric:
        size, pitch = (number.replace(",", ".") if number else "" for number in metric.groups())
        name = f"M{plain(float(size))}"
        return f"{name}x{plain(float(pitch))}" if pitch else name
    if pipe := re.match(_PIPE, text):
        return f"G{spaced(pipe[1] or pipe[2])}"
    if inch := re.match(_INCH, text):
        before, size, per_inch, behind = inch.groups()
        series = {"W": "BSW", "UN": ""}.get(before or behind or "", before or behind or "")
        size = spaced(re.sub(r"No\.?\s*", "#", size))
        return size + (f"-{per_inch}" if per_inch else "") + (f" {series}" if series else "")
    return text


def thread_named(text: str) -> Thread:
    """Which thread is meant by this name? Without a pitch the coarse one (ISO 261); without a series UNC before UNF.

    A tolerance class behind it (6g, 2A) is passed over; a small inch size is also known without its sign #.

    >>> thread_named("M8").pitch_mm, thread_named("#10-24").name, thread_named("10-24").name
    (1.25, '#10-24 UNC', '#10-24 UNC')
    >>> thread_named("M8 * 1,25").name, thread_named("1/4-20UNC-2A").name, thread_named("1/4 BSW").name
    ('M8', '1/4-20 UNC', '1/4-20 BSW')

    Raises NoSuchThread, saying why where it is known, and naming the nearest that exist.
    Source: ISO 261, ASME B1.1, BS 84, ISO 228-1 (tables/).
    """
    found = _found(text)
    if found is None:
        raise _refused(text, (text,))
    return found


def thread_meant(text: str) -> Thread:
    """Which thread does a person mean who types on a phone: "m8", "1/4-20 unc", "Whitworth 1/4", "M6 LH"?

    As `thread_named`, in any case, with the word Whitworth for BSW, a space before the threads to the inch, and the
    words for a left-hand thread passed over (`is_left_hand` tells). A machine file is read with `thread_named`: what is
    kept must be written as it should be.

    >>> thread_meant("m8x1").name, thread_meant("1/4 unf").name, thread_meant("Whitworth 1/4").name
    ('M8x1', '1/4-28 UNF', '1/4-20 BSW')
    >>> thread_meant("1/4 20 unc").name, thread_meant("M6 left hand").name
    ('1/4-20 UNC', 'M6')

    Raises NoSuchThread as `thread_named` does.
    """
    if as_written := _found(text):
        return as_written
    if _is_too_long(text):
        raise _refused(text, ())
    right = re.sub(_LEFT_HAND, "", text, flags=re.IGNORECASE)
    worded = re.sub(r"\bwhit(?:worth)?\b\.?", "BSW", right, flags=re.IGNORECASE)
    worded = re.sub(r"(/[0-9]+|#[0-9]+)\s+(?=[0-9]{1,2}\b)", r"\1-", worded)
    capital = re.sub(r"\bNO\b\.?\s*", "#", worded.upper())
    capital = re.sub(r"\bIN\b", "in", capital.replace("COARSE", "coarse").replace("X", "x"))
    ways = tuple(dict.fromkeys((text, right, worded, capital)))
    found = next((one for one in map(_found, ways) if one), None)
    if found is None:
        raise _refused(text, ways)
    return found


def is_left_hand(text: str) -> bool:
    """Whether a left-hand thread was typed: its sizes are the same, and it tightens anticlockwise.

    >>> is_left_hand("M6 LH"), is_left_hand("1/4-20 left-hand"), is_left_hand("M6")
    (True, True, False)
    """
    letters = text.lower()
    said = "left" in letters or ("l" in letters and "h" in letters)
    return said and not _is_too_long(text) and bool(re.search(_LEFT_HAND, text, re.IGNORECASE))


@lru_cache(maxsize=1024)
def _found(text: str) -> Thread | None:
    if _is_too_long(text):
        return None
    evened = _evened(text)
    return _spellings().get(evened) or _spellings().get(f"#{evened}")


def _is_too_long(text: str) -> bool:
    """Whether it has more letters than any name, or more digits in a row than any size."""
    return len(text) > _LONGEST or (len(text) > 6 and bool(re.search(r"[0-9]{7}", text)))


def _refused(typed: str, ways: tuple[str, ...]) -> NoSuchThread:
    """The refusal of what was typed, after it was read in several ways: the first that is near anything names it."""
    if _is_too_long(typed):
        short = f"{typed.strip()[:12]}…" if len(typed.strip()) > 13 else typed.strip()
        because = f'“{short}” is too long for the name of a thread; write for example "M6" or "1/4-20 UNC".'
        return NoSuchThread(typed, (), because)
    if elsewhere := named_elsewhere(typed):
        return NoSuchThread(typed, elsewhere[1], elsewhere[0])
    for way in ways:
        if slip := _length_said(typed, way) or _metric_meant(typed, way):
            return slip
    near = (_nearest(_evened(way)) for way in reversed(ways))
    return NoSuchThread(typed, next(filter(None, near), ()))


def _length_said(typed: str, way: str) -> NoSuchThread | None:
    """What to say of M8x20, a bolt with its length: what stands behind is no pitch, and the thread is M8."""
    match = re.match(_WITH_LENGTH, way.strip())
    if not match or _number(match[3]) <= _COARSEST_MM:
        return None
    name = f"M{match[1]}x{match[2]}" if match[2] else f"M{match[1]}"
    thread = _found(name)
    if thread is None:
        return None
    size, length = thread.size, match[3]
    because = f"{length} is no pitch of {size} and looks like a length: the thread of “{typed}” is {thread.name}."
    return NoSuchThread(typed, tuple(dict.fromkeys((thread.name, *_nearest(size)))), because)


def _metric_meant(typed: str, way: str) -> NoSuchThread | None:
    """What to say of 8x1.25, a metric thread without its M: that one first, then inch threads of that number."""
    match = re.match(_WITHOUT_M, way.strip())
    if not match:
        return None
    size, sign, behind = match.groups()
    thread = _found(f"M{size}x{behind}" if behind else f"M{size}")
    if thread is None and sign != "-" and behind and _number(behind) > _COARSEST_MM:
        thread = _found(f"M{size}")
    if thread is None:
        return None
    nearest = tuple(dict.fromkeys((thread.name, *_nearest(size))))[:4]
    pitch = "its coarse pitch" if thread.series == "coarse" else "one of its fine pitches"
    means = f"is {thread.name} meant? {plain(thread.pitch_mm)} mm is {pitch}."
    if not behind:
        means = f"is {thread.name} meant?"
    elif _number(behind) > _COARSEST_MM:
        means = f"is {thread.name} meant? {behind} looks like a length."
    others = f" Other near ones are {', '.join(nearest[1:])}." if nearest[1:] else ""
    return NoSuchThread(typed, nearest, f"There is no thread “{typed}” in the tables; {means}{others}")


def _number(written: str) -> float:
    """The number, or 0 where there are two marks in it."""
    try:
        return float(written.replace(",", "."))
    except ValueError:
        return 0.0


def _nearest(evened: str) -> tuple[str, ...]:
    """The threads a wrong name most likely meant: of the same size, of the nearest size, or written most alike."""
    size = re.split(r"[x -](?![0-9]+/)", evened, maxsplit=1)[0]
    for name in (size, f"#{size}"):
        same = [thread.name for thread in threads().values() if thread.size == name and thread.series != "G"]
        if same:
            return tuple(same[:4])
    if evened.startswith("-"):
        return ()
    wanted_mm, among = _size_meant(evened)
    if among:
        near = [thread for thread in threads().values() if thread.series in among]
        near.sort(key=lambda thread: abs(thread.diameter_mm - wanted_mm))
        return tuple(dict.fromkeys(thread.name for thread in near[:3]))
    from difflib import get_close_matches  # only here: it takes longer to import than a thread to find

    alike = get_close_matches(evened[:40], _spellings(), n=4, cutoff=0.5)
    return tuple(dict.fromkeys(_spellings()[name].name for name in alike))[:3]


def _size_meant(evened: str) -> tuple[float, tuple[str, ...]]:
    """The diameter [mm] a name of the right form speaks of, and the series to look in; none without such a form."""
    if metric := re.match(_METRIC, evened):
        return float(metric[1]), ("coarse",)
    if pipe := re.match(r"G([0-9]+)(?: ([0-9]+))?(?:/([0-9]+))?\Z", evened):
        inches = _inches(*pipe.groups())
        sizes = {thread.size: thread for thread in threads().values() if thread.series == "G"}
        near = min(sizes, key=lambda size: abs(sum(map(Fraction, size.split())) - inches))
        return sizes[near].diameter_mm, ("G",)
    if inch := re.match(r"#?([0-9]+)(?: ([0-9]+))?(?:/([0-9]+))?(?:-[0-9.]+)?(?: (UNC|UNF|BSW))?\Z", evened):
        first, second, bottom, series = inch.groups()
        numbered = not (second or bottom) and (evened[0] == "#" or int(first) > 4)
        # ASME B1.1: number sizes go up by 0.013 in from 0.060 in
        inches = Fraction(60 + 13 * int(first), 1000) if numbered else _inches(first, second, bottom)
        return float(inches) * INCH_MM, (series,) if series else ("UNC", "UNF")
    if decimal := re.match(r"([0-9]*[.][0-9]+)(?: *in)?(?:-[0-9.]+)?\Z", evened):
        return float(decimal[1]) * INCH_MM, ("UNC", "UNF")
    return 0.0, ()


def _inches(first: str, second: str | None, bottom: str | None) -> Fraction:
    """A size in inches from the parts of "1", "1/4" or "1 1/4"."""
    if bottom is None or int(bottom) == 0:
        return Fraction(first)
    return int(first) + Fraction(int(second), int(bottom)) if second else Fraction(int(first), int(bottom))
