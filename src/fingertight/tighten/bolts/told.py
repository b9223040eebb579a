"""A loose bolt as a person tells it: "3 x M6x28 hex flange", or "5.9 mm, 10 threads in 10 mm, 28 long"."""

import re
from dataclasses import dataclass

from fingertight.quantity import NotUnderstood, converted, read_number, unit_named
from fingertight.tighten.bolts.match import NAMED, Loose
from fingertight.tighten.spanners.heads import head_words
from fingertight.tighten.threads.identify import likelihood, none_likelihood
from fingertight.tighten.threads.measured import read_measured
from fingertight.tighten.threads.names import NoSuchThread, thread_meant, threads
from fingertight.tighten.torque.strength import NoSuchGrade, grade_named

EXAMPLE = "M6x28 hex flange"
MOST = 200
_NUMBER = r"(?:[0-9]+ )?[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?"
_UNIT = r"mm|in|inch|inches|\""
_COUNT = re.compile(
    rf"([0-9]+)(?:\s*[x×*]\s*(?=M\s?[0-9]|#|G\s?[0-9])|(?:\s*[x×*]\s+|\s+)(?=M\s?[0-9]|#|G\s?[0-9]|{_NUMBER}))", re.I
)
_LONG = re.compile(
    rf"(?:(?P<about>about|ca\.?|~)\s*)?(?P<size>{_NUMBER})\s*(?P<unit>{_UNIT})?\s*long\b"
    rf"|\b(?:length|long)\s*[:=]?\s*(?P<size2>{_NUMBER})\s*(?P<unit2>{_UNIT})?",
    re.I,
)
_TIMES = re.compile(rf"\s*[x×*]\s*(?P<size>{_NUMBER})\s*(?P<unit>{_UNIT})?", re.I)
_NAME = re.compile(r"(?:M\s?[0-9]+(?:[.,][0-9]+)?|G\s?[0-9/ ]+|#[0-9]+|(?:[0-9]+ )?[0-9]+/[0-9]+)", re.I)
_SERIES = re.compile(r"\s*(?:-\s*[0-9]+)?\s*(?:UNC|UNF|BSW)?", re.I)
# How far a length is off as it was read, as one standard deviation: a rule to the millimetre, a caliper to the tenth.
# Common practice, no source.
_RULE_MM, _CALIPER_MM, _ROUGHLY = 0.5, 0.2, 3.0
_LEAST_TIMES = 1e-4


@dataclass(frozen=True, slots=True)
class Told:
    """What was told: the bolt, how many of it, and the words for one of them again, evened out."""

    bolt: Loose
    count: int
    said: str


def read_loose(text: str) -> Told:
    """Which bolt is meant, and how many?

    text: how many of them, a thread by its name or as caliper and pitch gauge read it, a length under the head, a head,
    the mark of its class; each may be left out but one of thread and length. Lengths are in mm where no unit stands,
    fractions in inches.

    >>> told = read_loose("3 x M6x28 hex flange")
    >>> told.count, told.bolt.threads, told.bolt.length_mm, told.bolt.head
    (3, (('M6', 1000.0),), 28.0, 'hex flange')
    >>> read_loose("5.9 mm, 10 threads in 10 mm, 28.4 mm long").bolt.length_error_mm
    0.2

    Raises NotUnderstood, with a sentence, for words it does not know, a thread that does not exist, a length of 0.
    """
    said = " ".join(re.sub(r"^\s*[-•]\s", " ", text).split()).strip(" ;,.")
    if not said:
        raise NotUnderstood(f"Nothing was written; write for example {EXAMPLE}.")
    count, counted = _count(said)
    head, rest = _head(counted)
    length, rest = _long(rest)
    rest = " ".join(rest.replace(" ,", ",").split()).strip(" ,")
    named, length, left = _named(rest, length)
    grade, left = _grade(left) if named else ("", left)
    chances = ((named, NAMED),) if named else _measured(left)
    if not chances and length is None:
        raise NotUnderstood(f"“{said[:60]}” names neither a thread nor a length; write for example {EXAMPLE}.")
    size, error = length or (None, _RULE_MM)
    return Told(Loose(chances, size, error, head, grade), count, counted)


