"""Readings typed on the page of a size: kept as typed, judged in the same answer, or asked for again."""

import json
import re

import pypdfium2
import pytest

from tests.web.honest import machine, start
from tests.web.tablet import Page, Tablet

SPRINGS = "valve-spring-length"
BUTTON = "Write these down"
# With these off every size of the engine that is measured at the bench lies open.
ALL_OFF = tuple(part.id for part in machine("pump-engine").parts if not part.stays)


def _bench(tablet: Tablet) -> Page:
    """The page of the valve springs, at a bench where they are off."""
    slug = start(tablet, "pump-engine", off=["valve-spring"]).rsplit("/", 1)[1]
    return tablet.opens(f"/measure/{slug}/{SPRINGS}")


def _bare(tablet: Tablet, check: str) -> Page:
    """The page of one size of an engine that is all in pieces."""
    slug = start(tablet, "pump-engine", off=list(ALL_OFF)).rsplit("/", 1)[1]
    return tablet.opens(f"/measure/{slug}/{check}")


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
    _reads(tablet, SPRINGS, **{"value-0-0": "1.34 in", "value-1-0": "33.9"})
    said = _last_entry(tablet)
    assert (said["unit"], said["typed"]) == ("in", "1.34 in; 33.9")
    assert [each["value"] for each in said["values"]] == pytest.approx([1.34, 33.9 / 25.4])  # type: ignore[attr-defined]


def test_nothing_typed_is_said_to_be_nothing(tablet: Tablet) -> None:
    _bench(tablet)
    assert "No reading was typed." in _reads(tablet, SPRINGS).text


def test_a_size_that_is_covered_says_what_comes_off_first(tablet: Tablet) -> None:
    slug = start(tablet, "pump-engine", off=["head"]).rsplit("/", 1)[1]
    page = tablet.opens(f"/measure/{slug}/bore")
    assert "Piston and rod is still on; it is measured once that is off." in page.text
    assert not [form for form in page.forms if BUTTON in form.buttons]


def test_the_stage_lists_what_can_be_measured_now_before_what_follows_from_it(tablet: Tablet) -> None:
    _bench(tablet)
    page = tablet.opens(f"/bench/{tablet.path.split('/')[2]}/measure")
    first = page.text.index("Sizes that can be measured now")
    later = page.text.index("Later, once something is off or measured")
    assert first < page.text.index("To be measured") < later < page.text.index("It follows once both are measured.")
    assert f"/measure/{tablet.path.split('/')[2]}/{SPRINGS}" in tablet.answer.content.decode()


def test_a_size_there_is_not_has_no_page(tablet: Tablet) -> None:
    slug = start(tablet, "pump-engine").rsplit("/", 1)[1]
    assert tablet.client.get(f"/measure/{slug}/big-toe").status_code == 404


def test_the_verdict_is_in_the_very_answer_to_the_readings(tablet: Tablet) -> None:
    page = _bench(tablet)
    form = next(form for form in page.forms if BUTTON in form.buttons)
    said = {**form.fields, "value-0-0": "33.9", "value-1-0": "32.1"}
    answer = tablet.client.post(tablet.path, said, headers={"X-Fragment": "live"})
    assert answer.status_code == 200
    fragment = answer.content.decode()
    assert "Worn: 0.40 mm past the limit." in fragment
    assert "<html" not in fragment


def test_several_readings_of_a_spot_count_with_their_mean_and_their_scatter(tablet: Tablet) -> None:
    _bare(tablet, "piston-skirt")
    page = _reads(tablet, "piston-skirt", **{"value-0-0": "67.91 67.93 67,92"})
    said = _last_entry(tablet)
    assert [each["value"] for each in said["values"]] == [67.91, 67.93, 67.92]  # type: ignore[attr-defined]
    assert "67.92 mm (skirt, mean of 3 readings)" in page.text
    assert "scatter of the repeats" in page.text.lower()


def test_leaves_on_each_other_are_added(tablet: Tablet) -> None:
    _bare(tablet, "ring-gap-top")
    page = _reads(tablet, "ring-gap-top", **{"value-0-0": "M 0.60 + 0.05"})
    assert _last_entry(tablet)["values"] == [{"value": 0.65}]
    assert "Good: 0.35 mm inside the limit." in page.text


def test_turns_of_the_dial_are_counted(tablet: Tablet) -> None:
    _bare(tablet, "crank-end-float")
    page = _reads(tablet, "crank-end-float", **{"value-0-0": "0 turns + 47"})
    assert _last_entry(tablet)["values"] == [{"value": 0.47}]
    assert "A shim of 0.3 mm more leaves 0.17 mm, between 0.05 and 0.25." in page.text


