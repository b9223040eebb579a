"""The docs say what is so: commands print what stands there, paths exist, every dependency has its line."""

import ast
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from fingertight.cli.frame import all_parsers
from tests.repository.console import LEFT_OUT, Shown, agrees, commands, pages
from tests.repository.source import ROOT, texts
from tools.tables import TABLES, with_tables

SHOWN = commands()


@pytest.fixture(scope="module")
def workplace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the examples, so that a command of the docs may write beside them."""
    folder = tmp_path_factory.mktemp("workplace")
    shutil.copytree(ROOT / "examples", folder / "examples")
    return folder


@pytest.mark.parametrize("shown", SHOWN, ids=[f"{shown.page}: {shown.command}" for shown in SHOWN])
def test_a_command_in_the_docs_prints_what_the_docs_show(shown: Shown, workplace: Path) -> None:
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")])
    run = subprocess.run(
        ["bash", "-c", shown.command],
        cwd=workplace,
        env={**os.environ, "PATH": path, "COLUMNS": "100"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    assert shown.printed.strip() != LEFT_OUT, "show what it prints, or the line that matters"
    assert agrees(shown.printed, run.stdout), f"it prints:\n{run.stdout}"
    assert run.returncode != 2 or "fingertight: " in shown.printed


# These need a workshop of one's own: tests/cli/test_owner.py runs them.
OWNERS = {"serve", "people", "classes", "backup", "restore"}


def test_every_command_stands_in_the_docs_with_what_it_prints() -> None:
    shown = {shown.command.split()[1] for shown in SHOWN if shown.command.startswith("fingertight ")}
    assert set(all_parsers()[1]) - OWNERS <= shown
    page = (ROOT / "docs" / "commands.md").read_text("utf-8")
    assert not [name for name in OWNERS if f"fingertight {name}" not in page]


def test_every_path_named_in_the_docs_exists() -> None:
    missing = [
        f"{page.name}: {path}"
        for page in pages()
        for path in re.findall(r"`((?:src|tests|docs|tools|examples|bench)/[\w./-]*)`", page.read_text("utf-8"))
        if not (ROOT / path).exists()
    ]
    assert not missing


def test_every_link_between_pages_leads_somewhere() -> None:
    dead = [
        f"{page.name}: {target}"
        for page in pages()
        for target in re.findall(r"\]\((?!https?:)([^)#]+)", page.read_text("utf-8"))
        if not (page.parent / target).exists()
    ]
    assert not dead


def test_every_page_of_docs_is_reached_from_the_readme() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    assert not [page.name for page in (ROOT / "docs").glob("*.md") if f"docs/{page.name}" not in readme]


@pytest.mark.parametrize("page", pages(), ids=lambda page: page.name)
def test_python_in_the_docs_is_python_and_what_it_imports_is_there(page: Path) -> None:
    for block in re.findall(r"^```python\n(.*?)^```$", page.read_text("utf-8"), re.M | re.S):
        tree = ast.parse(block)
        tree.body = [line for line in tree.body if isinstance(line, ast.Import | ast.ImportFrom)]
        exec(compile(tree, page.name, "exec"), {})


def test_nothing_takes_more_than_five_steps_to_add() -> None:
    lists = re.split(r"^## To add ", (ROOT / "CONTRIBUTING.md").read_text("utf-8"), flags=re.M)[1:]
    assert [said.partition("\n")[0] for said in lists] == [
        "a flag",
        "an entry kind",
        "a table of published values",
        "a page",
        "a paper",
    ]
    assert all(1 <= len(re.findall(r"^\d\. ", said, re.M)) <= 5 for said in lists)


def test_every_dependency_has_its_line_and_no_other_has() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = [
        *project["dependencies"],
        *(line for extra in project["optional-dependencies"].values() for line in extra),
    ]
    names = {re.split(r"[<>=~!\[ ]", line)[0] for line in wanted}
    rows = re.findall(
        r"^\| ([\w-]+) \| (.+) \| (.+) \| (.+) \|$", (ROOT / "docs" / "dependencies.md").read_text("utf-8"), re.M
    )
    listed = [row[0] for row in rows if row[0] not in {"package", "---"}]
    assert sorted(listed) == sorted(names)


def test_the_map_names_every_room() -> None:
    said = (ROOT / "docs" / "map.md").read_text("utf-8")
    rooms = [path.name for path in (ROOT / "src" / "fingertight").iterdir() if not path.name.startswith(("_", "."))]
    assert not [room for room in rooms if room != "py.typed" and f"src/fingertight/{room}" not in said]


def test_every_word_of_the_glossary_is_in_use() -> None:
    glossary = (ROOT / "docs" / "words.md").read_text("utf-8")
    elsewhere = (text for name, text in texts(".md", ".py", ".html", ".toml") if not name.endswith("words.md"))
    said = re.sub(r"[_-]", " ", " ".join(elsewhere).lower())
    rows = [row for row in re.findall(r"^\| ([^|]+) \|", glossary, re.M) if row not in {"word", "---"}]
    words = [word.strip() for row in rows for word in row.split(",")]
    assert len(words) > 40
    assert not [word for word in words if word.lower().replace("-", " ") not in said]


def test_no_heading_of_the_docs_uses_a_word_that_says_nothing() -> None:
    headings = [line for page in pages() for line in page.read_text("utf-8").splitlines() if line.startswith("#")]
    empty = re.compile(
        r"\b(data|info|items?|handlers?|managers?|processors?|services?|utils?|helpers?|core|misc)\b", re.I
    )
    assert not [heading for heading in headings if empty.search(heading)]


@pytest.mark.parametrize("page", ["machine-file.md", "log.md"])
def test_the_tables_of_a_page_are_those_the_code_has(page: str) -> None:
    said = (ROOT / "docs" / page).read_text("utf-8")
    assert "<!-- made: " in said
    assert with_tables(said) == said, "run `make docs`"


def test_every_made_table_stands_on_a_page() -> None:
    said = "".join(page.read_text("utf-8") for page in pages())
    assert not [name for name in TABLES if f"<!-- made: {name} -->" not in said]
