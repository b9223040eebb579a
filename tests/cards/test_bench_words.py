"""What the bench says: every kind has its words, every card is plain JSON, and what is in the way is named."""

import json
import re
from typing import Any

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.bags import bag_numbers, suggested_bag
from fingertight.cards.bench.page import STAGES, JobName, bench_card, stage_of
from fingertight.cards.bench.part import part_card
from fingertight.cards.workshop.log import WORDS, last_line, log_card, log_lines
from fingertight.ledger.kinds import ENTRY_KINDS
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from tests.web.honest import machine

JOB = JobName("vice-1", "Bench 1", "Bench vice no. 1", "bench-vice")


@pytest.fixture(scope="module")
def vice() -> Anatomy:
    """The bench vice."""
    return machine("bench-vice")


def _after(anatomy: Anatomy, *said: dict[str, Any]) -> Ledger:
    ledger = Ledger(Plan(anatomy))
    for number, entry in enumerate(said):
        at = f"2026-03-05T09:{number:02}:00+01:00"
        ledger.hear({"id": f"e{number}", "at": at, "by": "s-07", "as": "instructor", **entry})
    return ledger


def test_every_entry_kind_has_its_sentence() -> None:
    assert {*WORDS, "undo"} == set(ENTRY_KINDS)


@pytest.mark.parametrize("stage", STAGES)
def test_a_bench_card_is_plain_json_at_every_stage(vice: Anatomy, stage: str) -> None:
    ledger = _after(vice, {"kind": "off", "part": "tommy-bar", "bag": "1"})
    said = bench_card(JOB, ledger, bag_numbers(vice), stage).as_json()
    assert json.loads(json.dumps(said))["job"]["bench"] == "Bench 1"
    assert [tab["slug"] for tab in said["stages"] if tab["now"]] == [stage]


def test_the_right_answer_is_not_on_the_card(vice: Anatomy) -> None:
    ledger = _after(vice, {"kind": "off", "part": "jaw-plate", "place": "fixed jaw", "bag": "9"})
    card = bench_card(JOB, ledger, bag_numbers(vice), "rebuild")
    asked = next(move for move in card.moves if move.part == "jaw-plate").questions
    assert asked[0].answers == vice.part_by_id["jaw-plate"].ask[0].answers
    assert "right" not in asked[0].as_json()


def test_a_bag_is_the_one_its_label_names_unless_something_else_lies_in_it(vice: Anatomy) -> None:
    bags = bag_numbers(vice)
    own = bags["nut", None]
    assert suggested_bag(_after(vice).state, bags, ("nut", None)) == own
    taken = _after(vice, {"kind": "off", "part": "tommy-bar", "bag": own})
    assert int(suggested_bag(taken.state, bags, ("nut", None))) == max(map(int, bags.values())) + 1


def test_a_piece_in_anothers_place_goes_back_into_its_own_bag_and_the_page_that_says_so_raises_no_clash(
    vice: Anatomy,
) -> None:
    bags, fixed, moving = bag_numbers(vice), ("jaw-plate", "fixed jaw"), ("jaw-plate", "moving jaw")
    swapped: list[dict[str, Any]] = [
        {"kind": "off", "part": "jaw-plate", "place": "fixed jaw", "bag": bags[fixed]},
        {"kind": "off", "part": "jaw-plate", "place": "moving jaw", "bag": bags[moving]},
        {"kind": "on", "part": "jaw-plate", "place": "moving jaw", "bag": bags[fixed], "answers": ["the chalk mark"]},
    ]
    ledger = _after(vice, *swapped)
    card = bench_card(JOB, ledger, bags, "strip")
    offered = next(move for move in card.moves if move.part == "jaw-plate")
    assert (offered.place, offered.bag) == ("moving jaw", bags[fixed])
    mended = _after(vice, *swapped, {"kind": "off", "part": "jaw-plate", "place": "moving jaw", "bag": offered.bag})
    assert [flag.text for flag in mended.state.flags.open()] == []


def test_the_stage_is_that_of_the_last_move_that_stands(vice: Anatomy) -> None:
    off = {"kind": "off", "part": "tommy-bar", "bag": "1"}
    on = {"kind": "on", "part": "tommy-bar", "bag": "1"}
    assert stage_of(_after(vice)) == "strip"
    assert stage_of(_after(vice, off, on)) == "rebuild"
    assert stage_of(_after(vice, off, on, {"kind": "undo", "entry": "e1"})) == "strip"


def test_a_part_that_waits_names_what_is_in_its_way(vice: Anatomy) -> None:
    ledger = _after(vice)
    waits = {wait.part: wait.sentence for wait in bench_card(JOB, ledger, bag_numbers(vice), "strip").waits}
    assert waits["collar"] == "It needs a way out: take off Slide with the moving jaw or Body with the fixed jaw."
    assert part_card(JOB, ledger, bag_numbers(vice), "collar").why == waits["collar"]


def test_a_log_says_each_line_and_what_is_struck_through(vice: Anatomy) -> None:
    off = {"kind": "off", "part": "tommy-bar", "bag": "1"}
    card = log_card("vice-1", "Bench 1", "Bench vice", _after(vice, off, {"kind": "undo", "entry": "e0"}))
    assert card.sentence == "2 entries, newest first; 1 struck through"
    assert [(line.sentence, line.struck, line.act) for line in card.lines] == [
        ("Undone: Tommy bar came off into bag 1.", False, "Bring it back"),
        ("Tommy bar came off into bag 1.", True, ""),
    ]


def test_the_last_line_is_the_one_the_whole_log_ends_with(vice: Anatomy) -> None:
    said: list[dict[str, Any]] = [
        {"kind": "off", "part": "tommy-bar", "bag": "1"},
        {"kind": "undo", "entry": "e0"},
        {"kind": "undo", "entry": "e1"},
    ]
    assert last_line(_after(vice)) is None
    for length in (1, 2, 3):
        ledger = _after(vice, *said[:length])
        assert last_line(ledger) == log_lines(ledger)[-1]


def test_a_piece_has_one_name_on_its_cards_and_in_the_log(vice: Anatomy) -> None:
    ledger = _after(vice, {"kind": "off", "part": "jaw-plate", "place": "moving jaw", "bag": "4"})
    card = bench_card(JOB, ledger, bag_numbers(vice), "rebuild")
    assert card.moves[0].title == "Jaw plate (moving jaw)"
    assert card.last is not None
    assert card.last.sentence == "Jaw plate (moving jaw) came off into bag 4."
    assert part_card(JOB, ledger, bag_numbers(vice), "jaw-plate").pieces[0].name == "Jaw plate (fixed jaw):"


def test_a_setting_is_asked_for_in_one_sentence_once_it_is_due_and_not_while_stripping() -> None:
    engine = machine("pump-engine")
    ledger = _after(engine, {"kind": "off", "part": "spark-plug", "bag": "6"})
    assert bench_card(JOB, ledger, bag_numbers(engine), "strip").settings == ()
    said = [setting.sentence for setting in bench_card(JOB, ledger, bag_numbers(engine), "rebuild").settings]
    assert said
    assert [sentence for sentence in said if re.search(r"; [A-Z]|\.\.|\.;", sentence)] == []
    assert any("; between 0." in sentence for sentence in said)
