"""Recordings of machines: entries are only ever added, each id once. What they mean, `lesson.record` says."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any

from django.db import transaction
from django.db.models import Max

from fingertight.store.models import Workshop
from fingertight.store.school.tables import RecordedEntry, RecordedMachine


def recordings(workshop: Workshop) -> list[RecordedMachine]:
    """All of them, the newest first."""
    return list(RecordedMachine.objects.filter(workshop=workshop).order_by("-begun", "slug"))


def recording_at(workshop: Workshop, slug: str) -> RecordedMachine | None:
    """The recording at this address."""
    return RecordedMachine.objects.filter(workshop=workshop, slug=slug).first()


def recordings_of(workshop: Workshop, machine: str) -> list[RecordedMachine]:
    """The recordings this machine was made from, or that are of its films; the newest first."""
    return list(RecordedMachine.objects.filter(workshop=workshop, machine=machine).order_by("-begun", "slug"))


@transaction.atomic
def begin_recording(workshop: Workshop, name: str, machine: str = "") -> RecordedMachine:
    """A new machine, nothing of it recorded yet; or a film of a machine that has its file."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    base = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60] or "machine"
    taken = set(RecordedMachine.objects.filter(workshop=workshop).values_list("slug", flat=True)) | {"new"}
    slug = next(one for one in (base, *(f"{base}-{nth}" for nth in range(2, 10_000))) if one not in taken)
    return RecordedMachine.objects.create(
        workshop=workshop, slug=slug, name=name, begun=datetime.now(UTC), machine=machine
    )


def became(recording: RecordedMachine, machine: str) -> None:
    """The machine that was made from it."""
    RecordedMachine.objects.filter(workshop=recording.workshop, slug=recording.slug).update(machine=machine)


def entries_of(recording: RecordedMachine) -> list[dict[str, Any]]:
    """Every entry in order."""
    bodies = RecordedEntry.objects.filter(workshop=recording.workshop, recording=recording.slug).order_by("seq")
    return [json.loads(body) for body in bodies.values_list("body", flat=True)]


@transaction.atomic
def record(recording: RecordedMachine, said: Mapping[str, Any], may: Callable[[list[dict[str, Any]]], object]) -> bool:
    """Add one entry, unless its id is here already; whether it was new.

    may: asked with the entries there are, under the database's lock; what it raises is passed on and nothing is kept.
    """
    RecordedMachine.objects.select_for_update().filter(workshop=recording.workshop, slug=recording.slug).first()
    if RecordedEntry.objects.filter(workshop=recording.workshop, id=said["id"]).exists():
        return False
    may(entries_of(recording))
    entries = RecordedEntry.objects.filter(workshop=recording.workshop, recording=recording.slug)
    RecordedEntry.objects.create(
        workshop=recording.workshop,
        recording=recording.slug,
        seq=(entries.aggregate(last=Max("seq"))["last"] or 0) + 1,
        id=said["id"],
        body=json.dumps(dict(said), ensure_ascii=False),
    )
    return True
