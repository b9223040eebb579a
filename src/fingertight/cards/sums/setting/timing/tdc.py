"""True top dead centre from two readings of the wheel, how sure it is, and why looking for the highest point fails."""

from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.timing.words import (
    BY_HAND,
    DIAL,
    OFFSET,
    ROD,
    STROKE,
    WHEEL,
    angles_in,
    budget_section,
    crank_of,
    deg,
    mm,
    unusual,
)
from fingertight.quantity import NotUnderstood, unsure_by
from fingertight.setting.timing.angles import on_the_wheel, said_from_top, wrapped
from fingertight.setting.timing.crank import Crank, depth_mm, dwell_deg, slope_mm_per_deg
from fingertight.setting.timing.dead_centre import (
    TOO_FLAT_DEG,
    DeadCentre,
    NoCentre,
    Reading,
    Wrong,
    apart_by_chance,
    dead_centre,
    half_at,
)

BY_STOP, BY_DIAL = "stop", "dial"


@dataclass(frozen=True)
class TdcCard(SumCard):
    """Where the wheel reads at true top dead centre [deg after its 0], its expanded uncertainty U (k about 2), and half
    the arc between the two readings.

    stroke_mm, rod_mm: null where they were not typed, and all that follows from them too: how deep the stop is by the
    arc, how many degrees of the crank hide in hides_mm at the top. expected_half_deg: the half arc that the typed depth
    asks for, may_differ_deg how far the measured one may lie from it. shift_deg: taken off for an offset pin.
    """

    at_deg: float
    u_deg: float
    half_deg: float
    by: str
    first_deg: tuple[float, ...]
    second_deg: tuple[float, ...]
    stroke_mm: float | None
    rod_mm: float | None
    offset_mm: float | None
    shift_deg: float
    depth_mm: float | None
    depth_by_arc_mm: float | None
    mm_per_deg_at_stop: float | None
    hides_mm: float
    hides_deg: float | None
    expected_half_deg: float | None
    may_differ_deg: float | None
    budget: tuple[tuple[str, str, str], ...]

    @property
    def is_no(self) -> bool:
        """Whether the readings do not belong to this stroke, rod and depth."""
        return self._off is not None

    @property
    def _off(self) -> float | None:
        if self.expected_half_deg is None or self.may_differ_deg is None:
            return None
        away = self.half_deg - self.expected_half_deg
        return away if abs(away) > self.may_differ_deg else None

    @property
    def answer(self) -> Answer:
        """What to turn to, how sure, why looking does not do; then whether the readings fit the crank."""
        from fingertight.cards.pictures.timing import dwell_picture

        crank = self._crank()
        return Answer(
            title="True top dead centre",
            lead=tuple(self._lead()),
            sections=tuple(self._sections()),
            cautions=(
                BY_HAND,
                "A stop bears the piston by hand only; take it out before anything else turns the crank.",
            ),
            notes=(*self._notes(), *(unusual(crank) if crank else ())),
            sources=(
                "the middle of two readings: symmetry of the slider crank",
                "piston and crank: geometry, no term left out; checked against published exercises",
                "uncertainty: GUM (JCGM 100:2008)",
            ),
            drawings=(dwell_picture(crank, self.half_deg, self.hides_mm),) if crank else (),
        )

    def _crank(self) -> Crank | None:
        if self.stroke_mm is None or self.rod_mm is None:
            return None
        return Crank(self.stroke_mm, self.rod_mm, self.offset_mm or 0.0)

    def _lead(self) -> list[str]:
        sure = f"± {unsure_by(self.u_deg, 0.1)}°"
        mark = said_from_top(self.at_deg).replace("TDC", "its 0")
        at_mark = mark == "at its 0"
        where = "its 0" if at_mark else mark
        said = [f"True top dead centre is where the wheel reads {where} ({sure})."]
        if not at_mark and not self.shift_deg:
            half = deg(self.half_deg)
            said.append(
                f"Or slip the wheel on the crank by that much, so that it reads {half} at the stop on both sides."
            )
        off = self._off
        if off is not None and self.expected_half_deg is not None:
            said.append(
                f"But no crank of this stroke and rod gives these readings: {self._how_deep()} down is met "
                f"{deg(self.expected_half_deg)} from the top, and here it is {deg(self.half_deg)}."
            )
            said.append(
                "Measure the depth again from the piston’s highest place, look whether stop, pointer or wheel has "
                "moved, and check stroke and rod."
            )
        return said

    def _how_deep(self) -> str:
        return f"a stop {mm(self.depth_mm or 0)}"

    def _sections(self) -> list[Section]:
        rows = [
            ("between the two readings", deg(2 * self.half_deg)),
            ("half of it, to either side", deg(self.half_deg)),
        ]
        if self.shift_deg:
            rows.append(("taken off for the offset pin", deg(self.shift_deg, 2)))
        if self.depth_by_arc_mm is not None and self.mm_per_deg_at_stop is not None:
            rows.append(("how deep the stop is by these readings", mm(self.depth_by_arc_mm)))
            rows.append(("the piston moves there", f"{mm(self.mm_per_deg_at_stop, 0.001)} for each degree"))
        if self.expected_half_deg is not None and self.may_differ_deg is not None:
            away = self.half_deg - self.expected_half_deg
            rows.append(("stroke, rod and depth ask for", f"{deg(self.expected_half_deg)} before and after"))
            rows.append(("they differ by", f"{deg(away)}; up to {deg(self.may_differ_deg)} may be chance"))
        found = [Section("The two readings", tuple(rows))]
        found.append(
            Section("What makes it unsure", self.budget, ("cause", "adds (95 of 100 times)", "of the variance"))
        )
        return found

    def _notes(self) -> list[str]:
        said = []
        if self.hides_deg is not None:
            said.append(
                f"Why not look for the highest point? {deg(self.hides_deg)} of the crank hide in "
                f"{mm(self.hides_mm, 0.001)} of dial at the top: whoever looks may stop anywhere in ± "
                f"{deg(self.hides_deg / 2)}."
            )
        else:
            said.append(
                "Write stroke and rod as well, and it is said how many degrees hide at the top of the piston’s way."
            )
        if self.half_deg < TOO_FLAT_DEG:
            said.append(
                f"The stop is met only {deg(self.half_deg)} from the top, where the piston hardly moves; put it "
                "deeper, so that it is met 20° to 60° away (common practice, no source)."
            )
        other = said_from_top(wrapped(self.at_deg + 180)).replace("TDC", "its 0")
        said.append(f"Bottom dead centre is half a turn on, where the wheel reads {other}.")
        said.append("Pointer, wheel and stop must not move between the two readings; turn back once and see it again.")
        return said


