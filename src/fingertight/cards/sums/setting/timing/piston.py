"""How far down the piston is at an angle of the crank, at which angles it is so far down, and how fast it goes."""

import math
from dataclasses import dataclass, replace

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.timing.words import (
    BY_HAND,
    OFFSET,
    ROD,
    STROKE,
    crank_of,
    deg,
    mm,
    unusual,
)
from fingertight.quantity import NotUnderstood, plain
from fingertight.setting.timing.angles import on_the_wheel, said_from_top
from fingertight.setting.timing.crank import (
    Crank,
    angles_at,
    depth_mm,
    dwell_deg,
    fastest_deg,
    speed_m_s,
    two_term_depth_mm,
    two_term_fastest_deg,
    two_term_speed_m_s,
)

TABLE_DEG = (0, 5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 90, 120, 150, 180)
HIDES_MM = 0.01
_LEAST_COSINE = 0.3


@dataclass(frozen=True)
class Place(Card):
    """The piston at one angle after top dead centre (minus: before): exactly, and by the two-term formula.

    dial_mm: what a dial in a plug hole that leans reads; speed_m_s: down is plus, null without turns a minute.
    """

    angle_deg: float
    depth_mm: float
    two_term_depth_mm: float
    dial_mm: float
    speed_m_s: float | None
    two_term_speed_m_s: float | None


@dataclass(frozen=True)
class PistonCard(SumCard):
    """A crank with its piston. asked: the angle that was asked about; angles_deg: those of the depth that was.

    dial_mm: the depth as a dial in a plug hole reads it that leans by lean_deg; dwell_deg: how many degrees hide in
    0.01 mm at the top; fastest: where the piston goes down fastest, two_term_fastest_deg by the two-term formula.
    """

    stroke_mm: float
    rod_mm: float
    offset_mm: float
    ratio: float
    travel_mm: float
    lean_deg: float
    per_min: float | None
    asked: Place | None
    depth_mm: float | None
    dial_mm: float | None
    angles_deg: tuple[float, float] | None
    dwell_deg: float
    fastest: Place
    two_term_fastest_deg: float
    mean_m_s: float | None
    table: tuple[Place, ...]

    @property
    def answer(self) -> Answer:
        """What was asked, the fastest place, a table of the stroke, and what the two-term formula leaves out."""
        from fingertight.cards.pictures.timing import crank_picture

        crank = Crank(self.stroke_mm, self.rod_mm, self.offset_mm)
        shown_at = self.asked.angle_deg if self.asked else self.angles_deg[0] if self.angles_deg else -30.0
        return Answer(
            title=f"Piston and crank: stroke {mm(self.stroke_mm)}, rod {mm(self.rod_mm)}",
            lead=tuple(_lead(self)),
            sections=tuple(_sections(self)),
            cautions=(BY_HAND,),
            notes=(
                f"Round the top nothing can be seen: {deg(self.dwell_deg)} of the crank hide in 0.01 mm of piston. "
                "Use a stop on both sides (tdc).",
                *unusual(crank),
            ),
            sources=(
                "piston and crank: geometry of the slider crank, no term left out; checked against published exercises",
                "two-term formula: books on the theory of machines",
            ),
            drawings=(crank_picture(crank, shown_at),),
        )


def _lead(card: PistonCard) -> list[str]:
    said = []
    if card.asked:
        place = card.asked
        said.append(f"{_at(place.angle_deg)} the piston is {mm(place.depth_mm)} below its top.")
        if card.lean_deg:
            said.append(f"A dial in a plug hole that leans by {deg(card.lean_deg)} reads {mm(place.dial_mm)} there.")
        if place.speed_m_s is not None:
            said.append(f"It goes {_speed(place.speed_m_s)} at {plain(card.per_min or 0)} turns a minute.")
    if card.angles_deg and card.depth_mm is not None and card.dial_mm is not None:
        before, after = (said_from_top(angle) for angle in card.angles_deg)
        if card.dial_mm != card.depth_mm:
            said.append(f"{mm(card.dial_mm)} on the dial are {mm(card.depth_mm)} of piston.")
        said.append(f"The piston is {mm(card.depth_mm)} below its top {before}, going up, and {after}, going down.")
    if not said:
        said.append(
            "Nothing was asked but the engine: write an angle or a depth. The whole stroke stands in the table."
        )
    fastest = card.fastest
    speed = f", {plain(round(fastest.speed_m_s, 2))} m/s" if fastest.speed_m_s is not None else ""
    said.append(
        f"It is fastest {said_from_top(fastest.angle_deg)}{speed}, {mm(fastest.depth_mm)} down: before the crank is "
        "at 90°, because of the rod."
    )
    return said


def _at(angle_deg: float) -> str:
    said = said_from_top(angle_deg)
    return f"{said[0].upper()}{said[1:]}"


def _speed(down_m_s: float) -> str:
    way = "down" if down_m_s > 0 else "up"
    size = plain(round(abs(down_m_s), 2))
    return "neither up nor down" if size == "0" else f"{way} at {size} m/s"


