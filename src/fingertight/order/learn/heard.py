"""What is learned from: strips as recorded, answers as given; and what speaks against something else.

Who and when are labels here, texts that nobody takes apart: this room knows no log.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Said = Literal["yes", "no", "don't know"]
Code = Literal["against-strip", "against-answer", "twice", "lone-part", "unknown-part", "itself", "ring"]


@dataclass(frozen=True, slots=True)
class Strip:
    """Parts in the order in which they came off, and who did it when.

    `still_on`: parts that were seen on when the recording ended. A part that stands in neither list may have been
    absent or overlooked, so it teaches nothing. What was done out of turn or undone again must not be put in here.
    """

    order: tuple[str, ...]
    label: str
    still_on: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """Could `part` come off with all of `on` still on, and everything else off as far as it will come?

    One part in `on` asks about a pair, several about all of them together: "yes" frees `part` from each of them, "no"
    says that at least one of them is in its way, itself or through others. "Tried, would not come" is a "no" as well.
    """

    part: str
    on: tuple[str, ...]
    said: Said
    by: str


Source = Strip | Answer


@dataclass(frozen=True, slots=True)
class Contradiction:
    """What speaks against something else, or cannot be meant. `sources`: all that it rests on, the one doubted first.

    `set_aside`: whether the first source is an answer that is not counted now; strips always count, they happened.
    """

    code: Code
    parts: tuple[str, ...]
    sources: tuple[Source, ...]
    set_aside: bool
    sentence: str


def who(source: Source) -> str:
    """Who said or did it, and when, as the label says."""
    return source.label if isinstance(source, Strip) else source.by


def listed(parts: Iterable[str], last: str = "and") -> str:
    """Parts in a sentence.

    >>> listed(["cover", "shaft", "gear"])
    'cover, shaft and gear'
    """
    several = list(parts)
    return f" {last} ".join([", ".join(several[:-1]), several[-1]] if len(several) > 1 else several)
