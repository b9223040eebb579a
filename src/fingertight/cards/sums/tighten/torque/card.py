"""What is answered about a torque: as numbers for programs, and as the page for people."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.tighten.wrench import digits
from fingertight.quantity import converted, plain
from fingertight.tighten.torque.strength import Strain

_UNITS = ("N·m", "lb·ft", "kgf·m")
_OF = "of the proof load"


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
    most_torque_nm: the most with which even a slippery bolt is borne, and strips nothing. strips: the thread that gives
    before the bolt is overdone. head_bears: the share of its thread's loads that the head bears; proof_n and breaking_n
    have it already. nut_class: what was typed, where it was a nut's; grade is that of the bolt beside it.
    """

    thread: str
    diameter_mm: float
    grade: str
    surface: str
    head: str
    asked: str
    ends: str
    strips: str | None
    torque_nm: BandCard
    preload_n: BandCard
    share_of_proof: BandCard
    proof_n: float
    head_bears: float
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
    nut_class: str | None
    surface_given: bool
    may_seize: bool
    may_come_loose: bool

    @property
    def is_no(self) -> bool:
        """No when a bolt at the slippery end of the band is not borne, or a thread would strip."""
        return self.ends != Strain.WITHIN or (self.hole is not None and self.hole.holds is False)

    @property
    def answer(self) -> Answer:
        """What to set, what it pulls, what formulas and tables say of it, and where it ends."""
        return _page(self)


def _page(card: TorqueCard) -> Answer:
    """The whole page."""
    return Answer(
        title=f"{card.thread} {card.grade}, {card.surface}, {_head(card.head)}: torque and preload",
        lead=tuple(_lead(card)),
        sections=tuple(_sections(card)),
        cautions=tuple(_cautions(card)),
        notes=tuple(_notes(card)),
        sources=tuple(_sources(card)),
    )


def _head(head: str) -> str:
    return head if head.endswith("nut") else f"{head} head"


def _force(newtons: float) -> str:
    return f"{digits(newtons / 1000)} kN" if newtons >= 999.5 else f"{digits(newtons)} N"


def _no_more(torque_nm: float) -> str:
    """The torque rounded down: one that is set to be no more is not rounded over it."""
    step = 10.0 ** min(math.floor(math.log10(torque_nm)) - 2, 0)
    return digits(math.floor(torque_nm / step + 1e-9) * step)


def _percent(share: float) -> str:
    return f"{plain(round(share * 100))} %" if share >= 0.01 else "under 1 %"


def _lead(card: TorqueCard) -> Iterator[str]:
    low, high = card.share_of_proof.low, card.share_of_proof.high
    yield _verdict(card)
    if not card.surface_given and card.surface == "paste":
        yield "No surface was given: it is reckoned with paste, with which stainless steel takes the least torque."
    if card.is_no and card.most_torque_nm > 0:
        yield f"Up to {_no_more(card.most_torque_nm)} N·m even a slippery bolt bears it, and nothing strips."
    scatter = f"{_force(card.preload_n.low)} and {_force(card.preload_n.high)} ({_percent(low)} to {_percent(high)})"
    if card.asked == "turn":
        yield f"Bolts end between {scatter}: so far do the snug torque and the shape of the bolt scatter it."
    else:
        yield f"19 bolts of 20 end between {scatter}: so far do friction and torque wrench scatter it."
    if card.asked == "usual" and not card.is_no and round(card.share_of_proof.usual * 100) < 75:
        strips = card.hole is not None and card.share_of_proof.usual < card.aimed_share - 1e-6
        why = "slippery bolt would strip the thread" if strips else "slippery bolt would not bear that as it is turned"
        yield f"Not the usual 75 % {_OF}: a {why}."


