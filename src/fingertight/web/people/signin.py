"""Numbers, passwords, codes and links are checked. Wrong guesses are counted per person and per code, never per
address: a whole class comes from one. Counting is the `limits` library's, hashing and signing Django's.

A number, a password, and a password where its owner signed in before are counted apart: who guesses at one closes
neither of the others, so nobody is kept from the own phone by somebody else's guesses.
"""

import logging
from typing import Final, Literal, get_args

from django.contrib.auth.password_validation import CommonPasswordValidator, MinimumLengthValidator
from django.core.exceptions import ValidationError
from django.core.signing import BadSignature, Signer
from limits import parse
from limits.storage import MemoryStorage
from limits.strategies import FixedWindowRateLimiter

from fingertight.store.models import Workshop
from fingertight.store.school.people import is_number_of, is_password_of, people, person_at
from fingertight.store.school.tables import Person

log = logging.getLogger("fingertight.signin")

Guessed = Literal["number", "password", "password where known"]
GUESSED: Final = get_args(Guessed)
WRONG_GUESSES: Final = parse("5 per 12 hours")
WRONG_CODES: Final = parse("60 per 10 minutes")
LEAST_PASSWORD = 12
_BADGES = "fingertight.badge"
_counted = FixedWindowRateLimiter(MemoryStorage())


class NotIn(Exception):
    """Nobody is signed in by this; the message says why and what to do."""


def check_number(person: Person, number: str) -> None:
    """Raises NotIn unless this is the number somebody chose; after five wrong ones the instructor unlocks."""
    _may_try(person, "number")
    if is_number_of(person, number):
        _counted.clear(WRONG_GUESSES, _key(person, "number"))
        return
    log.warning("a wrong number for %s", person.id)
    left = _counted.get_window_stats(WRONG_GUESSES, _key(person, "number")).remaining
    raise NotIn(f"That is not the number. {left} tries are left." if left else "That is not the number.")


def check_password(person: Person | None, password: str, *, was_here: bool = False) -> Person:
    """Who this is by password; was_here: they signed in with it at this browser before.

    Raises NotIn; the same words for a wrong name and a wrong password.
    """
    if person is None:
        raise NotIn("Name and password do not belong together. Look at both, then try again.")
    what: Guessed = "password where known" if was_here else "password"
    _may_try(person, what)
    if not is_password_of(person, password):
        log.warning("a wrong password for %s", person.id)
        raise NotIn("Name and password do not belong together. Look at both, then try again.")
    _counted.clear(WRONG_GUESSES, _key(person, what))
    return person


def _may_try(person: Person, what: Guessed) -> None:
    """Count this try before it is looked at, so that many at once are no more than five. Raises NotIn."""
    if _counted.hit(WRONG_GUESSES, _key(person, what)):
        return
    log.warning("five wrong guesses at the %s of %s: locked until unlocked", what, person.id)
    raise NotIn(
        "That was wrong five times. The instructor unlocks it on the class’s page."
        if person.role == "student"
        else "That was wrong five times. Choose a new number with your password on your own phone, under “Your number”."
        if what == "number"
        else "That was wrong five times. Sign in where you did before, or the owner unlocks it: fingertight people "
        "--unlock NAME"
    )


def is_locked(person: Person) -> bool:
    """Whether somebody must be unlocked before their number, or their password at a new browser, is looked at."""
    return not all(_counted.test(WRONG_GUESSES, _key(person, what)) for what in GUESSED)


def unlock(person: Person) -> None:
    """Somebody may try again."""
    for what in GUESSED:
        _counted.clear(WRONG_GUESSES, _key(person, what))


def count_wrong_code(workshop: Workshop, *, known_tablet: bool) -> None:
    """A code that opens nothing was typed. Raises NotIn where too many were, except at a tablet that joined before: one
    that guesses must not keep out the class."""
    within = _counted.hit(WRONG_CODES, "codes", str(workshop.pk))
    log.warning("a wrong join code")
    if not within and not known_tablet:
        raise NotIn("Too many wrong codes were typed just now. Wait ten minutes, or let the instructor sign you in.")


def may_try_code(workshop: Workshop, *, known_tablet: bool) -> bool:
    """Whether a code is looked at now."""
    return known_tablet or _counted.test(WRONG_CODES, "codes", str(workshop.pk))


def badge_of(person_id: str) -> str:
    """What a badge says: whose it is, signed with the workshop's key. It opens the name; the number is still typed."""
    return Signer(salt=_BADGES).sign(person_id)


def badge_holder(workshop: Workshop, token: str) -> Person:
    """Whose badge this is. Raises NotIn."""
    try:
        person = person_at(workshop, Signer(salt=_BADGES).unsign(token))
    except BadSignature:
        person = None
    if person is None or person.forgotten or person.role != "student":
        raise NotIn(
            "This badge is not of this workshop, or its holder left it. Join with the class’s code and the name."
        )
    return person


def instructor_by(workshop: Workshop, person_id: str, number: str) -> Person:
    """The instructor who signs at somebody else's tablet with their own number. Raises NotIn."""
    person = person_at(workshop, person_id)
    if person is None or person.role == "student" or person.forgotten:
        raise NotIn("An instructor signs this: choose your name and type your number.")
    if not person.number:
        raise NotIn("This instructor has no number yet. Choose one under “Your number” after signing in.")
    check_number(person, number)
    return person


def named(workshop: Workshop, name: str) -> Person | None:
    """The instructor or owner of this name, however it is written."""
    wanted = " ".join(name.split()).casefold()
    return next((one for one in people(workshop, "instructor", "owner") if one.name.casefold() == wanted), None)


def checked_password(password: str, again: str) -> str:
    """The same password, if it is long enough and none of those everybody tries. Raises NotIn."""
    if password != again:
        raise NotIn("The two passwords are not the same. Type both again.")
    try:
        MinimumLengthValidator(LEAST_PASSWORD).validate(password)
    except ValidationError:
        raise NotIn(f"A password has {LEAST_PASSWORD} characters or more; three words in a row do well.") from None
    try:
        CommonPasswordValidator().validate(password)
    except ValidationError:
        raise NotIn("That password is among those everybody tries. Take three words of your own.") from None
    return password


EASY = {"0000", "1111", "2222", "3333", "4444", "5555", "6666", "7777", "8888", "9999", "1234", "4321", "0123"}


def checked_number(number: str, again: str) -> str:
    """The same four figures, if they are. Raises NotIn."""
    number, again = number.strip(), again.strip()
    if not (len(number) == 4 and number.isascii() and number.isdigit()):
        raise NotIn("A number has four figures, 0 to 9.")
    if number != again:
        raise NotIn("The two numbers are not the same. Type both again.")
    if number in EASY:
        raise NotIn(f"{number} is the first that anybody tries. Choose another.")
    return number


def _key(person: Person, what: Guessed) -> str:
    """Wrong guesses are counted anew when the epoch grows: that is how the owner unlocks at the machine."""
    return f"{person.workshop.pk}/{person.id}/{person.epoch}/{what}"
