"""How a part was fitted: its questions, its new stock, its bolts."""

import pytest

from tests.ledger.bench import Bench

COVER = """
[[part]]
id = "cover"
ask = [
  { question = "Both dowels in?", answers = ["yes", "no"], right = "yes" },
  { question = "Which way does the lip look?", answers = ["in", "out"], right = "in" },
]
[[part]]
id = "guard"
"""


def test_a_cover_fitted_with_the_right_answers_raises_nothing() -> None:
    bench = Bench(COVER)
    bench.off("cover", "1")
    bench.on("cover", "1", answers=["yes", "in"])
    assert bench.ever_wrong() == []


@pytest.mark.parametrize("said", [{"answers": ["no", "in"]}, {"answers": ["yes", "out"]}, {"answers": ["yes"]}, {}])
def test_a_question_answered_wrongly_or_not_at_all_is_the_wrong_way_round(said: dict[str, list[str]]) -> None:
    bench = Bench(COVER)
    bench.off("cover", "1")
    entry = bench.on("cover", "1", **said)
    assert bench.wrong() == ["wrong-way cover"]
    flag = bench.flag("wrong-way")
    assert flag.entry == entry
    assert "Cover" in flag.text
    right = said.get("answers", [])[:1] == ["yes"]
    assert ("Which way does the lip look?" if right else "Both dowels in?") in flag.text
    assert ("right is “in”" if right else "right is “yes”") in flag.text
    assert "Cover" in flag.mend


def test_answering_again_while_the_cover_is_on_mends_it() -> None:
    bench = Bench(COVER)
    bench.off("cover", "1")
    bench.on("cover", "1", answers=["no", "in"])
    bench.on("cover", answers=["no", "in"])
    assert bench.ever_wrong() == ["wrong-way cover open"]
    bench.on("cover", answers=["yes", "in"])
    assert bench.ever_wrong() == ["wrong-way cover mended"]


def test_taking_the_cover_off_again_closes_its_wrong_way() -> None:
    bench = Bench(COVER)
    bench.off("cover", "1")
    bench.on("cover", "1")
    bench.off("cover", "1")
    assert bench.ever_wrong() == ["wrong-way cover mended"]


GASKET = """
[[part]]
id = "cover"
with = [
  { name = "gasket", single_use = true },
  { name = "sealing ring", count = 2, single_use = true },
  { name = "dowel", count = 2 },
]
[[part]]
id = "seal"
single_use = true
[[part]]
id = "ring"
places = ["left", "right"]
single_use = true
"""


def test_a_used_gasket_fitted_again_is_spent_and_the_sentence_names_it() -> None:
    bench = Bench(GASKET)
    bench.off("cover", "1")
    bench.renews("cover", "sealing ring", 2)
    entry = bench.on("cover", "1")
    assert bench.wrong() == ["spent cover"]
    flag = bench.flag("spent")
    assert flag.entry == entry
    assert "gasket" in flag.text
    assert "sealing ring" not in flag.text
    assert "Cover" in flag.text


def test_new_stock_for_every_single_use_item_raises_nothing() -> None:
    bench = Bench(GASKET)
    bench.off("cover", "1")
    bench.renews("cover", "sealing ring", 2)
    bench.renews("cover", "gasket")
    bench.on("cover", "1")
    assert bench.ever_wrong() == []


def test_one_new_sealing_ring_where_two_are_needed_is_too_little() -> None:
    bench = Bench(GASKET)
    bench.off("cover", "1")
    bench.renews("cover", "gasket")
    bench.renews("cover", "sealing ring")
    bench.on("cover", "1")
    assert bench.wrong() == ["spent cover"]
    assert "sealing ring" in bench.flag("spent").text


def test_fitting_uses_the_new_seal_up_so_the_next_time_it_is_spent() -> None:
    bench = Bench(GASKET)
    bench.off("seal", "1")
    bench.renews("seal")
    bench.on("seal", "1")
    assert bench.ever_wrong() == []
    bench.off("seal", "1")
    bench.on("seal", "1")
    assert bench.wrong() == ["spent seal"]


def test_saying_again_that_the_seal_is_on_uses_nothing_up() -> None:
    bench = Bench(GASKET)
    bench.off("seal", "1")
    bench.renews("seal")
    bench.on("seal", "1")
    bench.on("seal", "1")
    assert bench.ever_wrong() == []


