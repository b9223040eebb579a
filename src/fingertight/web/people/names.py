"""What people are called, for pages that may show it. Logs name people by id only."""

from hashlib import sha256

from fingertight.store.models import Workshop
from fingertight.store.school.tables import Person
from fingertight.web.people.who import ALONE, Who, called


def names_for(who: Who, workshop: Workshop) -> dict[str, str]:
    """By id, what everybody is called; for a visitor nobody is called anything."""
    if who.role.rank == 0:
        return {}
    found = {person.id: called(person) for person in Person.objects.filter(workshop=workshop)}
    return found | {ALONE: "the owner"}


def names_mark(who: Who, workshop: Workshop) -> str:
    """What changes when somebody is called something else, or is forgotten: part of the ETag of a page with names."""
    return sha256(repr(sorted(names_for(who, workshop).items())).encode()).hexdigest()[:8]
