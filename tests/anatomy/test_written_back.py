"""A machine file is changed as a person would: comments and order stay, and only what was asked is different."""

import difflib
import tomllib
from pathlib import Path

import pytest

from fingertight.anatomy import read
from fingertight.anatomy.write import AddTable, AppendTo, CannotEdit, Edit, RemoveKey, SetKey, rewritten
from tests.anatomy.hand_pump import HAND_PUMP

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))

LID = """\
# A lid, and what it hides.
format = 1

[machine]            # the box
name = "Box"

[[part]]
# the lid comes first
id = "lid"           # its short name
behind = ["catch"]   # so far
tools = [
  "soft mallet",     # from the rack
]

  [[part.held_by]]
  thread = "M6"      # four of them

[[part]]
id = "catch"

[[check]]            # checks follow
id = "depth"
part = "lid"
"""


def changes(text: str, *edits: Edit) -> list[str]:
    """The lines that an edit takes out (-) and puts in (+)."""
    after = rewritten(text, edits)
    return [line for line in difflib.ndiff(text.splitlines(), after.splitlines()) if line[0] in "-+"]


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.name for path in EXAMPLES])
def test_a_file_without_edits_stays_as_it_is_to_the_letter(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert rewritten(text, []) == text


def test_there_are_examples_to_read() -> None:
    assert len(EXAMPLES) >= 3


def test_a_value_is_changed_and_its_remark_stays() -> None:
    assert changes(LID, SetKey("part", "lid", "id", "cap")) == [
        '- id = "lid"           # its short name',
        '+ id = "cap"           # its short name',
    ]


def test_a_new_key_goes_into_its_own_table_and_not_into_the_fasteners_below() -> None:
    assert changes(LID, SetKey("part", "lid", "minutes", 6)) == ["+ minutes = 6"]
    assert tomllib.loads(rewritten(LID, [SetKey("part", "lid", "minutes", 6)]))["part"][0]["minutes"] == 6


def test_an_entry_is_added_to_a_list_on_one_line_and_to_one_on_several() -> None:
    assert changes(LID, AppendTo("part", "lid", "behind", "catch-pin")) == [
        '- behind = ["catch"]   # so far',
        '+ behind = ["catch", "catch-pin"]   # so far',
    ]
    after = rewritten(LID, [AppendTo("part", "lid", "tools", "scraper")])
    assert tomllib.loads(after)["part"][0]["tools"] == ["soft mallet", "scraper"]
    assert "# from the rack" in after


def test_a_list_is_made_where_there_is_none() -> None:
    assert changes(LID, AppendTo("part", "catch", "behind", "lid")) == ['+ behind = ["lid"]']


def test_a_fastener_set_is_added_under_its_part() -> None:
    after = tomllib.loads(rewritten(LID, [AppendTo("part", "lid", "held_by", {"thread": "M8", "count": 2})]))
    assert after["part"][0]["held_by"] == [{"thread": "M6"}, {"thread": "M8", "count": 2}]
    assert after["part"][1] == {"id": "catch"}


def test_a_part_is_added_after_the_others_with_its_fasteners() -> None:
    part = {"id": "hinge", "held_by": [{"thread": "M4", "count": 3}]}
    after = rewritten(LID, [AddTable("part", part)])
    assert [one["id"] for one in tomllib.loads(after)["part"]] == ["lid", "catch", "hinge"]
    assert tomllib.loads(after)["part"][2] == part
    assert read(after).mistakes == ()
    assert all(line.startswith("+") for line in changes(LID, AddTable("part", part)))


def test_the_first_of_a_kind_can_be_added() -> None:
    after = rewritten(LID, [AddTable("instrument", {"id": "rule", "resolution": 0.5})])
    assert tomllib.loads(after)["instrument"] == [{"id": "rule", "resolution": 0.5}]


def test_a_key_is_taken_out_and_nothing_else() -> None:
    assert changes(LID, RemoveKey("part", "lid", "behind")) == ['- behind = ["catch"]   # so far']


def test_the_machine_table_has_no_id() -> None:
    assert changes(LID, SetKey("machine", None, "name", "Chest")) == ['- name = "Box"', '+ name = "Chest"']


def test_edits_are_done_one_after_the_other() -> None:
    edits = [
        AddTable("part", {"id": "pin"}),
        SetKey("part", "pin", "minutes", 2),
        AppendTo("part", "pin", "tools", "drift"),
    ]
    assert tomllib.loads(rewritten(LID, edits))["part"][2] == {"id": "pin", "minutes": 2, "tools": ["drift"]}


def test_a_mended_file_has_the_mistake_no_more() -> None:
    wrong = HAND_PUMP.replace("count = 4", "count = 6")
    assert len(read(wrong).mistakes) == 2
    sets = [{"thread": "M6", "length": 28, "count": 6}]
    assert read(rewritten(wrong, [SetKey("part", "cover", "held_by", sets)])).mistakes == ()


def test_a_byte_order_mark_and_line_ends_of_windows_stay() -> None:
    windows = "\ufeff" + LID.replace("\n", "\r\n")
    after = rewritten(windows, [SetKey("machine", None, "name", "Chest")])
    assert after == windows.replace('"Box"', '"Chest"')


@pytest.mark.parametrize(
    ("edit", "sentence"),
    [
        (SetKey("part", "hinge", "minutes", 6), "The file has no part “hinge” to change."),
        (RemoveKey("part", "catch", "behind"), "The part “catch” has no “behind” to take out."),
        (AppendTo("part", "lid", "id", "x"), "“id” of the part “lid” is no list, nothing can be added."),
        (
            AddTable("bolt", {"id": "x"}),
            "There is no [[bolt]] in a machine file; write one of instrument, part, check, setting, sign.",
        ),
    ],
)
def test_an_edit_that_cannot_be_done_is_refused_in_a_sentence(edit: Edit, sentence: str) -> None:
    with pytest.raises(CannotEdit) as refused:
        rewritten(LID, [edit])
    assert str(refused.value) == sentence


def test_a_file_that_is_not_toml_is_not_changed() -> None:
    with pytest.raises(CannotEdit, match="mistakes of its own; mend them first"):
        rewritten("name = Box", [])
