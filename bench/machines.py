"""Machines for timing: parts behind parts before them, the same ones in every run, with ways where asked for."""

import random

from fingertight.order import Stands

NEAR = 50
WITH_WAYS = 5


def machine(parts: int, *, ways: bool = False) -> list[Stands]:
    """Each part behind one or two of the fifty before it; with `ways` every fifth part has two ways out besides."""
    chance = random.Random(parts)
    said = []
    for number in range(parts):
        before = [f"p{other}" for other in range(max(0, number - NEAR), number)]
        behind = chance.sample(before, min(len(before), chance.choice([1, 1, 1, 1, 2])))
        two = [chance.sample(before, 1) for _ in range(2)] if len(before) > 1 else []
        said.append(Stands(f"p{number}", behind, two if ways and number % WITH_WAYS == 0 else ()))
    return said
