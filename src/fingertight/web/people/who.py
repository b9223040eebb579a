"""Who sends a request: nobody known (a visitor), a student, an instructor, the owner.

Where no password was ever set and the server answers this machine only, whoever sits at it is the owner: a mechanic
alone with one engine signs in nowhere.
"""

import time
from dataclasses import dataclass
from enum import StrEnum

from django.conf import settings
from django.http import HttpRequest

from fingertight.store.models import Job, Workshop
from fingertight.store.school.tables import ClassBench, Member, Person, SchoolClass
from fingertight.web.jobs.workshop import the_workshop

FRESH_S = 2.0
"""How long a person is remembered: what another program changes counts after so long at the latest."""
STUDENT_S = 12 * 3600
INSTRUCTOR_S = 12 * 3600
MOST_HANDS = 4
HANDS = "hands"
ALONE = "owner"


class Role(StrEnum):
    """Who somebody is in a workshop, from the least to the most."""

    VISITOR = "visitor"
    STUDENT = "student"
    INSTRUCTOR = "instructor"
    OWNER = "owner"

    @property
    def rank(self) -> int:
        """0 for a visitor up to 3."""
        return list(Role).index(self)


@dataclass(frozen=True, slots=True)
class Seat:
    """A student's place: the class, the bench, the address of its job."""

    class_slug: str
    class_title: str
    bench: str
    job: str


@dataclass(frozen=True, slots=True)
class Who:
    """Somebody at a tablet. id: what the log calls them. alone: nobody signs in here. hands: the others who signed in
    at this tablet, to whom it changes with one tap."""

    role: Role = Role.VISITOR
    id: str = ""
    name: str = ""
    alone: bool = False
    seats: tuple[Seat, ...] = ()
    hands: tuple["Who", ...] = ()

    @property
    def teaches(self) -> bool:
        """Whether they sign, set aside and run lessons."""
        return self.role.rank >= Role.INSTRUCTOR.rank

    @property
    def signs_as(self) -> str:
        """What an entry of theirs says under `as`."""
        return "instructor" if self.teaches else "student"

    def is_at(self, job_slug: str) -> bool:
        """Whether this job is at their bench, or theirs to look after."""
        return self.teaches or any(seat.job == job_slug for seat in self.seats)


VISITOR = Who()


def who_of(request: HttpRequest) -> Who:
    """Who sends this request: looked up once, and only for what asks; a style sheet is for everybody."""
    who = getattr(request, "who", None)
    if not isinstance(who, Who):
        who = found(request)
        setattr(request, "who", who)  # noqa: B010 - mypy knows no such attribute of a request
    return who


def found(request: HttpRequest) -> Who:
    """Who the session says it is: the first of its hands; whose sign-in was revoked or is too old is not among them."""
    if not hasattr(request, "session"):  # refused before anything was looked at
        return VISITOR
    workshop, now = the_workshop(), time.time()
    hands = []
    for hand in request.session.get(HANDS, []):
        person, seats = _person(workshop, str(hand.get("id", "")))
        if person is None or person.forgotten or person.epoch != hand.get("epoch"):
            continue
        role = Role(person.role)
        if now - float(hand.get("at", 0)) > (STUDENT_S if role is Role.STUDENT else INSTRUCTOR_S):
            continue
        hands.append(Who(role, person.id, called(person), seats=seats))
    if hands:
        first, *rest = hands
        return Who(first.role, first.id, first.name, seats=first.seats, hands=tuple(rest))
    return Who(Role.OWNER, ALONE, "", alone=True) if is_alone(workshop) else VISITOR


def called(person: Person) -> str:
    """What somebody is called: first name and mark."""
    return f"{person.name} {person.mark}".strip()


def sign_in(request: HttpRequest, person: Person) -> None:
    """Somebody has this tablet in hand now. An instructor is never beside others: signing in as one signs all out."""
    mine = {"id": person.id, "epoch": person.epoch, "at": time.time()}
    others = [hand for hand in request.session.get(HANDS, []) if hand.get("id") != person.id]
    is_student = person.role == Role.STUDENT
    kept = [hand for hand in others if is_student and _is_student(hand)]
    request.session.cycle_key()  # a session that was known before the sign-in is worth nothing after it
    request.session[HANDS] = [mine, *kept][:MOST_HANDS]


def change_hands(request: HttpRequest, person_id: str) -> bool:
    """The tablet goes to another who signed in at it; False where they did not."""
    hands = request.session.get(HANDS, [])
    mine = [hand for hand in hands if hand.get("id") == person_id]
    if not mine:
        return False
    request.session[HANDS] = [*mine, *(hand for hand in hands if hand.get("id") != person_id)]
    return True


def leave(request: HttpRequest) -> None:
    """Everybody who signed in at this tablet is signed out."""
    request.session.flush()


def is_alone(workshop: Workshop) -> bool:
    """Whether nobody signs in here: the server answers this machine only, and no password was ever set."""
    if settings.BEYOND_THIS_MACHINE:
        return False
    key = (_database(), "")
    at, known = _alone.get(key, (0.0, False))
    if time.monotonic() - at >= FRESH_S:
        known = not Person.objects.filter(workshop=workshop).exclude(password="").exists()
        _alone[key] = (time.monotonic(), known)
    return known


def look_again() -> None:
    """Somebody was changed here: nothing remembered counts any more."""
    _people.clear()
    _alone.clear()


Remembered = tuple[Person | None, tuple[Seat, ...]]
_people: dict[tuple[str, str], tuple[float, Remembered]] = {}
_alone: dict[tuple[str, str], tuple[float, bool]] = {}


def _person(workshop: Workshop, person_id: str) -> Remembered:
    key = (_database(), person_id)
    at, known = _people.get(key, (0.0, (None, ())))
    if time.monotonic() - at >= FRESH_S:
        person = Person.objects.filter(workshop=workshop, id=person_id).first()
        known = (person, _seats(workshop, person_id) if person and person.role == Role.STUDENT else ())
        _people[key] = (time.monotonic(), known)
    return known


def _seats(workshop: Workshop, person_id: str) -> tuple[Seat, ...]:
    """The benches somebody has, in classes that are not put away."""
    found = []
    for member in Member.objects.filter(workshop=workshop, person=person_id):
        of = SchoolClass.objects.filter(workshop=workshop, slug=member.class_slug, archived=None).first()
        bench = ClassBench.objects.filter(workshop=workshop, class_slug=member.class_slug, bench=member.bench).first()
        job = Job.objects.filter(workshop=workshop, id=bench.job).first() if bench else None
        if of and bench and job:
            found.append(Seat(of.slug, of.title, bench.bench, job.slug))
    return tuple(found)


def _is_student(hand: dict[str, object]) -> bool:
    person, _ = _person(the_workshop(), str(hand.get("id", "")))
    return person is not None and person.role == Role.STUDENT


def _database() -> str:
    return str(settings.DATABASES["default"]["NAME"])
