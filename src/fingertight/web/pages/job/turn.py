"""One fastener set being tightened: a quiet screen for one pass, done with one tap or bolt by bolt."""

import re

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.http import urlencode

from fingertight.cards.bench.due import TORQUE_UNITS
from fingertight.cards.tighten.turn import turn_card
from fingertight.store.models import Job
from fingertight.web.jobs.ledgers import ledger_of, name_of
from fingertight.web.jobs.taps import NotWritten, press
from fingertight.web.jobs.workshop import job_at
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import who_of

_A_YEAR_S = 365 * 24 * 3600
_FEW_DIGITS = "[0-9]{1,3}"


@only("GET", "HEAD", "POST")
def turn(request: HttpRequest, slug: str, part_id: str, number: int) -> HttpResponse:
    """The pass that is due, or the one that is chosen to be done again."""
    job = job_at(slug)
    if request.method == "POST":
        try:
            press(job, request.POST, who_of(request))
        except NotWritten as wrong:
            return shown(request, job, (part_id, number), str(wrong), wrong.status)
        return see(_address(request))
    return shown(request, job, (part_id, number))


def shown(request: HttpRequest, job: Job, which: tuple[str, int], problem: str = "", status: int = 200) -> HttpResponse:
    """The page of one set of a part. What is tapped stands in its address: loading it again loses nothing."""
    asked, (part_id, number) = request.GET, which
    unit = next((one for one in (asked.get("scale"), request.COOKIES.get("scale")) if one in TORQUE_UNITS), "N·m")
    done = [int(one) for one in asked.get("done", "").split(",")[:100] if re.fullmatch(_FEW_DIGITS, one)]
    chosen = asked.get("pass", "")
    with ledger_of(job) as live:
        try:
            card = turn_card(
                name_of(job),
                live.ledger.state,
                (part_id, asked.get("place") or None),
                number,
                unit=unit,
                chosen_pass=int(chosen) if re.fullmatch(_FEW_DIGITS, chosen) else None,
                done=done,
            )
        except LookupError:
            raise Http404(part_id) from None
    said = {
        "card": card,
        "problem": problem,
        "typed": request.POST if problem else {},
        "address": _address(request),
    }
    response = render(request, "turn.html", said, status=status)
    if asked.get("scale") == unit:
        response.set_cookie("scale", unit, max_age=_A_YEAR_S, samesite="Lax", httponly=True)
    return response


def _address(request: HttpRequest) -> str:
    """Where this set of this piece is tightened, without what was tapped so far."""
    place = request.GET.get("place", "")
    return f"{request.path}?{urlencode({'place': place})}" if place else request.path
