"""Classes in the middle of a lesson, set up as instructors do it, and a signed-in tablet at each of their benches."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from http.cookies import SimpleCookie
from urllib.parse import urlencode

from served import Served

BENCHES = 30
"""Of one class: the most it may have."""
NUMBER = "7315"


@dataclass(frozen=True)
class Seat:
    """A tablet that a student signed in at: the bench's address, and what the tablet sends to be known."""

    place: str
    cookies: str
    token: str


class Visitor:
    """A browser: it keeps its cookies and fills in the token of the form it read last."""

    def __init__(self, served: Served) -> None:
        self.served, self.cookies, self.token = served, {}, ""

    @property
    def cookie(self) -> str:
        """All its cookies, as they are sent."""
        return "; ".join(f"{name}={value}" for name, value in self.cookies.items())

    def get(self, path: str) -> str:
        """A page."""
        return self._reads("GET", path, None)[1]

    def post(self, path: str, **form: str) -> str:
        """Send a form; where it leads."""
        where, body = self._reads("POST", path, urlencode({"csrfmiddlewaretoken": self.token, **form}))
        if not where:
            raise RuntimeError(f"{path} took no {form}: {re.sub('<[^>]+>', ' ', body)[:600]}")
        return where

    def _reads(self, way: str, path: str, form: str | None) -> tuple[str, str]:
        answer = self.served.ask(way, path, form, {"Cookie": self.cookie} if self.cookies else {})
        for line in answer.headers.get_all("Set-Cookie") or ():
            self.cookies |= {name: one.value for name, one in SimpleCookie(line).items()}
        found = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', self.served.body)
        self.token = found[1] if found else self.token
        return str(answer.getheader("Location") or ""), self.served.body


def seats(served: Served, many: int) -> list[Seat]:
    """So many signed-in tablets, each at a bench of its own; as many classes as they need have a lesson open."""
    teacher = Visitor(served)
    found: list[Seat] = []
    for nth in range(-(-many // BENCHES)):
        found += _of_a_class(served, teacher, f"Class {nth + 1}", min(BENCHES, many - len(found)))
    return found


def open_lesson(teacher: Visitor, title: str, benches: int) -> tuple[str, str]:
    """A class of so many benches with two at each, its lesson open; its address and its code."""
    names = "\n".join(
        f"{side}{chr(97 + bench // 26)}{chr(97 + bench % 26)} Invented"
        for bench in range(benches)
        for side in ("Left", "Right")
    )
    form = {"title": title, "machine": "pump-engine", "benches": str(benches), "lessons": "8", "minutes": "90"}
    teacher.get("/class/new")
    here = teacher.post("/class/new", names=names, **form).partition("?")[0]
    teacher.get(f"{here}/lesson")
    teacher.post(f"{here}/lesson", act="open", minutes="90")
    code = re.search(r'class="join-code">(\w+)<', teacher.get(f"{here}/lesson"))
    if code is None:
        raise RuntimeError("the lesson has no code")
    return here, code[1]


def _of_a_class(served: Served, teacher: Visitor, title: str, benches: int) -> Iterator[Seat]:
    _, code = open_lesson(teacher, title, benches)
    page = teacher.get(f"/join/{code}")
    for person in re.findall(r'href="/join/\w+\?as=(p-\w+)">Left', page):
        tablet = Visitor(served)
        tablet.get(f"/join/{code}?as={person}")
        place = tablet.post(f"/join/{code}", person=person, number=NUMBER, again=NUMBER)
        tablet.get(f"{place}/strip")
        yield Seat(place, tablet.cookie, tablet.token)