def _verdict(card: TorqueCard) -> str:
    usual, high = card.share_of_proof.usual, card.share_of_proof.high
    pull, what = f"{_force(card.preload_n.usual)}, {_percent(usual)} {_OF}", _what(card)
    bolt = "stiff" if card.asked == "turn" else "slippery"
    if card.strips is not None and card.hole is not None:
        return _stripped(card, card.hole)
    twisted = f"pull and twist together come to {_percent(card.share_of_yield_while_tightening)} of its yield"
    if card.ends == Strain.BREAKS:
        return f"No: {what} may break the bolt: it would usually pull {pull}, with a {bolt} one {_percent(high)}."
    if card.ends == Strain.OVER:
        return f"No: {what} would usually pull {pull}, and {twisted}: the bolt stays stretched."
    if card.ends == Strain.OVER_WHEN_SLIPPERY:
        worst = f"{_percent(high)}{'' if high > 1 else ', and yields as it is turned'}"
        return f"No: {what} usually pulls {pull}, but a {bolt} bolt is pulled to {worst}."
    if card.asked in {"usual", "share", "preload"}:
        return f"Tighten to {what}: that usually pulls {pull}."
    return f"{what[:1].upper()}{what[1:]} usually pulls {pull}."


def _stripped(card: TorqueCard, hole: HoleCard) -> str:
    """That a thread gives first: on every bolt, on a usual one, or on the worst."""
    gives_n, pulls = hole.weakest_n or 0.0, card.preload_n
    gives = f"{hole.weakest} at {_force(gives_n)}" if gives_n else "no thread carries"
    usual = f"{_force(pulls.usual)}, {_percent(card.share_of_proof.usual)} {_OF}"
    if gives_n < pulls.low:
        worst = "at the least" if card.asked == "turn" else "even with a rough bolt"
        return f"No: {gives}, and {_what(card)} pulls {_force(pulls.low)} {worst}, usually {usual}."
    worst = "at the most" if card.asked == "turn" else "with a slippery bolt"
    return f"No: {gives}, and {_what(card)} usually pulls {usual}, {worst} {_force(pulls.high)}."


def _what(card: TorqueCard) -> str:
    """What is done to the bolt, as the beginning of a sentence."""
    if card.asked == "turn" and card.turn is not None:
        snug = f" after a snug {digits(card.turn.snug_nm)} N·m" if card.turn.snug_nm else ""
        return f"a turn of {plain(round(card.turn.turn_deg.usual, 1))}°{snug}"
    set_nm = card.torque_nm.usual
    return f"{_no_more(set_nm) if card.asked == 'usual' else digits(set_nm)} N·m"


def _cautions(card: TorqueCard) -> Iterator[str]:
    if card.ends in {Strain.OVER, Strain.BREAKS} or (card.ends != Strain.WITHIN and card.strips is None):
        yield "An overdone bolt stays stretched, and may break while you pull: slacken it, and fit a new one."
    hole = card.hole
    if hole is not None and hole.engaged_mm is not None and hole.weakest != "the bolt breaks":
        gives = f"{hole.weakest} at {_force(hole.weakest_n or 0)}, before the bolt breaks, and gives no warning"
        first = gives if hole.weakest_n else "no thread carries"
        least = f"engage {_mm(hole.least_engagement_mm)} or more, or take less torque"
        yield f"With {_mm(hole.engaged_mm)} engaged {first}: {least}."
    if card.may_seize:
        yield "Stainless steel seizes: use paste and turn slowly. With paste it takes less torque: ask again for that."
    if card.head.startswith("countersunk"):
        yield (
            "The small socket of a countersunk head may round out before the bolt is tight: clean it out, push the key "
            "home, and stop where it begins to turn in the socket."
        )
    yield "Flywheel, blade, wheel, big end and whatever else turns: nothing but the maker’s torque will do."


