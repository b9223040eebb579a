"""A thread is told from what was measured, with probabilities that are true, and what would settle the rest."""

import math
from collections.abc import Callable
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.tighten.threads.identify import (
    NONE_BEFORE,
    By,
    Identified,
    Verdict,
    beyond_mm,
    errors_mm,
    identify,
    if_it_were,
    likelihood,
    pitch_error,
    sound_span,
)
from fingertight.tighten.threads.limits import bolt_limits
from fingertight.tighten.threads.lookalikes import usual_weights
from fingertight.tighten.threads.measured import Measured, PitchRead, read_measured
from fingertight.tighten.threads.names import Thread, thread_named, threads


def _found(sentence: str) -> Identified:
    return identify(read_measured(sentence))


@pytest.mark.parametrize(
    ("sentence", "name"),
    [
        ("5.9 mm, 10 threads in 10 mm", "M6"),
        ("6.3 mm, about 20 to the inch", "1/4-20 UNC"),
        ("0.31 in, 18 tpi", "5/16-18 UNC"),
        ("7,9 mm, pitch 1,25", "M8"),
        ("4.9 mm, pitch 0.8", "M5"),
        ("9.65 mm, 11 threads in 10 mm", "G1/8"),
        ("9.9 mm, pitch 1", "M10x1"),
        ("13.9 mm, pitch 1.25", "M14x1.25"),
        ("12.9 mm", "G1/4"),
        ("5.7 mm, 10 threads in 10 mm, worn", "M6"),
        ("6.1 mm, pitch 1, painted", "M6"),
        ("hole 5.0 mm, pitch 1", "M6"),
        ("hole 5.1 mm, 20 tpi", "1/4-20 UNC"),
        ("0.186 in, 24 tpi", "#10-24 UNC"),
        ("11.9 mm, 13 threads in 25 mm", "M12"),
    ],
)
def test_a_plain_reading_is_told(sentence: str, name: str) -> None:
    found = _found(sentence)
    assert found.candidates[0].thread.name == name
    assert found.verdict in {Verdict.SURE, Verdict.LIKELY}


@pytest.mark.parametrize("sentence", ["3 m", "20 mm with pitch 0.1", "0.001 mm", "99999999999 mm", "6 mm, pitch 3",
                                      "13.5 mm, pitch 0.5", "5.9 mm, 1000 threads in 10 mm"])  # fmt: skip
def test_nonsense_is_none_of_the_tables(sentence: str) -> None:
    found = _found(sentence)
    assert found.verdict is Verdict.NONE
    assert found.none_probability > 0.5


def test_a_rough_reading_leaves_several_threads_and_says_so() -> None:
    found = _found("about 6 mm")
    assert {one.thread.name for one in found.candidates} >= {"M6", "1/4-20 UNC", "1/4-28 UNF"}
    assert found.verdict is Verdict.OPEN
    assert 0.3 < found.candidates[0].probability < 0.8


def test_wear_and_paint_only_widen_the_way_they_work() -> None:
    small, large = read_measured("5.60 mm, pitch 1"), read_measured("6.12 mm, pitch 1")
    m6 = thread_named("M6")
    assert likelihood(m6, read_measured("5.60 mm, pitch 1, worn")) > 1e3 * likelihood(m6, small)
    assert likelihood(m6, read_measured("6.12 mm, pitch 1, painted")) > 5 * likelihood(m6, large)
    assert likelihood(m6, read_measured("6.12 mm, pitch 1, worn")) < likelihood(m6, large)
    # In a hole it is the other way round: wear opens the bore, paint closes it.
    assert likelihood(m6, read_measured("hole 5.45 mm, worn")) > likelihood(m6, read_measured("hole 5.45 mm"))
    assert likelihood(m6, read_measured("hole 4.60 mm, painted")) > likelihood(m6, read_measured("hole 4.60 mm"))


