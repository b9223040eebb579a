"""What is asked about a torque, and the card that answers it."""

from typing import NamedTuple

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.tighten.torque.card import (
    BandCard,
    FormulasCard,
    FrictionCard,
    HoleCard,
    StrengthCard,
    TorqueCard,
    TurnCard,
)
from fingertight.quantity import NotUnderstood
from fingertight.tighten.spanners.heads import NoSuchHead, head_named
from fingertight.tighten.threads.names import NoSuchThread, Thread, thread_named
from fingertight.tighten.torque.friction import (
    Band,
    Bearing,
    NoSuchBearing,
    NoSuchSurface,
    Surface,
    aimed_preload_n,
    bearing_under,
    most_torque_nm,
    preload_band_n,
    surface_named,
    surfaces,
    torque_band_nm,
)
from fingertight.tighten.torque.preload import (
    Lever,
    Twist,
    lever_of,
    linear_torque_nm,
    nut_factor_of,
    preload_at_share_of_yield_n,
    short_torque_nm,
    stress_while_tightening_mpa,
    torque_nm,
)
from fingertight.tighten.torque.slips import is_right, slip_behind
from fingertight.tighten.torque.strength import (
    Grade,
    NoSuchGrade,
    NoSuchStrength,
    Strain,
    Strength,
    bears_n,
    breaking_load_n,
    grade_named,
    named_strengths,
    proof_load_n,
    strain_of,
    strength_of,
)
from fingertight.tighten.torque.stripping import Links, least_engagement_mm, links_of
from fingertight.tighten.torque.turn import joint_of, preload_by_turn_n, turn_for_preload_deg

_METALS = ("steel", "cast iron", "aluminium")
_TABLE_SHARE = 0.9


class _Bolt(NamedTuple):
    """The bolt that is asked about; aimed_n is the usual preload, links what its hole holds where that is known."""

    thread: Thread
    grade: Grade
    strength: Strength
    surface: Surface
    head: str
    bearing: Bearing
    lever: Lever
    proof_n: float
    aimed_n: float
    links: Links | None


def _bolt(typed: Typed) -> _Bolt:
    try:
        thread = thread_named(typed.text("thread"))
    except NoSuchThread as slip:
        raise NotUnderstood(f"Thread: {slip}") from None
    try:
        grade = grade_named(typed.text("grade"))
        strength = strength_of(grade, thread)
    except (NoSuchGrade, NoSuchStrength) as slip:
        raise NotUnderstood(f"Grade: {slip}") from None
    try:
        surface = surface_named(typed.choice("surface"), grade.material)
    except NoSuchSurface as slip:
        raise NotUnderstood(f"Surface: {slip}") from None
    try:
        head = head_named(typed.text("head")).name
        bearing = bearing_under(thread, head)
    except (NoSuchHead, NoSuchBearing) as slip:
        raise NotUnderstood(f"Head: {slip}") from None
    lever, proof_n = lever_of(thread, bearing.middle_mm), proof_load_n(thread, grade)
    aimed_n = aimed_preload_n(proof_n, bears_n(thread, grade, surface.thread.low), lever, surface)
    links = _links(typed, thread, grade)
    return _Bolt(thread, grade, strength, surface, head, bearing, lever, proof_n, aimed_n, links)


def _links(typed: Typed, thread: Thread, grade: Grade) -> Links | None:
    into, engaged_mm = typed.choice("into"), typed.size("engaged")
    if engaged_mm is None:
        return None
    if not into:
        metals = ", ".join(_METALS)
        raise NotUnderstood(f"Hole in: with an engaged length it must be known; choose one of {metals}.")
    return links_of(thread, grade, into, engaged_mm)


def _limit_n(bolt: _Bolt) -> float:
    """The pull at which a slippery bolt is no longer borne, or something strips."""
    bears = bears_n(bolt.thread, bolt.grade, bolt.surface.thread.low)
    return bears if bolt.links is None else min(bears, bolt.links.weakest_n)


def _usual_n(bolt: _Bolt) -> float:
    """The preload where nothing is asked: less than is usual where the threads hold less, if it is worth it at all."""
    if bolt.links is None or not bolt.links.is_worth_tightening(bolt.proof_n):
        return bolt.aimed_n
    return aimed_preload_n(bolt.proof_n, _limit_n(bolt), bolt.lever, bolt.surface)


