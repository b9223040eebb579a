"""Readings typed on the measure page: kept as typed, judged, or asked for again."""

import json

from tests.web.honest import machine, start
from tests.web.tablet import Page, Tablet

SPRINGS = "valve-spring-length"
BUTTON = "Write these down, mm"


def _bench(tablet: Tablet) -> Page:
    """The measure page of a bench whose valve springs are off."""
    return tablet.opens(start(tablet, "pump-engine", off=["valve-spring"]) + "/measure")


def _log(tablet: Tablet) -> str:
    slug = tablet.path.split("/")[2]
    return str(tablet.client.get(f"/log/{slug}/log.jsonl").content.decode())


def _reads(tablet: Tablet, check: str, **values: str) -> Page:
    form = next(form for form in tablet.page.forms if form.fields.get("check") == check and BUTTON in form.buttons)
    return tablet.sends(form, values)


def _last_entry(tablet: Tablet) -> dict[str, object]:
    said: dict[str, object] = json.loads(_log(tablet).splitlines()[-1])
    return said


def test_readings_are_kept_with_the_text_as_typed_and_get_a_verdict(tablet: Tablet) -> None:
    _bench(tablet)
    page = _reads(tablet, SPRINGS, **{"value-0-0": "34,1", "value-1-0": "33.9"})
    assert "Good: 1.40 mm inside the limit." in page.text  # 33.9 less the limit of 32.5, read to 0.02 mm
    said = _last_entry(tablet)
    assert said["typed"] == "34,1; 33.9"
    assert said["values"] == [{"at": "inlet", "value": 34.1}, {"at": "exhaust", "value": 33.9}]
    assert "now 34.10" in page.text


def test_letters_come_back_as_typed_with_a_sentence_and_nothing_is_written(tablet: Tablet) -> None:
    _bench(tablet)
    before = _log(tablet)
    page = _reads(tablet, SPRINGS, **{"value-0-0": "34.o1", "value-1-0": "33.9"})
    assert tablet.answer.status_code == 422
    assert "Inlet: “34.o1” is not a number" in page.text
    assert page.text.count("Not written.") == 1
    assert page.text.index("Valve springs, free length") < page.text.index("Not written.")
    form = next(form for form in page.forms if form.fields.get("check") == SPRINGS)
    assert (form.fields["value-0-0"], form.fields["value-1-0"]) == ("34.o1", "33.9")
    assert _log(tablet) == before


def test_a_thousands_mark_is_refused_rather_than_read_as_something_else(tablet: Tablet) -> None:
    _bench(tablet)
    page = _reads(tablet, SPRINGS, **{"value-0-0": "1.034,1"})
    assert "has two marks" in page.text


def test_a_reading_may_be_in_inches_but_not_in_newton_metres(tablet: Tablet) -> None:
    _bench(tablet)
    _reads(tablet, SPRINGS, **{"value-0-0": "1.34 in"})
    assert _last_entry(tablet)["unit"] == "in"
    page = _reads(tablet, SPRINGS, **{"value-0-0": "34 Nm"})
    assert "N·m is a torque, mm a length" in page.text
    page = _reads(tablet, SPRINGS, **{"value-0-0": "1.34 in", "value-1-0": "33.9"})
    assert "Type all of them in one unit." in page.text


def test_nothing_typed_is_said_to_be_nothing(tablet: Tablet) -> None:
    _bench(tablet)
    assert "No reading was typed." in _reads(tablet, SPRINGS).text


def test_a_size_that_is_covered_says_what_comes_off_first(tablet: Tablet) -> None:
    page = _bench(tablet)
    assert "Cylinder bore" in page.text
    assert "Piston and rod is still on; it is measured once that is off." in page.text


def test_what_can_be_measured_now_stands_before_what_follows_from_it(tablet: Tablet) -> None:
    page = _bench(tablet)
    first = page.text.index("Sizes that can be measured now")
    later = page.text.index("Later, once something is off or measured")
    assert first < page.text.index(BUTTON) < later < page.text.index("It follows once both are measured.")


def test_a_size_right_at_its_limit_is_never_nothing_point_nothing_inside_it(tablet: Tablet) -> None:
    _bench(tablet)
    page = _reads(tablet, SPRINGS, **{"value-0-0": "32.503", "value-1-0": "33.9"})
    assert "Too close to call: less than 0.01 mm inside its nearest limit" in page.text
    page = _reads(tablet, SPRINGS, **{"value-0-0": "32.5", "value-1-0": "33.9"})
    assert "Too close to call: right at its nearest limit, and that may be 0.04 mm out." in page.text
    assert "32.50 ± 0.04 mm" in tablet.answer.content.decode()


def test_a_worn_size_is_decided_by_the_instructor(tablet: Tablet) -> None:
    _bench(tablet)
    page = _reads(tablet, SPRINGS, **{"value-0-0": "31.9", "value-1-0": "33.9"})
    assert "Worn: 0.6" in page.text
    page = tablet.presses("Good: Valve springs, free length")
    assert "Good: the instructor decided." in page.text


def test_a_setting_out_of_its_words_comes_back_as_typed(tablet: Tablet) -> None:
    tablet.opens("/bench/pump-engine-2/rebuild")
    page = tablet.presses("It is set", value="nought point seven")
    assert tablet.answer.status_code == 422
    assert "“nought point seven” is not a number" in page.text
    assert tablet.form("It is set").fields["value"] == "nought point seven"


def test_a_pass_in_the_wrong_unit_is_kept_and_flagged_as_a_slip_and_mended_by_doing_it_again(tablet: Tablet) -> None:
    bench = start(tablet, "bench-vice", off=["nut"])
    part = f"/part/{bench.rsplit('/', 1)[1]}/nut"
    right = machine("bench-vice").part_by_id["nut"].ask[0].right
    tablet.opens(part)
    button = next(iter(tablet.form_of("on", "nut").buttons))
    tablet.presses(button, **{"answer-0": right})
    tablet.opens(f"{bench}/rebuild")
    page = tablet.presses("Done: one pass", torque="22", unit="lb·ft")
    assert "22 N·m would be right: a slip of units" in page.text
    tablet.opens(part)
    tablet.presses("That pass is done", torque="22", unit="N·m")
    assert "slip of units" not in tablet.opens(f"{bench}/finish").text
