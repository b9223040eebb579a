"""Two students, their bench and its tablet. They write down for themselves what they did: the server is held to it."""

import re
from collections import Counter
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from django.test import Client

from fingertight.store.models import Job
from tests.web.honest import _one_step, _right_answers, machine
from tests.web.tablet import Form, Page, Tablet

STRIP = ("I looked, and I sign", "Note it", "Off")
REBUILD = ("Done", "It is set", "I looked, and I sign", "is here", "On")
BY_NUMBER = {"sign", "decide", "aside"}
MOST_PRESSES = 200
on_the_bench = lru_cache(machine)
"""What machine it is, read once."""
CODED = re.compile(r"/(bench|tools|part|measure|log|tighten)/")


@dataclass(frozen=True)
class Hand:
    """One student (or who teaches): the id that a log names, what they are called, their four figures."""

    id: str
    name: str
    number: str


class Written(NamedTuple):
    """One accepted press, as the pair remembers it."""

    id: str
    kind: str
    by: str
    role: str
    shown_by: str | None


class Pair(Tablet):
    """A tablet at one bench of a class, in the hands of one of two."""

    def __init__(self, job: Job, code: str, hands: tuple[Hand, ...], teacher: Hand) -> None:
        super().__init__()
        self.job, self.code, self.hands, self.teacher = job, code, hands, teacher
        self.bench = f"/bench/{job.slug}"
        self.here: list[Hand] = []
        self.written: list[Written] = []
        self.bags: dict[tuple[str, str], str] = {}
        self.tools: Counter[str] = Counter()
        self.sends_twice = False

    @property
    def in_hand(self) -> Hand:
        """Who holds the tablet."""
        return self.here[0]

    # -- signing in and changing hands

    def joins(self, hand: Hand, code: str) -> None:
        """Code, name, number; the number is chosen the first time."""
        self.opens("/join")
        self.presses("Go on", code=code.lower())
        self.opens(self.page.links[next(words for words in self.page.links if words.split(" Bench")[0] == hand.name)])
        if "This is my number" in self.buttons():
            self.presses("This is my number", number=hand.number, again=hand.number)
        else:
            self.presses("It is me", number=hand.number)
        assert f"In hand: {hand.name}" in self.page.text, self.page.text[:400]
        self.here = [hand, *(one for one in self.here if one != hand)]

    def changes_hands(self) -> None:
        """The other one goes on, with one press."""
        if len(self.here) > 1:
            self.opens(self.bench)
            self.presses(f"{self.here[1].name} goes on")
            self.here = [*self.here[1:], self.here[0]]
            assert f"In hand: {self.in_hand.name}" in self.page.text

    def starts_anew(self) -> None:
        """The lesson is over: whoever was signed in is not any more."""
        self.here, self.client = [], Client(SERVER_NAME="localhost")

    # -- pressing

    def sends(self, form: Form, typed: dict[str, Any]) -> Page:
        """As any tablet; what an instructor does is signed with the number; what was accepted is written down."""
        said = {**form.fields, **typed}
        if said.get("kind") in BY_NUMBER and "number" in form.fields:
            said |= {"instructor": self.teacher.id, "number": self.teacher.number}
        address = form.action or self.path
        answer = self.client.post(address, said)
        if self.sends_twice:
            again = self.client.post(address, said)
            assert (again.status_code, again.get("Location")) == (answer.status_code, answer.get("Location"))
        if answer.status_code == 303:
            if CODED.match(address) and "kind" in said:
                self.remembers(said)
            return self.opens(answer["Location"])
        return self._reads(answer)

    def remembers(self, said: dict[str, Any]) -> None:
        """Who did what, where the piece lies now, which tool is here."""
        by_number = said.get("number")
        by = self.teacher.id if by_number else self.in_hand.id
        role = "instructor" if by_number else "student"
        self.written.append(Written(said["id"], said["kind"], by, role, self.in_hand.id if by_number else None))
        piece = (said.get("part", ""), said.get("place", ""))
        if said["kind"] == "off":
            self.bags[piece] = said["bag"]
        elif said["kind"] == "on":
            self.bags.pop(piece, None)
        elif said["kind"] == "tool":
            self.tools[said["tool"]] += 1 if said["way"] == "out" else -1

    def posts(self, kind: str, **said: str) -> Page:
        """An entry that no button of an honest page makes: the form is sent all the same, with an id of its own."""
        self.opens(f"{self.bench}/finish")
        own = next(form.fields["id"] for form in self.page.forms if "id" in form.fields)
        return self.sends(Form(f"{self.bench}/finish", "post", {"id": own, "kind": kind}), said)

    # -- working

    def works(self, stage: str, steps: int = MOST_PRESSES) -> bool:
        """Do what the page of a stage asks for, so many steps; whether anything is left to do. Hands change halfway."""
        wanted = STRIP if stage == "strip" else REBUILD
        for step in range(steps):
            if step % 4 == 3:
                self.changes_hands()
            self.opens(f"{self.bench}/{stage}")
            if not _one_step(self, wanted, _right_answers(self, on_the_bench(self.job.machine))):
                return False
        return True

    def counts(self, **missing: int) -> Page:
        """Count what lies in the bags, by the own list of bags; missing: fewer of these than there should be.

        Then the tools, which are all back.
        """
        self.opens(f"{self.bench}/finish")
        lie = self.lying()
        if lie:
            self._counts_bags(lie, missing)
        if "Write the tools down" in self.buttons():
            form = self.form("Write the tools down")
            self.sends(form, {field: "1" for field in form.fields if field.startswith("tools/")})
        return self.page

    def _counts_bags(self, lie: dict[str, int], missing: dict[str, int]) -> None:
        form = self.form("Write the count down")
        typed = {field: str(lie[field.removeprefix("count/")]) for field in form.fields if field.startswith("count/")}
        assert set(lie) == {field.removeprefix("count/") for field in typed}, "the page asks for what lies in the bags"
        found = {field: int(many) - missing.get(field.rsplit("/", 1)[1], 0) for field, many in typed.items()}
        self.sends(form, found)

    def lying(self) -> dict[str, int]:
        """How many of what lie in each bag in use, from the machine's file and the own list: "3/M6x16" → 2."""
        found: dict[str, int] = {}
        for (part_id, _), bag in self.bags.items():
            part = on_the_bench(self.job.machine).part_by_id[part_id]
            for held in part.held_by:
                if held.thread or held.kind in {"clip", "circlip"}:
                    length = f"x{held.length:g}" if held.length else ""
                    name = f"{held.thread}{length}" if held.thread else str(held.kind)
                    found[f"{bag}/{name}"] = found.get(f"{bag}/{name}", 0) + held.how_many
            for small in part.with_:
                found[f"{bag}/{small.name}"] = found.get(f"{bag}/{small.name}", 0) + small.count
        return found

    def borrows(self, tool: str) -> None:
        """Take a shared tool."""
        self._at_the_tools(tool, "Borrowed")

    def brings_back(self, tool: str) -> None:
        """Hang it up again."""
        self._at_the_tools(tool, "Brought back")

    def waits_for(self, tool: str) -> None:
        """Stand in its queue."""
        self._at_the_tools(tool, "We wait for it")

    def _at_the_tools(self, tool: str, button: str) -> None:
        self.opens(f"/tools/{self.job.slug}")
        form = next(form for form in self.page.forms if form.fields.get("tool") == tool and button in form.buttons)
        self.sends(form, form.buttons[button])
        assert self.answer.status_code == 200, self.page.text[:300]
