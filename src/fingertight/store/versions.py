"""Versions of a machine: texts are kept once each, and every step from one to the next is only ever added."""

from __future__ import annotations

from datetime import datetime
from hashlib import sha256

from django.db import transaction
from django.db.models import Max

from fingertight.store.log.promise import Refused
from fingertight.store.models import MachineStep, MachineVersion, Workshop

KEPT, BACK = "kept", "back"


def steps_of(workshop: Workshop, slug: str) -> list[MachineStep]:
    """Every version of a machine with its text, the newest first."""
    steps = MachineStep.objects.filter(workshop=workshop, slug=slug)
    return list(steps.select_related("text").order_by("-number"))


def newest_of(workshop: Workshop, slug: str) -> MachineVersion | None:
    """The text that a machine has now; None where there is no such machine."""
    last = MachineStep.objects.filter(workshop=workshop, slug=slug).select_related("text").order_by("number").last()
    if last is not None:
        return last.text  # type: ignore[no-any-return]
    return MachineVersion.objects.filter(workshop=workshop, slug=slug).order_by("version").last()


@transaction.atomic
def next_version(
    workshop: Workshop, slug: str, name: str, text: str, kept: datetime, *, by: str = "", how: str = KEPT
) -> MachineVersion:
    """The machine has this text from now on, under the next number; the text it has already is no new version.

    by: the id of who made it. A text that was kept before is not kept twice: the new version is that text again.
    """
    _one_at_a_time(workshop)
    hashed = sha256(text.encode()).hexdigest()
    newest = newest_of(workshop, slug)
    if newest is not None and newest.sha256 == hashed:
        return newest
    number = 1 + _last_number(workshop, slug)
    version = kept_text(workshop, slug, text) or MachineVersion.objects.create(
        workshop=workshop, slug=slug, version=number, name=name, sha256=hashed, text=text, kept=kept
    )
    MachineStep.objects.create(workshop=workshop, slug=slug, number=number, sha256=hashed, at=kept, by=by, how=how)
    return version


def kept_text(workshop: Workshop, slug: str, text: str) -> MachineVersion | None:
    """The text as it is kept of this machine, newest or not."""
    hashed = sha256(text.encode()).hexdigest()
    return MachineVersion.objects.filter(workshop=workshop, slug=slug, sha256=hashed).first()


@transaction.atomic
def go_back(workshop: Workshop, slug: str, to: int, *, newest: int, at: datetime, by: str = "") -> MachineVersion:
    """The text of an older version becomes the machine's newest, under the next number. Nothing is lost.

    newest: the version that whoever goes back has seen as the newest; a second press, or a change made meanwhile by
    somebody else, is so no surprise. Raises Refused, and nothing changes then.
    """
    _one_at_a_time(workshop)
    steps = {step.number: step for step in steps_of(workshop, slug)}
    last = max(steps, default=0)
    if to not in steps:
        raise Refused(f"This machine has no version {to}. Choose one of the list.")
    if newest != last:
        raise Refused(f"Meanwhile this machine has version {last}. Look at what changed, then choose again.")
    if steps[to].sha256 == steps[last].sha256:
        raise Refused(f"Version {to} and version {last} are the same text: there is nothing to go back to.")
    text = steps[to].text
    return next_version(workshop, slug, text.name, text.text, at, by=by, how=f"{BACK} {to}")


def _last_number(workshop: Workshop, slug: str) -> int:
    steps = MachineStep.objects.filter(workshop=workshop, slug=slug).aggregate(last=Max("number"))["last"]
    texts = MachineVersion.objects.filter(workshop=workshop, slug=slug).aggregate(last=Max("version"))["last"]
    return max(steps or 0, texts or 0)


def _one_at_a_time(workshop: Workshop) -> None:
    """Two who keep at the same moment get two numbers: the workshop's row is held to the end. SQLite needs no such."""
    Workshop.objects.select_for_update(no_key=True).get(pk=workshop.pk)