def _count(said: str) -> tuple[int, str]:
    found = _COUNT.match(said)
    if not found or (found[0].rstrip() == found[1] and re.match(r"[0-9]+ [0-9]+/[0-9]+", said) and "-" not in said):
        return 1, said
    count = int(found[1]) if len(found[1]) < 6 else MOST + 1
    if count > MOST:
        raise NotUnderstood(f"{found[1][:20]} of one kind are more than lie in a tray; write 1 to {MOST}.")
    if count < 1:
        raise NotUnderstood(f"0 of one kind are none; write how many there are, 1 to {MOST}.")
    return count, said[found.end() :]


def _head(said: str) -> tuple[str, str]:
    for words, head in head_words():
        if found := re.search(rf"(?<![\w]){re.escape(words)}(?:\s+(?:head|bolts?|screws?))?(?![\w])", said, re.I):
            return head, f"{said[: found.start()]} {said[found.end() :]}"
    return "", re.sub(r"\b(?:bolts?|screws?|head)\b", " ", said, flags=re.I)


def _long(said: str) -> tuple[tuple[float, float] | None, str]:
    found = _LONG.search(said)
    if not found:
        return None, said
    read = _length(found["size"] or found["size2"], found["unit"] or found["unit2"], bool(found["about"]))
    return read, f"{said[: found.start()]} {said[found.end() :]}"


def _length(size: str, unit: str | None, about: bool = False) -> tuple[float, float]:
    """A length and how far it may be off, both in mm; nobody writes millimetres as a fraction."""
    named = unit_named(unit or ("in" if "/" in size else "mm")).name
    length_mm = converted(read_number(size), named, "mm")
    if length_mm <= 0:
        raise NotUnderstood(f"“{size}” is no length; it is more than 0, for example {EXAMPLE}.")
    fine = "." in size or "," in size or named == "in"
    return length_mm, (_CALIPER_MM if fine else _RULE_MM) * (_ROUGHLY if about else 1.0)


def _named(said: str, length: tuple[float, float] | None) -> tuple[str, tuple[float, float] | None, str]:
    """The thread that is named, the length behind it, and what is left; "" where none is named."""
    start = _NAME.match(said)
    if not start or re.match(r"[0-9/ .,]+\s*(?:mm|in|\")", said, re.I):
        return "", length, said
    series = _SERIES.match(said, start.end())
    name, at = f"{start[0]}{series[0] if series else ''}".strip(), series.end() if series else start.end()
    while times := _TIMES.match(said, at):
        pitched = f"{name}x{times['size']}"
        at = times.end()
        if not times["unit"] and length is None and _is_thread(pitched):
            name = pitched
        elif length is None:
            length = _length(times["size"], times["unit"])
        else:
            raise NotUnderstood(f"“{said[:60]}” has two lengths; write one, for example {EXAMPLE}.")
    try:
        thread = thread_meant(name)
    except NoSuchThread as refused:
        raise NotUnderstood(str(refused)) from None
    if length and length[0] < thread.diameter_mm / 2 and thread.series not in {"coarse", "fine"}:
        raise NotUnderstood(
            f"“{said[:60]}”: is the length in inches? Write the unit, for example {thread.name} x 1 in."
        )
    return thread.name, length, said[at:].strip(" ,")


def _grade(behind: str) -> tuple[str, str]:
    """The class that is marked on the head, as the end of what was told."""
    if not behind:
        return "", ""
    try:
        return grade_named(re.sub(r"^(?:class|mark(?:ed)?)\s+", "", behind, flags=re.I)).name, ""
    except NoSuchGrade:
        raise NotUnderstood(
            f"“{behind[:40]}” is not understood; write thread, length, head and class, for example {EXAMPLE} 8.8."
        ) from None


def _is_thread(name: str) -> bool:
    try:
        thread_meant(name)
    except NoSuchThread:
        return False
    return True


def _measured(said: str) -> tuple[tuple[str, float], ...]:
    """Every thread that what was read may be, with how many times more probable that makes it than anything."""
    if not said:
        return ()
    measured = read_measured(said)
    anything = none_likelihood(measured)
    times = ((name, likelihood(thread, measured) / anything) for name, thread in threads().items())
    return tuple((name, one) for name, one in times if one > _LEAST_TIMES)
