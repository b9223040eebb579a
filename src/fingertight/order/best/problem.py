"""The question of the best order in bare numbers: who waits for whom as bits, tools and rests by number, prices whole.

A rebuild of everything is a strip turned round that also waits for `fit_after`, so one search serves both.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from fingertight.order.cost import BILLIONTHS, Prices, Work
from fingertight.order.rules import Rules

NONE = -1
"""No tool in hand; a rest that is not chosen yet, or that a part does not care about."""


@dataclass(frozen=True)
class Problem:
    """Parts to be put in an order. A set of parts is a number with one bit a part.

    `behind[p]`: must be off before p. `ways[p]`: one of these must be off before p (empty: none asked for). `tools[p]`,
    `rests[p]`: by number. `hand`, `lies`: how it begins. Prices in 10⁻⁹ min. Minutes are not here: no order changes
    them.
    """

    ids: tuple[str, ...]
    behind: tuple[int, ...]
    ways: tuple[tuple[int, ...], ...]
    tools: tuple[tuple[int, ...], ...]
    rests: tuple[int, ...]
    change: int
    turn: int
    hand: int = NONE
    lies: int = NONE
    closing: bool = False
    """Whether the last part is none of the machine's: it only stands for what the order ends with."""

    def __len__(self) -> int:
        return len(self.ids)

    @cached_property
    def whole(self) -> int:
        """All parts."""
        return (1 << len(self.ids)) - 1

    @cached_property
    def children(self) -> tuple[tuple[int, ...], ...]:
        """For each part, who waits for it in `behind`."""
        found: list[list[int]] = [[] for _ in self.ids]
        for part, before in enumerate(self.behind):
            for other in bits(before):
                found[other].append(part)
        return tuple(map(tuple, found))

    @cached_property
    def many_ways(self) -> int:
        """The parts that ask for a way."""
        return sum(1 << part for part, ways in enumerate(self.ways) if ways)

    def is_clear(self, part: int, off: int) -> bool:
        """Whether a way of the part is off."""
        ways = self.ways[part]
        return not ways or any(not way & ~off for way in ways)

    def cost_of(self, order: Iterable[int]) -> int:
        """Changes and turns of an order, priced [10⁻⁹ min]; the fewest changes it can be done with."""
        hands, lies, turns = {self.hand: 0}, self.lies, 0
        for part in order:
            rest = self.rests[part]
            if rest not in (NONE, lies):
                turns += lies != NONE
                lies = rest
            hands = used(hands, self.tools[part])
        return min(hands.values()) * self.change + turns * self.turn

    def is_lawful(self, order: Sequence[int]) -> bool:
        """Whether every part comes when it may, each once."""
        off = 0
        for part in order:
            if off >> part & 1 or self.behind[part] & ~off or not self.is_clear(part, off):
                return False
            off |= 1 << part
        return True

    def named(self, order: Iterable[int]) -> tuple[str, ...]:
        """The ids of an order, without what only closes it."""
        return tuple(self.ids[part] for part in order if not (self.closing and part == len(self.ids) - 1))


def used(hands: Mapping[int, int], tools: Sequence[int]) -> dict[int, int]:
    """The hand after a part with these tools: for each tool it may end with, the fewest changes."""
    if not tools:
        return dict(hands)
    many, empty = len(tools), min(hands.values()) + len(tools)
    after = {}
    for last in tools:
        saved = [count + many - 1 for hand, count in hands.items() if hand in tools and (hand != last or many == 1)]
        after[last] = min([empty, *saved])
    return after


def bits(parts: int) -> Iterable[int]:
    """The parts of a set, the lowest number first.

    >>> list(bits(0b1010))
    [1, 3]
    """
    while parts:
        low = parts & -parts
        yield low.bit_length() - 1
        parts ^= low


def strip_of(
    rules: Rules, works: Mapping[str, Work], prices: Prices, start: str | None, only: Iterable[str] | None = None
) -> Problem:
    """The strip of these parts, or of all that can come off. A way that leads through other parts is no way here."""
    chosen = [part for part in (rules.ids if only is None else only) if not rules.never[rules.index[part]]]
    return _problem(rules, works, prices, chosen, start=start, end=None, turned=False)


