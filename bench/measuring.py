"""Verdicts of a whole class beside the same sums in bare numpy, and a budget drawn a million times beside metrolopy."""

import logging
import math
import random
from collections.abc import Iterator
from time import perf_counter

import numpy as np
from rows import Row, best_seconds
from scipy.special import stdtr, stdtrit

from fingertight.measure.budget import Tool, reading_budget
from fingertight.measure.verdict import Word, chance_good, judged
from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.coverage import TWO_SIGMA
from fingertight.uncertainty.monte_carlo import of_budget

BENCHES, CHECKS, SPOTS, REPEATS = 30, 20, 4, 2
LIMIT, TOOL = 68.165, Tool(0.01, 0.005)
DRAWS = 1_000_000
ROUNDS = 15

Readings = list[list[list[float]]]
Judged = tuple[list[str], list[float]]


def rows() -> Iterator[Row]:
    """The rows of this family."""
    yield from _verdicts()
    yield from _draws()


def _class() -> Readings:
    """What a class reads of bores near their limit, invented: for each check four spots, each read twice."""
    chance = random.Random(68)
    return [
        [
            [round(size + chance.gauss(0, 0.003), 3) for _ in range(REPEATS)]
            for size in (chance.gauss(68.14, 0.02) for _ in range(SPOTS))
        ]
        for _ in range(BENCHES * CHECKS)
    ]


def _verdicts() -> Iterator[Row]:
    checks = _class()
    arrays = np.array(checks)
    ours, theirs = _one_by_one(checks), _all_at_once(np.array(checks))
    if ours[0] != theirs[0] or max(abs(a - b) for a, b in zip(ours[1], theirs[1], strict=True)) > 1e-12:
        raise AssertionError("the two do not say the same")
    said, bare, ready, alone = best_seconds(
        lambda: _one_by_one(checks),
        lambda: _all_at_once(np.array(checks)),
        lambda: _all_at_once(arrays),
        lambda: [_all_at_once(np.array([spots])) for spots in checks],
        rounds=ROUNDS,
    )
    class_of = f"{BENCHES} benches × {CHECKS} checks × {SPOTS * REPEATS} readings"
    what = f"verdicts of {class_of}: pooled scatter, budget, U, chance"
    yield Row(what, "the same sums in bare numpy, all at once, from the same lists", said / bare, "at most", 10.0)
    yield Row("the same", "bare numpy with its arrays ready", said / ready, "at most", None)
    yield Row("the same", "bare numpy, one check at a time as they are read", said / alone, "at most", None)


def _one_by_one(checks: Readings) -> Judged:
    words, chances = [], []
    for spots in checks:
        budget = reading_budget(TOOL, spots, REPEATS)
        worst = max(sum(spot) / REPEATS for spot in spots)
        words.append(judged(worst, None, LIMIT, budget.expanded).word.value)
        chances.append(chance_good(worst, None, LIMIT, budget.standard, budget.dof))
    return words, chances


def _all_at_once(read: np.ndarray) -> Judged:
    means = read.mean(axis=2)
    dof = SPOTS * (REPEATS - 1)
    scatter = np.sqrt(((read - means[:, :, None]) ** 2).sum(axis=(1, 2)) / dof / REPEATS)
    step, error = TOOL.resolution / math.sqrt(12), TOOL.error / math.sqrt(3)
    u = np.hypot(np.maximum(scatter, step), error)
    free = np.where(scatter >= step, u**4 / (scatter**4 / dof), np.inf)
    U = np.where(scatter >= step, stdtrit(free, (1 + TWO_SIGMA) / 2), 2.0) * u
    worst = means.max(axis=1)
    margin = LIMIT - worst
    words = np.where(margin >= U, Word.GOOD.value, np.where(margin < -U, Word.WORN.value, Word.CLOSE.value))
    return words.tolist(), stdtr(free, margin / u).tolist()


BUDGET = Budget(
    (
        Line("reading to the nearest step", 0.00289, shape="rectangular"),
        Line("error of the instrument", 0.00289, shape="rectangular"),
        Line("scatter of the repeats", 0.0035),
        Line("temperature", 0.58, 0.00079, shape="rectangular"),
        Line("growth of the part", 0.00087, 1.02, shape="rectangular"),
    )
)


def _draws() -> Iterator[Row]:
    import metrolopy

    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    causes = [_cause(metrolopy, line) for line in BUDGET.lines]
    total = sum(causes[1:], causes[0])

    def drawn_by_metrolopy() -> None:
        total.sim(n=DRAWS)
        _ = total.xsim, total.usim, total.cisim

    ours, theirs, bare = best_seconds(
        lambda: of_budget(BUDGET, seed=1, draws=DRAWS), drawn_by_metrolopy, _bare, rounds=ROUNDS, clock=perf_counter
    )
    what = f"Monte Carlo of one uncertainty budget of {len(BUDGET.lines)} lines, {DRAWS:,} draws"
    yield Row(what, "metrolopy", ours / theirs, "at most", 1.0)
    yield Row("the same", "bare numpy: the draws, their mean, deviation and two quantiles", ours / bare, "at most", 2.0)


def _cause(metrolopy, line: Line):  # type: ignore[no-untyped-def]  # metrolopy has no types
    if line.shape == "rectangular":
        return line.sensitivity * metrolopy.gummy(
            metrolopy.UniformDist(center=0, half_width=line.standard * math.sqrt(3))
        )
    return line.sensitivity * metrolopy.gummy(0, u=line.standard)


def _bare() -> tuple[float, float, float, float]:
    chance = np.random.default_rng(1)
    total = np.zeros(DRAWS)
    for line in BUDGET.lines:
        spread = line.sensitivity * line.standard
        if line.shape == "rectangular":
            total += chance.uniform(-math.sqrt(3) * spread, math.sqrt(3) * spread, DRAWS)
        else:
            total += chance.normal(0, spread, DRAWS)
    low, high = np.quantile(total, [(1 - TWO_SIGMA) / 2, (1 + TWO_SIGMA) / 2])
    return float(total.mean()), float(total.std(ddof=1)), float(low), float(high)
