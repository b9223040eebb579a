"""What two students do on the strip page, without JavaScript."""

import re

import pytest

from tests.web.tablet import Tablet

FRESH = "/bench/pump-engine-1"
HALF = "/bench/pump-engine-2"


def test_the_bench_is_one_click_from_the_front_page(tablet: Tablet) -> None:
    page = tablet.opens("/")
    assert "Demo workshop (invented)" in page.text
    assert "Bench 4 Pump engine" in page.text
    assert FRESH in page.links.values()
    assert "Ready to strip: 71 parts" in page.text


def test_only_what_can_come_off_now_has_a_button(tablet: Tablet) -> None:
    tablet.opens(FRESH)
    assert [button for button in tablet.buttons() if button.startswith("Off")] == ["Off — bag 1"]
    assert tablet.form("Off — bag 1").fields["part"] == "plug-lead"


def test_a_press_takes_the_part_off_into_its_bag_and_shows_what_is_free_next(tablet: Tablet) -> None:
    tablet.opens(FRESH)
    page = tablet.presses("Off — bag 1")
    assert "Spark plug lead came off into bag 1." in page.text
    assert "1 bag, in order of removal" in page.text
    assert "1 of 71 off" in page.text
    assert len([button for button in tablet.buttons() if button.startswith("Off")]) > 3


def test_a_form_sent_twice_counts_once(tablet: Tablet) -> None:
    tablet.opens(FRESH)
    form = tablet.form("Off — bag 1")
    for _ in range(2):
        assert tablet.client.post(form.action, form.fields).status_code == 303
    assert "1 entry, newest first" in tablet.opens("/log/pump-engine-1").text


def test_a_part_that_may_not_come_off_says_what_is_in_the_way(tablet: Tablet) -> None:
    page = tablet.opens(FRESH)
    assert "Exhaust why not yet? Heat shield is still on; it comes off first." in page.text
    assert "Cylinder head why not yet?" in page.text


def test_a_mistake_is_undone_with_one_press_and_the_undo_with_another(tablet: Tablet) -> None:
    tablet.opens(FRESH)
    tablet.presses("Off — bag 1")
    page = tablet.presses("Undo that")
    assert "Undone: Spark plug lead came off into bag 1." in page.text
    assert "0 of 71 off" in page.text
    page = tablet.presses("Bring it back")
    assert "1 of 71 off" in page.text


def test_help_is_asked_for_and_the_front_page_says_so(tablet: Tablet) -> None:
    tablet.opens(FRESH)
    page = tablet.presses("Ask for help")
    assert "Hand is up" in page.text
    assert tablet.opens("/").text.count("asks for help") == 2  # one hand was up in the demo
    tablet.opens(FRESH)
    tablet.presses("☝ Hand is up: take it down")
    assert tablet.opens("/").text.count("asks for help") == 1


def test_what_must_be_noted_is_asked_for_before_the_part_comes_off(tablet: Tablet) -> None:
    tablet.opens("/bench/pump-engine-1/strip")
    tablet.presses("Off — bag 1")
    tablet.presses("I looked, and I sign")
    while "Note it" not in tablet.buttons():
        tablet.presses(next(button for button in tablet.buttons() if button.startswith("Off")))
    part = tablet.form("Note it").fields["part"]
    tablet.presses("Note it", photo="picture 12 on the tablet")
    page = tablet.presses(next(button for button in tablet.form_of("off", part).buttons))
    assert "came off into bag" in page.text
    assert "Not right yet" not in page.text


def test_a_half_stripped_bench_shows_its_bags_in_order_of_removal(tablet: Tablet) -> None:
    page = tablet.opens(f"{HALF}/strip")
    assert re.search(r"bags, in order of removal 1 Spark plug lead", page.text)
    assert "Not right yet" not in page.text


def test_each_stage_has_its_page_and_another_name_has_none(tablet: Tablet) -> None:
    for stage in ("strip", "measure", "rebuild", "finish"):
        tablet.opens(f"{HALF}/{stage}")
        assert tablet.answer.status_code == 200
    tablet.opens(f"{HALF}/polish")
    assert tablet.answer.status_code == 404


def test_a_bench_where_nothing_came_off_has_nothing_to_finish_yet(tablet: Tablet) -> None:
    page = tablet.opens(f"{FRESH}/finish")
    assert "There is nothing to finish yet: nothing ever came off." in page.text
    assert "Finish" not in tablet.buttons()
    tablet.opens(f"{FRESH}/strip")
    tablet.presses("Off — bag 1")
    tablet.opens(f"{FRESH}/finish")
    assert "Finish" in tablet.buttons()


def test_what_keeps_a_job_from_being_finished_stands_right_under_the_button(tablet: Tablet) -> None:
    tablet.opens(f"{HALF}/finish")
    said = tablet.presses("Finish").text
    assert "Not right yet" in said
    assert (
        said.index("Count and finish")
        < said.index("Not right yet")
        < said.index("Count what lies")
        < said.index("Lent tools")
    )


@pytest.mark.parametrize(
    ("job", "drawn", "loosen", "tighten"),
    [
        (
            "pump-engine-1",
            "loosen in the numbered order",
            "in the numbered order",
            "against the numbers, the last first",
        ),
        (
            "pump-engine-2",
            "tighten in the numbered order",
            "against the numbers, the last first",
            "in the numbered order",
        ),
    ],
)
def test_a_part_page_says_which_way_its_numbered_bolts_are_meant(
    tablet: Tablet, job: str, drawn: str, loosen: str, tighten: str
) -> None:
    page = tablet.opens(f"/part/{job}/fan-shroud")
    assert drawn in tablet.answer.content.decode()
    assert f"Loosen Half a turn each {loosen}, then out" in page.text
    assert f"Tighten 10 N·m, {tighten}" in page.text
