"""Everything a machine says is changed in forms: what is sent comes into the file, what is wrong stays in the form."""

import re

import pytest

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.store.models import MachineVersion
from tests.web.tablet import Page, Tablet

PUMP = "/machine/pump-engine"
COVER = f"{PUMP}/part/side-cover"
ONE_OF_EACH = [
    f"{PUMP}/part/exhaust",
    f"{PUMP}/part/exhaust/more",
    f"{PUMP}/part/exhaust/fasteners/1",
    f"{PUMP}/part/exhaust/bag/1",
    f"{PUMP}/part/governor-rod/questions/1",
    "/machine/bench-vice/part/collar/ways/1",
    f"{PUMP}/change/check/bore",
    f"{PUMP}/change/check/piston-clearance",
    f"{PUMP}/change/setting/plug-gap",
    f"{PUMP}/change/sign/timing",
    f"{PUMP}/change/instrument/feeler",
    f"{PUMP}/change/machine/machine",
    f"{PUMP}/change/engine/engine",
]


def newest(slug: str = "pump-engine") -> MachineVersion:
    """The text of a machine as it is now."""
    return MachineVersion.objects.filter(slug=slug).latest("version")


def anatomy() -> Anatomy:
    """The pump engine as it is now."""
    found = read(newest().text).anatomy
    assert found is not None
    return found


def sends(tablet: Tablet, path: str, button: str = "Change it", **typed: object) -> Page:
    """Open a form and send it as a browser does, with these fields changed."""
    tablet.opens(path)
    form = tablet.form(button)
    return tablet.sends(form, {**form.untouched, **form.buttons[button], **typed})


def presses(tablet: Tablet, button: str) -> Page:
    """Press a button of the form as it stands, with what is typed in it."""
    form = tablet.form(button)
    return tablet.sends(form, {**form.untouched, **form.buttons[button]})


def remarks(text: str) -> list[str]:
    """Everything behind a # that stands in no string."""
    return re.findall("#.*", text)


@pytest.mark.parametrize("path", ONE_OF_EACH)
def test_a_form_sent_untouched_changes_nothing_and_says_so(tablet: Tablet, path: str) -> None:
    page = sends(tablet, path)
    assert "Nothing was changed." in page.text
    assert not MachineVersion.objects.filter(version__gt=1).exists()


def test_a_torque_is_changed_and_the_drawing_and_all_remarks_stay(tablet: Tablet) -> None:
    before, drawn = newest().text, anatomy().part_by_id["side-cover"].held_by[0].at
    page = sends(tablet, f"{COVER}/fasteners/1", torque="11,5", note="Round twice")
    assert tablet.path.startswith(COVER)
    assert "Side cover" in page.text
    assert "This is version 2; the file keeps its comments." in page.text
    changed = anatomy().part_by_id["side-cover"].held_by[0]
    assert (changed.torque, changed.note, changed.at) == (11.5, "Round twice", drawn)
    assert remarks(newest().text) == remarks(before)
    assert abs(len(newest().text.splitlines()) - len(before.splitlines())) <= 1


def test_a_set_of_fasteners_is_added_and_taken_out_again(tablet: Tablet) -> None:
    page = sends(
        tablet, f"{COVER}/fasteners/add", "Add fasteners", thread="M5", length="12", count="2", head="hex", torque="5"
    )
    assert "2 × M5x12, 5 N·m" in page.text
    before = anatomy().part_by_id["side-cover"].held_by
    page = sends(tablet, f"{COVER}/fasteners/1", "Yes, take it out")
    assert "2 × M5x12, 5 N·m" in page.links
    assert anatomy().part_by_id["side-cover"].held_by == before[1:]


def test_a_small_thing_a_question_and_a_way_out_are_added(tablet: Tablet) -> None:
    sends(tablet, f"{COVER}/bag/add", "Add a small thing", name="paper shim", count="2", single_use="yes")
    sends(tablet, f"{COVER}/questions/add", "Add a question", question="Clean?", answers="yes\nno", right="yes")
    sends(tablet, f"{PUMP}/part/exhaust/ways/add", "Add a way out", way=["fuel-tank", "air-filter"])
    cover, exhaust = anatomy().part_by_id["side-cover"], anatomy().part_by_id["exhaust"]
    assert (cover.with_[-1].name, cover.with_[-1].count, cover.with_[-1].single_use) == ("paper shim", 2, True)
    assert (cover.ask[-1].question, cover.ask[-1].answers, cover.ask[-1].right) == ("Clean?", ("yes", "no"), "yes")
    assert exhaust.ways == (("fuel-tank", "air-filter"),)
    page = sends(tablet, f"{PUMP}/part/exhaust/ways/1", way=["air-filter"])
    assert "Air filter" in page.links
    assert anatomy().part_by_id["exhaust"].ways == (("air-filter",),)


