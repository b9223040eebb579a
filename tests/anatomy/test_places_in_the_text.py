"""A mistake points at the line and the letter where it stands."""

import pytest

from fingertight.anatomy import Positions
from fingertight.anatomy.mistakes import Path

TEXT = """\
# a remark first
title = "é" # then one after
"quoted key" . inner = 1

[machine]
name = "Größe"; about = 3

[[part]]
id = "cover"      # the lid
with = [{ name = "ö", count = 2 }, { name = "dowel" }]   # remark
behind = [        # on several lines
  "fan",          # one
  "guard",
]

  [[part.held_by]]
  at = [[1, 2],
        [3, 4]]

[[part.held_by]]
thread = "M6"

[[part]]
[part.odd.deep]
x = 1
[[part.held_by]]
thread = "M8"
""".replace("; about = 3", "")


@pytest.mark.parametrize(
    ("path", "place"),
    [
        (("title",), (2, 1)),
        (("quoted key", "inner"), (3, 1)),
        (("machine",), (5, 1)),
        (("machine", "name"), (6, 1)),
        (("part", 0), (8, 1)),
        (("part", 0, "id"), (9, 1)),
        (("part", 0, "with", 0, "name"), (10, 11)),
        (("part", 0, "with", 0, "count"), (10, 23)),
        (("part", 0, "with", 1, "name"), (10, 38)),
        (("part", 0, "behind", 0), (12, 3)),
        (("part", 0, "behind", 1), (13, 3)),
        (("part", 0, "held_by", 0), (16, 3)),
        (("part", 0, "held_by", 0, "at", 1, 1), (18, 13)),
        (("part", 0, "held_by", 1, "thread"), (21, 1)),
        (("part", 1), (23, 1)),
        (("part", 1, "odd", "deep", "x"), (25, 1)),
        (("part", 1, "held_by", 0, "thread"), (27, 1)),
    ],
)
def test_every_key_table_and_entry_has_its_line_and_column(path: Path, place: tuple[int, int]) -> None:
    assert Positions(TEXT).at(path) == place


def test_what_does_not_stand_there_is_placed_at_the_table_around_it() -> None:
    positions = Positions(TEXT)
    assert positions.at(("part", 1, "name")) == (23, 1)
    assert positions.at(("check", 0, "id")) == (1, 1)


def test_a_misspelt_key_is_found_under_the_name_it_was_meant_to_have() -> None:
    positions = Positions('[[parts]]\nbehnd = ["fan"]\n')
    positions.meant(("part",), ("parts",))
    positions.meant(("part", 0, "behind"), ("part", 0, "behnd"))
    assert positions.at(("part", 0, "behind", 0)) == (2, 10)
