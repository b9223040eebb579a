"""The pages of a thread and of a measured one: what a person reads, what a program gets, what a slip is told."""

import json
import subprocess
import sys
from typing import Any

import jsonschema
import pytest

from fingertight.cards.sums.answer import SumCard
from fingertight.cards.sums.tighten import identify, thread
from fingertight.cli.answers import answer_page
from fingertight.cli.commands.schema import answer_schemas
from fingertight.quantity import NotUnderstood
from fingertight.tighten.threads.names import threads


def _thread(name: str) -> SumCard:
    return thread.SUM.ask({"thread": name})


def _identify(reading: str, **ticked: str) -> SumCard:
    return identify.SUM.ask({"reading": reading, **ticked})


def _as_json(card: SumCard) -> Any:
    """As a program gets it: through text and back."""
    return json.loads(json.dumps(card.as_json(), allow_nan=False))


def test_m6_is_a_page_for_the_wall() -> None:
    page = answer_page(_thread("M6"))
    for line in (
        "M6: ISO metric, coarse pitch",
        "M6 is 6 mm (0.2362 in) over its thread, 1 mm from crest to crest (25.4 to the inch).",
        # ISO 965-2 and ISO 724, as tested in test_thread_limits.py
        "  bolt 6g, outside               5.794 to 5.974  0.2281 to 0.2352",
        "  hole 6H, bore over the crests  4.917 to 5.153  0.1936 to 0.2029",
        # ISO 898-1: 20.1 mm²
        "  tensile stress area  20.1 mm²  0.0312 in²",
        # ISO 2306 and ISO 273, as tested in test_holes.py
        "  tapping drill, soft metal  5 mm; leaves 77 % of a full thread; rule: diameter less pitch, 5.00 mm",
        "  clearance hole             6.4 mm close, 6.6 mm normal, 7 mm loose",
        "  5 mm key   socket (ISO 4762:2004)",
        "Taken for it, never to be forced together: 1/4-20 UNC, 1/4-28 UNF, 1/4-20 BSW, M6x0.75, #12-24 UNC.",
    ):
        assert line in page.splitlines(), line
    assert "A bolt is named by its thread, not by its spanner" in page


def test_m8_offers_every_head_and_marks_the_small_engines_one() -> None:
    page = answer_page(_thread("M8"))
    assert "spanners of 13 mm, 12 mm or" in page
    assert "12 mm hex small, common on small engines *; hex flange on small engines, common on small" in " ".join(
        page.split()
    )
    assert "* common practice, no source" in page.splitlines()
    # ISO 4014: 13 mm; EN 1662: 10 mm; ISO 4762: 6 mm key.
    assert {one["driver"] for one in _as_json(_thread("M8"))["heads"]} >= {"13 mm", "12 mm", "10 mm", "6 mm key"}


def test_an_inch_thread_is_given_in_both_units() -> None:
    page = answer_page(_thread("1/4-20 UNC"))
    assert "0.2408 to 0.2489" in page
    assert "No. 7 (5.11 mm)" in page
    assert "17/64 in (6.75 mm) close" in page


def test_a_pipe_thread_says_where_it_seals_and_has_no_head() -> None:
    page = " ".join(answer_page(_thread("G1/8")).split())
    assert "no table here has a head for this one" in page
    assert "no table here has one" in page
    assert "It seals on a washer or a cone, not on its thread." in page


@pytest.mark.parametrize("name", sorted(threads()))
def test_every_thread_of_the_tables_has_a_page_and_an_object(name: str) -> None:
    card = _thread(name)
    assert not card.is_no
    assert answer_page(card).startswith(f"{name}: ")
    found = _as_json(card)
    assert found["thread"] == name
    assert found["bolt"]["major_mm"][0] < found["bolt"]["major_mm"][1] <= found["diameter_mm"] + 1e-6
    assert found["nut"]["minor_mm"][0] - 0.02 <= found["tapping_drill_mm"] <= found["nut"]["minor_mm"][1] + 0.02


