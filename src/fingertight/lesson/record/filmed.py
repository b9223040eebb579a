"""What a recording says of its film: which file it is, its captions, which moves are seen where, put by hand.

A film of an older strip has no clock of the day. Its recording begins with a mark, so that seconds of the film and
times of the log say the same, and every question, chapter and file follows from it as from any other.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

from fingertight.lesson.film.captions.words import Cue

Way = Literal["off", "on"]
Seen = tuple[str, Way]
"""A part by its id, and whether it comes off or goes on."""
KINDS: dict[str, dict[str, type]] = {
    "file": {"name": str},
    "captions": {"name": str, "cues": list},
    "seen": {"moves": list},
    "unseen": {"part": str, "way": str},
}
"""What each kind must say besides id, kind, at and by."""
MOST_MOVES, MOST_CUES, LONGEST_CUE, LONGEST_FILM_S = 4_000, 30_000, 2_000, 24 * 3600


class NotSeen(Exception):
    """This cannot be so in a film; the message says why and how to mend it."""


class SeenMove(NamedTuple):
    """A move put by hand: its part's id and title, off or on, done at which second of the film [s]."""

    part: str
    name: str
    way: Way
    second: float

    @property
    def move(self) -> Seen:
        """Which move it is."""
        return self.part, self.way


@dataclass
class Filmed:
    """Where the film of a recording stands.

    captions_say: what to know of how the captions were read. on: when a part went on [s since 1970]. by_hand: what was
    put or kept by hand; unseen: what the film does not show; added: parts that came to the recording by its film alone.
    """

    file: str = ""
    captions: str = ""
    captions_say: tuple[str, ...] = ()
    cues: tuple[Cue, ...] = ()
    on: dict[str, float] = field(default_factory=dict)
    by_hand: set[Seen] = field(default_factory=set)
    unseen: set[Seen] = field(default_factory=set)
    added: set[str] = field(default_factory=set)


def moves_in(said: Mapping[str, Any]) -> list[SeenMove]:
    """The moves an entry of kind `seen` puts. Raises NotSeen."""
    moves = said["moves"]
    if not 0 < len(moves) <= MOST_MOVES or not all(isinstance(one, Mapping) for one in moves):
        raise NotSeen("This says no move of a film. Load the page again.")
    found = [
        SeenMove(str(one.get("part") or ""), str(one.get("name") or ""), way_of(one.get("way")), second_of(one))
        for one in moves
    ]
    if not all(one.part and one.name for one in found):
        raise NotSeen("A move names no part. Load the page again.")
    return found


def second_of(said: Mapping[str, Any]) -> float:
    """A place in a film [s]. Raises NotSeen."""
    second = said.get("second")
    if not isinstance(second, int | float) or isinstance(second, bool) or not math.isfinite(second):
        raise NotSeen(f"{second!r} is no second of a film.")
    if not 0 <= second < LONGEST_FILM_S:
        raise NotSeen("That is before a film begins, or a day after. Write minutes and seconds, for example 1:15.")
    return float(second)


def way_of(said: object) -> Way:
    """Off or on. Raises NotSeen."""
    if said not in ("off", "on"):
        raise NotSeen("A part comes off or goes on. Load the page again.")
    return said


def cues_in(said: Mapping[str, Any]) -> tuple[Cue, ...]:
    """The captions an entry brings: start and end [s] and text of each. Raises NotSeen."""
    cues = said["cues"]
    if len(cues) > MOST_CUES:
        raise NotSeen(f"{len(cues)} captions are more than one film has. Give the captions of one film.")
    found = []
    for one in cues:
        if not (isinstance(one, list | tuple) and len(one) == 3 and isinstance(one[2], str)):
            raise NotSeen("One of the captions has no times. Give the file again.")
        starts_s, ends_s = (second_of({"second": each}) for each in one[:2])
        found.append(Cue(starts_s, ends_s, one[2][:LONGEST_CUE]))
    return tuple(found)
