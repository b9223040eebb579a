"""What every log promises, whether a file or a database, and the values it answers with.

An entry is its JSON text, kept exactly as sent, and the id its device gave it. Here nobody asks what it means.
"""

import json
from collections.abc import Sequence
from enum import Enum
from typing import NamedTuple, Never, Protocol

LONGEST_ID = 200


class Refused(ValueError):
    """What was handed in cannot be taken; `sentences` say where, what and how to mend it, one each."""

    def __init__(self, *sentences: str) -> None:
        super().__init__(" ".join(sentences))
        self.sentences = sentences


class NotKept(Exception):
    """Nothing is wrong with what was handed in, but it could not be kept. Sending it again is always safe."""


class Sent(NamedTuple):
    """An entry as handed in: its id, and its JSON text on one line."""

    id: str
    body: str


class Ended(Enum):
    """How handing in one entry ended."""

    NEW = "new"
    HAD = "had"
    REFUSED = "refused"


class Receipt(NamedTuple):
    """The answer to one entry. `seq` counts the entries of `job` from 1 (0: refused); `because` says why refused.

    An entry that was had already may be held by another job than the one it was handed to: then `job` names that one.
    """

    id: str
    ended: Ended
    job: str
    seq: int = 0
    because: str = ""


class Kept(NamedTuple):
    """An entry as kept. `arrived` is the time given when it was handed in (RFC 3339; a file does not keep it: "")."""

    seq: int
    id: str
    body: str
    arrived: str


class Head(NamedTuple):
    """How far a log goes: the number of its last entry, and the hash that stands for all of them."""

    seq: int
    hash: str


class Chain(Enum):
    """Whether a log is still what was kept."""

    WHOLE = "whole"
    BROKEN = "broken"


class ChainCheck(NamedTuple):
    """What following the chain showed. `head` is where it ends; `at` is the first entry that does not fit (0: none)."""

    ended: Chain
    head: Head
    at: int = 0
    because: str = ""


class Log(Protocol):
    """One job's log."""

    def append(self, sent: Sequence[Sent], arrived: str) -> tuple[Receipt, ...]:
        """Keep what is new, and say of each entry how it ended, in their order. Durable once this returns.

        A known id changes nothing: the first to arrive counts. An entry that is refused does not spoil its neighbours.
        Raises NotKept when nothing could be kept.
        """

    def after(self, seq: int = 0) -> tuple[Kept, ...]:
        """The entries after number `seq`, in the order of arrival."""

    def head(self) -> Head:
        """How far this log goes."""

    def change(self) -> int:
        """A number that grows with every entry kept anywhere in the workshop (a file is a workshop of its own)."""

    def check(self, noted: Head | None = None) -> ChainCheck:
        """Follow the hash chain from the first entry to the last, and hold it against a head noted elsewhere."""


def read_entry(text: str) -> Sent:
    """Which entry is this line? Its id is read, its text stays as it is.

    >>> read_entry('{"id": "e1", "kind": "off", "part": "fan"}').id
    'e1'

    Raises Refused when the text is not one JSON object on one line with an `id`.
    """
    if "\n" in text or "\r" in text:
        raise Refused("The entry has more than one line. Write it as JSON on one line.")
    try:
        said = json.loads(text, parse_constant=_no_constant)
        text.encode()
    except json.JSONDecodeError as fault:
        mend = 'Write one JSON object, such as {"id": "…", "kind": "off", "part": "fan", …}.'
        raise Refused(f"The entry is not JSON from character {fault.pos + 1} on. {mend}") from None
    except RecursionError:
        raise Refused("The entry is nested too deep to read. Write it flat, as the bench log page shows.") from None
    except ValueError as fault:
        raise Refused(f"The entry cannot be read: {fault}. Write it as plain JSON in UTF-8.") from None
    return Sent(_read_id(said), text)


def _read_id(said: object) -> str:
    found = said.get("id") if isinstance(said, dict) else None
    if not isinstance(found, str):
        raise Refused('The entry has no id. Write one JSON object with "id": "…", the id its device made.')
    if not 1 <= len(found) <= LONGEST_ID or not found.isprintable():
        raise Refused(
            f"The entry's id is empty, longer than {LONGEST_ID} characters or has signs that cannot be shown."
        )
    return found


def _no_constant(name: str) -> Never:
    raise ValueError(f"{name} is not a number in JSON")
