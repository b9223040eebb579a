"""The forms of a machine, without a screen: each shows what the file says, and changes what was changed and no more."""

import re
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.anatomy.write import rewritten
from fingertight.cards.workshop.edit.attempt import attempt
from fingertight.cards.workshop.edit.fields import Field, texts, usual, values
from fingertight.cards.workshop.edit.form import offered, words_of
from fingertight.cards.workshop.edit.page import edit_card
from fingertight.cards.workshop.edit.place import (
    Place,
    edits_at,
    entry_place,
    left_open,
    new_place,
    part_place,
    path_at,
    said_at,
    shown_at,
    table_place,
)
from fingertight.cards.workshop.edit.sheets import ALONE, FASTENERS, IN_A_PART, MORE, OF_A_MACHINE, PART, Sheet
from tests.conftest import ROOT

TEXTS = {
    name: (ROOT / "examples" / f"{name}.toml").read_text("utf-8")
    for name in ("bench-vice", "hand-winch", "pump-engine")
}
SAID = {name: tomllib.loads(text) for name, text in TEXTS.items()}
SHEETS = {"part": PART, "more": MORE, **{key: sheet for key, (_, sheet) in IN_A_PART.items()}, **OF_A_MACHINE, **ALONE}


def anatomy_of(name: str) -> Anatomy:
    """An example, read."""
    found = read(TEXTS[name]).anatomy
    assert found is not None
    return found


MACHINES = {name: anatomy_of(name) for name in TEXTS}


def places(said: dict[str, Any]) -> Iterator[Place | None]:
    """Every form there is of a machine."""
    for part in said["part"]:
        yield part_place(said, part["id"])
        yield part_place(said, part["id"], more=True)
        for listed, (key, _) in IN_A_PART.items():
            for number in range(1, len(part.get(key, [])) + 1):
                yield entry_place(said, part["id"], listed, str(number))
    for kind in OF_A_MACHINE:
        for one in said.get(kind, ()):
            yield table_place(said, kind, one["id"])
    for kind in ALONE:
        if kind in said:
            yield table_place(said, kind, kind)


def as_shown(name: str, place: Place) -> dict[str, list[str]]:
    """What a browser sends when nothing was touched."""
    card = edit_card("box", MACHINES[name], SAID[name], place)
    typed: dict[str, list[str]] = {}
    for box in (box for group in card.groups for box in group.boxes):
        if box.kind == "tick":
            typed |= {box.key: ["yes"]} if box.inputs[0].text else {}
        elif box.kind == "ticks":
            typed[box.key] = [one.value for one in box.choices if one.is_chosen]
        else:
            typed |= {one.name: [one.text] for one in box.inputs}
    return typed


def told(name: str, place: Place, typed: dict[str, list[str]]) -> dict[str, Any]:
    """What a form changes, where all of it can be read."""
    choices = words_of(offered(place.sheet, MACHINES[name], str(place.id)))
    changed, wrong = values(place.sheet.fields, shown_at(SAID[name], place), typed, choices)
    assert wrong == ()
    return changed


@pytest.mark.parametrize("name", TEXTS)
def test_every_form_of_every_example_sent_untouched_changes_nothing(name: str) -> None:
    found = list(places(SAID[name]))
    assert len(found) > 20
    for place in found:
        assert place is not None
        assert told(name, place, as_shown(name, place)) == {}, place


def other(field: Field, choices: tuple[str, ...], old: Any, usually: str) -> dict[str, list[str]]:
    """Something else than stands there, as it is typed."""
    if field.kind == "tick":
        return {} if old else {field.key: ["yes"]}
    if field.kind == "ticks":
        return {field.key: [one for one in choices if one not in (old or ())][:2]}
    if field.kind in {"choice"}:
        return {field.key: [[one for one in choices if one not in {str(old), usually}][-1]]}
    if field.kind == "gap":
        return {f"{field.key}-outer": [choices[0]], f"{field.key}-inner": [choices[1]]}
    if field.kind == "pair":
        return {f"{field.key}-from": ["1,5"], f"{field.key}-to": ["2.5"]}
    plain = {
        "number": "3,25",
        "whole": "7",
        "numbers": "0.1 0,2",
        "wholes": "2 1",
        "percents": "30 100",
        "pairs": "9 27",
    }
    return {
        field.key: [
            plain.get(field.kind, 'Another "one" # of\n mine' if field.kind == "lines" else 'Another "one" # of mine')
        ]
    }


EVERY_FIELD = [(name, field.key) for name, sheet in SHEETS.items() for field in sheet.fields]


def some_place(name: str, key: str) -> tuple[str, Place]:
    """A form of this sheet somewhere in the examples, one where the key is said already if there is any."""
    sheet = SHEETS[name]
    found = [(machine, place) for machine in TEXTS for place in places(SAID[machine]) if place and place.sheet is sheet]
    said = [(machine, place) for machine, place in found if key in said_at(SAID[machine], place)]
    return (said or found)[0]


