"""Shared tools: the workshop's list with where each is out and who waits; at one bench: borrow, bring back, wait."""

import time

from django.db import transaction
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from fingertight.cards.lesson.tools import tools_card
from fingertight.lesson.diary import NotInTheDiary
from fingertight.store.models import Job, Workshop
from fingertight.store.school.classes import classes
from fingertight.store.school.tables import SharedTool
from fingertight.web.jobs.ledgers import name_of
from fingertight.web.jobs.taps import AN_ID, Mistyped, NotWritten, press
from fingertight.web.jobs.workshop import job_at, the_workshop
from fingertight.web.lesson.courses import course, lesson_at, write
from fingertight.web.lesson.setup import whole
from fingertight.web.lesson.stands import jobs_of, tools_at
from fingertight.web.marks import new_id
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import who_of

LONGEST_NAME = 60
MOST_OF_ONE = 99


@only("GET", "HEAD", "POST")
def tools(request: HttpRequest) -> HttpResponse:
    """The list of shared tools; one is added, or how many there are is said anew (0 takes it off the list)."""
    workshop, problem = the_workshop(), ""
    if request.method == "POST":
        try:
            _kept(workshop, request.POST)
            return see("/tools")
        except Mistyped as wrong:
            problem = str(wrong)
    at_work = [of for of in classes(workshop) if course(workshop, of.slug).now]
    jobs = {job.id: job for of in at_work for _, job in jobs_of(of)}
    state = course(workshop, at_work[0].slug) if at_work else None
    card = tools_card(tools_at(workshop, list(jobs.values()), state), time.time(), problem=problem)
    return render(request, "tools.html", {"card": card}, status=422 if problem else 200)


@transaction.atomic
def _kept(workshop: Workshop, form: QueryDict) -> None:
    name = " ".join(form.get("name", "").split())[:LONGEST_NAME]
    if not name:
        raise Mistyped("The tool has no name. Type one, for example torque wrench, then press again.")
    same = [one for one in SharedTool.objects.filter(workshop=workshop) if one.name.casefold() == name.casefold()]
    if form.get("many", "").strip() == "0":
        SharedTool.objects.filter(workshop=workshop, name__in=[one.name for one in same]).delete()
        return
    many = whole("How many there are", form.get("many", "1"), MOST_OF_ONE)
    kept = same[0].name if same else name
    SharedTool.objects.update_or_create(workshop=workshop, name=kept, defaults={"many": many})


@only("GET", "HEAD", "POST")
def at_bench(request: HttpRequest, slug: str) -> HttpResponse:
    """Shared tools as one bench sees them."""
    job, problem = job_at(slug), ""
    if request.method == "POST":
        try:
            _pressed(request, job)
            return see(request.path)
        except (NotWritten, NotInTheDiary) as wrong:
            problem = str(wrong)
    now = lesson_at(job)
    jobs = [each for _, each in jobs_of(now[0])] if now else [job]
    found = tools_at(job.workshop, jobs, now[1] if now else None)
    card = tools_card(found, time.time(), job=name_of(job), queue=now is not None, problem=problem)
    return render(request, "bench_tools.html", {"card": card}, status=422 if problem else 200)


def _pressed(request: HttpRequest, job: Job) -> None:
    """Borrowed and brought back stand in the job's log; waiting stands in the class's. Raises NotWritten."""
    form, who = request.POST, who_of(request)
    if form.get("kind") == "tool":
        press(job, form, who)
        return
    act, tool, now = form.get("act", ""), " ".join(form.get("tool", "").split())[:LONGEST_NAME], lesson_at(job)
    if act not in {"ask", "leave"} or not tool:
        raise Mistyped("This form says nothing known here. Load the page again.")
    if now is None:
        raise Mistyped("No lesson is open at this bench: there is no queue to stand in.")
    given = form.get("id", "")
    write(now[0], who, given if AN_ID.match(given) else new_id(), act, tool=tool, bench=job.bench)
