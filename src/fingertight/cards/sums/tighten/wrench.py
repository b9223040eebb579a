"""What a torque wrench is set to: in its own unit, with an extension, and how far it may be off."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed, units_for
from fingertight.quantity import NotUnderstood, converted, plain
from fingertight.tighten.torque.wrench import effective_arm_mm, may_be_off, setting_nm

UNITS_OF_SCALES = units_for("N·m")


@dataclass(frozen=True)
class WrenchCard(SumCard):
    """What is wanted at the fastener, and what the wrench is set to [N·m]; the same in each unit a scale may have."""

    wanted_nm: float
    set_nm: float
    arm_mm: float | None
    extension_mm: float | None
    angle_deg: float
    effective_arm_mm: float | None
    scale: str
    set_on_scale: float
    may_be_off: float
    in_units: dict[str, float]

    @property
    def answer(self) -> Answer:
        """The setting first, then the same in every unit, then the slips that units bring."""
        scale, wanted = digits(self.set_on_scale), digits(converted(self.wanted_nm, "N·m", self.scale))
        through = self.extension_mm is not None
        lead = [f"Set the wrench to {scale} {self.scale}{f' to get {wanted} {self.scale}' if through else ''}."]
        if through and self.arm_mm is not None and self.extension_mm is not None:
            lead.append(self._why())
        off = self.set_on_scale * self.may_be_off
        return Answer(
            title=f"Torque wrench: {digits(self.wanted_nm)} N·m at the fastener",
            lead=tuple(lead),
            sections=(
                Section("On the scale", tuple((unit, digits(value)) for unit, value in self.in_units.items())),
                Section(f"The same number, {scale}, on a scale of another unit", tuple(_slips(self))),
                Section(
                    "How far a wrench may be off",
                    ((f"± {digits(off)} {self.scale}", f"{plain(self.may_be_off * 100)} % of what it is set to"),),
                ),
            ),
            cautions=("Pull slowly, one hand at the middle of the grip; a wrench is no breaker bar.",),
            sources=(
                "units: NIST SP 811, appendix B.8",
                "extension: US Army TM 9-254, FAA AC 43.13-1B",
                "how far a wrench may be off: ISO 6789:2003, type II class A",
            ),
        )

    def _why(self) -> str:
        arm, extension = _mm(self.arm_mm or 0), _mm(self.extension_mm or 0)
        at = f" at {plain(self.angle_deg)}°" if self.angle_deg else ""
        if abs(self.set_nm - self.wanted_nm) < 1e-9:
            return f"An extension of {extension}{at} changes nothing: it stands square to the arm of {arm}."
        does = "lengthens" if self.set_nm < self.wanted_nm else "shortens"
        return f"An extension of {extension}{at} {does} the arm of {arm} to {_mm(self.effective_arm_mm or 0)}."


def _slips(card: WrenchCard) -> Iterator[tuple[str, str]]:
    """What the number would do on a scale of another unit."""
    for unit in UNITS_OF_SCALES:
        if unit != card.scale:
            times = converted(1, unit, card.scale)
            yield unit, f"{digits(card.set_on_scale * times)} {card.scale}, {digits(times)} times as much"


def _mm(size: float) -> str:
    return f"{plain(round(size, 1))} mm"


def digits(value: float) -> str:
    """A torque with as many digits as a wrench can be set to: three, or the whole part.

    >>> digits(21.4286), digits(254.3), digits(0.4079), digits(0.00123)
    ('21.4', '254', '0.408', '0.00123')
    """
    return plain(round(value, max(2 - math.floor(math.log10(abs(value))), 0) if value else 0))


def _compute(typed: Typed) -> WrenchCard:
    wanted_nm, (_, unit) = typed.must("torque"), typed.as_typed("torque") or (0, "N·m")
    arm_mm, extension_mm = typed.size("arm"), typed.size("extension")
    angle_deg = _angle_deg(typed, extension_mm)
    scale = typed.unit("scale") or unit
    set_nm, effective_mm = wanted_nm, None
    if extension_mm is not None:
        if arm_mm is None:
            raise NotUnderstood("Arm of the wrench: with an extension it must be known; write for example 300 mm.")
        try:
            set_nm = setting_nm(wanted_nm, arm_mm, extension_mm, angle_deg)
            effective_mm = effective_arm_mm(arm_mm, extension_mm, angle_deg)
        except ValueError:
            raise NotUnderstood("Extension: folded back it reaches past the grip; write a shorter one.") from None
    return WrenchCard(
        wanted_nm=wanted_nm,
        set_nm=set_nm,
        arm_mm=arm_mm,
        extension_mm=extension_mm,
        angle_deg=angle_deg,
        effective_arm_mm=effective_mm,
        scale=scale,
        set_on_scale=converted(set_nm, "N·m", scale),
        may_be_off=may_be_off(set_nm),
        in_units={each: converted(set_nm, "N·m", each) for each in UNITS_OF_SCALES},
    )


def _angle_deg(typed: Typed, extension_mm: float | None) -> float:
    """The angle of the extension, 0 where none was typed.

    Raises NotUnderstood for an angle beyond 0 to 180, and for one without an extension.
    """
    angle_deg = typed.size("angle")
    if angle_deg is None:
        return 0.0
    if extension_mm is None:
        raise NotUnderstood("Angle: it is that of an extension; write how long that is too, for example 75 mm.")
    if not 0 <= angle_deg <= 180:
        beyond = "more than 180" if angle_deg > 180 else "less than 0"
        same = plain(round(abs((angle_deg + 180) % 360 - 180), 6))
        raise NotUnderstood(
            f"Angle: “{typed.text('angle')}” is {beyond}, and 0 is straight on, 180 folded back: it is the same as "
            f"{same}; write {same}."
        )
    return angle_deg


SUM = Sum(
    name="wrench",
    title="Torque wrench",
    question="what a torque wrench is set to, with an extension, in its own unit",
    fields=(
        Field("torque", "Torque wanted", "size", "the torque wanted at the fastener", "30 N·m",
              must=True, first=True, unit="N·m", above=0, most=5000),
        Field("arm", "Arm of the wrench", "size", "from the middle of the grip to the square", "300 mm",
              unit="mm", above=0, least=10, most=3000),
        Field("extension", "Extension", "size", "from the square to the fastener", "75 mm",
              unit="mm", least=0, most=1000),
        Field("angle", "Angle", "size", "between wrench and extension: 0 straight on, 180 folded back", "45",
              unit="deg"),
        Field("scale", "Unit of the scale", "unit", "the unit the scale has", choices=UNITS_OF_SCALES),
    ),
    compute=_compute,
    card=WrenchCard,
    example='"30 N·m" --arm 300 --extension 75',
)  # fmt: skip
