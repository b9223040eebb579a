"""Which labels a machine needs, and what stands on them."""

import pytest

from fingertight.anatomy import Anatomy, read
from fingertight.cards.labels import Label, labels_in_order, read_code

PUMP = """
format = 1
[machine]
name = "Little pump"
[[part]]
id = "case"
name = "Case"
stays = true
[[part]]
id = "cover"
name = "Cover"
care = "Face up on cloth"
with = [{ name = "dowel", count = 2 }, { name = "cover gasket", single_use = true }]
  [[part.held_by]]
  thread = "M6"
  length = 28
  head = "hex"
  count = 6
[[part]]
id = "follower"
name = "Cam follower"
behind = ["cover"]
places = ["inlet", "exhaust"]
[[part]]
id = "plate"
name = "Friction plate"
count = 5
behind = ["cover"]
  [[part.held_by]]
  kind = "circlip"
"""


@pytest.fixture(scope="module")
def pump() -> Anatomy:
    reading = read(PUMP)
    assert reading.anatomy is not None, reading.mistakes
    return reading.anatomy


def test_a_machine_gets_one_label_a_piece_in_order_of_removal_and_none_for_what_stays(pump: Anatomy) -> None:
    labels = labels_in_order(pump, ["case", "cover", "plate", "follower"])
    assert [(label.bag, label.part, label.title, label.place) for label in labels] == [
        ("1", "cover", "Cover", None),
        ("2", "plate", "Friction plate", None),
        ("3", "follower", "Cam follower", "inlet"),
        ("4", "follower", "Cam follower", "exhaust"),
    ]


def test_a_label_says_what_is_counted_in_its_bag_and_how_the_part_is_kept(pump: Anatomy) -> None:
    cover, inlet, exhaust, plate = labels_in_order(pump, ["cover", "follower", "plate"])
    assert cover.holds == ("6 × M6x28", "2 × dowel", "1 × cover gasket")
    assert cover.care == "Face up on cloth"
    assert inlet.holds == exhaust.holds == ()
    assert plate.holds == ("5 × Friction plate", "5 × circlip")


def test_what_this_machine_lacks_gets_no_label_and_leaves_no_number_out(pump: Anatomy) -> None:
    assert [(label.bag, label.part) for label in labels_in_order(pump, ["cover", "plate"])] == [
        ("1", "cover"),
        ("2", "plate"),
    ]


def test_the_code_of_each_label_names_its_own_bag(pump: Anatomy) -> None:
    labels = labels_in_order(pump, ["cover", "follower", "plate"])
    assert [read_code(label.code).bag for label in labels] == [label.bag for label in labels]
    assert len({read_code(label.code).machine for label in labels}) == 1


def test_bags_of_two_benches_with_the_same_machine_are_told_apart(pump: Anatomy) -> None:
    (first, *_), (second, *_) = labels_in_order(pump, ["cover"], "bench 1"), labels_in_order(pump, ["cover"], "bench 2")
    assert (first.machine, second.machine) == ("Little pump, bench 1", "Little pump, bench 2")
    assert first.code != second.code


def test_a_label_never_changes_once_made(pump: Anatomy) -> None:
    (label,) = labels_in_order(pump, ["cover"])
    assert isinstance(label, Label)
    with pytest.raises(AttributeError):
        label.bag = "2"  # type: ignore[misc]
