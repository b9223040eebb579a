"""What measures speed is run by hand only, so that what it imports is held here: a name that moved is found at once."""

import ast
from importlib import import_module

import pytest
from django.core.exceptions import ImproperlyConfigured

from tests.repository.source import ROOT

BENCH = sorted((ROOT / "bench").glob("*.py"))


@pytest.mark.parametrize("path", BENCH, ids=[path.stem for path in BENCH])
def test_what_a_benchmark_takes_from_the_project_is_there(path: object) -> None:
    tree = ast.parse(path.read_text("utf-8"))  # type: ignore[attr-defined]
    taken = [
        (node.module, name.name)
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("fingertight")
        for name in node.names
    ]
    missing = []
    for module, name in taken:
        try:
            found = hasattr(import_module(str(module)), name) or import_module(f"{module}.{name}") is not None
        except ImportError:
            found = False
        except ImproperlyConfigured:  # a module of Django models, which wants settings first
            found = True
        if not found:
            missing.append(f"{module}.{name}")
    assert missing == []
