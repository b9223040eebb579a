"""Lines of dial readings, an angle and a lift each, become a valve: its events at a lift, and its lobe centre."""

import re

from fingertight.cards.sums.setting.timing.events.card import ValveCard
from fingertight.cards.sums.setting.timing.words import deg, mm
from fingertight.quantity import NotUnderstood, in_house, read_quantity
from fingertight.setting.timing.angles import TURN, read_angle, wrapped
from fingertight.setting.timing.lift import LEAST_READINGS, LiftCurve, Steps, lobe_centre, passes

NEAR_DEG = {"inlet": 110.0, "exhaust": -110.0}
"""Where a lobe centre mostly is: a wheel cannot tell two turns apart, so the nearest is meant. Common practice."""
MOST_LINES = 400
_LINE = re.compile(r"\A(.*?[0-9a-z°])[\s;:]+([+-]?[0-9.,]+(?:\s*(?:mm|in|thou|\"))?)\Z", re.IGNORECASE)


def valve_of(name: str, text: str, lift_mm: float, steps: Steps) -> ValveCard:
    """The valve these lines tell of.

    Raises NotUnderstood with the number of the line, or what is wrong with all of them, and how to mend it.
    """
    label = name.capitalize()
    curve = _placed(_curve(label, text), NEAR_DEG[name])
    if lift_mm >= curve.largest_mm:
        raise NotUnderstood(
            f"Lift: {mm(lift_mm)} is not below the {mm(curve.largest_mm)} that the {name} was lifted at most; write "
            "the lift at which its timing is stated, for example 1 mm."
        )
    ends = []
    for rising, first in ((True, curve.lifts[0]), (False, curve.lifts[-1])):
        try:
            ends.append(passes(curve, lift_mm, rising=rising, steps=steps))
        except ValueError:
            begin = "begin" if rising else "end"
            raise NotUnderstood(
                f"{label}: the readings {begin} at {mm(first)}, above the lift of {mm(lift_mm)}; {begin} lower, or "
                "state a larger lift."
            ) from None
    centre = lobe_centre(curve, steps)
    opens, closes = ends
    return ValveCard(
        opens_deg=opens.at_deg,
        closes_deg=closes.at_deg,
        duration_deg=closes.at_deg - opens.at_deg,
        duration_cam_deg=(closes.at_deg - opens.at_deg) / 2,
        centre_deg=centre.at_deg,
        u_opens_deg=opens.budget.expanded,
        u_closes_deg=closes.budget.expanded,
        u_centre_deg=centre.budget.expanded,
        largest_lift_mm=curve.largest_mm,
        leans_deg=centre.leans_deg,
        angles_deg=curve.angles,
        lifts_mm=curve.lifts,
    )


def _curve(label: str, text: str) -> LiftCurve:
    """The readings in the order of turning, angles going on from the first."""
    rows = [(number, line.strip()) for number, line in enumerate(text.splitlines(), 1)]
    rows = [(number, line) for number, line in rows if line and not line.startswith("#")]
    if not LEAST_READINGS <= len(rows) <= MOST_LINES:
        raise NotUnderstood(
            f"{label}: {LEAST_READINGS} to {MOST_LINES} readings are wanted, and there are {len(rows)}; write one on "
            "each line, angle and lift, for example 20 before TDC 0.35."
        )
    angles: list[float] = []
    lifts: list[float] = []
    for number, line in rows:
        angle, lift = _reading(f"{label}, line {number}", line)
        if angles:
            onward = (angle - angles[-1]) % TURN
            if not 0 < onward < TURN / 2:
                raise NotUnderstood(
                    f"{label}, line {number}: {deg(wrapped(angle))} does not go on from {deg(wrapped(angles[-1]))}; "
                    "write the readings in the order of turning, each at another angle."
                )
            angle = angles[-1] + onward
        angles.append(angle)
        lifts.append(lift)
    try:
        return LiftCurve(tuple(angles), tuple(lifts))
    except ValueError as wrong:
        raise NotUnderstood(_odd(label, wrong, [number for number, _ in rows], lifts)) from None


def _odd(label: str, wrong: ValueError, numbers: list[int], lifts: list[float]) -> str:
    if len(wrong.args) > 1:
        place = wrong.args[1]
        return (
            f"{label}, line {numbers[place]}: {mm(lifts[place], 0.001)} after {mm(lifts[place - 1], 0.001)} breaks "
            "the curve, which rises to one top and falls again; read that angle again, and look whether the dial "
            "slipped."
        )
    return (
        f"{label}: the readings do not rise and fall again: no lobe is seen in them. Begin where the valve is still "
        "shut, go over its top, and end where it is shut again."
    )


def _reading(where: str, line: str) -> tuple[float, float]:
    split = _LINE.match(line)
    if split is None:
        raise NotUnderstood(
            f"{where}: “{line[:30]}” is no angle with a lift behind it; write for example 20 before TDC 0.35."
        )
    try:
        said = read_angle(split.group(1))
        lift = in_house(*read_quantity(split.group(2), "mm"))
    except NotUnderstood as slip:
        raise NotUnderstood(f"{where}: {slip}") from None
    if lift < 0:
        raise NotUnderstood(f"{where}: a lift of {mm(lift)} is below the seat; set the dial to 0 with the valve shut.")
    from_top = (said.side or 1) * said.number + (TURN / 2 if said.centre == "bottom" else 0.0)
    return from_top, lift


def _placed(curve: LiftCurve, near_deg: float) -> LiftCurve:
    """The same curve in the turn where such a lobe mostly is."""
    top = curve.angles[curve.lifts.index(curve.largest_mm)]
    shift = TURN * round((near_deg - top) / TURN)
    return LiftCurve(tuple(angle + shift for angle in curve.angles), curve.lifts)
