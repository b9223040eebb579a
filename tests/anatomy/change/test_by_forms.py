"""A form changes a file: only what was changed changes, comments survive, and what changed is said in words."""

import re
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from fingertight.anatomy.change.table import edits_of
from fingertight.anatomy.change.words import difference
from fingertight.anatomy.model import (
    Anatomy,
    Check,
    Engine,
    Instrument,
    MachineTable,
    Part,
    Setting,
    Sign,
)
from fingertight.anatomy.read import read
from fingertight.anatomy.write import rewritten
from fingertight.quantity import plain
from tests.conftest import ROOT

NAMES = ("bench-vice", "hand-winch", "pump-engine")
TEXTS = {name: (ROOT / "examples" / f"{name}.toml").read_text("utf-8") for name in NAMES}


def anatomy_of(text: str) -> Anatomy:
    """A text without mistakes."""
    found = read(text).anatomy
    assert found is not None
    return found


MACHINES = {name: anatomy_of(text) for name, text in TEXTS.items()}


def comments(text: str) -> list[str]:
    """Everything behind a # that stands in no string, line by line (the examples have no # in their strings)."""
    return re.findall(r"#.*", text)


words = st.text("abc äß'\"\\é", min_size=1, max_size=12).map(str.strip).filter(bool)


@st.composite
def forms(draw: st.DrawFn) -> tuple[str, str, dict[str, Any]]:
    """Some part of some example machine, and what a form changes of it: key by key, None for no longer said."""
    name = draw(st.sampled_from(NAMES))
    part = draw(st.sampled_from(MACHINES[name].parts))
    others = [other.id for other in MACHINES[name].parts if other.id != part.id]
    fields: dict[str, st.SearchStrategy[Any]] = {
        "name": words,
        "behind": st.lists(st.sampled_from(others), unique=True, min_size=1, max_size=3),
        "stays": st.sampled_from([True, None]),
        "minutes": st.one_of(st.none(), st.sampled_from([0.5, 2.0, 12.25])),
        "tools": st.lists(words, min_size=1, max_size=2),
        "cautions": st.one_of(st.none(), st.lists(words, min_size=1, max_size=3)),
        "care": st.one_of(st.none(), words),
        "fit": st.one_of(st.none(), words),
    }
    chosen = draw(st.lists(st.sampled_from(sorted(fields)), unique=True, max_size=4))
    return name, part.id, {field: draw(fields[field]) for field in chosen}


def said_of(text: str, part: str) -> dict[str, Any]:
    """What the file says of a part."""
    return next(one for one in tomllib.loads(text)["part"] if one["id"] == part)


@settings(deadline=None, max_examples=15)
@given(forms())
def test_the_file_says_what_the_form_says_and_nothing_else_and_the_way_back_is_the_old_file(
    form: tuple[str, str, dict[str, Any]],
) -> None:
    name, part, said = form
    was = said_of(TEXTS[name], part)
    changed = rewritten(TEXTS[name], edits_of("part", part, was, said))
    before, after = tomllib.loads(TEXTS[name]), tomllib.loads(changed)
    now = said_of(changed, part)
    assert now == {key: value for key, value in {**was, **said}.items() if value is not None}
    others = [[one for one in whole["part"] if one["id"] != part] for whole in (before, after)]
    assert others[0] == others[1]
    assert {key: value for key, value in before.items() if key != "part"} == {
        key: value for key, value in after.items() if key != "part"
    }
    back = rewritten(changed, edits_of("part", part, now, {key: was.get(key) for key in said}))
    assert tomllib.loads(back) == before


def test_a_form_that_changes_nothing_leaves_the_file_byte_for_byte() -> None:
    for name, machine in MACHINES.items():
        for part in machine.parts:
            was = said_of(TEXTS[name], part.id)
            assert edits_of("part", part.id, was, was) == ()
        assert rewritten(TEXTS[name], ()) == TEXTS[name]


def test_every_comment_of_the_file_is_still_there() -> None:
    was = said_of(TEXTS["pump-engine"], "exhaust")
    said = {"behind": [*was["behind"], "fuel-tank"], "minutes": 9.0, "cautions": ["Hot"]}
    changed = rewritten(TEXTS["pump-engine"], edits_of("part", "exhaust", was, said))
    assert comments(changed) == comments(TEXTS["pump-engine"])


def test_a_change_is_told_in_words() -> None:
    engine = MACHINES["pump-engine"]
    exhaust = engine.part_by_id["exhaust"]
    was = said_of(TEXTS["pump-engine"], "exhaust")
    edits = edits_of("part", "exhaust", was, {"behind": ["fuel-tank"], "minutes": 9.0})
    changed = anatomy_of(rewritten(TEXTS["pump-engine"], edits))
    told = difference(engine, changed)
    gone = [f"Exhaust: {engine.part_by_id[other].title} must come off before it no more." for other in exhaust.behind]
    was = "not said" if exhaust.minutes is None else plain(exhaust.minutes)
    assert sorted(told) == sorted(
        ["Exhaust: Fuel tank must come off before it now.", *gone, f"Exhaust: minutes 9, was {was}."]
    )
    assert difference(engine, engine) == ()


FULL: dict[str, Any] = {
    "format": 1,
    "machine": {"name": "Pump", "about": "a", "source": "s", "rests": ["up"]},
    "engine": {"bore": 68},
    "instrument": [{"id": "rule", "resolution": 0.5}],
    "part": [{"id": "lid"}, {"id": "nut"}],
    "check": [{"id": "bore", "part": "lid", "max": 2.0, "instrument": "rule"}],
    "setting": [{"id": "gap", "range": [1, 2]}],
    "sign": [{"id": "safe", "stage": "strip", "before": ["lid"]}],
}
MODELS: dict[str, type[BaseModel]] = {
    "machine": MachineTable, "engine": Engine, "instruments": Instrument, "parts": Part, "checks": Check,
    "settings": Setting, "signs": Sign,
}  # fmt: skip
EVERY_KEY = [(table, key) for table, model in MODELS.items() for key in model.model_fields if key != "id"]


@pytest.mark.parametrize(("table", "key"), EVERY_KEY)
def test_no_key_of_a_machine_file_changes_without_a_word(table: str, key: str) -> None:
    """Whatever the value: it is put in without being looked at, so that a key to come is told too."""
    old = Anatomy.model_validate(FULL)
    one = getattr(old, table)
    one = one[0] if isinstance(one, tuple) else one
    changed = one.model_copy(update={key: "something else entirely"})
    whole = (changed, *getattr(old, table)[1:]) if isinstance(getattr(old, table), tuple) else changed
    told = difference(old, old.model_copy(update={table: whole}))
    assert len(told) == 1, told


def test_what_is_new_gone_or_in_another_order_is_told() -> None:
    old = Anatomy.model_validate(FULL)
    more = old.model_copy(update={"parts": (*old.parts, Part(id="cap"))})
    assert difference(old, more) == ("Cap: a new part.",)
    assert difference(more, old) == ("Cap: this part is gone.",)
    assert difference(old, old.model_copy(update={"parts": old.parts[::-1]})) == ("The parts stand in another order.",)
