"""The tightening screen without JavaScript: which bolt next, how much on which scale, one tap or bolt by bolt."""

import json

from tests.web.tablet import Tablet

SIDE_COVER = "/tighten/pump-engine-1/side-cover/0"


def last_entry(tablet: Tablet) -> dict[str, object]:
    """The newest line of the job's log."""
    log = tablet.client.get("/log/pump-engine-1/log.jsonl").content.decode()
    entry: dict[str, object] = json.loads(log.splitlines()[-1])
    return entry


def test_the_screen_says_how_much_and_which_bolt_comes_first(tablet: Tablet) -> None:
    page = tablet.opens(SIDE_COVER)
    assert "Pass 1 of 3 4 N·m By hand first, all round, until they touch. Then bolt 1." in page.text
    assert "All done: pass 1 of 3" in tablet.buttons()
    assert "Each goes 16 mm of 18 mm into its hole" in page.text


def test_one_tap_logs_the_pass_without_claiming_an_order(tablet: Tablet) -> None:
    tablet.opens(SIDE_COVER)
    tablet.presses("All done: pass 1 of 3")
    entry = last_entry(tablet)
    assert (entry["kind"], entry["pass"], entry["torque"], entry["unit"]) == ("tighten", 0, 4.0, "N·m")
    assert "order" not in entry
    assert "Pass 2 of 3 7 N·m Again in the numbered order: bolt 1." in tablet.page.text


def test_bolt_by_bolt_the_order_is_logged_as_it_was_tapped(tablet: Tablet) -> None:
    tablet.opens(SIDE_COVER)
    for number in range(1, 7):
        assert f"{number} next: tap when it is done" in tablet.page.links
        tablet.opens(f"{SIDE_COVER}{tablet.page.links[f'{number} next: tap when it is done']}")
    tablet.presses("Done as tapped: pass 1 of 3")
    assert last_entry(tablet)["order"] == [2, 5, 1, 4, 3, 6]
    assert "Not right" not in tablet.opens("/bench/pump-engine-1/finish").text


def test_a_crooked_order_is_flagged_on_the_screen_and_mended_by_that_pass_again(tablet: Tablet) -> None:
    tablet.opens(f"{SIDE_COVER}?pass=0&done=1,2,3,4,5,6")
    tablet.presses("Done as tapped: pass 1 of 3")
    assert "Can wait. Side cover: pass 1 of M6x28 went 2.4 times as unevenly as its pattern" in tablet.page.text
    tablet.opens(f"{SIDE_COVER}{tablet.page.links['40 % done, do it again']}")
    tablet.presses("All done: pass 1 of 3")
    assert "unevenly" not in tablet.page.text


def test_the_wrench_speaks_another_unit_and_is_remembered(tablet: Tablet) -> None:
    tablet.opens(f"{SIDE_COVER}?scale=lb%C2%B7in")
    assert "Pass 1 of 3 35.4 lb·in" in tablet.page.text
    tablet.presses("All done: pass 1 of 3")
    entry = last_entry(tablet)
    # 4 N·m = 35.40 lbf·in: NIST SP 811, appendix B.8 (1 lbf·in = 0.112 985 N·m).
    assert (entry["torque"], entry["unit"]) == (35.4, "lb·in")
    assert "Pass 2 of 3 62 lb·in" in tablet.opens(SIDE_COVER).text


def test_something_else_on_the_wrench_is_written_as_it_was_and_a_slip_is_named(tablet: Tablet) -> None:
    tablet.opens(SIDE_COVER)
    tablet.presses("Write it as it was", torque="4", unit="lb·ft")
    assert "was 4 lb·ft, but 4 N·m belongs there; 4 N·m would be right: a slip of units" in tablet.page.text


def test_what_cannot_be_read_comes_back_as_it_was_typed(tablet: Tablet) -> None:
    tablet.opens(SIDE_COVER)
    tablet.presses("Write it as it was", torque="four", unit="lb·ft")
    assert tablet.answer.status_code == 422
    assert "Not written. “four” is not a number" in tablet.page.text
    assert tablet.form("Write it as it was").fields["torque"] == "four"


def test_a_part_in_its_bag_is_not_tightened_here(tablet: Tablet) -> None:
    page = tablet.opens("/tighten/pump-engine-2/heat-shield/0")
    assert "Not yet. It lies in bag" in page.text
    assert not [button for button in tablet.buttons() if "one" in button.split()[0].lower() and "pass" in button]


