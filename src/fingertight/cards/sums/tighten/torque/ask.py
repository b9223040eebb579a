"""What is asked about a torque, and the card that answers it."""

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
from fingertight.quantity import NotUnderstood, plain
from fingertight.tighten.spanners.heads import NoSuchHead, head_named
from fingertight.tighten.threads.names import NoSuchThread, Thread, thread_meant
from fingertight.tighten.torque.borne import Bolted, bolted, borne, table_torque_nm
from fingertight.tighten.torque.friction import (
    Band,
    NoSuchBearing,
    NoSuchSurface,
    Surface,
    preload_band_n,
    surface_named,
    surface_taken,
    surfaces,
    torque_band_nm,
)
from fingertight.tighten.torque.preload import Twist, linear_torque_nm, nut_factor_of, short_torque_nm, torque_nm
from fingertight.tighten.torque.strength import (
    Grade,
    NoSuchGrade,
    NoSuchStrength,
    class_of_nut,
    grade_meant,
    named_strengths,
    on_metric,
)
from fingertight.tighten.torque.stripping import least_engagement_mm
from fingertight.tighten.torque.turn import joint_of, preload_by_turn_n, turn_for_preload_deg
from fingertight.tighten.torque.wrench import LARGEST_NM, decimal_astray, is_right, slip_behind

_METALS = ("steel", "cast iron", "aluminium")


def _thread(typed: Typed) -> Thread:
    try:
        return thread_meant(typed.text("thread"))
    except NoSuchThread as slip:
        raise NotUnderstood(f"Thread: {slip}") from None


def _head(typed: Typed) -> str:
    try:
        return head_named(typed.text("head")).name
    except NoSuchHead as slip:
        raise NotUnderstood(f"Head: {slip}") from None


def _surface(typed: Typed, material: str) -> Surface:
    said = typed.choice("surface")
    try:
        return surface_named(said, material) if said else surface_taken(material)
    except NoSuchSurface as slip:
        raise NotUnderstood(f"Surface: {slip}") from None


def _bolt(typed: Typed, thread: Thread, head: str) -> Bolted:
    into, engaged_mm = typed.choice("into"), typed.size("engaged")
    if engaged_mm is not None and not into:
        metals = ", ".join(_METALS)
        raise NotUnderstood(f"Hole in: with an engaged length it must be known; choose one of {metals}.")
    try:
        grade = grade_meant(typed.text("grade"), thread, head)
        surface = _surface(typed, grade.material)
        return bolted(thread, grade, surface, head, into=into, engaged_mm=engaged_mm)
    except (NoSuchGrade, NoSuchStrength) as slip:
        raise NotUnderstood(f"Grade: {slip}") from None
    except NoSuchBearing as slip:
        raise NotUnderstood(f"Head: {slip}") from None


def _turn(typed: Typed, bolt: Bolted, aimed_n: float) -> tuple[TurnCard | None, Band | None]:
    """What is asked about an angle, and the preload that a typed angle brings."""
    grip_mm, turn_deg, clamped = typed.size("grip"), typed.size("turn"), typed.choice("clamped")
    if grip_mm is None:
        if turn_deg is not None:
            raise NotUnderstood("Grip: with a turn it must be known; write for example 20 mm.")
        return None, None
    joint = joint_of(bolt.thread, grip_mm, bolt.bearing, clamped, typed.choice("into"))
    if turn_deg is None:
        return TurnCard(grip_mm, clamped, _card(turn_for_preload_deg(aimed_n, joint)), None), None
    snug_nm = typed.size("torque")
    snug = (preload_band_n(snug_nm, bolt.lever, bolt.surface),) if snug_nm else ()
    turned = preload_by_turn_n(turn_deg, joint, *snug)
    return TurnCard(grip_mm, clamped, BandCard(turn_deg, turn_deg, turn_deg), snug_nm), turned


def _hole(typed: Typed, bolt: Bolted, slippery_n: float) -> HoleCard | None:
    into, links = typed.choice("into"), bolt.links
    if not into:
        return None
    least_mm = least_engagement_mm(bolt.thread, bolt.grade, into)
    if links is None:
        return HoleCard(into, least_mm, None, None, None, None, None, None, None)
    loads = links.bolt_breaks_n, links.bolt_strips_n, links.hole_strips_n
    holds = links.holds(slippery_n)
    return HoleCard(into, least_mm, typed.size("engaged"), links.weakest, links.weakest_n, *loads, holds)


def _share(typed: Typed) -> float | None:
    """The share of proof in per cent. Raises NotUnderstood for one that was typed as a part of 1."""
    share = typed.number("share")
    if share is not None and share < 1:
        meant = plain(round(share * 100, 6)) if share >= 0.01 else "75"
        raise NotUnderstood(f"Share of proof: “{typed.text('share')}” is under 1 %; write {meant} for {meant} %.")
    return share


