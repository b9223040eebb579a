"""A link that lets somebody choose a password once. It is signed by Django with the workshop's own key."""

from django.core import signing

from fingertight.store.log.promise import Refused
from fingertight.store.models import Workshop
from fingertight.store.school.people import person_at
from fingertight.store.school.tables import Person

LINK_S = 7 * 24 * 3600
_SALT = "fingertight.first-link"


def first_link(person: Person) -> str:
    """What a link says that lets somebody choose a password once: it is worth nothing after that, nor after a week."""
    return signing.dumps([person.id, person.epoch], salt=_SALT)


def by_link(workshop: Workshop, token: str) -> Person:
    """Whose link this is. Raises Refused for one that is not whole, old or used."""
    try:
        person_id, epoch = signing.loads(token, salt=_SALT, max_age=LINK_S)
    except (signing.BadSignature, ValueError, TypeError):
        raise Refused("This link is not whole, or older than a week. Ask the owner for a new one.") from None
    person = person_at(workshop, str(person_id))
    if person is None or person.epoch != epoch or person.forgotten:
        raise Refused("This link was used already. Sign in with the password, or ask the owner for a new link.")
    return person
