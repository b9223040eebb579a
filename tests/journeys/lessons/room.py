"""The room: who teaches, the class that the owner sets up, twelve pairs at their benches, lesson after lesson."""

import json
from dataclasses import dataclass, field

from django.core.cache import cache

from fingertight.store.models import Job, Workshop
from fingertight.store.school.people import give_number, give_password, keep_person
from fingertight.store.school.tables import ClassBench, ClassEntry, Member, Person, SchoolClass
from fingertight.web.jobs import ledgers, workshop
from fingertight.web.lesson import courses
from fingertight.web.people import who
from fingertight.web.people.signin import _counted
from tests.journeys.lessons.pair import Hand, Pair
from tests.web.tablet import Page, Tablet

PASSWORD = "three invented words"
TITLE = "Thursday class"
LESSONS = 6
FIRST = [
    *("Anouk", "Bela", "Cira", "Dario", "Enno", "Fenja", "Goran", "Hanno", "Ilka", "Joris", "Kaja", "Levin"),
    *("Mira", "Nuri", "Oana", "Pavo", "Quirin", "Runa", "Sami", "Tove", "Ulla", "Vito", "Wanda", "Yaro"),
]


@dataclass
class Room:
    """One class over its lessons. pressed: what the one who teaches wrote into the class's own log, by kind."""

    teacher: Tablet
    tilda: Hand
    pairs: list[Pair]
    slug: str
    pressed: list[str] = field(default_factory=list)

    @classmethod
    def set_up(cls) -> "Room":
        """The owner makes a class of twelve benches from a list that was pasted."""
        _counted.storage.reset()
        owner = keep_person(Workshop.objects.get(), "Odo", "", "owner")
        tilda = Person.objects.get(name="Tilda")
        for one in (owner, tilda):
            give_password(one, PASSWORD)
        give_number(tilda, "5937")
        who.look_again()
        tablet = signed_in("Odo")
        tablet.opens("/class/new")
        names = "\n".join(f"{name} Invented" for name in FIRST)
        typed = {"title": TITLE, "machine": "bench-vice", "benches": "12", "lessons": str(LESSONS), "names": names}
        tablet.presses("Make this class", **typed)
        slug = tablet.path.removeprefix("/class/").partition("?")[0]
        room = cls(signed_in("Tilda"), Hand(tilda.id, "Tilda", "5937"), [], slug)
        room.pairs = [room.pair(number) for number in range(1, 13)]
        return room

    def pair(self, number: int) -> Pair:
        """A tablet for the two of this bench."""
        bench = ClassBench.objects.get(class_slug=self.slug, bench=f"Bench {number}")
        ids = Member.objects.filter(class_slug=self.slug, bench=bench.bench).values_list("person", flat=True)
        people = sorted(Person.objects.filter(id__in=list(ids)), key=lambda one: one.name)
        hands = tuple(Hand(one.id, who.called(one), f"{6000 + 37 * number + nth}") for nth, one in enumerate(people))
        return Pair(Job.objects.get(id=bench.job), bench.code, hands, self.tilda)

    @property
    def code(self) -> str:
        """What students join with now."""
        return SchoolClass.objects.get(slug=self.slug).code

    def at(self, number: int) -> Pair:
        """The pair of this bench."""
        return self.pairs[number - 1]

    # -- the lesson

    def opens(self, away: tuple[Hand, ...] = ()) -> None:
        """The lesson is opened; these are away."""
        self.teacher.opens(f"/class/{self.slug}/lesson")
        button = next(one for one in self.teacher.buttons() if one.startswith("Open lesson"))
        self.teacher.presses(button, minutes="90", away=[hand.id for hand in away])
        assert "Students join with this code" in self.teacher.page.text
        self.pressed += ["open", *("away" for _ in away)]

    def gathers(self, away: tuple[Hand, ...] = ()) -> None:
        """All but these join at their benches: at every other with the bench's own code, else with the class's."""
        for number, pair in enumerate(self.pairs):
            pair.starts_anew()
            for hand in pair.hands:
                if hand not in away:
                    pair.joins(hand, pair.code if number % 2 else self.code)

    def ends(self) -> None:
        """Five minutes left."""
        self.teacher.opens(f"/class/{self.slug}/lesson")
        self.teacher.presses("Five minutes left")
        self.pressed.append("ending")

    def closes(self, word: str = "") -> bool:
        """Whether the lesson is closed now, with this word."""
        self.teacher.opens(f"/class/{self.slug}/lesson")
        button = next(one for one in self.teacher.buttons() if one.startswith("Close lesson"))
        self.teacher.presses(button, **({"word": word} if word else {}))
        closed = "is not open yet" in self.teacher.page.text
        self.pressed += ["close"] if closed else []
        return closed

    def wall(self) -> Page:
        """What hangs on the wall, as those who teach see it."""
        return self.teacher.opens(f"/wall?class={self.slug}")

    def not_right(self) -> str:
        """What the wall says is not right yet: every flag of every bench, before anybody starts anything."""
        return self.wall().text.partition("Not right yet ")[2]

    def diary(self) -> list[str]:
        """The kinds of all entries in the class's own log."""
        bodies = ClassEntry.objects.filter(class_slug=self.slug).order_by("seq").values_list("body", flat=True)
        return [str(json.loads(body)["kind"]) for body in bodies]


def signed_in(name: str) -> Tablet:
    """A tablet on which somebody who teaches is signed in."""
    tablet = Tablet()
    tablet.opens("/teach")
    tablet.presses("Sign in", name=name, password=PASSWORD)
    assert "Sign out" in tablet.page.text, tablet.page.text[:300]
    return tablet


def restarts() -> None:
    """All that a server has only in its head is gone, as after the power was cut; the database is what it was."""
    ledgers._live.clear()
    courses._courses.clear()
    courses._of_job.clear()
    workshop._jobs.clear()
    who.look_again()
    _counted.storage.reset()
    cache.clear()
