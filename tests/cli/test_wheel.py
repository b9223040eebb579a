"""What `wheel` and `tape` print, write and refuse; what stands on the paper is tested in tests/paper."""

import json
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.conftest import Typing


def test_a_wheel_is_written_and_said_with_what_to_mind(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "wheel.pdf"
    assert fingertight("wheel", "-o", str(file), "--diameter", "120") == (
        0,
        f"{file}: a degree wheel of 120 mm for a crank that turns clockwise, on A4. Print at its own size (100 %) and "
        "measure the ruler on it: it must be 100 mm.\n",
        "",
    )
    assert len(pypdfium2.PdfDocument(file.read_bytes())) == 1


def test_a_tape_is_written_and_said_with_its_length(fingertight: Typing, tmp_path: Path) -> None:
    file = tmp_path / "tape.pdf"
    assert fingertight("tape", "-o", str(file), "--flywheel", "7 in", "--turns", "anticlockwise") == (
        0,
        f"{file}: a timing tape of 558.6 mm for a flywheel of 177.8 mm that turns anticlockwise, 3 strips on 1 sheet "
        "of A4. Print at its own size (100 %) and measure the ruler on it: it must be 100 mm.\n",
        "",
    )


def test_a_program_gets_the_same_as_numbers(fingertight: Typing, tmp_path: Path) -> None:
    answer = json.loads(
        fingertight("tape", "-o", str(tmp_path / "t.pdf"), "--flywheel", "180", "--printed", "99", "--json").out
    )
    assert answer["length_mm"] == pytest.approx(565.4867, abs=1e-4)
    assert answer["printed_100_mm"] == 99
    assert [one["from_deg"] for one in answer["strips"]] == [180, 60, -60]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (("wheel", "-o", "engine.toml"), "--output: engine.toml is no name of a PDF; write one that ends in .pdf."),
        (("wheel", "-o", "w.pdf", "--diameter", "300"), "Diameter: a wheel of 300 mm is wider than A4 takes; write 80 to 190 mm, or print a tape for the flywheel."),  # noqa: E501
        (("tape", "-o", "t.pdf"), "Flywheel: nothing was typed; write for example 180 mm."),
        (("tape", "-o", "t.pdf", "--flywheel", "20"), "Flywheel: “20” is less than 40 mm, the least that is worked out here; is the unit right?"),  # noqa: E501
    ],
)  # fmt: skip
def test_what_cannot_be_printed_writes_nothing(fingertight: Typing, typed: tuple[str, ...], sentence: str) -> None:
    screen = fingertight(*typed)
    assert (screen.status, screen.out, screen.err) == (2, "", f"fingertight: {sentence}\n")
    assert not list(Path.cwd().glob("[wt].pdf"))
