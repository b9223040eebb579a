"""What has to be set, signed and noted, and when."""

import pytest

from tests.ledger.bench import Bench

LASH = """
[[part]]
id = "rocker-cover"
[[part]]
id = "rockers"
behind = ["rocker-cover"]
[[part]]
id = "coil"
[[part]]
id = "sump"
[[setting]]
id = "lash"
after = ["rockers"]
before = ["rocker-cover"]
range = [0.13, 0.17]
[[setting]]
id = "oil"
before = ["sump"]
question = "Is the oil at the mark?"
answers = ["yes", "no"]
right = "yes"
[[setting]]
id = "coil-gap"
after = ["coil"]
range = [0.3, 0.4]
"""


def rockers_back_on() -> Bench:
    bench = Bench(LASH)
    bench.off("rocker-cover", "1")
    bench.off("rockers", "2")
    bench.on("rockers", "2")
    return bench


def test_lash_set_between_rockers_and_cover_raises_nothing() -> None:
    bench = rockers_back_on()
    bench.sets("lash", 0.15)
    bench.on("rocker-cover", "1")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_a_rocker_cover_that_goes_on_over_unset_lash_is_flagged() -> None:
    bench = rockers_back_on()
    entry = bench.on("rocker-cover", "1")
    assert bench.wrong() == ["unset rocker-cover"]
    flag = bench.flag("unset")
    assert flag.entry == entry
    assert "Lash" in flag.text
    assert "Rocker cover" in flag.text
    assert "0.13" in flag.mend + flag.text
    assert "0.17" in flag.mend + flag.text


def test_lash_that_was_never_disturbed_need_not_be_set() -> None:
    bench = Bench(LASH)
    bench.off("rocker-cover", "1")
    bench.on("rocker-cover", "1")
    assert bench.finish()
    assert bench.ever_wrong() == []


@pytest.mark.parametrize("value", [0.12, 0.18, 1.5])
def test_lash_set_out_of_range_is_not_set(value: float) -> None:
    bench = rockers_back_on()
    bench.sets("lash", value)
    bench.on("rocker-cover", "1")
    assert bench.wrong() == ["unset rocker-cover"]


@pytest.mark.parametrize("value", [0.13, 0.17])
def test_the_ends_of_the_range_are_in_range(value: float) -> None:
    bench = rockers_back_on()
    bench.sets("lash", value)
    bench.on("rocker-cover", "1")
    assert bench.ever_wrong() == []


def test_lash_set_in_inches_is_converted() -> None:
    bench = rockers_back_on()
    bench.sets("lash", 0.006, unit="in")
    bench.on("rocker-cover", "1")
    assert bench.ever_wrong() == []


def test_a_later_setting_out_of_range_undoes_an_earlier_right_one() -> None:
    bench = rockers_back_on()
    bench.sets("lash", 0.15)
    bench.sets("lash", 0.30)
    bench.on("rocker-cover", "1")
    assert bench.wrong() == ["unset rocker-cover"]


def test_lash_set_before_the_rockers_are_on_does_not_count() -> None:
    bench = Bench(LASH)
    bench.off("rocker-cover", "1")
    bench.off("rockers", "2")
    bench.sets("lash", 0.15)
    bench.on("rockers", "2")
    bench.on("rocker-cover", "1")
    assert bench.wrong() == ["unset rocker-cover"]


def test_lash_set_once_the_cover_is_on_does_not_count_until_the_cover_is_off_again() -> None:
    bench = rockers_back_on()
    bench.on("rocker-cover", "1")
    bench.sets("lash", 0.15)
    assert bench.wrong() == ["unset rocker-cover"]
    bench.off("rocker-cover", "1")
    assert bench.wrong() == []
    bench.sets("lash", 0.15)
    bench.on("rocker-cover", "1")
    assert bench.finish()


def test_rockers_that_came_off_once_more_must_be_set_once_more() -> None:
    bench = rockers_back_on()
    bench.sets("lash", 0.15)
    bench.off("rockers", "2")
    bench.on("rockers", "2")
    bench.on("rocker-cover", "1")
    assert bench.wrong() == ["unset rocker-cover"]


def test_without_after_a_setting_is_due_once_its_own_part_has_been_off() -> None:
    bench = Bench(LASH)
    bench.off("sump", "4")
    bench.on("sump", "4")
    assert bench.wrong() == ["unset sump"]
    assert "Oil" in bench.flag("unset").text
    bench.off("sump", "4")
    bench.say("set", setting="oil", answer="no")
    bench.on("sump", "4")
    assert bench.wrong() == ["unset sump"]
    bench.off("sump", "4")
    bench.say("set", setting="oil", answer="yes")
    bench.on("sump", "4")
    assert bench.wrong() == []


def test_a_setting_with_nothing_after_it_is_missed_at_the_finish_and_may_be_made_then() -> None:
    bench = Bench(LASH)
    bench.off("coil", "3")
    bench.on("coil", "3")
    assert bench.ever_wrong() == []
    assert not bench.finish()
    [flag] = [flag for flag in bench.ledger.state.flags if flag.open]
    assert flag.kind == "unset"
    assert "Coil gap" in flag.text
    bench.sets("coil-gap", 0.35)
    assert bench.wrong() == []
    assert bench.finish()


