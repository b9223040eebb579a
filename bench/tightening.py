"""Patterns beside every order there is, a spilled tray beside its assignment alone, a sum beside a start of Python."""

import itertools
import math
import os
import random
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from time import perf_counter

import numpy as np
from rows import Row, best_seconds
from scipy.optimize import linear_sum_assignment

from fingertight.tighten.bolts import match
from fingertight.tighten.bolts.match import Hole, Loose, sort_tray
from fingertight.tighten.bolts.told import read_loose
from fingertight.tighten.pattern import even
from fingertight.tighten.pattern.even import most_even_order, unevenness

LAYOUTS = 4
ROUNDS = 15
SIZES = ("M5x12", "M6x20", "M6x28", "M8x25", "M8x60", "M6x16", "M10x30", "M5x20", "M6x35", "M8x40")


def rows() -> Iterator[Row]:
    """The rows of this family."""
    yield _thirty_bolts()
    yield _eight_bolts()
    for bolts, holes, goal in ((60, 80, 5.0), (600, 800, None)):
        yield _tray(bolts, holes, goal)
    yield _first_answer()


def _layout(bolts: int, chance: random.Random) -> list[tuple[float, float]]:
    """Bolts somewhere along a crooked edge, invented."""
    turns = sorted(chance.uniform(0, 2 * math.pi) for _ in range(bolts))
    return [(chance.uniform(60, 90) * math.cos(turn), chance.uniform(40, 70) * math.sin(turn)) for turn in turns]


def _thirty_bolts() -> Row:
    chance, seconds = random.Random(30), []
    for _ in range(LAYOUTS):
        at = _layout(30, chance)
        even._most_even.cache_clear()
        start = perf_counter()
        most_even_order(at)
        seconds.append(perf_counter() - start)
    what = f"the most even order of 30 bolts, the slowest of {LAYOUTS} crooked covers"
    return Row(what, "–", max(seconds), "at most", 0.2, "s")


def _eight_bolts() -> Row:
    """How much more uneven the answer is than the best of all 40,320 orders."""
    chance, worst = random.Random(8), 0.0
    for _ in range(LAYOUTS):
        at = _layout(8, chance)
        least = min(unevenness(at, order) for order in itertools.permutations(range(1, 9)))
        worst = max(worst, unevenness(at, most_even_order(at).order) / least)
    what = f"unevenness of the order for 8 bolts, the worst of {LAYOUTS} crooked covers"
    return Row(what, "the least of all 40,320 orders", round(worst, 9), "at most", 1.0)


def _tray(bolts: int, holes: int, goal: float | None) -> Row:
    """Each bolt is measured, so no two are alike; the peer is given the same chances, worked out."""
    chance = random.Random(bolts)
    places = [Hole(size.partition("x")[0], float(size.partition("x")[2]), "", holes // len(SIZES)) for size in SIZES]
    tray = [_measured(chance.choice(SIZES), chance) for _ in range(bolts)]
    slots = [number for number, hole in enumerate(places) for _ in range(hole.count)]
    costs = np.minimum(-match._gains(tray, places), 0.0)[:, slots]
    sorted_s, assigned_s = best_seconds(
        lambda: sort_tray(tray, places), lambda: linear_sum_assignment(costs), rounds=ROUNDS, clock=perf_counter
    )
    what = f"a tray of {bolts} fasteners against {holes} holes: places, how sure, what may be swapped"
    beside = "scipy `linear_sum_assignment` of the same chances, ready as costs"
    return Row(what, beside, sorted_s / assigned_s, "at most", goal)


def _measured(size: str, chance: random.Random) -> Loose:
    """A bolt as a caliper reads it."""
    return replace(read_loose(size).bolt, length_mm=round(float(size.partition("x")[2]) + chance.gauss(0, 0.3), 1))


def _first_answer() -> Row:
    program = Path(sysconfig.get_path("scripts")) / "fingertight"
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}

    def started(*command: str) -> None:
        subprocess.run(command, check=True, env=environment, stdout=subprocess.DEVNULL)

    answered, bare = best_seconds(
        lambda: started(str(program), "thread", "M6"),
        lambda: started(sys.executable, "-c", ""),
        rounds=ROUNDS,
        clock=perf_counter,
    )
    return Row("`fingertight thread M6`, from start to end", "a bare start of Python", answered / bare, "at most", 3.0)
