"""A centrifugal clutch: at which speed it engages, what it carries, what wear and weak springs do."""

import math
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Curve, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.quantity import NotUnderstood, plain
from fingertight.setting.drive.clutch import DRY, IN_OIL, Clutch, ring_spring_n

_DRY, _OIL = "dry", "in oil"
_WEAK = 0.9
FLINGS = (
    "Clutch cover on and bolted before the engine runs: a shoe or a spring that breaks comes out like shot. Spring "
    "under load: eye protection."
)


@dataclass(frozen=True)
class AtSpeed(Card):
    """What the clutch carries at one speed before it slips."""

    per_min: float
    torque_nm: float
    power_kw: float


@dataclass(frozen=True)
class ClutchCard(SumCard):
    """A centrifugal clutch. moves_per_min: the shoes leave their stops; engages_per_min: it begins to carry on the way
    up, lets_go_per_min on the way down. asked: at the speed that was asked; carries_from_per_min: the speed from which
    on it carries the torque wanted. worn_per_min, weak_per_min: engaging with the lining worn, with springs a tenth
    weaker.
    """

    shoes: int
    mass_g: float
    radius_mm: float
    drum_mm: float
    friction: float
    spring_n: float
    rate_n_mm: float
    travel_mm: float
    moves_per_min: float
    engages_per_min: float
    lets_go_per_min: float
    idle_per_min: float | None
    asked: AtSpeed | None
    wanted_nm: float | None
    carries_from_per_min: float | None
    wear_mm: float | None
    worn_per_min: float | None
    weak_per_min: float
    steps: tuple[AtSpeed, ...]

    @property
    def is_no(self) -> bool:
        """At idle speed it would drive already."""
        return self.idle_per_min is not None and self.lets_go_per_min <= self.idle_per_min

    @property
    def answer(self) -> Answer:
        """When it engages, what it carries, what changes that."""
        return Answer(
            title="Centrifugal clutch",
            lead=tuple(self._lead()),
            sections=tuple(self._sections()),
            cautions=(FLINGS,),
            notes=tuple(self._notes()),
            sources=(
                "m ω² r − spring, times friction and drum radius: textbooks of machine design; checked against "
                "published exercises",
                "friction: common practice, no source",
            ),
            curves=(
                Curve(
                    "Torque before it slips, of the largest shown",
                    tuple(f"{_speed(step.per_min)}" for step in self.steps),
                    tuple(_share(step.torque_nm, self.steps[-1].torque_nm) for step in self.steps),
                ),
            ),
        )

    def _lead(self) -> list[str]:
        said = []
        if self.moves_per_min > self.lets_go_per_min * 1.005:
            said.append(
                f"It engages at {_speed(self.engages_per_min)}, all at once, and lets go at "
                f"{_speed(self.lets_go_per_min)}: the springs are stiff against the first move."
            )
        else:
            said.append(
                f"It engages at {_speed(self.engages_per_min)}"
                + (f"; the shoes leave their stops at {_speed(self.moves_per_min)}." if self.travel_mm else ".")
            )
        if self.idle_per_min is not None:
            said.append(
                f"At idle, {_speed(self.idle_per_min)}, it drives: idle slower, or renew the springs."
                if self.is_no
                else f"At idle, {_speed(self.idle_per_min)}, it does not drive."
            )
        if self.asked:
            said.append(
                f"At {_speed(self.asked.per_min)} it carries {_nm(self.asked.torque_nm)} before it slips, "
                f"{plain(round(self.asked.power_kw, 2))} kW."
            )
        if self.carries_from_per_min is not None and self.wanted_nm is not None:
            said.append(
                f"It carries {_nm(self.wanted_nm)} from {_speed(self.carries_from_per_min)} on; between engaging and "
                "that it slips and grows hot."
            )
        return said

    def _sections(self) -> list[Section]:
        rows = [("springs a tenth weaker", _speed(self.weak_per_min))]
        if self.worn_per_min is not None and self.wear_mm is not None:
            rows.append((f"lining worn by {plain(self.wear_mm)} mm", _speed(self.worn_per_min)))
        return [
            Section("It would engage at", tuple(rows)),
            Section(
                "What it carries",
                tuple((_speed(s.per_min), _nm(s.torque_nm), f"{plain(round(s.power_kw, 2))} kW") for s in self.steps),
                ("speed", "torque", "power"),
            ),
        ]

    def _notes(self) -> list[str]:
        return [
            f"Friction {plain(self.friction)} is taken; a dry lining has 0.25 to 0.4, in oil about 0.1 (common "
            "practice, no source). Torque goes with it, the engaging speed does not.",
            "Shoes are taken to slide straight outwards. A shoe on a pivot grips more when it leads and less when it "
            "trails: that is not reckoned here. What a worn lining has lost in weight is left out.",
            "One spring that goes round all shoes pulls each with 2 · T · sin(180° / number of shoes).",
            "One spring longer than the rest lets its shoe drag alone: renew all together.",
        ]


def _speed(per_min: float) -> str:
    return f"{round(per_min)} 1/min"


def _nm(torque: float) -> str:
    return f"{plain(round(torque, 1 if torque < 100 else 0) + 0.0)} N·m"


def _share(torque: float, most: float) -> float:
    return torque / most if most else 0.0


