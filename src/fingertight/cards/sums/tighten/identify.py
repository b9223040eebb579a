"""Which thread was measured: candidates, what would settle it, and what must not be forced together."""

import math
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.quantity import NotUnderstood, plain, shown
from fingertight.tighten.threads.identify import (
    CALIPER_MM,
    COUNT_THREADS,
    INSIDE_CALIPER_MM,
    LEAF_SHARE,
    NONE_BEFORE,
    PAINTED_MM,
    SETTLING_LENGTH_MM,
    WORN_PITCHES,
    By,
    Identified,
    Settling,
    Verdict,
    beyond_mm,
    identify,
    if_it_were,
    sound_span,
)
from fingertight.tighten.threads.lookalikes import LookAlike, Meeting, Meets, look_alikes
from fingertight.tighten.threads.measured import EXAMPLE, Measured, read_measured
from fingertight.tighten.threads.names import INCH_MM, SERIES, Thread, thread_named

_WERE = {"worn": "if it is worn", "painted": "if it is painted or dirty", "inside": "if it is the bore of a hole",
         "inches": "if that is inches"}  # fmt: skip


@dataclass(frozen=True)
class ReadingCard(Card):
    """What was read: the diameter over the crests [mm], the step of its last digit [mm], the pitch [mm] or None."""

    diameter_mm: float
    step_mm: float
    pitch_mm: float | None
    counted: bool
    inside: bool
    worn: bool
    painted: bool


@dataclass(frozen=True)
class CandidateCard(Card):
    """A thread that may be it: its probability (0 to 1), what a sound one measures there [mm], its pitch."""

    thread: str
    series: str
    probability: float
    least_mm: float
    most_mm: float
    pitch_mm: float
    threads_per_inch: float


@dataclass(frozen=True)
class SettlingCard(Card):
    """The measurement that settles the first two, what each would show [mm, threads, deg]; `said` is the sentence."""

    by: str
    first: float | None
    second: float | None
    separation: float
    said: str


@dataclass(frozen=True)
class MeetingCard(Card):
    """How a bolt ends in a hole, and after how many turns a sound pair binds: None where it never does."""

    ends: str
    least_turns: float | None
    most_turns: float | None
    said: str


@dataclass(frozen=True)
class LookAlikeCard(Card):
    """A thread that is taken for the first candidate, and how the two meet both ways."""

    thread: str
    bolt_in_its_hole: MeetingCard
    its_bolt_in_this_hole: MeetingCard


@dataclass(frozen=True)
class IfCard(Card):
    """What the reading would be if it were worn, painted, a bore, or inches."""

    what: str
    thread: str
    probability: float


