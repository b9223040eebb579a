"""`fingertight spanner`: the page a mechanic reads, and what programs get."""

from typing import Any

import jsonschema
import pytest
from pydantic import TypeAdapter

from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.tighten.spanner import SUM
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood


def ask(what: str, **more: str) -> Any:
    """The card of one question."""
    return SUM.ask({"what": what, **more})


def page(what: str, **more: str) -> str:
    """The page of one question, without line breaks inside a sentence."""
    return " ".join(answer_page(ask(what, **more)).split())


QUESTIONS: list[dict[str, str]] = [
    {"what": "M8"},
    {"what": "M8", "head": "hex flange small"},
    {"what": "M8", "head": "socket"},
    {"what": "M5", "head": "cross"},
    {"what": "M99"},
    {"what": "13 mm"},
    {"what": "5 mm key"},
    {"what": "1/2 in", "on": "13 mm"},
    {"what": "13 mm", "on": "1/2 in"},
    {"what": "7/16 in", "on": "M6"},
    {"what": "3/16 in key", "on": "5 mm key"},
]


def test_it_is_one_of_the_sums() -> None:
    assert sum_named("spanner") is SUM


@pytest.mark.parametrize("asked", QUESTIONS, ids=[" ".join(asked.values()) for asked in QUESTIONS])
def test_every_answer_keeps_to_its_schema_and_has_a_page(asked: dict[str, str]) -> None:
    card = SUM.ask(asked)
    jsonschema.validate(card.as_json(), TypeAdapter(SUM.card).json_schema(mode="serialization"))
    assert answer_page(card).endswith("licensed practice come first.")


def test_a_thread_does_not_say_its_spanner_and_all_are_offered() -> None:
    said = page("M8")
    assert "M8 is met with 13 mm, 12 mm or 10 mm across the flats, and with a socket for a key of 6 mm, 5 mm or" in said
    assert "The thread does not say which: measure it." in said
    assert "12 mm 0.472 hex small common practice, no source common on small engines *" in said
    assert "* common practice, no source" in said
    assert ask("M8").as_json()["heads"][1] == {
        "head": "hex small",
        "driver": "12 mm",
        "across_flats_mm": 12.0,
        "source": "common practice, no source",
        "usual": "common on small engines: common practice, no source",
    }


def test_a_thread_under_one_head_has_one_spanner() -> None:
    said = page("M8", head="hex flange small")
    assert said.startswith("A head of 10 mm across flats M8 under the head “hex flange small” (EN 1662:1998) is 10 mm")
    assert "Take a spanner of 10 mm; to crack it loose, a ring or a socket with six points." in said


def test_half_an_inch_does_not_go_on_13_mm_and_the_page_says_what_does() -> None:
    card = ask("1/2 in", on="13 mm")
    assert card.is_no
    assert (
        "No. Even the widest jaw of 1/2 in (12.95 mm) does not go on a head of full size (13.00 mm). "
        "Do not force it. Use 13 mm." in page("1/2 in", on="13 mm")
    )
    assert card.as_json()["play_deg"] == {"middle": 0, "worst": 0}


def test_13_mm_on_half_an_inch_is_loose_and_the_figures_say_how_much() -> None:
    card = ask("13 mm", on="1/2 in")
    assert (card.verdict, card.is_no) == ("loose", True)
    said = page("13 mm", on="1/2 in")
    assert "No: it is loose. Only in need, and never for cracking loose. Use 1/2 in." in said
    assert "At its worst it turns 7.4° each way before it bites, and catches 0.55 mm behind the corner" in said
    assert "A spanner that slips rounds the head, and then none fits it any more." in said
    # Limits of ISO 691 and ASME B18.2.1: a jaw of 13.04 to 13.24 mm on a head of 0.489 to 0.500 in.
    assert card.as_json()["jaw_mm"] == {"nominal": 13, "least": 13.04, "most": 13.24}
    assert card.as_json()["head_mm"] == pytest.approx({"nominal": 12.7, "least": 0.489 * 25.4, "most": 12.7})


def test_seven_sixteenths_turns_round_on_10_mm() -> None:
    assert ask("7/16 in", on="10 mm").verdict == "must not be used"
    assert "No. At its worst it turns round on the head without biting at all. Use 10 mm." in page("7/16", on="10")


def test_19_mm_and_three_quarters_are_told_apart_by_a_twentieth() -> None:
    assert not ask("3/4 in", on="19 mm").is_no
    assert "Yes. By name they are 0.05 mm apart: less than either may differ from its name." in page("3/4", on="19")


def test_11_mm_on_seven_sixteenths_is_for_the_hand_to_try() -> None:
    card = ask("11", on="7/16")
    assert not card.is_no
    assert "Yes, where it slides home by hand; not every one of this name goes on. Never force it." in page(
        "11", on="7/16"
    )


