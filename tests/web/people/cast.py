"""The demo class with its people able to sign in: the invented teacher has a password, students have numbers."""

import re
from dataclasses import dataclass
from functools import cache

from django.conf import settings
from django.contrib.auth.hashers import make_password

from fingertight.store.models import Job, Workshop
from fingertight.store.school.people import keep_person
from fingertight.store.school.tables import ClassBench, Member, Person, SchoolClass
from fingertight.web.people.signin import _counted
from fingertight.web.people.who import look_again
from tests.web.tablet import Page, Tablet

PASSWORD = "three invented words"
NUMBER = "7315"
TEACHER_NUMBER = "5937"


@dataclass(frozen=True)
class Cast:
    """Everybody of the demo class by name, its address and code, and the owner."""

    of: SchoolClass
    people: dict[str, Person]

    @property
    def code(self) -> str:
        """What students join with now."""
        return SchoolClass.objects.get(slug=self.of.slug).code

    def bench(self, name: str) -> ClassBench:
        """The bench at which somebody sits."""
        seat = Member.objects.get(class_slug=self.of.slug, person=self.people[name].id)
        return ClassBench.objects.get(class_slug=self.of.slug, bench=seat.bench)

    def job(self, name: str) -> Job:
        """The job at somebody's bench."""
        return Job.objects.get(id=self.bench(name).job)

    def student(self, name: str, tablet: Tablet | None = None, number: str = NUMBER) -> Tablet:
        """A tablet in this student's hands."""
        tablet = tablet or Tablet()
        tablet.opens(f"/join/{self.code}?as={self.people[name].id}")
        tablet.sends(tablet.page.forms[0], {"number": number})
        return tablet

    def teacher(self, name: str = "Tilda") -> Tablet:
        """A phone on which somebody who teaches is signed in."""
        tablet = Tablet()
        tablet.opens("/teach")
        tablet.presses("Sign in", name=name, password=PASSWORD)
        return tablet


@cache
def hashed(secret: str, hasher: str) -> str:
    """As the workshop keeps it; made once with each hasher, since it is meant to be slow."""
    assert hasher in settings.PASSWORD_HASHERS
    return make_password(secret)


def gathered() -> Cast:
    """The cast of the demo workshop of this test."""
    _counted.storage.reset()
    workshop = Workshop.objects.get()
    owner = keep_person(workshop, "Odo", "", "owner")
    first = settings.PASSWORD_HASHERS[0]
    everybody = Person.objects.filter(workshop=workshop)
    everybody.filter(name__in=("Odo", "Tilda")).update(password=hashed(PASSWORD, first))
    everybody.filter(name="Tilda").update(number=hashed(TEACHER_NUMBER, first))
    everybody.filter(role="student").update(number=hashed(NUMBER, first))
    look_again()
    assert owner.id
    return Cast(SchoolClass.objects.get(), {one.name: one for one in Person.objects.filter(workshop=workshop)})


def said(page: Page) -> str:
    """The first sentence of a warning on a page."""
    found = re.search(
        r"(Not yet\.|Not signed in\.|Not kept\.|Not done\.|Not written\.|Not made\.) (.*?[.!?…])(?: |$)", page.text
    )
    return found[2] if found else ""