def _sections(card: TorqueCard) -> Iterator[Section]:
    takes = card.torque_nm
    rows = (("a usual bolt", takes.usual), ("a slippery bolt", takes.low), ("a rough bolt", takes.high))
    yield Section(
        f"Torque for {_force(card.preload_n.usual)}",
        tuple((name, *(digits(converted(nm, "N·m", unit)) for unit in _UNITS)) for name, nm in rows),
        ("", *_UNITS),
    )
    ends = ("least", "usual", "most") if card.asked == "turn" else ("rough", "usual", "slippery")
    yield Section("What it pulls", tuple(_pulls(card)), ("", *ends))
    yield Section("By which formula", tuple(_formulas(card)))
    yield Section("The bolt", tuple(_bolt(card)))
    if card.hole is not None:
        yield Section(f"In {card.hole.into}", tuple(_hole(card, card.hole)))
    if card.turn is not None:
        yield Section("By angle", tuple(_turn(card)))


def _pulls(card: TorqueCard) -> Iterator[tuple[str, ...]]:
    pulls, shares, factor = card.preload_n, card.share_of_proof, card.nut_factor
    thread, head = card.friction.thread, card.friction.head
    yield "preload", *(_force(size) for size in (pulls.low, pulls.usual, pulls.high))
    yield _OF, *(_percent(share) for share in (shares.low, shares.usual, shares.high))
    yield "friction in the thread", *(f"{size:.2f}" for size in (thread.high, thread.usual, thread.low))
    yield "friction under the head", *(f"{size:.2f}" for size in (head.high, head.usual, head.low))
    yield "nut factor K", *(f"{size:.2f}" for size in (factor.high, factor.usual, factor.low))


def _formulas(card: TorqueCard) -> Iterator[tuple[str, ...]]:
    formulas, thread, head = card.formulas, card.friction.thread.usual, card.friction.head.usual
    at = f"thread {thread:.2f}, head {head:.2f} at {plain(round(card.friction.bearing_mm, 1))} mm"
    yield "long form, used here", f"{digits(formulas.long_nm)} N·m: {at}"
    yield "long form of the tables", f"{digits(formulas.linear_nm)} N·m: the same, made linear"
    if formulas.short_nm is not None and formulas.published_nut_factor is not None:
        named = f"K {formulas.published_nut_factor:.2f}, “{formulas.published_finish}”"
        over = "; too much for a slippery bolt" if formulas.short_nm > card.most_torque_nm else ""
        yield "short form, T = K F d", f"{digits(formulas.short_nm)} N·m: {named} in a published table{over}"
    if formulas.table_nm is not None and formulas.older_table_nm is not None:
        both = f"{digits(formulas.table_nm)} N·m present (2001 on), {digits(formulas.older_table_nm)} N·m older"
        yield "tables, 90 % of yield", f"{both}: for the usual friction, not for a slippery bolt"


def _bolt(card: TorqueCard) -> Iterator[tuple[str, ...]]:
    strength = card.strength
    limit = "proof load" if strength.has_proof else "0.2 % stretch, for a proof load"
    of = f"{_percent(card.head_bears)} of " if card.head_bears < 1 else ""
    yield limit, f"{_force(card.proof_n)}: {of}{plain(round(strength.proof_mpa))} MPa"
    yield "breaks at", f"{_force(strength.breaking_n)} or more: {of}{plain(round(strength.tensile_mpa))} MPa"
    if strength.named_mpa is not None:
        named = " and ".join(plain(size) for size in strength.named_mpa)
        asked = f"{plain(strength.tensile_mpa)} and {plain(strength.yield_mpa)}"
        yield "strength and yield", f"the mark {card.grade} means {named} MPa; the table asks {asked}"
    yield "while tightening", f"{_percent(card.share_of_yield_while_tightening)} of its yield, pull and twist together"


def _hole(card: TorqueCard, hole: HoleCard) -> Iterator[tuple[str, ...]]:
    least = f"{_mm(hole.least_engagement_mm)}, {hole.least_engagement_mm / card.diameter_mm:.1f} d"
    yield "least engagement", f"{least}: then the bolt breaks first"
    if hole.weakest_n is None or hole.bolt_breaks_n is None:
        return
    yield "with", f"{_mm(hole.engaged_mm or 0)} engaged"
    yield "the bolt breaks", f"at {_force(hole.bolt_breaks_n)}"
    yield "the bolt’s thread strips", f"at {_force(hole.bolt_strips_n or 0)}"
    yield "the tapped hole strips", f"at {_force(hole.hole_strips_n or 0)}"
    yield "first", f"{hole.weakest}"


