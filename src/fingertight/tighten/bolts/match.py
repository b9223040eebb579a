"""Whose bolt is this? A loose bolt against the holes it may belong to: one, or a whole tray at once."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.floating]
    Whole = NDArray[np.intp]

NAMED = 1000.0
"""How many times more probable what is read is when a thread is called by its name and is that one, than when it is
anything: the name is trusted. Common practice, no source."""
_FOREIGN = 0.02
"""How often a bolt on the floor is foreign, before anything is known of it: common practice, no source."""
_LENGTHS_MM = 60.0
"""Foreign bolts are of any length up to about this."""
_HEAD_RIGHT, _HEADS = 0.9, 6.0
"""How often a head is called by its right name, and among how many names it is chosen: common practice, no source."""
_MARK_RIGHT, _MARKS = 0.95, 6.0
"""The same of the class that is marked on a head: common practice, no source."""
_BOTTOMS = 1e-9
"""How probable it is that a bolt is from a hole in which it bottoms: it never was in it, or it was read wrongly."""
_MADE_MM = 0.25
_MADE_SHARE = 0.005
"""How far a bolt's length is from its name, as one standard deviation: about a quarter of the ± js15 of ISO 4759-1."""
_SHOWN = 0.005
ALIKE = 3.0
"""A swap that is less than this many times less probable than the best answer cannot be told from it."""


@dataclass(frozen=True, slots=True)
class Loose:
    """A loose bolt, as far as it is known. No threads, a length of None, a head or grade of "": not known.

    threads: each thread it may have, with how many times more probable what was read is with it than with anything.
    """

    threads: tuple[tuple[str, float], ...]
    length_mm: float | None = None
    length_error_mm: float = 0.5
    head: str = ""
    grade: str = ""


@dataclass(frozen=True, slots=True)
class Hole:
    """So many holes for like bolts. A length of None, a head or grade of "": the machine does not say.

    weight: how probable one of them is to lack its bolt, beside the others. longest_mm: a longer bolt bottoms.
    """

    thread: str
    length_mm: float | None
    head: str
    count: int = 1
    weight: float = 1.0
    grade: str = ""
    longest_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Chance:
    """A hole by its number in the list, and how probable it is that the bolt belongs there (0 to 1)."""

    hole: int
    probability: float


@dataclass(frozen=True, slots=True)
class Whose:
    """The holes a bolt may belong to, most probable first, and how probable it is that it is none of this machine's."""

    chances: tuple[Chance, ...]
    foreign: float


@dataclass(frozen=True, slots=True)
class Swap:
    """Two bolts of a tray, by number, that nobody can tell apart though they lie in different holes."""

    first: int
    second: int


@dataclass(frozen=True, slots=True)
class Sorted:
    """A tray, sorted: for each bolt its hole (None: none of this machine's), how sure that is, and what may be swapped.

    left: how many holes of each kind are still without a bolt.
    """

    holes: tuple[int | None, ...]
    sure: tuple[float, ...]
    swaps: tuple[Swap, ...]
    left: tuple[int, ...]


def whose(bolt: Loose, holes: Sequence[Hole]) -> Whose:
    """Which holes can this bolt belong to?

    Bayes: P(hole | bolt) ∝ count · weight · P(thread read | thread) · P(length | length) · P(head | head) ·
    P(class | class), against “none of this machine's”, 2 % beforehand, with any thread, length to 60 mm and any head.

    A length is normal about the one the machine names, with the error of the reading and of making; a head is called
    by its right name nine times of ten, a mark on it read right nineteen times of twenty. A bolt that would bottom
    there, by more than the error of the reading, is from no such hole.

    >>> found = whose(Loose((("M6", NAMED),), 28.3), [Hole("M6", 28, "hex flange", 6), Hole("M6", 20, "hex flange", 2)])
    >>> [(one.hole, round(one.probability, 2)) for one in found.chances]
    [(0, 1.0)]

    Raises nothing: with no hole for it, it is foreign. Source: the figures are common practice, no source, and are said
    where they stand; checked against the simulation of whole trays (tests/tighten/test_tray.py).
    """
    if not any(hole.count * hole.weight for hole in holes):
        return Whose((), 1.0)
    gains = _gains([bolt], holes)[0].tolist()
    times = [hole.count * math.exp(gain) for hole, gain in zip(holes, gains, strict=True)]
    whole = 1.0 + math.fsum(times)
    chances = sorted((Chance(hole, one / whole) for hole, one in enumerate(times)), key=lambda one: -one.probability)
    return Whose(tuple(one for one in chances if one.probability >= _SHOWN), 1.0 / whole)


