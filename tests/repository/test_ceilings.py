"""Sizes that keep the project readable (docs/map.md says why): files, functions, rooms."""

import ast

from tests.repository.source import ROOT, files, texts

FILE_LINES = 400
FUNCTION_LINES = 60
ROOM_MODULES = 7
CODE = ("src", "tests", "tools", "bench", "examples")


def test_no_file_is_longer_than_400_lines() -> None:
    lengths = {name: text.count("\n") for name, text in texts(".py", ".js", ".css", ".html", ".md", ".typ")}
    too_long = {name: lines for name, lines in lengths.items() if lines > FILE_LINES}
    assert not too_long, f"split by meaning: {too_long}"


def test_no_function_is_longer_than_60_lines() -> None:
    too_long = {
        f"{name}:{node.lineno} {node.name}": (node.end_lineno or node.lineno) - node.lineno + 1
        for name, text in texts(".py", within=CODE)
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    }
    too_long = {where: lines for where, lines in too_long.items() if lines > FUNCTION_LINES}
    assert not too_long, f"say it in smaller steps: {too_long}"


def test_a_room_has_at_most_seven_modules() -> None:
    rooms: dict[str, int] = {}
    for path in files(".py", within=("src",)):
        if path.name != "__init__.py":
            room = str(path.parent.relative_to(ROOT))
            rooms[room] = rooms.get(room, 0) + 1
    too_many = {room: modules for room, modules in rooms.items() if modules > ROOM_MODULES}
    assert not too_many, f"these want a folder of their own inside: {too_many}"


def test_the_map_of_a_room_is_at_most_fifteen_lines() -> None:
    for name, text in texts(".py", within=("src",)):
        if name.endswith("__init__.py"):
            said = ast.get_docstring(ast.parse(text))
            assert said or not text.strip(), f"{name} is code without a map"
            assert (said or "").count("\n") < 15, f"{name}: its map is longer than 15 lines"


def test_every_module_says_what_it_is_for() -> None:
    silent = [
        name for name, text in texts(".py", within=CODE) if text.strip() and not ast.get_docstring(ast.parse(text))
    ]
    assert not silent


def test_nothing_catches_every_fault_without_a_name() -> None:
    bare = [
        f"{name}:{node.lineno}"
        for name, text in texts(".py", within=CODE)
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.ExceptHandler) and node.type is None
    ]
    assert not bare