def test_a_set_that_is_not_there_or_has_no_torque_is_no_page(tablet: Tablet) -> None:
    for path in ("side-cover/9", "no-such-part/0", "dipstick/0", "side-cover/0?place=left"):
        assert tablet.client.get(f"/tighten/pump-engine-1/{path}").status_code == 404
    assert tablet.client.get(f"{SIDE_COVER}?done=x,99,2,2&pass=77&scale=stone").status_code == 200


def test_a_piece_with_places_keeps_its_place_and_one_bolt_needs_no_picture(tablet: Tablet) -> None:
    tablet.opens("/tighten/pump-engine-1/rocker/0?place=inlet")
    tablet.presses("Done: the one pass")
    assert last_entry(tablet)["place"] == "inlet"
    assert "every pass is done, to 9 N·m" in tablet.page.text


def test_the_bench_and_the_part_lead_to_the_screen(tablet: Tablet) -> None:
    page = tablet.opens("/part/pump-engine-1/side-cover")
    assert page.links["Tighten M6x28: its own screen"] == SIDE_COVER


def test_a_bolt_from_the_floor_is_asked_for_at_the_bench(tablet: Tablet) -> None:
    tablet.opens("/bench/pump-engine-2")
    assert tablet.page.links["A bolt lies on the floor: whose is it?"] == "/loose/pump-engine-2"
    page = tablet.opens("/loose/pump-engine-2?bolts=M8x60+hex+flange")
    assert "Cylinder head" in page.text
    tray = tablet.opens("/loose/pump-engine-2?bolts=6+x+M6x28%0A1%2F4-20+x+3%2F4+in")
    assert "6 of 7 bolts have a place. 1 is none of this machine’s, or read wrongly." in tray.text
    wrong = tablet.opens("/loose/pump-engine-2?bolts=banana")
    assert tablet.answer.status_code == 422
    assert "Not understood." in wrong.text


def test_what_no_wrench_can_be_set_to_is_not_written(tablet: Tablet) -> None:
    tablet.opens(SIDE_COVER)
    for torque in ("-4", "0", "999999999"):
        tablet.presses("Write it as it was", torque=torque, unit="N·m")
        assert tablet.answer.status_code == 422
        assert f"“{torque} N·m” is no torque of a wrench. Type what its scale showed." in tablet.page.text


def test_a_form_gone_back_to_and_sent_with_something_else_is_told_so(tablet: Tablet) -> None:
    tablet.opens(SIDE_COVER)
    form = tablet.form("Write it as it was")
    for torque, status in (("4", 303), ("4", 303), ("40", 409)):
        answer = tablet.client.post(form.action, {**form.fields, "torque": torque, "unit": "N·m"})
        assert answer.status_code == status
    assert "This form was sent before and said something else, which stands." in answer.content.decode()
    assert last_entry(tablet)["torque"] == 4


def test_a_later_pass_cannot_be_tapped_and_where_it_was_written_the_screen_says_it_does_not_count(
    tablet: Tablet,
) -> None:
    page = tablet.opens(f"{SIDE_COVER}?pass=2")
    assert "Pass 1 of 3" in page.text
    assert "100 %" not in page.links
    form = tablet.form("All done: pass 1 of 3")
    tablet.client.post(form.action, {**form.fields, "pass": "2", "torque": "10"})
    page = tablet.opens(SIDE_COVER)
    assert "Pass 3 was written before those that belong before it, and does not count." in page.text


def test_an_earlier_pass_again_says_that_those_after_it_follow_once_more(tablet: Tablet) -> None:
    tablet.opens(SIDE_COVER)
    for number in (1, 2, 3):
        tablet.presses(f"All done: pass {number} of 3")
    assert "every pass is done" in tablet.page.text
    page = tablet.opens(f"{SIDE_COVER}?pass=0")
    assert "Begin again from this pass: those after it follow once more." in page.text
    tablet.presses("All done: pass 1 of 3")
    assert "Pass 2 of 3" in tablet.page.text


def test_numbers_without_end_in_the_address_are_passed_over(tablet: Tablet) -> None:
    for asked in ("pass", "done"):
        assert "Pass 1 of 3" in tablet.opens(f"{SIDE_COVER}?{asked}={'9' * 5000}").text
