"""What was read of a thread, and the card that answers which one it is."""

import math

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.tighten.identify.card import (
    CandidateCard,
    IdentifyCard,
    IfCard,
    LookAlikeCard,
    MeetingCard,
    ReadingCard,
    SettlingCard,
    TaperCard,
    pitch_of,
)
from fingertight.quantity import NotUnderstood, plain, shown
from fingertight.tighten.threads.identify import (
    SETTLING_LENGTH_MM,
    TAPER_LENGTH_MM,
    By,
    Identified,
    Settling,
    Verdict,
    beyond_mm,
    errors_mm,
    identify,
    if_it_were,
    pitch_error,
    sound_span,
)
from fingertight.tighten.threads.lookalikes import LookAlike, Meeting, Meets, look_alikes
from fingertight.tighten.threads.measured import EXAMPLE, Measured, read_measured
from fingertight.tighten.threads.names import INCH_MM, SERIES, TAPER, TaperPipe, Thread


def _compute(typed: Typed) -> IdentifyCard:
    asked = typed.text("reading")
    try:
        measured = read_measured(
            asked, inside=typed.tick("hole"), worn=typed.tick("worn"), painted=typed.tick("painted")
        )
    except NotUnderstood as slip:
        raise NotUnderstood(f"What was read: {slip}") from None
    found = identify(measured)
    is_none = found.verdict is Verdict.NONE
    first = None if is_none or not found.candidates else found.candidates[0].thread
    return IdentifyCard(
        asked=asked,
        reading=_reading(measured),
        verdict=found.verdict.value,
        candidates=tuple(_candidate(one.thread, one.probability, inside=measured.inside) for one in found.candidates),
        none_probability=round(found.none_probability, 6),
        settling=_settling(found, inside=measured.inside),
        must_not_meet=tuple(_alike(one) for one in look_alikes(first)) if first else (),
        taper_pipes=tuple(_taper(one) for one in found.tapers),
        if_it_were=tuple(
            IfCard(what, other.candidates[0].thread.name, round(other.candidates[0].probability, 6))
            for what, other in (if_it_were(measured) if is_none else ())
        ),
        remark=_remark(first, measured) if first else "",
    )


def _reading(measured: Measured) -> ReadingCard:
    caliper_mm, rounding_mm = errors_mm(measured)
    pitch = measured.pitch
    return ReadingCard(
        measured.diameter_mm,
        measured.step_mm,
        pitch.pitch_mm if pitch else None,
        bool(pitch and pitch.counted),
        measured.about,
        caliper_mm,
        rounding_mm,
        pitch_error(pitch) if pitch else None,
        measured.inside,
        measured.worn,
        measured.painted,
    )


def _taper(one: TaperPipe) -> TaperCard:
    span = round(one.least_mm, 3), round(one.most_mm, 3)
    return TaperCard(one.name, one.parallel, *span, one.threads_per_inch, one.source)


def _candidate(thread: Thread, probability: float, *, inside: bool) -> CandidateCard:
    least, most = sound_span(thread, inside=inside)
    return CandidateCard(
        thread=thread.name,
        series=SERIES[thread.series],
        probability=round(probability, 6),
        least_mm=round(least, 6),
        most_mm=round(most, 6),
        pitch_mm=round(thread.pitch_mm, 6),
        threads_per_inch=thread.threads_per_inch,
    )


def _settling(found: Identified, *, inside: bool) -> SettlingCard:
    way = found.settling
    names = [one.thread for one in found.candidates[:2]]
    if way.by is By.TAPER:
        said = _taper_settles(names[0], inside=inside)
    else:
        said = "" if found.verdict is Verdict.NONE else _settling_said(way, *names)
    asked = way.by not in {By.NOTHING, By.FINGERS}
    first = round(way.first, 6) if asked else None
    second = round(way.second, 6) if way.second is not None else None
    return SettlingCard(way.by.value, first, second, round(way.separation, 2), said)


def _taper_settles(first: Thread, *, inside: bool) -> str:
    """How to tell a parallel pipe thread from the taper one of its size."""
    if inside:
        return (
            f"To settle it, run a bolt or plug of {first.name} in by fingers: in a parallel hole it goes all the way, "
            "in a taper one it jams after a few turns."
        )
    return (
        f"To settle it, read the caliper at two places {plain(TAPER_LENGTH_MM)} mm apart along the thread: "
        f"{first.name} is the same, taper R{first.size} grows by {shown(TAPER * TAPER_LENGTH_MM, 0.1)} mm."
    )


