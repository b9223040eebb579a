"""A class is set up from what an instructor typed; copied; given more students; moved to a machine's new text."""

import json
from dataclasses import dataclass

from django.http import HttpRequest

from fingertight.lesson.roster import NotARoster, Roster, read_roster
from fingertight.quantity import NotUnderstood, read_number
from fingertight.store.log.promise import Refused, Sent
from fingertight.store.models import Job, MachineVersion
from fingertight.store.school.classes import (
    Wanted,
    add_students,
    benches_of,
    class_at,
    make_class,
    members_of,
    move_job,
)
from fingertight.store.school.tables import SchoolClass
from fingertight.web.jobs.ledgers import check_log, log_of, plan_of
from fingertight.web.jobs.taps import Mistyped, now, signed
from fingertight.web.jobs.workshop import forget_job, machine_at, the_workshop
from fingertight.web.lesson.courses import classes_changed
from fingertight.web.people.who import Who, look_again

MOST_BENCHES, MOST_LESSONS = 30, 200
LONGEST_LESSON_MIN = 600
LONGEST_TITLE = 80


@dataclass(frozen=True)
class Added:
    """A class that was made, or students that were added; left_out: sentences about lines that were not taken."""

    of: SchoolClass
    students: int
    left_out: tuple[str, ...]


def made_from(request: HttpRequest) -> Added:
    """The class that the form asks for. Raises Mistyped, with where it is wrong and how to mend it."""
    form = request.POST
    title = " ".join(form.get("title", "").split())[:LONGEST_TITLE]
    if not title:
        raise Mistyped("The class has no name. Type one, for example Thursday class, then press again.")
    shared = form.get("engines", "")
    like = class_at(the_workshop(), shared) if shared else None
    if shared and like is None:
        raise Mistyped("Engines: there is no class of this name. Choose a class of the list, then press again.")
    version = machine_at(like.machine if like else form.get("machine", ""))
    jobs = [one.job for one in benches_of(like)] if like else []
    many = len(jobs) or whole("How many benches", form.get("benches", "12"), MOST_BENCHES)
    benches = tuple(one.bench for one in benches_of(like)) if like else tuple(f"Bench {n}" for n in range(1, many + 1))
    lessons = whole("How many lessons", form.get("lessons", "8"), MOST_LESSONS)
    minutes = whole("Minutes of a lesson", form.get("minutes", "90"), LONGEST_LESSON_MIN)
    roster = roster_from(request, optional=True)
    students = tuple((one.name, one.mark) for one in roster.students)
    made = make_class(version, Wanted(title, benches, lessons, minutes, students), jobs)
    classes_changed()
    look_again()
    return Added(made, len(students), roster.left_out)


def more_students(request: HttpRequest, of: SchoolClass) -> Added:
    """The students of a list are added to a class. Raises Mistyped."""
    roster = roster_from(request, taken=[(one.name, one.mark) for one, _ in members_of(of)])
    added = add_students(of, [(one.name, one.mark) for one in roster.students])
    look_again()
    return Added(of, len(added), roster.left_out)


def roster_from(request: HttpRequest, *, taken: list[tuple[str, str]] | None = None, optional: bool = False) -> Roster:
    """The list that was sent as a file, or pasted. Raises Mistyped."""
    sent = request.FILES.get("list")
    text = request.POST.get("names", "")
    if optional and sent is None and not text.strip():
        return Roster((), ())
    try:
        return read_roster(sent.read() if sent else text, taken or ())
    except NotARoster as wrong:
        raise Mistyped(str(wrong)) from None


def copied(of: SchoolClass, title: str) -> SchoolClass:
    """A class like this one, with engines of its own on the newest text of the machine, and nobody in it yet."""
    version = machine_at(of.machine)
    benches = tuple(one.bench for one in benches_of(of))
    made = make_class(version, Wanted(title[:LONGEST_TITLE], benches, of.lessons, of.lesson_min))
    classes_changed()
    return made


def moved_to_newest(of: SchoolClass, who: Who) -> tuple[int, list[str]]:
    """Every bench of a class stands on the newest text of its machine; of how many, and why others do not.

    A bench whose log could not be read with that text keeps its own. An entry says when it was moved.
    """
    version, moved, kept = machine_at(of.machine), 0, []
    for bench in benches_of(of):
        job = Job.objects.select_related("machine_version", "workshop").get(workshop=of.workshop, id=bench.job)
        if job.machine_sha256 == version.sha256:
            continue
        try:
            _move(job, version, who)
            moved += 1
        except Refused as wrong:
            kept.append(f"{bench.bench} keeps its file: {wrong}")
    return moved, kept


def _move(job: Job, version: MachineVersion, who: Who) -> None:
    plan, _ = plan_of(version.sha256, version.text)
    log = log_of(job)
    entries = log.after()
    check_log(plan, entries)
    if entries:
        text = f"From here on the machine’s file is version {version.number}."
        said = {**signed("note", who), "text": text, "machine_sha256": version.sha256}
        log.append([Sent(said["id"], json.dumps(said, ensure_ascii=False))], now())
    move_job(job, version)
    forget_job(job.slug)


def whole(what: str, typed: str, most: int) -> int:
    """A whole number from 1 up to `most`. Raises Mistyped."""
    try:
        number = read_number(typed)
    except NotUnderstood as wrong:
        raise Mistyped(f"{what}: {wrong}") from None
    if number != int(number) or not 1 <= number <= most:
        raise Mistyped(f"{what}: “{typed.strip()[:20]}” is no whole number from 1 to {most}.")
    return int(number)
