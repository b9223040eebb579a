"""Which thread was measured? Candidates with their probabilities, and the one measurement that would settle it."""

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from fingertight.tighten.threads.limits import Span, bolt_limits, nut_limits
from fingertight.tighten.threads.lookalikes import usual_weights
from fingertight.tighten.threads.measured import Measured, PitchRead
from fingertight.tighten.threads.names import INCH_MM, TAPER, TaperPipe, Thread, taper_pipes, threads

# How wrong a reading is, as one standard deviation. Common practice, no source: what several people read off one bolt.
CALIPER_MM = 0.03
INSIDE_CALIPER_MM = 0.08
COUNT_THREADS = 0.4
LEAF_SHARE = 0.02
# A crest worn from its flat of P/8 (ISO 68-1) to one of P/4 has lost this much of the diameter, in pitches.
WORN_PITCHES = 0.217
# Paint, zinc or baked-on dirt, both sides together; common practice, no source.
PAINTED_MM = 0.2
# How often a thread on the bench is in no table here, or the reading is a slip; common practice, no source.
NONE_BEFORE = 0.03
_NONE_MM, _NONE_PITCH_MM = (0.5, 5000.0), (0.05, 20.0)
_SHIFTS = 12
# 55° against 60° on a flank gauge: light shows; common practice, no source. Beyond _PLAIN nothing gets any plainer.
_FLANK_SEPARATION, _PLAIN, _ENOUGH = 3.0, 5.0, 2.0
_FINE_STEP_MM = 0.05
_FITS_WELL = 0.1
_SURE, _LEAST_SHOWN, _MOST_SHOWN = 0.98, 0.01, 6
SETTLING_LENGTH_MM = 25.0
# Far enough apart for a caliper to show the taper, and no longer than the shortest pipe thread: our own choice.
TAPER_LENGTH_MM = 5.0


class Verdict(StrEnum):
    """How sure it is."""

    SURE = "sure"
    LIKELY = "likely"
    OPEN = "open"
    NONE = "none"


class By(StrEnum):
    """What would tell the first two candidates apart."""

    NOTHING = "nothing more is needed"
    CALIPER = "caliper on a clean place"
    LEAF = "pitch gauge"
    COUNT = "threads counted over a longer length"
    FLANK = "flank angle"
    TAPER = "caliper at two places along the thread"
    FINGERS = "a nut of known thread, by fingers"


@dataclass(frozen=True, slots=True)
class Candidate:
    """A thread, and how probable it is after the reading (0 to 1)."""

    thread: Thread
    probability: float


@dataclass(frozen=True, slots=True)
class Settling:
    """The measurement that tells the first two apart, what each would show [mm, threads, deg], and how far apart.

    second: None where there is one candidate, which the measurement would confirm. separation: the difference in
    standard deviations of that measurement, 0 where nothing is needed or nothing helps.
    """

    by: By
    first: float = 0.0
    second: float | None = None
    separation: float = 0.0


@dataclass(frozen=True, slots=True)
class Identified:
    """The candidates, most probable first, how probable it is that none is right, and what would settle it.

    tapers: taper pipe threads, of no table of sizes here, that would read the same, and those of the first one's size.
    """

    candidates: tuple[Candidate, ...]
    none_probability: float
    verdict: Verdict
    settling: Settling
    tapers: tuple[TaperPipe, ...] = ()


def identify(measured: Measured) -> Identified:
    """Which thread of the tables was measured?

    Bayes: P(thread | reading) ∝ how usual it is · P(diameter | thread) · P(pitch | thread). A sound diameter lies
    anywhere between its limits; the caliper adds a normal error, the last digit its rounding; wear takes up to 0.217 P
    off the outside (a bore grows), paint adds up to 0.2 mm (a bore shrinks). A count is off by 0.4 threads, a leaf of a
    gauge by 2 % (one standard deviation, twice that where the reading says “about”). Against the threads stands “none
    of them”, 3 % beforehand, with any diameter and any pitch.

    measured: the reading. Returns the candidates of 1 % and more, at most six, the probability of none, the verdict
    (sure from 98 %, likely from 80 %, none where none is the likeliest) and what would settle the first two. A parallel
    pipe thread is never more than likely: the taper one of its size reads alike and is not among the candidates.

    It holds for one reading at one place of one thread; how usual threads are and the errors are common practice, no
    source, and are said so where they are used.

    >>> from fingertight.tighten.threads.measured import read_measured
    >>> found = identify(read_measured("5.9 mm, 10 threads in 10 mm"))
    >>> found.candidates[0].thread.name, found.verdict.value
    ('M6', 'sure')
    >>> identify(read_measured("3 m")).verdict.value
    'none'

    Raises nothing: any reading has an answer.
    Source: limits as in limits.py; calibration checked by simulation (tests/tighten/test_identify.py).
    """
    weights = usual_weights()
    scale = (1 - NONE_BEFORE) / sum(weights.values())
    found = [
        (thread, weights[name] * scale * likelihood(thread, measured))
        for name, thread in threads().items()
        if _near(thread, measured)
    ]
    none = NONE_BEFORE * none_likelihood(measured)
    total = none + sum(weight for _, weight in found)
    if total <= 0 or not math.isfinite(total):
        return Identified((), 1.0, Verdict.NONE, Settling(By.NOTHING), _tapers((), measured))
    ranked = sorted((Candidate(thread, weight / total) for thread, weight in found), key=lambda one: -one.probability)
    shown = tuple(one for one in ranked[:_MOST_SHOWN] if one.probability >= _LEAST_SHOWN)
    verdict, tapers = _verdict(shown, none / total), _tapers(shown, measured)
    return Identified(shown, none / total, verdict, _settling(shown, measured, verdict), tapers)


