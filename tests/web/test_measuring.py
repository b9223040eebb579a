"""Readings typed on the measure page: kept as typed, judged, or asked for again."""

import json

from tests.web.honest import start
from tests.web.tablet import Page, Tablet

HALF = "/bench/pump-engine-2/measure"
BUTTON = "Write these down, mm"


def _reads(tablet: Tablet, check: str, **values: str) -> Page:
    form = next(form for form in tablet.page.forms if form.fields.get("check") == check and BUTTON in form.buttons)
    return tablet.sends(form, values)


def _last_entry(tablet: Tablet) -> dict[str, object]:
    lines = tablet.client.get("/log/pump-engine-2/log.jsonl").content.decode().splitlines()
    said: dict[str, object] = json.loads(lines[-1])
    return said


def test_readings_are_kept_with_the_text_as_typed_and_get_a_verdict(tablet: Tablet) -> None:
    tablet.opens(HALF)
    page = _reads(tablet, "spring-length", **{"value-0-0": "34,1", "value-1-0": "33.9"})
    assert "Good: 1.4" in page.text  # 33.9 less the limit of 32.5
    said = _last_entry(tablet)
    assert said["typed"] == "34,1; 33.9"
    assert said["values"] == [{"at": "inlet", "value": 34.1}, {"at": "exhaust", "value": 33.9}]
    assert "now 34.10" in page.text or "now 34.100" in page.text


def test_letters_come_back_as_typed_with_a_sentence_and_nothing_is_written(tablet: Tablet) -> None:
    before = tablet.client.get("/log/pump-engine-2/log.jsonl").content
    tablet.opens(HALF)
    page = _reads(tablet, "spring-length", **{"value-0-0": "34.o1", "value-1-0": "33.9"})
    assert tablet.answer.status_code == 422
    assert "Inlet: “34.o1” is not a number" in page.text
    form = next(form for form in page.forms if form.fields.get("check") == "spring-length")
    assert (form.fields["value-0-0"], form.fields["value-1-0"]) == ("34.o1", "33.9")
    assert tablet.client.get("/log/pump-engine-2/log.jsonl").content == before


def test_a_thousands_mark_is_refused_rather_than_read_as_something_else(tablet: Tablet) -> None:
    tablet.opens(HALF)
    page = _reads(tablet, "spring-length", **{"value-0-0": "1.034,1"})
    assert "has two marks" in page.text


def test_a_reading_may_be_in_inches_but_not_in_newton_metres(tablet: Tablet) -> None:
    tablet.opens(HALF)
    _reads(tablet, "spring-length", **{"value-0-0": "1.34 in"})
    assert _last_entry(tablet)["unit"] == "in"
    page = _reads(tablet, "spring-length", **{"value-0-0": "34 Nm"})
    assert "N·m is a torque, mm a length" in page.text
    page = _reads(tablet, "spring-length", **{"value-0-0": "1.34 in", "value-1-0": "33.9"})
    assert "Type all of them in one unit." in page.text


def test_nothing_typed_is_said_to_be_nothing(tablet: Tablet) -> None:
    tablet.opens(HALF)
    assert "No reading was typed." in _reads(tablet, "spring-length").text


def test_a_size_that_is_covered_says_what_comes_off_first(tablet: Tablet) -> None:
    page = tablet.opens(HALF)
    assert "Cylinder bore" in page.text
    assert "Piston and rod is still on; it is measured once that is off." in page.text


def test_a_worn_size_is_decided_by_the_instructor(tablet: Tablet) -> None:
    tablet.opens(HALF)
    page = _reads(tablet, "spring-length", **{"value-0-0": "31.9", "value-1-0": "33.9"})
    assert "Worn: 0.6" in page.text
    page = tablet.presses("Good: Valve springs, free length")
    assert "Good: the instructor decided." in page.text


def test_a_setting_out_of_its_words_comes_back_as_typed(tablet: Tablet) -> None:
    tablet.opens("/bench/pump-engine-2/rebuild")
    page = tablet.presses("It is set", value="nought point seven")
    assert tablet.answer.status_code == 422
    assert "“nought point seven” is not a number" in page.text
    assert tablet.form("It is set").fields["value"] == "nought point seven"


def test_a_pass_in_another_unit_is_taken_and_a_wrong_torque_is_flagged(tablet: Tablet) -> None:
    bench = start(tablet, "bench-vice", off=["nut", "screw", "slide", "body", "collar"])
    slug = bench.rsplit("/", 1)[1]
    tablet.opens(f"/part/{slug}/nut")
    if "It went on all the same" in tablet.buttons():
        tablet.presses("It went on all the same")
    else:
        tablet.presses("On — from bag " + tablet.form_of("on", "nut").fields["bag"])
    tablet.opens(f"{bench}/rebuild")
    page = tablet.presses("Done: one pass", torque="22", unit="lb·ft")
    assert "a slip of units" in page.text