def test_the_right_spanner_on_its_own_head_is_a_yes() -> None:
    assert not ask("13 mm", on="13 mm").is_no
    assert "Yes: 13 mm is the right one." in page("13 mm", on="13 mm")


def test_a_head_is_cracked_loose_with_a_ring_and_the_corners_say_why() -> None:
    said = page("13 mm")
    assert (
        "1 Ring or socket with six points: it presses on 6 corners, an open end on 2, so each corner bears 33 %" in said
    )
    assert "2 Ring or socket with twelve points: on 6 corners too, but it catches 77 % as much" in said
    assert "3 Open end: on 2 corners. To run a loose one down, not to crack a tight one." in said
    assert "Pull, do not push: a spanner that slips skins your knuckles." in said


def test_a_head_names_the_threads_that_sit_under_it() -> None:
    assert {one.thread for one in ask("13 mm").under} == {"M8", "M10"}


def test_a_key_is_asked_for_as_a_key() -> None:
    assert "A socket of 5 mm Take a key of 5 mm." in page("5 mm key")
    assert "3/16 in must not be used 10.4° 55 %" in page("5 mm key")
    assert "does not go into the smallest socket (4.76 mm)" in page("5 mm key", on="3/16 in key")


def test_a_fraction_alone_is_a_spanner_and_the_page_says_so() -> None:
    assert "“1/4” alone is read as a spanner of 1/4 in. A thread has its pitch beside it: 1/4-20." in page("1/4")


@pytest.mark.parametrize(
    ("what", "said"),
    [
        ("M99", "There is no thread “M99” in the tables"),
        ("G1/4", "No table here has a head for G1/4: a pipe thread has no head."),
        ("M9", "No table here has a head for M9: measure it across the flats."),
    ],
)
def test_a_thread_without_a_head_is_a_no(what: str, said: str) -> None:
    assert ask(what).is_no
    assert said in page(what)


def test_a_head_that_a_thread_does_not_have_is_a_no_with_those_it_has() -> None:
    card = ask("M20", head="hex flange small")
    assert card.is_no
    assert "No table here has a spanner for M20 under the head “hex flange small”. M20 is met with 30 mm" in page(
        "M20", head="hex flange small"
    )


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"what": ""}, "Thread or spanner: nothing was typed; write for example M8."),
        (
            {"what": "abc"},
            "Thread or spanner: “abc” is neither a thread nor a width; write for example M8, 1/4-20 or 13 mm.",
        ),
        ({"what": "-13"}, "Thread or spanner: “-13” is no width across flats; write for example 13 mm or 1/2 in."),
        ({"what": "0"}, "Thread or spanner: “0” is no width across flats; write for example 13 mm or 1/2 in."),
        (
            {"what": "nan"},
            "Thread or spanner: “nan” is neither a thread nor a width; write for example M8, 1/4-20 or 13 mm.",
        ),
        ({"what": "99999"}, "Thread or spanner: No spanner is called 99999 mm. Is the unit right?"),
        ({"what": "13 kg"}, "Thread or spanner: There is no unit “kg” here; write one of mm, in, µm, thou."),
        (
            {"what": "12.85"},
            "Thread or spanner: No spanner is called 12.85 mm. A head that measures so much is 13 mm (12.73 to 13.00",
        ),
        (
            {"what": "13 mm", "head": "hex"},
            "Head: it belongs to a thread, and this is a width; write for example M8 --head flange.",
        ),
        (
            {"what": "M8", "on": "13 mm"},
            "Thread or spanner: with a head beside it, name the spanner by its size, for example 13 mm.",
        ),
        (
            {"what": "M8", "head": "hexx flange"},
            "Head: There is no head “hexx flange” here; the nearest are hex flange",
        ),
        ({"what": "13", "on": "M9"}, "Head it is to go on: No table here has a spanner for M9 under the head “hex”."),
        ({"what": "13", "on": "1 3/16 in"}, "Head it is to go on: No table here has a head of 1 3/16 in across flats"),
    ],
)
def test_wrong_input_is_answered_with_a_sentence_and_its_field(asked: dict[str, str], said: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        SUM.ask(asked)
    assert str(refused.value).startswith(said)


@pytest.mark.parametrize("typed", ["13 mm", "13mm", "13", "13,0", "13.0 mm", "13 mm spanner"])
def test_a_spanner_may_be_written_as_people_write_it(typed: str) -> None:
    assert ask(typed).tool == "13 mm"


@pytest.mark.parametrize("typed", ["1/2 in", '1/2"', "1/2", "0.5 in", "1/2 AF", "1/2 A/F"])
def test_an_inch_spanner_may_be_written_as_people_write_it(typed: str) -> None:
    assert ask(typed).tool == "1/2 in"
