"""A class of twelve benches over six lessons, over the pages only: nothing is lost, and nobody writes for another."""

import json
import re

import pypdfium2 as pdfium

from fingertight.web.jobs.ledgers import ledger_of, log_of
from tests.journeys.lessons.pair import Pair, Written, on_the_bench
from tests.journeys.lessons.room import Room, restarts
from tests.web.tablet import Tablet

WRENCH = "torque wrench"
WHOLE = (1, 2, 3, 4)
"""These benches get through; the others strip a share."""


def test_a_class_of_twelve_benches_loses_nothing_in_six_lessons(room: Room) -> None:
    _first_lesson(room)
    _second_lesson(room)
    _third_lesson(room)
    _fourth_lesson(room)
    _fifth_lesson(room)
    _last_lesson(room)
    for pair in room.pairs:
        _nothing_is_lost(pair)
    assert room.diary() == room.pressed
    counted = room.teacher.opens(f"/wall/count?class={room.slug}").text
    assert "Every bench is counted, and nothing is short." in counted


# -- the lessons -----------------------------------------------------------------------------------------------------


def _first_lesson(room: Room) -> None:
    """Everybody joins; one tablet sends all twice; two torque wrenches for three benches; a hand goes up and down."""
    assert "Lesson 1 of 6 is not open yet." in room.teacher.opens(f"/class/{room.slug}/lesson").text
    room.opens()
    room.gathers()
    room.at(4).sends_twice = True
    for pair in room.pairs:
        assert pair.works("strip", 5)
    room.at(4).sends_twice = False
    _three_benches_and_two_wrenches(room)
    asking = room.at(5)
    asking.opens(asking.bench)
    asking.presses("Ask for help")
    assert "1 waits for you" in room.wall().text
    room.teacher.opens(asking.bench)
    form = room.teacher.form("☝ Hand is up: take it down")
    room.teacher.sends(form, {})
    asking.written.append(Written(form.fields["id"], "help", room.tilda.id, "instructor", None))
    assert "waits for you" not in room.wall().text
    room.ends()
    for pair in room.pairs:
        assert "Finish the move you are at, then count" in pair.opens(pair.bench).text
    _counted_and_closed(room)


def _three_benches_and_two_wrenches(room: Room) -> None:
    for number in (1, 2):
        room.at(number).borrows(WRENCH)
    room.at(3).waits_for(WRENCH)
    room.pressed.append("ask")
    said = room.wall().text
    assert "0 of 2 free" in said
    assert said.index("out: Bench 1") < said.index("next: Bench 3")
    room.at(1).brings_back(WRENCH)
    room.at(3).borrows(WRENCH)
    assert "next:" not in room.wall().text
    for number in (2, 3):
        room.at(number).brings_back(WRENCH)


def _second_lesson(room: Room) -> None:
    """One is away; two tablets at one bench, one of them with an old page; nobody gets at another bench."""
    away = room.at(2).hands[1]
    room.opens((away,))
    room.gathers((away,))
    assert "23 of 24 here" in room.wall().text
    first, second = room.at(6), room.pair(6)
    second.written, second.bags, second.tools = first.written, first.bags, first.tools
    second.joins(second.hands[1], room.code)
    for tablet in (first, second, first):
        assert tablet.works("strip", 1)
    _one_piece_off_at_both_tablets(first, second)
    for pair in room.pairs:
        pair.works("strip", 3)
    assert first.client.get(room.at(8).bench).status_code == 403
    assert first.client.post(room.at(8).bench, {"kind": "help", "state": "asked"}).status_code == 403
    _counted_and_closed(room)


def _one_piece_off_at_both_tablets(first: Pair, second: Pair) -> None:
    """Both press on a page that was read before the other pressed: the same piece is in the same bag, and no flag."""
    for tablet in (first, second):
        tablet.opens(f"{tablet.bench}/strip")
    forms = [next(form for form in tablet.page.forms if form.fields.get("kind") == "off") for tablet in (first, second)]
    assert forms[0].fields["part"] == forms[1].fields["part"]
    assert forms[0].fields["id"] != forms[1].fields["id"]
    for tablet, form in zip((first, second), forms, strict=True):
        tablet.sends(form, {})
        assert "Not right yet" not in tablet.page.text


def _third_lesson(room: Room) -> None:
    """The server starts anew in the middle of the count; one screw is not found, and the lesson closes with a word."""
    room.opens()
    room.gathers()
    for number in WHOLE:
        assert not room.at(number).works("strip")
        assert "Nothing is left to come off." in room.at(number).page.text
    for pair in room.pairs[4:]:
        pair.works("strip", 2)
    for pair in room.pairs[:6]:
        pair.counts()
    before = [room.teacher.opens(f"/wall/count?class={room.slug}").text, room.wall().text]
    restarts()
    assert [room.teacher.opens(f"/wall/count?class={room.slug}").text, room.wall().text] == before
    for pair in room.pairs[6:]:
        assert f"In hand: {pair.in_hand.name}" in pair.opens(pair.bench).text
        pair.counts(**({"M6x16": 1} if pair is room.at(9) else {}))
    assert "M6x16" in room.not_right()
    assert not room.closes()
    assert "not right yet: find it, or write one sentence" in room.teacher.page.text
    assert room.closes("A screw of bench 9 rolled under the cupboard.")
    assert "rolled under the cupboard" in room.teacher.opens(f"/class/{room.slug}").text


