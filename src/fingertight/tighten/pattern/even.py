"""The most even order of tightening, and how uneven any order is. Evenness is computed; no order is typed in."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from fingertight.tighten.pattern.joint import Floats, Joint, Position, joint_at

MOST_BOLTS = 64
_EXACT_UP_TO = 16
_WIDE = math.comb(_EXACT_UP_TO, _EXACT_UP_TO // 2)
_NARROW = 800
_GRAIN = 1e-7
"""What differs by less is equally even: the root of rounding errors."""
_BESIDE = 1.05
"""A hole hardly farther than the nearest is a neighbour."""


@dataclass(frozen=True, slots=True)
class EvenOrder:
    """An order of positions, from 1, how uneven it is, and whether no other is more even (proven) or none was found."""

    order: tuple[int, ...]
    unevenness: float
    proven: bool


def steps(at: Sequence[Position], order: Sequence[int]) -> tuple[float, ...]:
    """How unevenly is the joint clamped after each bolt of this order?

    u_k = √(mean of (c − c̄)² over the bed) / c̄: the spread of the clamp over the joint as a share of its mean, when the
    first k bolts pull alike and the rest not yet (`Joint`). Tilt and bending count together, tilt far more.

    at: positions x, y, one unit of length. order: positions from 1, each once. Returns a share for each step; what is
    left at the last is the layout's own, 0 where the bolts are spaced evenly.

    >>> [round(step, 2) for step in steps([(0, 1), (1, 0), (0, -1), (-1, 0)], (1, 3, 2, 4))]
    [1.41, 0.0, 0.47, 0.0]

    Raises ValueError when two positions are alike or the order is none of all of them. Source: `Joint`.
    """
    if sorted(order) != list(range(1, len(at) + 1)):
        raise ValueError(f"the order must name each position from 1 to {len(at)} once")
    joint = joint_at(tuple(at))
    pulled = np.tril(np.ones((len(at), len(at))))  # step k: the first k of the order
    clamp = joint.clamp[:, [one - 1 for one in order]] @ pulled.T
    spread = np.sqrt(joint.mean(joint.uneven(clamp) ** 2)) / joint.mean(clamp)
    return tuple(float(step) if step > _GRAIN else 0.0 for step in spread)


def unevenness(at: Sequence[Position], order: Sequence[int]) -> float:
    """How uneven is an order as a whole? The mean of `steps`: 0 would be even at every step.

    >>> star = unevenness([(0, 1), (1, 0), (0, -1), (-1, 0)], (1, 3, 2, 4))
    >>> around = unevenness([(0, 1), (1, 0), (0, -1), (-1, 0)], (1, 2, 3, 4))
    >>> round(star, 2), round(around, 2)
    (0.47, 0.72)

    Raises as `steps` does.
    """
    return math.fsum(steps(at, order)) / len(at)


def most_even_order(at: Sequence[Position]) -> EvenOrder:
    """In which order is this joint closed most evenly?

    The least `unevenness` over all orders. Sets of tightened bolts are grown one bolt at a time, the best way to each
    set kept; up to 16 bolts no set is dropped, so the answer is proven, beyond that the most even few hundred are kept.
    Equally even orders: not to the next hole if another will do, else the lowest number first.

    at: positions x, y, one unit of length, as the machine lists them.

    >>> ring = [(math.sin(k * math.pi / 4), math.cos(k * math.pi / 4)) for k in range(8)]
    >>> most_even_order(ring).order
    (1, 5, 3, 7, 2, 6, 4, 8)

    Raises ValueError when two positions are alike, or for more than 64 bolts. Checked against every one of the 40,320
    orders of eight bolts, and against the published orders of flange and head practice (tests/tighten/).
    """
    return _most_even(tuple((float(x), float(y)) for x, y in at))


@lru_cache(maxsize=512)
def _most_even(at: tuple[Position, ...]) -> EvenOrder:
    if len(at) > MOST_BOLTS:
        raise ValueError(f"patterns are worked out for up to {MOST_BOLTS} bolts")
    joint, proven = joint_at(at), len(at) <= _EXACT_UP_TO
    greedy = _greedy(joint)
    growth = _Growth(joint, math.fsum(steps(at, greedy)), _WIDE if proven else _NARROW)
    # Where sets are dropped, all that stay within the limit may be among them: then the greedy order is the best known.
    order = growth.order() or greedy
    return EvenOrder(order, unevenness(at, order), proven)


def _pairs(joint: Joint) -> Floats:
    """How two pulls work together on the spread: 1_Sᵀ G 1_S is the sum over the bed of the squares about the mean."""
    uneven = joint.uneven(joint.clamp)
    together: Floats = (uneven.T * joint.beds) @ uneven
    return together


def _greedy(joint: Joint) -> tuple[int, ...]:
    """The least spread at each step: a first order, whose unevenness none that is looked for may exceed."""
    together, count = _pairs(joint), len(joint)
    pulled = np.zeros(count, dtype=bool)
    order: list[int] = []
    for _ in range(count):
        spread = 2 * (together @ pulled) + np.diag(together)
        spread[pulled] = np.inf
        order.append(int(np.argmin(np.round(spread, 9))))
        pulled[order[-1]] = True
    return tuple(one + 1 for one in order)


class _Growth:
    """Sets of tightened bolts, grown level by level; each keeps the least sum of steps that leads to it, and its path.

    Every array has a row for each set of the level, in the order of their paths (which hole comes first, and so on).
    """

    def __init__(self, joint: Joint, limit: float, width: int) -> None:
        self.together, self.count, self.width = _pairs(joint), len(joint), width
        self.limit = limit + _GRAIN * self.count
        far = joint.apart + np.diag(np.full(self.count, np.inf))
        self.beside = far <= far.min(axis=1, keepdims=True) * _BESIDE
        self.bits = np.left_shift(np.uint64(1), np.arange(self.count, dtype=np.uint64))
        self.sets = np.zeros(1, dtype=np.uint64)
        self.sums = np.zeros(1)
        self.square = np.zeros(1)
        self.pull = np.zeros((1, self.count))
        self.paths = np.zeros((1, 0), dtype=np.int8)

    def order(self) -> tuple[int, ...]:
        """The path to the set of all, positions from 1; none when no set is left within the limit."""
        for size in range(1, self.count + 1):
            self._grow(size)
            if not len(self.sets):
                return ()
        return tuple(int(one) + 1 for one in self.paths[0])

    def _grow(self, size: int) -> None:
        """The next level: every set with every bolt that it lacks."""
        square = self.square[:, None] + 2 * self.pull + np.diag(self.together)
        step = np.sqrt(np.maximum(square, 0.0) / self.count) * self.count / size
        sums = self.sums[:, None] + np.where(step > _GRAIN, step, 0.0)
        row, bolt = np.nonzero(((self.sets[:, None] & self.bits) == 0) & (sums <= self.limit))
        beside = self.beside[self.paths[row, -1], bolt] if size > 1 else np.zeros(len(row), dtype=bool)
        path = np.lexsort((bolt, beside, row))  # rows are in the order of their paths already
        place = np.empty(len(path), dtype=np.int64)
        place[path] = np.arange(len(path))
        sets, value = self.sets[row] | self.bits[bolt], np.round(sums[row, bolt] / _GRAIN)
        best = np.lexsort((place, value, sets))
        first = best[np.diff(sets[best], prepend=~sets[best[:1]]) != 0]
        if len(first) > self.width:
            first = first[np.argsort(value[first], kind="stable")[: self.width]]
        kept = first[np.argsort(place[first])]
        row, bolt = row[kept], bolt[kept]
        self.sets, self.sums, self.square = sets[kept], sums[row, bolt], square[row, bolt]
        self.pull = self.pull[row] + self.together[bolt]
        self.paths = np.column_stack([self.paths[row], bolt.astype(np.int8)])
