"""Every example in a docstring is run and gives what it says."""

import doctest
import importlib

import pytest

from tests.repository.source import ROOT, texts

WITH_EXAMPLES = [
    name.removeprefix("src/").removesuffix(".py").removesuffix("/__init__").replace("/", ".")
    for name, text in texts(".py", within=("src",))
    if ">>> " in text
]


@pytest.mark.parametrize("module", WITH_EXAMPLES)
def test_the_examples_of_a_module_give_what_they_say(module: str) -> None:
    failed, tried = doctest.testmod(importlib.import_module(module), optionflags=doctest.ELLIPSIS)
    assert tried > 0
    assert failed == 0


def test_the_readers_first_stop_has_an_example() -> None:
    assert "fingertight.quantity" in WITH_EXAMPLES
    assert (ROOT / "src" / "fingertight" / "quantity.py").is_file()