def test_the_probabilities_of_a_reading_make_one() -> None:
    for sentence in ("5.9 mm", "about 8 mm", "12.9 mm", "9.5 mm, 16 tpi"):
        found = _found(sentence)
        shown = sum(one.probability for one in found.candidates) + found.none_probability
        assert 0.9 < shown <= 1 + 1e-9


def test_a_density_of_the_diameter_sums_to_one() -> None:
    # Independent of the closed form: summed over all readings a caliper of 0.05 mm can show.
    for words in ("", ", worn", ", painted"):
        step = 0.05
        readings = [Measured(round(5 + index * step, 4), step, worn="worn" in words, painted="paint" in words)
                    for index in range(40)]  # fmt: skip
        assert sum(likelihood(thread_named("M6"), one) * step for one in readings) == pytest.approx(1, abs=1e-6)


@pytest.mark.parametrize(
    ("sentence", "by", "first", "second"),
    [
        # Same size and pitch, 55° against 60°: only the flanks tell.
        ("6.25 mm, 20 tpi", By.FLANK, 60, 55),
        ("7.9 mm", By.LEAF, 1.25, 25.4 / 18),
        ("5.9 mm, pitch 1", By.NOTHING, 0, None),
        # M6 or M7, both of pitch 1: the middles of their limits (ISO 965-2).
        ("about 6 mm, pitch 1", By.CALIPER, 5.884, 6.884),
        # M5 and #10-32 have all but one pitch; read finer, the caliper tells: middles of the limits.
        ("4.8 mm, 32 tpi", By.CALIPER, 4.901, 4.727),
        ("5.9 mm", By.LEAF, 1.0, None),
    ],
)
def test_the_one_measurement_that_settles_it_is_named_with_both_values(
    sentence: str, by: By, first: float, second: float | None
) -> None:
    settling = _found(sentence).settling
    assert settling.by is by
    assert settling.first == pytest.approx(first, abs=1e-3)
    assert settling.second == (None if second is None else pytest.approx(second, abs=1e-3))


@pytest.mark.parametrize(
    ("sentence", "tapers"),
    [
        ("9.6 mm, 28 tpi", {"R1/8", "1/8 NPT"}),
        ("13.1 mm, 19 tpi", {"R1/4", "1/4 NPT"}),
        ("hole 8.7 mm, 28 tpi", {"R1/8", "1/8 NPT"}),
        # Of no parallel thread's size, but of a taper one's, by ASME B1.20.1: 1/8 NPT from 9.87 to 10.29 mm.
        ("10.1 mm, 27 tpi", {"1/8 NPT"}),
        ("9.9 mm, pitch 1", set[str]()),
        ("5.9 mm, pitch 1", set[str]()),
    ],
)
def test_a_taper_pipe_thread_that_reads_alike_is_named(sentence: str, tapers: set[str]) -> None:
    found = _found(sentence)
    assert {one.name for one in found.tapers} == tapers
    assert found.verdict is not Verdict.SURE or not tapers


def test_a_parallel_pipe_thread_is_told_from_a_taper_one_at_two_places() -> None:
    found = _found("9.6 mm, 28 tpi")
    assert (found.verdict, found.settling.by) == (Verdict.LIKELY, By.TAPER)
    # ISO 7-1: the taper is 1 in 16, so 5 mm along the thread make 5/16 mm.
    assert (found.settling.first, found.settling.second) == (0.0, 5 / 16)


def test_about_doubles_what_the_reading_may_be_off() -> None:
    assert errors_mm(read_measured("6.0 mm")) == pytest.approx((0.03, 0.05))
    assert errors_mm(read_measured("about 6.0 mm")) == pytest.approx((0.06, 0.1))
    assert errors_mm(read_measured("hole 6.0 mm")) == pytest.approx((0.08, 0.05))
    assert pitch_error(PitchRead(10, 10.0, True, about=True)) == pytest.approx(0.8)
    assert pitch_error(PitchRead(1, 1.25, False)) == pytest.approx(0.02)


