"""What a compression gauge should show on this engine, here, at this speed; and what a reading, dry and wet, says."""

import re
from dataclasses import dataclass
from enum import StrEnum

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.cylinder.words import MORE_PRESSURE, band, pressure, pressures, ratio
from fingertight.cards.sums.setting.timing.words import ROD, STROKE, crank_of
from fingertight.quantity import NotUnderstood, plain, read_number
from fingertight.setting.cylinder.atmosphere import HIGHEST_M, LOWEST_M, SEA_LEVEL_BAR, pressure_bar
from fingertight.setting.cylinder.cranking import (
    effective_ratio,
    exponents,
    gauge_bar,
    share_compressed,
)
from fingertight.setting.timing.angles import in_the_cycle

RISES = 0.10
"""Oil that lifts a reading by so much shows that gas passed the rings: common practice, no source."""
_FOOT_M = 0.3048
_HEIGHT = re.compile(r"(.*?)\s*(m|metres?|meters?|ft|feet|foot|')?\s*\Z", re.IGNORECASE | re.DOTALL)


class Reading(StrEnum):
    """What a reading is beside the band."""

    WITHIN = "as expected"
    BELOW = "low"
    ABOVE = "high"
    OPEN = "not to be said without the inlet’s closing"
    UNKNOWN = "says nothing: the decompressor lets gas out"


@dataclass(frozen=True)
class CrankingCard(SumCard):
    """What a gauge should show: low_bar to high_bar. effective_ratio: from where the inlet closes, null where that was
    not said and the whole ratio was used; air_bar: the air’s own pressure; sea_low_bar, sea_high_bar: the same engine
    at the sea. measured_bar dry, wet_bar with oil on the piston; reading, null without one.
    """

    ratio: float
    closes_deg: float | None
    share_compressed: float | None
    effective_ratio: float | None
    air_bar: float
    altitude_m: float | None
    per_min: float | None
    exponent_low: float
    exponent_high: float
    low_bar: float
    high_bar: float
    sea_low_bar: float
    sea_high_bar: float
    decompressor: bool
    unit: str
    measured_bar: float | None
    wet_bar: float | None
    reading: Reading | None
    rises_by: float | None

    @property
    def is_no(self) -> bool:
        """The reading is below all that is to be expected."""
        return self.reading is Reading.BELOW

    @property
    def answer(self) -> Answer:
        """The band, the verdict on the reading, what it is made of."""
        return Answer(
            title=f"Cranking pressure at {ratio(self.ratio)}",
            lead=tuple(self._lead()),
            sections=tuple(self._sections()),
            cautions=(MORE_PRESSURE, "Hands and hair off belts and fan: something turns."),
            notes=tuple(self._notes()),
            sources=(
                "pressure: polytropic compression; exponents 1.2 to 1.3 an encyclopedia, the rest common practice, "
                "no source",
                *(("inlet closing: slider crank, no term left out",) if self.closes_deg is not None else ()),
                "air: ICAO standard atmosphere, U.S. Standard Atmosphere 1976",
            ),
        )

    def _lead(self) -> list[str]:
        said = []
        if self.measured_bar is not None and self.reading is not None:
            said.append(self._measured())
        if self.rises_by is not None:
            said.append(self._wet())
        said.append(
            f"A gauge should show {band(self.low_bar, self.high_bar, self.unit)}, warm, throttle wide open, after some "
            "turns."
        )
        if self.effective_ratio is not None and self.share_compressed is not None:
            said.append(
                f"The inlet closes {plain(round(self.closes_deg or 0, 1))}° after bottom, so only "
                f"{round(100 * self.share_compressed)} % of the stroke compresses: {ratio(self.effective_ratio)}."
            )
        if self.altitude_m and abs(self.altitude_m) >= 100:
            said.append(
                f"At the sea the same engine would show {band(self.sea_low_bar, self.sea_high_bar, self.unit)}: take "
                "figures of a manual down as much."
            )
        return said

    def _measured(self) -> str:
        is_ = pressure(self.measured_bar or 0, self.unit)
        return {
            Reading.WITHIN: f"{is_} are as expected.",
            Reading.BELOW: f"{is_} are low: "
            + (
                "the rest says from where."
                if self.wet_bar is not None
                else "a spoon of oil on the piston and once more shows whether it is rings or valves."
            ),
            Reading.ABOVE: f"{is_} are high: carbon on piston and head, a thin gasket, a milled head, or a gauge that "
            "is off.",
            Reading.OPEN: f"{is_} are less than the whole ratio gives, which says nothing yet: write when the inlet "
            "closes, with stroke and rod.",
            Reading.UNKNOWN: f"{is_} say nothing: while it is cranked the decompressor holds a valve open. Make it "
            "ineffective by the maker’s way, or test by leak-down.",
        }[self.reading or Reading.UNKNOWN]

    def _wet(self) -> str:
        rise = f"{round(100 * (self.rises_by or 0))} %"
        if (self.rises_by or 0) >= RISES:
            return f"With oil it rises by {rise}: gas passed the piston rings or the bore."
        if self.reading is Reading.BELOW:
            return f"With oil it hardly rises ({rise}): not the rings; a valve, its lash, or the gasket of the head."
        return f"With oil it hardly rises ({rise}): the rings hold."

    def _sections(self) -> list[Section]:
        rows = [("in all units", f"{pressures(self.low_bar)} to {pressures(self.high_bar)}")]
        rows.append(("ratio, whole", ratio(self.ratio)))
        if self.effective_ratio is not None:
            rows.append(("ratio from where the inlet closes", ratio(self.effective_ratio)))
        rows.append(("the air’s own pressure", f"{plain(round(1000 * self.air_bar))} hPa"))
        rows.append(
            ("exponent", f"{plain(self.exponent_low)} to {plain(self.exponent_high)}, {exponents(self.per_min).why}")
        )
        return [Section("How it comes about", tuple(rows))]

    def _notes(self) -> list[str]:
        said = [
            "The band is wide because heat and leaks are: of more use than the figure is the same engine last year, or "
            "its neighbour cylinder."
        ]
        if self.closes_deg is None:
            said.append(
                "Where the inlet closes was not said, so the whole ratio was used: the band is too high. Write closing "
                "with stroke and rod."
            )
        if not self.decompressor:
            said.append(
                "Many small engines have a decompressor on the camshaft: they read low while cranked, and tell nothing."
            )
        said.append(
            "A long hose before the gauge’s valve adds its volume and takes pressure away; a cold engine, a half-open "
            "throttle or a tired arm do too."
        )
        return said