@dataclass(frozen=True)
class IdentifyCard(SumCard):
    """The candidates, how probable it is that none is right, the verdict (sure, likely, open, none), what settles."""

    asked: str
    reading: ReadingCard
    verdict: str
    candidates: tuple[CandidateCard, ...]
    none_probability: float
    settling: SettlingCard
    must_not_meet: tuple[LookAlikeCard, ...]
    if_it_were: tuple[IfCard, ...]
    remark: str

    @property
    def is_no(self) -> bool:
        """Whether none fits."""
        return self.verdict == Verdict.NONE

    @property
    def answer(self) -> Answer:
        """The verdict, what would settle it, the candidates, and what must not be forced together."""
        first = self.candidates[0].thread if self.candidates else ""
        alike = tuple(
            (one.thread, one.bolt_in_its_hole.said, one.its_bolt_in_this_hole.said) for one in self.must_not_meet
        )
        return Answer(
            title=f"“{self.asked}”: {'none of the tables' if self.is_no else first}",
            lead=self._lead(),
            sections=(
                Section("Candidates", self._rows(), ("how likely", "thread", self._measures(), "pitch")),
                Section(
                    f"Taken for {first}, never to be forced together",
                    alike,
                    ("thread", f"{first} bolt in its hole", f"its bolt in the {first} hole"),
                ),
            )
            if not self.is_no
            else (),
            cautions=("Start every bolt by fingers; one that binds within a few turns is the wrong thread.",)
            if alike
            else (),
            notes=(self._reckoned(),),
            sources=(
                "limits of sound threads: ISO 965-1, ASME B1.1, BS 84, ISO 228-1",
                "how usual a thread is, and how far a reading is off: common practice, no source",
            ),
        )

    def _lead(self) -> tuple[str, ...]:
        if self.is_no:
            other = tuple(f"It would be {one.thread} {_WERE[one.what]}." for one in self.if_it_were)
            again = "Measure again, over the crests, and read the pitch too."
            return ("No thread of the tables measures like that.", *(other or (again,)))
        first, *others = self.candidates
        may = [f"{one.thread} ({_percent(one.probability)})" for one in others[:2]]
        how = {"sure": "It is", "likely": "Most likely it is", "open": "It may be"}[self.verdict]
        said = f"{how} {first.thread} ({_percent(first.probability)})"
        if may and self.verdict != Verdict.SURE:
            said += f", or {' or '.join(may)}"
        return tuple(sentence for sentence in (f"{said}.", self.settling.said, self.remark) if sentence)

    def _measures(self) -> str:
        return "bore of a sound hole" if self.reading.inside else "a sound bolt measures"

    def _rows(self) -> tuple[tuple[str, ...], ...]:
        rows = [
            (
                _percent(one.probability),
                one.thread,
                _span(one.least_mm, one.most_mm),
                _pitch_of(thread_named(one.thread)),
            )
            for one in self.candidates
        ]
        return (*rows, (_percent(self.none_probability), "none of the tables", "", ""))

    def _reckoned(self) -> str:
        """The figures behind the percentages, those that were used."""
        reading = self.reading
        caliper = INSIDE_CALIPER_MM if reading.inside else CALIPER_MM
        said = [f"caliper ± {plain(caliper)} mm"]
        if reading.pitch_mm is not None:
            said.append(
                f"a count ± {plain(COUNT_THREADS)} threads"
                if reading.counted
                else f"a leaf ± {plain(LEAF_SHARE * 100)} %"
            )
        if reading.worn:
            said.append(f"wear up to {plain(WORN_PITCHES)} of the pitch")
        if reading.painted:
            said.append(f"paint up to {plain(PAINTED_MM)} mm")
        said.append(f"{plain(NONE_BEFORE * 100)} % of threads in no table")
        return f"Reckoned with: {', '.join(said)} (common practice, no source; ± is one standard deviation)."


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
        reading=ReadingCard(
            measured.diameter_mm,
            measured.step_mm,
            measured.pitch.pitch_mm if measured.pitch else None,
            bool(measured.pitch and measured.pitch.counted),
            measured.inside,
            measured.worn,
            measured.painted,
        ),
        verdict=found.verdict.value,
        candidates=tuple(_candidate(one.thread, one.probability, inside=measured.inside) for one in found.candidates),
        none_probability=round(found.none_probability, 6),
        settling=_settling(found),
        must_not_meet=tuple(_alike(one) for one in look_alikes(first)) if first else (),
        if_it_were=tuple(
            IfCard(what, other.candidates[0].thread.name, round(other.candidates[0].probability, 6))
            for what, other in (if_it_were(measured) if is_none else ())
        ),
        remark=_remark(first, measured) if first else "",
    )


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


def _settling(found: Identified) -> SettlingCard:
    way = found.settling
    names = [one.thread for one in found.candidates[:2]]
    said = "" if found.verdict is Verdict.NONE else _settling_said(way, *names)
    asked = way.by not in {By.NOTHING, By.FINGERS}
    first = round(way.first, 6) if asked else None
    second = round(way.second, 6) if way.second is not None else None
    return SettlingCard(way.by.value, first, second, round(way.separation, 2), said)


def _settling_said(way: Settling, first: Thread, second: Thread | None = None) -> str:
    """The measurement as something to do, with what each of the two would show."""
    if way.by is By.NOTHING:
        return "Nothing more is needed."
    if way.by is By.LEAF and (second is None or way.second is None):
        return f"A pitch gauge would confirm it: {_pitch_of(first)}."
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
            f"To settle it, take a pitch gauge: {first.name} has {_pitch_of(first)}, {second.name} {_pitch_of(second)}."
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
    caliper = INSIDE_CALIPER_MM if measured.inside else CALIPER_MM
    if abs(off_mm) <= 1.5 * caliper:
        return ""
    sound = f"a sound {first.name} {'bore' if measured.inside else 'bolt'}"
    small = off_mm < 0
    why = "worn, or read askew" if small is not measured.inside else "plated, painted or dirty, or read askew"
    return f"It reads {shown(abs(off_mm), 0.01)} mm {'under' if small else 'over'} {sound}: {why}."


def _pitch_of(thread: Thread) -> str:
    if thread.series in {"coarse", "fine"}:
        return f"{plain(thread.pitch_mm)} mm"
    return f"{plain(thread.threads_per_inch)} to the inch ({shown(thread.pitch_mm, 0.01)} mm)"


def _span(least_mm: float, most_mm: float) -> str:
    inches = f"{shown(least_mm / INCH_MM, 0.001)} to {shown(most_mm / INCH_MM, 0.001)} in"
    return f"{shown(least_mm, 0.01)} to {shown(most_mm, 0.01)} mm, {inches}"


def _caliper(size_mm: float) -> str:
    return f"{shown(size_mm, 0.01)} mm ({shown(size_mm / INCH_MM, 0.001)} in)"


def _percent(probability: float) -> str:
    if probability > 0.99:
        return "over 99 %"
    return "under 1 %" if probability < 0.01 else f"{round(probability * 100)} %"


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
