"""What is said of logs that a new text could not be read for, beside the reader of entries itself."""

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.told.benches import CANNOT, for_benches
from fingertight.anatomy.told.names import with_ids
from fingertight.ledger.entry import NotAnEntry, read_entry
from fingertight.ledger.plan import Plan
from tests.anatomy.change.test_by_forms import MACHINES

BASE = {"id": "e", "at": "2026-03-05T09:00:00Z", "by": "ada"}


def everything(anatomy: Anatomy) -> Iterator[dict[str, Any]]:
    """An entry of every kind about everything a machine has that an entry can name."""
    for part in Plan(anatomy).parts.values():
        for place in part.places:
            piece = {"part": part.id, **({"place": place} if place else {})}
            yield {"kind": "off", **piece, "bag": "1"}
            for number, fasteners in enumerate(part.sets):
                for nth in range(len(fasteners.passes)):
                    yield {"kind": "tighten", **piece, "set": number, "pass": nth, "torque": 1.0, "unit": "N·m"}
        for item in part.small:
            yield {"kind": "lost", "part": part.id, "item": item}
    for check in anatomy.checks:
        if not check.gap:
            yield {"kind": "reading", "check": check.id, "values": [{"value": 1.0}], "unit": check.unit}
    for setting in anatomy.settings:
        said = {"answer": setting.right} if setting.range is None else {"value": 1.0, "unit": setting.unit}
        yield {"kind": "set", "setting": setting.id, **said}
    for sign in anatomy.signs:
        yield {"kind": "sign", "sign": sign.id}


def unreadable(old: Anatomy, new: Anatomy) -> list[dict[str, Any]]:
    """Entries of the old machine that cannot be read for the new one."""
    before, after, found = Plan(old), Plan(new), []
    for said in everything(old):
        read_entry({**BASE, **said}, before)
        try:
            read_entry({**BASE, **said}, after)
        except NotAnEntry:
            found.append(said)
    return found


def one_changed(draw: st.DrawFn, said: dict[str, Any]) -> None:
    """Change one thing of a machine's values."""
    part = draw(st.sampled_from(said["part"]))
    kinds = [kind for kind in ("check", "setting", "sign") if said.get(kind)]
    match draw(st.sampled_from(["held", "pass", "places", "with", "id", "unit", "question", "minutes", "more", "gap"])):
        case "held" if part.get("held_by"):
            part["held_by"] = part["held_by"][:-1]
        case "pass" if part.get("held_by"):
            part["held_by"][0]["passes"] = draw(st.sampled_from([[1.0], [0.5, 1.0], [0.3, 0.6, 1.0]]))
        case "places":
            part.pop("count", None)
            part["places"] = draw(st.sampled_from([["left", "right"], [*part.get("places", []), "spare"], []]))
        case "with" if part.get("with"):
            part["with"] = part["with"][1:]
        case "id":
            kind = draw(st.sampled_from(["part", *kinds]))
            one = draw(st.sampled_from(said[kind]))
            said.update(with_ids(said, {kind: {one["id"]: "another"}}))
        case "unit" if said.get("check"):
            one = draw(st.sampled_from(said["check"]))
            one["unit"] = draw(st.sampled_from(["in", "deg", "mm"]))
            one.pop("gap", None)
        case "gap" if len(said.get("check", ())) > 2:
            one, first, second = said["check"][:3]
            one["gap"] = {"outer": first["id"], "inner": second["id"]}
        case "question" if said.get("setting"):
            one = draw(st.sampled_from(said["setting"]))
            if one.pop("range", None) is None:
                for key in ("question", "answers", "right"):
                    one.pop(key, None)
                one["range"] = [1.0, 2.0]
            else:
                one.update(question="Done?", answers=["yes", "no"], right="yes")
        case "more":
            said["part"] = [*said["part"], {"id": "one-more"}]
        case _:
            part["minutes"] = 77.0


@st.composite
def two_texts(draw: st.DrawFn) -> tuple[Anatomy, Anatomy]:
    """A machine, and the same with a few things changed."""
    old = MACHINES[draw(st.sampled_from(sorted(MACHINES)))]
    said = old.model_dump(by_alias=True, exclude_defaults=True, mode="json")
    for _ in range(draw(st.integers(1, 3))):
        one_changed(draw, said)
    return old, Anatomy.model_validate(said, by_alias=True, by_name=False)


@settings(deadline=None, max_examples=80)
@given(two_texts())
def test_a_log_is_said_to_be_unreadable_exactly_when_the_reader_refuses_some_entry(
    texts: tuple[Anatomy, Anatomy],
) -> None:
    refused = unreadable(*texts)
    said = [sentence for sentence in for_benches(*texts) if CANNOT in sentence]
    assert bool(refused) == bool(said), (refused[:3], said)


@pytest.mark.parametrize("name", sorted(MACHINES))
def test_the_same_text_refuses_nothing(name: str) -> None:
    assert unreadable(MACHINES[name], MACHINES[name]) == []