def _compute(typed: Typed) -> CrankingCard:
    whole = typed.number("ratio")
    if whole is None:
        raise NotUnderstood("Ratio: nothing was typed; write for example 8.6 (compression works it out).")
    closes, share = _closing(typed)
    effective = effective_ratio(whole, share) if share is not None else None
    if effective is not None and effective <= 1.05:
        raise NotUnderstood("Inlet closes: so late nothing is left to compress; write it after bottom, for example 42.")
    altitude, air = _air(typed)
    per_min = typed.size("speed")
    by = exponents(per_min)
    used = effective if effective is not None else whole
    low, high = (gauge_bar(air, used, exponent) for exponent in (by.low, by.high))
    dry, wet = typed.as_typed("measured"), typed.size("wet")
    measured = typed.size("measured")
    if wet is not None and measured is None:
        raise NotUnderstood("With oil: it is compared with the reading before; write that too, for example 7 bar.")
    lets_out = typed.tick("decompressor")
    return CrankingCard(
        ratio=whole,
        closes_deg=closes,
        share_compressed=share,
        effective_ratio=effective,
        air_bar=air,
        altitude_m=altitude,
        per_min=per_min,
        exponent_low=by.low,
        exponent_high=by.high,
        low_bar=low,
        high_bar=high,
        sea_low_bar=gauge_bar(SEA_LEVEL_BAR, used, by.low),
        sea_high_bar=gauge_bar(SEA_LEVEL_BAR, used, by.high),
        decompressor=lets_out,
        unit=dry[1] if dry and dry[1] in {"bar", "kPa", "psi"} else "bar",
        measured_bar=measured,
        wet_bar=wet,
        reading=_reading(measured, low, high, lets_out=lets_out, closing_known=closes is not None),
        rises_by=None if wet is None or not measured or lets_out else wet / measured - 1,
    )


