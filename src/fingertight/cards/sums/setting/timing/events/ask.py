"""What is asked about the valves, and how two of opening, closing, duration and lobe centre give the rest."""

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.timing.events.card import TimingCard, ValveCard, together
from fingertight.cards.sums.setting.timing.events.curves import NEAR_DEG, valve_of
from fingertight.cards.sums.setting.timing.words import DIAL, WHEEL, deg
from fingertight.quantity import NotUnderstood
from fingertight.setting.timing.angles import Centre, in_the_cycle, said_from_nearest
from fingertight.setting.timing.events import Opening, from_spark_to_inlet_deg
from fingertight.setting.timing.lift import Steps

LONGEST_OPEN_DEG = 450.0
"""No valve of a four-stroke stands open longer: common practice, no source (machine files hold the same)."""
LIFT_MM = 1.0
_AGREE_DEG = 1.0

# How a bare number is meant: counted on which side of which centre, and where in the cycle such an event mostly is.
EVENTS: dict[str, tuple[tuple[int, Centre], float]] = {
    "inlet-opens": ((-1, "top"), 0.0),
    "inlet-closes": ((1, "bottom"), 225.0),
    "inlet-centre": ((1, "top"), NEAR_DEG["inlet"]),
    "exhaust-opens": ((-1, "bottom"), -240.0),
    "exhaust-closes": ((1, "top"), 10.0),
    "exhaust-centre": ((-1, "top"), NEAR_DEG["exhaust"]),
}


def event_of(text: str, label: str, name: str) -> float:
    """Where in the cycle this event is, by the name of its field.

    Raises NotUnderstood with its label.
    """
    usual, near = EVENTS[name]
    try:
        return in_the_cycle(text, usual, near)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{label}: {slip}") from None


def _valve(typed: Typed, name: str, lift_mm: float, steps: Steps) -> ValveCard | None:
    """The valve from its lines, or from what was stated of it; None where nothing was."""
    label = name.capitalize()
    stated = {part for part in ("opens", "closes", "centre", "duration") if typed.has(f"{name}-{part}")}
    lines = typed.text(f"{name}-lift")
    if lines and stated:
        raise NotUnderstood(
            f"{label}: write figures or dial readings, not both; to see how far they are apart, ask teeth."
        )
    if lines:
        return valve_of(name, lines, lift_mm, steps)
    if not stated:
        return None
    if len(stated) < 2:
        raise NotUnderstood(
            f"{label}: one figure is not enough; write two of opens, closes, lobe centre and degrees open."
        )
    return _stated(typed, name, label, stated)


def _stated(typed: Typed, name: str, label: str, stated: set[str]) -> ValveCard:
    at: dict[str, float] = {
        part: event_of(typed.text(f"{name}-{part}"), f"{label} {part}", f"{name}-{part}")
        for part in ("opens", "closes", "centre")
        if part in stated
    }
    open_for = typed.size(f"{name}-duration")
    opens, closes = _ends(at, open_for)
    length = closes - opens
    if not 0 < length <= LONGEST_OPEN_DEG:
        wrong = (
            f"it would close {deg(abs(length))} before it opens"
            if length <= 0
            else f"it would be open for {deg(length)}"
        )
        raise NotUnderstood(
            f"{label}: from {said_from_nearest(opens)} to {said_from_nearest(closes)} {wrong}, which no camshaft "
            "does; look which side of which dead centre is meant, for example 10 after TDC."
        )
    if open_for is not None and abs(length - open_for) > _AGREE_DEG:
        raise NotUnderstood(
            f"{label}: from {said_from_nearest(opens)} to {said_from_nearest(closes)} it is open for {deg(length)}, "
            f"not for {deg(open_for)}; mend one of the three."
        )
    centre = at.get("centre", Opening(opens, closes).centre_deg)
    return ValveCard(
        opens_deg=opens,
        closes_deg=closes,
        duration_deg=length,
        duration_cam_deg=length / 2,
        centre_deg=centre,
        u_opens_deg=None,
        u_closes_deg=None,
        u_centre_deg=None,
        largest_lift_mm=None,
        leans_deg=None,
        angles_deg=(),
        lifts_mm=(),
    )


