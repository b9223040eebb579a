"""The pictures as numbers: nothing is left out, nothing touches, and the words say the same."""

from itertools import combinations
from math import dist, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.anatomy.model import FastenerSet
from fingertight.cards.pictures.bars import bar
from fingertight.cards.pictures.bolts import bolt_picture
from fingertight.cards.pictures.rings import MOST_RINGS, RADIUS, banded, ring_picture

LAYERS = st.lists(st.lists(st.uuids().map(str), min_size=1, max_size=12), min_size=1, max_size=25)


@given(LAYERS)
def test_rings_hold_every_part_once_and_never_one_outside_what_frees_it(layers: list[list[str]]) -> None:
    rings = banded(layers)
    assert len(rings) <= MOST_RINGS
    assert [part for ring in rings for part in ring] == [part for layer in layers for part in layer]


@given(LAYERS)
def test_every_part_has_its_sector_within_the_circle(layers: list[list[str]]) -> None:
    parts = [part for layer in layers for part in layer]
    picture = ring_picture(layers, {part: part[:12] for part in parts}, dict.fromkeys(parts, "on"), "All on.")
    assert [sector.part for sector in picture.sectors] == parts
    for sector in picture.sectors:
        assert 0 <= sector.inner < sector.outer <= RADIUS
        assert hypot(sector.text_x, sector.text_y) <= RADIUS
        assert bool(sector.outline) != (sum(sector.outer == other.outer for other in picture.sectors) == 1)


def test_a_long_name_is_cut_with_a_mark_and_a_short_one_is_whole() -> None:
    crowd = [f"part-{number}" for number in range(20)]
    titles = dict.fromkeys(crowd, "Push rod guide plate with the rocker studs") | {"part-0": "Fan"}
    picture = ring_picture([crowd, ["core"]], titles | {"core": "Core"}, dict.fromkeys([*crowd, "core"], "on"), "")
    assert [line.text for line in picture.sectors[0].lines] == ["Fan"]
    cut = picture.sectors[1].lines
    assert cut[-1].text.endswith("…") or " ".join(line.text for line in cut) == titles["part-1"]


SIX = FastenerSet(thread="M6", at=((-75, 60), (0, 74), (75, 60), (75, -60), (0, -74), (-75, -60)), pattern="across")


def test_six_bolts_are_drawn_where_they_sit_and_loosened_backwards() -> None:
    loosened, tightened = bolt_picture([SIX]), bolt_picture([SIX], tightening=True)
    assert loosened is not None
    assert tightened is not None
    numbers = [dot.number for dot in tightened.dots]
    assert numbers[1] == 1  # the middle of a long side, nearest the centre of the cover
    assert numbers[4] == 2  # the bolt opposite
    assert [dot.number for dot in loosened.dots] == [7 - number for number in numbers]
    first, second = loosened.dots[:2]
    assert first.x < second.x
    assert first.y > second.y  # the second sits higher up; on paper y goes down
    assert loosened.sentence == "6 positions; loosen in the numbered order"


@given(st.lists(st.tuples(st.integers(-200, 200), st.integers(-200, 200)), min_size=2, max_size=12, unique=True))
def test_dots_stay_in_the_picture_and_keep_apart_where_there_is_room(at: list[tuple[int, int]]) -> None:
    picture = bolt_picture([FastenerSet(thread="M6", at=tuple((float(x), float(y)) for x, y in at))])
    assert picture is not None
    assert sorted(dot.number for dot in picture.dots) == list(range(1, len(at) + 1))
    for dot in picture.dots:
        assert 0 <= dot.x <= picture.width
        assert 0 <= dot.y <= picture.height
    closest = min(dist((one.x, one.y), (other.x, other.y)) for one, other in combinations(picture.dots, 2))
    assert picture.dot == 8.0 or closest >= 2 * picture.dot


def test_a_part_without_positions_has_no_picture() -> None:
    assert bolt_picture([FastenerSet(kind="circlip")]) is None


@pytest.mark.parametrize(("value", "where"), [(68.01, "new"), (68.1, "between"), (68.2, "past")])
def test_a_reading_stands_on_the_stretch_it_belongs_to(value: float, where: str) -> None:
    drawn = bar(value, 0.008, (68.0, 68.015), 68.165, past_is_above=True, texts=("v", "s", "68", "68.015", "68.165"))
    stretch = next(one for one in drawn.stretches if one.what == where)
    assert stretch.x <= drawn.value_x <= stretch.x + stretch.width
    assert drawn.low_x < drawn.value_x < drawn.high_x
    assert [(mark.text, mark.row) for mark in drawn.marks] == [("68", 0), ("68.015", 1), ("68.165", 0)]


def test_what_shrinks_is_past_its_limit_on_the_left() -> None:
    drawn = bar(32.0, 0.05, (33.8, 34.4), 32.5, past_is_above=False, texts=("v", "s", "33.8", "34.4", "32.5"))
    past = next(one for one in drawn.stretches if one.what == "past")
    assert past.x <= drawn.value_x <= past.x + past.width
    assert past.x < min(mark.x for mark in drawn.marks if mark.text != "32.5")
