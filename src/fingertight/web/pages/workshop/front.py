"""The front page, starting a job, and reading one in."""

import json
import re
from datetime import UTC, datetime
from uuid import UUID, uuid5

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.lesson.classes import ClassLine, class_line
from fingertight.cards.workshop.front import FrontCard, JobLine, MachineLine, job_line, machine_line, start_card
from fingertight.store.archive import JobArchive, read_archive
from fingertight.store.kept import keep_archive
from fingertight.store.log.lines import first_of_each, read_lines
from fingertight.store.log.promise import Kept, Refused, Sent
from fingertight.store.models import Job, MachineVersion
from fingertight.store.school.classes import benches_of, classes
from fingertight.store.school.tables import SchoolClass
from fingertight.web.jobs.ledgers import check_archive, check_log, ledger_of, name_of, plan_of
from fingertight.web.jobs.taps import AN_ID, Mistyped, aimed, now, opening, signed
from fingertight.web.jobs.workshop import machine_at, newest_versions, the_workshop
from fingertight.web.lesson.courses import course
from fingertight.web.marks import new_id
from fingertight.web.pages.lesson.classes import facts_of
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import Role, who_of

LONGEST_NAME = 60
MOST_BENCHES = 30


@only("GET", "HEAD")
def front(request: HttpRequest, problem: str = "", status: int = 200) -> HttpResponse:
    """Every class, bench and machine, for those who teach; a student's own bench; for a visitor, how to join."""
    workshop, who = the_workshop(), who_of(request)
    if who.role is Role.VISITOR:
        return render(request, "join.html", {"problem": problem, "code": "", "workshop": workshop.name}, status=status)
    if who.role is Role.STUDENT:
        return see(f"/bench/{who.seats[0].job}" if len(who.seats) == 1 else "/hands")
    jobs = tuple(_line(job) for job in Job.objects.select_related("machine_version").order_by("bench", "number"))
    machines = tuple(_machine(version) for version in newest_versions(workshop))
    lines = tuple(_class(of) for of in classes(workshop))
    away = tuple(_class(of) for of in classes(workshop, archived=True))
    card = FrontCard(workshop.name, lines, away, jobs, machines)
    return render(request, "front.html", {"card": card, "problem": problem}, status=status)


def _class(of: SchoolClass) -> ClassLine:
    return class_line(facts_of(of), course(of.workshop, of.slug), len(benches_of(of)))


def _line(job: Job) -> JobLine:
    with ledger_of(job) as live:
        return job_line(name_of(job), live.ledger)


def _machine(version: MachineVersion) -> MachineLine:
    plan, _ = plan_of(version.sha256, version.text)
    jobs = Job.objects.filter(machine=version.slug).count()
    return machine_line(version.slug, plan.anatomy, version.number, jobs)


@only("GET", "HEAD", "POST")
def start(request: HttpRequest, slug: str) -> HttpResponse:
    """A new job on a machine: its bench, which one it is, what it lacks and what is off already."""
    version, problem = machine_at(slug), ""
    if request.method == "POST":
        try:
            jobs = _started(request, version)
            return see(f"/bench/{jobs[0].slug}" if len(jobs) == 1 else "/wall?class=all")
        except (Mistyped, Refused) as wrong:
            problem = str(wrong)
    form = request.POST
    typed = (form.get("bench", ""), form.get("name", ""))
    anatomy = plan_of(version.sha256, version.text)[0].anatomy
    aim = form if request.method == "POST" else request.GET
    wanted = [part for part in aim.getlist("to") if part in anatomy.part_by_id]
    card = start_card(slug, anatomy, typed, form.getlist("absent"), form.getlist("off"), wanted=wanted)
    said = {"card": card, "problem": problem, "many": form.get("count", ""), "to": wanted, "way": aim.getlist("way")}
    return render(request, "start.html", said, status=422 if problem else 200)


def _started(request: HttpRequest, version: MachineVersion) -> list[Job]:
    """The job of each bench that is to begin, numbered on from the first; sent twice it starts each once."""
    form = request.POST
    first = form.get("id", "") if AN_ID.match(form.get("id", "")) else new_id()
    benches = benches_from(form.get("bench", "").strip()[:LONGEST_NAME], form.get("count", ""))
    if len(benches) > 1 and (form.get("name", "").strip() or request.FILES.get("log")):
        raise Mistyped(
            "Several benches begin alike: leave empty which one it is and the log, or start them one by one."
        )
    names = [first, *(str(uuid5(UUID(first), bench)) for bench in benches[1:])]
    return [_begun(request, version, name, bench) for name, bench in zip(names, benches, strict=True)]


def benches_from(bench: str, count: str) -> list[str]:
    """The benches that begin, numbered on from the one that was typed: Bench 4 and 3 are Bench 4, 5 and 6.

    Raises Mistyped where there is no name, no number to go on from, or more than a class has.
    """
    if not bench:
        raise Mistyped("The bench has no name. Type one, for example Bench 4, then press again.")
    try:
        many = int(count.strip() or "1")
    except ValueError:
        raise Mistyped(f"How many benches: “{count.strip()[:20]}” is no whole number; write 1, 2, 3 …") from None
    if not 1 <= many <= MOST_BENCHES:
        raise Mistyped(f"How many benches: {many} is not between 1 and {MOST_BENCHES}.")
    if many == 1:
        return [bench]
    found = re.search(r"([0-9]{1,6})\Z", bench)
    if not found:
        raise Mistyped(f"“{bench}” ends in no number to count on from. Type for example Bench 1, then press again.")
    return [f"{bench[: found.start()]}{int(found[1]) + nth}" for nth in range(many)]


def _begun(request: HttpRequest, version: MachineVersion, name: str, bench: str) -> Job:
    """The job with its opening entries and those of a log that was sent, or nothing."""
    known = Job.objects.filter(id=name).first()
    if known:
        return known
    form = request.POST
    which = form.get("name", "").strip()[:LONGEST_NAME]
    title = f"{version.name}, {which}" if which else ""
    plan, bags = plan_of(version.sha256, version.text)
    said = opening(plan, bags, form.getlist("absent"), form.getlist("off"), who_of(request))
    if wanted := form.getlist("to"):
        said.append(signed("aim", who_of(request)) | aimed(plan.anatomy, wanted, form.getlist("way")))
    first = [Sent(one["id"], json.dumps(one, ensure_ascii=False)) for one in said]
    sent = request.FILES.get("log")
    lines = first_of_each(read_lines(sent.read(), sent.name or "The log")) if sent else ()
    log = tuple(Kept(seq, one.id, one.body, now()) for seq, one in enumerate((*first, *lines), 1))
    check_log(plan, log)
    job = JobArchive(name, title, bench, now(), version.slug, version.name, version.text, log)
    return keep_archive(version.workshop, job, datetime.now(UTC))


@only("POST")
def read_in(request: HttpRequest) -> HttpResponse:
    """A job from its zip, with its machine's text and its whole log."""
    sent = request.FILES.get("archive")
    try:
        if sent is None:
            raise Refused("No file was chosen. Choose the zip of a job, then press again.")
        archive = read_archive(sent.read(), sent.name or "The file")
        check_archive(archive)
        job = keep_archive(the_workshop(), archive, datetime.now(UTC))
    except Refused as refused:
        request.method = "GET"
        return front(request, problem=str(refused), status=422)
    return see(f"/bench/{job.slug}")
