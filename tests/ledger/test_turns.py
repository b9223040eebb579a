"""A part comes off when nothing is in its way, and goes on so that nothing is shut in."""

from tests.ledger.bench import Bench

GUARD = """
[[part]]
id = "case"
stays = true
[[part]]
id = "guard"
[[part]]
id = "cover"
behind = ["guard"]
[[part]]
id = "shaft"
behind = ["cover"]
"""

PISTON = """
[[part]]
id = "head"
[[part]]
id = "crank"
[[part]]
id = "piston"
ways = [["head"], ["crank"]]
"""

FAN = """
[[part]]
id = "fan"
[[part]]
id = "shroud"
fit_after = ["fan"]
[[part]]
id = "screen"
"""


def test_parts_taken_off_and_fitted_in_their_turn_raise_nothing() -> None:
    bench = Bench(GUARD)
    for number, part in enumerate(("guard", "cover", "shaft"), 1):
        bench.off(part, str(number))
    for number, part in ((3, "shaft"), (2, "cover"), (1, "guard")):
        bench.on(part, str(number))
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_a_cover_that_comes_off_under_its_guard_is_out_of_turn_and_the_sentence_names_both() -> None:
    bench = Bench(GUARD)
    entry = bench.off("cover", "2")
    flag = bench.flag("out-of-turn")
    assert (flag.part, flag.entry, flag.stops) == ("cover", entry, True)
    assert "Cover" in flag.text
    assert "Guard" in flag.text
    assert "Guard" in flag.mend or "Cover" in flag.mend


def test_the_cover_is_no_longer_out_of_turn_once_the_guard_is_off_too() -> None:
    bench = Bench(GUARD)
    bench.off("cover", "2")
    bench.off("guard", "1")
    assert bench.wrong() == []
    assert bench.ever_wrong() == ["out-of-turn cover mended"]


def test_a_cover_that_goes_on_under_a_guard_that_is_on_is_out_of_turn() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    bench.off("cover", "2")
    bench.on("guard", "1")
    assert bench.wrong() == ["shut-in guard"]
    bench.on("cover", "2")
    assert "out-of-turn cover" in bench.wrong()


def test_taking_the_cover_off_again_mends_that_it_went_on_out_of_turn_and_raises_nothing_new() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    bench.off("cover", "2")
    bench.on("guard", "1")
    bench.on("cover", "2")
    raised = len(bench.ever_wrong())
    bench.off("cover", "2")
    assert "out-of-turn cover" not in bench.wrong()
    assert len(bench.ever_wrong()) == raised


def test_taking_the_guard_off_mends_that_the_cover_went_on_out_of_turn() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    bench.off("cover", "2")
    bench.on("guard", "1")
    bench.on("cover", "2")
    bench.off("guard", "1")
    assert bench.wrong() == []


def test_a_piston_without_any_way_out_is_out_of_turn_and_either_way_mends_it() -> None:
    for way in ("head", "crank"):
        bench = Bench(PISTON)
        bench.off("piston", "3")
        assert bench.wrong() == ["out-of-turn piston"]
        assert "Head" in bench.flag("out-of-turn").text
        assert "Crank" in bench.flag("out-of-turn").text
        bench.off(way, "1")
        assert bench.wrong() == []


def test_a_guard_fitted_before_its_cover_shuts_the_cover_in() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    bench.off("cover", "2")
    entry = bench.on("guard", "1")
    flag = bench.flag("shut-in")
    assert (flag.part, flag.entry) == ("guard", entry)
    assert "Cover" in flag.text
    assert "Guard" in flag.mend


def test_taking_the_guard_off_again_lets_the_cover_out() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    bench.off("cover", "2")
    bench.on("guard", "1")
    bench.off("guard", "1")
    assert bench.ever_wrong() == ["shut-in guard mended"]


