"""The sums without any machine, in mm and inches, point or comma."""

import json

import pytest

from fingertight.cards.sums.every import WHERE, every_sum
from tests.web.tablet import Tablet


def test_every_sum_has_its_page_and_is_listed(tablet: Tablet) -> None:
    listed = tablet.opens("/sums").links
    for one in every_sum():
        assert f"/sums/{one.name}" in listed.values()
        page = tablet.opens(f"/sums/{one.name}")
        assert tablet.answer.status_code == 200
        assert "Work it out" in tablet.buttons()
        assert one.title in page.text


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("thread?thread=M6", "M6 is 6 mm (0.2362 in) over its thread"),
        ("identify?reading=5%2C9+mm%2C+10+threads+in+10+mm", "It is M6"),
        ("spanner?what=7%2F16+in&on=10+mm", "Use 10 mm."),
        ("torque?thread=M8&grade=8.8&surface=oiled", "Tighten to 21 N·m"),
        ("wrench?torque=30&arm=12&arm-unit=in&extension=3&extension-unit=in", "Set the wrench to 24 N·m"),
        ("pattern?layout=ring+8", "As positions, numbered clockwise from the top: 1, 5, 3, 7, 2, 6, 4, 8."),
    ],
)
def test_a_sum_is_answered_from_its_address(tablet: Tablet, asked: str, said: str) -> None:
    assert said in tablet.opens(f"/sums/{asked}").text


def test_a_comma_and_an_inch_are_read_as_a_point_and_millimetres(tablet: Tablet) -> None:
    with_comma = tablet.opens("/sums/wrench?torque=22%2C5").text
    assert "22.5 N·m at the fastener" in with_comma
    in_feet = tablet.opens("/sums/wrench?torque=20&torque-unit=lb%C2%B7ft").text
    # 20 lbf·ft = 27.116 N·m: NIST SP 811, appendix B.8.
    assert "27.1 N·m at the fastener" in in_feet


def test_what_is_wrong_is_said_in_a_sentence_and_stays_as_it_was_typed(tablet: Tablet) -> None:
    page = tablet.opens("/sums/wrench?torque=abc&arm=300")
    assert tablet.answer.status_code == 422
    assert "Not worked out. Torque wanted: “abc” is not a number" in page.text
    assert tablet.form("Work it out").fields["torque"] == "abc"
    assert tablet.form("Work it out").fields["arm"] == "300"


def test_a_unit_of_another_kind_beside_a_box_is_refused(tablet: Tablet) -> None:
    page = tablet.opens("/sums/torque?thread=M8&grade=8.8&torque=21&torque-unit=in")
    assert tablet.answer.status_code == 422
    assert "Not worked out. Torque: in is a length, N·m a torque: write it in N·m." in page.text


def test_without_a_surface_the_page_of_stainless_steel_says_what_it_is_reckoned_with(tablet: Tablet) -> None:
    page = tablet.opens("/sums/torque?thread=M8&grade=A2-70&surface=&torque=&torque-unit=N%C2%B7m")
    assert "No surface was given: it is reckoned with paste" in page.text
    assert tablet.form("Work it out").fields["surface"] in {"", "–"}


def test_a_sum_that_takes_a_table_is_sent_and_leaves_no_names_in_the_address(tablet: Tablet) -> None:
    page = tablet.opens("/sums/study")
    (form,) = [form for form in page.forms if "readings" in form.fields]
    assert form.method == "post"
    many = "\n".join(
        f"{part} {who} {2 + part / 100:.3f} {2 + part / 100:.3f}" for part in range(1, 26) for who in "ABCDEFGH"
    )
    page = tablet.sends(form, {"readings": f"{many}\n", "tolerance": "1"})
    assert tablet.answer.status_code == 200
    assert "gauge and hands" in page.text
    assert "?" not in tablet.path


def test_a_program_asks_for_json_and_is_refused_in_json(tablet: Tablet) -> None:
    answer = tablet.client.get("/sums/wrench?torque=30", headers={"Accept": "application/json"})
    assert json.loads(answer.content)["set_nm"] == 30
    refused = tablet.client.get("/sums/wrench?torque=-3", headers={"Accept": "application/json"})
    assert (refused.status_code, json.loads(refused.content)["ok"]) == (422, False)
    assert tablet.client.get("/sums/no-such-sum").status_code == 404


def test_nothing_typed_breaks_a_sum(tablet: Tablet) -> None:
    for name in WHERE:
        fields = next(one for one in every_sum() if one.name == name).fields
        for typed in ("0", "-1", "1e999", "nan", "∞", "M6", "x" * 3000, "1,2,3", "'; --", "9" * 30, "\x00"):
            said = {field.name: typed for field in fields}
            assert tablet.client.get(f"/sums/{name}", said).status_code in {200, 422}
