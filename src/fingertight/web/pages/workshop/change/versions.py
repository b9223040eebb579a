"""Every version of a machine that was kept: what changed, two side by side, going back."""

import re
from collections import Counter
from collections.abc import Sequence
from datetime import UTC, datetime
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.told.names import FIELDS
from fingertight.cards.change.versions import BesideCard, Kept, beside_card, last_change, versions_card
from fingertight.store.log.promise import Refused
from fingertight.store.models import Job, MachineStep
from fingertight.store.versions import BACK, go_back, steps_of
from fingertight.web.jobs.ledgers import plan_of
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.lesson.stands import moment
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.names import names_for
from fingertight.web.people.who import who_of

A_PAGE = 12


@only("GET", "HEAD", "POST")
def versions(request: HttpRequest, slug: str) -> HttpResponse:
    """The versions of a machine, the newest first; a form here goes back to one of them."""
    steps, problem = _steps(slug), ""
    if request.method == "POST":
        try:
            return see(_gone_back(request, slug))
        except Refused as wrong:
            problem, steps = str(wrong), _steps(slug)
    if "text" in request.GET:
        return _text(slug, _asked(steps, request.GET["text"]))
    start = next((nth for nth, step in enumerate(steps) if str(step.number) == request.GET.get("from")), 0)
    kept = _kept(request, steps[start : start + A_PAGE + 1])
    before = kept[A_PAGE] if len(kept) > A_PAGE else None
    numbers = [step.number for step in steps]
    card = versions_card(slug, numbers, kept[:A_PAGE], before, _beside(request, steps))
    said = {
        "card": card,
        "old": card.beside.old if card.beside else numbers[:2][-1],
        "new": card.beside.new if card.beside else numbers[0],
        "problem": problem,
        "told": request.GET.get("said", "")[:1500],
    }
    return render(request, "versions.html", said, status=422 if problem else 200)


def undo_of(request: HttpRequest, slug: str) -> tuple[int, str]:
    """The number of a machine's newest version, and what its last change was, in words; "" where none can be undone."""
    steps = steps_of(the_workshop(), slug)[:2]
    if len(steps) < 2:
        return (steps[0].number if steps else 0), ""
    newest, before = _kept(request, steps)
    return newest.number, last_change(newest, before)


def _steps(slug: str) -> list[MachineStep]:
    steps = steps_of(the_workshop(), slug)
    if not steps:
        raise Http404(slug)
    return steps


def _kept(request: HttpRequest, steps: Sequence[MachineStep]) -> list[Kept]:
    """What the cards are told of each of these."""
    names = names_for(who_of(request), the_workshop())
    jobs = Counter(
        Job.objects.filter(
            workshop=the_workshop(), machine_sha256__in=[step.sha256 for step in steps], machine=steps[0].slug
        ).values_list("machine_sha256", flat=True)
    )
    return [
        Kept(
            step.number,
            moment(step.at.timestamp()),
            names.get(step.by, ""),
            int(step.how.removeprefix(BACK)) if step.how.startswith(BACK) else 0,
            jobs[step.sha256],
            step.text.text,
            _anatomy(step),
        )
        for step in steps
    ]


def _anatomy(step: MachineStep) -> Anatomy | None:
    try:
        return plan_of(step.sha256, step.text.text)[0].anatomy
    except ValueError:
        return None


def _asked(steps: Sequence[MachineStep], number: str) -> MachineStep:
    found = next((step for step in steps if str(step.number) == number), None)
    if found is None:
        raise Http404(number)
    return found


def _beside(request: HttpRequest, steps: Sequence[MachineStep]) -> BesideCard | None:
    if "old" not in request.GET or "new" not in request.GET:
        return None
    pair = [_asked(steps, request.GET[name]) for name in ("old", "new")]
    old, new = sorted(pair, key=lambda step: step.number)
    return beside_card(*_kept(request, [old, new]))


def _text(slug: str, step: MachineStep) -> HttpResponse:
    response = HttpResponse(step.text.text.encode(), content_type="application/toml; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{slug}-version-{step.number}.toml"'
    return response


def _gone_back(request: HttpRequest, slug: str) -> str:
    """Go back as the form asks; where to look now. Raises Refused."""
    form = request.POST
    if not all(form.get(name, "").isascii() and form.get(name, "").isdigit() for name in ("to", "newest")):
        raise Refused("This form names no version. Choose one of the list.")
    to, newest = int(form["to"][:9]), int(form["newest"][:9])
    if to == newest - 1 == 0:
        raise Refused("This is the first version: there is nothing to go back to.")
    steps = {step.number: step for step in _steps(slug)}
    if to in steps and _anatomy(steps[to]) is None:
        raise Refused(f"Version {to} cannot be read as a machine any more. Take its file, mend it, and read it in.")
    version = go_back(the_workshop(), slug, to, newest=newest, at=datetime.now(UTC), by=who_of(request).id)
    told = f"Back to the text of version {to}: nothing is lost, the others stay."
    back = _where(slug, form.get("back", ""), plan_of(version.sha256, version.text)[0].anatomy)
    if not back.startswith(f"/machine/{slug}/") or back.endswith("/versions"):  # forms of parts say it themselves
        told = f"{told} This is version {version.number} now."
    return f"{back}?{urlencode({'said': told})}"


def _where(slug: str, back: str, anatomy: Anatomy) -> str:
    """The page of this machine where the button was, if what it is about is there in the version gone back to."""
    found = re.fullmatch(rf"/machine/{re.escape(slug)}((?:/[\w-]+)*)", back, re.ASCII)
    if found is None:
        return f"/machine/{slug}/versions"
    ids = {one.id for many in FIELDS.values() for one in getattr(anatomy, many)}
    # A page of a part or of a size: /part/<id>…, /change/<kind>/<id>.
    about = re.match(r"/part/([\w-]+)|/change/[\w-]+/([\w-]+)", found[1])
    is_there = about is None or (about[1] or about[2]) in ids
    return back if is_there else f"/machine/{slug}/versions"
