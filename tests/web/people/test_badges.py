"""A badge opens the own name in the lesson that is open; the number is typed all the same."""

import pypdfium2
from django.test import override_settings

from fingertight.web.people.signin import badge_of
from tests.paper.pictures import drawn
from tests.web.people.cast import NUMBER, Cast, said
from tests.web.tablet import Tablet


def scanned(cast: Cast, name: str, tablet: Tablet | None = None) -> Tablet:
    """A tablet whose camera read somebody's badge."""
    tablet = tablet or Tablet()
    answer = tablet.client.get(f"/badge/{badge_of(cast.people[name].id)}")
    if answer.status_code == 302:
        tablet.opens(answer["Location"])
    else:
        tablet._reads(answer)
    return tablet


def test_a_badge_leads_to_the_own_name_and_the_number_opens_the_bench(cast: Cast) -> None:
    tablet = scanned(cast, "Cleo")
    assert "Cleo, Bench 7" in tablet.page.text
    assert tablet.client.get(f"/bench/{cast.job('Cleo').slug}").status_code == 403, "a badge alone opens nothing"
    tablet.presses("It is me", number=NUMBER)
    assert "In hand: Cleo" in tablet.page.text


def test_a_found_badge_is_worth_nothing_without_the_number(cast: Cast) -> None:
    tablet = scanned(cast, "Cleo")
    tablet.presses("It is me", number="0001")
    assert said(tablet.page) == "That is not the number."


def test_without_a_lesson_a_badge_says_so(cast: Cast) -> None:
    teacher = cast.teacher()
    teacher.opens(f"/class/{cast.of.slug}/lesson")
    teacher.presses("Close lesson 2", word="The bore gauge is not found.")
    tablet = scanned(cast, "Cleo")
    assert tablet.answer.status_code == 422
    assert "No lesson of yours is open, Cleo." in tablet.page.text


def test_a_badge_that_was_made_up_or_whose_holder_is_forgotten_opens_nothing(cast: Cast) -> None:
    sentence = "This badge is not of this workshop, or its holder left it."
    cast.teacher().client.post(f"/class/{cast.of.slug}", {"act": "forget", "person": cast.people["Gus"].id})
    assert sentence in scanned(cast, "Gus").page.text
    assert sentence in scanned(cast, "Tilda").page.text, "who teaches has no badge"
    for token in (cast.people["Cleo"].id, f"{cast.people['Cleo'].id}:{'x' * 43}", "x"):
        answer = Tablet().client.get(f"/badge/{token}")
        assert answer.status_code == 422
        assert sentence in answer.content.decode()


def test_badges_are_printed_where_tablets_reach_the_workshop_and_are_those_that_open_it(cast: Cast) -> None:
    teacher, address = cast.teacher(), f"/class/{cast.of.slug}/badges.pdf"
    refused = teacher.client.get(address)
    assert refused.status_code == 422
    assert "fingertight serve --lan" in refused.content.decode()
    with override_settings(BEYOND_THIS_MACHINE=True, ALLOWED_HOSTS=["workshop.example"]):
        teacher.client.defaults["SERVER_NAME"] = "workshop.example"
        pdf = teacher.client.get(address)
    assert (pdf.status_code, pdf["Content-Type"]) == (200, "application/pdf")
    students = [one for one in cast.people.values() if one.role == "student"]
    codes = {code for page in drawn(pdf.content) for code in page.codes()}
    assert {code.rpartition("/badge/")[2] for code in codes} == {badge_of(one.id) for one in students}
    words = pypdfium2.PdfDocument(pdf.content)[0].get_textpage().get_text_range()
    assert all(one.name in words for one in students)