def _sections(card: PistonCard) -> list[Section]:
    has_speed = card.per_min is not None
    rows = []
    for place in card.table:
        short = place.two_term_depth_mm - place.depth_mm
        row = [deg(place.angle_deg), mm(place.depth_mm), _percent(place.depth_mm, card.travel_mm), mm(short, 0.001)]
        if has_speed and place.speed_m_s is not None:
            row.append(f"{plain(round(place.speed_m_s, 2))} m/s")
        rows.append(tuple(row))
    columns = ("after TDC", "down", "of the stroke", "two-term formula is off by")
    found = [
        Section("On the way down", tuple(rows), (*columns, "speed") if has_speed else columns),
        Section(
            "Two-term formula beside the exact one",
            (
                ("fastest", f"{deg(card.two_term_fastest_deg, 2)} instead of {deg(card.fastest.angle_deg, 2)}"),
                ("rod by throw", plain(round(card.ratio, 2))),
            ),
        ),
    ]
    if card.mean_m_s is not None and card.fastest.speed_m_s is not None:
        found.append(
            Section("Speed of the piston", (
                ("mean", f"{plain(round(card.mean_m_s, 2))} m/s"),
                ("greatest", f"{plain(round(card.fastest.speed_m_s, 2))} m/s"),
            ))
        )  # fmt: skip
    if card.offset_mm:
        found.append(Section("With the offset", (("from top to bottom", mm(card.travel_mm, 0.001)),)))
    return found


def _percent(part: float, whole: float) -> str:
    return f"{plain(round(100 * part / whole, 1))} %"


def _compute(typed: Typed) -> PistonCard:
    for needed in ("stroke", "rod"):
        typed.must(needed)
    crank = crank_of(typed)
    assert crank is not None
    lean_deg, per_min = typed.size("lean") or 0.0, typed.size("speed")
    slant = math.cos(math.radians(lean_deg))
    if slant < _LEAST_COSINE:
        raise NotUnderstood(
            f"Plug hole: {deg(lean_deg)} is nearly square to the cylinder, where no dial follows the piston; write 0 "
            "for one that stands along it."
        )
    angle = _angle(typed)
    dial = typed.size("depth")
    depth = None if dial is None else dial * slant
    if depth is not None and depth > crank.travel_mm:
        raise NotUnderstood(
            f"Depth: {mm(depth)} is more than the stroke of {mm(crank.travel_mm)}, so the piston never goes there; "
            "write how far it is below its top."
        )
    return PistonCard(
        stroke_mm=crank.stroke_mm,
        rod_mm=crank.rod_mm,
        offset_mm=crank.offset_mm,
        ratio=crank.ratio,
        travel_mm=crank.travel_mm,
        lean_deg=lean_deg,
        per_min=per_min,
        asked=None if angle is None else _place(crank, angle, slant, per_min),
        depth_mm=depth,
        dial_mm=dial,
        angles_deg=None if depth is None else angles_at(crank, depth),
        dwell_deg=dwell_deg(crank, HIDES_MM),
        fastest=_place(crank, fastest_deg(crank), slant, per_min),
        two_term_fastest_deg=two_term_fastest_deg(crank.ratio),
        mean_m_s=None if per_min is None else 2 * crank.travel_mm * per_min / 60_000,
        table=tuple(_place(crank, float(angle), slant, per_min) for angle in TABLE_DEG),
    )


def _angle(typed: Typed) -> float | None:
    if not typed.has("angle"):
        return None
    try:
        return on_the_wheel(typed.text("angle"))
    except NotUnderstood as slip:
        raise NotUnderstood(f"Angle: {slip}") from None


def _place(crank: Crank, angle_deg: float, slant: float, per_min: float | None) -> Place:
    depth = depth_mm(crank, angle_deg)
    return Place(
        angle_deg=angle_deg,
        depth_mm=depth,
        two_term_depth_mm=two_term_depth_mm(crank, angle_deg),
        dial_mm=depth / slant,
        speed_m_s=None if per_min is None else speed_m_s(crank, angle_deg, per_min),
        two_term_speed_m_s=None if per_min is None else two_term_speed_m_s(crank, angle_deg, per_min),
    )


SUM = Sum(
    name="piston",
    title="Piston and crank",
    question="how far down the piston is at an angle of the crank, and back: mm before top dead centre",
    fields=(
        Field("angle", "Angle", "text", "of the crank: so many degrees before or after top dead centre",
              "23 before", first=True),
        replace(STROKE, must=True),
        replace(ROD, must=True),
        Field("depth", "Depth", "size", "how far the piston is below its top, as a dial reads it", "2.5 mm",
              unit="mm", least=0, most=2000),
        Field("lean", "Plug hole leans by", "size", "how far the dial leans from the line of the cylinder", "45",
              unit="deg", least=0, most=89),
        OFFSET,
        Field("speed", "Speed", "size", "turns of the crank a minute, to have the piston’s speed", "3000",
              unit="1/min", above=0, most=100_000),
    ),
    compute=_compute,
    card=PistonCard,
    example='"23 before" --stroke 45 --rod 84',
    more="Exact, with the rod’s length; the two-term formula of many books stands beside it.",
)  # fmt: skip
