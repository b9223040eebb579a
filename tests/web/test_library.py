"""Common assemblies: looked through, copied into a machine as its next version, and a machine begun from some."""

import pytest

from fingertight.anatomy.library.shelf import assembly, names, text_of
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.store.models import MachineVersion
from fingertight.store.versions import newest_of, steps_of
from fingertight.web.jobs.workshop import the_workshop
from tests.web.tablet import Tablet

LIBRARY = "/machine/pump-engine/library"


def machine(slug: str = "pump-engine") -> Anatomy:
    """The machine as it is now."""
    version = newest_of(the_workshop(), slug)
    assert version is not None
    found = read(version.text).anatomy
    assert found is not None
    return found


def test_every_assembly_is_shown_with_its_parts_and_its_picture(tablet: Tablet) -> None:
    page = tablet.opens(LIBRARY)
    html = tablet.answer.content.decode()
    assert tablet.opens("/machine/pump-engine").links["Copy from common assemblies"] == LIBRARY
    assert "no maker builds them" in page.text
    for name in names():
        assert page.links[f"Copy it: {assembly(name).machine.name}"] == f"{LIBRARY}/{name}"
        assert not [part.title for part in assembly(name).parts if part.title not in page.text]
        assert f'aria-label="{assembly(name).machine.name}: ' in html
    assert "the spring back into its cup" in page.text


def test_one_is_copied_behind_parts_that_are_ticked_and_is_the_next_version(tablet: Tablet) -> None:
    before = machine()
    page = tablet.opens(f"{LIBRARY}/wet-clutch")
    page = tablet.presses("Copy it into the machine", behind=["exhaust", "fan"])
    after = machine()
    assert "Wet clutch: 7 new parts" in page.text
    assert "This is version 2." in page.text
    assert len(after.parts) == len(before.parts) + 7
    first = next(part for part in after.parts[len(before.parts) :] if part.title.startswith("Clutch cover"))
    assert first.behind == ("exhaust", "fan")
    comments = [line for line in text_at(1).splitlines() if "#" in line]
    assert not [line for line in comments if line not in text_at(2).splitlines()]


def text_at(number: int) -> str:
    """The text of a version of the pump engine."""
    return {step.number: step.text.text for step in steps_of(the_workshop(), "pump-engine")}[number]


def test_names_that_are_taken_are_numbered_and_that_is_said_before(tablet: Tablet) -> None:
    page = tablet.opens(f"{LIBRARY}/two-bolt-exhaust")
    assert "Some of these names are taken in this machine: each gets a 2 behind it, Exhaust guard 2" in page.text
    tablet.presses("Copy it into the machine")
    assert machine().part_by_id["exhaust-2"].behind == ("exhaust-guard-2",)
    page = tablet.opens(f"{LIBRARY}/two-bolt-exhaust")
    assert "each gets a 3 behind it" in page.text


def test_it_is_undone_and_told_among_the_versions(tablet: Tablet) -> None:
    tablet.opens(f"{LIBRARY}/float-carburettor")
    tablet.presses("Copy it into the machine")
    tablet.presses("Undo the last change")
    assert text_at(3) == text_at(1)
    page = tablet.opens("/machine/pump-engine/versions")
    assert "a new part." in page.text
    assert "this part is gone." in page.text


def test_a_second_press_copies_nothing_twice(tablet: Tablet) -> None:
    tablet.opens(f"{LIBRARY}/drum-brake")
    form = tablet.form("Copy it into the machine")
    tablet.sends(form, {})
    answer = tablet.client.post(f"{LIBRARY}/drum-brake", {**form.fields, "behind": ["fan"]})
    assert answer.status_code == 422
    assert "Meanwhile this machine has version 2." in answer.content.decode()
    assert 'value="fan" checked' in answer.content.decode()
    assert len(steps_of(the_workshop(), "pump-engine")) == 2


@pytest.mark.parametrize(
    ("behind", "sentence"),
    [("crankcase", "never comes off: nothing can wait for that."), ("no-such", "The machine has no part “no-such”.")],
)
def test_what_cannot_be_waited_for_is_said_and_nothing_is_kept(tablet: Tablet, behind: str, sentence: str) -> None:
    answer = tablet.client.post(f"{LIBRARY}/wet-clutch", {"newest": "1", "behind": [behind]})
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert len(steps_of(the_workshop(), "pump-engine")) == 1


def test_a_machine_is_begun_from_assemblies_only(tablet: Tablet) -> None:
    assert tablet.opens("/").links["Begin a machine"] == "/machine/new/library"
    tablet.opens("/machine/new/library")
    page = tablet.presses("Begin the machine", name="Cultivator", assembly=["recoil-starter", "drum-brake"])
    assert tablet.path == "/machine/cultivator"
    assert "Version 1." in page.text
    parts = [part.title for one in ("drum-brake", "recoil-starter") for part in assembly(one).parts]
    assert [part.title for part in machine("cultivator").parts] == parts
    assert "invented" in machine("cultivator").machine.source
    assert tablet.client.get("/start/cultivator").status_code == 200


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"assembly": ["wet-clutch"]}, "The machine has no name."),
        ({"name": "Cart"}, "No assembly was chosen. Tick one or more."),
        ({"name": "Cart", "assembly": ["../../etc/passwd"]}, "No assembly was chosen."),
    ],
)
def test_what_is_left_out_is_said_and_what_was_typed_stays(
    tablet: Tablet, typed: dict[str, object], sentence: str
) -> None:
    many = MachineVersion.objects.count()
    answer = tablet.client.post("/machine/new/library", typed)
    html = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in html
    assert ('value="wet-clutch" checked' in html) == ("wet-clutch" in str(typed))
    assert ('value="Cart"' in html) == ("name" in typed)
    assert MachineVersion.objects.count() == many


def test_an_assembly_or_a_machine_that_is_not_there(tablet: Tablet) -> None:
    for path in (f"{LIBRARY}/no-such", "/machine/no-such/library", "/machine/no-such/library/wet-clutch"):
        assert tablet.client.get(path).status_code == 404
    assert tablet.client.post(LIBRARY, {"name": "x"}).status_code == 405
    assert text_of("wet-clutch")
