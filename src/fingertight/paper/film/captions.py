"""Captions as they come from a film or a program that writes down speech: WebVTT or SRT, in the usual encodings.

The library reads; what it would pass over in silence (a time it cannot read, an arrow that is none, a caption that ends
before it begins) is looked for first, so that a person hears of it with its line.
"""

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import webvtt

from fingertight.lesson.film.captions.words import Cue
from fingertight.paper.film.written import vtt_time

MOST_SENTENCES: Final = 10
MOST_CAPTIONS: Final = 30_000
_VTT_TIME: Final = r"(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}"
_SRT_TIME: Final = r"\d{1,3}:[0-5]\d:[0-5]\d[,.]\d{3}"
_LINES: Final = {
    "WebVTT": (re.compile(rf"\s*({_VTT_TIME})\s+-->\s+({_VTT_TIME})(?:\s.*)?"), "00:01:02.500 --> 00:01:04.000"),
    "SRT": (re.compile(rf"\s*({_SRT_TIME})\s*-->\s*({_SRT_TIME})(?:\s.*)?"), "00:01:02,500 --> 00:01:04,000"),
}
_ALMOST: Final = re.compile(r"\s*\d[\d:.,]*:\d[\d.,]*\s*(?:-|–|—|=|&)+(?:>|gt;)?\s*\d[\d:.,]*:\d[\d.,]*.*")
_STYLING: Final = re.compile(r"\{\\[^}]*\}")


class NotCaptions(ValueError):
    """These bytes are no captions that can be read; `sentences` say where, what and how to mend it."""

    def __init__(self, sentences: list[str]) -> None:
        super().__init__("\n".join(sentences))
        self.sentences = sentences


@dataclass(frozen=True, slots=True)
class Captions:
    """The captions in their order, what kind of file they were, and what a person should know of how it was read."""

    cues: tuple[Cue, ...]
    kind: str
    says: tuple[str, ...]


def read_captions(raw: bytes, name: str) -> Captions:
    """The captions in the bytes of a WebVTT or SRT file. name: what sentences call it.

    UTF-8 with or without a byte order mark, UTF-16, and else Windows-1252, which is said. Tags and styling are left
    out; a line that only repeats the end of the caption before it, as captions that roll do, is read once.

    >>> read_captions("1\\n00:00:01,000 --> 00:00:02,500\\n<b>Undo</b> the nut".encode("utf-16"), "film.srt").cues
    (Cue(starts_s=1.0, ends_s=2.5, text='Undo the nut'),)

    Raises NotCaptions with a sentence for each line that cannot be read.
    """
    text, says = _decoded(raw, name)
    lines = text.splitlines()
    kind = "WebVTT" if re.match(r"WEBVTT([ \t\r\n]|$)", text.lstrip()) else "SRT"
    timed = {number: line for number, line in _outside_notes(lines, kind).items() if "-->" in line}
    wrong = list(_wrong(lines, kind, name))
    if len(wrong) > MOST_SENTENCES:
        wrong[MOST_SENTENCES:] = [f"{name}: {len(wrong) - MOST_SENTENCES} more lines cannot be read."]
    if not timed and not wrong:
        wrong = [
            f"{name}: these are no captions: no line has two times and an arrow between. Give a WebVTT or SRT file."
        ]
    if len(timed) > MOST_CAPTIONS:
        wrong = [f"{name}: {len(timed)} captions are more than one film has. Give the captions of one film."]
    if wrong:
        raise NotCaptions(wrong)
    if kind == "SRT":
        lines = ["WEBVTT", "", *_as_webvtt(lines, set(timed))]
    found = webvtt.from_string("\n".join(lines).lstrip())
    cues = tuple(_cues([(_seconds(one.start), _seconds(one.end), one.text) for one in found.captions]))
    return Captions(cues, kind, tuple(says))


def _as_webvtt(lines: list[str], timed: set[int]) -> Iterator[str]:
    """SRT, its times written as WebVTT has them: then one reader does for both, and numbers may be left out."""
    for number, line in enumerate(lines, 1):
        found = _LINES["SRT"][0].fullmatch(line) if number in timed else None
        yield f"{vtt_time(_seconds(found[1]))} --> {vtt_time(_seconds(found[2]))}" if found else line


def _decoded(raw: bytes, name: str) -> tuple[str, list[str]]:
    """The text, and a sentence where its encoding was guessed."""
    encoding = "utf-8-sig"
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        encoding = "utf-16"
    elif b"\x00" in raw[:200]:
        encoding = "utf-16-le" if raw[1:2] == b"\x00" else "utf-16-be"
    try:
        return raw.decode(encoding), []
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        if encoding != "utf-8-sig":
            raise NotCaptions([f"{name}: this is neither UTF-8 nor UTF-16 text. Save it as UTF-8."]) from None
    try:
        text = raw.decode("cp1252")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        raise NotCaptions(
            [f"{name}, line {line}: this is text neither as UTF-8 nor as Windows-1252. Save it as UTF-8."]
        ) from None
    shown = text.splitlines()[line - 1].strip()[:60]
    return text, [f"{name} is not UTF-8; it was read as Windows-1252. See whether line {line} is right: “{shown}”."]


def _outside_notes(lines: list[str], kind: str) -> dict[int, str]:
    """Each line that may hold times, by its number from 1: in WebVTT not those of notes, styles and regions."""
    kept = {}
    is_note = False
    for number, line in enumerate(lines, 1):
        if not line.strip():
            is_note = False
        elif kind == "WebVTT" and not lines[number - 2].strip() and re.match(r"(NOTE|STYLE|REGION)(\s|$)", line):
            is_note = True
        if not is_note:
            kept[number] = line
    return kept


def _wrong(lines: list[str], kind: str, name: str) -> Iterator[str]:
    """A sentence for each line of times that cannot be read."""
    shape, example = _LINES[kind]
    for number, line in _outside_notes(lines, kind).items():
        is_arrow = "-->" in line
        if not (is_arrow or _ALMOST.fullmatch(line)):
            continue
        found = shape.fullmatch(line)
        shown = line.strip()[:60]
        if found is None:
            yield f"{name}, line {number}: “{shown}” is no time as {kind} has it. Write it as {example}."
        elif _seconds(found[2]) <= _seconds(found[1]):
            yield f"{name}, line {number}: “{shown}” ends before it begins. Put the later time second."


def _seconds(written: str) -> float:
    """A time as a caption file writes it [s]."""
    whole, thousandths = re.split(r"[.,]", written.strip())
    seconds = 0
    for each in whole.split(":"):
        seconds = seconds * 60 + int(each)
    return (seconds * 1000 + int(thousandths)) / 1000


def _cues(found: list[tuple[float, float, str]]) -> Iterator[Cue]:
    last = ""
    for starts_s, ends_s, text in sorted(found, key=lambda one: one[:2]):
        plain = _STYLING.sub("", html.unescape(re.sub(r"<[^>]*>", "", text)))
        lines = [" ".join(line.split()) for line in plain.splitlines() if line.strip()]
        if lines and lines[0] == last:
            lines = lines[1:]
        if lines:
            last = lines[-1]
            yield Cue(starts_s, ends_s, " ".join(lines))