def test_half_an_inch_is_no_rough_size_because_it_is_written_as_a_decimal() -> None:
    # ASME B1.1 and BS 84: half-inch bolts measure about 12.5 mm, M12 at most 11.97 (ISO 965-2), M14 at least 13.68.
    assert {one.thread.size for one in _found("0.5 in").candidates} <= {"1/2", "1/4"}
    assert _found("0.5 in") == _found("1/2 in")


def test_a_pitch_next_to_nothing_has_an_answer_too() -> None:
    assert identify(Measured(5.9, 0.1, pitch=PitchRead(1.0, 1e-10, False))).verdict is Verdict.NONE


def test_when_no_gauge_tells_two_apart_the_fingers_are_asked() -> None:
    # Read as finely as a caliper can, between the two: M5 and #10-32.
    settling = _found("4.81 mm, 32 tpi").settling
    assert settling.by is By.FINGERS


def test_the_measurement_that_settles_it_does_settle_it() -> None:
    # Follow the advice with a fresh reading from the middle of the first candidate's limits.
    for sentence in ("about 6 mm", "7.9 mm", "about 8 mm", "9.5 mm", "4.8 mm", "11.9 mm", "about 10 mm"):
        found = _found(sentence)
        thread, before = found.candidates[0].thread, found.candidates[0].probability
        middle = sum(sound_span(thread, inside=False)) / 2
        read = read_measured(sentence)
        if found.settling.by is By.CALIPER:
            after = identify(Measured(round(middle, 2), 0.01, pitch=read.pitch))
        else:
            assert found.settling.by is By.LEAF
            after = identify(Measured(read.diameter_mm, read.step_mm, read.about, PitchRead(1, thread.pitch_mm, False)))
        assert after.candidates[0].thread == thread
        assert after.candidates[0].probability > before


def test_a_reading_that_fits_nothing_is_tried_as_inches_worn_painted_and_as_a_hole() -> None:
    assert [(what, found.candidates[0].thread.name) for what, found in if_it_were(read_measured("0.3125, 18 tpi"))] == [
        ("inches", "5/16-18 UNC")
    ]
    assert {what for what, _ in if_it_were(read_measured("5.62 mm, pitch 1"))} >= {"worn"}
    assert if_it_were(read_measured("3 m")) == ()


