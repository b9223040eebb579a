"""What takes two places of a machine file to be seen wrong.

said.py       the values as they stand, whatever their types
parts.py      ids, who is named by whom, rests, pieces, things said twice
fasteners.py  threads, heads, lengths, positions, orders, passes
checks.py     instruments, units, ranges, gaps, questions
engine.py     crank and camshaft, and what an instrument can reach

A rule takes the values tomllib read and yields what is wrong. It passes over whatever is not of the right type,
so that a file whose shapes are wrong still hears of everything else. To add one, write it and list it here.
"""

from collections.abc import Callable, Iterator

from fingertight.anatomy.mistakes import Wrong
from fingertight.anatomy.rules import checks, engine, fasteners, parts
from fingertight.anatomy.rules.said import Table

RULES: tuple[Callable[[Table], Iterator[Wrong]], ...] = (
    parts.same_ids,
    parts.unknown_parts,
    parts.own_ways,
    parts.said_twice,
    parts.unknown_rests,
    parts.count_and_places,
    fasteners.threads_and_heads,
    fasteners.reaches,
    fasteners.positions,
    fasteners.orders,
    fasteners.passes,
    checks.unknown_instruments,
    checks.unknown_checks,
    checks.unknown_units,
    checks.units_of_another_kind,
    checks.reversed_ranges,
    checks.new_is_worn,
    checks.gaps,
    checks.never_bare,
    checks.nothing_to_set,
    checks.right_answers,
    checks.after_and_before,
    engine.reaches,
    engine.cranks,
    engine.valve_events,
    engine.cam_wheels,
)


def broken_rules(said: Table) -> Iterator[Wrong]:
    """Every rule of the format this file breaks; `said` is what tomllib read, misspelt keys mended.

    >>> [wrong.code for wrong in broken_rules({"part": [{"id": "cover", "behind": ["cover"]}]})]
    ['own-way']
    """
    for rule in RULES:
        yield from rule(said)
