"""How far a job is, how far it should be by now, and what the difference means in lessons."""

import math
from dataclasses import dataclass
from typing import Final

from fingertight.ledger.state import State
from fingertight.order.cost import work_of

NEAR: Final = 0.25
"""So much of a lesson either way is still on time [lessons] (common practice, no source)."""
_GRAIN: Final = 1e-9
_PARTS: Final = ("", "¼", "½", "¾")
_BELOW_ONE: Final = ("", "a quarter of a lesson", "half a lesson", "three quarters of a lesson")


@dataclass(frozen=True, slots=True)
class Pace:
    """How far a job is from its plan [lessons]: positive is ahead, negative is behind."""

    lessons: float

    @property
    def is_on_time(self) -> bool:
        """Whether it is within a quarter of a lesson of its plan."""
        return abs(self.lessons) <= NEAR + _GRAIN

    @property
    def is_behind(self) -> bool:
        """Whether it is more than a quarter of a lesson behind its plan."""
        return self.lessons < 0 and not self.is_on_time

    @property
    def sentence(self) -> str:
        """The pace in words, to the nearest quarter of a lesson; halfway between two, the larger.

        >>> Pace(0.2).sentence, Pace(-0.5).sentence, Pace(1.4).sentence
        ('on time', 'half a lesson behind', '1½ lessons ahead')
        """
        if self.is_on_time:
            return "on time"
        quarters = math.floor(abs(self.lessons) * 4 + 0.5 + _GRAIN)
        whole, rest = divmod(quarters, 4)
        amount = f"{whole}{_PARTS[rest]} {'lesson' if quarters == 4 else 'lessons'}" if whole else _BELOW_ONE[rest]
        return f"{amount} {'ahead' if self.lessons > 0 else 'behind'}"


@dataclass(frozen=True, slots=True)
class Planned:
    """How far a bench should be by now [0 to 1], and over how many lessons."""

    share: float
    lessons: int


def share_done(state: State) -> float:
    """Which share of a whole strip and rebuild is done, by the usual minutes of each part [0 to 1]?

    share = (minutes of what came off + minutes of what went back) / (all minutes off + all minutes on)

    A piece that lies off has come off; one that is on counts for both when it was fitted in this job, and for nothing
    when it never moved. The pieces of a part share its minutes. What stays or is absent is left out; a machine with
    nothing to move is done. The minutes are those of `order`: on the rebuild `minutes_on`, where a file gives them.
    It is measured, not believed: a job said to be finished with parts that never came off is below 1, and a part that
    must come off again counts as off. Measuring, setting and counting take time too, and are not in it.

    >>> from fingertight.anatomy.model import Anatomy
    >>> from fingertight.ledger import Ledger, Plan
    >>> box = {"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid", "minutes": 3.0}, {"id": "pin"}]}
    >>> ledger = Ledger(Plan(Anatomy.model_validate(box)))
    >>> ledger.hear({"id": "1", "kind": "off", "at": "2026-03-05T09:00:00Z", "by": "s-07", "part": "lid"})
    True
    >>> share_done(ledger.state)
    0.375
    """
    anatomy = state.plan.anatomy
    off, on = work_of(anatomy), work_of(anatomy, rebuild=True)
    done = whole = 0.0
    for part in anatomy.parts:
        if part.stays or state.moves.is_absent(part.id):
            continue
        slots = state.plan.parts[part.id].slots
        back = sum(slot in state.fitted for slot in slots)
        gone = back + sum(slot in state.empty for slot in slots)
        done += (off[part.id].minutes * gone + on[part.id].minutes * back) / len(slots)
        whole += off[part.id].minutes + on[part.id].minutes
    return min(1.0, done / whole) if whole else 1.0


def share_planned(lessons_before: int, elapsed_min: float, lesson_min: float, lessons: int) -> float:
    """Which share should be done by now, with the work spread evenly over the lessons [0 to 1]?

    share = (lessons_before + elapsed_min / lesson_min) / lessons

    lessons_before: lessons that are over; elapsed_min: since this one began [min], at most the whole of it, for in the
    break nobody works; lesson_min: how long one is [min]; lessons: how many the job has.
    Raises ValueError when there is no lesson, a lesson has no length, or a time is no number.

    >>> share_planned(1, 45, 90, 4)
    0.375
    """
    if lessons < 1:
        raise ValueError(f"A job has 1 lesson or more, not {lessons}.")
    if not (math.isfinite(lesson_min) and lesson_min > 0):
        raise ValueError(f"A lesson takes more than 0 minutes, not {lesson_min:g}.")
    if math.isnan(elapsed_min):
        raise ValueError("The minutes since the lesson began are no number.")
    this_one = min(1.0, max(0.0, elapsed_min / lesson_min))
    return min(1.0, max(0.0, (lessons_before + this_one) / lessons))


def pace_of(done: float, planned: float, lessons: int) -> Pace:
    """How many lessons ahead (positive) or behind is a job with this share done where that was planned?

    lessons = (done - planned) × lessons; done and planned from 0 to 1, lessons: how many the job has.
    Raises ValueError when there is no lesson.

    >>> pace_of(0.25, 0.5, 4), pace_of(0.25, 0.5, 4).sentence
    (Pace(lessons=-1.0), '1 lesson behind')
    """
    if lessons < 1:
        raise ValueError(f"A job has 1 lesson or more, not {lessons}.")
    return Pace((done - planned) * lessons)
