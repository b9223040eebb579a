"""The main job in a browser: the pump engine stripped and built back with taps and typed readings only."""

import re
import time

from playwright.sync_api import Page, expect

from tests.journeys.people import Student, machine_file

MEASURED = ("Cylinder bore", "Piston skirt", "Crankpin", "Top ring, end gap", "Valve stems")
# On two slow cores; a person is slower than this by far.
NO_LONGER_THAN_S = 90.0


def test_a_pump_engine_is_stripped_and_built_back_by_taps_and_finish_is_granted(page: Page) -> None:
    began = time.monotonic()
    machine = machine_file("pump-engine")
    pieces = sum(len(part.get("places", "1")) for part in machine["part"] if not part.get("stays"))
    student = Student(page, machine)
    student.starts("Bench 21")
    student.begins()
    assert student.off_by_the_picture() == (0, 1)

    first = student.strips(until="Exhaust")
    assert student.tags()[-1].startswith(f"{len(first)}\n{first[-1]}")
    _why_not_yet(student)
    _undo(student, first)
    _hand_up(student)
    stripped = [*first, *student.strips()]
    assert len(stripped) == len(set(stripped)) == len(student.tags()) == pieces
    assert student.off_by_the_picture() == (len(machine["part"]) - 1, 0)
    expect(page.get_by_text("Nothing is left to come off.")).to_be_visible()

    student.goes_to("Measure")
    for check in MEASURED:
        student.measures(check)
        expect(student.size_row(check).locator(".verdict")).to_have_text(re.compile("^Good: "))

    student.goes_to("Rebuild")
    fitted = student.rebuilds()
    assert sorted(fitted) == sorted(stripped)
    assert (student.tags(), student.off_by_the_picture(), student.open_flags()) == ([], (0, 0), [])
    assert student.says_finished() == "The job is finished: nothing is open."
    took = time.monotonic() - began
    print(f"\nstripped and built back with {student.presses} presses in {took:.0f} s")
    assert took < NO_LONGER_THAN_S


def _why_not_yet(student: Student) -> None:
    """Any part that may not come off names what is in its way: on the bench page, and on its own."""
    page = student.page
    page.get_by_text("Not yet, and why:").click()
    piston = page.locator("details").filter(has=page.locator("summary > b", has_text=re.compile("^Piston and rod$")))
    piston.last.locator("summary").click()
    named = "Big end cap is still on; it comes off first. It needs a way out: take off Cylinder head or Crankshaft."
    expect(piston.last.locator("p")).to_contain_text(named)
    piston.last.get_by_role("link", name="More about Piston and rod").click()
    expect(page.get_by_text(f"Why not yet? {named}")).to_be_visible()
    page.get_by_role("link", name="Back to the bench").click()


def _undo(student: Student, off: list[str]) -> None:
    """The last tap is taken back: the part is on again, its bag is gone from the row, and the picture says so."""
    tags, picture = student.tags(), student.off_by_the_picture()
    student.takes_off("Exhaust")
    assert len(student.tags()) == len(tags) + 1
    assert student.off_by_the_picture()[0] == picture[0] + 1
    said = student.press(student.page.get_by_role("button", name="Undo that"))
    assert said.startswith("Undone: Exhaust came off into bag")
    assert (student.tags(), student.off_by_the_picture()) == (tags, picture)


def _hand_up(student: Student) -> None:
    """The hand goes up, the front page shows it, the hand goes down."""
    page = student.page
    assert student.press(page.get_by_role("button", name="Ask for help")) == "Help was asked for."
    page.get_by_role("link", name="Benches").click()
    bench = page.get_by_role("link", name=re.compile("^Bench 21"))
    expect(bench).to_contain_text("asks for help")
    bench.click()
    assert student.press(page.get_by_role("button", name="Hand is up")) == "Help was given."
