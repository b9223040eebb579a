"""What is kept besides entries, as Django models without rules: workshop, machines' texts, jobs, label printers,
attempts at reading an instrument.

Every key leads with the workshop, so that one workshop and ten thousand on a sharded database are the same schema.
Entries are not here: they are one table with its own SQL (`log/statements.py`).
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import models

from fingertight.store.school import tables  # noqa: F401 - Django finds models through this module


class Workshop(models.Model):
    """One school's or one person's room."""

    name: models.CharField[str, str] = models.CharField(max_length=200)


class MachineVersion(models.Model):
    """One text of a machine's anatomy, exactly as given; version: the number it was first kept under.

    A new text is a new version; the database refuses changes. Which text is the newest, `MachineStep` says.
    """

    pk: Any = models.CompositePrimaryKey("workshop_id", "slug", "version")
    workshop: models.ForeignKey[Workshop, Workshop] = models.ForeignKey(Workshop, models.PROTECT, db_index=False)
    slug: models.CharField[str, str] = models.CharField(max_length=80)
    version: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    name: models.CharField[str, str] = models.CharField(max_length=200)
    sha256: models.CharField[str, str] = models.CharField(max_length=64)
    text: models.TextField[str, str] = models.TextField()
    kept: models.DateTimeField[datetime, datetime] = models.DateTimeField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=("workshop", "slug", "sha256"), name="one_version_per_text"),)

    @property
    def number(self) -> int:
        """The number of the machine's newest version that has this text: going back gives an old text a new number."""
        steps = MachineStep.objects.filter(workshop=self.workshop, slug=self.slug, sha256=self.sha256)
        return steps.aggregate(last=models.Max("number"))["last"] or self.version


class MachineStep(models.Model):
    """One version of a machine: from here on this text was its newest. Only ever added: going back is a step, too.

    by: the id of who made it, "" where nobody is known. how: "kept", or "back N" for the text of version N again.
    """

    pk: Any = models.CompositePrimaryKey("workshop_id", "slug", "number")
    workshop: models.ForeignKey[Workshop, Workshop] = models.ForeignKey(Workshop, models.PROTECT, db_index=False)
    slug: models.CharField[str, str] = models.CharField(max_length=80)
    number: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    sha256: models.CharField[str, str] = models.CharField(max_length=64)
    at: models.DateTimeField[datetime, datetime] = models.DateTimeField()
    by: models.CharField[str, str] = models.CharField(max_length=40, blank=True)
    how: models.CharField[str, str] = models.CharField(max_length=60, blank=True)
    text: Any = models.ForeignObject(
        MachineVersion,
        models.PROTECT,
        from_fields=("workshop", "slug", "sha256"),
        to_fields=("workshop", "slug", "sha256"),
        related_name="steps",
    )


class Job(models.Model):
    """One machine at one bench being stripped, measured and built back. Where it stands follows from its log alone."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "id")
    workshop: models.ForeignKey[Workshop, Workshop] = models.ForeignKey(Workshop, models.PROTECT, db_index=False)
    id: models.CharField[str, str] = models.CharField(max_length=200)
    slug: models.CharField[str, str] = models.CharField(max_length=100)
    number: models.PositiveIntegerField[int, int] = models.PositiveIntegerField()
    title: models.CharField[str, str] = models.CharField(max_length=300)
    bench: models.CharField[str, str] = models.CharField(max_length=200)
    started: models.DateTimeField[datetime, datetime] = models.DateTimeField()
    machine: models.CharField[str, str] = models.CharField(max_length=80)
    machine_sha256: models.CharField[str, str] = models.CharField(max_length=64)
    machine_version: Any = models.ForeignObject(
        MachineVersion,
        models.PROTECT,
        from_fields=("workshop", "machine", "machine_sha256"),
        to_fields=("workshop", "slug", "sha256"),
        related_name="jobs",
    )

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=("workshop", "slug"), name="one_job_per_address"),
            models.UniqueConstraint(fields=("workshop", "machine", "number"), name="one_job_per_number"),
        )


class LabelPrinter(models.Model):
    """How far one printer misses, as its ruler page showed: added to every label sheet it prints."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "name")
    workshop: models.ForeignKey[Workshop, Workshop] = models.ForeignKey(Workshop, models.PROTECT, db_index=False)
    name: models.CharField[str, str] = models.CharField(max_length=100)
    nudge_x_mm: models.FloatField[float, float] = models.FloatField(default=0.0)
    nudge_y_mm: models.FloatField[float, float] = models.FloatField(default=0.0)
    scale_x: models.FloatField[float, float] = models.FloatField(default=1.0)
    scale_y: models.FloatField[float, float] = models.FloatField(default=1.0)


class Attempt(models.Model):
    """One try at reading a drawn instrument, as it was typed; what it was worth follows from the seed. Only added."""

    pk: Any = models.CompositePrimaryKey("workshop_id", "id")
    workshop: models.ForeignKey[Workshop, Workshop] = models.ForeignKey(Workshop, models.PROTECT, db_index=False)
    id: models.CharField[str, str] = models.CharField(max_length=36)
    who: models.CharField[str, str] = models.CharField(max_length=40)
    instrument: models.CharField[str, str] = models.CharField(max_length=40)
    seed: models.PositiveBigIntegerField[int, int] = models.PositiveBigIntegerField()
    typed: models.CharField[str, str] = models.CharField(max_length=60)
    at: models.DateTimeField[datetime, datetime] = models.DateTimeField()
