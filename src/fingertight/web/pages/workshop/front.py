"""The front page, starting a job, and reading one in."""

import json
from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.cards.workshop.front import FrontCard, JobLine, MachineLine, job_line, machine_line, start_card
from fingertight.store.archive import JobArchive, read_archive
from fingertight.store.kept import keep_archive
from fingertight.store.log.lines import first_of_each, read_lines
from fingertight.store.log.promise import Kept, Refused, Sent
from fingertight.store.models import Job, MachineVersion
from fingertight.web.jobs.ledgers import check_archive, check_log, ledger_of, name_of, plan_of
from fingertight.web.jobs.taps import AN_ID, Mistyped, now, opening
from fingertight.web.jobs.workshop import machine_at, newest_versions, the_workshop
from fingertight.web.marks import new_id
from fingertight.web.pages.refusals import only, see

LONGEST_NAME = 60


@only("GET", "HEAD")
def front(request: HttpRequest, problem: str = "", status: int = 200) -> HttpResponse:
    """Every bench and every machine."""
    workshop = the_workshop()
    jobs = tuple(_line(job) for job in Job.objects.select_related("machine_version").order_by("bench", "number"))
    machines = tuple(_machine(version) for version in newest_versions(workshop))
    card = FrontCard(workshop.name, jobs, machines)
    return render(request, "front.html", {"card": card, "problem": problem}, status=status)


def _line(job: Job) -> JobLine:
    with ledger_of(job) as live:
        return job_line(name_of(job), live.ledger)


def _machine(version: MachineVersion) -> MachineLine:
    plan, _ = plan_of(version.sha256, version.text)
    jobs = Job.objects.filter(machine=version.slug).count()
    return machine_line(version.slug, plan.anatomy, version.version, jobs)


@only("GET", "HEAD", "POST")
def start(request: HttpRequest, slug: str) -> HttpResponse:
    """A new job on a machine: its bench, which one it is, what it lacks and what is off already."""
    version, problem = machine_at(slug), ""
    if request.method == "POST":
        try:
            return see(f"/bench/{_started(request, version).slug}")
        except (Mistyped, Refused) as wrong:
            problem = str(wrong)
    form = request.POST
    typed = (form.get("bench", ""), form.get("name", ""))
    anatomy = plan_of(version.sha256, version.text)[0].anatomy
    card = start_card(slug, anatomy, typed, form.getlist("absent"), form.getlist("off"))
    return render(request, "start.html", {"card": card, "problem": problem}, status=422 if problem else 200)


def _started(request: HttpRequest, version: MachineVersion) -> Job:
    """The job with its opening entries and those of a log that was sent, or nothing; sent twice it starts one job."""
    form = request.POST
    name = form.get("id", "") if AN_ID.match(form.get("id", "")) else new_id()
    known = Job.objects.filter(id=name).first()
    if known:
        return known
    bench = form.get("bench", "").strip()[:LONGEST_NAME]
    if not bench:
        raise Mistyped("The bench has no name. Type one, for example Bench 4, then press again.")
    which = form.get("name", "").strip()[:LONGEST_NAME]
    title = f"{version.name}, {which}" if which else ""
    plan, bags = plan_of(version.sha256, version.text)
    said = opening(plan, bags, form.getlist("absent"), form.getlist("off"))
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
