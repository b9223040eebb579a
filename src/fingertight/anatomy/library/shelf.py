"""The common assemblies that come with the program, each a machine file beside this module."""

import os
from functools import cache

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read

_FOLDER = os.path.dirname(__file__)


@cache
def names() -> tuple[str, ...]:
    """What there is, by name.

    >>> "recoil-starter" in names()
    True
    """
    return tuple(sorted(file.removesuffix(".toml") for file in os.listdir(_FOLDER) if file.endswith(".toml")))


@cache
def text_of(name: str) -> str:
    """The text of one. Raises KeyError where there is none of this name."""
    if name not in names():
        raise KeyError(name)
    with open(os.path.join(_FOLDER, f"{name}.toml"), encoding="utf-8") as file:
        return file.read()


@cache
def assembly(name: str) -> Anatomy:
    """What one says. Raises KeyError where there is none of this name."""
    found = read(text_of(name)).anatomy
    if found is None:
        raise ValueError(f"{name} has mistakes")
    return found