def test_a_reading_outside_a_sound_thread_says_by_how_much() -> None:
    # ISO 965-2, M6 6g: 5.794 to 5.974 mm.
    m6 = thread_named("M6")
    assert beyond_mm(m6, read_measured("5.90 mm")) == 0
    assert beyond_mm(m6, read_measured("5.70 mm")) == pytest.approx(5.705 - 5.794, abs=1e-3)
    assert beyond_mm(m6, read_measured("6.10 mm")) == pytest.approx(6.095 - 5.974, abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(st.floats(1e-9, 1e15), st.floats(1e-6, 1e6), st.booleans(), st.booleans())
def test_any_reading_has_an_answer(diameter_mm: float, pitch_mm: float, counted: bool, about: bool) -> None:
    pitch = PitchRead(max(10 / pitch_mm, 1.0), 10.0, True, about) if counted else PitchRead(1.0, pitch_mm, False, about)
    found = identify(Measured(diameter_mm, 0.1, about, pitch))
    assert all(0 <= one.probability <= 1 + 1e-9 and math.isfinite(one.probability) for one in found.candidates)
    assert 0 <= found.none_probability <= 1


@pytest.mark.parametrize("name", ["M3", "M6", "M8x1", "1/4-28 UNF", "5/16-18 UNC", "3/8-16 BSW", "G1/4"])
def test_every_thread_is_found_from_the_middle_of_its_own_limits(name: str) -> None:
    thread = thread_named(name)
    read = Measured(round(sum(bolt_limits(thread).major_mm) / 2, 2), 0.01, pitch=PitchRead(1, thread.pitch_mm, False))
    found = [one for one in identify(read).candidates if one.thread == thread]
    assert found
    assert found[0].probability > 0.05


# Whether the stated probabilities are true, by simulation; the seeds are fixed, so that it is the same each time.
DRAWS = 3000


def _drawn(random: Random, power: float) -> Thread:
    weights = usual_weights()
    return random.choices(list(threads().values()), [weight**power for weight in weights.values()])[0]


def _by_our_own_model(random: Random) -> tuple[Thread | None, Measured]:
    """As `identify` takes it; in 3 % of the draws there is no such thread, and any size is as good as any other."""
    if random.random() < NONE_BEFORE:
        diameter = 0.5 * 10 ** (4 * random.random())
        pitch_mm = 0.05 * 400 ** random.random()
        return None, Measured(diameter, 0.01, pitch=random.choice([None, PitchRead(1.0, pitch_mm, False)]))
    thread = _drawn(random, 1.0)
    size = random.uniform(*sound_span(thread, inside=False)) + random.gauss(0, 0.03)
    step = random.choice([0.01, 0.1, 0.1])
    kind = random.choice(["none", "count", "leaf"])
    pitch = None
    if kind == "count":
        pitch = PitchRead(max(round(10 / thread.pitch_mm + random.gauss(0, 0.4)), 1), 10.0, True)
    elif kind == "leaf":
        pitch = PitchRead(1.0, thread.pitch_mm * random.gauss(1, 0.02), False)
    return thread, Measured(max(round(size / step), 1) * step, step, pitch=pitch)


def _by_another_model(random: Random) -> tuple[Thread | None, Measured]:
    """Bolts from the middle of their limits, a caliper that is off by up to 0.06 mm, whole threads in a window of 10 mm
    laid on anywhere, leaves that only come in the sizes there are, and threads met less unequally."""
    thread = _drawn(random, 0.8)
    least, most = sound_span(thread, inside=False)
    size = random.triangular(least, most) + random.uniform(-0.06, 0.06)
    kind = random.choice(["none", "count", "leaf"])
    pitch = None
    if kind == "count":
        pitch = PitchRead(max(math.floor(10 / thread.pitch_mm + random.random()), 1), 10.0, True)
    elif kind == "leaf":
        leaves = sorted({other.pitch_mm for other in threads().values()}, key=lambda leaf: abs(leaf - thread.pitch_mm))
        pitch = PitchRead(1.0, leaves[0] if random.random() < 0.95 else leaves[1], False)
    return thread, Measured(max(round(size / 0.05), 1) * 0.05, 0.05, pitch=pitch)


def _calibration(draw: Callable[[Random], tuple[Thread | None, Measured]], seed: int) -> list[tuple[float, bool]]:
    """Each stated probability, and whether that thread was it."""
    random = Random(seed)
    said = []
    for _ in range(DRAWS):
        thread, measured = draw(random)
        said += [(one.probability, one.thread == thread) for one in identify(measured).candidates]
    return said


BINS = [(0.0, 0.1), (0.1, 0.4), (0.4, 0.7), (0.7, 0.95), (0.95, 1.01)]


def test_the_probabilities_are_true_when_bolts_and_readings_are_as_assumed() -> None:
    said = _calibration(_by_our_own_model, 11)
    for low, high in BINS:
        inside = [(probability, right) for probability, right in said if low <= probability < high]
        expected = sum(probability for probability, _ in inside)
        scatter = math.sqrt(sum(probability * (1 - probability) for probability, _ in inside))
        hits = sum(right for _, right in inside)
        assert len(inside) > 300
        assert abs(hits - expected) <= 3.5 * scatter, f"{low} to {high}: {hits} right, {expected:.1f} said"


def test_the_probabilities_stay_near_the_truth_when_bolts_and_readings_are_otherwise() -> None:
    said = _calibration(_by_another_model, 12)
    for low, high in BINS:
        inside = [(probability, right) for probability, right in said if low <= probability < high]
        stated = sum(probability for probability, _ in inside) / len(inside)
        true = sum(right for _, right in inside) / len(inside)
        sampling = 3 * math.sqrt(max(stated * (1 - stated), 0.01) / len(inside))
        assert abs(true - stated) <= 0.03 + sampling, f"{low} to {high}: {true:.2f} true, {stated:.2f} said"
