"""What an instrument looks like at a reading, and how it is read."""

from dataclasses import dataclass

from fingertight.cards.measure.exercise import HOW, HOW_TENTHS, steps_at
from fingertight.cards.pictures.instruments.drawn import instrument_drawing
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.measure.scales.kinds import KINDS
from fingertight.measure.scales.shows import shown_at, steps_of
from fingertight.quantity import NotUnderstood, converted, in_house, plain, read_quantity, shown


@dataclass(frozen=True)
class InstrumentCard(SumCard):
    """An instrument at a reading [mm]: the whole of its main scale, the line that meets, that of a second vernier."""

    instrument: str
    reading_mm: float
    whole_mm: float
    line: int
    tenth: int
    zero_mm: float | None

    @property
    def answer(self) -> Answer:
        """The reading taken apart, and drawn."""
        scales = KINDS[self.instrument]
        reading = round(converted(self.reading_mm, "mm", scales.unit), 9)
        zero = None if self.zero_mm is None else round(converted(self.zero_mm, "mm", scales.unit), 9)
        away = reading - (zero or 0)
        steps = (
            steps_at(away, scales)
            if zero is None
            else (*steps_at(away, scales)[1:2], f"Together {plain(reading)} {scales.unit}.")
        )
        size = f"{shown(reading, scales.step)} {scales.unit}"
        between = abs(steps_of(away, scales) * scales.step - away) > 1e-9
        notes = [f"{plain(reading)} lies between two steps; the nearest is drawn as it would stand."] if between else []
        usual = (
            "Half a millimetre is the usual slip: look whether the half mark below the long line is out."
            if scales.kind == "micrometer" and scales.unit == "mm"
            else ""
        )
        return Answer(
            title=f"{scales.title}: {size}",
            lead=(HOW[scales.kind] + (HOW_TENTHS if scales.vernier else ""), usual) if usual else (HOW[scales.kind],),
            sections=(Section("Read it", tuple((str(number), step) for number, step in enumerate(steps, start=1))),),
            notes=tuple(notes),
            sources=("how the scales are divided: common practice, no source",),
            drawings=(instrument_drawing(reading, scales, zero=zero),),
        )


def _compute(typed: Typed) -> InstrumentCard:
    name = typed.choice("instrument")
    scales = KINDS[name]
    zero = _size(typed, "zero", scales.unit)
    if scales.kind == "bore gauge" and zero is None:
        raise NotUnderstood("Set to: a bore gauge shows a difference; write what it was set to, for example 68.00.")
    reading = _size(typed, "reading", scales.unit)
    if reading is None:
        raise NotUnderstood("Reading: nothing was typed; write for example 17.38.")
    away = reading - (zero or 0 if scales.kind == "bore gauge" else 0)
    low, high = scales.range
    if not low <= round(away, 9) <= high:
        whole = [plain(round(end + (zero or 0 if scales.kind == "bore gauge" else 0), 6)) for end in scales.range]
        raise NotUnderstood(f"Reading: {scales.title} shows {whole[0]} to {whole[1]} {scales.unit}.")
    seen = shown_at(away, scales)
    return InstrumentCard(
        instrument=name,
        reading_mm=in_house(reading, scales.unit),
        whole_mm=in_house(seen.whole, scales.unit),
        line=seen.line,
        tenth=seen.tenth,
        zero_mm=in_house(zero, scales.unit) if zero is not None and scales.kind == "bore gauge" else None,
    )


def _size(typed: Typed, name: str, unit: str) -> float | None:
    text = typed.text(name)
    if not text:
        return None
    try:
        value, one = read_quantity(text, unit)
        return converted(value, one, unit)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{'Reading' if name == 'reading' else 'Set to'}: {slip}") from None


SUM = Sum(
    name="instrument",
    title="Read an instrument",
    question="what an instrument looks like at a reading, and how it is read",
    fields=(
        Field("instrument", "Instrument", "choice", "which instrument", "micrometer-0.01", must=True, first=True,
              choices=tuple(KINDS)),
        Field("reading", "Reading", "text", "in the unit of the instrument unless said", "17.38", must=True,
              first=True),
        Field("zero", "Set to", "text", "what a bore gauge was set to", "68.00"),
    ),
    compute=_compute,
    card=InstrumentCard,
    example="micrometer-0.01 17.38",
)  # fmt: skip