def _turn(typed: Typed, bolt: _Bolt, aimed_n: float) -> tuple[TurnCard | None, Band | None]:
    """What is asked about an angle, and the preload that a typed angle brings."""
    grip_mm, turn_deg, clamped = typed.size("grip"), typed.size("turn"), typed.choice("clamped")
    if grip_mm is None:
        if turn_deg is not None:
            raise NotUnderstood("Grip: with a turn it must be known; write for example 20 mm.")
        return None, None
    joint = joint_of(bolt.thread, grip_mm, bolt.bearing, clamped, typed.choice("into"))
    if turn_deg is None:
        return TurnCard(grip_mm, clamped, _card(turn_for_preload_deg(aimed_n, joint)), None), None
    by_turn, snug_nm = preload_by_turn_n(turn_deg, joint), typed.size("torque")
    snug = preload_band_n(snug_nm, bolt.lever, bolt.surface) if snug_nm else Band(0.0, 0.0, 0.0)
    both = Band(snug.low + by_turn.low, snug.usual + by_turn.usual, snug.high + by_turn.high)
    return TurnCard(grip_mm, clamped, BandCard(turn_deg, turn_deg, turn_deg), snug_nm), both


def _hole(typed: Typed, bolt: _Bolt, slippery_n: float) -> HoleCard | None:
    into, links = typed.choice("into"), bolt.links
    if not into:
        return None
    least_mm = least_engagement_mm(bolt.thread, bolt.grade, into)
    if links is None:
        return HoleCard(into, least_mm, None, None, None, None, None, None, None)
    loads = links.bolt_breaks_n, links.bolt_strips_n, links.hole_strips_n
    holds = links.holds(slippery_n)
    return HoleCard(into, least_mm, typed.size("engaged"), links.weakest, links.weakest_n, *loads, holds)


def _preload(typed: Typed, bolt: _Bolt) -> tuple[str, Band, float, TurnCard | None]:
    """What is asked, the preload it comes to as a band, the torque that belongs to it, and the turn."""
    given = [name for name in ("torque", "preload", "share") if typed.has(name)]
    if len(given) > 1:
        raise NotUnderstood(f"Give one of torque, preload and share; here are {' and '.join(given)}.")
    if typed.has("turn") and given and given != ["torque"]:
        raise NotUnderstood("Turn: beside it goes the snug torque or nothing, not a preload or a share.")
    asked, wanted_n = "usual", _usual_n(bolt)
    share, given_nm = typed.number("share"), typed.size("torque")
    if share is not None:
        asked, wanted_n = "share", bolt.proof_n * share / 100
    elif typed.has("preload"):
        asked, wanted_n = "preload", typed.must("preload")
    elif given_nm is not None:
        asked, wanted_n = "torque", preload_band_n(given_nm, bolt.lever, bolt.surface).usual
    turn, turned = _turn(typed, bolt, wanted_n)
    if turned is not None:
        return "turn", turned, torque_band_nm(turned.usual, bolt.lever, bolt.surface).usual, turn
    set_nm = torque_band_nm(wanted_n, bolt.lever, bolt.surface).usual
    return asked, preload_band_n(set_nm, bolt.lever, bolt.surface), set_nm, turn


def _slip(typed: Typed, aimed_nm: float) -> str | None:
    """What slip would explain a torque that is not the usual one."""
    as_typed, given_nm = typed.as_typed("torque"), typed.size("torque")
    if as_typed is None or given_nm is None or typed.has("turn") or is_right(given_nm, aimed_nm):
        return None
    slip = slip_behind(*as_typed, aimed_nm)
    if slip is None:
        return None
    return slip.unit or ("ten times" if slip.times > 1 else "a tenth")


def _compute(typed: Typed) -> TorqueCard:
    bolt = _bolt(typed)
    thread, surface, lever = bolt.thread, bolt.surface, bolt.lever
    asked, preload, set_nm, turn = _preload(typed, bolt)
    takes = torque_band_nm(preload.usual, lever, surface)
    stress_mpa = stress_while_tightening_mpa(preload.usual, thread, surface.thread.usual)
    pulls, factors = (preload.low, preload.usual, preload.high), (takes.low, takes.usual, takes.high)
    return TorqueCard(
        thread=thread.name,
        diameter_mm=thread.diameter_mm,
        grade=bolt.grade.name,
        surface=surface.name,
        head=bolt.head,
        asked=asked,
        ends=_ends(bolt, preload),
        torque_nm=BandCard(takes.low, set_nm, takes.high),
        preload_n=_card(preload),
        share_of_proof=BandCard(*(pull / bolt.proof_n for pull in pulls)),
        proof_n=bolt.proof_n,
        aimed_share=bolt.aimed_n / bolt.proof_n,
        most_torque_nm=most_torque_nm(_limit_n(bolt), lever, surface) if _limit_n(bolt) > 0 else 0.0,
        share_of_yield_while_tightening=stress_mpa / bolt.strength.yield_mpa,
        nut_factor=BandCard(*(nut_factor_of(nm, preload.usual, thread.diameter_mm) for nm in factors)),
        friction=_friction(bolt),
        strength=_strength(bolt),
        formulas=_formulas(bolt, preload.usual),
        hole=_hole(typed, bolt, preload.high),
        turn=turn,
        slip=_slip(typed, torque_band_nm(bolt.aimed_n, lever, surface).usual),
        odd_mark=bolt.grade.is_metric != (thread.series in {"coarse", "fine"}),
    )