def _compute(typed: Typed) -> TdcCard:
    first, second = (_side(typed, name) for name in ("first", "second"))
    crank = crank_of(typed)
    by = typed.choice("by")
    dial_mm, depth = typed.must("dial"), typed.size("depth")
    if by == BY_DIAL and crank is None:
        raise NotUnderstood("Stroke: with a dial it must be known how fast the piston moves; write stroke and rod.")
    reading = Reading(typed.must("wheel"), typed.must("repeats"), dial_mm if by == BY_DIAL else 0.0)
    found = _found(first, second, reading, crank)
    if crank and depth is not None and depth >= crank.travel_mm:
        raise NotUnderstood(
            f"Depth: {mm(depth)} is more than the stroke of {mm(crank.travel_mm)}, so the piston never meets such a "
            "stop; write how far the stop is below the piston’s highest place."
        )
    if depth is not None and crank is None:
        raise NotUnderstood("Depth: it is compared with stroke and rod; write those too.")
    differs = apart_by_chance(crank, found, depth) if crank and depth is not None else None
    return _card(
        sides=(first, second),
        by=by,
        found=found,
        crank=crank,
        dial_mm=dial_mm,
        depth=depth,
        differs=differs,
    )


def _card(
    *,
    sides: tuple[tuple[float, ...], tuple[float, ...]],
    by: str,
    found: DeadCentre,
    crank: Crank | None,
    dial_mm: float,
    depth: float | None,
    differs: tuple[float, float] | None,
) -> TdcCard:
    return TdcCard(
        at_deg=found.at_deg,
        u_deg=found.budget.expanded,
        half_deg=found.half_deg,
        by=by,
        first_deg=sides[0],
        second_deg=sides[1],
        stroke_mm=crank.stroke_mm if crank else None,
        rod_mm=crank.rod_mm if crank else None,
        offset_mm=crank.offset_mm if crank else None,
        shift_deg=found.shift_deg,
        depth_mm=depth,
        depth_by_arc_mm=depth_mm(crank, found.half_deg) if crank else None,
        mm_per_deg_at_stop=slope_mm_per_deg(crank, found.half_deg) if crank else None,
        hides_mm=dial_mm,
        hides_deg=dwell_deg(crank, dial_mm) if crank else None,
        expected_half_deg=half_at(crank, depth) if crank and depth is not None else None,
        may_differ_deg=differs[1] if differs else None,
        budget=tuple((row[0], row[1], row[2]) for row in budget_section("", found.budget).rows),
    )


