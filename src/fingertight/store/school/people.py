"""People of a workshop: kept, given a number or a password, signed out everywhere, forgotten. Hashing is Django's."""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from datetime import UTC, datetime

from django.contrib.auth.hashers import check_password, is_password_usable, make_password
from django.db import transaction
from django.db.models import F, QuerySet

from fingertight.store.models import Workshop
from fingertight.store.school.tables import Member, Person

FORGOTTEN = "somebody"
_UNREADABLE = "Il1O0"
_LETTERS = "".join(letter for letter in "ABCDEFGHJKLMNPQRSTUVWXYZ23456789" if letter not in _UNREADABLE)


def new_code(length: int) -> str:
    """A code to be read aloud and typed: capitals and figures, none that looks like another."""
    return "".join(secrets.choice(_LETTERS) for _ in range(length))


def new_person_id() -> str:
    """An id that says nothing about anybody: it is all that a log ever names."""
    return f"p-{secrets.token_hex(6)}"


def keep_person(workshop: Workshop, name: str, mark: str, role: str) -> Person:
    """Somebody new."""
    return Person.objects.create(
        workshop=workshop, id=new_person_id(), name=name, mark=mark, role=role, made=datetime.now(UTC)
    )


def people(workshop: Workshop, *roles: str) -> list[Person]:
    """Everybody with one of these roles who was not forgotten, by name."""
    found = Person.objects.filter(workshop=workshop, role__in=roles, forgotten=None)
    return sorted(found, key=lambda one: (one.name.casefold(), one.mark))


def person_at(workshop: Workshop, person_id: str) -> Person | None:
    """Somebody by their id, forgotten or not."""
    return Person.objects.filter(workshop=workshop, id=person_id).first()


def give_number(person: Person, number: str) -> None:
    """Somebody has this number from now on."""
    _same(person).update(number=make_password(number))


def give_password(person: Person, password: str) -> None:
    """Somebody has this password from now on, and every session of theirs ends."""
    _same(person).update(password=make_password(password), epoch=F("epoch") + 1)


def take_number(person: Person) -> None:
    """Somebody has no number any more and chooses a new one; every session of theirs ends."""
    _same(person).update(number="", epoch=F("epoch") + 1)


def take_password(person: Person) -> None:
    """Somebody has neither password nor number; every session of theirs ends, and their old links with them.

    That there was a password stays known: a workshop in which people sign in never opens to everybody again.
    """
    _same(person).update(number="", password=_worthless(person), epoch=F("epoch") + 1)


def has_password(person: Person) -> bool:
    """Whether there is a password with which somebody can sign in now."""
    return bool(person.password) and is_password_usable(person.password)


def is_number_of(person: Person, number: str) -> bool:
    """Whether this is the number somebody chose."""
    return bool(person.number) and check_password(number, person.number)


def is_password_of(person: Person, password: str) -> bool:
    """Whether this is somebody's password."""
    return bool(person.password) and check_password(password, person.password)


def sign_out_everywhere(workshop: Workshop, person_ids: Iterable[str]) -> int:
    """End every session of these people; of how many."""
    return Person.objects.filter(workshop=workshop, id__in=list(person_ids)).update(epoch=F("epoch") + 1)


@transaction.atomic
def forget(person: Person) -> None:
    """Name, mark, number and password go, and the seats in classes; entries and their chain stay whole."""
    _same(person).update(
        name=FORGOTTEN,
        mark="",
        number="",
        password=_worthless(person),
        epoch=F("epoch") + 1,
        forgotten=datetime.now(UTC),
    )
    Member.objects.filter(workshop=person.workshop, person=person.id).delete()


def _worthless(person: Person) -> str:
    """What stands where a password stood: nothing opens it; "" where there never was one."""
    return make_password(None) if person.password else ""


def _same(person: Person) -> QuerySet[Person]:
    return Person.objects.filter(workshop=person.workshop, id=person.id)
