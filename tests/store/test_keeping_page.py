"""What docs/keeping.md tells people to do works as it stands there."""

import re
import shutil
from pathlib import Path

import pytest

from fingertight.cli.frame import answer
from fingertight.store.writer import Writer
from tests.store.cast import BENCH_1, NINE, WORKSHOP, entries


def test_the_backup_and_restore_of_the_page_on_keeping_work(
    writer: Writer, tmp_path: Path, root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    page = (root / "docs" / "keeping.md").read_text("utf-8")
    back_up, restore = (
        line.split()[1:]
        for line in re.findall(r"^fingertight .*$", page, re.MULTILINE)
        if line.split()[1] in {"backup", "restore"}
    )
    writer.append(WORKSHOP, BENCH_1, entries(3), NINE)
    writer.stop()
    (tmp_path / "workshop").mkdir()
    shutil.move(writer.database, tmp_path / "workshop" / "workshop.sqlite3")
    monkeypatch.chdir(tmp_path)

    assert answer(back_up) == 0
    assert capsys.readouterr().out == "friday.sqlite3: everything in workshop is in it.\n"
    again = Writer(Path("workshop/workshop.sqlite3"))
    again.append(WORKSHOP, BENCH_1, entries(2, start=4), NINE)
    again.stop()
    assert answer(restore) == 0
    aside = Path("workshop/workshop.sqlite3.before-restore-1")
    assert capsys.readouterr().out == (
        f"friday.sqlite3 is the workshop in workshop now.\nWhat stood there is {aside.name} now.\n"
    )
    for database, kept in ((Path("workshop/workshop.sqlite3"), 3), (aside, 5)):
        opened = Writer(database)
        assert opened.change(WORKSHOP) == kept
        opened.stop()
