"""One test for many seeds: run by the hundred, so that a run of the suite counts tests and not machines."""

from collections.abc import Callable

import pytest

TOGETHER = 100


def for_seeds(count: int) -> Callable[[Callable[[int], None]], Callable[[range], None]]:
    """Run the test for each seed below `count`; a failure shows its `seed` in the test's own frame."""

    def many(test: Callable[[int], None]) -> Callable[[range], None]:
        def each(seeds: range) -> None:
            for seed in seeds:
                test(seed)

        each.__name__, each.__doc__, each.__module__ = test.__name__, test.__doc__, test.__module__
        hundreds = [range(first, min(first + TOGETHER, count)) for first in range(0, count, TOGETHER)]
        return pytest.mark.parametrize("seeds", hundreds, ids=lambda seeds: f"{seeds.start}-{seeds.stop - 1}")(each)

    return many
