"""Orders on pages: shown at once, better ones as they are found, one's own dragged about, what is laid out."""

import time
from urllib.parse import urlencode

import pytest

from fingertight.cards.order.whole import Asked, OrderCard, proven_cards
from fingertight.order import Prices, cost_of, work_of
from fingertight.web.orders import looking
from tests.web.honest import machine
from tests.web.tablet import Page, Tablet

VICE = "/machine/bench-vice"
PATIENCE_S = 30.0


def until_done(tablet: Tablet, path: str) -> Page:
    """Look again, as an open page does, until the search has nothing more to say."""
    until = time.monotonic() + PATIENCE_S
    tablet.opens(path)
    while not all(one.done for one in looking._kept.values()):
        assert time.monotonic() < until, "the search does not end"
        time.sleep(0.1)
    return tablet.opens(path)


def test_the_usual_order_stands_there_at_once_and_the_proof_comes(tablet: Tablet) -> None:
    first = tablet.opens(f"{VICE}/order")
    assert "A whole strip 23.75 min: 10 parts, 7 changes of spanner, 1 turn of the machine." in first.text
    assert "No order costs less." in until_done(tablet, f"{VICE}/order").text


@pytest.mark.parametrize(
    ("query", "asked"),
    [
        ("?to=nut", Asked(to=("nut",))),
        ("?to=nut&to=spring", Asked(to=("nut", "spring"))),
        ("?way=rebuild", Asked("rebuild")),
        ("?first=spring", Asked(first=("spring",))),
    ],
)
def test_the_page_ends_with_what_the_search_proves(tablet: Tablet, query: str, asked: Asked) -> None:
    *_, best = proven_cards(machine("bench-vice"), asked)
    assert isinstance(best, OrderCard)
    page = until_done(tablet, f"{VICE}/order{query}")
    assert f"{best.cost_min:g} min" in page.text
    listed = page.text.partition("one after the other")[2]
    at = 0
    for step in best.steps:
        at = listed.index(step.title, at) + 1
    assert page.links["Lay out the bench"] == f"{VICE}/layout" + (query if asked.to else "")


def test_the_way_in_says_what_may_stay(tablet: Tablet) -> None:
    page = until_done(tablet, f"{VICE}/order?to=nut")
    assert "2 parts on the way to Nut of the screw; 8 parts may stay." in page.text


def test_a_search_is_stopped_by_a_press_and_what_it_had_stands(tablet: Tablet) -> None:
    path = "/machine/pump-engine/order"
    until = time.monotonic() + PATIENCE_S
    while "Stop looking" not in tablet.buttons() or "could be saved" not in tablet.page.text:
        assert time.monotonic() < until
        tablet.opens(path)
        time.sleep(0.05)
    tablet.presses("Stop looking")
    page = until_done(tablet, path)
    assert "No order can cost less than" in page.text
    assert "The search was stopped." in page.text


def test_a_page_that_has_seen_it_all_is_sent_nothing(tablet: Tablet) -> None:
    path = f"{VICE}/order?to=nut"
    until_done(tablet, path)
    seen = tablet.answer["ETag"]
    assert tablet.client.get(path, headers={"If-None-Match": seen}).status_code == 304


def test_no_more_than_two_searches_run_at_once(tablet: Tablet) -> None:
    for part in ("piston", "camshaft", "follower", "flywheel"):
        tablet.opens(f"/machine/pump-engine/order?to={part}&to=valve")
    assert sum(not one.done for one in looking._kept.values()) <= looking.MOST_AT_ONCE


@pytest.mark.parametrize("query", ["?to=nope", "?first=nope", "?to=nut&to=nope"])
def test_a_part_that_is_not_there_is_not_looked_for(tablet: Tablet, query: str) -> None:
    tablet.opens(f"{VICE}/order{query}")
    assert tablet.answer.status_code == 404
    assert not looking._kept


def test_what_stays_is_reached_by_no_order_and_the_page_says_why(tablet: Tablet) -> None:
    page = until_done(tablet, f"{VICE}/order?to=base")
    assert "There is no such order" in page.text
    assert "never comes off: it stays" in page.text
    assert tablet.opens(f"{VICE}/layout?to=base").text.count("never comes off") == 1


