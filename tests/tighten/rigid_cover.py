"""A joint for checking orders that shares nothing with the one the orders come from.

A rigid cover lies on a field of springs that fills the outline of the bolts (the gasket); every bolt is a spring that
is turned until it pulls with its full load, and then keeps its nut where it is, so that later bolts slacken it. The
joint of the product is a bending plate on a bed along the edge, and its bolts pull without giving.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Delaunay

Position = tuple[float, float]
_SPRINGS_ALONG = 30


def gasket(at: Sequence[Position]) -> NDArray[np.floating]:
    """A grid of springs inside the outline, and one under each bolt."""
    bolts = np.array(at)
    low, high = bolts.min(axis=0), bolts.max(axis=0)
    axes = (np.linspace(low[axis], high[axis], _SPRINGS_ALONG) for axis in (0, 1))
    grid = np.stack(np.meshgrid(*axes), axis=-1).reshape(-1, 2)
    return np.vstack([grid[Delaunay(bolts).find_simplex(grid) >= 0], bolts])


def out_of_parallel(at: Sequence[Position], order: Sequence[int], bolt_share: float = 0.2) -> float:
    """How far from parallel the cover comes down, the mean over the bolts: most less least closing, by the mean.

    bolt_share: how stiff all bolts together are beside the whole gasket.
    """
    springs = gasket(at)
    bed = np.column_stack([np.ones(len(springs)), springs])
    bolts = np.column_stack([np.ones(len(at)), np.array(at)])
    stiffness, bolt = bed.T @ bed / len(springs), bolt_share / len(at)
    load = np.zeros(len(at))
    tilts = []
    for one in order:
        turned = one - 1
        others = bolts[[number for number in range(len(at)) if number != turned and load[number] > 0]]
        moved = np.linalg.solve(stiffness + bolt * others.T @ others, bolts[turned] * (1.0 - load[turned]))
        load -= np.where(load > 0, bolt * (bolts @ moved), 0.0)
        load[turned] = 1.0
        closing = bed @ np.linalg.solve(stiffness, bolts.T @ load)
        tilts.append((closing.max() - closing.min()) / closing.mean())
    return math.fsum(tilts) / len(tilts)
