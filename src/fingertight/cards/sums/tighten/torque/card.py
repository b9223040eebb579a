"""What is answered about a torque: the bolt, what is asked of it, how it bears that, as numbers for programs."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, SumCard
from fingertight.cards.sums.tighten.torque.page import torque_page
from fingertight.tighten.torque.strength import Strain


@dataclass(frozen=True)
class BandCard(Card):
    """A size known between two ends, and what is usual."""

    low: float
    usual: float
    high: float


@dataclass(frozen=True)
class HoleCard(Card):
    """A tapped hole: the least engagement; where the engaged length is known, what gives first, and at which pull."""

    into: str
    least_engagement_mm: float
    engaged_mm: float | None
    weakest: str | None
    weakest_n: float | None
    bolt_breaks_n: float | None
    bolt_strips_n: float | None
    hole_strips_n: float | None
    holds: bool | None


@dataclass(frozen=True)
class TurnCard(Card):
    """Tightening by angle: the turn [deg] from where the parts touch, or from a snug torque [N·m]."""

    grip_mm: float
    clamped: str
    turn_deg: BandCard
    snug_nm: float | None


@dataclass(frozen=True)
class StrengthCard(Card):
    """What the bolt's standard asks of it, what its mark says by name, at which pull it must not yet break."""

    standard: str
    proof_mpa: float
    has_proof: bool
    yield_mpa: float
    tensile_mpa: float
    breaking_n: float
    named_mpa: tuple[float, float] | None


@dataclass(frozen=True)
class FrictionCard(Card):
    """Friction coefficients of thread and head, the classes they are from, and the diameter the head rubs at [mm]."""

    thread: BandCard
    head: BandCard
    classes: tuple[str, str]
    bearing_mm: float
    bearing_from: str


@dataclass(frozen=True)
class FormulasCard(Card):
    """The same preload by other formulas [N·m], and what tables made for 90 % of yield have, at the usual friction."""

    long_nm: float
    linear_nm: float
    short_nm: float | None
    published_nut_factor: float | None
    published_finish: str | None
    table_nm: float | None
    older_table_nm: float | None


@dataclass(frozen=True)
class TorqueCard(SumCard):
    """A bolt, what is asked of it, and how it bears that.

    torque_nm: what the usual preload takes on a slippery, a usual and a rough bolt. preload_n: what that torque (or the
    turn) pulls on a rough, a usual and a slippery one. aimed_share: the share of proof that is usually aimed at.
    most_torque_nm: the most with which even a slippery bolt is borne, and strips nothing.
    """

    thread: str
    diameter_mm: float
    grade: str
    surface: str
    head: str
    asked: str
    ends: str
    torque_nm: BandCard
    preload_n: BandCard
    share_of_proof: BandCard
    proof_n: float
    aimed_share: float
    most_torque_nm: float
    share_of_yield_while_tightening: float
    nut_factor: BandCard
    friction: FrictionCard
    strength: StrengthCard
    formulas: FormulasCard
    hole: HoleCard | None
    turn: TurnCard | None
    slip: str | None
    odd_mark: bool

    @property
    def is_no(self) -> bool:
        """No when a bolt at the slippery end of the band is not borne, or a thread would strip."""
        return self.ends != Strain.WITHIN or (self.hole is not None and self.hole.holds is False)

    @property
    def answer(self) -> Answer:
        """What to set, what it pulls, what formulas and tables say of it, and where it ends."""
        return torque_page(self)
