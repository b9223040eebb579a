"""From one text to the next: what has another id, what holds a part, and what it means for a job under way."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.anatomy.change.words import difference
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.anatomy.told.benches import for_benches
from fingertight.anatomy.told.names import FIELDS, known_again, with_ids
from fingertight.anatomy.write import written
from tests.anatomy.change.test_by_forms import MACHINES

COVER: dict[str, Any] = {
    "id": "cover",
    "behind": ["guard"],
    "minutes": 6,
    "held_by": [{"thread": "M6", "length": 28, "count": 6, "torque": 10}, {"kind": "clip"}],
    "with": [{"name": "dowel", "count": 2}],
    "ask": [{"question": "Both in?", "answers": ["yes", "no"], "right": "yes"}],
    "ways": [["fan"]],
}


def pump(*parts: dict[str, Any], **more: Any) -> Anatomy:
    """A pump of a guard, a fan and these parts."""
    said = {"format": 1, "machine": {"name": "Pump"}, "part": [{"id": "guard"}, {"id": "fan"}, *parts], **more}
    return Anatomy.model_validate(said)


def changed(**keys: Any) -> Anatomy:
    """The pump with its cover changed so."""
    return pump(COVER | keys)


@pytest.mark.parametrize(
    ("keys", "sentences"),
    [
        (
            {"held_by": [{"thread": "M6", "length": 28, "count": 6, "torque": 12}, {"kind": "clip"}]},
            ("Cover, 6 × M6x28: torque 12 N·m, was 10 N·m.",),
        ),
        (
            {"held_by": [{"thread": "M6", "length": 25, "count": 6, "torque": 10}, {"kind": "clip"}]},
            ("Cover, 6 × M6x28: length 25 mm, was 28 mm.",),
        ),
        ({"held_by": COVER["held_by"][:1]}, ("Cover: held by clip no more.",)),
        ({"held_by": [*COVER["held_by"], {"thread": "M8"}]}, ("Cover: held by M8 too now.",)),
        ({"held_by": COVER["held_by"][::-1]}, ("Cover: its fasteners stand in another order.",)),
        ({"with": [{"name": "dowel", "count": 3}]}, ("Cover, dowel: count 3, was 2.",)),
        (
            {"with": [{"name": "shim"}]},
            ("Cover: 1 × shim in its bag now.", "Cover: 2 × dowel in its bag no more."),
        ),
        (
            {"ask": [{"question": "Both in?", "answers": ["yes", "no"], "right": "no"}]},
            ("Cover, “Both in?”: right “no”, was “yes”.",),
        ),
        ({"ask": []}, ("Cover: asks “Both in?” no more.",)),
        (
            {"ways": [["fan"], ["guard", "fan"]]},
            ("Cover: way out by Fan with Guard now.",),
        ),
        ({"stays": True}, ("Cover: stays yes, was no.",)),
        ({"care": "x" * 70 + "y"}, (f"Cover: care “{'x' * 59}…”, was not said.",)),
    ],
)
def test_what_holds_a_part_and_lies_with_it_is_told_thing_by_thing(
    keys: dict[str, Any], sentences: tuple[str, ...]
) -> None:
    assert difference(pump(COVER), changed(**keys)) == sentences


def test_of_two_long_texts_the_place_where_they_differ_is_shown() -> None:
    long = "Keep it face up on a clean cloth, away from the edge, and let nothing lie upon it, then cover it with "
    (said,) = difference(changed(care=f"{long}paper"), changed(care=f"{long}a rag"))
    assert "a rag”, was “…" in said
    assert said.endswith("paper”.")


def test_a_part_under_another_id_is_known_again_and_is_told_once() -> None:
    old = pump(COVER, {"id": "shaft", "behind": ["cover"]})
    new = pump(COVER | {"id": "side-cover", "name": "Cover"}, {"id": "shaft", "behind": ["side-cover"]})
    assert known_again(old, new) == {"part": {"cover": "side-cover"}}
    assert difference(old, new) == ("Cover: its id is side-cover now, was cover.", "Cover: name “Cover”, was not said.")
    assert for_benches(old, new)[-1] == (
        "A log that names the part cover cannot be read with the new file: its bench keeps the old one."
    )


def test_two_parts_that_say_next_to_nothing_are_not_taken_for_each_other() -> None:
    assert difference(pump({"id": "nut"}), pump({"id": "lid"})) == ("Nut: this part is gone.", "Lid: a new part.")


@settings(deadline=None, max_examples=25)
@given(st.sampled_from(sorted(MACHINES)), st.data())
def test_every_id_may_be_another_and_the_file_still_fits_together(name: str, data: st.DataObject) -> None:
    old = MACHINES[name]
    ids = {kind: {one.id: f"x-{one.id}" for one in getattr(old, many)} for kind, many in FIELDS.items()}
    kinds = data.draw(st.sets(st.sampled_from(sorted(ids)), min_size=1))
    chosen = {kind: {was: new for was, new in ids[kind].items() if data.draw(st.booleans())} for kind in sorted(kinds)}
    said = with_ids(old.model_dump(by_alias=True, exclude_defaults=True), chosen)
    new = Anatomy.model_validate(said, by_alias=True, by_name=False)
    assert not read(written(new)).mistakes
    many = sum(len(one) for one in chosen.values())
    back = with_ids(said, {kind: {new: was for was, new in one.items()} for kind, one in chosen.items()})
    assert Anatomy.model_validate(back, by_alias=True, by_name=False) == old
    named = [one for one in difference(old, new) if "its id is" in one]
    assert len(named) == many


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        (pump(COVER), changed(behind=["guard", "fan"]), "Cover comes off after guard and fan; and fan now"),
        (pump(COVER), changed(ways=[]), "Cover comes off after guard now; before, it waited for guard; and fan."),
        (pump(COVER), changed(stays=True), "Cover never comes off now."),
        (pump(COVER), changed(fit_after=["fan"]), "Cover goes on after fan is on; before, it waited so for nothing."),
        (pump(COVER), pump(COVER, {"id": "cap"}), "Cap is new: it counts as still on"),
        (pump(COVER), changed(**{"with": []}), "The bag of Cover should hold 6 × M6x28, 1 × clip now; before,"),
        (
            pump(COVER),
            changed(held_by=COVER["held_by"][:1]),
            "Cover: a log that names a fastener set of it that is gone",
        ),
        (pump(COVER), changed(places=["left", "right"]), "Cover: a log that names a piece of it that is gone cannot"),
        (pump(COVER), changed(count=2), "Cover is 2 pieces now; before, 1."),
        (
            pump(COVER),
            changed(held_by=[COVER["held_by"][0] | {"torque": 12}, {"kind": "clip"}]),
            "Cover is tightened by the new figures",
        ),
        (
            pump(COVER, check=[{"id": "bore", "max": 2.0}]),
            pump(COVER, check=[{"id": "bore", "max": 2.1}]),
            "Bore is judged by the new figures; readings stay as they were read.",
        ),
        (
            pump(COVER, setting=[{"id": "gap", "range": [1, 2]}]),
            pump(COVER, setting=[{"id": "gap", "range": [1, 3]}]),
            "Gap is judged by the new figures",
        ),
        (pump(COVER, check=[{"id": "bore", "max": 2.0}]), pump(COVER), "A log that names the size bore cannot be read"),
    ],
)
def test_what_a_new_text_means_for_a_job_under_way(old: Anatomy, new: Anatomy, sentence: str) -> None:
    said = [one.replace("Guard", "guard").replace("Fan", "fan") for one in for_benches(old, new)]
    assert [one for one in said if one.startswith(sentence)], said
    assert for_benches(old, old) == for_benches(new, new) == ()


def test_care_and_cautions_change_nothing_for_a_job_under_way() -> None:
    assert for_benches(pump(COVER), changed(care="On cloth", cautions=["Hot"], minutes=9)) == ()