def test_a_size_a_setting_a_sign_off_and_an_instrument_are_added_changed_and_taken_out(tablet: Tablet) -> None:
    page = sends(
        tablet, f"{PUMP}/add/instrument", "Add an instrument", name="Depth gauge", resolution="0.02", error="0.03"
    )
    assert "Depth gauge: a new instrument." in page.text
    sends(tablet, f"{PUMP}/add/check", "Add a size", name="Deck height", part="crankcase", instrument="depth-gauge", **{
        "new-from": "0", "new-to": "0.3", "max": "0.5", "bare": ["head"]})  # fmt: skip
    sends(tablet, f"{PUMP}/add/setting", "Add a setting", name="Belt", **{"range-from": "8", "range-to": "12"})
    page = sends(tablet, f"{PUMP}/add/sign", "Add a sign-off", name="Guards on", stage="rebuild", before=["plug-lead"])
    assert "Guards on: a new sign-off." in page.text
    said = anatomy()
    assert said.check_by_id["deck-height"].new == (0, 0.3)
    assert said.setting_by_id["belt"].range == (8, 12)
    assert said.sign_by_id["guards-on"].before == ("plug-lead",)
    sends(tablet, f"{PUMP}/change/check/deck-height", max="0.45")
    assert anatomy().check_by_id["deck-height"].max == 0.45
    page = tablet.opens(f"{PUMP}/out/instrument/depth-gauge")
    assert "Deck height is measured or set with Depth gauge." in page.text
    presses(tablet, "Take it out, and out of their lists too")
    assert anatomy().check_by_id["deck-height"].instrument is None
    assert "depth-gauge" not in anatomy().instrument_by_id
    assert read(newest().text).mistakes == ()


def test_a_part_is_added_and_one_of_that_name_is_not_added_twice(tablet: Tablet) -> None:
    page = sends(tablet, f"{PUMP}/add/part", "Add a part", name="Air duct", behind=["air-filter"], minutes="3")
    assert "Air duct: a new part." in page.text
    assert anatomy().part_by_id["air-duct"].behind == ("air-filter",)
    page = sends(tablet, f"{PUMP}/add/part", "Add a part", name="Air duct", minutes="4")
    assert tablet.answer.status_code == 422
    assert "There is a part called Air duct already. Give this one another name" in page.text
    assert tablet.form("Add a part").fields["minutes"] == "4"
    assert newest().version == 2
    sends(tablet, f"{PUMP}/add/part", "Add a part", name="Air duct!")
    assert "air-duct-2" in anatomy().part_by_id


def test_a_part_that_others_name_is_taken_out_of_their_lists_with_one_press(tablet: Tablet) -> None:
    before = newest().text
    page = tablet.opens(f"{PUMP}/out/part/piston")
    assert "Piston and rod is off when Cylinder bore is measured." in page.text
    assert "Piston skirt is measured on Piston and rod." in page.text
    assert "These go with it, for they have no sense without it:" in page.text
    assert "Piston clearance" in page.text
    presses(tablet, "Take it out, and out of their lists too")
    assert tablet.answer.status_code == 200
    said = anatomy()
    assert "piston" not in said.part_by_id
    assert "piston-clearance" not in said.check_by_id
    assert read(newest().text).mistakes == ()
    kept = remarks(newest().text)
    assert [one for one in remarks(before) if one.startswith("# ===")] == [
        one for one in kept if one.startswith("# ===")
    ]


SET, GAP = "part/side-cover/fasteners/1", "change/setting/plug-gap"
WRONG: list[tuple[str, dict[str, object], str, str]] = [
    (SET, {"torque": "-5"}, "torque", "“Torque, N·m” is the number -5; it must be more than 0."),
    (SET, {"thread": "M6.3"}, "thread", "There is no thread “M6.3” in the tables."),
    (SET, {"kind": "circlip"}, "thread", "This set has both a thread and a kind. Type a thread, or choose"),
    (SET, {"thread": ""}, "thread", "This set has neither a thread nor a kind. Type a thread, or choose"),
    (SET, {"passes": "40 70"}, "passes", "and the last is 100. Type for example 50 100."),
    (SET, {"count": "many"}, "count", "“many” is not a number"),
    (GAP, {"range-from": "0.9"}, "range", "runs from 0.9 down to 0.8. The smaller number stands first."),
    (GAP, {"range-to": ""}, "range", "“to” is empty. Fill in both, or neither."),
    (GAP, {"name": " "}, "name", "“What it is called” is empty. Fill it in."),
    ("change/check/bore", {"max": "68.01"}, "max", "New ones go up to 68.015, and past 68.01 they are worn out."),
    ("change/sign/timing", {"before": []}, "before", "“These may not move before it” is empty. Fill it in."),
    ("part/governor-rod/questions/1", {"right": "perhaps"}, "right", "“perhaps” is not among the answers."),
]


