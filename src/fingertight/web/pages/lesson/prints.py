"""What a class prints: the cards that stand on its benches, the badges its students carry."""

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from fingertight.cards.lesson.benches import Badge, BadgesCard, BenchCard, BenchCardsCard
from fingertight.paper.lists.badges import badges_pdf
from fingertight.paper.lists.bench_cards import bench_cards_pdf
from fingertight.paper.sheets import CannotPrint
from fingertight.web.jobs.workshop import machine_at
from fingertight.web.lesson.stands import jobs_of, people_of
from fingertight.web.pages.lesson.classes import found
from fingertight.web.pages.refusals import only, refused
from fingertight.web.people.signin import badge_of


def _is_reached(request: HttpRequest) -> bool:
    """Whether the address that this page was asked by means this machine on a tablet too."""
    host = request.get_host().partition(":")[0]
    return settings.BEYOND_THIS_MACHINE and host not in {"localhost", "127.0.0.1"}


@only("GET", "HEAD")
def cards(request: HttpRequest, class_slug: str) -> HttpResponse:
    """The cards that stand on the benches, as PDF."""
    of, reached = found(class_slug), _is_reached(request)
    machine = machine_at(of.machine).name
    benches = tuple(
        BenchCard(
            bench.bench,
            bench.code,
            f"{job.title}" or machine,
            request.build_absolute_uri(f"/join/{bench.code}") if reached else "",
        )
        for bench, job in jobs_of(of)
    )
    where = f"Scan it, or type the code at {request.get_host()}/join" if reached else "Type this code under “Join”."
    try:
        return _pdf(bench_cards_pdf(BenchCardsCard(of.title, where, benches)), f"{of.slug}-bench-cards.pdf")
    except CannotPrint as wrong:
        return refused(request, 422, "There are no bench cards", str(wrong))


@only("GET", "HEAD")
def badges(request: HttpRequest, class_slug: str) -> HttpResponse:
    """The badges that students carry, as PDF: each opens the own name, the number is typed."""
    of = found(class_slug)
    if not _is_reached(request):
        why = (
            "A badge carries the address of this workshop, and tablets cannot reach this one. Start it with "
            "fingertight serve --lan, open this page by the address it prints, then print."
        )
        return refused(request, 422, "There are no badges", why)
    made = tuple(
        Badge(one.name, request.build_absolute_uri(f"/badge/{badge_of(one.id)}")) for one in people_of(of, set())
    )
    try:
        return _pdf(badges_pdf(BadgesCard(of.title, made)), f"{of.slug}-badges.pdf")
    except CannotPrint as wrong:
        return refused(request, 422, "There are no badges", str(wrong))


def _pdf(printed: bytes, name: str) -> HttpResponse:
    response = HttpResponse(printed, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response
