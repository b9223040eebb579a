"""Where everything is, what was measured and what is wrong, after a whole log."""

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, PlainSerializer, WithJsonSchema

from fingertight.anatomy.model import Check
from fingertight.cards.card import Card
from fingertight.ledger.folds.judged import verdict_of, word_on
from fingertight.ledger.replay import Ledger
from fingertight.ledger.state import State
from fingertight.measure.verdict import Word
from fingertight.quantity import HOUSE, in_house, unit_named

# How the house units end a name, as docs/words.md has it.
_ENDINGS = {"mm": "mm", "ml": "ml", "deg": "deg", "min": "min", "°C": "c", "N·m": "nm", "N": "n"}
_DECIMALS = 9


@dataclass(frozen=True)
class Lies(Card):
    """Where one piece lies; null where nobody said."""

    bag: str | None


@dataclass(frozen=True)
class PiecesLie(Card):
    """Where the pieces of a part with places lie, by place; only those that are off."""

    places: dict[str, Lies]


@dataclass(frozen=True)
class BagCard(Card):
    """What lies in one bag: parts by id, and what is counted there by its name in counts."""

    parts: tuple[str, ...]
    holds: dict[str, int]


@dataclass(frozen=True)
class FlagCard(Card):
    """Something that is or was wrong. `stops`: it breaks the engine or hurts someone at start-up."""

    kind: str
    part: str | None
    entry: str
    open: bool
    stops: bool
    text: str
    mend: str


@dataclass(frozen=True)
class ReadingCard(Card):
    """A verdict with the value it rests on, how far that is inside its limit, and its uncertainty U (k = 2).

    All in the house unit of the check; None for a verdict the instructor gave without readings.
    """

    verdict: Word
    worst: float | None
    margin: float | None
    uncertainty: float | None
    unit: str

    def named(self) -> dict[str, str | float | None]:
        """As programs get it: the names of numbers end in their unit."""
        ending = _ENDINGS[self.unit]
        return {
            "verdict": self.verdict.value,
            "worst": self.worst,
            f"margin_{ending}": self.margin,
            f"U_{ending}": self.uncertainty,
        }


_READING_SCHEMA: dict[str, Any] = {
    "type": "object",
    "description": ReadingCard.__doc__,
    "properties": {"verdict": {"enum": [word.value for word in Word]}, "worst": {"type": ["number", "null"]}},
    "required": ["verdict", "worst"],
    "patternProperties": {f"^(margin|U)_({'|'.join(_ENDINGS.values())})$": {"type": ["number", "null"]}},
}


@dataclass(frozen=True)
class ReplayCard(Card):
    """The job now. `on` and `off` are ids of parts; an absent part stands in `absent` alone."""

    off: dict[str, Lies | PiecesLie]
    on: tuple[str, ...]
    absent: tuple[str, ...]
    may_come_off: tuple[str, ...]
    may_go_on: tuple[str, ...]
    bags: dict[str, BagCard]
    flags: tuple[FlagCard, ...]
    readings: dict[str, Annotated[ReadingCard, PlainSerializer(ReadingCard.named), WithJsonSchema(_READING_SCHEMA)]]
    finished: bool
    machine: Annotated[str, Field(exclude=True)]
    titles: Annotated[dict[str, str], Field(exclude=True)]

    @property
    def open_flags(self) -> tuple[FlagCard, ...]:
        """What is wrong now, what stops first."""
        return tuple(sorted((flag for flag in self.flags if flag.open), key=lambda flag: not flag.stops))


def replay_card(ledger: Ledger) -> ReplayCard:
    """What follows from the log that this ledger heard."""
    state, anatomy = ledger.state, ledger.plan.anatomy
    parts = {part.id: part.title for part in anatomy.parts}
    return ReplayCard(
        off=_off(state),
        on=tuple(part for part in state.moves.on() if state.is_wholly_on(part)),
        absent=tuple(part for part in parts if state.moves.is_absent(part)),
        may_come_off=tuple(state.moves.may_come_off()),
        may_go_on=tuple(state.may_go_on()),
        bags={name: _bag(state, name) for name, bag in state.bags.items() if bag.pieces or any(bag.holds.values())},
        flags=tuple(
            FlagCard(flag.kind, flag.part, flag.entry, flag.open, flag.stops, flag.text, flag.mend)
            for flag in state.flags
        ),
        readings={check.id: card for check in anatomy.checks if (card := _reading(state, check))},
        finished=state.finished,
        machine=anatomy.machine.name,
        titles={**parts, **{check.id: check.title for check in anatomy.checks}},
    )


def _off(state: State) -> dict[str, Lies | PiecesLie]:
    off: dict[str, Lies | PiecesLie] = {}
    for part, plan in state.plan.parts.items():
        lie = {slot[1]: Lies(state.lies.get(state.empty[slot])) for slot in state.pieces_off(part)}
        if lie:
            off[part] = (
                lie[None] if plan.places == (None,) else PiecesLie({str(place): bag for place, bag in lie.items()})
            )
    return off


def _bag(state: State, name: str) -> BagCard:
    bag = state.bags[name]
    return BagCard(tuple(dict.fromkeys(part for part, _ in bag.pieces)), dict(bag.holds))


def _reading(state: State, check: Check) -> ReadingCard | None:
    word, found = word_on(state, check.id), verdict_of(state, check.id)
    if word is None:
        return None
    unit = HOUSE[unit_named(check.unit).measures]
    if found is None:
        return ReadingCard(word, None, None, None, unit)
    worst, margin, unsure = (
        round(in_house(size, check.unit), _DECIMALS) for size in (found.worst, found.margin, found.uncertainty)
    )
    return ReadingCard(word, worst, margin, unsure, unit)
