"""One lesson: opened, run, counted, closed; nothing is walked away from silently."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.cards.bench.page import JobName
from fingertight.cards.card import Card
from fingertight.cards.lesson.classes import PersonLine
from fingertight.cards.workshop.tally import BenchCount
from fingertight.cards.workshop.wall import by_number
from fingertight.lesson.diary import Course


@dataclass(frozen=True)
class Stopped(Card):
    """Where one bench stopped, what hurts at its next moves, which tools it still has."""

    job: JobName
    sentence: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class MissingLine(Card):
    """Something that is not where it belongs: since when, who had it last in sight."""

    job: JobName
    what: str
    sentence: str
    since: str
    last: str


@dataclass(frozen=True)
class LessonCard(Card):
    """short: of how many things and benches the instructor must say a word before the lesson closes."""

    slug: str
    title: str
    number: int
    of: int
    is_open: bool
    sentence: str
    minutes_left: int | None
    ending_said: bool
    code: str
    minutes: int
    stopped: tuple[Stopped, ...]
    cautions: tuple[str, ...]
    people: tuple[PersonLine, ...]
    here: int
    missing: tuple[MissingLine, ...]
    counts: tuple[BenchCount, ...]
    short: int
    problem: str


def lesson_card(
    course: Course,
    *,
    slug: str,
    title: str,
    of: int,
    minutes: int,
    code: str,
    now_s: float,
    stopped: Sequence[Stopped],
    people: Sequence[PersonLine],
    missing: Sequence[MissingLine],
    counts: Sequence[BenchCount | None],
    problem: str = "",
) -> LessonCard:
    """What does the instructor need to open, run and close this lesson? now_s: the server's clock [s since 1970]."""
    by_bench = sorted(stopped, key=lambda one: by_number(one.job.bench))
    counted = sorted(filter(None, counts), key=lambda one: (one.is_right, by_number(one.job.bench)))
    left = course.minutes_left(now_s)
    return LessonCard(
        slug=slug,
        title=title,
        number=course.next_number,
        of=of,
        is_open=course.now is not None,
        sentence=_sentence(course, of, left),
        minutes_left=left,
        ending_said=course.ending_said,
        code=code,
        minutes=minutes,
        stopped=tuple(by_bench),
        cautions=tuple(dict.fromkeys(caution for one in by_bench for caution in one.cautions)),
        people=tuple(people),
        here=sum(not one.is_away for one in people),
        missing=tuple(missing),
        counts=tuple(counted),
        short=short_of(counted, missing),
        problem=problem,
    )


def short_of(counts: Sequence[BenchCount], missing: Sequence[MissingLine]) -> int:
    """How many things are not right: what is missing, and benches that were not counted since they last moved."""
    return len(missing) + sum(not one.is_counted for one in counts)


def _sentence(course: Course, of: int, left: int | None) -> str:
    if course.now is None:
        return f"Lesson {course.next_number} of {of} is not open yet."
    if left == 0:
        return f"Lesson {course.now.number} of {of}: its time is over. Count, then close it."
    return f"Lesson {course.now.number} of {of}: {left} min to the end."
