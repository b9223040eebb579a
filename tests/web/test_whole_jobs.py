"""Whole jobs through the pages, without JavaScript: every press is a form, every answer a page."""

import pytest

from tests.web.honest import machine, rebuild, start, strip
from tests.web.tablet import Tablet


@pytest.mark.parametrize("slug", ["bench-vice", "hand-winch", "pump-engine"])
def test_a_machine_is_stripped_and_built_back_and_nothing_is_left_over(tablet: Tablet, slug: str) -> None:
    bench = start(tablet, slug)
    strip(tablet, bench)
    assert "Nothing is left to come off." in tablet.page.text
    rebuild(tablet, bench, machine(slug))
    assert "Everything is on the machine." in tablet.page.text
    assert "No bag is in use" in tablet.page.text

    tablet.opens(f"{bench}/finish")
    assert "Not right yet" not in tablet.page.text
    page = tablet.presses("Finish")
    assert "The job is finished: nothing is open." in page.text
    assert "Finished" in tablet.opens("/").text


def test_finish_is_refused_with_the_list_while_something_is_off(tablet: Tablet) -> None:
    bench = start(tablet, "bench-vice")
    strip(tablet, bench)
    rebuild(tablet, bench, machine("bench-vice"))
    tablet.opens(f"{bench}/strip")
    tablet.presses(next(button for button in tablet.buttons() if button.startswith("Off")))
    tablet.opens(f"{bench}/finish")
    page = tablet.presses("Finish")
    assert "1 thing is not right yet. Finish is granted once each is mended or set aside." in page.text
    assert "Not right yet: 1" in page.text


def test_a_machine_that_lacks_parts_is_stripped_without_them(tablet: Tablet) -> None:
    bench = start(tablet, "pump-engine", absent=["carburettor", "fuel-tank"])
    page = tablet.opens("/log/" + bench.rsplit("/", 1)[1])
    assert "This machine has no Carburettor." in page.text
    strip(tablet, bench)
    assert "69 of 69 off" in tablet.page.text
    assert "Not right yet" not in tablet.page.text


def test_a_machine_that_is_partly_stripped_starts_with_those_parts_in_their_bags(tablet: Tablet) -> None:
    start(tablet, "bench-vice", off=["tommy-bar", "jaw-plate"])
    assert "2 of 10 off" in tablet.page.text
    assert "3 bags, in order of removal" in tablet.page.text


def test_a_part_ticked_as_missing_and_as_off_is_asked_about_and_nothing_starts(tablet: Tablet) -> None:
    tablet.opens("/start/bench-vice")
    page = tablet.presses("Start at this bench", bench="Bench 1", absent=["tommy-bar"], off=["tommy-bar"])
    assert tablet.answer.status_code == 422
    assert "Tommy bar is ticked twice" in page.text
    assert tablet.form("Start at this bench").fields["bench"] == "Bench 1"
    assert "0 jobs here" in tablet.opens("/").text


def test_starting_twice_with_one_form_starts_one_job(tablet: Tablet) -> None:
    tablet.opens("/start/bench-vice")
    form = tablet.form("Start at this bench")
    first = tablet.client.post("/start/bench-vice", {**form.fields, "bench": "Bench 1"})
    again = tablet.client.post("/start/bench-vice", {**form.fields, "bench": "Bench 1"})
    assert first["Location"] == again["Location"]
    assert "11 parts; 1 job here" in tablet.opens("/").text


def test_a_whole_class_begins_with_one_press_each_bench_with_its_own_job(tablet: Tablet) -> None:
    tablet.opens("/start/pump-engine")
    form = next(form for form in tablet.page.forms if "bench" in form.fields)
    page = tablet.sends(form, {"bench": "Bench 20", "count": "12"})
    assert tablet.path == "/wall?class=all"
    for number in range(20, 32):
        assert f"Bench {number} " in page.text
    before = page.text.count("Ready to strip.")
    tablet.client.post("/start/pump-engine", {**form.fields, "bench": "Bench 20", "count": "12"})
    assert tablet.opens("/wall?class=all").text.count("Ready to strip.") == before


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"bench": "Bench", "count": "3"}, "“Bench” ends in no number to count on from"),
        ({"bench": "Bench 1", "count": "many"}, "How many benches: “many” is no whole number"),
        ({"bench": "Bench 1", "count": "31"}, "31 is not between 1 and 30"),
        ({"bench": "Bench 1", "count": "2", "name": "red"}, "Several benches begin alike"),
    ],
)
def test_a_class_that_cannot_begin_is_told_why_and_nothing_begins(
    tablet: Tablet, typed: dict[str, str], says: str
) -> None:
    benches = tablet.opens("/wall").text.count("Ready to strip.")
    tablet.opens("/start/pump-engine")
    form = next(form for form in tablet.page.forms if "bench" in form.fields)
    page = tablet.sends(form, typed)
    assert tablet.answer.status_code == 422
    assert says in page.text
    assert tablet.opens("/wall").text.count("Ready to strip.") == benches
