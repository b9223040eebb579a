"""The list of shared tools, and a bench that borrows, waits, and brings back."""

import pytest

from fingertight.store.school.tables import SharedTool
from tests.web.people.cast import Cast, said
from tests.web.tablet import Tablet


def at_bench(cast: Cast, name: str) -> Tablet:
    """Somebody's tablet, at the shared tools."""
    tablet = cast.student(name)
    tablet.opens(f"/tools/{cast.job(name).slug}")
    return tablet


def presses(tablet: Tablet, button: str, tool: str = "torque wrench") -> None:
    """Press a button of one tool."""
    form = next(form for form in tablet.page.forms if form.fields.get("tool") == tool and button in form.buttons)
    tablet.sends(form, form.buttons[button])


def line(text: str, tool: str = "Torque wrench") -> str:
    """What a page says of one tool, up to its next button or tool."""
    return text.partition(f"{tool} ")[2].partition(".")[0]


def test_a_tool_is_put_on_the_list_counted_anew_and_taken_off(cast: Cast) -> None:
    teacher = cast.teacher()
    teacher.opens("/tools")
    teacher.presses("Keep it", name="  Valve   lapping tool ", many="2")
    assert "Valve lapping tool , 2 of them: 2 of 2 free" in teacher.page.text
    teacher.presses("Keep it", name="valve lapping TOOL", many="3")
    assert "Valve lapping tool , 3 of them: 3 of 3 free" in teacher.page.text
    teacher.presses("Keep it", name="valve lapping tool", many="0")
    assert "lapping" not in teacher.page.text


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": "  ", "many": "1"}, "The tool has no name."),
        ({"name": "puller", "many": "some"}, "How many there are: “some”"),
        ({"name": "puller", "many": "100"}, "How many there are: “100” is no whole number from 1 to 99."),
        ({"name": "puller", "many": "-1"}, "is no whole number from 1 to 99."),
    ],
)
def test_a_tool_that_cannot_be_kept_is_said_and_not_kept(cast: Cast, typed: dict[str, str], sentence: str) -> None:
    teacher, before = cast.teacher(), SharedTool.objects.count()
    teacher.opens("/tools")
    teacher.presses("Keep it", **typed)
    assert sentence in teacher.page.text
    assert SharedTool.objects.count() == before


def test_two_benches_wait_in_the_order_they_asked_and_the_wall_says_so(cast: Cast) -> None:
    SharedTool.objects.filter(name="torque wrench").update(many=1)
    has, first, second = (at_bench(cast, name) for name in ("Ada", "Cleo", "Eli"))
    presses(has, "Borrowed")
    for tablet in (first, second):
        presses(tablet, "We wait for it")
    wall = cast.teacher().opens("/wall").text
    assert line(wall.partition("Shared tools that are out")[2]).startswith("not free; out: Bench 4")
    assert wall.index("next: Bench 7") < wall.index("Bench 11", wall.index("next: Bench 7"))
    presses(first, "We wait no more")
    assert "next: Bench 11" in first.page.text
    presses(has, "Brought back")
    presses(second, "Borrowed")
    assert "next:" not in second.page.text.partition("Torque wrench ")[2]


def test_who_asks_again_after_having_had_it_stands_at_the_end(cast: Cast) -> None:
    SharedTool.objects.filter(name="torque wrench").update(many=1)
    one, other = at_bench(cast, "Ada"), at_bench(cast, "Cleo")
    presses(one, "We wait for it")
    presses(one, "Borrowed")
    presses(other, "We wait for it")
    presses(one, "Brought back")
    presses(one, "We wait for it")
    waits = one.page.text.partition("next: ")[2]
    assert waits.index("Bench 7") < waits.index("Bench 4")


def test_a_tool_of_no_list_is_borrowed_and_missed_at_the_count(cast: Cast) -> None:
    tablet = at_bench(cast, "Cleo")
    tablet.presses("Borrowed", tool="thread file")
    assert "Thread file Out: Bench 7" in tablet.page.text
    teacher = cast.teacher()
    teacher.opens(f"/class/{cast.of.slug}/lesson")
    assert "hread file" in teacher.page.text.partition("Count, then close")[2]


def test_more_out_than_there_are_is_said(cast: Cast) -> None:
    SharedTool.objects.filter(name="torque wrench").update(many=1)
    for name in ("Ada", "Cleo"):
        presses(at_bench(cast, name), "Borrowed")
    assert "2 out of 1: a bench has not written it back" in cast.teacher().opens("/wall").text


def test_without_a_lesson_nobody_waits(cast: Cast) -> None:
    teacher = cast.teacher()
    teacher.opens(f"/class/{cast.of.slug}/lesson")
    teacher.presses("Close lesson 2", word="The bore gauge is not found.")
    teacher.opens(f"/tools/{cast.job('Cleo').slug}")
    assert "We wait for it" not in teacher.buttons()
    teacher.sends(teacher.form("Borrowed"), {"act": "ask", "kind": "", "tool": "torque wrench"})
    assert said(teacher.page) == "No lesson is open at this bench: there is no queue to stand in."
