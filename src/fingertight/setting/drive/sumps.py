"""Oil in a sump and on its dipstick: what is poured, and what stands where."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Marks:
    """A dipstick: where its low and full marks are [mm from any point, upwards], and what a millimetre of it holds."""

    low_mm: float
    full_mm: float
    ml_per_mm: float

    @property
    def between_ml(self) -> float:
        """What lies between the marks [ml]."""
        return (self.full_mm - self.low_mm) * self.ml_per_mm


def marks_of(
    low_mm: float, full_mm: float, first: tuple[float, float], second: tuple[float, float]
) -> tuple[Marks, float]:
    """A dipstick from two known fillings, each its oil [ml] and where it stands [mm]: the marks, and what fills it to
    the full mark [ml].

    >>> marks, full_ml = marks_of(10, 22, (450, 11), (550, 21))
    >>> marks.between_ml, full_ml
    (120.0, 560.0)

    It holds where the sump’s walls stand upright between the marks. Raises ValueError for fillings that say nothing
    and marks turned round.
    """
    (first_ml, first_mm), (second_ml, second_mm) = sorted((first, second))
    if not (second_ml > first_ml and second_mm > first_mm):
        raise ValueError("more oil stands higher")
    if not full_mm > low_mm:
        raise ValueError("full is above low")
    per_mm = (second_ml - first_ml) / (second_mm - first_mm)
    return Marks(low_mm, full_mm, per_mm), first_ml + (full_mm - first_mm) * per_mm


@dataclass(frozen=True, slots=True)
class Sump:
    """A sump: what fills it dry to the full mark, what stays in when it is drained, what lies between the marks [ml].

    Raises ValueError for what no sump has.
    """

    full_ml: float
    stays_ml: float = 0.0
    marks_ml: float | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        if not 0 <= self.stays_ml < self.full_ml:
            raise ValueError("less stays in than fills it")
        if self.marks_ml is not None and not 0 < self.marks_ml < self.full_ml:
            raise ValueError("less lies between the marks than fills it")

    @property
    def after_drain_ml(self) -> float:
        """What is poured after draining [ml]: what stayed in is in.

        >>> Sump(600, 40).after_drain_ml
        560
        """
        return self.full_ml - self.stays_ml

    def to_add_ml(self, share: float) -> float:
        """What brings it to the full mark from so much of the way between low and full [ml]; minus: draw it off.

        >>> Sump(600, 40, 150).to_add_ml(0.5), Sump(600, 40, 150).to_add_ml(1.2)
        (75.0, -30.0)

        Raises ValueError where it is not known what lies between the marks.
        """
        if self.marks_ml is None:
            raise ValueError("what lies between the marks is not known")
        return round((1 - share) * self.marks_ml, 6)