def test_at_the_finish_a_part_that_lies_in_its_bag_is_not_asked_to_come_off_again() -> None:
    bench = rockers_back_on()
    assert not bench.finish()
    assert bench.flag("unset").mend == "Set it between 0.13 and 0.17 mm."
    fitted = rockers_back_on()
    fitted.on("rocker-cover", "1")
    assert fitted.flag("unset").mend == "Take Rocker cover off again and set it between 0.13 and 0.17 mm."


def test_a_setting_made_in_time_is_not_missed_at_the_finish() -> None:
    bench = Bench(LASH)
    bench.off("coil", "3")
    bench.on("coil", "3")
    bench.sets("coil-gap", 0.35)
    assert bench.finish()


SIGNED = """
[[part]]
id = "tank"
[[part]]
id = "side-cover"
[[sign]]
id = "drained"
name = "Fuel drained outside"
stage = "strip"
before = ["tank"]
[[sign]]
id = "timing"
name = "Timing marks in line"
stage = "rebuild"
before = ["side-cover"]
"""


def test_a_tank_that_comes_off_unsigned_is_flagged_until_the_instructor_signs() -> None:
    bench = Bench(SIGNED)
    entry = bench.off("tank", "1")
    assert bench.wrong() == ["unsigned tank"]
    flag = bench.flag("unsigned")
    assert flag.entry == entry
    assert "Tank" in flag.text
    assert "Fuel drained outside" in flag.text
    bench.signs("drained", teacher=False)
    assert bench.wrong() == ["unsigned tank"]
    bench.signs("drained")
    assert bench.wrong() == []


def test_a_signed_tank_raises_nothing_and_must_be_signed_again_after_it_was_on() -> None:
    bench = Bench(SIGNED)
    bench.signs("drained")
    bench.off("tank", "1")
    bench.on("tank", "1")
    assert bench.ever_wrong() == []
    bench.off("tank", "1")
    assert bench.wrong() == ["unsigned tank"]


def test_a_side_cover_that_goes_on_unsigned_is_flagged_and_taking_it_off_again_closes_it() -> None:
    bench = Bench(SIGNED)
    bench.off("side-cover", "2")
    assert bench.ever_wrong() == []
    bench.on("side-cover", "2")
    assert bench.wrong() == ["unsigned side-cover"]
    assert "Timing marks in line" in bench.flag("unsigned").text
    bench.off("side-cover", "2")
    assert bench.wrong() == []


def test_a_sign_from_before_the_side_cover_came_off_does_not_count() -> None:
    bench = Bench(SIGNED)
    bench.signs("timing")
    bench.off("side-cover", "2")
    bench.on("side-cover", "2")
    assert bench.wrong() == ["unsigned side-cover"]
    bench.signs("timing")
    assert bench.wrong() == []


def test_a_student_may_not_sign_for_the_rebuild() -> None:
    bench = Bench(SIGNED)
    bench.off("side-cover", "2")
    bench.signs("timing", teacher=False)
    bench.on("side-cover", "2")
    assert bench.wrong() == ["unsigned side-cover"]


def test_a_sign_in_time_raises_nothing() -> None:
    bench = Bench(SIGNED)
    bench.off("side-cover", "2")
    bench.signs("timing")
    bench.on("side-cover", "2")
    assert bench.ever_wrong() == []


NOTED = """
[[part]]
id = "wire"
record = ["photo", "wiring"]
[[part]]
id = "plug"
"""


def test_a_wire_that_comes_off_unrecorded_is_flagged_until_it_is_noted() -> None:
    bench = Bench(NOTED)
    bench.off("wire", "1")
    assert bench.wrong() == ["unrecorded wire"]
    flag = bench.flag("unrecorded")
    assert "Wire" in flag.text
    assert "photo" in flag.text
    assert "wiring" in flag.text
    assert not flag.stops
    bench.say("note", part="wire", photo="p1")
    assert bench.wrong() == ["unrecorded wire"]
    bench.say("note", part="wire", wiring="w1")
    assert bench.wrong() == []


def test_notes_beforehand_may_be_one_or_two() -> None:
    for notes in ([{"photo": "p1", "wiring": "w1"}], [{"wiring": "w1"}, {"photo": "p1"}]):
        bench = Bench(NOTED)
        for note in notes:
            bench.say("note", part="wire", **note)
        bench.off("wire", "1")
        assert bench.ever_wrong() == []


@pytest.mark.parametrize(
    "note",
    [{"photo": "p1", "wiring": "w1"}, {"part": "plug", "photo": "p1", "wiring": "w1"}, {"part": "wire", "text": "x"}],
)
def test_a_note_of_nothing_in_particular_or_of_another_part_or_without_a_picture_is_no_record(
    note: dict[str, str],
) -> None:
    bench = Bench(NOTED)
    bench.say("note", **note)
    bench.off("wire", "1")
    assert bench.wrong() == ["unrecorded wire"]
