"""One measured row: what was timed, what stood beside it in the same run, their ratio, and the goal it was set."""

import gc
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from time import process_time
from typing import Any, Literal


@dataclass(frozen=True, slots=True)
class Row:
    """`figure` is a ratio unless `unit` says otherwise; None: not measured, `note` says why. `goal`: None if none."""

    what: str
    beside: str
    figure: float | None
    way: Literal["at most", "at least"]
    goal: float | None
    unit: str = "×"
    note: str = ""

    @property
    def met(self) -> bool | None:
        """Whether the goal is reached; None where there is none, or nothing was measured."""
        if self.figure is None or self.goal is None:
            return None
        return self.figure <= self.goal if self.way == "at most" else self.figure >= self.goal

    def cells(self) -> tuple[str, str, str, str, str]:
        """The row as it is printed: what, beside, figure, goal, met."""
        sign = "≤" if self.way == "at most" else "≥"
        figure = "not measured" if self.figure is None else f"{shown(self.figure)} {self.unit}"
        met = {True: "yes", False: "**no**", None: "–"}[self.met]
        what = f"{self.what} ({self.note})" if self.note else self.what
        goal = "none set" if self.goal is None else f"{sign} {self.goal:g} {self.unit}"
        return what, self.beside, figure, goal, met


def shown(figure: float) -> str:
    """Three digits are more than a run repeats: 0.843, 12.1, 148."""
    return f"{figure:.0f}" if figure >= 100 else f"{figure:.3g}"


def best_seconds(
    *jobs: Callable[[], Any], rounds: int = 7, clock: Callable[[], float] = process_time
) -> Sequence[float]:
    """The best of several rounds for each job [s of this process's own work, unless another clock is given].

    The jobs take turns, so that a slow moment of the machine hits all alike. The collector runs between the rounds and
    not in them: when it strikes is chance.
    """
    best = [float("inf")] * len(jobs)
    was_on = gc.isenabled()
    try:
        for _ in range(rounds):
            for number, job in enumerate(jobs):
                gc.enable()
                gc.collect()
                gc.disable()
                start = clock()
                job()
                best[number] = min(best[number], clock() - start)
    finally:
        if was_on:
            gc.enable()
    return best
