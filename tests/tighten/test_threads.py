"""A thread by its name has the sizes the published tables give it."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.tighten.threads.holes import clearance_holes, tapping_drill
from fingertight.tighten.threads.limits import bolt_limits
from fingertight.tighten.threads.names import NoSuchThread, Thread, is_left_hand, thread_meant, thread_named, threads

OUTSIDE = Path(__file__).parent.parent / "outside" / "threads-and-spanners.toml"
VALUES: list[dict[str, Any]] = [
    value for value in tomllib.loads(OUTSIDE.read_text(encoding="utf-8"))["value"] if value["topic"] == "threads"
]
INCH_MM = 25.4


def computed(value: dict[str, Any]) -> float | list[float]:
    """What this project answers to the question of one published value, in its unit."""
    name = value["inputs"]["thread"]
    thread = thread_named(name)
    asked = value["id"]
    per_unit = INCH_MM if value["unit"] == "in" else 1.0
    if asked.startswith("tapdrill"):
        return tapping_drill(thread).drill.diameter_mm / per_unit
    if asked.startswith("clearance"):
        holes = clearance_holes(thread)
        return [hole.diameter_mm for hole in (holes.close, holes.normal, holes.loose)]
    if asked.endswith("major-limits"):
        return list(bolt_limits(thread).major_mm)
    if asked.endswith("pitch-limits"):
        return list(bolt_limits(thread).pitch_mm)
    if asked.endswith("fine-pitches"):
        return sorted(
            (one.pitch_mm for one in threads().values() if one.size == name and one.series == "fine"), reverse=True
        )
    if asked.endswith("pitch-diameter"):
        return thread.pitch_diameter_mm / per_unit
    if asked.endswith("minor-internal"):
        return thread.minor_internal_mm / per_unit
    if asked.endswith("minor-external"):
        return thread.minor_external_mm / per_unit
    if asked.endswith("stress-area"):
        return thread.stress_area_mm2 / per_unit**2 if value["unit"] == "mm2" else thread.stress_area_mm2 / INCH_MM**2
    assert asked.endswith("pitch"), f"nothing here answers {asked}"
    return thread.pitch_mm


@pytest.mark.parametrize("value", VALUES, ids=[value["id"] for value in VALUES])
def test_a_thread_has_the_size_its_standard_publishes(value: dict[str, Any]) -> None:
    # Each value names its source in tests/outside/threads-and-spanners.toml.
    limits = value["tolerance"]
    expected = pytest.approx(value["expect"], abs=limits.get("abs") or 1e-12, rel=limits.get("rel", 0))
    assert computed(value) == expected, f"{value['question']} {value['source']}"


def test_there_are_published_values_of_every_kind() -> None:
    kinds = {"pitch-diameter", "minor-internal", "minor-external", "stress-area", "coarse-pitch", "fine-pitches"}
    assert all(any(value["id"].endswith(kind) for value in VALUES) for kind in kinds)
    assert any(value["id"].startswith("tapdrill") for value in VALUES)
    assert any(value["id"].startswith("clearance") for value in VALUES)
    assert len(VALUES) == 59


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("M6", "M6"),
        ("M6x1", "M6"),
        ("M6x1.0", "M6"),
        ("M 6 × 0,75", "M6x0.75"),
        ("M8x1", "M8x1"),
        ("1/4-20 UNC", "1/4-20 UNC"),
        ("1/4-20", "1/4-20 UNC"),
        ("1/4-28", "1/4-28 UNF"),
        ("1/4 UNF", "1/4-28 UNF"),
        ("#10-24", "#10-24 UNC"),
        ("#10-32", "#10-32 UNF"),
        ("1 1/8-7", "1 1/8-7 UNC"),
        ("1/2-12", "1/2-12 BSW"),
        ("G1/4", "G1/4"),
        ("G 1/4", "G1/4"),
        ("M8 x 1.25", "M8"),
        ("M8*1", "M8x1"),
        ("M8-1.25", "M8"),
        ("M2,5", "M2.5"),
        ("M12 coarse", "M12"),
        ("M6-6g", "M6"),
        ("M6x1 - 5g6g", "M6"),
        ("1/4 UNC", "1/4-20 UNC"),
        ("1/4BSW", "1/4-20 BSW"),
        ("1/4 W", "1/4-20 BSW"),
        ("UNC 1/4-20", "1/4-20 UNC"),
        ("1/4-20UNC-2A", "1/4-20 UNC"),
        ('1/4"-20', "1/4-20 UNC"),
        ("1/4 in x 28", "1/4-28 UNF"),
        ("10-24", "#10-24 UNC"),
        ("No. 10-32", "#10-32 UNF"),
        ("1-64", "#1-64 UNC"),
        ("1-8", "1-8 UNC"),
        ("1-1/4-7", "1 1/4-7 UNC"),
        ("2-4.5", "2-4.5 UNC"),
        ("G1/8A", "G1/8"),
        ("1/8 BSP", "G1/8"),
        ("BSPP 1 1/4", "G1 1/4"),
    ],
)
def test_a_thread_may_be_written_in_several_ways(typed: str, name: str) -> None:
    assert thread_named(typed).name == name


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("M6x0.8", "There is no thread “M6x0.8” in the tables; the nearest are M6, M6x0.75."),
        ("M6.5", "There is no thread “M6.5” in the tables; the nearest are M6, M7, M5."),
        ("M0", "There is no thread “M0” in the tables; the nearest are M1, M1.1, M1.2."),
        ("M100", "There is no thread “M100” in the tables; the nearest are M64, M60, M56."),
        ("m8", "There is no thread “m8” in the tables; the nearest are M8."),
        (
            "1/4-24",
            "There is no thread “1/4-24” in the tables; the nearest are 1/4-20 UNC, 1/4-28 UNF, 1/4-20 BSW.",
        ),
        (
            "5/32-32",
            "There is no thread “5/32-32” in the tables; the nearest are #8-32 UNC, #8-36 UNF, #6-32 UNC.",
        ),
        (
            "0.25-20",
            "There is no thread “0.25-20” in the tables; the nearest are 1/4-20 UNC, 1/4-28 UNF, #12-24 UNC.",
        ),
        ("G1/3", "There is no thread “G1/3” in the tables; the nearest are G3/8, G1/4, G1/2."),
        # A bolt with its length, a metric thread without its M.
        ("M8x20", "20 is no pitch of M8 and looks like a length: the thread of “M8x20” is M8."),
        ("M8x1x20", "20 is no pitch of M8 and looks like a length: the thread of “M8x1x20” is M8x1."),
        (
            "8x1.25",
            "There is no thread “8x1.25” in the tables; is M8 meant? 1.25 mm is its coarse pitch. Other near ones are "
            "#8-32 UNC, #8-36 UNF.",
        ),
        (
            "8x20",
            "There is no thread “8x20” in the tables; is M8 meant? 20 looks like a length. Other near ones are #8-32 "
            "UNC, #8-36 UNF.",
        ),
        ("8-24", "There is no thread “8-24” in the tables; the nearest are #8-32 UNC, #8-36 UNF."),
        # No name has so many digits, and none is reckoned with them.
        ("9" * 400, '“999999999999…” is too long for the name of a thread; write for example "M6" or "1/4-20 UNC".'),
        (
            "#" + "9" * 400,
            '“#99999999999…” is too long for the name of a thread; write for example "M6" or "1/4-20 UNC".',
        ),
        ("M1234567", '“M1234567” is too long for the name of a thread; write for example "M6" or "1/4-20 UNC".'),
        (
            "banana",
            'There is no thread “banana” in the tables; write for example "M6" or "1/4-20 UNC".',
        ),
    ],
)
def test_a_thread_that_does_not_exist_is_answered_with_the_nearest_that_do(typed: str, sentence: str) -> None:
    with pytest.raises(NoSuchThread) as refused:
        thread_named(typed)
    assert str(refused.value) == sentence


def test_every_thread_of_the_tables_is_found_by_its_own_name() -> None:
    assert all(thread_named(name) == thread for name, thread in threads().items())
    assert len(threads()) > 150


def test_a_thread_is_smaller_inside_than_outside() -> None:
    def in_order(thread: Thread) -> bool:
        return 0 < thread.minor_external_mm <= thread.minor_internal_mm < thread.pitch_diameter_mm < thread.diameter_mm

    assert [name for name, thread in threads().items() if not in_order(thread)] == []


def test_a_whitworth_thread_has_the_55_degree_profile() -> None:
    # BS 84, 1/4 in, 20 threads an inch: effective diameter 0.2180 in, minor 0.1860 in; figures from memory.
    whitworth = thread_named("1/4-20 BSW")
    assert whitworth.pitch_diameter_mm / INCH_MM == pytest.approx(0.2180, abs=1e-4)
    assert whitworth.minor_internal_mm / INCH_MM == pytest.approx(0.1860, abs=1e-4)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("m8", "M8"),
        ("m8x1", "M8x1"),
        ("1/4 unf", "1/4-28 UNF"),
        ("g1/8", "G1/8"),
        ("M12 COARSE", "M12"),
        ('1/4" unc', "1/4-20 UNC"),
        ("1/4 in x 28", "1/4-28 UNF"),
        ("no. 10-32", "#10-32 UNF"),
        ("unc 1/4-20", "1/4-20 UNC"),
        ("bsw 1/4", "1/4-20 BSW"),
        ("Whitworth 1/4", "1/4-20 BSW"),
        ("3/8 whitworth", "3/8-16 BSW"),
        ("1/4 Whit.", "1/4-20 BSW"),
        ("1/4 20 unc", "1/4-20 UNC"),
        ("1 1/4 7", "1 1/4-7 UNC"),
        ("M6 LH", "M6"),
        ("m8x1-LH", "M8x1"),
        ("M6 left hand", "M6"),
        ("5/16-24 UNF left-handed thread", "5/16-24 UNF"),
    ],
)
def test_on_a_phone_any_spelling_that_people_use_will_do(typed: str, name: str) -> None:
    assert thread_meant(typed).name == name


@pytest.mark.parametrize("typed", ["Whitworth 1/4", "M6 LH", "1/4 20"])
def test_a_machine_file_is_read_strictly(typed: str) -> None:
    with pytest.raises(NoSuchThread):
        thread_named(typed)


def test_a_left_hand_thread_is_known_by_its_words() -> None:
    assert is_left_hand("M6 LH")
    assert is_left_hand("M8x1 left-hand")
    assert not is_left_hand("M6")
    assert not is_left_hand("LH" * 200)


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="0123456789/.,#-xX MGUNCFBSWRPThle", max_size=60))
def test_whatever_is_typed_is_a_thread_or_a_sentence(typed: str) -> None:
    said, named = "", list[str]()
    try:
        named.append(thread_meant(typed).name)
    except NoSuchThread as refused:
        said = str(refused)
        named += refused.nearest
    assert set(named) <= set(threads())
    assert said.endswith((".", "?")) if said else named


def test_small_letters_do_not_make_a_thread_that_is_not_there() -> None:
    with pytest.raises(NoSuchThread) as refused:
        thread_meant("m8x2")
    assert refused.value.nearest == ("M8", "M8x1", "M8x0.75")


def test_the_flanks_and_the_threads_to_the_inch_follow_from_the_series() -> None:
    # ISO 68-1 and ASME B1.1: 60°; BS 84 and ISO 228-1: 55°.
    assert {thread.series: thread.flank_angle_deg for thread in threads().values()} == {
        "coarse": 60,
        "fine": 60,
        "UNC": 60,
        "UNF": 60,
        "BSW": 55,
        "G": 55,
    }
    assert (thread_named("M6").threads_per_inch, thread_named("G1/4").threads_per_inch) == (25.4, 19)
