"""Papers without any machine: the form of each, and the PDF it asks for."""

import pypdfium2
import pytest

from tests.web.tablet import Tablet


@pytest.mark.parametrize(("name", "title"), [("wheel", "Degree wheel"), ("tape", "Timing tape")], ids=["wheel", "tape"])
def test_a_paper_is_reached_from_the_sums_and_printed_by_its_form(tablet: Tablet, name: str, title: str) -> None:
    assert f"/paper/{name}" in tablet.opens("/sums").links.values()
    assert f"/paper/{name}" in tablet.opens("/sums/tdc").links.values()
    page = tablet.opens(f"/paper/{name}?flywheel=178")
    assert title in page.text
    form = tablet.form("Print as PDF")
    answer = tablet.client.get(form.action, form.fields)
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    assert answer["Content-Disposition"] == f'inline; filename="{name}.pdf"'
    assert title in pypdfium2.PdfDocument(answer.content).get_metadata_dict()["Title"]


def test_the_tape_is_as_long_as_the_flywheel_that_was_typed_in_inches_is_round(tablet: Tablet) -> None:
    answer = tablet.client.get("/paper/tape.pdf", {"flywheel": "7", "flywheel-unit": "in"})
    # 7 in = 177.8 mm, times π = 558.58 mm.
    assert "558.6 mm long" in pypdfium2.PdfDocument(answer.content).get_metadata_dict()["Title"]


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ("wheel.pdf?diameter=300", "a wheel of 300 mm is wider than A4 takes; write 80 to 190 mm"),
        ("wheel.pdf?diameter=20", "is too small for its degrees to be read; write 80 to 190 mm"),
        ("wheel.pdf?hole=60", "Hole: 60 mm leaves no room for the figures of a wheel of 120 mm; write 40 mm or less."),
        ("tape.pdf", "Flywheel: nothing was typed; write for example 180 mm."),
        ("tape.pdf?flywheel=abc", "Flywheel: “abc” is not a number"),
        ("tape.pdf?flywheel=180&printed=50", "more than a tenth off; print again at 100 %"),
        ("tape.pdf?flywheel=180&paper=A3", "Paper: there is no “A3” here; choose one of A4, Letter."),
        ("wheel.pdf?turns=up", "Turns: there is no “up” here; choose one of clockwise, anticlockwise."),
    ],
)
def test_what_cannot_be_printed_is_refused_in_a_sentence(tablet: Tablet, asked: str, sentence: str) -> None:
    page = tablet.opens(f"/paper/{asked}")
    assert tablet.answer.status_code == 422
    assert "This cannot be printed" in page.text
    assert sentence in page.text


def test_there_is_no_other_paper(tablet: Tablet) -> None:
    assert tablet.client.get("/paper/hat").status_code == 404
    assert tablet.client.get("/paper/hat.pdf").status_code == 404
