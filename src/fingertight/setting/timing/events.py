"""When the valves of a four-stroke open and close: how long, how long together, and where the middles of the lobes lie.

Places in the cycle are degrees of the crank after the top dead centre between the strokes of exhaust and inlet; firing
top dead centre is at 360. A camshaft turns half as far: all its degrees are half of these.
"""

from dataclasses import dataclass

CYCLE = 720.0


@dataclass(frozen=True, slots=True)
class Opening:
    """One valve: where it opens and where it closes, in the cycle [deg]; it closes after it opens.

    Raises ValueError for a valve that never opens, or never closes: no camshaft does that.
    """

    opens_deg: float
    closes_deg: float

    def __post_init__(self) -> None:
        """Refuse what no camshaft does."""
        if not 0 < self.duration_deg < CYCLE:
            raise ValueError("a valve opens, and closes within two turns of the crank")

    @property
    def duration_deg(self) -> float:
        """How long it is open, in degrees of the crank.

        >>> Opening(-15, 225).duration_deg
        240
        """
        return self.closes_deg - self.opens_deg

    @property
    def centre_deg(self) -> float:
        """The middle between opening and closing, where a lobe with like flanks lifts most.

        >>> Opening(-6, 222).centre_deg
        108.0
        """
        return (self.opens_deg + self.closes_deg) / 2

    def moved(self, later_deg: float) -> "Opening":
        """The same valve, its camshaft so much later (minus: earlier)."""
        return Opening(self.opens_deg + later_deg, self.closes_deg + later_deg)


@dataclass(frozen=True, slots=True)
class ValveTiming:
    """Inlet and exhaust valve of one cylinder."""

    inlet: Opening
    exhaust: Opening

    @property
    def overlap_deg(self) -> float:
        """For how long both are open together, about top dead centre; minus: both are closed for so long there.

        >>> ValveTiming(Opening(-15, 225), Opening(-250, 10)).overlap_deg
        25
        """
        return self.exhaust.closes_deg - self.inlet.opens_deg

    @property
    def both_closed_deg(self) -> float:
        """For how long both are on their seats, from the inlet’s closing to the exhaust’s opening.

        >>> ValveTiming(Opening(-15, 225), Opening(-250, 10)).both_closed_deg
        245.0
        """
        return self.exhaust.opens_deg + CYCLE - self.inlet.closes_deg

    @property
    def separation_cam_deg(self) -> float:
        """From the middle of the exhaust lobe to that of the inlet lobe, in degrees of the camshaft.

        >>> ValveTiming(Opening(-31, 243), Opening(-257, 29)).separation_cam_deg
        110.0
        """
        return (self.inlet.centre_deg - self.exhaust.centre_deg) / 2

    @property
    def advance_deg(self) -> float:
        """By how much the lobes stand early [crank deg], against both middles as far from top dead centre.

        >>> ValveTiming(Opening(-31, 243), Opening(-257, 29)).advance_deg
        4.0
        """
        return -(self.inlet.centre_deg + self.exhaust.centre_deg) / 2

    def moved(self, inlet_deg: float, exhaust_deg: float) -> "ValveTiming":
        """The same valves, each so much later."""
        return ValveTiming(self.inlet.moved(inlet_deg), self.exhaust.moved(exhaust_deg))


def from_spark_to_inlet_deg(spark_before_deg: float, inlet: Opening) -> float:
    """How far does the crank turn from the spark to the opening of the inlet valve [deg]?

    spark_before_deg: before firing top dead centre [deg].

    >>> from_spark_to_inlet_deg(28, Opening(-15, 225))
    373.0

    Source: FAA powerplant knowledge test item.
    """
    return CYCLE + inlet.opens_deg - (CYCLE / 2 - spark_before_deg)
