"""A class is made whole or not at all: its benches with a job each, its members with their seats."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from uuid import uuid4

from django.db import IntegrityError, transaction

from fingertight.store.kept import start_job
from fingertight.store.log.promise import Refused
from fingertight.store.models import Job, MachineVersion, Workshop
from fingertight.store.school.people import keep_person, new_code
from fingertight.store.school.tables import ClassBench, Member, Person, SchoolClass

CODE_LETTERS = 6
PER_BENCH = 2


@dataclass(frozen=True)
class Wanted:
    """What a class is to be; students: name and mark, in the order they are seated."""

    title: str
    benches: tuple[str, ...]
    lessons: int
    lesson_min: int
    students: tuple[tuple[str, str], ...] = ()
    per_bench: int = PER_BENCH


@transaction.atomic
def make_class(version: MachineVersion, wanted: Wanted, jobs: Sequence[str] = ()) -> SchoolClass:
    """A class with its benches, a new job on each, or these jobs where it shares the engines of another class.

    Students are seated in the order of the list, so many to a bench; who finds no bench has none.
    """
    workshop, now = version.workshop, datetime.now(UTC)
    made = SchoolClass.objects.create(
        workshop=workshop,
        slug=_free_slug(workshop, wanted.title),
        title=wanted.title,
        machine=version.slug,
        lessons=wanted.lessons,
        lesson_min=wanted.lesson_min,
        made=now,
    )
    for nth, bench in enumerate(wanted.benches):
        job = jobs[nth] if nth < len(jobs) else start_job(version, str(uuid4()), bench, now).id
        _bench(made, bench, job)
    seats = [bench for bench in wanted.benches for _ in range(wanted.per_bench)]
    for nth, (name, mark) in enumerate(wanted.students):
        person = keep_person(workshop, name, mark, "student")
        seat(made, person, seats[nth] if nth < len(seats) else "")
    return made


def _bench(made: SchoolClass, bench: str, job: str) -> None:
    """One bench with a code nobody else in the workshop has."""
    for _ in range(20):
        code = new_code(CODE_LETTERS)
        if not ClassBench.objects.filter(workshop=made.workshop, code=code).exists():
            break
    ClassBench.objects.create(workshop=made.workshop, class_slug=made.slug, bench=bench, job=job, code=code)


def _free_slug(workshop: Workshop, title: str) -> str:
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    slug = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60] or "class"
    taken = set(SchoolClass.objects.filter(workshop=workshop).values_list("slug", flat=True)) | {"new"}
    return next(one for one in (slug, *(f"{slug}-{nth}" for nth in range(2, 10_000))) if one not in taken)


def seat(of: SchoolClass, person: Person, bench: str) -> None:
    """Somebody sits at this bench of a class from now on; "" is at none."""
    Member.objects.update_or_create(
        workshop=of.workshop, class_slug=of.slug, person=person.id, defaults={"bench": bench}
    )


@transaction.atomic
def add_students(of: SchoolClass, students: Iterable[tuple[str, str]], per_bench: int = PER_BENCH) -> list[Person]:
    """More students, seated where a bench has room, in the order of the benches."""
    taken: dict[str, int] = {}
    for member in Member.objects.filter(workshop=of.workshop, class_slug=of.slug):
        taken[member.bench] = taken.get(member.bench, 0) + 1
    benches = [one.bench for one in benches_of(of)]
    added = []
    for name, mark in students:
        person = keep_person(of.workshop, name, mark, "student")
        free = next((bench for bench in benches if taken.get(bench, 0) < per_bench), "")
        taken[free] = taken.get(free, 0) + 1
        seat(of, person, free)
        added.append(person)
    return added


def classes(workshop: Workshop, *, archived: bool = False) -> list[SchoolClass]:
    """The classes that are going on, or those put away, the newest first."""
    return list(SchoolClass.objects.filter(workshop=workshop, archived__isnull=not archived).order_by("-made", "slug"))


def class_at(workshop: Workshop, slug: str) -> SchoolClass | None:
    """The class at this address."""
    return SchoolClass.objects.filter(workshop=workshop, slug=slug).first()


def benches_of(of: SchoolClass) -> list[ClassBench]:
    """Its benches, as they were numbered."""
    found = ClassBench.objects.filter(workshop=of.workshop, class_slug=of.slug)
    return sorted(found, key=lambda one: [int(bit) if bit.isdecimal() else 0 for bit in re.split(r"(\d+)", one.bench)])


def members_of(of: SchoolClass) -> list[tuple[Person, str]]:
    """Everybody in the class with their bench, by name."""
    seats = dict(Member.objects.filter(workshop=of.workshop, class_slug=of.slug).values_list("person", "bench"))
    found = Person.objects.filter(workshop=of.workshop, id__in=seats, forgotten=None)
    return [(one, seats[one.id]) for one in sorted(found, key=lambda one: (one.name.casefold(), one.mark))]


def put_away(of: SchoolClass, *, away: bool) -> None:
    """Archive a class, or take it out again; its jobs and logs stay where they are."""
    SchoolClass.objects.filter(workshop=of.workshop, slug=of.slug).update(
        archived=datetime.now(UTC) if away else None, code=""
    )


def give_code(of: SchoolClass, code: str) -> None:
    """What students join with from now on; "" is nothing."""
    SchoolClass.objects.filter(workshop=of.workshop, slug=of.slug).update(code=code)


def move_job(job: Job, version: MachineVersion) -> None:
    """A job stands on another text of its machine from now on.

    Raises Refused where the machine is another one.
    """
    if (job.workshop.pk, job.machine) != (version.workshop.pk, version.slug):
        raise Refused("That is a text of another machine.")
    try:
        Job.objects.filter(workshop=job.workshop, id=job.id).update(machine_sha256=version.sha256)
    except IntegrityError:
        raise Refused("That text of the machine is not kept here.") from None
