"""Eight lettered nuts on one bolt, an old lesson: they come off in one order and go on in one of 40,320."""

from itertools import permutations

from fingertight.order import Moves, Rules, Stands, strip_order
from tests.order.machines import as_anatomy

LETTERS = "ABCDEFGH"
BOLT = {"bolt": Stands("bolt", stays=True)}
# A stands outermost; each other nut is behind the letter before it.
NUTS = {
    letter.lower(): Stands(letter.lower(), [before.lower()] if before else [])
    for before, letter in zip(["", *LETTERS], LETTERS, strict=False)
}


def _is_lawful(moves: Moves, order: tuple[str, ...], *, on: bool) -> bool:
    """Go through this order, then back to the start; whether each nut was in its turn."""
    moved = []
    for nut in order:
        if not (moves.may_part_go_on(nut) if on else moves.is_clear(nut)):
            break
        (moves.put if on else moves.took)(nut)
        moved.append(nut)
    for nut in reversed(moved):
        (moves.took if on else moves.put)(nut)
    return len(moved) == len(order)


def test_of_40320_orders_one_takes_the_nuts_off_and_one_other_puts_them_on() -> None:
    machine = BOLT | NUTS
    fresh, bare = Moves(Rules(machine.values())), Moves(Rules(machine.values()))
    for nut in NUTS:
        bare.took(nut)
    orders = list(permutations(NUTS))
    assert len(orders) == 40_320
    off = [order for order in orders if _is_lawful(fresh, order, on=False)]
    on = [order for order in orders if _is_lawful(bare, order, on=True)]
    assert ["".join(order).upper() for order in off] == ["ABCDEFGH"]
    assert ["".join(order).upper() for order in on] == ["HGFEDCBA"]


def test_the_whole_strip_of_the_nuts_is_that_one_order() -> None:
    assert strip_order(as_anatomy(BOLT | NUTS)).order == tuple(NUTS)


def test_eight_nuts_on_eight_bolts_come_off_in_any_of_40320_orders() -> None:
    moves = Moves(Rules(Stands(nut) for nut in NUTS))
    assert sum(_is_lawful(moves, order, on=False) for order in permutations(NUTS)) == 40_320
