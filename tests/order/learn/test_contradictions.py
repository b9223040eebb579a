"""What cannot all be so is said, with who and when and the mend; strips happened, so answers give way."""

from fingertight.order.learn import Answer, Strip, heard, learn, next_question, saw

ANN = Strip(("cover", "gear", "shaft"), "Ann, Monday")


def test_a_no_against_a_strip_in_which_it_came_off_is_set_aside_and_both_are_named() -> None:
    no = Answer("cover", ("shaft",), "no", "the teacher")
    learned = learn([ANN], [no])
    said = learned.contradictions[0]
    assert (said.code, said.sources, said.set_aside) == ("against-strip", (no, ANN), True)
    assert said.sentence == (
        "the teacher: cover cannot come off with shaft on. But Ann, Monday took cover off with shaft on. "
        "The answer is not counted; ask the teacher again, and take it back if it was a slip."
    )
    assert learned.pair("shaft", "cover").standing == "free"
    assert learned.answers == (no,)
    assert learned.counted == ()


def test_a_strip_recorded_later_wins_over_an_answer_given_before_it() -> None:
    no = Answer("gear", ("cover",), "no", "the teacher, Monday")
    learned = learn([ANN], [no])
    assert learned.stand("gear").surely == ("cover",)
    bea = Strip(("gear", "cover", "shaft"), "Bea, Tuesday")
    learned = saw(learned, bea)
    assert learned.contradictions[0].sources == (no, bea)
    assert learned.stand("gear").behind == ()


def test_two_answers_against_each_other_are_both_named_and_the_first_counts() -> None:
    no, yes = Answer("gear", ("cover",), "no", "Carl, 9:00"), Answer("gear", ("cover",), "yes", "Dora, 9:05")
    learned = heard(learn([ANN], [no]), yes)
    said = learned.contradictions[0]
    assert (said.code, said.sources) == ("against-answer", (yes, no))
    assert said.sentence == (
        "Dora, 9:05: gear can come off with cover on. But Carl, 9:00 said that gear cannot come off with cover on. "
        "The answer is not counted; ask Dora, 9:05 and Carl, 9:00 again, and take one back if it was a slip."
    )
    assert learned.pair("cover", "gear").standing == "known"
    turned = learn([ANN], [yes, no])
    assert turned.contradictions[0].sources == (no, yes)
    assert turned.pair("cover", "gear").standing == "free"


def test_answers_that_only_together_speak_against_a_strip_are_all_named() -> None:
    first, second = Answer("gear", ("cover",), "no", "Carl"), Answer("shaft", ("gear",), "no", "Dora")
    turned = Strip(("shaft",), "Bea, Tuesday", still_on=("cover", "gear"))
    learned = learn([ANN, Strip(("gear", "shaft", "cover"), "Eve")], [second, first])
    assert learned.contradictions[0].sources[0] == first
    learned = learn([ANN, turned], [first, second])
    assert learned.contradictions[0].sources == (second, turned)
    both = learn([ANN], [first, second, Answer("shaft", ("cover",), "yes", "Eve")])
    assert both.contradictions[0].sources[0].by == "Eve"  # type: ignore[union-attr]
    assert set(both.contradictions[0].sources[1:]) == {first, second}
    assert "Carl said that gear cannot come off with cover on" in both.contradictions[0].sentence
    assert "ask Eve, Carl and Dora again" in both.contradictions[0].sentence


def test_a_part_twice_in_a_strip_is_said_and_only_what_is_sure_either_way_is_used() -> None:
    twice = Strip(("cover", "gear", "cover", "shaft"), "Ann, Monday")
    learned = learn([twice])
    said = learned.contradictions[0]
    assert (said.code, said.set_aside) == ("twice", False)
    assert said.sentence == (
        "Ann, Monday: cover stands in this strip more than once, as number 1 and 3. Only what holds for each of them "
        "is used; strike out the wrong one."
    )
    # Was the cover off before the gear, or after it? Neither blocks the other for sure, and neither is freed.
    assert learned.pair("cover", "gear").standing != "free"
    assert learned.pair("gear", "cover").standing != "free"
    assert learned.pair("shaft", "cover").standing == "free"


def test_a_part_that_only_one_strip_has_is_said_and_its_likely_name_too() -> None:
    others = [Strip(("cover", "gear", "shaft"), name) for name in ("Ann, Monday", "Bea, Tuesday")]
    odd = Strip(("cover", "gaer", "shaft"), "Carl, Friday")
    said = [one for one in learn([*others, odd]).contradictions if one.parts == ("gaer",)]
    assert said[0].code == "lone-part"
    assert said[0].sources == (odd, *others)
    assert said[0].sentence == (
        "Carl, Friday took gaer off, which Ann, Monday and Bea, Tuesday do not have. If gear is meant, correct it; "
        "if only this machine has it, leave it."
    )


def test_a_part_that_is_merely_absent_or_not_reached_yet_is_no_mistake() -> None:
    assert not learn([ANN, ANN, Strip(("cover", "shaft"), "Bea")]).contradictions
    assert not learn([ANN, Strip(("cover", "gear"), "Bea")]).contradictions


def test_an_answer_about_an_unknown_part_or_about_nothing_is_said_and_not_counted() -> None:
    unknown = learn([ANN], [Answer("shfat", ("cover",), "no", "Carl")]).contradictions[0]
    assert unknown.sentence == "Carl speaks of shfat, which no strip names. Did you mean shaft?"
    nothing = learn([ANN], [Answer("shaft", (), "no", "Carl")]).contradictions[0]
    assert nothing.sentence == (
        "Carl speaks of shaft coming off with nothing on. Name the other parts that were still on."
    )
    itself = learn([ANN], [Answer("shaft", ("shaft",), "yes", "Carl")]).contradictions[0]
    assert (itself.code, itself.set_aside) == ("itself", True)


def test_strips_of_different_machines_that_go_round_in_a_ring_are_said_and_leave_no_ring_behind() -> None:
    round_ = [Strip(("a", "b"), "Ann"), Strip(("b", "c"), "Bea"), Strip(("c", "a"), "Carl")]
    learned = learn(round_)
    said = next(one for one in learned.contradictions if one.code == "ring")
    assert said.sources == tuple(round_)
    assert said.sentence == (
        "Ann, Bea and Carl show a, b and c one before the other, round and round, and none has them all. What is only "
        "likely of them is left out; answer a question about them, or record a strip that has them all."
    )
    assert not any(stand.behind for stand in learned.stands())
    assert next_question(learned) is not None
    assert not any(one.code == "ring" for one in saw(learned, Strip(("a", "b", "c"), "Dora")).contradictions)
