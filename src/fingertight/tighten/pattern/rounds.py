"""Passes: how uneven the joint is while each is done, and what the bolts hold afterwards."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fingertight.tighten.pattern.joint import Floats, Joint, Position, joint_at

FINGER_TIGHT = 0.05
"""What a fastener holds when it is run down by hand, as a share of its full load. Common practice, no source."""

_PASSES = {1: (1.0,), 2: (0.5, 1.0), 3: (0.5, 1.0)}
_USUAL = (0.3, 0.6, 1.0)
_BOLT = 1.0
"""How stiff a bolt is beside the bed under it. Common practice, no source: the order of size of a paper gasket."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass: the share of the torque it goes to, and the least and most clamp at any bolt on the way, as shares of
    the mean at that moment. Below 0 the joint gapes there."""

    share: float
    least: float
    most: float


def passes_for(count: int) -> tuple[float, ...]:
    """In how many passes is a set of so many fasteners usually tightened, as shares of the torque?

    30, 60 and 100 % from four bolts on: ASME PCC-1 asks for 20 to 30 %, 50 to 70 % and 100 % and then rounds in
    circular order (from memory); two public pages of gasket makers say 30, 60, 100 % and a last round. Two and three
    bolts in halves, one bolt at once: common practice, no source.

    >>> passes_for(8), passes_for(2)
    ((0.3, 0.6, 1.0), (0.5, 1.0))
    """
    return _PASSES.get(count, _USUAL)


def on_the_way(at: Sequence[Position], order: Sequence[int], shares: Sequence[float]) -> tuple[Pass, ...]:
    """How uneven is the clamp while each pass is done, from finger-tight on?

    Before a pass all hold a, after it all hold b; with the first k of the order done, those pull b and the rest a.

    at: positions x, y. order: positions from 1. shares: of the full torque, rising, above 0.

    >>> [(one.share, round(one.least, 1), round(one.most, 1)) for one in on_the_way([(0, 0), (9, 0)], (1, 2), (0.5, 1))]
    [(0.5, 0.2, 1.8), (1, 0.7, 1.3)]

    Raises ValueError when two positions are alike. Source: `Joint`.
    """
    joint = joint_at(tuple(at))
    pulled = np.tril(np.ones((len(at), len(at))))
    clamp = joint.clamp[:, [one - 1 for one in order]] @ pulled.T
    all_alike = clamp[:, -1:]
    done, before = [], FINGER_TIGHT
    for share in shares:
        now = before * all_alike + (share - before) * clamp
        relative = now / joint.mean(now)
        done.append(Pass(share, float(relative.min()), float(relative.max())))
        before = share
    return tuple(done)


def held(at: Sequence[Position], rounds: Sequence[tuple[Sequence[int], float]]) -> tuple[float, ...]:
    """What does each bolt hold after these rounds, as a share of what one alone would hold at the full torque?

    Each bolt is turned until it holds its share; the joint gives under it, and the bolts beside it lose some of theirs
    (elastic interaction). With nuts at rest a bolt is a spring of stiffness κ beside the bed's 1: turning bolt j to t
    moves the joint by Δw, (K + κ(I − e_j e_jᵀ)) Δw = e_j (t − f_j), K the stiffness of `Joint`; f_i falls by κ Δw_i.

    rounds: each an order of positions from 1, and the share of the torque it is done to.

    >>> four, across, around = [(0, 1), (1, 0), (0, -1), (-1, 0)], (1, 3, 2, 4), (1, 2, 3, 4)
    >>> [round(load, 2) for load in held(four, [(across, 1.0)])]
    [0.69, 1.21, 0.54, 1.0]
    >>> [round(load, 2) for load in held(four, [(across, 0.3), (across, 0.6), (across, 1.0), (around, 1.0)])]
    [1.03, 0.98, 0.99, 1.0]

    Raises ValueError when two positions are alike. Source: `Joint`; elastic interaction as ASME PCC-1 describes it.
    """
    joint = joint_at(tuple(at))
    moved = [_moved_by(joint, bolt) for bolt in range(len(at))]
    load = np.full(len(at), FINGER_TIGHT)
    for order, share in rounds:
        for one in order:
            bolt = one - 1
            load -= _BOLT * moved[bolt] * (share - load[bolt])
            load[bolt] = share
    return tuple(float(one) for one in load)


def _moved_by(joint: Joint, bolt: int) -> Floats:
    """How far a unit of pull at this bolt moves the joint at each bolt, the others' nuts at rest."""
    springs = np.full(len(joint), _BOLT)
    springs[bolt] = 0.0
    return np.linalg.solve(joint.stiffness + np.diag(springs), np.eye(len(joint))[:, bolt])
