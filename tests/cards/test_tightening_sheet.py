"""What stands on the tightening sheet of a machine: which sets, in which order, in which units, and what is said."""

import tomllib
from pathlib import Path

import pytest

from fingertight.anatomy import Anatomy, read
from fingertight.cards.tighten.sheet import TighteningSheetCard, TorquedSet, tightening_sheet

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
HASH = "0123456789abcdef" * 4
# One of each in N·m: NIST SP 811 (2008), appendix B.8, "Moment of force or torque": pound-force foot 1.355 818,
# pound-force inch 1.129 848 E-01, kilogram-force meter 9.806 65 (exact).
IN_NM = {"lb·ft": 1.355818, "lb·in": 0.1129848, "kgf·m": 9.80665}

COVER = """
format = 1
[machine]
name = "Little pump"
source = "Sheet 7 of the school"
[[part]]
id = "lid"
behind = ["cover"]
places = ["inlet", "outlet"]
cautions = ["Sharp edge"]
  [[part.held_by]]
  thread = "M8"
  length = 20
  grip = 8
  head = "socket"
  grade = "12.9"
  torque = 30
  torque_source = "a table of our own"
  surface = "thread lock"
  left_hand = true
  note = "New one each time"
[[part]]
id = "cover"
  [[part.held_by]]
  thread = "M6"
  length = 28
  grip = 12
  depth = 18
  head = "hex"
  grade = "8.8"
  at = [[-75, 60], [0, 74], [75, 60], [75, -60], [0, -74], [-75, -60]]
  torque = 10
  passes = [0.4, 0.7, 1.0]
  torque_source = "works sheet"
  surface = "oiled"
  [[part.held_by]]
  thread = "M5"
  head = "hex nut"
  count = 3
  torque = 5
  [[part.held_by]]
  thread = "M6"
  head = "wing nut"
  note = "Fingers only"
  [[part.held_by]]
  kind = "clip"
[[part]]
id = "foot"
count = 4
  [[part.held_by]]
  thread = "1/4-20 UNC"
  length = 19.05
  head = "hex"
  torque = 7
  torque_source = "works sheet"
[[part]]
id = "case"
stays = true
  [[part.held_by]]
  thread = "M10"
  head = "hex"
  torque = 45
  torque_source = "works sheet"
"""


def _machine(text: str) -> Anatomy:
    reading = read(text)
    assert reading.anatomy is not None, reading.mistakes
    return reading.anatomy


@pytest.fixture(scope="module")
def sheet() -> TighteningSheetCard:
    return tightening_sheet(_machine(COVER), HASH)


def _one(sheet: TighteningSheetCard, part: str, number: int = 0) -> TorquedSet:
    (found,) = (one for one in sheet.sets if (one.part, one.set) == (part, number))
    return found


@pytest.mark.parametrize("machine", EXAMPLES, ids=lambda path: path.stem)
def test_every_set_with_a_torque_stands_on_the_sheet_exactly_once(machine: Path) -> None:
    text = machine.read_text("utf-8")
    wanted = [
        (part["id"], number, fasteners["torque"])
        for part in tomllib.loads(text)["part"]
        for number, fasteners in enumerate(part.get("held_by", []))
        if "torque" in fasteners
    ]
    assert len(wanted) >= 3
    sheet = tightening_sheet(_machine(text), HASH)
    assert sorted((one.part, one.set, one.torque_nm) for one in sheet.sets) == sorted(wanted)


@pytest.mark.parametrize("machine", EXAMPLES, ids=lambda path: path.stem)
def test_each_scale_reads_what_the_published_factors_give(machine: Path) -> None:
    for one in tightening_sheet(_machine(machine.read_text("utf-8")), HASH).sets:
        for unit, factor in IN_NM.items():
            exact = one.torque_nm / factor
            step = 0.0005 if exact < 1 else 0.005 if exact < 10 else 0.05 if exact < 100 else 0.5
            assert float(one.reads[unit]) == pytest.approx(exact, abs=step * 1.001), (one.title, unit)
            assert one.in_units[unit] == pytest.approx(exact, rel=1e-6), (one.title, unit)
        assert float(one.reads["N·m"]) == one.in_units["N·m"] == one.torque_nm


