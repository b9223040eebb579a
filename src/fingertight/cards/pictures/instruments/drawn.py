"""Which picture belongs to a reading: of an instrument in a machine's file, or of a setting for practice."""

from fingertight.cards.pictures.drawing import Drawing
from fingertight.cards.pictures.instruments.dial import dial_drawing
from fingertight.cards.pictures.instruments.micrometer import micrometer_drawing
from fingertight.cards.pictures.instruments.vernier import vernier_drawing
from fingertight.measure.scales.kinds import Scales, scales_for


def instrument_drawing(reading: float, scales: Scales, *, zero: float | None = None, shift: int = 0) -> Drawing:
    """The instrument set to this reading [its unit].

    zero: of a bore gauge, what it was set to. shift: moves the window on a vernier, for practice.
    """
    if scales.kind == "vernier":
        return vernier_drawing(reading, scales, shift)
    if scales.kind == "micrometer":
        return micrometer_drawing(reading, scales)
    return dial_drawing(reading, scales, zero)


def drawn_for(kind: str, unit: str, resolution: float, value: float, *, zero: float | None = None) -> Drawing | None:
    """The picture of a reading for an instrument as a machine's file has it; None where there is none to draw.

    A micrometer of any range is drawn as its last 25 mm (1 in): its frame carries the rest.
    """
    scales = scales_for(kind, unit, resolution)
    if scales is None:
        return None
    if kind == "bore gauge":
        set_to = zero if zero is not None else round(value)
        return (
            instrument_drawing(value, scales, zero=set_to) if abs(value - set_to) <= 1.5 * (scales.turn or 1) else None
        )
    if kind == "micrometer":
        value = value % (25 if unit == "mm" else 1) if value >= 0 else value
    low, high = scales.range
    return instrument_drawing(value, scales) if low <= value <= high else None