@pytest.mark.parametrize(("sheet", "key"), EVERY_FIELD)
def test_each_field_changed_is_what_the_file_says_and_all_remarks_stay(sheet: str, key: str) -> None:
    name, place = some_place(sheet, key)
    field = next(one for one in place.sheet.fields if one.key == key)
    choices = words_of(offered(place.sheet, MACHINES[name], str(place.id)))
    before = said_at(SAID[name], place)
    typed = {**as_shown(name, place)}
    for one in field.names:
        typed.pop(one, None)
    typed |= other(field, choices[key], before.get(key), str(usual(place.sheet.shape, key)))
    changed = told(name, place, typed)
    assert list(changed) == [key]
    after = rewritten(TEXTS[name], edits_at(SAID[name], place, changed))
    there = said_at(tomllib.loads(after), place)
    assert there.get(key) == changed[key] != before.get(key)
    assert {one: value for one, value in there.items() if one != key} == {
        one: value for one, value in before.items() if one != key
    }
    remarks = re.findall("#.*", after.replace(' # of mine"', "").replace("# of", ""))
    gone = [one for one in re.findall("#.*", TEXTS[name]) if one not in remarks]
    assert gone == [] or (changed[key] is None and len(gone) == 1), "only a line that goes takes its own remark along"


def test_every_key_of_the_model_stands_in_one_form_under_a_label_of_its_own() -> None:
    left = {"id", "at", "held_by", "with", "ask", "ways"}  # made from the name, drawn, or lists of their own
    for shape in {sheet.shape for sheet in SHEETS.values()}:
        keys = [field.key for sheet in SHEETS.values() if sheet.shape is shape for field in sheet.fields]
        assert len(keys) == len(set(keys))
        every = {one.alias or key for key, one in shape.model_fields.items()}
        assert every - set(keys) <= left, shape
        assert set(keys) <= every


@pytest.mark.parametrize("name", SHEETS)
def test_no_label_holds_another_and_none_is_a_key(name: str) -> None:
    labels = [f"{field.label} {end}".strip().casefold() for field in SHEETS[name].fields for end in field.ends]
    for one in labels:
        assert [label for label in labels if one in label] == [one]
        assert "_" not in one


def test_what_is_typed_wrongly_is_said_with_its_key() -> None:
    typed = {"thread": ["M6"], "torque": ["ten"], "count": ["2.5"], "head": ["square"], "length": [""]}
    choices = words_of(offered(FASTENERS, MACHINES["bench-vice"]))
    changed, wrong = values(FASTENERS.fields, {}, typed, choices)
    assert changed == {"thread": "M6"}
    assert {one.key: one.sentence for one in wrong} == {
        "torque": "“ten” is not a number; write digits with one decimal mark, for example 68.02.",
        "count": "2.5 is no whole number. Write for example 6.",
        "head": "There is no “square” here. Choose one of the list.",
    }


def test_half_a_range_is_said() -> None:
    sheet: Sheet = OF_A_MACHINE["setting"]
    typed = {"range-from": ["0.3"], "range-to": [""]}
    _, wrong = values(sheet.fields, {}, typed, words_of(offered(sheet, MACHINES["bench-vice"])))
    assert [one.sentence for one in wrong if one.key == "range"] == ["“to” is empty. Fill in both, or neither."]


def test_a_new_form_is_empty_and_the_first_group_is_open() -> None:
    for kind in ("part", *OF_A_MACHINE):
        place = new_place(kind)
        assert place is not None
        card = edit_card("box", MACHINES["bench-vice"], SAID["bench-vice"], place)
        assert card.is_new
        assert card.groups[0].is_open
        assert all(
            one.text == "" or box.kind == "choice" for group in card.groups for box in group.boxes for one in box.inputs
        )


def test_percents_and_pairs_are_shown_as_they_are_read() -> None:
    assert texts(Field("passes", "Rounds", "percents"), [0.07, 0.4, 1.0]) == (("7 40 100",),)
    assert texts(Field("drive", "Drive", "pairs"), [[18, 36], [9, 27]]) == (("18 36\n9 27",),)


VICE = [place for place in places(SAID["bench-vice"]) if place] + [
    place for kind in ("part", *OF_A_MACHINE) if (place := new_place(kind))
]
anything = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        ["", "-1", "0", "1e9", "M6", "M6x28", "2 1", "100 50", "any", "9" * 50, "a\nb", "½", "NaN", "1,2.3"]
    ),
)


@settings(deadline=None, max_examples=50)
@given(st.data())
def test_whatever_is_typed_there_is_an_answer_and_what_is_kept_has_no_mistakes(data: st.DataObject) -> None:
    place = data.draw(st.sampled_from(VICE))
    said, machine, text = SAID["bench-vice"], MACHINES["bench-vice"], TEXTS["bench-vice"]
    typed = dict(as_shown("bench-vice", place))
    choices = words_of(offered(place.sheet, machine, str(place.id)))
    for field in data.draw(st.lists(st.sampled_from(place.sheet.fields), min_size=1, max_size=4)):
        if field.kind == "ticks":
            typed[field.key] = data.draw(st.lists(st.sampled_from([*choices[field.key], "no-such"]), max_size=4))
            continue
        for name in field.names:
            typed[name] = [data.draw(st.one_of(anything, st.sampled_from([*choices[field.key], ""])))]
    changed, wrong = values(place.sheet.fields, shown_at(said, place), typed, choices)
    wrong = (*wrong, *left_open(said, place, changed))
    if wrong:
        assert all(one.sentence.endswith((".", "68.02.")) and one.key for one in wrong)
        return
    outcome = attempt(text, edits_at(said, place, changed), place.sheet, path_at(said, place))
    for trouble in outcome.troubles:
        assert trouble.sentence.endswith(".")
        for offer in trouble.offers:
            again = attempt(text, edits_at(said, place, changed), place.sheet, path_at(said, place), offer.value)
            assert trouble.sentence not in {one.sentence for one in again.troubles}, offer
    if not outcome.troubles:
        assert read(outcome.text).mistakes == ()
    edit_card("box", machine, said, place, typed=typed, troubles=outcome.troubles)
