"""The hash chain of one job's log: each entry stands on all the entries before it.

The hash of an entry is SHA-256 over the hash before it, its id and its text, each on a line of its own.
A changed, missing or swapped entry no longer fits. There is no secret in it: who rewrites a whole log with all its
hashes is only seen by a head noted elsewhere, in an exported zip, a backup or on paper.
"""

from collections.abc import Iterable
from hashlib import sha256
from typing import NamedTuple

from fingertight.store.log.promise import Chain, ChainCheck, Head, Sent

START = Head(0, "0" * 64)
MEND = "Hold the log against a backup or an exported zip from before."


class Link(NamedTuple):
    """A kept entry with the hashes kept beside it."""

    seq: int
    id: str
    body: str
    before: str
    hash: str


def link(before: str, entry_id: str, body: str) -> str:
    """Which hash does an entry have that comes after the hash `before`?

    >>> link(START.hash, "e1", '{"id": "e1"}')
    '7bef55652161448293f9138d4088bb3eaa5a5b57609edc48664ba5df2c7efee8'
    """
    return sha256(f"{before}\n{entry_id}\n{body}".encode()).hexdigest()


def linked(entries: Iterable[Sent]) -> tuple[Link, ...]:
    """The chain of entries in their order of arrival, computed from their text alone.

    >>> [at.seq for at in linked([Sent("e1", '{"id": "e1"}'), Sent("e2", '{"id": "e2"}')])]
    [1, 2]
    """
    links: list[Link] = []
    before = START.hash
    for seq, entry in enumerate(entries, start=1):
        links.append(Link(seq, entry.id, entry.body, before, link(before, entry.id, entry.body)))
        before = links[-1].hash
    return tuple(links)


def head_of(entries: Iterable[Sent]) -> Head:
    """How far a log goes, computed from its entries in their order of arrival.

    >>> head_of([]) == START
    True
    """
    links = linked(entries)
    return Head(links[-1].seq, links[-1].hash) if links else START


def follow(links: Iterable[Link], noted: Head | None = None) -> ChainCheck:
    """Is this log still what was kept? Each link must follow the one before it, and `noted` must be one of them.

    >>> follow(linked([Sent("e1", '{"id": "e1"}')])).ended
    <Chain.WHOLE: 'whole'>
    """
    head = START
    noted_seen = noted is None or noted == START
    for at in links:
        because = _misfit(head, at, noted)
        if because:
            return ChainCheck(Chain.BROKEN, head, head.seq + 1, f"{because} {MEND}")
        head = Head(at.seq, at.hash)
        noted_seen = noted_seen or head == noted
    if noted and not noted_seen:
        because = f"The log ends with entry {head.seq}, though entry {noted.seq} was kept in it."
        return ChainCheck(Chain.BROKEN, head, head.seq + 1, f"{because} {MEND}")
    return ChainCheck(Chain.WHOLE, head)


def _misfit(head: Head, at: Link, noted: Head | None) -> str:
    """Why this link does not follow the head, as a sentence; empty when it does."""
    if at.seq != head.seq + 1:
        return f"Entry {head.seq + 1} is missing."
    if at.before != head.hash:
        return f"Entry {at.seq} was kept after another entry than the one that stands before it now."
    if at.hash != link(at.before, at.id, at.body):
        return f"Entry {at.seq} is not as it was kept: its text and its hash do not fit."
    if noted and at.seq == noted.seq and at.hash != noted.hash:
        return f"Entry {at.seq} or one before it is not as it was noted elsewhere."
    return ""