def _side(typed: Typed, name: str) -> tuple[float, ...]:
    label = {"first": "One side", "second": "The other side"}[name]
    return angles_in(typed.text(name), label, {"first": "31 before", "second": "37 after"}[name], on_the_wheel)


def _found(first: tuple[float, ...], second: tuple[float, ...], reading: Reading, crank: Crank | None) -> DeadCentre:
    try:
        return dead_centre(first, second, reading, crank)
    except NoCentre as wrong:
        raise NotUnderstood(_MENDS[wrong.why].format(said_from_top(first[0]).replace("TDC", "its 0"))) from None


_MENDS = {
    Wrong.SPREAD: "The readings of one side are more than 30° apart, so they are not of one stop; write one side in "
    "each field, with ; between its readings.",
    Wrong.SAME: "Both sides read {}: that is one reading twice. Turn the crank the other way until the piston meets "
    "the stop again, and write what the wheel reads there.",
    Wrong.HALF_A_TURN: "The two readings are nearly half a turn apart, so top and bottom cannot be told from each "
    "other; screw the stop out a little, so that the piston meets it nearer to its top.",
}


SUM = Sum(
    name="tdc",
    title="True top dead centre",
    question="true top dead centre from two readings, a stop or a dial meeting the piston on both sides",
    fields=(
        Field("first", "One side", "text", "what the wheel reads at the stop; several readings with ; between",
              "31 before", must=True, first=True),
        Field("second", "The other side", "text", "what it reads when the piston meets the stop from the other side",
              "37 after", must=True, first=True),
        STROKE,
        ROD,
        Field("depth", "Depth", "size", "how far the stop is below the piston’s highest place, to see if all agrees",
              "5 mm", unit="mm", above=0, most=2000),
        OFFSET,
        Field("by", "Met by", "choice", "what the piston meets: a fixed stop, or the same reading of a dial", "dial",
              usual=BY_STOP, choices=(BY_STOP, BY_DIAL)),
        WHEEL,
        Field("repeats", "Stop repeats to", "size", "how far (±) the wheel differs when the stop is met again", "0.5",
              usual="0.5", unit="deg", least=0, most=10),
        DIAL,
    ),
    compute=_compute,
    card=TdcCard,
    example='"31 before" "37 after" --stroke 45 --rod 84',
    more="Readings as the wheel has them: 31 before, 37 after, 329, -31; 0 to 360 or both ways from 0.",
)  # fmt: skip