def test_a_new_seal_does_not_mend_the_old_one_that_is_in_until_it_comes_off_again() -> None:
    bench = Bench(GASKET)
    bench.off("seal", "1")
    bench.on("seal", "1")
    bench.renews("seal")
    assert bench.wrong() == ["spent seal"]
    bench.off("seal", "1")
    assert bench.wrong() == []
    bench.on("seal", "1")
    assert bench.wrong() == []


def test_each_piece_needs_its_own_new_ring() -> None:
    bench = Bench(GASKET)
    bench.off("ring", "1", place="left")
    bench.off("ring", "2", place="right")
    bench.renews("ring")
    bench.on("ring", "1", place="left")
    assert bench.ever_wrong() == []
    bench.on("ring", "2", place="right")
    assert bench.wrong() == ["spent ring"]
    bench.off("ring", "2", place="right")
    bench.renews("ring")
    bench.on("ring", "2", place="right")
    assert bench.wrong() == []


BOLTED = """
[[part]]
id = "guard"
behind = []
[[part]]
id = "cover"
behind = ["guard"]
  [[part.held_by]]
  thread = "M6"
  length = 28
  count = 6
  torque = 10.0
  passes = [0.4, 0.7, 1.0]
  [[part.held_by]]
  thread = "M5"
  length = 12
[[part]]
id = "plate"
behind = ["guard"]
  [[part.held_by]]
  thread = "M4"
  length = 8
  torque = 3.0
[[part]]
id = "fan"
"""


def on_with_bolts_loose() -> Bench:
    bench = Bench(BOLTED)
    bench.off("guard", "1")
    bench.off("cover", "2")
    bench.on("cover", "2")
    return bench


def test_bolts_left_loose_are_flagged_when_the_guard_closes_the_cover_in_and_the_passes_mend_it() -> None:
    bench = on_with_bolts_loose()
    assert bench.wrong() == []
    bench.tighten("cover", 4, turn=0)
    bench.on("guard", "1")
    assert bench.wrong() == ["loose cover"]
    assert "Cover" in bench.flag("loose").text
    assert "Guard" in bench.flag("loose").text
    bench.tighten("cover", 7, turn=1)
    assert bench.wrong() == ["loose cover"]
    bench.tighten("cover", 10, turn=2)
    assert bench.wrong() == []


def test_a_part_that_closes_nothing_in_leaves_loose_bolts_for_later() -> None:
    bench = on_with_bolts_loose()
    bench.off("fan", "4")
    bench.on("fan", "4")
    assert bench.wrong() == []


def test_bolts_left_loose_are_flagged_at_the_finish_even_if_nothing_closes_them_in() -> None:
    bench = Bench(BOLTED)
    bench.off("guard", "1")
    bench.off("plate", "3")
    bench.on("plate", "3")
    bench.on("guard", "1")
    bench.off("guard", "1")
    bench.on("guard", "1")
    assert bench.ever_wrong() == ["loose plate open"]
    bench.tighten("plate", 3)
    bench.off("guard", "1")
    bench.off("plate", "3")
    bench.on("plate", "3")
    bench.say("absent", part="guard")
    assert not bench.finish()
    assert bench.wrong() == ["loose plate"]
    bench.tighten("plate", 3)
    assert bench.finish()


def test_bolts_that_were_never_undone_are_not_loose() -> None:
    bench = Bench(BOLTED)
    bench.off("guard", "1")
    bench.on("guard", "1")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_a_set_without_a_torque_is_never_loose() -> None:
    bench = on_with_bolts_loose()
    for turn, torque in enumerate((4, 7, 10)):
        bench.tighten("cover", torque, turn=turn)
    bench.on("guard", "1")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_passes_count_only_after_the_passes_before_them() -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", 10, turn=2)
    bench.tighten("cover", 4, turn=0)
    bench.tighten("cover", 7, turn=1)
    bench.on("guard", "1")
    assert bench.wrong() == ["loose cover"]
    bench.tighten("cover", 10, turn=2)
    assert bench.wrong() == []