def _reading(measured: float | None, low: float, high: float, *, lets_out: bool, closing_known: bool) -> Reading | None:
    if measured is None:
        return None
    if lets_out:
        return Reading.UNKNOWN
    if measured < low:
        return Reading.BELOW if closing_known else Reading.OPEN
    return Reading.ABOVE if measured > high else Reading.WITHIN


def _closing(typed: Typed) -> tuple[float | None, float | None]:
    """When the inlet closes [deg after bottom], and which share of the stroke is left; None where it was not said."""
    crank = crank_of(typed)
    if not typed.has("closes"):
        if crank:
            raise NotUnderstood("Inlet closes: stroke and rod are for that; write it too, for example 42.")
        return None, None
    if crank is None:
        raise NotUnderstood("Stroke: with the inlet’s closing it must be known; write stroke and rod.")
    try:
        after = in_the_cycle(typed.text("closes"), (1, "bottom"), 225.0) - 180.0
        return after, share_compressed(crank, after)
    except NotUnderstood as slip:
        raise NotUnderstood(f"Inlet closes: {slip}") from None
    except ValueError:
        raise NotUnderstood(
            f"Inlet closes: “{typed.text('closes')}” is not between bottom and top dead centre; write how long after "
            "bottom, for example 42."
        ) from None


def _air(typed: Typed) -> tuple[float | None, float]:
    """The altitude [m], where one was said, and the air’s pressure there [bar]."""
    barometer = typed.size("barometer")
    if not typed.has("altitude"):
        return None, barometer if barometer is not None else SEA_LEVEL_BAR
    if barometer is not None:
        raise NotUnderstood("Barometer: write either it or the altitude; the barometer of the place has the last word.")
    said = typed.text("altitude")
    found = _HEIGHT.match(said)
    assert found is not None
    try:
        metres = read_number(found.group(1)) * (_FOOT_M if (found.group(2) or "m").lower()[0] in "f'" else 1)
        return metres, pressure_bar(metres)
    except NotUnderstood as slip:
        raise NotUnderstood(f"Altitude: {slip} Write metres or feet, for example 1200 m.") from None
    except ValueError:
        raise NotUnderstood(
            f"Altitude: “{said}” is not between {plain(LOWEST_M)} and {plain(HIGHEST_M)} m; write metres or feet, for "
            "example 1200 m."
        ) from None


SUM = Sum(
    name="cranking",
    title="Cranking pressure",
    question="what a compression gauge should show when the engine is cranked, and what a reading says",
    fields=(
        Field("ratio", "Ratio", "number", "compression ratio of the engine", "8.6", first=True, above=1.5, most=30),
        Field("closes", "Inlet closes", "text", "degrees after bottom dead centre", "42"),
        STROKE,
        ROD,
        Field("offset", "Offset", "size", "how far the piston pin travels beside the crank’s middle", "0.5 mm",
              unit="mm"),
        Field("altitude", "Altitude", "text", "above the sea, in metres or feet", "1200 m"),
        Field("barometer", "Barometer", "size", "the air’s own pressure here, not brought to the sea", "900 hPa",
              unit="bar", least=0.4, most=1.1),
        Field("speed", "Cranking speed", "size", "turns of the crank a minute while it is cranked", "400", unit="1/min",
              above=0, most=2000),
        Field("measured", "Measured", "size", "what the gauge shows, highest of some turns", "9.5 bar", unit="bar",
              least=0, most=60),
        Field("wet", "With oil", "size", "the same with a spoon of oil on the piston", "10.5 bar", unit="bar", least=0,
              most=100),
        Field("decompressor", "Decompressor works", "tick", "a decompressor holds a valve open while it is cranked"),
    ),
    compute=_compute,
    card=CrankingCard,
    example='8.6 --closes 42 --stroke 45 --rod 84 --altitude "1200 m"',
)  # fmt: skip
