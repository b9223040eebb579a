"""Practice: an instrument set at random, what was read, how far off that is and why."""

from dataclasses import dataclass, replace

from fingertight.cards.card import Card
from fingertight.cards.pictures.drawing import Drawing
from fingertight.cards.pictures.instruments.drawn import instrument_drawing
from fingertight.measure.scales.kinds import KINDS, Scales
from fingertight.measure.scales.misread import Misread, Told, setting_for, told
from fingertight.measure.scales.shows import shown_at
from fingertight.quantity import NotUnderstood, converted, plain, read_quantity, shown

BORE_GAUGE_ZERO = {"mm": 68.0, "in": 2.75}

HOW = {
    "vernier": "Whole marks left of the vernier’s 0, then the line of the vernier that meets one above.",
    "micrometer": "The marks that are out on the sleeve, above and below; then the thimble’s line at the long line.",
    "dial": "Whole turns by the small hand, then the line of the long hand.",
    "bore gauge": "The hand shows how far the bore differs from what the gauge was set to: larger against the clock.",
}
HOW_TENTHS = " The last figure is the line of the sleeve’s vernier that meets one of the thimble."

WHY = {
    Misread.NONE: "Right to the line.",
    Misread.TURN: "One turn was missed or counted twice: look whether the next mark of the sleeve is out already.",
    Misread.MARK: "The main scale was read a mark off: count the last mark left of the 0, or that is out.",
    Misread.LINE: "The line beside was taken: look straight on, and which line truly meets.",
    Misread.VERNIER: "The vernier’s lines were taken for whole hundredths: each is worth its step.",
    Misread.TENTH: "The last figure is off: it is the line of the sleeve’s vernier that meets.",
    Misread.TENFOLD: "The decimal mark is a place off.",
    Misread.UNIT: "It was read in the other system: mind which unit the instrument is divided in.",
    Misread.TURNED: "Two digits are turned round.",
    Misread.SIGN: "The sign is wrong: mind which way the hand turns.",
    Misread.FAR: "Take it apart: first the main scale, then the thimble, the hand or the vernier.",
}


@dataclass(frozen=True)
class InstrumentChoice(Card):
    """One instrument to practise at: its name in the address, what people call it."""

    name: str
    title: str
    metric: bool


@dataclass(frozen=True)
class ToldCard(Card):
    """What is said of a reading: the sentence, why, how it is taken apart, and whether it was right."""

    is_right: bool
    sentence: str
    why: str
    steps: tuple[str, ...]


@dataclass(frozen=True)
class ExerciseCard(Card):
    """An instrument to be read. `told` is None until it was read; `problem`: what was typed is no reading."""

    name: str
    title: str
    unit: str
    how: str
    example: str
    seed: int
    drawing: Drawing
    typed: str
    told: ToldCard | None
    problem: str


def choices() -> tuple[InstrumentChoice, ...]:
    """The instruments there are to practise at, metric ones first."""
    found = [InstrumentChoice(scales.name, scales.title, scales.unit == "mm") for scales in KINDS.values()]
    return tuple(sorted(found, key=lambda choice: not choice.metric))


def is_drawn(name: str) -> bool:
    """Whether there is an instrument of this name to practise at."""
    return name in KINDS


def exercise_card(name: str, seed: int, typed: str = "") -> ExerciseCard:
    """The instrument of this name, set as the seed says, and what is said of what was typed.

    Raises KeyError for an instrument that is not drawn.

    >>> exercise_card("micrometer-0.01", 3).told is None
    True
    """
    scales = KINDS[name]
    set_to, problem, answer = setting_for(seed, scales), "", None
    if typed.strip():
        try:
            answer = told_of(typed, set_to, scales)
        except NotUnderstood as slip:
            problem = str(slip)
    drawn = instrument_drawing(_whole(set_to, scales), scales, zero=_zero(scales), shift=seed % 7 - 3)
    # Until it was read, nothing says what it shows: what is said aloud gives nothing away either.
    drawing = drawn if answer else replace(drawn, says=f"{scales.title}, to be read by its lines.")
    return ExerciseCard(
        name=name,
        title=scales.title,
        unit=scales.unit,
        how=HOW[scales.kind] + (HOW_TENTHS if scales.vernier else ""),
        example=shown(_whole(round(scales.range[1] / 3 / scales.step) * scales.step, scales), scales.step),
        seed=seed,
        drawing=drawing,
        typed=typed,
        told=_told_card(answer, scales) if answer else None,
        problem=problem,
    )


def told_of(typed: str, set_to: float, scales: Scales) -> Told:
    """What a typed reading is against the setting.

    Raises NotUnderstood for what is no reading.
    """
    value, unit = read_quantity(typed, scales.unit)
    return told(round(converted(value, unit, scales.unit) - (_zero(scales) or 0), 9), set_to, scales)


def _zero(scales: Scales) -> float | None:
    return BORE_GAUGE_ZERO[scales.unit] if scales.kind == "bore gauge" else None


def _whole(away: float, scales: Scales) -> float:
    """The size a setting stands for: with what a bore gauge was set to."""
    return round(away + (_zero(scales) or 0), 9)


def _told_card(found: Told, scales: Scales) -> ToldCard:
    is_right = found.slip is Misread.NONE
    size = f"{shown(_whole(found.set_to, scales), scales.step)} {scales.unit}"
    if is_right:
        return ToldCard(True, f"Right: {size}.", WHY[found.slip], steps_at(found.set_to, scales))
    much = f"{plain(round(abs(found.off_by), 6))} {scales.unit}"
    side = "too much" if found.off_by > 0 else "too little"
    return ToldCard(False, f"{much} {side}: it is set to {size}.", WHY[found.slip], steps_at(found.set_to, scales))


def steps_at(set_to: float, scales: Scales) -> tuple[str, ...]:
    """How a reading is put together, a step each.

    >>> steps_at(17.88, KINDS["micrometer-0.01"])
    ('The sleeve shows 17.5 mm.', 'Line 38 of the thimble: 0.38 mm.', 'Together 17.88 mm.')
    """
    seen, step, unit = shown_at(set_to, scales), scales.step, scales.unit
    together = f"Together {shown(_whole(set_to, scales), step)} {unit}."
    if scales.kind == "vernier":
        return (
            f"The vernier’s 0 has passed {plain(seen.whole)} {unit}.",
            f"Its line {seen.line} meets: {seen.line} × {plain(step)} = {shown(seen.line * step, step)} {unit}.",
            together,
        )
    if scales.kind == "micrometer":
        fine = step * (scales.vernier or 1)
        said = [
            f"The sleeve shows {plain(seen.whole)} {unit}.",
            f"Line {seen.line} of the thimble: {shown(seen.line * fine, fine)} {unit}.",
        ]
        if scales.vernier:
            said.append(f"Line {seen.tenth} of the sleeve’s vernier meets: {shown(seen.tenth * step, step)} {unit}.")
        return (*said, together)
    if scales.kind == "dial":
        said_turns = f"{round(seen.whole / (scales.turn or 1))} whole turns: {plain(seen.whole)} {unit}."
        return (said_turns, f"Line {seen.line} of the hand: {shown(seen.line * step, step)} {unit}.", together)
    side = "larger" if set_to >= 0 else "smaller"
    zero = shown(_zero(scales) or 0, step)
    return (f"Set to {zero} {unit}.", f"The hand: {shown(abs(set_to), step)} {unit} {side}.", together)