def test_parts_come_in_the_order_of_the_rebuild_and_what_stays_is_on_before_them(sheet: TighteningSheetCard) -> None:
    order = list(dict.fromkeys(one.part for one in sheet.sets))
    assert order[0] == "case"
    assert order.index("lid") < order.index("cover")


def test_a_machine_that_cannot_be_stripped_has_its_sheet_in_the_order_of_the_file() -> None:
    ringed = COVER.replace('id = "cover"', 'id = "cover"\nbehind = ["lid"]')
    found = tightening_sheet(_machine(ringed), HASH)
    assert [(one.part, one.set) for one in found.sets] == [
        ("lid", 0), ("cover", 0), ("cover", 1), ("foot", 0), ("case", 0),
    ]  # fmt: skip


def test_a_pass_is_its_share_of_the_torque_without_specks(sheet: TighteningSheetCard) -> None:
    passes = _one(sheet, "cover").passes
    assert [(each.share, each.torque_nm, each.says) for each in passes] == [(0.4, 4, "4"), (0.7, 7, "7"), (1, 10, "10")]


def test_the_second_bolt_of_a_cover_lies_opposite_the_first_and_the_picture_has_the_same_numbers(
    sheet: TighteningSheetCard,
) -> None:
    # Crosswise: the second opposite the first, as in every order of ASME PCC-1 (2013), cross pattern, from memory.
    cover = _one(sheet, "cover")
    at = [(-75, 60), (0, 74), (75, 60), (75, -60), (0, -74), (-75, -60)]
    (x, y), (other_x, other_y) = (at[position - 1] for position in cover.order[:2])
    assert (other_x, other_y) == (-x, -y)
    assert sorted(cover.order) == [1, 2, 3, 4, 5, 6]
    assert cover.picture is not None
    assert [cover.picture.dots[position - 1].number for position in cover.order] == [1, 2, 3, 4, 5, 6]


def test_a_set_says_what_it_is_and_what_turns_it(sheet: TighteningSheetCard) -> None:
    # M6 has 10 mm and M10 16 mm across flats (ISO 4014, table 1), an M5 nut 8 mm (ISO 4032, table 1), an M8 socket
    # head a 6 mm key (ISO 4762, table 1), the 1/4 in hexagon cap screw 7/16 in (ASME B18.2.1, table 2).
    said = {(one.part, one.set): (one.count, one.name, one.turned_by) for one in sheet.sets}
    assert said == {
        ("case", 0): (1, "1 × M10 bolt", "16 mm spanner"),
        ("lid", 0): (1, "1 × M8x20 bolt, 12.9", "6 mm key"),
        ("cover", 0): (6, "6 × M6x28 bolts, 8.8", "10 mm spanner"),
        ("cover", 1): (3, "3 × M5 nuts", "8 mm spanner"),
        ("foot", 0): (1, "1 × 1/4-20 UNC x 3/4 in bolt", "7/16 in spanner"),
    }


@pytest.mark.parametrize(
    ("thread", "length", "called"),
    [
        # An inch is 25.4 mm (NIST SP 811, appendix B.8); inch bolts come in eighths, short ones in sixteenths.
        ("1/4-20 UNC", 25.4, "1/4-20 UNC x 1 in"),
        ("3/8-24 UNF", 31.75, "3/8-24 UNF x 1 1/4 in"),
        ("1/4 BSW", 15.9, "1/4 BSW x 5/8 in"),
        ("1/4-20 UNC", 22.2, "1/4-20 UNC x 7/8 in"),
        ("1/4-20 UNC", 20, "1/4-20 UNCx20"),
        ("1/4-20 UNC", 35, "1/4-20 UNCx35"),
        ("M6", 25.4, "M6x25.4"),
    ],
)
def test_the_length_of_an_inch_bolt_is_a_fraction_of_an_inch_where_it_is_one(
    thread: str, length: float, called: str
) -> None:
    said = COVER.replace('"1/4-20 UNC"\n  length = 19.05', f'"{thread}"\n  length = {length}')
    assert said != COVER
    assert _one(tightening_sheet(_machine(said), HASH), "foot").name == f"1 × {called} bolt"


