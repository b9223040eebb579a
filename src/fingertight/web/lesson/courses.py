"""Where each class stands: its log, folded and remembered until something is written. One process writes it all."""

import threading
from collections.abc import Mapping
from copy import deepcopy
from datetime import UTC, datetime
from typing import Any, TypeVar

from django.conf import settings

from fingertight.lesson.diary import Course, NotInTheDiary, course_of, fold
from fingertight.store.models import Job, Workshop
from fingertight.store.school.classes import class_at
from fingertight.store.school.diary import diary, write_down
from fingertight.store.school.tables import ClassBench, SchoolClass
from fingertight.web.people.who import Who

_Key = tuple[str, int, str]
Known = TypeVar("Known")
_courses: dict[_Key, tuple[Course, int]] = {}
_of_job: dict[_Key, tuple[str, ...]] = {}
_lock = threading.Lock()
_changes = 0
"""Grows with everything that makes what is remembered old: what was read before it grew is not remembered."""


def course(workshop: Workshop, slug: str) -> Course:
    """The state of a class as it is now. To be read only."""
    return _course(workshop, slug)[0]


def course_mark(workshop: Workshop, slug: str) -> int:
    """A number that grows with every entry of a class's log."""
    return _course(workshop, slug)[1]


def write(of: SchoolClass, who: Who, entry_id: str, kind: str, **said: Any) -> bool:
    """Write one entry into a class's log; whether it was new.

    Raises NotInTheDiary where it cannot be said now; nothing is kept then.
    """
    whole = {"id": entry_id, "kind": kind, "at": datetime.now(UTC).astimezone().isoformat(), "by": who.id, **said}

    def may(entries: list[dict[str, Any]]) -> None:
        fold(course_of(entries), whole)

    try:
        return write_down(of.workshop, of.slug, whole, may)
    finally:
        _forget_what_was_read(_courses, _key(of.workshop, of.slug))


def could(of: Course, said: Mapping[str, Any]) -> bool:
    """Whether a class would take this entry now."""
    try:
        fold(deepcopy(of), said)
    except NotInTheDiary:
        return False
    return True


def classes_of_job(job: Job) -> tuple[str, ...]:
    """The classes that have this job at a bench and are not put away, by address."""
    key = _key(job.workshop, job.id)
    known, before = _of_job.get(key), _changes
    if known is None:
        benches = ClassBench.objects.filter(workshop=job.workshop, job=job.id).order_by("class_slug")
        gone = SchoolClass.objects.filter(workshop=job.workshop).exclude(archived=None).values_list("slug", flat=True)
        known = tuple(benches.exclude(class_slug__in=list(gone)).values_list("class_slug", flat=True))
        _remember(_of_job, key, known, before)
    return known


def lesson_at(job: Job) -> tuple[SchoolClass, Course] | None:
    """The class whose lesson is open at this bench now; of two that share it, the one that opened last."""
    slugs = classes_of_job(job)
    at_work = [(found.now.opened, slug, found) for slug in slugs if (found := course(job.workshop, slug)).now]
    if not at_work:
        return None
    _, slug, found = max(at_work, key=lambda one: one[:2])
    of = class_at(job.workshop, slug)
    return (of, found) if of else None


def marks_of_job(job: Job) -> str:
    """What changes when anything in the lesson at this bench does; "" for a bench of no class."""
    return "".join(f".{course_mark(job.workshop, slug)}" for slug in classes_of_job(job))


def ending_sentence(of: Course) -> str:
    """What every bench of a class is told once the instructor said that it ends; "" before."""
    if not of.ending_said or of.ends is None:
        return ""
    end = f"{datetime.fromtimestamp(of.ends):%H:%M}"
    return f"The lesson ends at {end}. Finish the move you are at, then count, wipe, and bring the tools back."


def classes_changed() -> None:
    """Benches were given to classes, or a class was put away: ask the store again."""
    _forget_what_was_read(_of_job)
    _forget_what_was_read(_courses)


def _course(workshop: Workshop, slug: str) -> tuple[Course, int]:
    key = _key(workshop, slug)
    known, before = _courses.get(key), _changes
    if known is None:
        entries = diary(workshop, slug)
        known = (course_of(entries), len(entries))
        _remember(_courses, key, known, before)
    return known


def _remember(where: dict[_Key, Known], key: _Key, known: Known, before: int) -> None:
    """Keep what was read from the store, unless something was written since the reading began."""
    with _lock:
        if before == _changes:
            where[key] = known


def _forget_what_was_read(where: dict[_Key, Known], key: _Key | None = None) -> None:
    global _changes  # noqa: PLW0603 - one counter for the whole process, as what is remembered is
    with _lock:
        _changes += 1
        if key is None:
            where.clear()
        else:
            where.pop(key, None)


def _key(workshop: Workshop, name: str) -> _Key:
    return str(settings.DATABASES["default"]["NAME"]), workshop.pk, name
