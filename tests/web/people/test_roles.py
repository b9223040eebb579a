"""Each address × each role × looking and writing, from the list of addresses itself."""

import re

import pytest
from django.db import connection
from django.urls import URLPattern, get_resolver, reverse

from fingertight.web.people.roles import RULES, May, Rule, is_let
from fingertight.web.people.signin import badge_of
from fingertight.web.people.who import Role, Seat, Who
from tests.web.people.cast import Cast
from tests.web.tablet import Tablet

PLACES = ("visitor", "student of this bench", "student of another bench", "instructor", "owner")
ADDRESSES = [
    pattern for pattern in get_resolver("fingertight.web.urls").url_patterns if isinstance(pattern, URLPattern)
]


def filled(pattern: URLPattern, cast: Cast) -> str:
    """A real address of this pattern, about Cleo's bench."""
    job, name = cast.job("Cleo"), pattern.name
    values = {
        "slug": "pump-engine" if str(pattern.pattern).startswith(("machine/", "start/", "film/")) else job.slug,
        "stage": "strip",
        "kind": "check",
        "listed": "fasteners",
        "entry": "1",
        "part_id": "flywheel",
        "check_id": "bore",
        "number": 0,
        "class_slug": cast.of.slug,
        "person_id": cast.people["Ada"].id,
        "code": cast.code,
        "token": badge_of(cast.people["Ada"].id) if pattern.name == "badge" else "no-such-link",
        "sum_name": "thread",
        "version": "0" * 12,
        "photo_id": "0" * 64,
        "small": "-small",
    }
    values["name"] = {
        "exercise": "vernier-0.02-mm",
        "paper": "wheel",
        "printed": "wheel",
        "asset": "look.css",
        "copy": "recoil-starter",
        "taken-along": "log.jsonl",
        "edit-table": "bore",
        "out-table": "bore",
        "chapters": "chapters.vtt",
        "film-file": "no-such-film.mp4",
    }.get(name or "", "")
    asked = set(pattern.pattern.converters) or set(re.findall(r"\?P<(\w+)>", str(pattern.pattern)))
    return reverse(name, kwargs={key: values[key] for key in asked})


def everything() -> dict[str, int]:
    """How many rows each table has: what is written shows here."""
    with connection.cursor() as cursor:
        tables = [name for name in connection.introspection.table_names(cursor) if name != "django_session"]
        counts = {}
        for table in tables:
            cursor.execute(f"SELECT count(*) FROM {table}")
            counts[table] = cursor.fetchone()[0]
    return counts


def at(place: str, cast: Cast) -> Tablet:
    """A tablet in the hands of somebody of this role."""
    if place == "student of this bench":
        return cast.student("Cleo")
    if place == "student of another bench":
        return cast.student("Ada")
    if place == "instructor":
        return cast.teacher()
    return cast.teacher("Odo") if place == "owner" else Tablet()


def let(place: str, need: May) -> bool:
    """What the table says, worked out anew from its words."""
    rank = {"visitor": 0, "student of this bench": 1, "student of another bench": 1, "instructor": 2, "owner": 3}[place]
    least = {May.ANYBODY: 0, May.BENCH: 1, May.STUDENTS: 1, May.INSTRUCTORS: 2, May.OWNER: 3}[need]
    return rank >= least and not (need is May.BENCH and place == "student of another bench")


def test_every_address_has_a_rule_and_every_rule_an_address() -> None:
    assert {pattern.name for pattern in ADDRESSES} == set(RULES)
    assert len({pattern.name for pattern in ADDRESSES}) == len(ADDRESSES)


@pytest.mark.parametrize("place", PLACES)
def test_nobody_sees_or_writes_what_their_role_forbids(cast: Cast, place: str) -> None:
    tablet = at(place, cast)
    for pattern in ADDRESSES:
        rule, address = RULES[pattern.name or ""], filled(pattern, cast)
        for method, need in (("get", rule.look), ("post", rule.write)):
            before = everything()
            answer = getattr(tablet.client, method)(address)
            where = f"{place} {method} {address}: {answer.status_code}"
            if need is May.NOBODY:
                assert answer.status_code in {403, 405}, where
            elif let(place, need):
                assert answer.status_code not in {401, 403}, where
            else:
                assert answer.status_code == 403, where
            if not (need is not May.NOBODY and let(place, need)):
                assert everything() == before, where
        if pattern.name in {"leave", "hands"} and place != "visitor":  # it was pressed: signed out again
            tablet = at(place, cast)


def test_an_address_that_is_in_no_table_is_shut(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(RULES, "sums")
    assert Tablet().client.get("/sums").status_code == 403
    assert cast.teacher("Odo").client.get("/sums").status_code == 403


def test_a_student_is_at_the_bench_of_the_seat_and_at_no_other() -> None:
    seat = Seat("thursday", "Thursday class", "Bench 4", "pump-engine-4")
    student = Who(Role.STUDENT, "p-1", "Ada", seats=(seat,))
    assert is_let(student, May.BENCH, "pump-engine-4")
    assert not is_let(student, May.BENCH, "pump-engine-7")
    assert not is_let(Who(), May.BENCH, "pump-engine-4")
    assert is_let(Who(Role.INSTRUCTOR, "p-2"), May.BENCH, "pump-engine-7")
    assert not is_let(Who(Role.OWNER, "p-3"), Rule(May.ANYBODY).write)
