"""Each planted-mistake file gives the mistakes its name says, and no other."""

from pathlib import Path

import pytest

from fingertight.anatomy.mistakes import CODES
from fingertight.anatomy.read import read
from fingertight.cards.check import all_mistakes

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "mistakes"
FILES = sorted(FOLDER.glob("*.toml"))
BLOCKED = {"ring", "never-off", "never-on"}
"""What only shows when the parts are tried (order/knots.py)."""


def _expected(path: Path) -> set[str]:
    """The codes the file's first line lists; without such a line, its name."""
    first = path.read_bytes().split(b"\n", 1)[0].decode("utf-8")
    listed = first.removeprefix("# Expected: ")
    return set(listed.split(", ")) if listed != first else {path.stem}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_planted_mistake_file_gives_exactly_the_codes_it_says(path: Path) -> None:
    found = all_mistakes(read(path.read_bytes(), name=path.name))
    assert {mistake.code for mistake in found} == _expected(path)
    if _expected(path) == {path.stem}:
        assert len(found) == 1, "one mistake a file"


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_mistake_has_its_line_and_a_mend(path: Path) -> None:
    lines = path.read_bytes().count(b"\n")
    for mistake in all_mistakes(read(path.read_bytes(), name=path.name)):
        assert 1 <= mistake.line <= lines
        assert mistake.text.endswith((".", "?"))
        assert mistake.mend


def test_there_is_a_file_for_every_code_of_mistake() -> None:
    assert {path.stem for path in FILES} == {*CODES, *BLOCKED, "all-at-once"}


def test_many_mistakes_are_reported_together() -> None:
    assert len(_expected(FOLDER / "all-at-once.toml")) > 10
