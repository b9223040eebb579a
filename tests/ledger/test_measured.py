"""What was measured: verdicts, worn parts that go back in, and readings that cannot be right."""

import pytest

from fingertight.ledger.asked.measured import chance_of
from tests.ledger.bench import Bench, at

BORE = """
[[instrument]]
id = "gauge"
resolution = 0.01
error = 0.005
[[part]]
id = "case"
stays = true
[[part]]
id = "head"
[[part]]
id = "piston"
behind = ["head"]
[[check]]
id = "bore"
part = "case"
bare = ["piston"]
instrument = "gauge"
new = [68.000, 68.015]
max = 68.165
[[check]]
id = "skirt"
part = "piston"
instrument = "gauge"
new = [67.950, 67.970]
min = 67.900
[[check]]
id = "clearance"
gap = { outer = "bore", inner = "skirt" }
max = 0.12
"""


def stripped() -> Bench:
    bench = Bench(BORE)
    bench.off("head", "1")
    bench.off("piston", "2")
    return bench


def test_good_readings_raise_nothing_on_the_way_back() -> None:
    bench = stripped()
    bench.reads("bore", 68.02, 68.03)
    bench.reads("skirt", 67.96)
    assert [bench.verdict(check) for check in ("bore", "skirt", "clearance")] == ["good"] * 3
    bench.on("piston", "2")
    bench.on("head", "1")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_a_check_that_was_never_made_raises_nothing() -> None:
    bench = stripped()
    bench.on("piston", "2")
    bench.on("head", "1")
    assert bench.finish()


def test_a_worn_bore_is_flagged_when_the_piston_that_bared_it_goes_on() -> None:
    bench = stripped()
    bench.reads("bore", 68.20)
    assert bench.verdict("bore") == "worn"
    assert bench.wrong() == []
    entry = bench.on("piston", "2")
    assert bench.wrong()[0].startswith("worn ")
    [flag] = [flag for flag in bench.ledger.state.flags if "Bore" in flag.text]
    assert flag.entry == entry
    assert "Bore" in flag.text


def test_a_worn_skirt_is_flagged_when_its_own_piston_goes_on() -> None:
    bench = stripped()
    bench.reads("skirt", 67.85)
    entry = bench.on("piston", "2")
    assert bench.wrong() == ["worn piston"]
    assert bench.flag("worn").entry == entry
    assert "Skirt" in bench.flag("worn").text
    assert "Piston" in bench.flag("worn").text


def test_a_gap_too_wide_is_flagged_for_the_parts_of_both_its_checks() -> None:
    bench = stripped()
    bench.reads("bore", 68.10)
    bench.reads("skirt", 67.93)
    assert bench.verdict("clearance") == "worn"
    bench.on("piston", "2")
    assert bench.wrong() == ["worn piston"]
    assert "Clearance" in bench.flag("worn").text


@pytest.mark.parametrize("size", [68.160, 68.166, 68.168])
def test_too_close_to_call_is_flagged_until_the_instructor_decides(size: float) -> None:
    bench = stripped()
    bench.reads("bore", size)
    assert bench.verdict("bore") == "too close to call"
    bench.on("piston", "2")
    assert "too close to call" in bench.flag("worn").text
    bench.decides("bore", "good", teacher=False)
    assert len(bench.wrong()) == 1
    bench.decides("bore", "good")
    assert bench.wrong() == []


def test_what_was_decided_good_beforehand_raises_nothing() -> None:
    bench = stripped()
    bench.reads("bore", 68.160)
    bench.decides("bore", "good")
    bench.on("piston", "2")
    bench.on("head", "1")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_somebody_alone_at_a_bench_decides_for_himself() -> None:
    bench = stripped()
    bench.reads("bore", 68.160)
    said = {"id": "x", "kind": "decide", "at": at(3.5), "by": "me", "check": "bore", "verdict": "good"}
    bench.ledger.hear(said)
    bench.on("piston", "2")
    assert bench.ever_wrong() == []


def test_a_piston_larger_than_its_bore_is_no_good_clearance_however_far_from_the_most() -> None:
    bench = stripped()
    bench.reads("bore", 68.00)
    bench.reads("skirt", 68.05)
    assert bench.verdict("clearance") == "worn"
    state = bench.ledger.state
    assert (chance_of(state, state.plan.anatomy.check_by_id["clearance"]) or 0.0) < 0.01
    bench.reads("skirt", 67.995)
    assert bench.verdict("clearance") == "too close to call"
    bench.reads("skirt", 67.96)
    assert bench.verdict("clearance") == "good"


