"""The instruments that are drawn: how their scales are divided."""

from dataclasses import dataclass
from typing import Literal

Kind = Literal["vernier", "micrometer", "dial", "bore gauge"]


@dataclass(frozen=True, slots=True)
class Scales:
    """How an instrument is divided, in its own unit.

    name: in addresses and on the command line. step: the smallest that is read. mark: from one line of the main scale
    to the next. parts: into how many the mark (vernier), the turn (micrometer, dial) is divided. vernier: lines of a
    second vernier, on the sleeve; 0 without. range: smallest and largest reading.
    """

    name: str
    kind: Kind
    unit: str
    step: float
    mark: float
    parts: int
    numbered: float
    range: tuple[float, float]
    vernier: int = 0

    @property
    def turn(self) -> float | None:
        """What one turn of the thimble or of the hand is; None for a vernier calliper."""
        return None if self.kind == "vernier" else self.mark if self.kind == "micrometer" else self.step * self.parts

    @property
    def decimals(self) -> int:
        """How many decimals a reading has."""
        return len(f"{self.step:.6f}".rstrip("0").partition(".")[2])

    @property
    def title(self) -> str:
        """What people call it."""
        what = {"vernier": "vernier calliper", "dial": "dial gauge"}.get(self.kind, self.kind)
        return f"{what[:1].upper()}{what[1:]}, {self.step:g} {self.unit}"


# Divided as they are made: 50 lines over 49 mm, 20 over 39 mm, 25 over 1.225 in; a screw of 0.5 mm or 40 to the inch;
# a hand of 100 lines. Common practice, no source.
_ALL = (
    Scales("vernier-0.02", "vernier", "mm", 0.02, 1.0, 50, 10.0, (0, 150)),
    Scales("vernier-0.05", "vernier", "mm", 0.05, 1.0, 20, 10.0, (0, 150)),
    Scales("vernier-inch", "vernier", "in", 0.001, 0.025, 25, 0.1, (0, 6)),
    Scales("micrometer-0.01", "micrometer", "mm", 0.01, 0.5, 50, 5.0, (0, 25)),
    Scales("micrometer-0.001", "micrometer", "mm", 0.001, 0.5, 50, 5.0, (0, 25), vernier=10),
    Scales("micrometer-inch", "micrometer", "in", 0.001, 0.025, 25, 0.1, (0, 1)),
    Scales("micrometer-inch-tenths", "micrometer", "in", 0.0001, 0.025, 25, 0.1, (0, 1), vernier=10),
    Scales("dial-0.01", "dial", "mm", 0.01, 1.0, 100, 1.0, (-5, 10)),
    Scales("dial-inch", "dial", "in", 0.001, 0.1, 100, 0.1, (-0.5, 1)),
    Scales("bore-gauge-0.01", "bore gauge", "mm", 0.01, 1.0, 100, 1.0, (-0.5, 0.5)),
    Scales("bore-gauge-inch", "bore gauge", "in", 0.0005, 0.05, 100, 0.05, (-0.02, 0.02)),
)
KINDS: dict[str, Scales] = {scales.name: scales for scales in _ALL}


def scales_for(kind: str, unit: str, step: float) -> Scales | None:
    """How is an instrument of this kind and step divided? None where none is drawn.

    >>> scales_for("micrometer", "mm", 0.01).name, scales_for("micrometer", "mm", 0.3)
    ('micrometer-0.01', None)
    """
    found = (each for each in _ALL if each.kind == kind and each.unit == unit and abs(each.step - step) < 1e-9)
    return next(found, None)