def sort_tray(bolts: Sequence[Loose], holes: Sequence[Hole]) -> Sorted:
    """Where does each bolt of a spilled tray belong?

    The assignment with the greatest product of the chances of `whose`, each hole filled at most once; a bolt that is
    more probably foreign than any free hole's is left out. How sure: the answer against all in which this bolt alone
    changes places, with another bolt, into a free hole, or out of the machine; near to exact where few are in doubt
    (the tests compare it with all assignments).

    bolts, holes: as in `whose`; bolts that are alike may be one and the same object, which saves time. Returns numbers
    into `holes`; of swaps, one for each two kinds of bolts in two kinds of holes.

    >>> tray = [Loose((("M6", NAMED),), length) for length in (28, 20.2, 19.9)]
    >>> sort_tray(tray, [Hole("M6", 20, "", 2), Hole("M6", 28, "", 6)]).holes
    (1, 0, 0)

    Raises nothing. Source: Kuhn (1955), as scipy's `linear_sum_assignment` solves it.
    """
    import numpy as np
    from scipy.optimize import linear_sum_assignment

    counts = np.array([hole.count for hole in holes], dtype=np.intp)
    if not len(bolts) or not counts.sum():
        return Sorted((None,) * len(bolts), (1.0,) * len(bolts), (), tuple(counts.tolist()))
    kinds = {id(bolt): bolt for bolt in bolts}
    number = {name: place for place, name in enumerate(kinds)}
    kind = np.array([number[id(bolt)] for bolt in bolts], dtype=np.intp)
    gains = _gains(list(kinds.values()), holes)
    slots = np.repeat(np.arange(len(holes)), counts)
    rows, columns = linear_sum_assignment(np.minimum(-gains, 0.0)[kind[:, None], slots])
    chosen = np.full(len(bolts), -1)
    chosen[rows] = slots[columns]
    chosen[gains[kind, chosen] <= 0.0] = -1
    left = counts - np.bincount(chosen[chosen >= 0], minlength=len(holes))
    sure, swaps = _how_sure(gains, kind, chosen, left)
    return Sorted(tuple(hole if hole >= 0 else None for hole in chosen.tolist()), sure, swaps, tuple(left.tolist()))


def _gains(bolts: Sequence[Loose], holes: Sequence[Hole]) -> "Floats":
    """How many times more probable than foreign each bolt is from one hole of each kind, as logarithms."""
    import numpy as np

    total = sum(hole.count * hole.weight for hole in holes)
    share = (1 - _FOREIGN) / _FOREIGN / total
    return _scores(bolts, holes) + np.log([max(hole.weight * share, 1e-12) for hole in holes])


def _how_sure(
    gains: "Floats", kind: "Whole", chosen: "Whole", left: "Whole"
) -> "tuple[tuple[float, ...], tuple[Swap, ...]]":
    """Each bolt's own answer against those in which it changes places; and the pairs that may be swapped unseen.

    Bolts of one kind in one kind of hole are one group; all sums are over groups.
    """
    import numpy as np

    _, first, group, size = np.unique(
        kind * (gains.shape[1] + 1) + chosen + 1, return_index=True, return_inverse=True, return_counts=True
    )
    kinds, holes = kind[first], chosen[first]
    inside = holes >= 0
    own = np.where(inside, gains[kinds, holes], 0.0)
    there = np.where(inside, gains[kinds[:, None], holes], 0.0)  # row: a group, column: the holes of another
    swapped = np.exp(np.minimum(there + there.T - own[:, None] - own, 0.0))
    swapped[holes[:, None] == holes] = 0.0
    filled = np.bincount(holes + 1, size, gains.shape[1] + 1)[holes + 1]
    moved = np.exp(np.minimum(gains[kinds] - own[:, None], 0.0)) * left
    moved[inside, holes[inside]] = 0.0
    spare = np.where(inside, left[holes] + 1.0, 1.0)
    against = swapped @ size / filled + moved.sum(axis=1) / spare + np.where(inside, np.exp(-own), 0.0)
    one, other = np.nonzero(np.triu(swapped * ALIKE > 1.0, 1) & inside[:, None] & inside)
    swaps = tuple(Swap(int(first[a]), int(first[b])) for a, b in zip(one, other, strict=True))
    return tuple((1.0 / (1.0 + against))[group].tolist()), swaps


def _scores(bolts: Sequence[Loose], holes: Sequence[Hole]) -> "Floats":
    """How many times more probable each bolt, as it was read, is from each kind of hole than foreign, as logarithms."""
    import numpy as np

    number = {name: place for place, name in enumerate(dict.fromkeys(hole.thread for hole in holes))}
    chances = np.full((len(bolts), len(number) + 1), 1e-300)
    for row, bolt in enumerate(bolts):
        if not bolt.threads:
            chances[row] = 1.0
        for name, times in bolt.threads:
            chances[row, number.get(name, -1)] = max(times, 1e-300)
    scores = np.log(chances)[:, [number[hole.thread] for hole in holes]]
    read = np.array([math.nan if bolt.length_mm is None else bolt.length_mm for bolt in bolts])[:, None]
    named = np.array([math.nan if hole.length_mm is None else hole.length_mm for hole in holes])
    error = np.array([bolt.length_error_mm for bolt in bolts])[:, None]
    spread = np.hypot(error, _MADE_MM + _MADE_SHARE * named)
    length = np.log(_LENGTHS_MM / math.sqrt(2 * math.pi) / spread) - 0.5 * ((read - named) / spread) ** 2
    scores += np.where(length == length, length, 0.0)  # noqa: PLR0124 - a length that nobody knows says nothing
    longest = np.array([math.inf if hole.longest_mm is None else hole.longest_mm for hole in holes])
    scores += np.where(read > longest + error, math.log(_BOTTOMS), 0.0)
    scores += _called([bolt.head for bolt in bolts], [hole.head for hole in holes], _HEAD_RIGHT, _HEADS)
    scores += _called([bolt.grade for bolt in bolts], [hole.grade for hole in holes], _MARK_RIGHT, _MARKS)
    return np.asarray(scores)


def _called(seen: Sequence[str], named: Sequence[str], right: float, among: float) -> "Floats":
    """How many times more probable each name seen is at each hole than at any, as logarithms; "" says nothing."""
    import numpy as np

    if not any(seen) or not any(named):
        return np.zeros((len(seen), len(named)))
    number = {"": 0}
    one = np.array([number.setdefault(name, len(number)) for name in seen])[:, None]
    other = np.array([number.setdefault(name, len(number)) for name in named])
    same, different = math.log(right * among), math.log((1 - right) * among / (among - 1))
    return np.where((one == 0) | (other == 0), 0.0, np.where(one == other, same, different))
