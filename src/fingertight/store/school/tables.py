"""People, classes and what belongs to them, as Django models without rules. Every key leads with the workshop.

A name stands in one row only (`Person`): logs name people by their id, so that forgetting somebody leaves them whole.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import models


def _workshop() -> Any:
    return models.ForeignKey("store.Workshop", models.PROTECT, db_index=False)


class Person(models.Model):
    """Somebody of this workshop: a first name and a mark. number, password: hashed, "" until chosen. epoch: grows when
    every session of this person is to end."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "id")
    workshop: Any = _workshop()
    id: models.CharField[str, str] = models.CharField(max_length=40)
    name: models.CharField[str, str] = models.CharField(max_length=60)
    mark: models.CharField[str, str] = models.CharField(max_length=8, blank=True)
    role: models.CharField[str, str] = models.CharField(max_length=12)
    number: models.CharField[str, str] = models.CharField(max_length=200, blank=True)
    password: models.CharField[str, str] = models.CharField(max_length=200, blank=True)
    epoch: models.PositiveIntegerField[int, int] = models.PositiveIntegerField(default=0)
    made: models.DateTimeField[datetime, datetime] = models.DateTimeField()
    forgotten: models.DateTimeField[datetime | None, datetime | None] = models.DateTimeField(null=True)


class SchoolClass(models.Model):
    """Benches over their lessons. code: what students join with while a lesson is open, "" else."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "slug")
    workshop: Any = _workshop()
    slug: models.CharField[str, str] = models.CharField(max_length=80)
    title: models.CharField[str, str] = models.CharField(max_length=120)
    machine: models.CharField[str, str] = models.CharField(max_length=80)
    lessons: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    lesson_min: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    code: models.CharField[str, str] = models.CharField(max_length=12, blank=True)
    made: models.DateTimeField[datetime, datetime] = models.DateTimeField()
    archived: models.DateTimeField[datetime | None, datetime | None] = models.DateTimeField(null=True)


class ClassBench(models.Model):
    """One bench of a class and the job on it; two classes that share an engine name the same job. code: on its card."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "class_slug", "bench")
    workshop: Any = _workshop()
    class_slug: models.CharField[str, str] = models.CharField(max_length=80)
    bench: models.CharField[str, str] = models.CharField(max_length=200)
    job: models.CharField[str, str] = models.CharField(max_length=200)
    code: models.CharField[str, str] = models.CharField(max_length=12)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("workshop", "code"), name="one_bench_per_code"),)


class Member(models.Model):
    """Somebody in a class, and at which bench; "" where they have no bench yet."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "class_slug", "person")
    workshop: Any = _workshop()
    class_slug: models.CharField[str, str] = models.CharField(max_length=80)
    person: models.CharField[str, str] = models.CharField(max_length=40)
    bench: models.CharField[str, str] = models.CharField(max_length=200, blank=True)


class ClassEntry(models.Model):
    """One line of a class's log: lessons opened and closed, who was away, who waits for a tool. Only ever added."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "class_slug", "seq")
    workshop: Any = _workshop()
    class_slug: models.CharField[str, str] = models.CharField(max_length=80)
    seq: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    id: models.CharField[str, str] = models.CharField(max_length=36)
    body: models.TextField[str, str] = models.TextField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=("workshop", "id"), name="one_class_entry_per_id"),)


class SharedTool(models.Model):
    """A tool that several benches share, and how many of it there are."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "name")
    workshop: Any = _workshop()
    name: models.CharField[str, str] = models.CharField(max_length=80)
    many: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()


class TeacherLine(models.Model):
    """What the teacher says at one move of a machine, before it happens; "" takes it back."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "machine", "way", "part")
    workshop: Any = _workshop()
    machine: models.CharField[str, str] = models.CharField(max_length=80)
    way: models.CharField[str, str] = models.CharField(max_length=3)
    part: models.CharField[str, str] = models.CharField(max_length=200)
    text: models.CharField[str, str] = models.CharField(max_length=300)


class RecordedMachine(models.Model):
    """A machine that is recorded by stripping it. machine: the address of the one made from it, "" before."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "slug")
    workshop: Any = _workshop()
    slug: models.CharField[str, str] = models.CharField(max_length=80)
    name: models.CharField[str, str] = models.CharField(max_length=120)
    begun: models.DateTimeField[datetime, datetime] = models.DateTimeField()
    machine: models.CharField[str, str] = models.CharField(max_length=80, blank=True)


class RecordedEntry(models.Model):
    """One line of a recording: a part came off, was amended, an answer was given. Only ever added."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "recording", "seq")
    workshop: Any = _workshop()
    recording: models.CharField[str, str] = models.CharField(max_length=80)
    seq: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    id: models.CharField[str, str] = models.CharField(max_length=36)
    body: models.TextField[str, str] = models.TextField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=("workshop", "id"), name="one_recorded_entry_per_id"),)


class Photo(models.Model):
    """A picture, as JPEG: whole and small. id: SHA-256 of the whole. Both are emptied when it is taken away."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "id")
    workshop: Any = _workshop()
    id: models.CharField[str, str] = models.CharField(max_length=64)
    whole: Any = models.BinaryField()
    small: Any = models.BinaryField()
    by: models.CharField[str, str] = models.CharField(max_length=40)
    kept: models.DateTimeField[datetime, datetime] = models.DateTimeField()
    gone: models.DateTimeField[datetime | None, datetime | None] = models.DateTimeField(null=True)
