"""Which readings cannot be right: tenfold, inch for millimetre, a digit turned round."""

from collections.abc import Sequence

Limits = tuple[float | None, float | None, tuple[float, float] | None]


def out_of_bounds(value: float, smallest: float | None, largest: float | None, new: tuple[float, float] | None) -> bool:
    """Is the reading outside a third of the smallest and three times the largest of all that is known of the size?

    `smallest`, `largest`: wear limits; `new`: size when new; all in the unit of `value`. Nothing known: never.

    >>> out_of_bounds(6.802, None, 68.165, (68.0, 68.015))
    True

    Source: common practice, no source (the rule is stated in the contract of the log).
    """
    known = [limit for limit in (smallest, largest, *(new or ())) if limit is not None]
    if not known:
        return False
    return not min(known) / 3 <= value <= max(known) * 3


def far_from_others(
    values: Sequence[float], smallest: float | None, largest: float | None, new: tuple[float, float] | None
) -> list[bool]:
    """Which of three readings or more are over three times the way from new to limit off the middle of the others?

    The furthest is judged first and then left out, so that one wild reading does not make its neighbours odd.

    >>> far_from_others([68.02, 68.03, 86.02], None, 68.165, (68.0, 68.015))
    [False, False, True]

    Source: common practice, no source (the rule is stated in the contract of the log).
    """
    odd = [False] * len(values)
    way = _way_to_the_limit(smallest, largest, new)
    left = sorted(range(len(values)), key=values.__getitem__)
    while way is not None and len(left) >= 3:
        # Of sorted readings the first or the last is the furthest from the middle of the others.
        low = _middle(values, left[1:]) - values[left[0]]
        high = values[left[-1]] - _middle(values, left[:-1])
        if max(low, high) <= 3 * way + 1e-9:
            break
        odd[left.pop(0 if low >= high else -1)] = True
    return odd


def _middle(values: Sequence[float], places: list[int]) -> float:
    """The median of the readings at these places, which are sorted by reading."""
    half = len(places) // 2
    upper = values[places[half]]
    return upper if len(places) % 2 else (values[places[half - 1]] + upper) / 2


def _way_to_the_limit(smallest: float | None, largest: float | None, new: tuple[float, float] | None) -> float | None:
    if new is None:
        return None
    ways = []
    if largest is not None:
        ways.append(largest - new[1])
    if smallest is not None:
        ways.append(new[0] - smallest)
    return max(ways) if ways and max(ways) > 0 else None
