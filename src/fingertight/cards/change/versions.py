"""All that was kept of a machine, newest first, in words; two versions side by side, line by line."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from fingertight.anatomy.change.words import difference
from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.change.difference import DifferenceCard, difference_card

AROUND = 3
MOST_ROWS = 600
MOST_LINES = 8000  # compared with each other, after what both begin and end with: more would keep a page waiting
MOST_SENTENCES = 8
UNREADABLE = "This text cannot be read as a machine any more."


@dataclass(frozen=True)
class Kept:
    """One version as it was kept. at: when, in words; who: "" where nobody is known; back_to: the version whose text it
    has again, 0 for none; jobs: how many stand on its text; anatomy: None where the text cannot be read any more."""

    number: int
    at: str
    who: str
    back_to: int
    jobs: int
    text: str
    anatomy: Anatomy | None


@dataclass(frozen=True)
class VersionLine(Card):
    """One version: when, by whom, what changed against the one before; more: sentences that are not shown."""

    number: int
    title: str
    sentence: str
    changes: tuple[str, ...]
    more: int
    is_newest: bool
    may_go_back: bool


@dataclass(frozen=True)
class Piece(Card):
    """A line in three pieces, of which the middle one changed; number: which line it is, 0 where there is none."""

    number: int
    before: str
    changed: str
    after: str


@dataclass(frozen=True)
class Row(Card):
    """Two lines beside each other. kind: same, changed, gone, new; left-out for lines that are alike and not shown."""

    kind: str
    old: Piece
    new: Piece
    left_out: str = ""


@dataclass(frozen=True)
class BesideCard(Card):
    """Two versions side by side; difference: None where one of them cannot be read any more."""

    old: int
    new: int
    sentence: str
    difference: DifferenceCard | None
    rows: tuple[Row, ...]
    rows_left_out: str


@dataclass(frozen=True)
class VersionsCard(Card):
    """The versions of a machine. undo: what the last change was, in words, "" where there is none to undo."""

    slug: str
    name: str
    newest: int
    numbers: tuple[int, ...]
    versions: tuple[VersionLine, ...]
    older: int
    beside: BesideCard | None
    undo: str


def versions_card(
    slug: str, numbers: Sequence[int], shown: Sequence[Kept], before: Kept | None, beside: BesideCard | None
) -> VersionsCard:
    """What was kept? numbers: all there are, newest first; shown: some of them, newest first; before: the one that
    comes before the last shown, if any."""
    newest = numbers[0]
    olds = [*shown[1:], before]
    now = shown[0].text if shown and shown[0].number == newest else ""
    lines = tuple(version_line(one, old, newest, now) for one, old in zip(shown, olds, strict=True))
    name = next((one.anatomy.machine.name for one in shown if one.anatomy), slug)
    undo = last_change(shown[0], olds[0]) if now and olds[0] else ""
    return VersionsCard(slug, name, newest, tuple(numbers), lines, before.number if before else 0, beside, undo)


def version_line(one: Kept, before: Kept | None, newest: int, now: str) -> VersionLine:
    """One version as the list shows it. now: the text of the newest, which is nothing to go back to."""
    changes, more = _changes(one, before)
    said = [f"{one.at}, {one.who}" if one.who else one.at]
    if one.back_to:
        said.append(f"the text of version {one.back_to} again")
    if one.jobs:
        said.append(f"{counted(one.jobs, 'job')} on it")
    is_newest = one.number == newest
    title = f"Version {one.number}, the newest" if is_newest else f"Version {one.number}"
    may = not is_newest and one.text != now and one.anatomy is not None
    return VersionLine(one.number, title, f"{'; '.join(said)}.", changes, more, is_newest, may)


def last_change(newest: Kept, before: Kept | None) -> str:
    """What the last change was, in a line; "" where there was none."""
    if before is None or before.anatomy is None:
        return ""
    changes, more = _changes(newest, before)
    return " ".join(
        [*changes[:2], f"And {len(changes) - 2 + more} more." if len(changes) - 2 + more > 0 else ""]
    ).strip()


def _changes(one: Kept, before: Kept | None) -> tuple[tuple[str, ...], int]:
    if one.anatomy is None:
        return (UNREADABLE,), 0
    if before is None:
        return ("The first that was kept.",), 0
    if before.anatomy is None:
        return (f"What changed cannot be told: version {before.number} cannot be read any more.",), 0
    said = difference(before.anatomy, one.anatomy) or ("Only how it is written.",)
    return said[:MOST_SENTENCES], max(len(said) - MOST_SENTENCES, 0)


def beside_card(old: Kept, new: Kept) -> BesideCard:
    """Two versions side by side: in words, and line by line with a few lines around each change."""
    told = None
    if old.anatomy and new.anatomy:
        names = (f"version {old.number}", f"version {new.number}")
        told = difference_card(names, old.anatomy, new.anatomy, letter_for_letter=old.text == new.text)
    rows = tuple(rows_of(old.text, new.text))
    too_long = not rows and old.text != new.text
    sentence = told.sentence[:1].upper() + told.sentence[1:] if told else UNREADABLE
    over = len(rows) - MOST_ROWS
    left_out = f"{counted(over, 'line')} more: take both files and compare them." if over > 0 else ""
    if too_long:
        left_out = "Too much has changed to be shown line by line: take both files and compare them."
    return BesideCard(old.number, new.number, sentence, told, rows[:MOST_ROWS], left_out)


def rows_of(old: str, new: str) -> Iterator[Row]:
    """The lines of two texts beside each other, with a few around each change and a word for those left out.

    None where the texts are equal, or where so much changed that comparing them would take too long.

    >>> [(row.kind, row.old.changed, row.new.changed) for row in rows_of("a\\nminutes = 2\\nb", "a\\nminutes = 35\\nb")]
    [('same', '', ''), ('changed', '2', '35'), ('same', '', '')]
    """
    before, after = old.split("\n"), new.split("\n")
    head, tail = _alike(before, after)
    # Compared is what differs and a few lines around it; what both begin and end with only counts.
    first, last = max(head - AROUND, 0), max(tail - AROUND, 0)
    old_lines, new_lines = before[first : len(before) - last], after[first : len(after) - last]
    if old == new or max(len(old_lines), len(new_lines)) > MOST_LINES:
        return
    shown = 0
    for group in SequenceMatcher(None, old_lines, new_lines).get_grouped_opcodes(AROUND):
        start = first + group[0][1]
        if start > shown:
            yield _left_out(start - shown)
        for kind, begin, end, new_begin, new_end in group:
            places = (first + begin + 1, first + new_begin + 1)
            yield from _rows(kind, old_lines[begin:end], new_lines[new_begin:new_end], *places)
        shown = first + group[-1][2]
    if shown < len(before):
        yield _left_out(len(before) - shown)


def _alike(before: Sequence[str], after: Sequence[str]) -> tuple[int, int]:
    """How many lines both begin with, and how many both end with."""
    short = min(len(before), len(after))
    head = next((nth for nth in range(short) if before[nth] != after[nth]), short)
    tail = next((nth for nth in range(short - head) if before[-1 - nth] != after[-1 - nth]), short - head)
    return head, tail


def _rows(kind: str, before: Sequence[str], after: Sequence[str], old: int, new: int) -> Iterator[Row]:
    if kind == "equal":
        for nth, line in enumerate(before):
            yield Row("same", Piece(old + nth, line, "", ""), Piece(new + nth, line, "", ""))
        return
    both = min(len(before), len(after))
    for nth in range(both):
        yield _changed(before[nth], after[nth], old + nth, new + nth)
    for nth in range(both, len(before)):
        yield Row("gone", Piece(old + nth, "", before[nth], ""), Piece(0, "", "", ""))
    for nth in range(both, len(after)):
        yield Row("new", Piece(0, "", "", ""), Piece(new + nth, "", after[nth], ""))


def _changed(before: str, after: str, old: int, new: int) -> Row:
    """Two lines of which the middle differs."""
    head, tail = _alike(before, after)

    def piece(number: int, line: str) -> Piece:
        return Piece(number, line[:head], line[head : len(line) - tail], line[len(line) - tail :])

    return Row("changed", piece(old, before), piece(new, after))


def _left_out(count: int) -> Row:
    none = Piece(0, "", "", "")
    return Row("left-out", none, none, f"{counted(count, 'line')} alike")
