"""What `torques` prints, writes and refuses; what stands on the paper is tested in tests/paper."""

import json
from hashlib import sha256
from pathlib import Path

import jsonschema
import pypdfium2
import pytest

from tests.cli.conftest import HAND_PUMP, Typing

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
VICE = "examples/bench-vice.toml"
NO_TORQUE = "No fastener set of Hand pump states a torque. Write torque (in N·m) and torque_source under its held_by.\n"


def vice_hash(root: Path) -> str:
    """What `sha256sum` says of the file, its first 12 digits."""
    return sha256((root / VICE).read_bytes()).hexdigest()[:12]


def test_torques_lists_every_set_with_spanner_torque_passes_and_order(fingertight: Typing, root: Path) -> None:
    screen = fingertight("torques", VICE)
    assert (screen.status, screen.err) == (0, "")
    assert (
        screen.out
        == f"""\
Bench vice, 100 mm jaws: tightening sheet

Figures: Invented for the examples.
Torques, where nothing else is said: invented for the examples, of the usual size for the thread.
Finger-tight all round first; passes in the numbered order; a last round at the full torque.

                                        N·m  lb·ft  lb·in  kgf·m
Body with the fixed jaw
  2 × M12x40 bolts, 8.8  18 mm spanner   60   44.3    531   6.12
    Passes 30 → 60 N·m; order 1, 2, as the file lists the positions.
    Threads oiled. Goes 22 mm into 25 mm of thread.
    Caution: Heavy: two people lift, backs straight, fingers clear of the seat
    Caution: The body can turn as the second bolt comes loose
Nut of the screw
  1 × M8x25 bolt, 8.8    13 mm spanner   22   16.2    195   2.24
    Caution: Tilted vice: hold the body while somebody else reaches in
Jaw plate, each: fixed jaw and moving jaw
  2 × M6x16 screws, 8.8  4 mm key         8    5.9   70.8  0.816
    Passes 4 → 8 N·m; order 1, 2, as the file lists the positions.
    Goes 10 mm into 12 mm of thread.
    Caution: Chips behind the plate are sharp: brush, never fingers

By hand or by feel: Tommy bar: 1 × M8 (One knob unscrews, the other is riveted).

Machine file {vice_hash(root)}.
Makers’ data, the workshop’s rules, local law and licensed practice come first.
"""
    )


@pytest.mark.parametrize("machine", EXAMPLES, ids=lambda path: path.stem)
def test_no_line_is_wider_than_a_screen_and_no_number_is_out_of_line(fingertight: Typing, machine: Path) -> None:
    lines = fingertight("torques", str(machine)).out.splitlines()
    assert max(map(len, lines)) <= 100
    (head,) = (line for line in lines if line.strip().startswith("N·m"))
    sets = [line for line in lines if line.startswith("  ") and line[2].isdigit()]
    assert len(sets) >= 3
    assert {len(line) for line in sets} == {len(head)}


def test_an_inch_bolt_is_called_as_its_box_is_marked(fingertight: Typing) -> None:
    # Three quarters of an inch are 19.05 mm (NIST SP 811, appendix B.8: 1 in = 25.4 mm).
    winch = "examples/hand-winch.toml"
    assert "  4 × 1/4-20 UNC x 3/4 in bolts, SAE grade 2  7/16 in spanner " in fingertight("torques", winch).out


def test_a_name_too_long_for_its_column_leaves_the_numbers_in_line(fingertight: Typing) -> None:
    held = 'thread = "M6"\n  torque = 9\n  spanner = "ring end with a crank of thirty degrees"\n'
    screen = fingertight("torques", "-", sent=HAND_PUMP.replace('thread = "M6"\n', held))
    assert "\n  4 × M6x20 bolts  ring end with a crank of thirty degrees\n" in screen.out
    (head,) = (line for line in screen.out.splitlines() if line.strip().startswith("N·m"))
    (numbers,) = (line for line in screen.out.splitlines() if line.split() == ["9", "6.64", "79.7", "0.918"])
    assert len(head) == len(numbers)


def test_the_answer_for_programs_fits_its_schema_and_lacks_nothing(fingertight: Typing) -> None:
    schema = json.loads(fingertight("schema", "torques").out)
    for machine in EXAMPLES:
        answer = json.loads(fingertight("torques", str(machine), "--json").out)
        jsonschema.validate(answer, schema)
        for key in answer:
            with pytest.raises(jsonschema.ValidationError):
                jsonschema.validate({name: value for name, value in answer.items() if name != key}, schema)
    answer["sets"][0]["torque_nm"] = "a lot"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(answer, schema)


