"""The small edits of a machine file and their inverses: done and undone reads as before; remarks elsewhere stay."""

import difflib
import re
import tomllib
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.anatomy.change.edits import inverse, inverses
from fingertight.anatomy.write import (
    AddTable,
    AppendTo,
    CannotEdit,
    Edit,
    RemoveEntry,
    RemoveKey,
    RemoveTable,
    SetKey,
    rewritten,
)
from tests.conftest import ROOT

TEXTS = {
    name: (ROOT / "examples" / f"{name}.toml").read_text("utf-8")
    for name in ("bench-vice", "hand-winch", "pump-engine")
}
SAID = {name: tomllib.loads(text) for name, text in TEXTS.items()}
KINDS = ("instrument", "part", "check", "setting", "sign")

BOX = """\
format = 1

[machine]
name = "Box"

# ---- the outside

[[part]]
# the lid comes first
id = "lid"
behind = [
  "catch",   # it springs
  "pin",     # it falls
  "cord",
]
with = [{ name = "dowel", count = 2 }, { name = "gasket" }]

  # the four at the corners
  [[part.held_by]]
  thread = "M6"      # four of them

  # the long one
  [[part.held_by]]
  thread = "M8"
  length = 40

# ---- the inside

[[part]]
id = "catch"

[[part]]
id = "pin"

# ---- the rest

[[part]]
id = "cord"
"""


def lines(text: str, *edits: Edit) -> list[str]:
    """The lines that these edits take out (-) and put in (+)."""
    after = rewritten(text, edits)
    return [line for line in difflib.ndiff(text.splitlines(), after.splitlines()) if line[0] in "-+"]


def test_one_key_of_one_fastener_set_is_changed_and_its_remark_stays() -> None:
    assert lines(BOX, SetKey("part", "lid", "thread", "M5", inside=("held_by", 0))) == [
        '-   thread = "M6"      # four of them',
        '+   thread = "M5"      # four of them',
    ]


def test_a_new_key_stands_with_the_others_and_not_behind_the_remark_that_follows() -> None:
    after = rewritten(
        BOX, [SetKey("part", "lid", "torque", 9.5, inside=("held_by", 1)), SetKey("part", "pin", "count", 2)]
    )
    assert "  length = 40\n  torque = 9.5\n\n# ---- the inside\n" in after
    assert 'id = "pin"\ncount = 2\n\n# ---- the rest\n' in after


def test_a_small_thing_is_changed_within_its_brackets() -> None:
    assert lines(BOX, SetKey("part", "lid", "count", 4, inside=("with", 0))) == [
        '- with = [{ name = "dowel", count = 2 }, { name = "gasket" }]',
        '+ with = [{ name = "dowel", count = 4 }, { name = "gasket" }]',
    ]


def test_an_entry_is_taken_out_of_a_list_and_the_others_keep_their_remarks() -> None:
    after = rewritten(BOX, [RemoveEntry("part", "lid", "behind", 1)])
    assert "# it springs" in after
    assert "# it falls" not in after
    assert tomllib.loads(after)["part"][0]["behind"] == ["catch", "cord"]


def test_a_fastener_set_is_taken_out_and_the_remarks_around_it_stay() -> None:
    after = rewritten(BOX, [RemoveEntry("part", "lid", "held_by", 1)])
    assert tomllib.loads(after)["part"][0]["held_by"] == [{"thread": "M6"}]
    assert "# ---- the inside" in after
    assert tomllib.loads(rewritten(after, [RemoveEntry("part", "lid", "held_by", 0)]))["part"][0].get("held_by") is None


def test_a_part_is_taken_out_with_its_fasteners_and_the_remarks_around_it_stay() -> None:
    after = rewritten(BOX, [RemoveTable("part", "pin")])
    assert [one["id"] for one in tomllib.loads(after)["part"]] == ["lid", "catch", "cord"]
    assert re.findall("#.*", after) == re.findall("#.*", BOX)
    assert 'id = "catch"\n\n# ---- the rest\n\n[[part]]\nid = "cord"\n' in after


def test_a_new_part_stands_after_the_last_and_before_the_remark_on_what_follows() -> None:
    text = BOX + '\n# ---- sizes\n\n[[check]]\nid = "depth"\npart = "lid"\n'
    after = rewritten(text, [AddTable("part", {"id": "hinge", "held_by": [{"thread": "M4"}]})])
    assert 'id = "cord"\n\n[[part]]\nid = "hinge"\n\n  [[part.held_by]]\n  thread = "M4"\n\n# ---- sizes\n' in after


def test_the_first_fastener_set_of_a_part_gets_a_header_of_its_own() -> None:
    after = rewritten(BOX, [AppendTo("part", "catch", "held_by", {"thread": "M3", "count": 2})])
    assert 'id = "catch"\n\n  [[part.held_by]]\n  thread = "M3"\n  count = 2\n' in after