def test_counts_keep_the_name_they_have() -> None:
    foot = _machine(COVER).part_by_id["foot"]
    assert foot.held_by[0].counted_as == "1/4-20 UNCx19.05"


def test_matched_and_alike_pieces_stand_there_once_with_each(sheet: TighteningSheetCard) -> None:
    assert sorted((one.title, one.each) for one in sheet.sets if one.each) == [
        ("Foot", "each of 4"),
        ("Lid", "each: inlet and outlet"),
    ]


def test_what_to_mind_is_said_and_the_other_way_of_turning_first(sheet: TighteningSheetCard) -> None:
    assert _one(sheet, "lid").minds == (
        "Left-hand thread: turn anticlockwise to tighten.",
        "Thread lock on the threads.",
        "Goes 12 mm into its thread.",
        "New one each time.",
        "Torque: a table of our own.",
    )
    assert _one(sheet, "cover").minds == ("Threads oiled.", "Goes 16 mm into 18 mm of thread.")
    assert _one(sheet, "lid").cautions == ("Sharp edge",)


def test_a_torque_without_a_source_does_not_borrow_the_usual_one(sheet: TighteningSheetCard) -> None:
    assert _one(sheet, "cover", 1).minds == (
        "No positions are known, so no order is drawn.",
        "Torque: nothing says where it comes from.",
    )
    assert sheet.lead[:2] == ("Figures: Sheet 7 of the school.", "Torques, where nothing else is said: works sheet.")


def test_a_machine_without_any_source_says_so() -> None:
    bare = _machine(
        'format = 1\n[machine]\nname = "P"\n[[part]]\nid = "a"\n[[part.held_by]]\nthread = "M6"\ntorque = 9'
    )
    assert tightening_sheet(bare, HASH).lead[:2] == (
        "Nothing says where the figures come from.",
        "No torque says where it comes from.",
    )


def test_a_given_order_without_positions_is_said_in_words() -> None:
    given = COVER.replace("count = 3\n", 'count = 3\n  pattern = "given"\n  order = [2, 3, 1]\n')
    found = _one(tightening_sheet(_machine(given), HASH), "cover", 1)
    assert found.order == (2, 3, 1)
    assert found.minds[0] == "Order, as the file counts them: 2, 3, 1."


def test_a_thread_without_a_torque_is_tightened_by_hand_or_by_feel(sheet: TighteningSheetCard) -> None:
    assert [(one.part, one.set, one.name) for one in sheet.by_hand] == [("cover", 2, "1 × M6 nut")]
    assert sheet.rest == ("Cover: 1 × M6 nut (Fingers only)",)


def test_the_trade_comes_first_and_fingers_before_the_wrench(sheet: TighteningSheetCard) -> None:
    assert sheet.lead[2:] == (
        "Makers’ data, the workshop’s rules, local law and licensed practice come first.",
        "Finger-tight all round first; passes in the numbered order; a last round at the full torque.",
    )


def test_an_old_print_is_known_by_the_first_twelve_digits_of_the_hash(sheet: TighteningSheetCard) -> None:
    assert sheet.text_sha256 == "0123456789ab"
    assert sheet.file == ""


def test_a_machine_without_torques_has_no_sheet_and_says_what_to_write() -> None:
    bare = tightening_sheet(_machine('format = 1\n[machine]\nname = "Box"\n[[part]]\nid = "lid"'), HASH)
    assert bare.is_no
    assert bare.says_no == (
        "No fastener set of Box states a torque. Write torque (in N·m) and torque_source under its held_by."
    )