def likelihood(thread: Thread, measured: Measured) -> float:
    """How probable is this reading if it is a sound thread of this name? As a density in mm of diameter, and of pitch.

    thread: one of the tables. measured: the reading. Returns a density, for comparing threads.

    >>> from fingertight.tighten.threads.measured import read_measured
    >>> from fingertight.tighten.threads.names import thread_named
    >>> reading = read_measured("5.90 mm")
    >>> likelihood(thread_named("M6"), reading) > 5, likelihood(thread_named("M8"), reading) < 1e-9
    (True, True)

    Raises nothing for a thread of the tables.
    Source: the model of `identify`.
    """
    across = _diameter_density(thread, measured)
    return across * _pitch_likelihood(thread.pitch_mm, measured.pitch) if across and measured.pitch else across


def none_likelihood(measured: Measured) -> float:
    """How probable is this reading if it is no thread of the tables? On the scale of `likelihood`, for comparing.

    Any diameter from 0.5 mm to 5 m and any pitch from 0.05 to 20 mm, as many in every decade: 1/(d ln 10⁴), and
    1/(P ln 400) or, for a count of n threads, ln((n + ½)/(n − ½)) / ln 400.

    measured: the reading. Returns a density.

    >>> from fingertight.tighten.threads.measured import read_measured
    >>> round(none_likelihood(read_measured("6 mm")), 4)
    0.0181

    Raises nothing.
    Source: common practice, no source: it stands for special threads and for slips of the reading.
    """
    across = 1 / (measured.diameter_mm * math.log(_NONE_MM[1] / _NONE_MM[0]))
    decades = math.log(_NONE_PITCH_MM[1] / _NONE_PITCH_MM[0])
    if measured.pitch is None:
        return across
    if measured.pitch.counted:
        count = measured.pitch.threads
        return across * math.log((count + 0.5) / max(count - 0.5, 0.5)) / decades
    return across / (measured.pitch.pitch_mm * decades)


def if_it_were(measured: Measured) -> tuple[tuple[str, Identified], ...]:
    """What would a reading that fits nothing mean if it were worn, painted, a hole, or in inches? Only what then fits.

    measured: the reading. Returns pairs of what it would have to be ("worn", "painted", "inside", "inches") and the
    answer.

    >>> from fingertight.tighten.threads.measured import read_measured
    >>> [(what, found.candidates[0].thread.name) for what, found in if_it_were(read_measured("0.3125, 18 tpi"))]
    [('inches', '5/16-18 UNC')]

    Raises nothing.
    Source: the model of `identify`.
    """
    others: dict[str, Measured] = {}
    if not measured.worn:
        others["worn"] = replace(measured, worn=True)
    if not measured.painted:
        others["painted"] = replace(measured, painted=True)
    if not measured.inside:
        others["inside"] = replace(measured, inside=True)
    if not measured.unit_said:
        inches = measured.diameter_mm * INCH_MM
        others["inches"] = replace(measured, diameter_mm=inches, step_mm=measured.step_mm * INCH_MM)
    answers = ((what, identify(other)) for what, other in others.items())
    return tuple((what, found) for what, found in answers if found.none_probability < _FITS_WELL)