def test_another_instrument_and_a_warm_part_are_kept_and_reckoned_with(tablet: Tablet) -> None:
    page = _bare(tablet, "piston-skirt")
    form = next(form for form in page.forms if BUTTON in form.buttons)
    assert (form.fields["instrument"], form.fields["temperature"]) == ("micrometer-75", "")
    page = tablet.sends(form, {"value-0-0": "67.90", "instrument": "calliper", "temperature": "40"})
    said = _last_entry(tablet)
    assert (said["instrument"], said["temperature"]) == ("calliper", 40)
    # Aluminium under steel jaws, 20 degrees warm: 67.9 · 20 · (23.1 - 11.5)e-6 = 0.016 mm too large.
    found = re.search(r"([0-9.]+) mm \(skirt, read at 40 °C, brought to 20 °C\)", page.text)
    assert found
    assert float(found[1]) == pytest.approx(67.884, abs=0.002)
    page = _reads(tablet, "piston-skirt", **{"value-0-0": "67.90", "temperature": "400"})
    assert "Temperature: 400 is no workshop’s" in page.text


def test_a_slip_is_asked_about_at_its_box_and_the_same_again_stands(tablet: Tablet) -> None:
    _bare(tablet, "piston-skirt")
    page = _reads(tablet, "piston-skirt", **{"value-0-0": "67.42"})
    assert "one turn of the thimble too many or too few? Then it is 67.92 mm." in page.text
    page = _reads(tablet, "piston-skirt", **{"value-0-0": "67.42"})
    assert "one turn of the thimble" not in page.text


def test_a_reading_far_from_what_the_other_benches_found_is_asked_about_and_nobody_is_named(tablet: Tablet) -> None:
    for size in ("67.94", "67.95", "67.95", "67.96"):
        _bare(tablet, "piston-skirt")
        _reads(tablet, "piston-skirt", **{"value-0-0": size})
    _bare(tablet, "piston-skirt")
    page = _reads(tablet, "piston-skirt", **{"value-0-0": "67.87"})
    assert "the 4 other benches found 67.94 to 67.96 mm" in page.text
    assert "Good: " in page.text
    page = _reads(tablet, "piston-skirt", **{"value-0-0": "67.95"})
    assert "other benches" not in page.text


def test_the_instrument_is_drawn_at_the_reading_that_came_last(tablet: Tablet) -> None:
    _bare(tablet, "piston-skirt")
    page = _reads(tablet, "piston-skirt", **{"value-0-0": "67.85"})
    assert "Does yours look like this? 67.85 mm" in page.text
    assert "Its frame adds 50 mm to what is drawn." in page.text
    assert "The sleeve shows 17.5 mm; line 35 of the thimble" in tablet.answer.content.decode()


def test_what_the_class_types_gets_its_picture_while_it_is_typed(tablet: Tablet) -> None:
    def drawn(value: str) -> str:
        said = {"kind": "dial", "unit": "mm", "resolution": "0.01", "value": value}
        return str(tablet.client.get("/instrument", said).content.decode())

    assert "A dial gauge at 2.34 mm" in drawn("2t 34")
    assert "A dial gauge at 0.47 mm" in drawn("0.45 0.46 0.47")
    assert (drawn("nonsense"), drawn("2t 340")) == ("", "")


def test_worn_parts_go_on_the_order_list_and_the_paper_says_what_the_page_says(tablet: Tablet) -> None:
    _bare(tablet, "piston-skirt")
    slug = tablet.path.split("/")[2]
    _reads(tablet, "piston-skirt", **{"value-0-0": "67.80"})
    page = tablet.opens(f"/bench/{slug}/measure")
    assert "Piston skirt: worn" in page.text
    answer = tablet.client.get(f"/measure/{slug}/sheet.pdf")
    assert answer["Content-Type"] == "application/pdf"
    sheet = pypdfium2.PdfDocument(bytes(answer.content))
    text = " ".join(" ".join(one.get_textpage().get_text_range().split()) for one in sheet)
    for said in ("Piston skirt", "skirt: 67.80", "67.80 ± 0.01 mm", "worn"):
        assert said in text
    asked = re.findall(r"<b>([0-9]+ × [^<]+)</b>", tablet.answer.content.decode())
    assert asked
    for line in asked:
        assert line.split(" × ")[1] in text


def test_a_lash_says_which_leaf_must_go_and_which_must_not(tablet: Tablet) -> None:
    page = tablet.opens("/bench/pump-engine-2/rebuild")
    assert (
        "Set right when 0.03 + 0.70 (0.73 mm) goes in with a light drag and 0.09 + 0.70 (0.79 mm) does not."
        in page.text
    )


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


def test_an_instrument_that_is_too_coarse_for_a_limit_is_said_to_be(tablet: Tablet) -> None:
    page = _bare(tablet, "piston-skirt")
    assert "cannot judge this limit" not in page.text
    slug = tablet.path.split("/")[2]
    page = tablet.opens(f"/measure/{slug}/main-journals?with=calliper")
    assert "Calliper 150 mm cannot judge this limit at all: ± 0.0365 mm leaves no room" in page.text
