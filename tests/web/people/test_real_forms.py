"""Every form that a page offers to those who may send it is sent by those who may not: nothing is written."""

from urllib.parse import urlsplit

import pytest
from django.urls import resolve

from fingertight.web.people.roles import RULES
from tests.web.people.cast import Cast
from tests.web.people.test_roles import ADDRESSES, PLACES, at, everything, filled, let
from tests.web.tablet import Form, Tablet

BESIDE = "student of another bench"


def offered(tablet: Tablet, cast: Cast) -> dict[str, list[Form]]:
    """Every form that writes on any page this tablet may open, by the name of the address it is sent to."""
    found: dict[str, list[Form]] = {}
    for pattern in ADDRESSES:
        page = tablet.opens(filled(pattern, cast))
        if tablet.answer.status_code != 200:
            continue
        for form in page.forms:
            if form.method == "post":
                form.action = urlsplit(form.action or tablet.path).path
                found.setdefault(str(resolve(form.action).url_name), []).append(form)
    return found


def test_no_form_on_any_page_is_taken_from_who_may_not_send_it(cast: Cast) -> None:
    forms = offered(at("owner", cast), cast)
    for name, more in offered(cast.student("Cleo", cast.student("Dov")), cast).items():
        forms.setdefault(name, []).extend(more)
    assert {"stage", "class", "lesson", "people", "tools", "bench-tools", "hands", "number"} <= set(forms)
    tried = 0
    for place in PLACES:
        tablet = at(place, cast)
        for name, ones in forms.items():
            if let(place, RULES[name].write):
                continue
            for form in ones:
                button = next(iter(form.buttons.values()), {})
                if place == BESIDE and cast.job("Cleo").slug not in form.action:
                    continue  # a page of the bench this student does sit at is not met here
                before = everything()
                answer = tablet.client.post(form.action, {**form.fields, **button})
                assert answer.status_code == 403, f"{place}: {form.action} {form.fields}"
                assert everything() == before, f"{place}: {form.action} {form.fields}"
                tried += 1
    assert tried > 100


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_other_ways_to_write_are_not_let_through_either(cast: Cast, method: str) -> None:
    for place in PLACES:
        tablet = at(place, cast)
        for pattern in ADDRESSES:
            before = everything()
            answer = getattr(tablet.client, method)(filled(pattern, cast))
            assert answer.status_code in {403, 405}, f"{place} {method} {pattern.name}: {answer.status_code}"
            assert everything() == before
