"""A part is changed in a form: what is in its way, without a line of TOML; a ring of blockers is not let through."""

import pytest

from fingertight.anatomy.read import read
from fingertight.store.models import MachineVersion
from tests.web.tablet import Page, Tablet

EXHAUST = "/machine/pump-engine/part/exhaust"


def newest() -> MachineVersion:
    """The text of the pump engine as it is now."""
    return MachineVersion.objects.filter(slug="pump-engine").latest("version")


def changes(tablet: Tablet, path: str, **typed: object) -> Page:
    """Open the form of a part and send it with these fields changed; ticks as they are, unless they are given."""
    tablet.opens(path)
    form = tablet.form("Change it")
    anatomy = read(newest().text).anatomy
    assert anatomy is not None
    part = anatomy.part_by_id[path.rpartition("/")[2]]
    ticked: dict[str, object] = {"behind": list(part.behind), "cautions": "\n".join(part.cautions)}
    return tablet.sends(form, {**ticked, **typed})


def test_another_part_is_put_in_its_way_and_the_file_keeps_its_comments(tablet: Tablet) -> None:
    before = newest()
    anatomy = read(before.text).anatomy
    assert anatomy is not None
    page = changes(tablet, EXHAUST, behind=[*anatomy.part_by_id["exhaust"].behind, "fuel-tank"])
    assert (
        "Exhaust: Fuel tank must come off before it now. This is version 2; the file keeps its comments." in page.text
    )
    after = newest()
    assert (before.version, after.version) == (1, 2)
    assert [line for line in before.text.splitlines() if line.lstrip().startswith("#")] == [
        line for line in after.text.splitlines() if line.lstrip().startswith("#")
    ]
    changed = read(after.text).anatomy
    assert changed is not None
    assert "fuel-tank" in changed.part_by_id["exhaust"].behind
    assert tablet.opens("/machine/pump-engine").links["Change it: Exhaust"] == EXHAUST


def test_a_ring_of_blockers_is_refused_with_its_parts_by_name_and_nothing_is_kept(tablet: Tablet) -> None:
    page = changes(tablet, "/machine/pump-engine/part/heat-shield", behind=["exhaust"])
    assert tablet.answer.status_code == 422
    assert "These parts block each other, so none of them can ever come off:" in page.text
    assert "Take one of them out of the other’s way." in page.text
    assert newest().version == 1


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"name": "  "}, "“What it is called” is empty. Fill it in."),
        ({"minutes": "soon"}, "“soon” is not a number"),
        ({"minutes": "-1"}, "“Usual minutes to take it off” is the number -1; it must be 0 or more."),
        ({"minutes": "601"}, "601 is more than 600. Type 600 or less."),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_kept(tablet: Tablet, typed: dict[str, str], sentence: str) -> None:
    page = changes(tablet, EXHAUST, **typed)
    assert tablet.answer.status_code == 422
    assert sentence in page.text
    assert newest().version == 1


def test_what_was_typed_stays_where_it_is_not_taken(tablet: Tablet) -> None:
    page = changes(tablet, "/machine/pump-engine/part/heat-shield", behind=["exhaust"], care="On its own rag")
    assert tablet.form("Change it").fields["care"] == "On its own rag"
    assert "In the way of Heat shield: Exhaust." in page.text


def test_the_same_form_again_changes_nothing(tablet: Tablet) -> None:
    page = changes(tablet, EXHAUST)
    assert "Nothing was changed." in page.text
    assert newest().version == 1


def test_a_part_that_is_not_there_has_no_form(tablet: Tablet) -> None:
    assert tablet.client.get("/machine/pump-engine/part/no-such").status_code == 404