def test_a_guard_fitted_while_cover_and_shaft_are_off_shuts_both_in() -> None:
    bench = Bench(GUARD)
    for number, part in enumerate(("guard", "cover", "shaft"), 1):
        bench.off(part, str(number))
    bench.on("guard", "1")
    text = bench.flag("shut-in").text
    assert "Cover" in text
    assert "Shaft" in text


def test_the_last_way_closed_before_the_piston_is_in_shuts_it_in_and_the_first_does_not() -> None:
    bench = Bench(PISTON)
    for number, part in enumerate(("head", "crank", "piston"), 1):
        bench.off(part, str(number))
    bench.on("crank", "2")
    assert bench.wrong() == []
    bench.on("head", "1")
    assert bench.wrong() == ["shut-in head"]
    assert "Piston" in bench.flag("shut-in").text


def test_a_shroud_fitted_before_the_fan_it_is_fitted_after_shuts_the_fan_in() -> None:
    bench = Bench(FAN)
    bench.off("shroud", "1")
    bench.off("fan", "2")
    bench.on("shroud", "1")
    assert bench.wrong() == ["shut-in shroud"]
    assert "Fan" in bench.flag("shut-in").text
    bench.off("shroud", "1")
    assert bench.wrong() == []


def test_fit_after_binds_only_what_is_off() -> None:
    bench = Bench(FAN)
    bench.off("shroud", "1")
    bench.on("shroud", "1")
    assert bench.ever_wrong() == []


def test_what_comes_off_out_of_turn_twice_is_flagged_once() -> None:
    bench = Bench(GUARD)
    bench.off("cover", "2")
    bench.off("cover", "2")
    assert bench.ever_wrong() == ["out-of-turn cover open"]


def test_an_absent_guard_is_in_nobodys_way_and_no_move_itself() -> None:
    bench = Bench(GUARD)
    bench.say("absent", part="guard")
    moves = bench.ledger.state.moves
    assert moves.may_come_off() == ["cover"]
    assert moves.may_go_on() == []
    bench.off("cover", "2")
    bench.on("cover", "2")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_a_guard_said_to_be_absent_late_mends_what_was_out_of_turn_for_it() -> None:
    bench = Bench(GUARD)
    bench.off("cover", "2")
    bench.say("absent", part="guard")
    assert bench.wrong() == []


def test_a_guard_that_is_off_and_then_said_to_be_absent_is_not_missed_at_the_end() -> None:
    bench = Bench(GUARD)
    bench.off("guard", "1")
    bench.say("absent", part="guard")
    assert bench.finish()


FOLLOWER = """
[[part]]
id = "camshaft"
[[part]]
id = "follower"
places = ["inlet", "exhaust"]
behind = ["camshaft"]
[[part]]
id = "plate"
behind = ["follower"]
"""


def test_a_plate_waits_until_both_followers_are_off() -> None:
    bench = Bench(FOLLOWER)
    bench.off("camshaft", "1")
    bench.off("follower", "21", place="inlet")
    assert "plate" not in bench.ledger.state.moves.may_come_off()
    bench.off("plate", "3")
    assert bench.wrong() == ["out-of-turn plate"]
    bench.off("follower", "22", place="exhaust")
    assert bench.wrong() == []


def test_a_camshaft_fitted_while_one_follower_is_off_shuts_it_in() -> None:
    bench = Bench(FOLLOWER)
    bench.off("camshaft", "1")
    bench.off("follower", "21", place="inlet")
    bench.on("camshaft", "1")
    assert bench.wrong() == ["shut-in camshaft"]
    assert "ollower" in bench.flag("shut-in").text


def test_followers_move_one_by_one_and_each_goes_back_to_its_own_place() -> None:
    bench = Bench(FOLLOWER)
    bench.off("camshaft", "1")
    bench.off("follower", "21", place="inlet")
    bench.off("follower", "22", place="exhaust")
    assert bench.ledger.state.moves.may_go_on() == ["follower"]
    bench.on("follower", "22", place="exhaust")
    bench.on("follower", "21", place="inlet")
    bench.on("camshaft", "1")
    assert bench.finish()
    assert bench.ever_wrong() == []