def test_programs_get_numbers_where_people_get_words(fingertight: Typing, root: Path) -> None:
    answer = json.loads(fingertight("torques", VICE, "--json").out)
    body = next(one for one in answer["sets"] if one["part"] == "body")
    assert (body["torque_nm"], body["order"], body["engaged_mm"], body["depth_mm"]) == (60, [1, 2], 22, 25)
    assert body["passes"] == [{"share": 0.5, "torque_nm": 30}, {"share": 1, "torque_nm": 60}]
    # NIST SP 811, appendix B.8: 1 lbf·ft = 1.355 818, 1 lbf·in = 0.112 984 8, 1 kgf·m = 9.806 65 N·m.
    in_units = {"N·m": 60, "lb·ft": 60 / 1.355818, "lb·in": 60 / 0.1129848, "kgf·m": 60 / 9.80665}
    assert body["in_units"] == pytest.approx(in_units, rel=1e-6)
    assert "reads" not in body
    assert [dot["number"] for dot in body["picture"]["dots"]] == [1, 2]
    assert (answer["file"], answer["text_sha256"]) == ("", vice_hash(root))


def test_the_sheet_is_written_whole_and_the_screen_says_what_it_is(
    fingertight: Typing, root: Path, tmp_path: Path
) -> None:
    file = tmp_path / "vice.pdf"
    said = f"{file}: the tightening sheet of Bench vice, 100 mm jaws, 3 fastener sets, A4. Machine file "
    assert fingertight("torques", VICE, "-o", str(file)) == (0, f"{said}{vice_hash(root)}.\n", "")
    assert [path.name for path in tmp_path.iterdir()] == ["vice.pdf"]
    words = pypdfium2.PdfDocument(file.read_bytes())[0].get_textpage().get_text_range()
    assert f"Printed from machine file {vice_hash(root)}" in words
    assert json.loads(fingertight("torques", VICE, "-o", str(file), "--json").out)["file"] == str(file)


def test_line_ends_of_another_system_do_not_make_another_print(fingertight: Typing, root: Path) -> None:
    text = (root / VICE).read_text("utf-8")
    screen = fingertight("torques", "-", sent=text.replace("\n", "\r\n").encode())
    assert f"Machine file {vice_hash(root)}.\n" in screen.out


def test_a_machine_without_torques_has_no_sheet_and_no_file(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "none.pdf"
    assert fingertight("torques", "-", sent=HAND_PUMP) == (1, NO_TORQUE, "")
    assert fingertight("torques", "-", "-o", str(file), sent=HAND_PUMP) == (1, NO_TORQUE, "")
    answer = json.loads(fingertight("torques", "-", "-o", str(file), "--json", sent=HAND_PUMP).out)
    assert (answer["sets"], answer["file"], len(answer["by_hand"])) == ([], "", 1)
    assert not file.exists()


def test_a_machine_file_is_not_written_over_by_a_slip(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "pump.toml"
    file.write_text(HAND_PUMP, "utf-8")
    expected = f"fingertight: --output: {file} is no name of a PDF; write one that ends in .pdf.\n"
    assert fingertight("torques", str(file), "-o", str(file)) == (2, "", expected)
    assert file.read_text("utf-8") == HAND_PUMP


def test_an_older_sheet_is_written_over_and_a_name_that_is_no_pdf_is_not(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "vice.pdf"
    file.write_bytes(b"an older sheet")
    assert fingertight("torques", VICE, "-o", str(file)).status == 0
    assert file.read_bytes().startswith(b"%PDF")


def test_what_cannot_be_read_or_written_is_said(fingertight: Typing, tmp_path: Path) -> None:
    nowhere = tmp_path / "nowhere" / "v.pdf"
    expected = f"fingertight: {nowhere}: this file cannot be written (no such file or directory).\n"
    assert fingertight("torques", VICE, "-o", str(nowhere)) == (2, "", expected)
    missing = fingertight("torques", "nothing.toml")
    assert (missing.status, missing.out) == (2, "")
    assert missing.err.startswith("fingertight: nothing.toml: there is no such file.")
    wrong = fingertight("torques", "-", sent=HAND_PUMP.replace("behind", "behnd", 1))
    assert (wrong.status, wrong.out) == (2, "")
    assert wrong.err.startswith("fingertight: standard input has 1 mistake, mend what it says first:\n  line ")
    letter = HAND_PUMP.replace('"Hand pump"', '"Hand \\uFFFF pump"').replace(
        'thread = "M6"', 'thread = "M6"\ntorque = 9'
    )
    unprintable = fingertight("torques", "-", "-o", str(tmp_path / "l.pdf"), sent=letter)
    assert (unprintable.status, unprintable.out) == (2, "")
    assert unprintable.err.startswith("fingertight: No font on this machine has “")
    assert not list(tmp_path.iterdir())