def _fourth_lesson(room: Room) -> None:
    """The screw is found; four benches measure and begin to build back, with a mistake each but one."""
    room.opens()
    room.gathers()
    assert "M6x16" in room.not_right()
    room.at(9).counts()
    assert "M6x16" not in room.not_right()
    for number in WHOLE:
        _measured(room.at(number))
    room.at(2).posts("on", part="nut", bag=room.at(2).bags["nut", ""], **{"answer-0": "the flat side"})
    assert "was answered “the flat side”" in room.not_right()
    for number in WHOLE:
        assert room.at(number).works("rebuild", 10)
    _counted_and_closed(room)


def _measured(pair: Pair) -> None:
    for check, typed in (("washer-thickness", ("2.96", "2.97")), ("spring-length", ("39.9",))):
        pair.opens(f"/measure/{pair.job.slug}/{check}")
        form = next(form for form in pair.page.forms if form.fields.get("kind") == "reading")
        boxes = [field for field in form.fields if field.startswith("value")]
        assert len(boxes) == len(typed), form.fields
        pair.sends(form, dict(zip(boxes, typed, strict=True)))
    assert pair.written[-1].kind == "reading"


def _fifth_lesson(room: Room) -> None:
    """All is on the machine at four benches; none that has a mistake on the wall may finish."""
    room.opens()
    room.gathers()
    for number in WHOLE:
        assert not room.at(number).works("rebuild")
    tight = {"part": "body", "set": "0", "pass": "1"}
    room.at(4).posts("tighten", **tight, torque="60", unit="lb·ft")
    room.at(3).borrows(WRENCH)
    assert "but 60 N·m belongs there" in room.not_right()
    for number, said in ((2, "the flat side"), (3, "orque wrench is still out"), (4, "60 N·m belongs there")):
        assert "not right yet" in room.at(number).posts("finish").text
        assert said in room.not_right()
    room.at(2).posts("on", part="nut", **{"answer-0": "the long collar"})
    room.at(4).posts("tighten", **tight, torque="60", unit="N·m")
    room.at(3).brings_back(WRENCH)
    assert room.not_right().startswith("Nothing.")
    _counted_and_closed(room)


def _last_lesson(room: Room) -> None:
    """Four benches finish; the hand-over sheet has a box for each of the others."""
    away = room.at(12).hands
    room.opens(away)
    room.gathers(away)
    for number in WHOLE:
        room.at(number).works("rebuild")
        assert "The job is finished: nothing is open." in room.at(number).posts("finish").text
    answer = room.teacher.client.get(f"/wall/hand-over.pdf?class={room.slug}")
    text = "".join(page.get_textpage().get_text_range() for page in pdfium.PdfDocument(answer.content))
    assert re.findall(r"Bench (\d+) Strip, \d+ of 10 parts off", text) == [str(number) for number in range(5, 13)]
    _counted_and_closed(room)


def _counted_and_closed(room: Room) -> None:
    """Everybody counts, nothing is short, no word is needed; the code and every sign-in end with the lesson."""
    code = room.code
    for pair in room.pairs:
        if pair.here:
            pair.counts()
    assert room.closes(), room.teacher.page.text[:600]
    late = Tablet()
    late.opens("/join")
    late.presses("Go on", code=code)
    assert "No class and no bench has this code" in late.page.text
    for pair in room.pairs:
        assert pair.client.get(pair.bench).status_code == 403


# -- afterwards ------------------------------------------------------------------------------------------------------


def _nothing_is_lost(pair: Pair) -> None:
    """The log is what the pair remembers, press by press; each piece is where they put it, or on the machine."""
    kept = [json.loads(entry.body) for entry in log_of(pair.job).after()]
    assert [(one["id"], one["kind"]) for one in kept] == [(one.id, one.kind) for one in pair.written]
    for one, remembered in zip(kept, pair.written, strict=True):
        assert (one["by"], one["as"], one.get("shown_by")) == remembered[2:], one
    assert log_of(pair.job).check().ended.value == "whole"
    with ledger_of(pair.job) as live:
        state = live.ledger.state
        lies = {(part, place or ""): bag for (part, place), bag in state.lies.items()}
        empty = {(part, place or "") for part, place in state.empty}
        assert not live.unread
        assert {name: box.out for name, box in state.tools.items()} == dict.fromkeys(pair.tools, 0)
    parts = [part for part in on_the_bench(pair.job.machine).parts if not part.stays]
    pieces = {(part.id, place) for part in parts for place in part.places or ("",)}
    assert lies == pair.bags
    assert pieces - empty == pieces - set(pair.bags)
    assert not +pair.tools
