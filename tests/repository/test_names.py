"""Names answer "what do I get?"; those that answer nothing are kept out (docs/words.md)."""

import ast
import re
from collections.abc import Iterator

from tests.repository.source import ROOT, files, texts

SAYS_NOTHING = {"data", "info", "item", "handler", "manager", "processor", "service", "util", "helper", "core", "misc"}
# Names that others chose and we must use: Django looks these up, the log's field is called `item`.
CHOSEN_BY_OTHERS = {"handler400", "handler403", "handler404", "handler500", "item", "receive_data_chunk"}


def _words(name: str) -> set[str]:
    apart = re.sub(r"([a-z0-9])([A-Z])", r"\1_\2", name).lower()
    return {word.removesuffix("s") for word in re.split(r"[^a-z0-9]+", apart)}


def _names_given(tree: ast.Module) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            yield node.lineno, node.name
        elif isinstance(node, ast.arg):
            yield node.lineno, node.arg


def test_no_file_or_folder_has_a_name_that_says_nothing() -> None:
    said = {
        str(path.relative_to(ROOT)): _words(str(path.relative_to(ROOT))) for path in files(".py", ".js", ".css", ".md")
    }
    assert not {name for name, words in said.items() if words & SAYS_NOTHING}


def test_no_function_class_or_argument_has_a_name_that_says_nothing() -> None:
    # Tests are sentences, and hypothesis calls its strategy `data`: they are left out here.
    empty = [
        f"{where}:{line} {name}"
        for where, text in texts(".py", within=("src", "tools", "bench", "examples"))
        for line, name in _names_given(ast.parse(text))
        if _words(name) & SAYS_NOTHING and name not in CHOSEN_BY_OTHERS
    ]
    assert not empty


def test_tests_are_named_as_sentences() -> None:
    too_short = [
        f"{where}:{node.lineno} {node.name}"
        for where, text in texts(".py", within=("tests",))
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_") and node.name.count("_") < 3
    ]
    assert not too_short