def rebuild_of(rules: Rules, works: Mapping[str, Work], prices: Prices, start: str | None) -> Problem:
    """The rebuild of all that comes off, turned round: read its order backwards. It begins lying as it may, and ends
    as the rebuild begins."""
    chosen = [part for part in rules.ids if not rules.never[rules.index[part]]]
    return _problem(rules, works, prices, chosen, start=None, end=start, turned=True)


def _problem(
    rules: Rules,
    works: Mapping[str, Work],
    prices: Prices,
    chosen: Sequence[str],
    *,
    start: str | None,
    end: str | None,
    turned: bool,
) -> Problem:
    place = {rules.index[part]: nth for nth, part in enumerate(chosen)}
    tools = _numbers(tool for part in chosen for tool in sorted(works[part].tools))
    rests = _numbers([start, end, *(works[part].rest for part in chosen)])
    behind, ways = [], []
    for part in chosen:
        number = rules.index[part]
        before = [*rules.behind[number], *(rules.fitted_before[number] if turned else ())]
        behind.append(_set(place[other] for other in before if other in place))
        ways.append(tuple(_ways(rules, number, place)))
    ends = end is not None and bool(chosen)
    return Problem(
        ids=(*chosen, *(("",) if ends else ())),
        behind=(*behind, *(((1 << len(chosen)) - 1,) if ends else ())),
        ways=(*ways, *(((),) if ends else ())),
        tools=(
            *(tuple(tools[tool] for tool in sorted(works[part].tools)) for part in chosen),
            *(((),) if ends else ()),
        ),
        rests=(*(_number(rests, works[part].rest) for part in chosen), *((rests[end],) if ends and end else ())),
        change=round(prices.change_min * BILLIONTHS),
        turn=round(prices.turn_min * BILLIONTHS),
        lies=_number(rests, start),
        closing=ends,
    )


def _ways(rules: Rules, number: int, place: Mapping[int, int]) -> Iterable[int]:
    """The ways of a part that can be cleared by the parts chosen; what was cleared from the start asks for nothing."""
    ways = rules.ways[number]
    if any(not rules.members[way] for way in ways):
        return
    for way in ways:
        if all(other in place for other in rules.members[way]):
            yield _set(place[other] for other in rules.members[way])


def _numbers(names: Iterable[str | None]) -> dict[str, int]:
    return {name: nth for nth, name in enumerate(dict.fromkeys(name for name in names if name is not None))}


def _number(numbers: Mapping[str, int], name: str | None) -> int:
    return NONE if name is None else numbers[name]


def _set(parts: Iterable[int]) -> int:
    found = 0
    for part in parts:
        found |= 1 << part
    return found


def window_of(whole: Problem, order: Sequence[int], first: int, last: int) -> Problem:
    """A stretch of an order as a question of its own: what is before is off, what comes next is a closing part.

    The closing part asks for the tool and the rest that the rest of the order asks for first, where that is plain.
    """
    stretch = order[first:last]
    place = {part: nth for nth, part in enumerate(stretch)}
    off = _set(order[:first])
    hands, lies = {whole.hand: 0}, whole.lies
    for part in order[:first]:
        lies = lies if whole.rests[part] == NONE else whole.rests[part]
        hands = used(hands, whole.tools[part])
    behind = [_set(place[other] for other in bits(whole.behind[part] & ~off)) for part in stretch]
    ways = []
    for part in stretch:
        left = [way & ~off for way in whole.ways[part]]
        inside = [_set(place[other] for other in bits(way)) for way in left if all(o in place for o in bits(way))]
        ways.append(() if not all(left) else tuple(inside))
    after = order[last:]
    next_tools = next((whole.tools[part] for part in after if whole.tools[part]), ())
    next_rest = next((whole.rests[part] for part in after if whole.rests[part] != NONE), NONE)
    return Problem(
        ids=(*(whole.ids[part] for part in stretch), ""),
        behind=(*behind, (1 << len(stretch)) - 1),
        ways=(*ways, ()),
        tools=(*(whole.tools[part] for part in stretch), next_tools if len(next_tools) == 1 else ()),
        rests=(*(whole.rests[part] for part in stretch), next_rest),
        change=whole.change,
        turn=whole.turn,
        hand=min(hands, key=lambda hand: hands[hand]),
        lies=lies,
        closing=True,
    )
