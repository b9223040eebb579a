"""The log of a class becomes its state, entry by entry; like a job's log it is only ever added to.

Every entry has `id`, `kind`, `at` (RFC 3339, the server's clock) and `by` (a person's id).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

Said = Mapping[str, Any]

KINDS: dict[str, dict[str, type]] = {
    "open": {"minutes": int},
    "away": {"person": str},
    "here": {"person": str},
    "ending": {"minutes": int},
    "seat": {"person": str, "bench": str},
    "ask": {"tool": str, "bench": str},
    "leave": {"tool": str, "bench": str},
    "close": {"short": int},
}
"""What each kind must say besides id, kind, at and by. `close` says a `word` too where something is short."""

LONGEST_LESSON_MIN = 600


class NotInTheDiary(Exception):
    """This is no entry of a class's log, or not one for now; the message says why and how to mend it."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """One period [s since 1970, minutes]. word: the instructor's, where it was closed with something short."""

    number: int
    opened: float
    minutes: int
    opened_by: str
    closed: float | None = None
    short: int = 0
    word: str = ""
    closed_by: str = ""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A bench waits for a shared tool since then [s since 1970]."""

    tool: str
    bench: str
    since: float
    by: str


@dataclass
class Course:
    """Where a class stands: its lessons, who is away in the one that is open, when it ends, who waits for a tool."""

    lessons: list[Lesson] = field(default_factory=list)
    away: set[str] = field(default_factory=set)
    ends: float | None = None
    waiting: list[Waiting] = field(default_factory=list)
    ending_said: bool = False

    @property
    def now(self) -> Lesson | None:
        """The lesson that is open."""
        return self.lessons[-1] if self.lessons and self.lessons[-1].closed is None else None

    @property
    def next_number(self) -> int:
        """The number of the lesson that is open, or of the one to come."""
        return self.now.number if self.now else len(self.lessons) + 1

    def minutes_left(self, at: float) -> int | None:
        """How long the open lesson goes on [whole minutes, 0 when its time is over]; None where none is open."""
        return None if self.ends is None else max(int((self.ends - at) // 60), 0)

    def elapsed_min(self, at: float) -> float:
        """How long the open lesson has gone on, no longer than it was planned [minutes]; 0 where none is open."""
        return min(max(at - self.now.opened, 0.0) / 60, float(self.now.minutes)) if self.now else 0.0


def checked(said: Said) -> float:
    """When an entry was made [s since 1970], if it is one of a class's log.

    >>> checked({"id": "1", "kind": "away", "at": "2026-03-05T09:00:00+00:00", "by": "p1", "person": "p2"})
    1772701200.0

    Raises NotInTheDiary.
    """
    wanted = KINDS.get(str(said.get("kind")))
    if wanted is None:
        raise NotInTheDiary(f"A class’s log has no entries of kind {said.get('kind')!r}.")
    for name, kind in {"id": str, "at": str, "by": str, **wanted}.items():
        if not isinstance(said.get(name), kind) or said[name] == "":
            raise NotInTheDiary(f"An entry of kind {said['kind']} says `{name}` ({kind.__name__}).")
    if "minutes" in wanted and not 0 < said["minutes"] <= LONGEST_LESSON_MIN:
        raise NotInTheDiary(f"A lesson has 1 to {LONGEST_LESSON_MIN} minutes, not {said['minutes']}.")
    try:
        when = datetime.fromisoformat(said["at"])
    except ValueError:
        when = None
    if when is None or when.tzinfo is None:
        raise NotInTheDiary(f"{said['at']!r} is not a time with its offset.")
    return when.timestamp()


def fold(course: Course, said: Said) -> Course:
    """The class after this entry; the same object, changed.

    Raises NotInTheDiary where it cannot be: a second lesson opened beside the first, a lesson closed that is not open,
    or closed with something short and without the instructor's word.
    """
    when, kind = checked(said), said["kind"]
    now = course.now
    if kind == "open":
        if now:
            raise NotInTheDiary(f"Lesson {now.number} is open already. Close it first.")
        course.lessons.append(Lesson(len(course.lessons) + 1, when, said["minutes"], said["by"]))
        course.away, course.ends, course.ending_said = set(), when + 60 * said["minutes"], False
        course.waiting = []
        return course
    if kind == "seat":
        return course
    if now is None:
        raise NotInTheDiary("No lesson is open. Open one first.")
    if kind == "away":
        course.away.add(said["person"])
    elif kind == "here":
        course.away.discard(said["person"])
    elif kind == "ending":
        course.ends, course.ending_said = when + 60 * said["minutes"], True
    elif kind in {"ask", "leave"}:
        _queue(course, said, when)
    else:
        _close(course, now, said, when)
    return course


def course_of(entries: Iterable[Said]) -> Course:
    """The state of a class from its whole log. What cannot be read was refused when it was written."""
    course = Course()
    for said in entries:
        fold(course, said)
    return course


def _queue(course: Course, said: Said, when: float) -> None:
    """Who asks once more has had the tool in between, which the job's own log says: the wait begins anew."""
    key = (said["tool"], said["bench"])
    standing = [one for one in course.waiting if (one.tool, one.bench) == key]
    course.waiting = [one for one in course.waiting if one not in standing]
    if said["kind"] == "ask":
        course.waiting.append(Waiting(*key, when, said["by"]))


def _close(course: Course, now: Lesson, said: Said, when: float) -> None:
    word = str(said.get("word", "")).strip()
    if said["short"] and not word:
        raise NotInTheDiary(
            f"{said['short']} not right yet: find it, or write one sentence on why the lesson closes all the same."
        )
    course.lessons[-1] = Lesson(
        now.number, now.opened, now.minutes, now.opened_by, when, said["short"], word, said["by"]
    )
    course.ends, course.waiting = None, []
