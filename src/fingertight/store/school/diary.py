"""The log of a class: entries are only ever added, each id once. What they mean, `lesson.diary` says."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any

from django.db import transaction
from django.db.models import Max

from fingertight.store.models import Workshop
from fingertight.store.school.tables import ClassEntry, SchoolClass

Said = Mapping[str, Any]


def diary(workshop: Workshop, class_slug: str) -> list[dict[str, Any]]:
    """Every entry of a class in order."""
    bodies = ClassEntry.objects.filter(workshop=workshop, class_slug=class_slug).order_by("seq")
    return [json.loads(body) for body in bodies.values_list("body", flat=True)]


@transaction.atomic
def write_down(workshop: Workshop, class_slug: str, said: Said, may: Callable[[list[dict[str, Any]]], object]) -> bool:
    """Add one entry, unless its id is here already; whether it was new.

    may: asked with the entries there are, under the database's lock; what it raises is passed on and nothing is kept.
    """
    SchoolClass.objects.select_for_update().filter(workshop=workshop, slug=class_slug).first()
    if ClassEntry.objects.filter(workshop=workshop, id=said["id"]).exists():
        return False
    may(diary(workshop, class_slug))
    entries = ClassEntry.objects.filter(workshop=workshop, class_slug=class_slug)
    last = entries.aggregate(last=Max("seq"))["last"] or 0
    ClassEntry.objects.create(
        workshop=workshop,
        class_slug=class_slug,
        seq=last + 1,
        id=said["id"],
        body=json.dumps(dict(said), ensure_ascii=False),
    )
    return True
