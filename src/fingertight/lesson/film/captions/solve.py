"""Which of the moments at which a part may have moved did it move? The best choice as a whole, each part once.

Dynamic programming over the moments in turn. A state is which parts have moved; of two ways to the same state the
better is kept, and of all states the best `WIDTH`. So with few enough states the choice is the best there is, and with
more it is the best of those kept.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from fingertight.anatomy.model import Anatomy
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules, Stands

WIDTH: Final = 300
"""On the narrations of `tests/lesson/film` 100 states find what 3,000 find; 10 lose two moves of 108, and 1 eight."""
FLOOR: Final = 0.3
"""What a move must score to be worth choosing."""
EARLY: Final = (1.0, 0.8, 0.65, 0.5, 0.45)
"""What a move's score is worth when so many parts are still in its way (the last also for more)."""


@dataclass(frozen=True, slots=True)
class Moment:
    """A moment at which one of some parts may have moved, each with its score (0 to 1).

    is_many: all of them at once, too. is_sure: put here by hand, so it is chosen whatever it costs.
    """

    scores: Mapping[str, float]
    is_many: bool = False
    is_sure: bool = False


@dataclass(frozen=True, slots=True)
class Chosen:
    """A part, the number of its moment, and what was still in its way there."""

    part: str
    moment: int
    in_the_way: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Way:
    """How a state was come by: its score, the move made last, and the way before that."""

    score: float
    part: int = -1
    moment: int = -1
    before: "_Way | None" = None


class InTurn:
    """What is in a part's way when these have moved, asked of the rules of the moves and remembered.

    Going on is coming off turned round (every whole rebuild read backwards is a lawful strip), with `fit_after` as one
    more thing to wait for; so moments of a rebuild are to be given last first.
    """

    def __init__(self, anatomy: Anatomy, kind: Literal["off", "on"]) -> None:
        fitted_before: dict[str, list[str]] = {}
        if kind == "on":
            for part in anatomy.parts:
                for first in part.fit_after:
                    fitted_before.setdefault(first, []).append(part.id)
        self._rules = Rules(
            Stands(part.id, (*part.behind, *fitted_before.get(part.id, ())), part.ways, (), part.stays)
            for part in anatomy.parts
        )
        self.ids = self._rules.ids
        self.number = self._rules.index
        fresh = Moves(self._rules)
        self._asks = [self._concerned(fresh, part) for part in self.ids]
        self._known: dict[tuple[int, int], tuple[str, ...]] = {}

    def _concerned(self, moves: Moves, part: str) -> int:
        way = moves.in_the_way(part)
        return sum(1 << self.number[other] for other in {*way.behind, *(each for one in way.ways for each in one)})

    def in_the_way(self, part: int, moved: int) -> tuple[str, ...]:
        """What must move before this part; of several ways the one with the fewest parts left."""
        key = part, moved & self._asks[part]
        if key not in self._known:
            moves = Moves(self._rules)
            for number, name in enumerate(self.ids):
                if key[1] >> number & 1:
                    moves.took(name)
            way = moves.in_the_way(self.ids[part])
            self._known[key] = (*way.behind, *min(way.ways, key=len, default=()))
        return self._known[key]


def chosen(moments: Sequence[Moment], turn: InTurn) -> list[Chosen]:
    """The moves whose scores are together the most, in turn.

    A choice gains its score, less where parts are still in the way (`EARLY`), less `FLOOR`.
    """
    states: dict[int, _Way] = {0: _Way(0.0)}
    for number, moment in enumerate(moments):
        after: dict[int, _Way] = {} if moment.is_sure else dict(states)
        for moved, way in states.items():
            for parts in _choices(moment):
                state, further = _taken(turn, moved, way, [(part, moment.scores[part], number) for part in parts])
                if state != moved and (state not in after or after[state].score < further.score):
                    after[state] = further
        if len(after) > WIDTH:
            after = dict(sorted(after.items(), key=lambda state: (-state[1].score, state[0]))[:WIDTH])
        states = after or states
    best = max(states.items(), key=lambda state: (state[1].score, -state[0]))[1]
    return _walked(best, turn)


def _choices(moment: Moment) -> Iterable[tuple[str, ...]]:
    yield from ((part,) for part in moment.scores)
    if moment.is_many and len(moment.scores) > 1:
        yield tuple(moment.scores)


def _taken(turn: InTurn, moved: int, way: _Way, steps: Sequence[tuple[str, float, int]]) -> tuple[int, _Way]:
    """The state when these parts move (part, score, moment), and the way to it; unchanged where one has moved."""
    before = moved, way
    for part, score, moment in steps:
        number = turn.number[part]
        if moved >> number & 1:
            return before
        left = len(turn.in_the_way(number, moved))
        way = _Way(way.score + score * EARLY[min(left, len(EARLY) - 1)] - FLOOR, number, moment, way)
        moved |= 1 << number
    return moved, way


def _walked(way: _Way, turn: InTurn) -> list[Chosen]:
    steps: list[_Way] = []
    step: _Way | None = way
    while step is not None and step.part >= 0:
        steps.append(step)
        step = step.before
    moved, walked = 0, []
    for one in reversed(steps):
        walked.append(Chosen(turn.ids[one.part], one.moment, turn.in_the_way(one.part, moved)))
        moved |= 1 << one.part
    return walked