def test_passes_count_from_the_start_when_the_cover_went_on_again() -> None:
    bench = on_with_bolts_loose()
    for turn, torque in enumerate((4, 7, 10)):
        bench.tighten("cover", torque, turn=turn)
    bench.off("cover", "2")
    bench.on("cover", "2")
    bench.on("guard", "1")
    assert bench.wrong() == ["loose cover"]


def test_taking_the_cover_off_again_closes_its_loose_bolts() -> None:
    bench = on_with_bolts_loose()
    bench.on("guard", "1")
    assert bench.wrong() == ["loose cover"]
    bench.off("guard", "1")
    bench.off("cover", "2")
    assert bench.wrong() == []


@pytest.mark.parametrize("torque", [3.6, 4.0, 4.4])
def test_a_pass_within_a_tenth_of_its_share_is_right(torque: float) -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", torque, turn=0)
    assert bench.ever_wrong() == []


@pytest.mark.parametrize("torque", [3.59, 4.41, 10.0, 0.0])
def test_a_pass_more_than_a_tenth_off_its_share_is_wrong_and_that_pass_again_mends_it(torque: float) -> None:
    bench = on_with_bolts_loose()
    entry = bench.tighten("cover", torque, turn=0)
    assert bench.wrong() == ["wrong-torque cover"]
    flag = bench.flag("wrong-torque")
    assert flag.entry == entry
    assert "Cover" in flag.text
    assert "M6x28" in flag.text
    assert "4" in flag.mend
    bench.tighten("cover", 4, turn=0)
    assert bench.ever_wrong() == ["wrong-torque cover mended"]


def test_a_pass_with_a_wrong_torque_counts_as_done() -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", 4, turn=0)
    bench.tighten("cover", 9, turn=1)
    bench.tighten("cover", 10, turn=2)
    bench.on("guard", "1")
    assert bench.wrong() == ["wrong-torque cover"]


def test_the_next_pass_does_not_mend_a_wrong_one() -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", 8, turn=0)
    bench.tighten("cover", 7, turn=1)
    assert bench.wrong() == ["wrong-torque cover"]


def test_the_same_pass_wrong_again_is_one_mistake_and_two_passes_wrong_are_two() -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", 8, turn=0)
    bench.tighten("cover", 9, turn=0)
    assert len(bench.wrong()) == 1
    bench.tighten("cover", 9.9, turn=1)
    assert len(bench.wrong()) == 2


def test_a_torque_in_pound_feet_is_converted() -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", 2.95, turn=0, unit="lb·ft")
    bench.tighten("cover", 61.96, turn=1, unit="lb·in")
    assert bench.ever_wrong() == []


@pytest.mark.parametrize(
    ("torque", "unit", "meant"), [(4, "lb·ft", "N·m"), (2.95, "N·m", "lb·ft"), (4, "lb·in", "N·m")]
)
def test_a_slip_of_units_says_so(torque: float, unit: str, meant: str) -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", torque, turn=0, unit=unit)
    flag = bench.flag("wrong-torque")
    assert unit in flag.text
    assert meant in flag.text


def test_taking_the_cover_off_again_closes_its_wrong_torque() -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", 9, turn=0)
    bench.off("cover", "2")
    assert bench.wrong() == []


def test_the_order_of_the_bolts_is_kept_with_the_pass() -> None:
    bench = on_with_bolts_loose()
    bench.tighten("cover", 4, turn=0, order=[1, 4, 2, 5, 3, 6])
    assert bench.ever_wrong() == []


FEET = """
[[part]]
id = "foot"
places = ["left", "right"]
  [[part.held_by]]
  thread = "M8"
  length = 20
  torque = 20.0
"""


def test_each_piece_has_its_own_passes() -> None:
    bench = Bench(FEET)
    for place, bag in (("left", "1"), ("right", "2")):
        bench.off("foot", bag, place=place)
        bench.on("foot", bag, place=place)
    bench.tighten("foot", 20, place="left")
    assert not bench.finish()
    assert bench.wrong() == ["loose foot"]
    assert "right" in bench.flag("loose").text.lower()
    bench.tighten("foot", 20, place="right")
    assert bench.finish()


def test_a_new_seal_of_which_nobody_said_how_many_is_one() -> None:
    bench = Bench(GASKET)
    bench.off("seal", "1")
    bench.say("renew", part="seal")
    bench.on("seal", "1")
    assert bench.ever_wrong() == []