def test_two_followers_forced_out_under_the_camshaft_are_two_mistakes_and_the_camshaft_off_mends_both() -> None:
    bench = Bench(FOLLOWER)
    bench.off("follower", "21", place="inlet")
    bench.off("follower", "22", place="exhaust")
    assert bench.wrong() == ["out-of-turn follower", "out-of-turn follower"]
    assert [flag.text for flag in bench.ledger.state.flags] == [
        "Follower (inlet) came off though Camshaft is still on.",
        "Follower (exhaust) came off though Camshaft is still on.",
    ]
    bench.off("camshaft", "1")
    assert bench.wrong() == []


def test_a_part_that_stays_is_out_of_turn_wherever_it_is_laid() -> None:
    bench = Bench(GUARD)
    bench.off("case", "9")
    assert bench.flag("out-of-turn").text == "Case came off, but it stays on this machine."
    bench.on("case", "9")
    assert bench.wrong() == []


def test_the_camshaft_waits_while_one_follower_still_lies_in_its_bag() -> None:
    bench = Bench(FOLLOWER)
    bench.off("camshaft", "1")
    bench.off("follower", "21", place="inlet")
    bench.off("follower", "22", place="exhaust")
    bench.on("follower", "21", place="inlet")
    state = bench.ledger.state
    assert state.may_go_on() == ["follower"]
    assert state.not_yet("camshaft").after == ("follower",)
    bench.on("camshaft", "1")
    assert bench.flag("shut-in").text == "Camshaft went on before Follower, which cannot go back now (bag 22)."
    bench.off("camshaft", "1")
    bench.on("follower", "22", place="exhaust")
    assert state.may_go_on() == ["camshaft"]
    bench.on("camshaft", "1")
    assert bench.wrong() == []


def test_a_piston_with_another_way_out_does_not_wait_for_the_pieces_beside_it() -> None:
    bench = Bench(
        """
[[part]]
id = "left"
[[part]]
id = "right"
[[part]]
id = "follower"
places = ["inlet", "exhaust"]
ways = [["left"], ["right"]]
"""
    )
    bench.off("left", "1")
    bench.off("right", "2")
    bench.off("follower", "21", place="inlet")
    assert bench.ledger.state.may_go_on() == ["left", "right", "follower"]
    bench.on("left", "1")
    assert bench.ledger.state.may_go_on() == ["follower"]
    bench.on("right", "2")
    assert bench.wrong() == ["shut-in right"]


def test_a_shroud_that_is_fitted_after_the_feet_waits_for_the_last_of_them() -> None:
    bench = Bench(
        """
[[part]]
id = "foot"
places = ["left", "right"]
[[part]]
id = "shroud"
fit_after = ["foot"]
"""
    )
    bench.off("shroud", "1")
    bench.off("foot", "2", place="left")
    assert bench.ledger.state.may_go_on() == ["foot"]
    bench.on("shroud", "1")
    assert bench.flag("shut-in").text == "Shroud went on before Foot, which must be on first (bag 2)."


def test_one_of_two_followers_taken_off_lets_nothing_out_that_the_other_shuts_in() -> None:
    bench = Bench(FOLLOWER)
    bench.off("camshaft", "1")
    bench.off("follower", "21", place="inlet")
    bench.off("follower", "22", place="exhaust")
    bench.off("plate", "3")
    bench.on("follower", "21", place="inlet")
    bench.on("follower", "22", place="exhaust")
    assert bench.wrong() == ["shut-in follower"]
    bench.off("follower", "21", place="inlet")
    assert bench.wrong() == ["shut-in follower"]
    bench.off("follower", "22", place="exhaust")
    assert bench.wrong() == []
