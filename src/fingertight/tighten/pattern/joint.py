"""An elastic joint: a stiff cover pulled onto a softer bed by bolts. What does one tightened bolt do everywhere?"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Position = tuple[float, float]
Floats = NDArray[np.floating]

STIFFNESS = 100.0
"""How stiff the cover is against bending beside its bed, in terms of the joint's own size (see `Joint`): so stiff that
tilt counts most, and bending decides between orders that tilt alike. Common practice, no source: covers, heads and
flanges are stiff beside a gasket. The published orders of flanges and heads come out of any value from 100 to 1,000."""

_NARROW = 0.02
"""A joint narrower than this share of its length is one row: nothing can be said of its tilt across."""
_LEAST_BED = 0.02
"""However near its neighbours, a bolt has this share of an equal share of the bed: none would make it a hinge."""


class Joint:
    """Bolts at given places pull a plate onto a bed of springs.

    The bed runs along the joint's edge; under each bolt acts the stretch that lies nearest to it, `beds` (mean 1). The
    plate is a thin elastic plate: what it costs to bend it to deflections w at the bolts is the bending energy of the
    thin-plate spline through them, ½·δ·wᵀB w (a rigid tilt costs nothing). Equilibrium under pulls f at the bolts:
    (diag(beds) + δB) w = f. The clamp, which is the pressure of the bed, follows the deflection, so that a unit pull at
    bolt j makes the clamp `clamp[:, j]`. Lengths are divided by the root mean square distance of the bed from its
    middle, so that only the layout counts; δ is `STIFFNESS`.

    Force and moments balance: the mean of the clamp over the bed is the sum of the pulls by the number of bolts.

    at: positions x, y, any unit of length, no two alike, at most 64 or so.

    >>> Joint([(0, 1), (1, 0), (0, -1), (-1, 0)]).clamp.round(2).tolist()[0]
    [0.75, 0.25, -0.25, 0.25]

    One tightened bolt of four presses its own side and lifts the other.

    Raises ValueError when there is no position, or two are alike. Source: thin-plate spline, Duchon (1976); plate on an
    elastic (Winkler) bed; checked in the tests against force and moment balance and an independent spring model.
    """

    def __init__(self, at: Sequence[Position], stiffness: float = STIFFNESS) -> None:
        places = np.array(at, dtype=float).reshape(-1, 2)
        count = len(places)
        if not count:
            raise ValueError("a joint has at least one bolt")
        self.beds: Floats = _stretches(places)
        places = places - self.beds @ places / count
        size = float(np.sqrt(self.beds @ (places**2).sum(axis=1) / count)) or 1.0
        self.places: Floats = places / size
        apart2 = ((self.places[:, None] - self.places[None]) ** 2).sum(axis=2)
        if count > 1 and float(apart2[~np.eye(count, dtype=bool)].min()) < 1e-12:
            raise ValueError("two positions are the same")
        self.apart: Floats = np.sqrt(apart2)
        self.stiffness: Floats = np.diag(self.beds) + stiffness * _bending(self.places, apart2)
        self.clamp: Floats = np.linalg.inv(self.stiffness)

    def __len__(self) -> int:
        return len(self.places)

    def uneven(self, clamp: Floats) -> Floats:
        """How far each clamp is from its mean over the bed, for one field or several in columns."""
        return clamp - self.mean(clamp)

    def mean(self, clamp: Floats) -> Floats:
        """The mean clamp over the bed."""
        mean: Floats = self.beds @ clamp / len(self)
        return mean


@lru_cache(maxsize=512)
def joint_at(at: tuple[Position, ...]) -> Joint:
    """The joint of these positions, made once.

    >>> len(joint_at(((0.0, 0.0), (60.0, 0.0))))
    2
    """
    return Joint(at)


def _bending(places: Floats, apart2: Floats) -> Floats:
    """B: the bending energy of the thin-plate spline through the places, as a quadratic form in the deflections."""
    count = len(places)
    planes = np.column_stack([np.ones(count), places])
    basis, sizes, _ = np.linalg.svd(planes, full_matrices=True)
    flat = int((sizes > _NARROW * sizes[0]).sum())
    rest = basis[:, flat:]
    if not rest.shape[1]:
        return np.zeros((count, count))
    logs = np.log(np.where(apart2 > 0, apart2, 1.0))
    kernel = apart2 * logs / (16 * np.pi)  # r² ln r / 8π
    energy = rest @ np.linalg.solve(rest.T @ kernel @ rest, rest.T)
    even: Floats = (energy + energy.T) / 2
    return even


def _stretches(places: Floats) -> Floats:
    """The share of the joint's edge that is nearest to each bolt, along the edge; the mean is 1.

    The edge is the outline round all bolts (their convex hull); a bolt within it serves the edge nearest to it.
    """
    count = len(places)
    if count < 3:
        return np.ones(count)
    corners = _outline(places)
    ahead = np.roll(corners, -1, axis=0) - corners
    lengths = np.sqrt((ahead**2).sum(axis=1))
    behind = np.concatenate([[0.0], np.cumsum(lengths)])
    if behind[-1] == 0:  # all at one place, which Joint refuses
        return np.ones(count)
    along = np.array([_along(place, corners, ahead, lengths, behind) for place in places])
    turn = np.argsort(along, kind="stable")
    gaps = np.diff(np.concatenate([along[turn], [along[turn[0]] + behind[-1]]]))
    stretches = np.empty(count)
    stretches[turn] = (gaps + np.roll(gaps, 1)) / 2 * count / behind[-1]
    served: Floats = np.maximum(stretches, _LEAST_BED)
    return served * (count / float(served.sum()))


def _along(place: Floats, corners: Floats, ahead: Floats, lengths: Floats, behind: Floats) -> float:
    """How far along the edge the point of it lies that is nearest to this place."""
    share = np.clip(((place - corners) * ahead).sum(axis=1) / np.maximum(lengths**2, 1e-30), 0.0, 1.0)
    off2 = ((corners + ahead * share[:, None] - place) ** 2).sum(axis=1)
    # Of sides equally near the first: rounding must not tell the corners of a regular ring apart.
    side = int(np.argmin(np.round(off2 / behind[-1] ** 2, 12)))
    return float((behind[side] + share[side] * lengths[side]) % behind[-1])


def _outline(places: Floats) -> Floats:
    """The corners of the convex hull, once round (Andrew's monotone chain, 1979); of a row, its ends."""
    order = np.lexsort((places[:, 1], places[:, 0]))

    def half(numbers: NDArray[np.intp]) -> list[Floats]:
        chain: list[Floats] = []
        for place in places[numbers]:
            while len(chain) > 1 and _turns(chain[-2], chain[-1], place) <= 0:
                chain.pop()
            chain.append(place)
        return chain[:-1]

    return np.array(half(order) + half(order[::-1]))


def _turns(one: Floats, two: Floats, three: Floats) -> float:
    """Above 0 where the way through these three turns to the left."""
    return float((two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0]))
