"""The orders of flange and head practice come out of the elastic joint."""

import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from fingertight.tighten.pattern.even import most_even_order
from fingertight.tighten.pattern.joint import Joint
from fingertight.tighten.pattern.layouts import ring, rows
from fingertight.tighten.pattern.sequence import loosening_order, tightening_order

OUTSIDE = Path(__file__).parent.parent / "outside" / "patterns.toml"
RINGS: list[dict[str, Any]] = tomllib.loads(OUTSIDE.read_text(encoding="utf-8"))["ring"]


@pytest.mark.parametrize("published", RINGS, ids=[f"{one['bolts']} bolts" for one in RINGS])
def test_a_flange_is_closed_in_the_order_that_is_published_for_it(published: dict[str, Any]) -> None:
    # Each order names its source in tests/outside/patterns.toml.
    assert list(tightening_order(ring(published["bolts"]), "across")) == published["order"]
    assert list(loosening_order(ring(published["bolts"]), "across")) == published["order"][::-1]


HEADS = [(2, 3), (2, 4), (2, 5), (2, 6), (2, 7), (2, 8), (2, 10)]


@pytest.mark.parametrize("apart", [(50, 40), (50, 60), (50, 100), (40, 90)])
@pytest.mark.parametrize(("down", "along"), HEADS)
def test_a_head_is_closed_from_its_centre_outwards_and_crosswise(
    down: int, along: int, apart: tuple[float, float]
) -> None:
    # Cylinder heads from the centre outwards: common practice; workshop manuals number their head bolts so.
    at = rows(down, along, apart)
    order = most_even_order(at).order
    middle = apart[0] * (along - 1) / 2
    outwards = [abs(at[one - 1][0] - middle) for one in order]
    assert all(one <= other + 1e-9 for one, other in pairwise(outwards))
    # Opposite ends follow each other: each second bolt stands opposite the one before it, through the centre.
    pairs = [(at[one - 1], at[other - 1]) for one, other in zip(order[::2], order[1::2], strict=True)]
    assert all(abs(one[0] + other[0] - 2 * middle) < 1e-9 for one, other in pairs)


@pytest.mark.parametrize("stiffness", [100.0, 200.0, 500.0, 1000.0])
def test_the_published_orders_do_not_hang_on_how_stiff_the_cover_is_taken(
    stiffness: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fingertight.tighten.pattern.even.joint_at", lambda at: Joint(at, stiffness))
    for published in RINGS:
        # Another size, so that no order is remembered from before.
        assert list(most_even_order(ring(published["bolts"], stiffness)).order) == published["order"]
    assert set(most_even_order(rows(2, 5, (stiffness, 1.2 * stiffness))).order[:2]) == {3, 8}