def _turn(card: TorqueCard) -> Iterator[tuple[str, ...]]:
    turn = card.turn
    if turn is None:
        return
    yield "grip", f"{_mm(turn.grip_mm)} of {turn.clamped}"
    if card.asked == "turn":
        snug = f"a snug {digits(turn.snug_nm)} N·m" if turn.snug_nm else "where the parts just touch"
        yield "turn", f"{plain(round(turn.turn_deg.usual, 1))}° from {snug}"
    else:
        low, usual, high = (
            plain(round(angle)) for angle in (turn.turn_deg.low, turn.turn_deg.usual, turn.turn_deg.high)
        )
        yield (
            "turn",
            f"{usual}°, from where the parts just touch; {low}° with a plain shank, {high}° threaded all along",
        )
    yield "holds for", "metal on metal, below yield; a gasket, paint and burrs take turn without pulling"


def _notes(card: TorqueCard) -> Iterator[str]:
    aimed = f"{_percent(card.aimed_share)} {_OF}"
    if card.slip in {"ten times", "a tenth"}:
        times = "ten times" if card.slip == "ten times" else "a tenth of"
        yield f"This is about {times} what brings {aimed}: is the decimal mark astray?"
    elif card.slip:
        yield f"The same number in {card.slip} would bring {aimed}: was the unit misread?"
    if card.may_come_loose:
        yield f"Under a third {_OF} a bolt may come loose (common practice, no source)."
    if card.nut_class:
        bolt = f"the strongest bolt that goes with it, {card.grade}"
        yield f"{card.nut_class} is the class of the nut: it is reckoned with {bolt}."
    if card.odd_mark:
        yield f"{card.grade} is a mark of another family than {card.thread}: look at mark and thread again."
    if card.head_bears < 1:
        yield f"A {card.head} head bears {_percent(card.head_bears)} of what its thread bears, and it is reckoned so."
    if "cone" in card.friction.bearing_from:
        at = plain(round(card.friction.bearing_mm, 1))
        yield f"The head is taken as {card.friction.bearing_from}: it wedges, and its friction acts as if at {at} mm."
    if "1.25 d" in card.friction.bearing_from:
        yield "No table here has the bearing face of this head: its mean diameter is taken as 1.25 d."


def _sources(card: TorqueCard) -> Iterator[str]:
    yield f"strength: {card.strength.standard}"
    first, second = card.friction.classes
    classes = f"class {first}" if first == second else f"classes {first} (thread) and {second} (head)"
    yield f"friction: VDI 2230, {classes}; that {card.surface} is this class is common practice, no source"
    yield "long form: Shigley, 9th ed., equation 8-26; tables: VDI 2230; short form: Shigley, table 8-15"
    if "cone" in card.friction.bearing_from:
        yield "its cone: a truncated conical pivot of uniform wear, from theory of machines"
    yield "scatter: the friction bands and ISO 6789:2003, combined as in the GUM"
    if card.head_bears < 1:
        yield "what such a head bears: ISO 10642 and ISO 7380-1, from memory; the same share in the scope of ISO 14581"
    if card.nut_class:
        yield "which nut goes with which bolt: ISO 898-2:2012, as reprinted on a public fastener page"
    if card.hole is not None:
        yield "stripping: FED-STD-H28/2; strength of the hole: the weakest that is usual, from memory"
    if card.turn is not None:
        yield "angle: VDI 2230 (bolt, from memory), Shigley, equation 8-20 (parts)"


def _mm(size: float) -> str:
    return f"{digits(size)} mm ({size / 25.4:.2f} in)"
