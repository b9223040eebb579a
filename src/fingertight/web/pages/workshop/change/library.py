"""Common assemblies: looked through, one copied into a machine, a machine begun from some."""

from datetime import UTC, datetime
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.anatomy.library.copied import CannotCopy, begun, copied
from fingertight.anatomy.library.shelf import assembly, names, text_of
from fingertight.anatomy.read import read
from fingertight.cards.change.library import assembly_card, copied_sentence, copy_card, library_card
from fingertight.store.kept import keep_machine
from fingertight.store.models import MachineVersion
from fingertight.web.jobs.workshop import machine_at, the_workshop
from fingertight.web.pages.refusals import not_allowed, only, see
from fingertight.web.pages.workshop.machine import NEW, free_slug
from fingertight.web.people.who import who_of

LONGEST_NAME = 80


@only("GET", "HEAD", "POST")
def library(request: HttpRequest, slug: str) -> HttpResponse:
    """All of them; at `new` a form in which a machine is begun from those that are ticked."""
    form, problem = request.POST, ""
    if request.method == "POST":
        if slug != NEW:
            return not_allowed(request, "GET, HEAD")
        try:
            return see(f"/machine/{_begun(request)}")
        except CannotCopy as wrong:
            problem = str(wrong)
    machine = ("", "") if slug == NEW else (slug, machine_at(slug).name)
    shelf = [(name, assembly(name)) for name in names()]
    card = library_card(machine, shelf, form.getlist("assembly"), form.get("name", "")[:LONGEST_NAME])
    return render(request, "library.html", {"card": card, "problem": problem}, status=422 if problem else 200)


@only("GET", "HEAD", "POST")
def copy(request: HttpRequest, slug: str, name: str) -> HttpResponse:
    """One assembly, and the form that copies it into this machine as its next version."""
    version, problem, ticked = machine_at(slug), "", request.POST.getlist("behind")
    into = read(version.text).anatomy
    if name not in names() or into is None:
        raise Http404(name)
    if request.method == "POST":
        try:
            told = _copied(request, version, name)
            return see(f"/machine/{slug}?{urlencode({'said': told})}")
        except CannotCopy as wrong:
            problem = str(wrong)
    made = copied(version.text, text_of(name))
    card = copy_card((slug, version.number), into, assembly_card(name, assembly(name)), made, ticked)
    return render(request, "library_copy.html", {"card": card, "problem": problem}, status=422 if problem else 200)


def _copied(request: HttpRequest, version: MachineVersion, name: str) -> str:
    """Copy it, and say what was done. Raises CannotCopy, and nothing is kept."""
    number = version.number
    if request.POST.get("newest") != str(number):
        raise CannotCopy(f"Meanwhile this machine has version {number}. Look at it, then press again.")
    made = copied(version.text, text_of(name), request.POST.getlist("behind"))
    by = who_of(request).id
    kept = keep_machine(the_workshop(), version.slug, version.name, made.text, datetime.now(UTC), by=by)
    told = copied_sentence(assembly(name).machine.name, len(made.ids["part"]), made.number)
    return f"{told} This is version {kept.number}."


def _begun(request: HttpRequest) -> str:
    """A new machine of the assemblies that are ticked; its address. Raises CannotCopy."""
    name = " ".join(request.POST.get("name", "").split())[:LONGEST_NAME]
    if not name:
        raise CannotCopy("The machine has no name. Type one, for example Cultivator, then press again.")
    ticked = [one for one in names() if one in request.POST.getlist("assembly")]
    text = begun(name, [text_of(one) for one in ticked])
    slug = free_slug(name, text)
    keep_machine(the_workshop(), slug, name, text, datetime.now(UTC), by=who_of(request).id)
    return slug