def sound_span(thread: Thread, *, inside: bool) -> Span:
    """Between which sizes does a caliper read over sound crests: outside, or the bore of a hole [mm]?

    >>> from fingertight.tighten.threads.names import thread_named
    >>> [round(size, 3) for size in sound_span(thread_named("M6"), inside=False)]
    [5.794, 5.974]

    Raises nothing for a thread of the tables.
    Source: as `bolt_limits` and `nut_limits`.
    """
    return nut_limits(thread).minor_mm if inside else bolt_limits(thread).major_mm


def beyond_mm(thread: Thread, measured: Measured) -> float:
    """How far does the reading lie outside a sound thread of this name, beyond its rounding: under 0 too small [mm]?

    >>> from fingertight.tighten.threads.measured import read_measured
    >>> from fingertight.tighten.threads.names import thread_named
    >>> round(beyond_mm(thread_named("M6"), read_measured("5.70 mm")), 3)
    -0.089

    Raises nothing for a thread of the tables.
    Source: as `sound_span`.
    """
    least, most = sound_span(thread, inside=measured.inside)
    half = errors_mm(measured)[1]
    return min(measured.diameter_mm + half - least, 0.0) + max(measured.diameter_mm - half - most, 0.0)


def errors_mm(measured: Measured) -> tuple[float, float]:
    """How far off is the reading taken to be: one standard deviation of the caliper, and the most by its rounding [mm]?

    The caliper ± 0.03 mm, inside ± 0.08 mm, and half of the last digit; twice both where “about” was said.

    >>> from fingertight.tighten.threads.measured import read_measured
    >>> errors_mm(read_measured("5.9 mm")), errors_mm(read_measured("about 6 mm"))
    ((0.03, 0.05), (0.06, 1.0))

    Raises nothing. Source: common practice, no source.
    """
    caliper = INSIDE_CALIPER_MM if measured.inside else CALIPER_MM
    return (2 * caliper, measured.step_mm) if measured.about else (caliper, measured.step_mm / 2)


def pitch_error(read: PitchRead) -> float:
    """How far off is a pitch taken to be, as one standard deviation: threads of a count, or a share of a leaf?

    A count ± 0.4 threads, a leaf of a gauge ± 2 %; twice that where “about” was said.

    >>> pitch_error(PitchRead(10, 10, True)), pitch_error(PitchRead(1, 1.25, False, about=True))
    (0.4, 0.04)

    Raises nothing. Source: common practice, no source.
    """
    return (2.0 if read.about else 1.0) * (COUNT_THREADS if read.counted else LEAF_SHARE)


def _verdict(shown: tuple[Candidate, ...], none: float) -> Verdict:
    best = shown[0].probability if shown else 0.0
    if none >= best:
        return Verdict.NONE
    sure = best >= _SURE and not _has_taper(shown[0].thread)
    return Verdict.SURE if sure else Verdict.LIKELY if best >= 0.8 else Verdict.OPEN


def _has_taper(thread: Thread) -> bool:
    """Whether there is a taper pipe thread of the same pitch and size (ISO 7-1)."""
    return any(one.name == f"R{thread.size}" for one in taper_pipes()) if thread.series == "G" else False


def _tapers(shown: tuple[Candidate, ...], measured: Measured) -> tuple[TaperPipe, ...]:
    """Those of the first candidate's size, and those that the reading fits, where a pitch was read."""
    first = shown[0].thread.name if shown else ""
    deviation, half = errors_mm(measured)
    room, read = 3 * deviation + half, measured.pitch

    def fits(taper: TaperPipe) -> bool:
        if read is None or measured.inside or not taper.least_mm - room < measured.diameter_mm < taper.most_mm + room:
            return False
        pitch_mm = INCH_MM / taper.threads_per_inch
        off = read.length_mm / pitch_mm - read.threads if read.counted else read.pitch_mm / pitch_mm - 1
        return abs(off) <= 3 * pitch_error(read) + (0.5 if read.counted else 0.0)

    return tuple(taper for taper in taper_pipes() if taper.parallel == first or fits(taper))


def _shift(thread: Thread, measured: Measured) -> Span:
    """How far wear and paint may move the size: down, up [mm]."""
    wear = WORN_PITCHES * thread.pitch_mm if measured.worn else 0.0
    paint = PAINTED_MM if measured.painted else 0.0
    return (-paint, wear) if measured.inside else (-wear, paint)


def _near(thread: Thread, measured: Measured) -> bool:
    """Whether the reading is near enough for a probability worth computing."""
    least, most = sound_span(thread, inside=measured.inside)
    down, up = _shift(thread, measured)
    deviation, half = errors_mm(measured)
    room = 8 * deviation + half
    return least + down - room < measured.diameter_mm < most + up + room