def _preload(typed: Typed, bolt: Bolted) -> tuple[str, Band, float, TurnCard | None]:
    """What is asked, the preload it comes to as a band, the torque that belongs to it, and the turn."""
    given = [name for name in ("torque", "preload", "share") if typed.has(name)]
    if len(given) > 1:
        raise NotUnderstood(f"Give one of torque, preload and share; here are {' and '.join(given)}.")
    if typed.has("turn") and given and given != ["torque"]:
        raise NotUnderstood("Turn: beside it goes the snug torque or nothing, not a preload or a share.")
    asked, wanted_n = "usual", bolt.usual_n
    share, given_nm = _share(typed), typed.size("torque")
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
    slip = slip_behind(*as_typed, aimed_nm) or decimal_astray(given_nm, aimed_nm)
    if slip is None:
        return None
    return slip.unit or ("ten times" if slip.times > 1 else "a tenth")


def _compute(typed: Typed) -> TorqueCard:
    thread, head = _thread(typed), _head(typed)
    bolt = _bolt(typed, thread, head)
    asked, preload, set_nm, turn = _preload(typed, bolt)
    under = borne(bolt, preload)
    takes = torque_band_nm(preload.usual, bolt.lever, bolt.surface)
    factors = (takes.low, takes.usual, takes.high)
    return TorqueCard(
        thread=thread.name,
        diameter_mm=thread.diameter_mm,
        grade=bolt.grade.name,
        surface=bolt.surface.name,
        head=head,
        asked=asked,
        ends=under.strain,
        strips=under.strips,
        torque_nm=BandCard(takes.low, set_nm, takes.high),
        preload_n=_card(preload),
        share_of_proof=_card(under.share_of_proof),
        proof_n=bolt.proof_n,
        head_bears=bolt.head_bears,
        aimed_share=bolt.aimed_n / bolt.proof_n,
        most_torque_nm=bolt.most_nm,
        share_of_yield_while_tightening=under.share_of_yield,
        nut_factor=BandCard(*(nut_factor_of(nm, preload.usual, thread.diameter_mm) for nm in factors)),
        friction=_friction(bolt),
        strength=_strength(bolt),
        formulas=_formulas(bolt, preload.usual),
        hole=_hole(typed, bolt, preload.high),
        turn=turn,
        slip=_slip(typed, torque_band_nm(bolt.aimed_n, bolt.lever, bolt.surface).usual),
        odd_mark=bolt.has_odd_mark,
        nut_class=_nut_class(typed, bolt, head),
        surface_given=bool(typed.choice("surface")),
        may_seize=bolt.may_seize,
        may_come_loose=under.may_come_loose,
    )


def _nut_class(typed: Typed, bolt: Bolted, head: str) -> str | None:
    """The class of the nut, where it was that which was typed."""
    is_nut = head.endswith("nut") and on_metric(bolt.thread)
    return (class_of_nut(typed.text("grade")) or None) if is_nut else None


def _friction(bolt: Bolted) -> FrictionCard:
    surface, bearing = bolt.surface, bolt.bearing
    bands = _card(surface.thread), _card(surface.head)
    return FrictionCard(*bands, surface.classes, bearing.middle_mm, bearing.source)


def _strength(bolt: Bolted) -> StrengthCard:
    grade, strength = bolt.grade, bolt.strength
    return StrengthCard(
        standard=grade.standard,
        proof_mpa=strength.proof_mpa,
        has_proof=grade.has_proof,
        yield_mpa=strength.yield_mpa,
        tensile_mpa=strength.tensile_mpa,
        breaking_n=bolt.breaks_n,
        named_mpa=named_strengths(grade) if _has_classes(grade) else None,
    )


def _formulas(bolt: Bolted, preload_n: float) -> FormulasCard:
    # A table is made for heads that bear what their thread does.
    surface, in_tables = bolt.surface, _has_classes(bolt.grade) and bolt.head_bears == 1
    short_nm = short_torque_nm(preload_n, bolt.thread.diameter_mm, surface.nut_factor) if surface.finish else None
    return FormulasCard(
        long_nm=torque_nm(preload_n, bolt.lever, surface.thread.usual, surface.head.usual),
        linear_nm=linear_torque_nm(preload_n, bolt.lever, surface.thread.usual, surface.head.usual),
        short_nm=short_nm,
        published_nut_factor=surface.nut_factor if surface.finish else None,
        published_finish=surface.finish or None,
        table_nm=table_torque_nm(bolt, Twist.YIELDING) if in_tables else None,
        older_table_nm=table_torque_nm(bolt, Twist.ELASTIC) if in_tables else None,
    )


def _has_classes(grade: Grade) -> bool:
    return grade.standard.startswith("ISO 898-1")


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
        Field("surface", "Surface", "choice", choices=tuple(surfaces()),
              about="thread and underside of the head (left out: oiled, of stainless steel with paste)"),
        Field("torque", "Torque", "size", "a torque: which preload does it give", "25 N·m",
              unit="N·m", above=0, most=LARGEST_NM),
        Field("preload", "Preload", "size", "a preload: which torque does it take", "18 kN",
              unit="kN", above=0, most=2000),
        Field("share", "Share of proof", "number", "a preload in % of the proof load", "75", unit="%", above=0,
              most=300),
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