@pytest.mark.parametrize(
    ("edit", "sentence"),
    [
        (AddTable("part", {"id": "lid"}), "There is a part “lid” already; give this one another id."),
        (RemoveEntry("part", "lid", "behind", 7), "“behind” of the part “lid” has no entry 8 to take out."),
        (RemoveEntry("part", "pin", "behind", 0), "The part “pin” has no “behind” to take out."),
        (SetKey("part", "lid", "torque", 9.0, ("held_by", 5)), "The file has no “part.0.held_by.5” to change."),
        (RemoveTable("part", "handle"), "The file has no part “handle” to change."),
    ],
)
def test_an_edit_that_cannot_be_done_says_why(edit: Edit, sentence: str) -> None:
    with pytest.raises(CannotEdit) as refused:
        rewritten(BOX, [edit])
    assert str(refused.value) == sentence


words = st.text("abc äß'\"\\é#", max_size=12)
values: st.SearchStrategy[Any] = st.one_of(words, st.integers(0, 99), st.booleans(), st.lists(words, max_size=3))


def _tables(
    table: dict[str, Any], inside: tuple[str | int, ...] = ()
) -> list[tuple[tuple[str | int, ...], dict[str, Any]]]:
    """A table and all the tables in its lists, each with the way to it."""
    found = [(inside, table)]
    for key, value in table.items():
        for index, one in enumerate(value if isinstance(value, list) else []):
            if isinstance(one, dict):
                found += _tables(one, (*inside, key, index))
    return found


@st.composite
def edits(draw: st.DrawFn, said: dict[str, Any]) -> Edit:
    """Some edit that can be done on this file."""
    kind = draw(st.sampled_from([kind for kind in KINDS if said.get(kind)]))
    what = draw(st.sampled_from(["set", "remove", "append", "entry", "add", "out"]))
    table = draw(st.sampled_from(said[kind]))
    if what == "add":
        keys = {"id": "brand-new", **draw(st.dictionaries(st.sampled_from(["a", "b"]), values, max_size=2))}
        return AddTable(kind, keys, draw(st.sampled_from([None, 0, len(said[kind]) // 2])))
    if what == "out":
        return RemoveTable(kind, table["id"])
    inside, inner = draw(st.sampled_from(_tables(table)))
    keys_there = sorted(set(inner) - {"id"})
    lists = [key for key in keys_there if isinstance(inner[key], list) and inner[key]]
    if what == "remove" and keys_there:
        return RemoveKey(kind, table["id"], draw(st.sampled_from(keys_there)), inside)
    if what == "append":
        key = draw(st.sampled_from([*lists, "brand-new"]))
        like = inner.get(key, [""])[0]
        value = {"name": draw(words)} if isinstance(like, dict) else draw(words)
        return AppendTo(kind, table["id"], key, value, draw(st.sampled_from([None, 0, 1])), inside)
    if what == "entry" and lists:
        key = draw(st.sampled_from(lists))
        return RemoveEntry(kind, table["id"], key, draw(st.integers(0, len(inner[key]) - 1)), inside)
    plain = [key for key in keys_there if not isinstance(inner[key], list)]
    return SetKey(kind, table["id"], draw(st.sampled_from([*plain, "brand-new"])), draw(values), inside)


@settings(deadline=None, max_examples=50)
@given(st.data())
def test_doing_and_undoing_reads_as_before_and_every_other_remark_stays(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(TEXTS)))
    text, done = TEXTS[name], []
    for _ in range(data.draw(st.integers(1, 3))):
        edit = data.draw(edits(tomllib.loads(text)))
        if isinstance(edit, AddTable) and edit.kind in {one.kind for one in done if isinstance(one, AddTable)}:
            continue
        done.append(edit)
        text = rewritten(text, [edit])
    back = rewritten(text, inverses(TEXTS[name], done))
    assert tomllib.loads(back) == SAID[name]
    gone = [remark for remark in re.findall("#.*", TEXTS[name]) if remark not in text]
    about = [one for one in done if isinstance(one, RemoveTable | RemoveKey | RemoveEntry)]
    assert not gone or about, "only what is taken out takes its own remarks along"


@settings(deadline=None, max_examples=30)
@given(st.data())
def test_the_inverse_of_one_edit_is_one_edit_of_the_same_table(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(sorted(TEXTS)))
    edit = data.draw(edits(SAID[name]))
    back = inverse(TEXTS[name], edit)
    assert back.kind == edit.kind
    assert tomllib.loads(rewritten(rewritten(TEXTS[name], [edit]), [back])) == SAID[name]


def test_a_file_with_line_ends_of_windows_keeps_them() -> None:
    windows = BOX.replace("\n", "\r\n")
    for edit in (
        AddTable("part", {"id": "hinge"}),
        RemoveTable("part", "pin"),
        SetKey("part", "cord", "count", 3),
        AppendTo("part", "lid", "held_by", {"thread": "M3"}),
        RemoveKey("part", "lid", "with"),
    ):
        after = rewritten(windows, [edit])
        assert after == rewritten(BOX, [edit]).replace("\n", "\r\n"), edit
