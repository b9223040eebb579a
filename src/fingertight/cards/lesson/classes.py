"""A class: its benches and people, what comes next; the list of all classes."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.lesson.diary import Course


@dataclass(frozen=True)
class ClassLine(Card):
    """One class on the front page."""

    slug: str
    title: str
    sentence: str
    is_open: bool


@dataclass(frozen=True)
class PersonLine(Card):
    """Somebody in the class. is_new: has not chosen a number; is_away: not here in the lesson that is open."""

    id: str
    name: str
    bench: str
    is_new: bool
    is_locked: bool
    is_away: bool


@dataclass(frozen=True)
class BenchLine(Card):
    """One bench: its card's code, its job, how far it is, who sits there."""

    bench: str
    code: str
    job: str
    sentence: str
    people: tuple[PersonLine, ...]
    uneven: str


@dataclass(frozen=True)
class NextStep(Card):
    """The one thing to do now, and where."""

    sentence: str
    word: str
    where: str


@dataclass(frozen=True)
class LessonLine(Card):
    """A lesson that is over: when, and with which word where something was short."""

    number: int
    sentence: str


@dataclass(frozen=True)
class ClassCard(Card):
    """All of it. loose: who has no bench. newer: the version of the machine's file that the benches do not have yet, 0
    where all have the newest."""

    slug: str
    title: str
    machine: str
    machine_name: str
    sentence: str
    code: str
    next: NextStep
    benches: tuple[BenchLine, ...]
    loose: tuple[PersonLine, ...]
    lessons: tuple[LessonLine, ...]
    newer: int
    is_open: bool
    archived: bool


@dataclass(frozen=True)
class ClassFacts(Card):
    """What the store knows of a class."""

    slug: str
    title: str
    machine: str
    machine_name: str
    lessons: int
    code: str
    newer: int
    archived: bool


def class_line(facts: ClassFacts, course: Course, benches: int) -> ClassLine:
    """How does a class stand, in a line?"""
    where = f"lesson {course.next_number} of {facts.lessons} is {'open' if course.now else 'next'}"
    if not course.now and len(course.lessons) >= facts.lessons:
        where = f"all {counted(facts.lessons, 'lesson')} are over"
    return ClassLine(facts.slug, facts.title, f"{counted(benches, 'bench')}, {where}", course.now is not None)


def class_card(
    facts: ClassFacts,
    course: Course,
    benches: Sequence[BenchLine],
    loose: Sequence[PersonLine],
    lessons: Sequence[LessonLine],
) -> ClassCard:
    """What does the instructor see of a class?"""
    students = sum(len(bench.people) for bench in benches) + len(loose)
    line = class_line(facts, course, len(benches))
    return ClassCard(
        slug=facts.slug,
        title=facts.title,
        machine=facts.machine,
        machine_name=facts.machine_name,
        sentence=f"{facts.machine_name}: {counted(students, 'student')}, {line.sentence}.",
        code=facts.code,
        next=_next(facts, course, students, len(loose)),
        benches=tuple(benches),
        loose=tuple(loose),
        lessons=tuple(lessons),
        newer=facts.newer,
        is_open=course.now is not None,
        archived=facts.archived,
    )


def _next(facts: ClassFacts, course: Course, students: int, loose: int) -> NextStep:
    """What comes next at this point?"""
    here = f"/class/{facts.slug}"
    if facts.archived:
        return NextStep("This class is put away. Everything it did is kept.", "To all classes", "/")
    if not students:
        return NextStep("Nobody is on the list yet. Paste the names below.", "Add students", f"{here}#add")
    if course.now:
        return NextStep(f"Lesson {course.now.number} is open.", "Go to the lesson", f"{here}/lesson")
    if loose:
        who = "One student has" if loose == 1 else f"{loose} students have"
        return NextStep(f"{who} no bench yet. Choose one for each below.", "Seat them", f"{here}#loose")
    if not course.lessons:
        return NextStep(
            "Print the cards that stand on the benches, and the bag labels. Then open lesson 1.",
            "Print the bench cards",
            f"{here}/cards.pdf",
        )
    return NextStep(
        f"Lesson {course.next_number} comes next. Open it when the class is in the room.",
        f"Open lesson {course.next_number}",
        f"{here}/lesson",
    )