@pytest.mark.parametrize(
    ("asked", "because", "nearest"),
    [
        ("M6.5", "There is no thread “M6.5” in the tables; the nearest are M6, M7, M5.", ["M6", "M7", "M5"]),
        ("banana", 'There is no thread “banana” in the tables; write for example "M6" or "1/4-20 UNC".', []),
        ("-3", 'There is no thread “-3” in the tables; write for example "M6" or "1/4-20 UNC".', []),
        (
            "1/4",
            "There is no thread “1/4” in the tables; the nearest are 1/4-20 UNC, 1/4-28 UNF, 1/4-20 BSW.",
            ["1/4-20 UNC", "1/4-28 UNF", "1/4-20 BSW"],
        ),
    ],
)
def test_a_thread_that_is_not_there_is_answered_no_with_the_nearest(
    asked: str, because: str, nearest: list[str]
) -> None:
    card = _thread(asked)
    assert card.is_no
    assert because in " ".join(answer_page(card).split())
    found = _as_json(card)
    assert (found["thread"], found["because"], found["nearest"]) == (None, because, nearest)


def test_a_left_hand_thread_has_the_same_sizes_and_says_which_way_it_turns() -> None:
    left, right = _as_json(_thread("M6 LH")), _as_json(_thread("M6"))
    assert left.pop("left_hand") is True
    assert right.pop("left_hand") is False
    assert left == right
    page = " ".join(answer_page(_thread("M6 left hand")).split())
    assert page.startswith("M6 left-hand: ISO metric, coarse pitch")
    assert "it tightens anticlockwise and loosens clockwise" in page


def test_a_name_of_400_digits_is_answered_with_a_sentence_and_not_repeated() -> None:
    for typed in ("9" * 400, "#" + "9" * 400, "9" * 400 + " mm"):
        card = _thread(typed)
        assert card.is_no
        assert "9" * 41 not in answer_page(card)


def test_the_rule_for_the_tapping_drill_is_the_one_that_programs_get() -> None:
    assert _as_json(_thread("M8x1"))["tapping_rule_mm"] == 8 - 1


def test_a_whitworth_thread_names_what_stands_on_its_spanners() -> None:
    # BS 1083: 0.445 in; the old series, one size larger: 0.525 in.
    page = " ".join(answer_page(_thread("Whitworth 1/4")).split())
    assert "spanners of 0.445 in (marked 1/4 BS) or 0.525 in (marked 1/4 W)" in page


@pytest.mark.parametrize(
    ("asked", "said", "sits"),
    [
        # ISO 4014, EN 1662: M6 has 10 mm, M8 with a small flange too; M8 has 13 mm, M10 with a small flange too.
        ("10 mm", "10 mm", ["M6", "M8"]),
        ("13 mm spanner", "13 mm", ["M8", "M10"]),
        ("13,0 mm", "13,0 mm", ["M8", "M10"]),
        # ASME B18.2.1: 1/4 in bolts have 7/16 in.
        ("7/16 in", "7/16 in", ["#12-24 UNC", "1/4-20 UNC"]),
        ("7/16 spanner", "7/16 in", ["#12-24 UNC", "1/4-20 UNC"]),
    ],
)
def test_a_spanner_is_kindly_told_that_a_bolt_is_named_by_its_thread(asked: str, said: str, sits: list[str]) -> None:
    card = _thread(asked)
    assert card.is_no
    found = _as_json(card)
    assert found["nearest"] == sits
    assert list(found["under"]) == sits
    page = " ".join(answer_page(card).split())
    assert "A bolt is named by its thread, not by its spanner." in page
    assert f"Under {said} across the flats sits {' or '.join(sits)}." in page
    assert f'ask: fingertight identify "{said}".' in page


