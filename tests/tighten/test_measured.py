"""What a caliper and a pitch gauge said is read as people write it, or refused with a sentence that mends it."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.quantity import NotUnderstood
from fingertight.tighten.threads.measured import EXAMPLE, Measured, PitchRead, read_measured


@pytest.mark.parametrize(
    ("sentence", "diameter_mm", "step_mm", "pitch_mm", "counted"),
    [
        ("5.9 mm, 10 threads in 10 mm", 5.9, 0.1, 1.0, True),
        ("6.3 mm, about 20 to the inch", 6.3, 0.1, 1.27, True),
        ("0.31 in, 18 tpi", 7.874, 0.254, 1.411, False),
        ("7,9 mm, pitch 1,25", 7.9, 0.1, 1.25, False),
        ("7.90 mm pitch gauge 1.25", 7.9, 0.01, 1.25, False),
        ("7.9 mm, 1.25 pitch", 7.9, 0.1, 1.25, False),
        ("5.9x1", 5.9, 0.1, 1.0, False),
        ("5,9 mm,10 threads in 10 mm", 5.9, 0.1, 1.0, True),
        ("5.9 mm, 10 threads in 10", 5.9, 0.1, 1.0, True),
        ("0.247 in, 20 threads in an inch", 6.2738, 0.0254, 1.27, True),
        ("0.31 in 20 threads in 1 in", 7.874, 0.254, 1.27, True),
        ('5/16" 18 t.p.i.', 7.9375, 25.4 / 32, 1.411, False),
        ("1-1/4 in, 7 tpi", 31.75, 25.4 / 32, 3.629, False),
        ("½ in, 13 per inch", 12.7, 25.4 / 32, 1.954, True),
        ("17/64 in, 28 threads/inch", 6.747, 25.4 / 64, 0.907, True),
        ("250 thou; 8 turns over 10 mm", 6.35, 0.0254, 1.25, True),
        ("the outside is 5.9 mm and the pitch is 1.", 5.9, 0.1, 1.0, False),
        ("3.2 cm, pitch 1.5 mm", 32.0, 1.0, 1.5, False),
        # A number alone behind the diameter, below 8 and less than half of it, can only be the pitch.
        ("7,9 mm, 1,25", 7.9, 0.1, 1.25, False),
        ("7.9 1.25", 7.9, 0.1, 1.25, False),
        ("0.31 in, 1.4", 7.874, 0.254, 1.4, False),
        ("6.3 mm, 20/in", 6.3, 0.1, 1.27, False),
        ('6.3 mm, 20/"', 6.3, 0.1, 1.27, False),
    ],
)
def test_a_reading_is_understood_as_people_write_it(
    sentence: str, diameter_mm: float, step_mm: float, pitch_mm: float, counted: bool
) -> None:
    read = read_measured(sentence)
    assert read.pitch is not None
    assert (read.diameter_mm, read.step_mm) == pytest.approx((diameter_mm, step_mm), abs=5e-4)
    assert read.pitch.pitch_mm == pytest.approx(pitch_mm, abs=5e-4)
    assert read.pitch.counted is counted


@pytest.mark.parametrize(
    ("sentence", "reading"),
    [
        ("12.9", Measured(12.9, 0.1, unit_said=False)),
        ("about 6 mm", Measured(6.0, 1.0, about=True)),
        ("10 mm bolt, rusty", Measured(10.0, 1.0, worn=True)),
        ("hole 5.0 mm, painted", Measured(5.0, 0.1, inside=True, painted=True)),
        ("3 m", Measured(3000.0, 1000.0)),
        # Half an inch is half an inch, to the 1/32 of a rule, however it is written; a tenth is no fraction on a rule.
        ("0.5 in", Measured(12.7, 25.4 / 32)),
        ("1/2 in", Measured(12.7, 25.4 / 32)),
        ("1.5 in", Measured(38.1, 25.4 / 32)),
        ("1 in", Measured(25.4, 25.4 / 32)),
        ("0.3 in", Measured(7.62, 2.54)),
        ("0.50 in", Measured(12.7, 0.254)),
        # No caliper shows less than a micrometre.
        ("5.900000000000 mm", Measured(5.9, 0.001)),
        ("6.3 mm, about 8 threads in 10 mm", Measured(6.3, 0.1, pitch=PitchRead(8, 10.0, True, about=True))),
    ],
)
def test_what_is_said_beside_the_size_counts(sentence: str, reading: Measured) -> None:
    read = read_measured(sentence)
    assert read.step_mm == pytest.approx(reading.step_mm)
    assert replace(read, step_mm=0) == replace(reading, step_mm=0)


def test_a_box_that_is_ticked_is_as_good_as_the_word() -> None:
    assert read_measured("5 mm", inside=True, worn=True, painted=True) == read_measured("worn painted hole 5 mm")


@pytest.mark.parametrize(
    ("sentence", "answer"),
    [
        ("", f"Nothing was typed; write for example {EXAMPLE}."),
        ("banana", f"“banana” is not understood in “banana”; write for example {EXAMPLE}."),
        ("nan mm", f"“nan” is not understood in “nan mm”; write for example {EXAMPLE}."),
        ("1e3 mm", f"“e3” is not understood in “1e3 mm”; write for example {EXAMPLE}."),
        ("5.9 furlongs", f"“furlongs” is not understood in “5.9 furlongs”; write for example {EXAMPLE}."),
        ("-5 mm", f"“-5” is below 0; write for example {EXAMPLE}."),
        ("0 mm", f"“0” is no diameter; it is more than 0, for example {EXAMPLE}."),
        ("10 threads in 10 mm", f"The diameter is missing: write it first, for example {EXAMPLE}."),
        ("5.9 mm, 10 threads", "“10 threads” in what length? Write for example 10 threads in 10 mm."),
        ("5.9 mm, 0 threads in 9", "“0 threads in 9” is no count of threads; write for example 10 threads in 10 mm."),
        ("9 mm, pitch 20", "No thread has a pitch of 20 mm; for threads to the inch write 20 tpi."),
        ("9 mm, pitch 0", "A pitch is more than 0; write for example pitch 1.25."),
        ("9 mm, 0 tpi", "Threads to the inch are more than 0; write for example 20 tpi."),
        ("5.9 mm, 8 tpi, pitch 1", "The pitch is said twice (3.175 and 1 mm); write the one that is surer."),
        (
            "5.9 mm 6.0 mm",
            f"“5.9” and “6.0” might both be the diameter; write one, then the pitch, for example {EXAMPLE}.",
        ),
        ("M6", f"“M6” is the name of a thread; write what was measured, for example {EXAMPLE}."),
        ("1/4-20", f"“1/4-20” is the name of a thread; write what was measured, for example {EXAMPLE}."),
        ("x" * 201, f"“xxxxxxxxxxxxxxxxxxxx…” is too long for a measurement; write for example {EXAMPLE}."),
        ("5.9.1 mm", f"“5.9.1” is not understood in “5.9.1 mm”; write for example {EXAMPLE}."),
        ("T30", f"“T30” is not understood in “T30”; write for example {EXAMPLE}."),
        ("5.9 mm, 3/4/5", f"“3/4/5” is not understood in “5.9 mm, 3/4/5”; write for example {EXAMPLE}."),
        ("9" * 60, f"“999999999999…” is no size; write for example {EXAMPLE}."),
        ("1/0 in, 20 tpi", f"“1/0” is no size; write for example {EXAMPLE}."),
        (
            "0.0000000001 mm",
            f"“0.0000000001” is no diameter; it is more than 0 by what a caliper shows, for example {EXAMPLE}.",
        ),
        (
            "5.9 mm, pitch 0.0000000001",
            "“pitch 0.0000000001” is a pitch of 0.0000000001 mm, which no thread has; write for example pitch 1.25 or "
            "20 tpi.",
        ),
        (
            "5.9 mm, 1 thread in 500 mm",
            "“1 thread in 500 mm” is a pitch of 500 mm, which no thread has; write for example pitch 1.25 or 20 tpi.",
        ),
        (
            "7.9 mm 1.25 mm",
            f"“7.9” and “1.25” might both be the diameter; write one, then the pitch, for example {EXAMPLE}.",
        ),
        ("2 BA", "“2 BA” is a British Association thread"),
    ],
)  # fmt: skip
def test_what_is_no_reading_is_answered_with_how_to_write_it(sentence: str, answer: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        read_measured(sentence)
    said = str(refused.value)
    assert said == answer or (not answer.endswith((".", "?")) and said.startswith(answer))


@settings(max_examples=60, deadline=None)
@given(st.integers(50, 6000), st.integers(2, 40), st.integers(5, 50), st.sampled_from([".", ","]))
def test_a_reading_comes_back_as_it_was_written(hundredths: int, threads: int, length_mm: int, mark: str) -> None:
    written = f"{hundredths // 100}{mark}{hundredths % 100:02} mm, {threads} threads in {length_mm} mm"
    read = read_measured(written)
    assert read.diameter_mm == pytest.approx(hundredths / 100)
    assert read.pitch == PitchRead(threads, length_mm, counted=True)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=60))
def test_any_sentence_is_read_or_refused_with_a_sentence(text: str) -> None:
    said = ""
    try:
        read = read_measured(text)
    except NotUnderstood as refused:
        said = str(refused)
    assert said.endswith((".", "?")) if said else read.diameter_mm > 0