def test_a_word_on_the_bore_leaves_the_word_on_the_clearance_standing() -> None:
    bench = stripped()
    bench.reads("bore", 68.10)
    bench.reads("skirt", 67.93)
    bench.decides("clearance", "good")
    bench.decides("bore", "good")
    bench.on("piston", "2")
    assert bench.ever_wrong() == []


def test_a_new_reading_of_the_bore_clears_the_word_on_the_clearance() -> None:
    bench = stripped()
    bench.reads("bore", 68.10)
    bench.reads("skirt", 67.93)
    bench.decides("clearance", "good")
    bench.reads("bore", 68.11)
    bench.on("piston", "2")
    assert bench.wrong() == ["worn piston"]


def test_the_mend_of_something_worn_names_what_to_renew() -> None:
    bench = stripped()
    bench.reads("bore", 68.10)
    bench.reads("skirt", 67.93)
    bench.on("piston", "2")
    assert bench.flag("worn").mend == "Renew Case or Piston, or let the instructor decide."


def test_the_instructor_may_overrule_a_good_one() -> None:
    bench = stripped()
    bench.reads("skirt", 67.96)
    bench.decides("skirt", "worn")
    bench.on("piston", "2")
    assert bench.wrong() == ["worn piston"]


def test_a_new_reading_clears_what_was_decided_on_the_old_ones() -> None:
    bench = stripped()
    bench.reads("skirt", 67.85)
    bench.decides("skirt", "good")
    bench.reads("skirt", 67.84)
    bench.on("piston", "2")
    assert bench.wrong() == ["worn piston"]


def test_a_new_piston_forgets_the_readings_of_the_old_one() -> None:
    bench = stripped()
    bench.reads("skirt", 67.85)
    bench.on("piston", "2")
    assert bench.wrong() == ["worn piston"]
    bench.renews("piston")
    assert bench.wrong() == []
    assert bench.verdict("skirt") is None
    bench.on("head", "1")
    assert bench.finish()


def test_a_new_small_thing_of_the_piston_is_no_new_piston() -> None:
    bench = Bench(BORE.replace('id = "piston"\n', 'id = "piston"\nwith = [{ name = "clip" }]\n', 1))
    bench.off("head", "1")
    bench.off("piston", "2")
    bench.reads("skirt", 67.85)
    bench.renews("piston", "clip")
    assert bench.verdict("skirt") == "worn"


def test_a_worn_part_already_flagged_is_not_flagged_again_at_the_finish() -> None:
    bench = stripped()
    bench.reads("skirt", 67.85)
    bench.on("piston", "2")
    bench.on("head", "1")
    assert not bench.finish()
    assert bench.ever_wrong() == ["worn piston open"]


def test_a_worn_part_measured_after_it_went_on_is_flagged_at_the_finish() -> None:
    bench = Bench(BORE)
    bench.reads("skirt", 67.85)
    assert bench.wrong() == []
    assert not bench.finish()
    assert bench.wrong() == ["worn piston"]


def test_taking_the_piston_off_again_closes_worn_and_fitting_it_again_raises_it_again() -> None:
    bench = stripped()
    bench.reads("skirt", 67.85)
    bench.on("piston", "2")
    bench.off("piston", "2")
    assert bench.wrong() == []
    bench.on("piston", "2")
    assert bench.ever_wrong() == ["worn piston mended", "worn piston open"]


def test_a_better_reading_after_a_typing_slip_mends_it() -> None:
    bench = stripped()
    wrong = bench.reads("skirt", 67.85)
    bench.on("piston", "2")
    bench.undo(wrong)
    bench.reads("skirt", 67.96)
    assert bench.wrong() == []


def test_a_size_read_in_inches_is_judged_in_millimetres() -> None:
    bench = stripped()
    bench.reads("bore", 2.678, unit="in")
    assert bench.verdict("bore") == "good"
    bench.reads("bore", 2.686, unit="in")
    assert bench.verdict("bore") == "worn"


SHAPE = """
[[part]]
id = "case"
[[check]]
id = "bore"
part = "case"
at = ["top", "bottom"]
across = ["along", "across"]
new = [68.000, 68.015]
max = 69.0
out_of_round_max = 0.05
taper_max = 0.05
"""


