"""A drawing is the same lines and words on a page and on paper; what it says is for who cannot see it."""

from xml.etree import ElementTree

from fingertight.cards.pictures.drawing import INK, Drawing, Stroke, Words, svg

SVG = "{http://www.w3.org/2000/svg}"


def test_a_page_gives_its_own_ink_and_says_what_is_drawn() -> None:
    drawn = Drawing("A ring & a “mark”.", 10, 4, (Stroke("M0 1H4", "go"), Words("a < b", 1, 2, 3)), stroke=0.5)
    page = ElementTree.fromstring(svg(drawn))
    assert page.get("aria-label") == "A ring & a “mark”."
    assert page.get("viewBox") == "0 0 10 4"
    path, words = page
    assert (path.get("class"), path.get("stroke-width")) == ("d-go", "1")
    assert words.text == "a < b"


def test_on_paper_the_ink_is_in_the_file_and_the_size_in_millimetres() -> None:
    drawn = Drawing("", 10, 4, tuple(Stroke("M0 1H4", look) for look in INK), unit_mm=2.5)
    paper = ElementTree.fromstring(svg(drawn, inked=True))
    assert (paper.get("width"), paper.get("height")) == ("25mm", "10mm")
    assert all("#" in path.get("style", "") for path in paper.iter(f"{SVG}path"))
    assert len(list(paper)) == len(INK)


def test_words_can_stand_on_their_side() -> None:
    drawn = Drawing("", 10, 4, (Words("0", 1, 2, 3, turn_deg=90),))
    assert ElementTree.fromstring(svg(drawn))[0].get("transform") == "rotate(90 1 2)"
