"""Which thread was measured, as a page: candidates, what would settle it, and what must not be forced together."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.quantity import plain, shown
from fingertight.tighten.threads.identify import (
    NONE_BEFORE,
    PAINTED_MM,
    TAPER_LENGTH_MM,
    WORN_PITCHES,
    By,
    Verdict,
)
from fingertight.tighten.threads.names import INCH_MM, TAPER, Thread, thread_named

_WERE = {"worn": "if it is worn", "painted": "if it is painted or dirty", "inside": "if it is the bore of a hole",
         "inches": "if that is inches"}  # fmt: skip


@dataclass(frozen=True)
class ReadingCard(Card):
    """What was read: the diameter over the crests [mm], the step of its last digit [mm], the pitch [mm] or None.

    about: whether the diameter was said to be rough. caliper_mm, pitch_error: one standard deviation of the caliper
    [mm], and of a count [threads] or a leaf of a gauge [share]; rounding_mm: the most by the last digit [mm].
    """

    diameter_mm: float
    step_mm: float
    pitch_mm: float | None
    counted: bool
    about: bool
    caliper_mm: float
    rounding_mm: float
    pitch_error: float | None
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
class TaperCard(Card):
    """A taper pipe thread that measures alike or near: over its crests at the thin end and at the thick one [mm]."""

    thread: str
    parallel: str
    least_mm: float
    most_mm: float
    threads_per_inch: float
    source: str


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
    taper_pipes: tuple[TaperCard, ...]
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
            notes=(*self._tapered(), self._reckoned()),
            sources=(
                "limits of sound threads: ISO 965-1, ASME B1.1, BS 84, ISO 228-1",
                *((f"taper pipe threads: {_and_sources(self.taper_pipes)}",) if self.taper_pipes else ()),
                "how usual a thread is, and how far a reading is off: common practice, no source",
            ),
        )

    def _lead(self) -> tuple[str, ...]:
        if self.is_no:
            other = tuple(f"It would be {one.thread} {_WERE[one.what]}." for one in self.if_it_were)
            again = "Measure again, over the crests, and read the pitch too."
            tapers = " or ".join(one.thread for one in self.taper_pipes)
            taper = (f"{tapers} does, a taper pipe thread that stands in no table of sizes here.",) if tapers else ()
            return ("No thread of the tables measures like that.", *taper, *(other or ((again,) if not taper else ())))
        first, *others = self.candidates
        may = [f"{one.thread} ({_percent(one.probability)})" for one in others[:2]]
        how = {"sure": "It is", "likely": "Most likely it is", "open": "It may be"}[self.verdict]
        said = f"{how} {first.thread} ({_percent(first.probability)})"
        if may and self.verdict != Verdict.SURE:
            said += f", or {' or '.join(may)}"
        if self.settling.by == By.TAPER:
            said = f"If its thread is parallel, it is {first.thread} ({_percent(first.probability)})"
        return tuple(sentence for sentence in (f"{said}.", self.settling.said, self.remark) if sentence)

    def _measures(self) -> str:
        return "bore of a sound hole" if self.reading.inside else "a sound bolt measures"

    def _rows(self) -> tuple[tuple[str, ...], ...]:
        rows = [
            (
                _percent(one.probability),
                one.thread,
                _span(one.least_mm, one.most_mm),
                pitch_of(thread_named(one.thread)),
            )
            for one in self.candidates
        ]
        return (*rows, (_percent(self.none_probability), "none of the tables", "", ""))

    def _tapered(self) -> tuple[str, ...]:
        """The taper pipe threads that measure alike or near, and how to tell them."""
        if not self.taper_pipes:
            return ()
        alike = "; ".join(
            f"{one.thread} measures {shown(one.least_mm, 0.01)} to {shown(one.most_mm, 0.01)} mm along its thread, "
            f"{plain(one.threads_per_inch)} to the inch"
            for one in self.taper_pipes
        )
        grows = f"{shown(TAPER * TAPER_LENGTH_MM, 0.1)} mm in {plain(TAPER_LENGTH_MM)} mm"
        outside = " outside" if self.reading.inside else ""
        return (
            f"Taper pipe threads, which stand in no table of sizes here:{outside} {alike}. A taper thread grows along "
            f"its length, by {grows}; a parallel one does not. Never force the two together (common practice, no "
            "source).",
        )

    def _reckoned(self) -> str:
        """The figures behind the percentages, those that were used."""
        reading = self.reading
        twice = ", twice the usual for “about”" if reading.about else ""
        said = [f"caliper ± {plain(reading.caliper_mm)} mm{twice}"]
        said.append(f"rounding up to {plain(float(f'{reading.rounding_mm:.2g}'))} mm either way")
        if reading.pitch_mm is not None and reading.pitch_error is not None:
            said.append(
                f"a count ± {plain(round(reading.pitch_error, 3))} threads"
                if reading.counted
                else f"a leaf ± {plain(round(reading.pitch_error * 100, 3))} %"
            )
        if reading.worn:
            said.append(f"wear up to {plain(WORN_PITCHES)} of the pitch")
        if reading.painted:
            said.append(f"paint up to {plain(PAINTED_MM)} mm")
        said.append(f"{plain(NONE_BEFORE * 100)} % of threads in no table")
        return f"Reckoned with: {', '.join(said)} (common practice, no source; ± is one standard deviation)."


def pitch_of(thread: Thread) -> str:
    if thread.series in {"coarse", "fine"}:
        return f"{plain(thread.pitch_mm)} mm"
    return f"{plain(thread.threads_per_inch)} to the inch ({shown(thread.pitch_mm, 0.01)} mm)"


def _span(least_mm: float, most_mm: float) -> str:
    inches = f"{shown(least_mm / INCH_MM, 0.001)} to {shown(most_mm / INCH_MM, 0.001)} in"
    return f"{shown(least_mm, 0.01)} to {shown(most_mm, 0.01)} mm, {inches}"


def _percent(probability: float) -> str:
    if probability > 0.99:
        return "over 99 %"
    return "under 1 %" if probability < 0.01 else f"{round(probability * 100)} %"


def _and_sources(tapers: tuple[TaperCard, ...]) -> str:
    return " and ".join(dict.fromkeys(one.source for one in tapers))