def test_what_can_be_reached_in_six_minutes(tablet: Tablet) -> None:
    page = until_done(tablet, f"{VICE}/within?minutes=6")
    reached, beyond = page.text.partition("In 6 min ")[2].split("Takes longer ")
    assert reached.split(" min")[0].startswith("Tommy bar 1")
    assert "Collar and split pin 5.75 min, 2 parts" in reached
    assert beyond.startswith("Nut of the screw 6.5 min, 2 parts")


@pytest.mark.parametrize(
    ("typed", "sentence"), [("soon", "“soon” is not a number"), ("0", "no time from 1"), ("9999", "no time from 1")]
)
def test_a_time_that_is_none_is_said(tablet: Tablet, typed: str, sentence: str) -> None:
    page = tablet.opens(f"{VICE}/within?minutes={typed}")
    assert tablet.answer.status_code == 422
    assert sentence in page.text


def order_shown(page: Page) -> list[str]:
    """The parts of an order of one's own, as they stand."""
    return [form.fields["move"] for form in page.forms if "move" in form.fields]


def moves(tablet: Tablet, button: str) -> None:
    """Press a button of a form that only asks."""
    form = tablet.form(button)
    tablet.opens(f"{VICE}/own?{urlencode({**form.fields, **form.buttons[button]})}")


def test_a_part_moves_by_a_press_and_the_cost_with_it(tablet: Tablet) -> None:
    before = order_shown(tablet.opens(f"{VICE}/own"))
    assert before[:2] == ["tommy-bar", "body"]
    moves(tablet, "Later: Tommy bar")
    after = order_shown(tablet.page)
    assert after[:2] == ["body", "tommy-bar"]
    assert sorted(after) == sorted(before)
    moves(tablet, "Earlier: Tommy bar")
    assert order_shown(tablet.page) == before
    vice = machine("bench-vice")
    cost = cost_of(order_shown(tablet.page), work_of(vice), vice.machine.rests[0], Prices())
    assert f"What it costs {cost:g} min:" in tablet.page.text
    tablet.opens(f"{VICE}/own?move=nut&to=5")  # turned on its back and upright again: a minute more
    assert "What it costs 24.75 min: 7 changes of spanner, 2 turns of the machine." in tablet.page.text


def test_what_is_dropped_where_it_cannot_go_springs_back_and_says_why(tablet: Tablet) -> None:
    before = order_shown(tablet.opens(f"{VICE}/own"))
    page = tablet.opens(f"{VICE}/own?move=screw&to=1")
    assert order_shown(page) == before
    assert "Sprung back. Screw cannot come off as number 1. Thrust washer is still on; it comes off first." in page.text
    said = tablet.client.get(f"{VICE}/own?move=screw&to=1", headers={"Accept": "application/json"}).json()
    assert said["cost_min"] == 23.75
    assert said["refused"].startswith("Screw cannot come off as number 1.")


@pytest.mark.parametrize(
    "query", ["?o=1.2.3", "?o=99.98", "?o=x", "?move=nope&to=3", "?move=screw&to=x", "?o=" + "9" * 5000]
)
def test_an_address_that_means_nothing_shows_the_usual_order(tablet: Tablet, query: str) -> None:
    usual = order_shown(tablet.opens(f"{VICE}/own"))
    page = tablet.opens(f"{VICE}/own{query}")
    assert tablet.answer.status_code == 200
    assert order_shown(page) == usual


def test_the_bench_is_laid_out_on_the_page_and_on_paper(tablet: Tablet) -> None:
    page = tablet.opens(f"{VICE}/layout?to=nut")
    assert "The way to Nut of the screw and back" in page.text
    assert "13 mm 1 at Nut of the screw" in page.text
    pdf = tablet.client.get(page.links["Print it (PDF)"])
    assert (pdf.status_code, pdf["Content-Type"]) == (200, "application/pdf")


def test_a_part_at_the_bench_leads_to_its_shortest_way(tablet: Tablet) -> None:
    page = tablet.opens("/part/pump-engine-2/follower")
    assert page.links["The shortest way to it"] == "/machine/pump-engine/order?to=follower"