def _ends(bolt: _Bolt, preload: Band) -> Strain:
    """How the bolt bears this preload; it yields and breaks earlier while it is being twisted."""
    usual, slippery = bolt.surface.thread.usual, bolt.surface.thread.low
    bears = bears_n(bolt.thread, bolt.grade, usual), bears_n(bolt.thread, bolt.grade, slippery)
    tensile_mpa = bolt.strength.tensile_mpa
    breaks = tuple(preload_at_share_of_yield_n(bolt.thread, tensile_mpa, 1.0, rubs) for rubs in (usual, slippery))
    return strain_of(preload.usual, preload.high, bears, (breaks[0], breaks[1]))


def _friction(bolt: _Bolt) -> FrictionCard:
    surface, bearing = bolt.surface, bolt.bearing
    bands = _card(surface.thread), _card(surface.head)
    return FrictionCard(*bands, surface.classes, bearing.middle_mm, bearing.source)


def _strength(bolt: _Bolt) -> StrengthCard:
    grade, strength = bolt.grade, bolt.strength
    return StrengthCard(
        standard=grade.standard,
        proof_mpa=strength.proof_mpa,
        has_proof=grade.has_proof,
        yield_mpa=strength.yield_mpa,
        tensile_mpa=strength.tensile_mpa,
        breaking_n=breaking_load_n(bolt.thread, grade),
        named_mpa=named_strengths(grade) if _has_classes(grade) else None,
    )


def _formulas(bolt: _Bolt, preload_n: float) -> FormulasCard:
    surface, is_class = bolt.surface, _has_classes(bolt.grade)
    short_nm = short_torque_nm(preload_n, bolt.thread.diameter_mm, surface.nut_factor) if surface.finish else None
    return FormulasCard(
        long_nm=torque_nm(preload_n, bolt.lever, surface.thread.usual, surface.head.usual),
        linear_nm=linear_torque_nm(preload_n, bolt.lever, surface.thread.usual, surface.head.usual),
        short_nm=short_nm,
        published_nut_factor=surface.nut_factor if surface.finish else None,
        published_finish=surface.finish or None,
        table_nm=_table_nm(bolt, Twist.YIELDING) if is_class else None,
        older_table_nm=_table_nm(bolt, Twist.ELASTIC) if is_class else None,
    )


def _has_classes(grade: Grade) -> bool:
    return grade.standard.startswith("ISO 898-1")


def _table_nm(bolt: _Bolt, twist: Twist) -> float:
    """What a table made for 90 % of yield has for the usual friction."""
    rub = bolt.surface.thread.usual, bolt.surface.head.usual
    preload_n = preload_at_share_of_yield_n(bolt.thread, bolt.strength.yield_mpa, _TABLE_SHARE, rub[0], twist)
    return linear_torque_nm(preload_n, bolt.lever, *rub)


def _card(band: Band) -> BandCard:
    return BandCard(band.low, band.usual, band.high)


SUM = Sum(
    name="torque",
    title="Torque and preload",
    question="which torque gives which preload, how far friction scatters it, and what gives first",
    more="Without a torque, a preload or a share: the torque for 75 % of the proof load. A maker’s torque comes first.",
    fields=(
        Field("thread", "Thread", about="the thread by its name", example="M8", must=True, first=True),
        Field("grade", "Grade", about="the mark on the head: 8.8, 10.9, A2-70; three lines are SAE 5, six SAE 8; brass",
              example="8.8", must=True),
        Field("surface", "Surface", "choice", "thread and the underside of the head", usual="oiled",
              choices=tuple(surfaces())),
        Field("torque", "Torque", "size", "a torque: which preload does it give", "25 N·m",
              unit="N·m", above=0, most=20_000),
        Field("preload", "Preload", "size", "a preload: which torque does it take", "18 kN",
              unit="kN", above=0, most=2000),
        Field("share", "Share of proof", "number", "a preload in % of the proof load", "75", above=0, most=300),
        Field("head", "Head", about="the head’s style: hex, hex flange, socket, hex nut", example="hex", usual="hex"),
        Field("into", "Hole in", "choice", "what the hole is tapped into, none for a nut", choices=_METALS),
        Field("engaged", "Thread engaged", "size", "how much thread is in the hole: what gives first", "12 mm",
              unit="mm", above=0, most=200),
        Field("grip", "Grip", "size", "how thick the clamped parts are: which turn does it", "20 mm",
              unit="mm", above=0, most=1000),
        Field("clamped", "Clamped parts", "choice", "what the clamped parts are of", usual="steel", choices=_METALS),
        Field("turn", "Turn", "size", "a turn from snug: which preload; a torque beside it is the snug one",
              "90", unit="deg", above=0, most=720),
    ),
    compute=_compute,
    card=TorqueCard,
    example="M8 --grade 8.8 --surface oiled",
)  # fmt: skip
