"""Who may look at which address, and who may write there: one table for all of them, and the guard that holds it.

An address that is not in the table is shut. `docs/roles.md` is made from it (`make docs`).
"""

from collections.abc import Callable
from enum import StrEnum
from typing import Any, Final, NamedTuple

from django.http import HttpRequest, HttpResponse

from fingertight.web.pages.refusals import refused
from fingertight.web.people.who import Role, Who, who_of


class May(StrEnum):
    """Whom an address is for."""

    ANYBODY = "everybody"
    BENCH = "students of this bench"
    STUDENTS = "students"
    INSTRUCTORS = "instructors"
    OWNER = "the owner"
    NOBODY = "nobody"


class Rule(NamedTuple):
    """Who may look (GET, HEAD), and who may write (POST)."""

    look: May
    write: May = May.NOBODY


_READS, _WRITES = {"GET", "HEAD", "OPTIONS", "TRACE"}, {"POST", "PUT", "PATCH", "DELETE"}
_LEAST = {
    May.ANYBODY: Role.VISITOR,
    May.BENCH: Role.STUDENT,
    May.STUDENTS: Role.STUDENT,
    May.INSTRUCTORS: Role.INSTRUCTOR,
    May.OWNER: Role.OWNER,
}

RULES: Final[dict[str, Rule]] = {
    "front": Rule(May.ANYBODY),
    "join": Rule(May.ANYBODY, May.ANYBODY),
    "join-as": Rule(May.ANYBODY, May.ANYBODY),
    "badge": Rule(May.ANYBODY),
    "hands": Rule(May.STUDENTS, May.STUDENTS),
    "leave": Rule(May.ANYBODY, May.ANYBODY),
    "teach": Rule(May.ANYBODY, May.ANYBODY),
    "first-link": Rule(May.ANYBODY, May.ANYBODY),
    "number": Rule(May.STUDENTS, May.STUDENTS),
    "people": Rule(May.OWNER, May.OWNER),
    "wall": Rule(May.ANYBODY),
    "count": Rule(May.INSTRUCTORS),
    "hand-over": Rule(May.INSTRUCTORS),
    "class-new": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "class": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "class-cards": Rule(May.INSTRUCTORS),
    "class-badges": Rule(May.INSTRUCTORS),
    "lesson": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "student": Rule(May.INSTRUCTORS),
    "mine": Rule(May.STUDENTS),
    "tools": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "bench-tools": Rule(May.BENCH, May.BENCH),
    "start": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "read-in": Rule(May.NOBODY, May.INSTRUCTORS),
    "bench": Rule(May.BENCH, May.BENCH),
    "stage": Rule(May.BENCH, May.BENCH),
    "part": Rule(May.BENCH, May.BENCH),
    "measuring-sheet": Rule(May.BENCH),
    "measure": Rule(May.BENCH, May.BENCH),
    "turn": Rule(May.BENCH, May.BENCH),
    "loose": Rule(May.BENCH),
    "log": Rule(May.BENCH, May.BENCH),
    "taken-along": Rule(May.INSTRUCTORS),
    "machine": Rule(May.STUDENTS, May.INSTRUCTORS),
    "record": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "recorded": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "film": Rule(May.INSTRUCTORS),
    "chapters": Rule(May.INSTRUCTORS),
    "questions": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "ticks": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "strips": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "photo": Rule(May.STUDENTS, May.INSTRUCTORS),
    "films": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "film-file": Rule(May.STUDENTS),
    "see-it-done": Rule(May.STUDENTS),
    "film-moves": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "edit-part": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "versions": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "library": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "copy": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "edit-more": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "edit-entry": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "change": Rule(May.INSTRUCTORS),
    "edit-table": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "add-table": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "out-table": Rule(May.INSTRUCTORS, May.INSTRUCTORS),
    "order": Rule(May.STUDENTS, May.STUDENTS),
    "own-order": Rule(May.STUDENTS),
    "within": Rule(May.STUDENTS),
    "layout": Rule(May.STUDENTS),
    "layout-sheet": Rule(May.STUDENTS),
    "anatomy": Rule(May.STUDENTS),
    "labels": Rule(May.STUDENTS),
    "tightening": Rule(May.STUDENTS),
    "printer": Rule(May.NOBODY, May.INSTRUCTORS),
    "line": Rule(May.NOBODY, May.INSTRUCTORS),
    "sums": Rule(May.ANYBODY),
    "sum": Rule(May.ANYBODY, May.ANYBODY),
    "exercises": Rule(May.ANYBODY),
    "exercise-record": Rule(May.INSTRUCTORS),
    "exercise": Rule(May.ANYBODY, May.ANYBODY),
    "paper": Rule(May.ANYBODY),
    "printed": Rule(May.ANYBODY),
    "instrument": Rule(May.ANYBODY),
    "asset": Rule(May.ANYBODY),
}


def is_let(who: Who, need: May, slug: str = "") -> bool:
    """Whether somebody may do what is for these."""
    if need is May.NOBODY:
        return False
    if need is May.BENCH:
        return who.is_at(slug)
    return who.role.rank >= _LEAST[need].rank


class Guard:
    """Middleware: what the table does not let through is answered with what to do instead."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """The answer of whatever comes next; the table is asked once the address is known."""
        return self.get_response(request)

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: dict[str, Any]) -> HttpResponse | None:
        """A refusal, or None where the view may answer."""
        name = request.resolver_match.url_name if request.resolver_match else None
        rule = RULES.get(name or "", Rule(May.NOBODY))
        need = rule.write if request.method in _WRITES else rule.look
        if need is May.NOBODY and rule != Rule(May.NOBODY):
            return None  # the view says which methods it takes
        if need is May.ANYBODY:
            return None
        who = who_of(request)
        if is_let(who, need, str(kwargs.get("slug", ""))):
            return None
        return not_let(request, who, need)


def not_let(request: HttpRequest, who: Who, need: May) -> HttpResponse:
    """403, and what to do: sign in, go to the own bench, ask the instructor."""
    if who.role is Role.VISITOR:
        mend = "Sign in first: students join with the class’s code, instructors with their password."
        if need in {May.INSTRUCTORS, May.OWNER}:
            mend = "This is for those who teach here. Sign in with your password."
        where = "/teach" if need in {May.INSTRUCTORS, May.OWNER} else "/join"
        return refused(request, 403, "You are not signed in", mend, (where, "Sign in"))
    if need is May.BENCH and who.seats:
        seat = who.seats[0]
        return refused(
            request,
            403,
            "This is another bench",
            f"You are {who.name}, at {seat.bench}. Go there; the instructor moves people who sit elsewhere.",
            (f"/bench/{seat.job}", f"Go to {seat.bench}"),
        )
    return refused(request, 403, "This is not yours to do", f"It is for {need}. Ask them to come.")