def _diameter_density(thread: Thread, measured: Measured) -> float:
    """Anywhere between the limits, moved by wear and paint, plus the caliper's error, seen as it was rounded."""
    least, most = sound_span(thread, inside=measured.inside)
    down, up = _shift(thread, measured)
    deviation, half = errors_mm(measured)
    shifts = [down + (up - down) * (step + 0.5) / _SHIFTS for step in range(_SHIFTS)] if up > down else [0.0]
    low, high = measured.diameter_mm - half, measured.diameter_mm + half
    mass = 0.0
    for shift in shifts:
        from_least = _ramp((high - least - shift) / deviation) - _ramp((low - least - shift) / deviation)
        from_most = _ramp((high - most - shift) / deviation) - _ramp((low - most - shift) / deviation)
        mass += max(from_least - from_most, 0.0) * deviation / (most - least)
    return mass / len(shifts) / (2 * half)


def _pitch_likelihood(pitch_mm: float, read: PitchRead) -> float:
    """A count is a whole number near the true one; a leaf of a gauge is near the true pitch."""
    if read.counted:
        true, deviation = read.length_mm / pitch_mm, pitch_error(read)
        return _below((read.threads + 0.5 - true) / deviation) - _below((read.threads - 0.5 - true) / deviation)
    deviation = pitch_error(read) * pitch_mm
    return math.exp(-0.5 * ((read.pitch_mm - pitch_mm) / deviation) ** 2) / (deviation * math.sqrt(2 * math.pi))


def _settling(shown: tuple[Candidate, ...], measured: Measured, verdict: Verdict) -> Settling:
    """Of what has not been read well yet: the plainest; among equals the one that is nearest to hand."""
    read = measured.pitch
    if verdict is Verdict.NONE:
        return Settling(By.NOTHING)
    if read and _has_taper(shown[0].thread) and shown[0].probability >= _SURE:
        grows_mm = TAPER * TAPER_LENGTH_MM
        return Settling(By.TAPER, 0.0, grows_mm, grows_mm / (math.sqrt(2) * CALIPER_MM))
    if len(shown) < 2 or verdict is Verdict.SURE:
        # One candidate by its diameter alone is still a guess about the pitch.
        return Settling(By.NOTHING) if read else Settling(By.LEAF, shown[0].thread.pitch_mm)
    first, second = shown[0].thread, shown[1].thread
    ways: list[Settling] = []
    if measured.about or measured.worn or measured.painted or measured.step_mm > _FINE_STEP_MM:
        ways.append(_by_caliper(first, second, inside=measured.inside))
    if read is None or read.counted or read.about:
        apart = abs(first.pitch_mm - second.pitch_mm) / (LEAF_SHARE * (first.pitch_mm + second.pitch_mm) / 2)
        ways.append(Settling(By.LEAF, first.pitch_mm, second.pitch_mm, apart))
    if not measured.inside and (read is None or read.about or (read.counted and read.length_mm < SETTLING_LENGTH_MM)):
        counts = SETTLING_LENGTH_MM / first.pitch_mm, SETTLING_LENGTH_MM / second.pitch_mm
        ways.append(Settling(By.COUNT, *counts, abs(counts[0] - counts[1]) / COUNT_THREADS))
    if first.flank_angle_deg != second.flank_angle_deg:
        ways.append(Settling(By.FLANK, first.flank_angle_deg, second.flank_angle_deg, _FLANK_SEPARATION))
    best = max(ways, key=lambda way: min(way.separation, _PLAIN), default=Settling(By.FINGERS))
    return best if best.separation >= _ENOUGH else Settling(By.FINGERS)


def _by_caliper(first: Thread, second: Thread, *, inside: bool) -> Settling:
    """The middles of both spans, apart in what a caliper and the limits scatter."""
    deviation = INSIDE_CALIPER_MM if inside else CALIPER_MM
    spans = [sound_span(one, inside=inside) for one in (first, second)]
    middles = [(least + most) / 2 for least, most in spans]
    scatter = [deviation**2 + (most - least) ** 2 / 12 for least, most in spans]
    return Settling(By.CALIPER, middles[0], middles[1], abs(middles[0] - middles[1]) / math.sqrt(sum(scatter) / 2))


def _below(deviations: float) -> float:
    """The normal distribution: the share below."""
    return 0.5 * math.erfc(-deviations / math.sqrt(2))


def _ramp(deviations: float) -> float:
    """The integral of `_below`, from −∞: z Φ(z) + φ(z)."""
    return deviations * _below(deviations) + math.exp(-0.5 * deviations**2) / math.sqrt(2 * math.pi)
