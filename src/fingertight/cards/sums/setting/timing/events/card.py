"""When the valves open and close: the answer, as numbers for programs and as a page for people."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.setting.timing.words import BY_HAND, RUBS, deg, mm
from fingertight.quantity import unsure_by
from fingertight.setting.timing.angles import said_from_nearest, said_from_top
from fingertight.setting.timing.events import Opening, ValveTiming

if TYPE_CHECKING:
    from fingertight.cards.pictures.drawing import Drawing

USUAL_OPEN_DEG = (180.0, 330.0)
USUAL_CENTRE_DEG = (85.0, 130.0)
"""Between these most valves of four-strokes are open, and most lobe centres lie from top dead centre: common practice,
no source."""


@dataclass(frozen=True)
class ValveCard(Card):
    """One valve. Places are degrees of the crank after the top dead centre between exhaust and inlet stroke.

    centre_deg: of the lobe; from readings of a dial the middle of its flanks, else of opening and closing. u_…:
    expanded uncertainties (k about 2), null for stated figures. leans_deg: how far the middle near the top lies behind
    the one near the bottom. angles_deg, lifts_mm: the readings, as they were placed.
    """

    opens_deg: float
    closes_deg: float
    duration_deg: float
    duration_cam_deg: float
    centre_deg: float
    u_opens_deg: float | None
    u_closes_deg: float | None
    u_centre_deg: float | None
    largest_lift_mm: float | None
    leans_deg: float | None
    angles_deg: tuple[float, ...]
    lifts_mm: tuple[float, ...]

    @property
    def opening(self) -> Opening:
        """The same for sums."""
        return Opening(self.opens_deg, self.closes_deg)


@dataclass(frozen=True)
class TimingCard(SumCard):
    """Both valves, as far as they are known, at a stated lift (null: from the seats, or not said).

    overlap_deg: minus where both are closed about top dead centre. separation_cam_deg: between the lobe centres, in
    degrees of the camshaft. advance_deg: how far the lobes stand early against both as far from top dead centre.
    """

    lift_mm: float | None
    inlet: ValveCard | None
    exhaust: ValveCard | None
    overlap_deg: float | None
    both_closed_deg: float | None
    separation_cam_deg: float | None
    advance_deg: float | None
    spark_before_deg: float | None
    spark_to_inlet_deg: float | None

    @property
    def answer(self) -> Answer:
        """Each valve in a sentence, both together, the same in degrees of the camshaft, and drawn."""
        from fingertight.cards.pictures.timing import valve_circle

        circle = valve_circle(
            self.inlet.opening if self.inlet else None,
            self.exhaust.opening if self.exhaust else None,
            self.spark_before_deg,
        )
        return Answer(
            title=f"Valve timing{f' at a lift of {mm(self.lift_mm)}' if self.lift_mm else ''}",
            lead=tuple(self._lead()),
            sections=tuple(self._sections()),
            cautions=(BY_HAND, RUBS),
            notes=tuple(self._notes()),
            sources=(
                "duration, overlap: FAA powerplant knowledge test items, US Army TM 9-8000",
                "lobe centres: half way between equal lifts, common practice; checked against published exercises",
            ),
            drawings=(circle, *self._curves()),
        )

    @property
    def _valves(self) -> list[tuple[str, ValveCard]]:
        return [(name, valve) for name, valve in (("inlet", self.inlet), ("exhaust", self.exhaust)) if valve]

    def _lead(self) -> list[str]:
        said = []
        for name, valve in self._valves:
            said.append(
                f"The {name} is open for {deg(valve.duration_deg)}: from "
                f"{said_from_nearest(valve.opens_deg)}{_sure(valve.u_opens_deg)} to "
                f"{said_from_nearest(valve.closes_deg)}{_sure(valve.u_closes_deg)}. Its lobe centre is "
                f"{said_from_top(valve.centre_deg)}{_sure(valve.u_centre_deg)}."
            )
        if self.overlap_deg is not None:
            overlap = deg(abs(self.overlap_deg))
            said.append(
                f"Both are open together for {overlap} about TDC: the overlap."
                if self.overlap_deg > 0
                else f"Both are closed for {overlap} about TDC: at this lift there is no overlap."
            )
        if self.both_closed_deg is not None:
            said.append(f"Both are closed for {deg(self.both_closed_deg)}, over compression and power.")
        if self.spark_to_inlet_deg is not None:
            said.append(f"From the spark to the opening of the inlet the crank turns {deg(self.spark_to_inlet_deg)}.")
        return said

    def _sections(self) -> list[Section]:
        rows: list[tuple[str, ...]] = []
        for name, valve in self._valves:
            rows.append((f"{name} open", deg(valve.duration_deg), deg(valve.duration_cam_deg)))
            rows.append((f"{name} lobe centre, from TDC", deg(abs(valve.centre_deg)), deg(abs(valve.centre_deg) / 2)))
        if self.overlap_deg is not None:
            rows.append(("overlap", deg(self.overlap_deg), deg(self.overlap_deg / 2)))
        if self.separation_cam_deg is not None:
            separation = self.separation_cam_deg
            rows.append(("from lobe centre to lobe centre", deg(2 * separation), deg(separation)))
        if self.advance_deg is not None:
            rows.append(("lobes stand early by", deg(self.advance_deg), deg(self.advance_deg / 2)))
        return [Section("In degrees", tuple(rows), ("", "crank", "camshaft"))]

    def _notes(self) -> list[str]:
        said = []
        if self.lift_mm:
            said.append(
                f"All this holds at a lift of {mm(self.lift_mm)}. From the seats the valves open earlier and close "
                "later, so figures of another lift cannot be compared with these."
            )
        else:
            said.append(
                "Figures without a lift are from the seats, or nobody said: compare only what has the same lift."
            )
        for name, valve in self._valves:
            if not USUAL_OPEN_DEG[0] <= valve.duration_deg <= USUAL_OPEN_DEG[1]:
                said.append(
                    f"Is that right? The {name} is open for {deg(valve.duration_deg)}; most are for "
                    f"{deg(USUAL_OPEN_DEG[0])} to {deg(USUAL_OPEN_DEG[1])} (common practice, no source)."
                )
            if not USUAL_CENTRE_DEG[0] <= abs(valve.centre_deg) <= USUAL_CENTRE_DEG[1]:
                said.append(
                    f"Is that right? The {name} lobe centre lies {deg(abs(valve.centre_deg))} from TDC; most lie "
                    f"{deg(USUAL_CENTRE_DEG[0])} to {deg(USUAL_CENTRE_DEG[1])} away (common practice, no source)."
                )
            if valve.leans_deg is not None:
                said.append(_flanks(name, valve))
        return said

    def _curves(self) -> "tuple[Drawing, ...]":
        from fingertight.cards.pictures.timing import Lifted, lift_picture
        from fingertight.setting.timing.lift import LiftCurve

        curves = [
            Lifted(name, valve.angles_deg, valve.lifts_mm, LiftCurve(valve.angles_deg, valve.lifts_mm).lift_at(),
                   "go" if name == "inlet" else "warn", valve.centre_deg)
            for name, valve in self._valves
            if valve.lifts_mm
        ]  # fmt: skip
        return (lift_picture(curves, self.lift_mm),) if curves else ()


def together(inlet: ValveCard | None, exhaust: ValveCard | None) -> dict[str, float | None]:
    """What only both valves have: overlap, both closed, separation of the lobe centres, advance."""
    if inlet is None or exhaust is None:
        return dict.fromkeys(("overlap_deg", "both_closed_deg", "separation_cam_deg", "advance_deg"))
    timing = ValveTiming(inlet.opening, exhaust.opening)
    return {
        "overlap_deg": timing.overlap_deg,
        "both_closed_deg": timing.both_closed_deg,
        "separation_cam_deg": (inlet.centre_deg - exhaust.centre_deg) / 2,
        "advance_deg": -(inlet.centre_deg + exhaust.centre_deg) / 2,
    }


def _sure(u_deg: float | None) -> str:
    return f" (± {unsure_by(u_deg, 0.1)}°)" if u_deg is not None else ""


def _flanks(name: str, valve: ValveCard) -> str:
    leans = valve.leans_deg or 0.0
    if abs(leans) < 1:
        return f"The flanks of the {name} lobe are alike: their middle moves by {deg(abs(leans))} from low to high."
    way = "later" if leans > 0 else "earlier"
    return (
        f"The flanks of the {name} lobe are not alike: their middle lies {deg(abs(leans))} {way} near the top than "
        "near the bottom. Compare the lobe centre only with one found in the same way."
    )