@pytest.mark.parametrize(
    ("asked", "means"),
    [
        ("10 mm", "If 10 mm is the thread itself, write M10."),
        ('1/4"', "If 1/4 in is the thread itself, write 1/4-20 UNC, 1/4-28 UNF or 1/4-20 BSW."),
    ],
)
def test_a_bare_size_may_have_meant_the_thread_itself(asked: str, means: str) -> None:
    assert means in " ".join(answer_page(_thread(asked)).split())


def test_a_spanner_that_no_head_has_is_told_so() -> None:
    page = " ".join(answer_page(_thread("12.3 mm")).split())
    assert "No head is 12.3 mm across its flats." in page


def test_a_key_is_sent_to_the_spanner_sum() -> None:
    assert 'fingertight spanner "5 mm key"' in answer_page(_thread("5 mm key"))


def test_nothing_typed_is_told_what_to_type() -> None:
    with pytest.raises(NotUnderstood) as refused:
        _thread(" ")
    assert str(refused.value) == "Thread: nothing was typed; write for example M6."


def test_a_sure_reading_needs_nothing_more_and_names_what_must_not_be_forced() -> None:
    page = answer_page(_identify("5.9 mm, 10 threads in 10 mm"))
    lines = page.splitlines()
    assert lines[:4] == ["“5.9 mm, 10 threads in 10 mm”: M6", "", "It is M6 (over 99 %).", "Nothing more is needed."]
    assert "Taken for M6, never to be forced together" in lines
    assert "  1/4-20 UNC  starts, binds within a turn       does not start" in lines
    assert "  1/4-28 UNF  starts, binds after 3 to 4 turns  does not start" in lines
    assert "Caution: Start every bolt by fingers; one that binds within a few turns is the wrong thread." in lines


def test_an_open_reading_names_the_one_measurement_with_both_values() -> None:
    page = " ".join(answer_page(_identify("7.9 mm")).split())
    assert "It may be M8 (70 %), or 5/16-18 UNC" in page
    assert "To settle it, take a pitch gauge: M8 has 1.25 mm, 5/16-18 UNC 18 to the inch (1.41 mm)." in page


def test_a_reading_by_the_diameter_alone_is_confirmed_by_the_pitch() -> None:
    assert "A pitch gauge would confirm it: 19 to the inch (1.34 mm)." in answer_page(_identify("12.9 mm"))


@pytest.mark.parametrize(
    ("reading", "sentence"),
    [
        ("6.25 mm, 20 tpi", "hold a gauge against the flanks: 1/4-20 UNC has 60°, 1/4-20 BSW 55°"),
        ("4.8 mm", "M5 measures about 4.90 mm (0.193 in), #10-32 UNF about 4.73 mm (0.186 in)."),
        ("4.81 mm, 32 tpi", "try a nut of known thread, by fingers; the right one runs its whole height"),
        ("5.70 mm, pitch 1", "It reads 0.09 mm under a sound M6 bolt: worn, or read askew."),
        ("6.1 mm, pitch 1", "It reads 0.08 mm over a sound M6 bolt: plated, painted or dirty, or read askew."),
        ("7.7 mm, worn", "wear up to 0.217 of the pitch"),
        ("hole 5.0 mm, pitch 1", "bore of a sound hole"),
        ("5.9 mm", "Reckoned with: caliper ± 0.03 mm, rounding up to 0.05 mm either way, 3 % of threads"),
        ("0.5 in", "Reckoned with: caliper ± 0.03 mm, rounding up to 0.4 mm either way,"),
        (
            "roughly 6 mm",
            "Reckoned with: caliper ± 0.06 mm, twice the usual for “about”, rounding up to 1 mm either way,",
        ),
        ("about 1/4 in, 20 tpi", "caliper ± 0.06 mm, twice the usual for “about”, rounding up to 0.79 mm either way,"),
        ("5.9 mm, about 10 threads in 10 mm", "a count ± 0.8 threads"),
        ("5.9 mm, pitch about 1", "a leaf ± 4 %"),
    ],
)
def test_the_page_says_what_to_do_and_what_it_was_reckoned_with(reading: str, sentence: str) -> None:
    assert sentence in " ".join(answer_page(_identify(reading)).split())


