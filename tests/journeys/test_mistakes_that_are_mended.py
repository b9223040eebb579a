"""What happened is said though it should not have: the page takes it, flags it, and the mend it names closes it."""

import pytest
from playwright.sync_api import Page

from tests.journeys.people import Student, machine_file


@pytest.fixture
def vice(page: Page) -> Student:
    """A student in front of a whole vice."""
    student = Student(page, machine_file("bench-vice"))
    student.starts("Bench 26")
    student.begins()
    student.has_signed()
    return student


def _one_flag(student: Student, said: str, mend: str) -> None:
    (flag,) = student.open_flags()
    assert said in flag
    assert mend in flag.partition("To mend it: ")[2]


def test_what_came_off_out_of_turn_is_said_on_its_page(page: Page) -> None:
    student = Student(page, machine_file("pump-engine"))
    student.starts("Bench 25")
    student.begins()
    student.looks_at("Air filter")
    student.says_it_moved("It came off all the same")
    student.goes_back()
    forced, unsigned = student.open_flags()
    assert "Air filter came off though Spark plug lead is still on." in forced
    assert "To mend it: Put Air filter back, or take off what is in its way as well" in forced
    assert "Air filter came off before “Machine made safe" in unsigned
    student.takes_off("Spark plug lead")
    student.has_signed()
    assert student.open_flags() == []


def test_two_pieces_in_one_bag_clash_until_one_is_undone(vice: Student) -> None:
    vice.takes_off("Jaw plate (fixed jaw)")
    vice.looks_at("Jaw plate (moving jaw)")
    vice.says_it_moved("Off", "Jaw plate (moving jaw)", bag="3")
    vice.goes_back()
    _one_flag(
        vice, "Bag 3 was given to Jaw plate (moving jaw), but Jaw plate (fixed jaw) lies in it.", "Undo the wrong"
    )
    vice.press(vice.page.get_by_role("button", name="Undo that"))
    assert vice.open_flags() == []


def test_a_piece_in_the_others_place_is_flagged_until_it_is_off_again(vice: Student) -> None:
    vice.takes_off("Jaw plate (fixed jaw)")
    vice.takes_off("Jaw plate (moving jaw)")
    vice.goes_to("Rebuild")
    vice.looks_at("Jaw plate (moving jaw)")
    for choice in vice.page.get_by_label("the chalk mark").all():
        choice.check()
    vice.says_it_moved("On", "Jaw plate (moving jaw)", bag="3")
    vice.goes_back()
    said = "Jaw plate (fixed jaw) out of bag 3 was fitted in the place of Jaw plate (moving jaw)."
    wrong = [flag for flag in vice.open_flags() if said in flag]
    assert len(wrong) == 1
    assert "To mend it: Take it off again and fit the moving jaw piece here, out of bag 4." in wrong[0]
    vice.goes_to("Strip")
    vice.takes_off("Jaw plate (moving jaw)")
    assert vice.open_flags() == []


def test_a_short_count_stands_until_the_bag_is_counted_right(vice: Student) -> None:
    vice.takes_off("Jaw plate (fixed jaw)")
    vice.counts("Jaw plate (fixed jaw)", "M6x16", 1)
    _one_flag(vice, "Bag 3 of Jaw plate (fixed jaw) holds 1 of 2 × M6x16.", "Look for it under the bench")
    vice.counts("Jaw plate (fixed jaw)", "M6x16", 3)
    _one_flag(vice, "Bag 3 of Jaw plate (fixed jaw) holds 3 × M6x16, but 2 came off into it.", "count bag 3 again")
    vice.counts("Jaw plate (fixed jaw)", "M6x16", 2)
    assert vice.open_flags() == []


def test_what_is_missing_is_flagged_until_it_turns_up(vice: Student) -> None:
    vice.takes_off("Jaw plate (fixed jaw)")
    vice.goes_to("Rebuild")
    vice.looks_at("Jaw plate (fixed jaw)")
    stock = vice.page.get_by_role("region", name="Lost, found, new")
    stock.get_by_label("What").select_option("M6x16")
    vice.press_and_load(stock.get_by_role("button", name="Missing"))
    _one_flag(vice, "Bag 3 of Jaw plate (fixed jaw) holds 1 of 2 × M6x16.", "say found or renewed")
    stock.get_by_label("What").select_option("M6x16")
    vice.press_and_load(stock.get_by_role("button", name="Turned up"))
    assert vice.open_flags() == []