def _ends(at: dict[str, float], open_for: float | None) -> tuple[float, float]:
    """Opening and closing from any two of what was stated; a lobe centre is taken as the middle."""
    opens, closes, centre = at.get("opens"), at.get("closes"), at.get("centre")
    if opens is None and closes is None:
        middle, half = centre or 0.0, (open_for or 0.0) / 2
        return middle - half, middle + half
    if opens is not None and closes is not None:
        return opens, closes
    if open_for is not None:
        return (opens, opens + open_for) if opens is not None else ((closes or 0.0) - open_for, closes or 0.0)
    if opens is not None:
        return opens, 2 * (centre or 0.0) - opens
    return 2 * (centre or 0.0) - (closes or 0.0), closes or 0.0


def _compute(typed: Typed) -> TimingCard:
    lift = typed.size("lift")
    steps = Steps(typed.must("wheel"), typed.must("dial"), typed.must("top"))
    inlet, exhaust = (_valve(typed, name, lift or LIFT_MM, steps) for name in ("inlet", "exhaust"))
    if inlet is None and exhaust is None:
        raise NotUnderstood(
            "Nothing is known of a valve; write for example inlet opens 15 and inlet closes 45, or dial readings."
        )
    if lift is None and any(valve and valve.lifts_mm for valve in (inlet, exhaust)):
        lift = LIFT_MM
    spark = _spark(typed)
    return TimingCard(
        lift_mm=lift or None,
        inlet=inlet,
        exhaust=exhaust,
        spark_before_deg=spark,
        spark_to_inlet_deg=from_spark_to_inlet_deg(spark, inlet.opening) if inlet and spark is not None else None,
        **together(inlet, exhaust),
    )


def _spark(typed: Typed) -> float | None:
    if not typed.has("spark"):
        return None
    try:
        at = in_the_cycle(typed.text("spark"), (-1, "top"), 0.0)
    except NotUnderstood as slip:
        raise NotUnderstood(f"Spark: {slip}") from None
    return -at


def _figures(name: str, counted: tuple[str, str, str], examples: tuple[str, str, str, str]) -> tuple[Field, ...]:
    """The fields of one valve: opens, closes, open for, lobe centre; from where a bare number of each is counted."""
    label, (first, last, middle) = name.capitalize(), counted
    opens, closes, open_for, centre = examples
    return (
        Field(f"{name}-opens", f"{label} opens", "text", f"degrees {first} dead centre, or with its side", opens),
        Field(f"{name}-closes", f"{label} closes", "text", f"degrees {last} dead centre, or with its side", closes),
        Field(f"{name}-duration", f"{label} open for", "size", "degrees of the crank", open_for, unit="deg",
              above=0, most=720),
        Field(f"{name}-centre", f"{label} lobe centre", "text", f"degrees {middle} dead centre", centre),
    )  # fmt: skip


SUM = Sum(
    name="timing",
    title="Valve timing",
    question="when the valves open and close: duration, overlap, lobe centres, from figures or dial readings",
    fields=(
        *_figures("inlet", ("before top", "after bottom", "after top"), ("15", "45", "240", "105")),
        *_figures("exhaust", ("before bottom", "after top", "before top"), ("70", "10", "260", "120")),
        Field("lift", "Lift", "size", "the lift at which opening and closing are stated; 1 mm for dial readings",
              "1 mm", unit="mm", least=0, most=30),
        Field("inlet-lift", "Inlet, dial readings", "lines", "lines with an angle and a lift, in the order of turning",
              "20 before TDC 0.35"),
        Field("exhaust-lift", "Exhaust, dial readings", "lines", "the same for the exhaust", "60 before BDC 0.30"),
        Field("spark", "Spark", "text", "degrees before top dead centre", "28"),
        WHEEL,
        DIAL,
        Field("top", "Top dead centre to", "size", "how sure (±) the wheel’s top dead centre is; tdc says it", "0.6",
              usual="0.6", unit="deg", least=0, most=20),
    ),
    compute=_compute,
    card=TimingCard,
    example="--inlet-opens 15 --inlet-closes 45 --exhaust-opens 70 --exhaust-closes 10",
    more="Any two of opens, closes, open for and lobe centre give the rest. A figure may be written with its side: "
    "10 after TDC.",
)  # fmt: skip