def _compute(typed: Typed) -> ClutchCard:
    clutch = _clutch(typed)
    asked, idle, wanted = typed.size("speed"), typed.size("idle"), typed.size("torque")
    wear = typed.size("wear")
    top = max(2 * clutch.engages_per_min, 1.2 * (asked or 0.0), 100.0)
    by = 10.0 ** math.floor(math.log10(top / 8))
    step = by * math.ceil(top / 8 / by)
    return ClutchCard(
        shoes=clutch.shoes,
        mass_g=clutch.mass_g,
        radius_mm=clutch.radius_mm,
        drum_mm=clutch.drum_mm,
        friction=clutch.friction,
        spring_n=clutch.spring_n,
        rate_n_mm=clutch.rate_n_mm,
        travel_mm=clutch.travel_mm,
        moves_per_min=clutch.moves_per_min,
        engages_per_min=clutch.engages_per_min,
        lets_go_per_min=clutch.touches_per_min,
        idle_per_min=idle,
        asked=None if asked is None else _at(clutch, asked),
        wanted_nm=wanted,
        carries_from_per_min=None if wanted is None else clutch.speed_for(wanted),
        wear_mm=wear,
        worn_per_min=None if wear is None else _worn(clutch, wear).engages_per_min,
        weak_per_min=clutch.with_springs(_WEAK).engages_per_min,
        steps=tuple(_at(clutch, step * number) for number in range(1, 9)),
    )


def _at(clutch: Clutch, per_min: float) -> AtSpeed:
    return AtSpeed(per_min, clutch.torque_nm(per_min), clutch.power_kw(per_min))


def _worn(clutch: Clutch, wear_mm: float) -> Clutch:
    try:
        return clutch.worn(wear_mm)
    except ValueError:
        raise NotUnderstood(
            f"Lining worn by: with {plain(wear_mm)} mm gone the shoe’s middle would reach the drum; write how much of "
            "the lining is gone, for example 0.5 mm."
        ) from None


def _clutch(typed: Typed) -> Clutch:
    shoes = typed.whole("shoes")
    if shoes is None:
        raise NotUnderstood("Shoes: nothing was typed; write how many there are, for example 4.")
    spring, round_all = typed.size("spring"), typed.size("ring-spring")
    if (spring is None) == (round_all is None):
        raise NotUnderstood(
            "Spring: write how strong each shoe is pulled in at rest, for example 40 N, or the pull of one spring that "
            "goes round all shoes, but not both."
        )
    if spring is None and round_all is not None:
        if shoes < 2:
            raise NotUnderstood("Spring round all: it goes round two shoes or more; write the spring of the one shoe.")
        spring = ring_spring_n(round_all, shoes)
    friction = typed.number("friction")
    travel, radius, drum = typed.size("travel") or 0.0, typed.must("radius"), typed.must("drum")
    if radius + travel >= drum / 2:
        raise NotUnderstood(
            f"Radius: {plain(radius)} mm and the travel reach the drum, {plain(drum / 2)} mm from the middle. Radius "
            "is from the shaft’s middle to the middle of the shoe’s mass, drum is a diameter."
        )
    return Clutch(
        shoes=shoes,
        mass_g=typed.must("mass"),
        radius_mm=radius,
        drum_mm=drum,
        friction=friction if friction is not None else IN_OIL if typed.choice("runs") == _OIL else DRY,
        spring_n=spring or 0.0,
        rate_n_mm=typed.number("rate") or 0.0,
        travel_mm=travel,
    )


SUM = Sum(
    name="clutch",
    title="Centrifugal clutch",
    question="at which speed a centrifugal clutch engages, what it carries, and what wear and weak springs do",
    fields=(
        Field("shoes", "Shoes", "whole", "how many there are", "4", first=True, above=0, most=24),
        Field("mass", "Mass of a shoe", "size", "one shoe with its lining, weighed", "60 g", must=True, unit="g",
              above=0, least=0.5, most=100_000),
        Field("radius", "Radius of its mass", "size", "from the shaft’s middle to where the shoe balances, at rest",
              "30 mm", must=True, unit="mm", above=0, least=2, most=2000),
        Field("drum", "Drum", "size", "its inside diameter", "80 mm", must=True, unit="mm", above=0, least=10,
              most=4000),
        Field("spring", "Spring", "size", "how strong each shoe is pulled in at rest", "40 N", unit="N", least=0,
              most=100_000),
        Field("ring-spring", "Spring round all", "size", "the pull of one spring that goes round all shoes", "25 N",
              unit="N", above=0, most=100_000),
        Field("rate", "Rate of the spring", "number", "how much more for each millimetre outwards", "8", unit="N/mm",
              least=0, most=10_000),
        Field("travel", "Travel", "size", "from the lining to the drum, at rest", "1 mm", unit="mm", least=0, most=100),
        Field("friction", "Friction", "number", "of lining on drum; 0.3 dry, 0.1 in oil where nothing is said", "0.3",
              above=0, most=1.5),
        Field("runs", "Runs", "choice", "dry or in oil", "in oil", usual=_DRY, choices=(_DRY, _OIL)),
        Field("speed", "Speed", "size", "to have what it carries there", "3000", unit="1/min", above=0, most=100_000),
        Field("torque", "Torque wanted", "size", "to have the speed from which on it carries that", "12 N·m",
              unit="N·m", above=0, most=100_000),
        Field("idle", "Idle speed", "size", "to see that it does not drive there", "1400", unit="1/min", above=0,
              most=20_000),
        Field("wear", "Lining worn by", "size", "how much of its thickness is gone", "0.5 mm", unit="mm", least=0,
              most=100),
    ),
    compute=_compute,
    card=ClutchCard,
    example='4 --mass "60 g" --radius 30 --drum 80 --spring "40 N" --rate 8 --travel 1 --idle 1400',
)  # fmt: skip