def spot(at: str, across: str) -> dict[str, str]:
    return {"at": at, "across": across}


@pytest.mark.parametrize(
    ("spots", "verdict"),
    [
        ((spot("top", "along"), spot("top", "across")), "worn"),
        ((spot("top", "along"), spot("bottom", "along")), "worn"),
        ((spot("top", "along"), spot("bottom", "across")), "good"),
    ],
)
def test_round_and_taper_are_judged_at_one_height_and_in_one_direction(
    spots: tuple[dict[str, str], ...], verdict: str
) -> None:
    bench = Bench(SHAPE)
    bench.reads("bore", 68.02, 68.08, spots=spots)
    assert bench.verdict("bore") == verdict


# -- readings that cannot be right --------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [6.802, 680.2, 2.678, 22.6, 204.6])
def test_a_reading_beyond_a_third_or_three_times_is_odd_and_takes_no_part_in_the_verdict(size: float) -> None:
    bench = stripped()
    entry = bench.reads("bore", size)
    assert bench.wrong()[0].startswith("odd-reading")
    flag = bench.flag("odd-reading")
    assert flag.entry == entry
    assert "Bore" in flag.text
    assert bench.verdict("bore") is None
    bench.reads("bore", 68.02)
    assert bench.wrong() == []
    assert bench.verdict("bore") == "good"


def test_a_size_typed_in_inches_that_was_millimetres_is_odd_and_shown_with_honest_digits() -> None:
    bench = stripped()
    bench.reads("bore", 68.02, unit="in")
    assert bench.flag("odd-reading").text == "Bore: 1727.708 mm cannot be right beside 68 to 68.015 mm when new."


@pytest.mark.parametrize("size", [22.7, 204.4])
def test_a_reading_just_within_a_third_and_three_times_is_only_worn_or_good(size: float) -> None:
    bench = stripped()
    bench.reads("bore", size)
    assert bench.wrong() == []


def test_a_reading_far_from_the_middle_of_the_others_is_odd() -> None:
    bench = stripped()
    # From new (68.015) to the limit (68.165) it is 0.15; three times that is 0.45.
    bench.reads("bore", 68.02, 68.03, 68.476)
    assert bench.flag("odd-reading").part in ("case", None)
    assert "68.476" in bench.flag("odd-reading").text or "68.48" in bench.flag("odd-reading").text
    assert bench.verdict("bore") == "good"


def test_a_reading_within_three_times_the_way_is_not_odd() -> None:
    bench = stripped()
    bench.reads("bore", 68.02, 68.03, 68.474)
    assert bench.wrong() == []
    assert bench.verdict("bore") == "worn"


def test_two_readings_cannot_say_which_of_them_is_odd() -> None:
    bench = stripped()
    bench.reads("bore", 68.02, 68.60)
    assert bench.wrong() == []


def test_the_third_reading_of_another_entry_shows_which_of_the_first_two_was_odd() -> None:
    bench = stripped()
    for height, size in (("top", 68.02), ("middle", 68.60), ("bottom", 68.03)):
        bench.reads("bore", size, spots=({"at": height},))
    assert "middle" in bench.flag("odd-reading").text
    assert [name.split()[0] for name in bench.wrong()] == ["odd-reading"]
    assert bench.verdict("bore") == "good"


@pytest.mark.parametrize("sizes", [(68.02, 68.03, 86.02), (68.02, 86.02, 68.03), (86.02, 68.02, 68.03)])
def test_one_wild_reading_does_not_make_its_neighbours_odd_wherever_it_stands(sizes: tuple[float, ...]) -> None:
    bench = stripped()
    bench.reads("bore", *sizes)
    assert len(bench.wrong()) == 1
    assert "86.02" in bench.flag("odd-reading").text


def test_a_bore_read_while_the_piston_is_in_is_odd() -> None:
    bench = Bench(BORE)
    bench.off("head", "1")
    bench.reads("bore", 68.02)
    flag = bench.flag("odd-reading")
    assert "Piston" in flag.text
    assert bench.verdict("bore") is None
    bench.off("piston", "2")
    bench.reads("bore", 68.03)
    assert bench.wrong() == []
    assert bench.verdict("bore") == "good"


def test_an_absent_piston_leaves_the_bore_bare() -> None:
    bench = Bench(BORE)
    bench.say("absent", part="piston")
    bench.reads("bore", 68.02)
    assert bench.wrong() == []