@pytest.mark.parametrize(("path", "typed", "box", "sentence"), WRONG)
def test_what_cannot_be_is_said_beside_its_box_and_what_was_typed_stays(
    tablet: Tablet, path: str, typed: dict[str, object], box: str, sentence: str
) -> None:
    page = sends(tablet, f"{PUMP}/{path}", **typed)
    assert tablet.answer.status_code == 422
    assert sentence in page.text
    html = tablet.answer.content.decode()
    following = html[html.index(f'name="{box}') :]
    assert "Not changed." in following
    sent = tablet.form("Change it").untouched
    assert all(sent.get(key, []) in (value, [value]) for key, value in typed.items())
    assert newest().version == 1
    for word in ("[[", "]]", " = ", "held_by", "TOML"):
        assert word not in page.text, "no line of the file is shown"


def test_a_count_that_does_not_fit_the_drawing_is_mended_with_one_press(tablet: Tablet) -> None:
    drawn = anatomy().part_by_id["side-cover"].held_by[0].at
    page = sends(tablet, f"{COVER}/fasteners/1", count="9", torque="12")
    assert f"This set counts 9, but their drawing has {len(drawn)} positions." in page.text
    assert "Their places are drawn and stay as they are" in page.text
    presses(tablet, f"Put {len(drawn)} under “How many”")
    changed = anatomy().part_by_id["side-cover"].held_by[0]
    assert (changed.how_many, changed.torque, changed.at) == (len(drawn), 12, drawn)
    sends(tablet, f"{COVER}/fasteners/1", count="9")
    presses(tablet, "Take the drawing of their places out")
    changed = anatomy().part_by_id["side-cover"].held_by[0]
    assert (changed.how_many, changed.at) == (9, ())


def test_a_bolt_typed_with_its_length_is_mended_with_one_press(tablet: Tablet) -> None:
    sends(tablet, f"{COVER}/fasteners/1", thread="M6x25", length="")
    page = presses(tablet, "Put M6 under “Size of the thread” and put 25 under “Length, mm”")
    assert "× M6x25" in page.text


def test_two_mistakes_are_mended_one_press_after_the_other(tablet: Tablet) -> None:
    sends(tablet, f"{COVER}/fasteners/1", count="9", passes="40 70", note="Twice")
    page = presses(tablet, "Put 6 under “How many”")
    assert tablet.answer.status_code == 422
    assert "This set counts" not in page.text
    assert tablet.form("Change it").fields["count"] == "6"
    assert tablet.form("Change it").fields["passes"] == "40 70"
    presses(tablet, "Put 40 70 100 under “Rounds, percent of the torque”")
    changed = anatomy().part_by_id["side-cover"].held_by[0]
    assert (changed.how_many, changed.passes, changed.note) == (6, (0.4, 0.7, 1.0), "Twice")


def test_enter_in_a_box_mends_nothing(tablet: Tablet) -> None:
    """A browser presses the first button of a form on Enter: that is no mend."""
    sends(tablet, f"{COVER}/fasteners/1", count="9")
    html = tablet.answer.content.decode()
    assert html.index("<button hidden></button>") < html.index('name="mend"')


def test_a_ring_is_refused_by_name_and_undone_with_one_press(tablet: Tablet) -> None:
    page = sends(tablet, f"{PUMP}/part/heat-shield", behind=["exhaust", "plug-lead"])
    assert tablet.answer.status_code == 422
    assert "These parts block each other, so none of them can ever come off:" in page.text
    assert tablet.form("Change it").ticked["behind"] == ["plug-lead", "exhaust"] or tablet.form("Change it").ticked
    page = presses(tablet, "Take Heat shield out of Exhaust’s way")
    assert "Heat shield: Exhaust must come off before it now." in page.text
    said = anatomy().part_by_id
    assert "exhaust" in said["heat-shield"].behind
    assert "heat-shield" not in said["exhaust"].behind


def test_addresses_of_nothing_are_not_there(tablet: Tablet) -> None:
    for path in (
        "part/no-such/more",
        "part/side-cover/fasteners/9",
        "part/side-cover/fasteners/0",
        "part/side-cover/bolts/1",
        "change/check/no-such",
        "change/part/side-cover",
        "change/machine/other",
        "add/bolt",
        "add/machine",
        "out/part/no-such",
        "out/machine/machine",
        "out/bolt/x",
    ):
        assert tablet.client.get(f"{PUMP}/{path}").status_code == 404, path


def test_the_last_part_of_a_machine_is_not_taken_out(tablet: Tablet) -> None:
    tablet.opens("/machine/new")
    tablet.presses("Check it and keep it", anatomy='format = 1\n[machine]\nname = "Box"\n[[part]]\nid = "lid"\n')
    tablet.opens("/machine/box/out/part/lid")
    page = presses(tablet, "Take it out")
    assert tablet.answer.status_code == 422
    assert "a machine has at least one" in page.text
