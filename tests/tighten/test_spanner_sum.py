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
    {"what": "12 mm", "on": "M8"},
    {"what": "5 mm key", "on": "M6"},
    {"what": "7/16 in", "on": "1/4 BSW"},
    {"what": "13 mm", "on": "M9"},
    {"what": "1/4 BSW", "head": "hex"},
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
        "mark": "12 mm",
        "across_flats_mm": 12.0,
        "source": "common practice, no source",
        "usual": "common on small engines: common practice, no source",
    }


def test_a_thread_under_one_head_has_one_spanner() -> None:
    said = page("M8", head="hex flange small")
    assert said.startswith(
        "A head of 10 mm across flats M8 under the head “hex flange small” (EN 1662:1998; common on vehicles: common "
        "practice, no source) is 10 mm across the flats."
    )
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
        ({"what": "13 kg"}, "Thread or spanner: kg is a mass, mm a length: write it in mm."),
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
        (
            {"what": "13", "on": "M9", "head": "hex"},
            "Head it is to go on: No table here has a spanner for M9 under the head “hex”.",
        ),
        (
            {"what": "T30"},
            "Thread or spanner: “T30” is a six-lobe driver, which no table here has; write for example M8 or 13 mm.",
        ),
        (
            {"what": "1.2.3 mm"},
            "Thread or spanner: “1.2.3 mm” is no width across flats; write for example 13 mm or 1/2",
        ),
        ({"what": "9" * 400}, "Thread or spanner: “99999999999999999999…” is no width across flats; write for example"),
        (
            {"what": "13 mm", "on": "#" + "9" * 400},
            "Head it is to go on: “#99999999999…” is too long for the name of a thread; write",
        ),
        ({"what": "13 mm", "on": "1/8 NPT"}, "Head it is to go on: “1/8 NPT” is a taper pipe thread"),
        (
            {"what": "5 mm key", "on": "M6", "head": "hex"},
            "Head: a key goes into a socket, and the head “hex” has none; leave it out or write socket.",
        ),
        ({"what": "13.5 mm", "on": "M8"}, "Thread or spanner: No spanner is called 13.5 mm."),
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


def test_a_spanner_goes_on_a_thread_wherever_one_of_its_heads_takes_it() -> None:
    card = ask("12 mm", on="M8")
    assert not card.is_no
    said = page("12 mm", on="M8")
    assert said.startswith("A spanner of 12 mm on M8: fits under some heads Yes, where the head measures 12 mm across")
    assert (
        "hex small, hex flange on small engines (common on small engines: common practice, no source). The head “hex” "
        "wants 13 mm: there 12 mm does not go on. The thread does not say which head it is: measure it." in said
    )
    # ISO 4014: 13 mm; EN 1662: 10 mm.
    assert {one.head: one.verdict for one in card.heads}.items() >= {
        "hex": "does not go on",
        "hex small": "fits",
        "hex flange small": "must not be used",
    }.items()


def test_a_key_goes_into_the_sockets_of_a_thread_and_not_on_its_hexagon() -> None:
    card = ask("5 mm key", on="M6")
    assert not card.is_no
    # ISO 4762: 5 mm; ISO 7380-1 and ISO 10642: 4 mm; ISO 4026: 3 mm.
    assert [(one.head, one.driver, one.verdict) for one in card.heads] == [
        ("socket", "5 mm key", "fits"),
        ("button socket", "4 mm key", "does not go on"),
        ("countersunk socket", "4 mm key", "does not go on"),
        ("set screw", "3 mm key", "does not go on"),
    ]
    said = page("5 mm key", on="M6")
    assert "A key of 5 mm on M6: fits under some heads Yes, where the socket takes 5 mm: socket." in said
    assert "The head “button socket” wants 4 mm: there 5 mm does not go in." in said


def test_a_spanner_that_no_head_of_a_thread_takes_is_a_no_with_those_that_do() -> None:
    assert ask("7/16 in", on="M6").is_no
    said = page("7/16 in", on="M6")
    assert "No: 7/16 in is right under no head of M6. Use 10 mm or 8 mm, as the head measures." in said
    assert "write 5 mm key" in page("5 mm", on="M6")


def test_an_american_spanner_on_a_whitworth_head_is_a_no_that_names_the_right_ones() -> None:
    card = ask("7/16 in", on="1/4 BSW")
    assert card.is_no
    said = page("7/16 in", on="1/4 BSW")
    # BS 1083: 0.445 in; the old series: 0.525 in.
    assert "Use 0.445 in (marked 1/4 BS) or 0.525 in (marked 1/4 W), as the head measures." in said
    assert "No table here has the limits of Whitworth spanners" in said
    assert "No: 7/16 in is not made for the head “hex” of 1/4-20 BSW. Use 0.445 in (marked 1/4 BS)." in page(
        "7/16 in", on="1/4 BSW", head="hex"
    )


@pytest.mark.parametrize(("marked", "verdicts"), [("1/4 W", ["must not be used", "fits"]),
                                                  ("1/4 BS", ["fits", "does not go on"])])  # fmt: skip
def test_a_whitworth_spanner_is_read_by_its_mark(marked: str, verdicts: list[str]) -> None:
    card = ask(marked, on="1/4 BSW")
    assert [one.verdict for one in card.heads][:2] == verdicts
    assert not card.is_no


def test_one_head_of_a_thread_is_shown_beside_the_others_it_is_met_under() -> None:
    said = page("M8", head="hex flange")
    assert "M8 under the head “hex flange” (EN 1665:1998) is 13 mm across the flats." in said
    assert (
        "Under other heads M8 takes 12 mm (hex small, hex flange on small engines; common on small engines: common "
        "practice, no source) or 10 mm (hex flange small, hex flange small ISO): measure it." in said
    )


@pytest.mark.parametrize("typed", ["1/4 unc", "1/4-20 UNC", "UNC 1/4", "1/4 20 unc", '1/4"-20'])
def test_a_thread_may_be_written_as_people_write_it(typed: str) -> None:
    assert ask(typed).thread == "1/4-20 UNC"
    assert ask("7/16 in", on=typed).thread == "1/4-20 UNC"


def test_a_left_hand_thread_has_the_same_heads_and_says_which_way_it_turns() -> None:
    left = "A left-hand thread has the same heads; it tightens anticlockwise and loosens clockwise."
    assert left in page("M6 LH")
    assert left in page("10 mm", on="M6 LH")
    assert ask("M6 LH").heads == ask("M6").heads


@pytest.mark.parametrize("typed", ["1/8 NPT", "2 BA", "1/4 BSF"])
def test_a_thread_of_no_table_is_called_what_it_is(typed: str) -> None:
    assert ask(typed).is_no
    assert "it is not in these tables" in page(typed)
