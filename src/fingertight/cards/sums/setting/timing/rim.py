"""How far apart two marks are on the rim of a flywheel, and how many degrees so many millimetres are."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.timing.words import BY_HAND, deg, mm
from fingertight.quantity import NotUnderstood
from fingertight.setting.timing.angles import on_the_wheel
from fingertight.setting.timing.rim import arc_mm, chord_mm, deg_of_arc, deg_of_chord

TABLE_DEG = (1, 2, 5, 10, 15, 20, 25, 30, 35, 40, 45, 60, 90)
_PI = arc_mm(1.0, 360.0)


@dataclass(frozen=True)
class OnRim(Card):
    """An angle as it is laid off: round the rim with a tape, and in a straight line with dividers or a rule."""

    angle_deg: float
    arc_mm: float
    chord_mm: float


@dataclass(frozen=True)
class RimCard(SumCard):
    """A flywheel’s rim. asked: the angle that was asked about; distance_mm: the distance that was, in degrees as an arc
    and as a chord (null where no chord is so long)."""

    diameter_mm: float
    round_mm: float
    mm_per_deg: float
    asked: OnRim | None
    distance_mm: float | None
    deg_by_arc: float | None
    deg_by_chord: float | None
    table: tuple[OnRim, ...]

    @property
    def answer(self) -> Answer:
        """What to lay off, and a table of usual angles."""
        rows = tuple((deg(one.angle_deg), mm(one.arc_mm), mm(one.chord_mm)) for one in self.table)
        return Answer(
            title=f"Degrees on a rim of {mm(self.diameter_mm)}",
            lead=tuple(self._lead()),
            sections=(
                Section("Angle, and how far that is", rows, ("", "with a tape, round", "straight, with dividers")),
            ),
            cautions=(BY_HAND,),
            notes=(
                "The mark for so much before TDC passes the pointer before the TDC mark does: it lies on the side to "
                "which the rim runs.",
                "A printed tape saves the laying off: fingertight tape, or “Print a timing tape” on the page of this "
                "sum.",
            ),
            sources=("arc and chord: the circle; checked against a public table of chords",),
        )

    def _lead(self) -> list[str]:
        said = []
        if self.asked:
            one = self.asked
            said.append(
                f"{deg(one.angle_deg, 2)} are {mm(one.arc_mm)} round the rim with a tape, or {mm(one.chord_mm)} "
                "straight with dividers."
            )
        if self.distance_mm is not None and self.deg_by_arc is not None:
            straight = (
                f", {deg(self.deg_by_chord, 2)} straight"
                if self.deg_by_chord is not None
                else "; straight it is too long"
            )
            said.append(f"{mm(self.distance_mm)} are {deg(self.deg_by_arc, 2)} round the rim{straight}.")
        said.append(f"One degree is {mm(self.mm_per_deg, 0.001)} round the rim.")
        return said


def _compute(typed: Typed) -> RimCard:
    diameter, once_round = typed.size("flywheel"), typed.size("round")
    if diameter is None and once_round is None:
        raise NotUnderstood(
            "Flywheel: nothing was typed; write its outside diameter, for example 180 mm, or once round."
        )
    if diameter is not None and once_round is not None and abs(arc_mm(diameter, 360) - once_round) > 0.01 * once_round:
        raise NotUnderstood(
            f"Once round: {mm(once_round)} does not belong to a diameter of {mm(diameter)}, which is "
            f"{mm(arc_mm(diameter, 360))} round; measure one of them again."
        )
    across = diameter if diameter is not None else (once_round or 0.0) / _PI
    angle = _angle(typed)
    distance = typed.size("distance")
    if distance is not None and distance > arc_mm(across, 360):
        raise NotUnderstood(
            f"Distance: {mm(distance)} is more than once round the rim ({mm(arc_mm(across, 360))}); write the way "
            "from mark to mark."
        )
    return RimCard(
        diameter_mm=across,
        round_mm=arc_mm(across, 360),
        mm_per_deg=arc_mm(across, 1),
        asked=None if angle is None else _on_rim(across, angle),
        distance_mm=distance,
        deg_by_arc=None if distance is None else deg_of_arc(across, distance),
        deg_by_chord=deg_of_chord(across, distance) if distance is not None and distance <= across else None,
        table=tuple(_on_rim(across, float(angle)) for angle in TABLE_DEG),
    )


def _angle(typed: Typed) -> float | None:
    if not typed.has("angle"):
        return None
    try:
        return abs(on_the_wheel(typed.text("angle")))
    except NotUnderstood as slip:
        raise NotUnderstood(f"Angle: {slip}") from None


def _on_rim(diameter_mm: float, angle_deg: float) -> OnRim:
    return OnRim(angle_deg, arc_mm(diameter_mm, angle_deg), chord_mm(diameter_mm, angle_deg))


SUM = Sum(
    name="rim",
    title="Degrees on the rim",
    question="how many millimetres on a flywheel’s rim so many degrees are, and back",
    fields=(
        Field("flywheel", "Flywheel", "size", "its outside diameter", "180 mm", first=True, unit="mm", above=0,
              least=10, most=5000),
        Field("round", "Once round", "size", "instead of the diameter: once round the rim, with a tape", "565 mm",
              unit="mm", above=0, least=30, most=20_000),
        Field("angle", "Angle", "text", "how many degrees", "23"),
        Field("distance", "Distance", "size", "from mark to mark", "36 mm", unit="mm", above=0, most=20_000),
    ),
    compute=_compute,
    card=RimCard,
    example='"180 mm" --angle 23',
)  # fmt: skip