def _settling_said(way: Settling, first: Thread, second: Thread | None = None) -> str:
    """The measurement as something to do, with what each of the two would show."""
    if way.by is By.NOTHING:
        return "Nothing more is needed."
    if way.by is By.LEAF and (second is None or way.second is None):
        return f"A pitch gauge would confirm it: {pitch_of(first)}."
    if second is None or way.second is None:
        other = second.name if second else "the others"
        return (
            f"Neither caliper nor pitch gauge tells {first.name} from {other} here: try a nut of known thread, by "
            "fingers; the right one runs its whole height, without shake."
        )
    if way.by is By.CALIPER:
        shows = f"{first.name} measures about {_caliper(way.first)}, {second.name} about {_caliper(way.second)}"
        return f"To settle it, read the caliper to 0.02 mm or finer on a clean, unworn place: {shows}."
    if way.by is By.LEAF:
        return (
            f"To settle it, take a pitch gauge: {first.name} has {pitch_of(first)}, {second.name} {pitch_of(second)}."
        )
    if way.by is By.COUNT:
        shows = f"{first.name} has {shown(way.first, 0.1)}, {second.name} {shown(way.second, 0.1)}"
        return f"To settle it, count the threads over {plain(SETTLING_LENGTH_MM)} mm: {shows}."
    shows = f"{first.name} has {plain(way.first)}°, {second.name} {plain(way.second)}°"
    return f"To settle it, hold a gauge against the flanks: {shows}; the wrong one shows light."


def _alike(one: LookAlike) -> LookAlikeCard:
    return LookAlikeCard(one.thread.name, _meeting(one.bolt_in_its_hole), _meeting(one.its_bolt_in_this_hole))


def _meeting(one: Meeting) -> MeetingCard:
    least, most = (round(turns, 2) if math.isfinite(turns) else None for turns in one.turns)
    return MeetingCard(one.ends.value, least, most, _meeting_said(one))


def _meeting_said(one: Meeting) -> str:
    if one.ends is not Meets.BINDS:
        return one.ends.value
    least, most = (round(turns) for turns in one.turns)
    if most <= 1:
        return "starts, binds within a turn"
    return (
        f"starts, binds within {most} turns"
        if least < 1 or least == most
        else f"starts, binds after {least} to {most} turns"
    )


def _remark(first: Thread, measured: Measured) -> str:
    """What to say when the reading lies outside a sound one by more than the caliper is off."""
    off_mm = beyond_mm(first, measured)
    if abs(off_mm) <= 1.5 * errors_mm(measured)[0]:
        return ""
    sound = f"a sound {first.name} {'bore' if measured.inside else 'bolt'}"
    small = off_mm < 0
    why = "worn, or read askew" if small is not measured.inside else "plated, painted or dirty, or read askew"
    return f"It reads {shown(abs(off_mm), 0.01)} mm {'under' if small else 'over'} {sound}: {why}."


def _caliper(size_mm: float) -> str:
    return f"{shown(size_mm, 0.01)} mm ({shown(size_mm / INCH_MM, 0.001)} in)"


SUM = Sum(
    name="identify",
    title="Which thread is it?",
    question="which thread a caliper and a pitch gauge mean, and what must not be forced together",
    fields=(
        Field("reading", "What was read", "text",
              "the diameter over the crests, then threads over a length, threads to the inch, or the pitch",
              EXAMPLE, must=True, first=True),
        Field("worn", "Worn", "tick", "the crests are worn or rusty"),
        Field("painted", "Painted", "tick", "the crests are painted, plated or dirty"),
        Field("hole", "Hole", "tick", "it is a nut or a hole: the bore over its crests was measured"),
    ),
    compute=_compute,
    card=IdentifyCard,
    example=f'"{EXAMPLE}"',
    more='Point or comma, mm or in; “about” makes a reading rough: "about 1/4 in, 20 tpi", "7,9 mm, pitch 1,25".',
)  # fmt: skip
