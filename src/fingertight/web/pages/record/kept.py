"""The recording at an address: one more entry of it, what it teaches, the machine that is made of it."""

import time
from datetime import UTC, datetime
from typing import Any

from django.http import Http404, HttpRequest

from fingertight.anatomy.read import read
from fingertight.anatomy.told.carried import carried
from fingertight.anatomy.write import CannotEdit, rewritten
from fingertight.lesson.record.asked import learned_from
from fingertight.lesson.record.drawn import drawn
from fingertight.lesson.record.recording import NotRecorded, Recording, fold, recording_of
from fingertight.order.learn import Learned
from fingertight.store.kept import keep_machine
from fingertight.store.school.recordings import became, entries_of, record, recording_at
from fingertight.store.school.tables import RecordedMachine
from fingertight.store.versions import newest_of
from fingertight.web.jobs.taps import AN_ID
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.marks import new_id
from fingertight.web.pages.workshop.machine import free_slug
from fingertight.web.people.names import names_for
from fingertight.web.people.who import who_of


def found(slug: str) -> RecordedMachine:
    """The recording at this address. Raises Http404."""
    of = recording_at(the_workshop(), slug)
    if of is None:
        raise Http404(slug)
    return of


def enter(request: HttpRequest, of: RecordedMachine, kind: str, **said: Any) -> None:
    """Write one entry, under the id that the form carries. Raises NotRecorded; nothing is kept then."""
    write(of, who_of(request).id, request.POST.get("id", ""), {"kind": kind, **said})


def write(of: RecordedMachine, who: str, given: str, said: dict[str, Any]) -> None:
    """Write one entry, under this id if it is one. Raises NotRecorded; nothing is kept then."""
    name = given if AN_ID.match(given) else new_id()
    whole = {"id": name, "at": datetime.now(UTC).astimezone().isoformat(), "by": who, **said}
    record(of, whole, lambda entries: fold(recording_of(entries), whole))


def learned(request: HttpRequest, of: RecordedMachine, recording: Recording) -> Learned:
    """What is known of who blocks whom, with parts by name."""
    names = names_for(who_of(request), of.workshop)
    return learned_from(recording, f"the recording of {of.begun:%d %B %Y}", names)


def made(request: HttpRequest, of: RecordedMachine) -> str:
    """The machine of what is known, kept; its address. Raises NotRecorded.

    Where somebody changed the machine since it was made, only what is new is carried into their text.
    """
    entries = entries_of(of)
    recording = recording_of(entries)
    if not recording.off:
        raise NotRecorded("Nothing came off yet: there is no machine to make.")
    if len(recording.filmed.added) == len(recording.off):
        raise NotRecorded(
            "This is the log of a film of a machine that has its file. Change the machine on its own page."
        )
    text = _drawn(request, of, entries)
    slug = of.machine or free_slug(of.name, text)
    newest = newest_of(of.workshop, slug)
    last = max((place for place, said in enumerate(entries) if said["kind"] == "made"), default=0)
    if newest is not None and last:
        before = _drawn(request, of, entries[:last])
        text = text if newest.text == before else _with_what_is_new(before, text, newest.text)
    version = keep_machine(of.workshop, slug, of.name, text, datetime.now(UTC), by=who_of(request).id)
    became(of, slug)
    enter(request, of, "made", machine=slug, version=version.version)
    return slug


def _drawn(request: HttpRequest, of: RecordedMachine, entries: list[dict[str, Any]]) -> str:
    """The machine's file as these entries make it. Raises NotRecorded."""
    recording = recording_of(entries)
    day = time.strftime("%Y-%m-%d", time.localtime(of.begun.timestamp()))
    text = drawn(of.name, recording, learned(request, of, recording), day)
    if mistakes := read(text).mistakes:
        said = "; ".join(f"{one.text} {one.mend}" for one in mistakes[:3])
        raise NotRecorded(f"What was recorded makes no machine file yet: {said} Amend the part it names.")
    return text


def _with_what_is_new(before: str, after: str, now: str) -> str:
    """The text as somebody changed it, with what is new since it was made. Raises NotRecorded."""
    anatomies = [read(one).anatomy for one in (before, after, now)]
    if None in anatomies:
        raise NotRecorded("The machine’s file cannot be read any more. Mend it on the machine’s page first.")
    try:
        changed = rewritten(now, carried(*filter(None, anatomies)))
    except CannotEdit as wrong:
        raise NotRecorded(str(wrong)) from None
    if mistakes := read(changed).mistakes:
        said = " ".join(f"{one.text} {one.mend}" for one in mistakes[:3])
        raise NotRecorded(f"What is new does not go with what was changed in the machine’s file: {said}")
    return changed