def test_a_parallel_pipe_thread_is_never_certain_before_the_taper_is_looked_for() -> None:
    page = " ".join(answer_page(_identify("9.6 mm, 28 tpi")).split())
    assert "Nothing more is needed." not in page
    assert "If its thread is parallel, it is G1/8 (over 99 %)." in page
    assert (
        "To settle it, read the caliper at two places 5 mm apart along the thread: G1/8 is the same, taper R1/8 grows "
        "by 0.3 mm." in page
    )
    # Gauge diameter 9.728 mm, 4 mm from the end, taper 1 in 16 (ISO 7-1): 9.48 mm at the end.
    assert "R1/8 measures 9.48 to 9.88 mm along its thread, 28 to the inch" in page
    assert "Never force the two together (common practice, no source)." in page
    assert "taper pipe threads: ISO 7-1 and ASME B1.20.1" in page
    assert "run a bolt or plug of G1/8 in by fingers" in answer_page(_identify("hole 8.7 mm, 28 tpi"))


def test_a_reading_that_only_a_taper_thread_fits_names_it() -> None:
    card = _identify("10.1 mm, 27 tpi")
    assert card.is_no
    assert "1/8 NPT does, a taper pipe thread that stands in no table of sizes here." in answer_page(card)


def test_nonsense_is_answered_no_and_what_it_might_have_been() -> None:
    card = _identify("3 m")
    assert card.is_no
    assert "No thread of the tables measures like that." in answer_page(card)
    slip = _identify("0.3125, 18 tpi")
    assert slip.is_no
    assert "It would be 5/16-18 UNC if that is inches." in answer_page(slip)
    assert _as_json(slip)["if_it_were"][0] == {
        "what": "inches",
        "thread": "5/16-18 UNC",
        "probability": pytest.approx(0.67, abs=0.05),
    }


def test_a_ticked_box_counts_as_the_word() -> None:
    ticked = _as_json(_identify("5.65 mm, pitch 1", worn="yes"))
    said = _as_json(_identify("5.65 mm, pitch 1, worn"))
    assert ticked["reading"] == said["reading"]
    assert ticked["candidates"] == said["candidates"]


def test_a_slip_in_the_reading_names_its_field() -> None:
    with pytest.raises(NotUnderstood) as refused:
        _identify("5.9 mm, 10 threads")
    assert str(refused.value) == ("What was read: “10 threads” in what length? Write for example 10 threads in 10 mm.")


@pytest.mark.parametrize("asked", ["M6", "M6 LH", "1/4-20 BSW", "G1/4", "M9", "M6.5", "10 mm", "banana", "1/8 NPT"])
def test_a_thread_for_programs_is_what_its_schema_says(asked: str) -> None:
    jsonschema.validate(_as_json(_thread(asked)), answer_schemas()["thread"])


@pytest.mark.parametrize(
    "reading", ["5.9 mm", "about 6 mm, worn", "1/4 in, 20 tpi", "3 m", "hole 5 mm, pitch 1", "9.6 mm, 28 tpi"]
)
def test_a_reading_for_programs_is_what_its_schema_says(reading: str) -> None:
    found = _as_json(_identify(reading))
    jsonschema.validate(found, answer_schemas()["identify"])
    assert sum(one["probability"] for one in found["candidates"]) + found["none_probability"] <= 1 + 1e-5


def test_the_pages_of_threads_start_without_anything_heavy() -> None:
    light = "import sys; from fingertight.cards.sums.tighten import thread, identify; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", light], check=True, capture_output=True, text=True).stdout.split()
    assert not {"numpy", "scipy", "pydantic", "difflib", "django"} & set(loaded)
