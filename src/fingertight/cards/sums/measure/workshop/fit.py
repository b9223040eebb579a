"""Limits of holes and shafts by ISO 286, how a pair fits, and whether measured parts keep to them."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.workshop.judge import (
    Judged,
    alike,
    in_unit,
    judge,
    judged_section,
    one_size,
    tool_fields,
    tool_of,
    unfit,
    worst_of,
)
from fingertight.measure.budget import reading_budget
from fingertight.measure.fits.iso_286 import Fit, Zone, fit_said
from fingertight.measure.verdict import Word
from fingertight.quantity import NotUnderstood, plain


@dataclass(frozen=True)
class ZoneCard(Card):
    """A hole or a shaft: its name, its deviations [µm] and its sizes [mm]."""

    name: str
    is_hole: bool
    lower_um: float
    upper_um: float
    least_mm: float
    most_mm: float


@dataclass(frozen=True)
class FitCard(SumCard):
    """Zones of a nominal size; of a pair the play [µm], below 0 interference, and its kind; measured parts judged."""

    nominal_mm: float
    zones: tuple[ZoneCard, ...]
    kind: str
    least_play_um: float | None
    most_play_um: float | None
    measured: tuple[Judged, ...]
    unit: str

    @property
    def is_no(self) -> bool:
        """A measured part is outside its limits."""
        return worst_of(self.measured) == Word.WORN.value

    @property
    def answer(self) -> Answer:
        """The pair first, then each of it."""
        names = "/".join(zone.name for zone in self.zones)
        lead = [self._pair()] if self.kind else []
        for zone in self.zones:
            what = "hole" if zone.is_hole else "shaft"
            lead.append(f"The {what}: {in_unit(zone.least_mm, self.unit)} to {in_unit(zone.most_mm, self.unit)}.")
        for one in self.measured:
            says = {"good": "within its limits", "worn": "outside its limits"}.get(one.verdict, one.verdict)
            lead.append(f"The {one.what}, {in_unit(one.size_mm, self.unit)}, is {says}.")
            lead += unfit(one, self.unit)
        rows = tuple(
            (zone.name, f"{_signed(zone.lower_um)} µm", f"{_signed(zone.upper_um)} µm",
             in_unit(zone.least_mm, "mm"), in_unit(zone.most_mm, "mm"))
            for zone in self.zones
        )  # fmt: skip
        measured = (
            (judged_section(self.measured, self.unit, "Measured", ("within", "outside")),) if self.measured else ()
        )
        return Answer(
            title=f"{plain(self.nominal_mm)} {names}",
            lead=tuple(lead),
            sections=(Section("Limits", rows, ("", "from", "to", "least", "most")), *measured),
            notes=(
                "Sizes hold at 20 °C (ISO 1).",
                "A maker’s drawing comes before a table: wear limits are wider than new ones.",
            ),
            sources=("ISO 286-1 (1988, 2010): grades and fundamental deviations, table from memory",),
        )

    def _pair(self) -> str:
        if self.least_play_um is None or self.most_play_um is None:
            return ""
        if self.kind == "clearance":
            return f"A clearance fit: {plain(self.least_play_um)} to {plain(self.most_play_um)} µm of play."
        if self.kind == "interference":
            tight = f"{plain(-self.most_play_um)} to {plain(-self.least_play_um)} µm"
            return f"An interference fit: {tight} too large, pressed in or fitted with warmth."
        return (
            f"A transition fit: from {plain(-self.least_play_um)} µm of interference to "
            f"{plain(self.most_play_um)} µm of play, as it turns out."
        )


def _signed(deviation_um: float) -> str:
    return f"+{plain(deviation_um)}" if deviation_um > 0 else plain(deviation_um).replace("-", "−")


def _compute(typed: Typed) -> FitCard:
    unit = typed.unit("unit")
    try:
        zones = fit_said(typed.text("fit"))
    except NotUnderstood as slip:
        raise NotUnderstood(f"Fit: {slip}") from None
    pair = Fit(zones[0], zones[1]) if len(zones) == 2 else None
    return FitCard(
        nominal_mm=zones[0].nominal_mm,
        zones=tuple(
            ZoneCard(one.name, one.is_hole, one.lower_um, one.upper_um, one.least_mm, one.most_mm) for one in zones
        ),
        kind=pair.kind if pair else "",
        least_play_um=pair.least_play_um if pair else None,
        most_play_um=pair.most_play_um if pair else None,
        measured=tuple(_measured(typed, zones, unit)),
        unit=unit,
    )


def _measured(typed: Typed, zones: tuple[Zone, ...], unit: str) -> list[Judged]:
    budget, found = reading_budget(tool_of(typed)), []
    for name, label, is_hole in (("hole", "Hole, measured", True), ("shaft", "Shaft, measured", False)):
        size = one_size(typed, name, label, unit)
        if size is None:
            continue
        zone = next((one for one in zones if one.is_hole == is_hole), None)
        if zone is None:
            raise NotUnderstood(f"{label}: the fit names no {name}; write both, for example 25 H7/g6.")
        if not alike(size, zone.nominal_mm):
            raise NotUnderstood(
                f"{label}: {plain(size)} mm is far from {plain(zone.nominal_mm)} mm; look at the decimal mark and the "
                "unit."
            )
        found.append(judge(name, size, budget, zone.least_mm, zone.most_mm))
    return found


SUM = Sum(
    name="fit",
    title="Limits and fits",
    question="between which sizes a hole or a shaft lies by its letters, how a pair fits, and whether parts do",
    fields=(
        Field("fit", "Fit", "text", "size, letters and grade; hole and shaft, or one of them", "25 H7/g6", must=True,
              first=True),
        Field("hole", "Hole, measured", "text", "where it was measured", "25.012"),
        Field("shaft", "Shaft, measured", "text", "where it was measured", "24.986"),
        *tool_fields("0.001 mm"),
    ),
    compute=_compute,
    card=FitCard,
    example='"25 H7/g6"',
)  # fmt: skip
