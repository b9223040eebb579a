"""Counts and nouns as people say them, and why a part may not move yet, in sentences that name things."""

from collections.abc import Mapping, Sequence

from fingertight.anatomy.model import FastenerSet
from fingertight.ledger.plan import listed
from fingertight.order.moves import InTheWay, NotYet

NOUNS = ("nut", "stud", "screw", "plug", "knob", "bolt")
SCREWS = ("countersunk", "slot", "cross", "pan", "cheese", "grub")
BOLTS = ("hex", "socket", "flange", "button")


def plural(how_many: int, noun: str) -> str:
    """The noun for so many; nothing stays nothing."""
    if how_many == 1 or not noun:
        return noun
    if noun.endswith("y") and noun[-2] not in "aeiou":
        return f"{noun[:-1]}ies"
    return f"{noun}es" if noun.endswith(("s", "x", "ch", "sh")) else f"{noun}s"


def counted(how_many: int, noun: str) -> str:
    """So many of a thing.

    >>> counted(1, "bolt"), counted(6, "bolt")
    ('1 bolt', '6 bolts')
    """
    return f"{how_many} {plural(how_many, noun)}"


def so_long(minutes: int) -> str:
    """A time that has passed, as people say it: minutes, hours, days.

    >>> so_long(12), so_long(200), so_long(10080)
    ('12 min', '3 h', '7 days')
    """
    if minutes < 90:
        return f"{minutes} min"
    hours = round(minutes / 60)
    return f"{hours} h" if hours < 36 else counted(round(hours / 24), "day")


def noun_of(fasteners: FastenerSet) -> str:
    """What people call one of these: bolt, screw, nut, circlip, press fit; "" where its head does not tell."""
    if fasteners.kind:
        return fasteners.kind
    head = (fasteners.head or "").lower()
    said = next((noun for noun in NOUNS if noun in head), "")
    if said:
        return said
    return "screw" if any(word in head for word in SCREWS) else "bolt" if any(word in head for word in BOLTS) else ""


def why_not_off(waits: InTheWay, titles: Mapping[str, str]) -> str:
    """What comes off first, as a sentence.

    >>> why_not_off(InTheWay(("guard",)), {"guard": "Guard"})
    'Guard is still on; it comes off first.'
    """
    sentences = []
    if waits.behind:
        named = listed(titles[part] for part in waits.behind)
        one = len(waits.behind) == 1
        sentences.append(f"{named} {'is' if one else 'are'} still on; {'it comes' if one else 'they come'} off first.")
    if waits.ways:
        ways = listed((listed(titles[part] for part in way) for way in waits.ways), "or")
        sentences.append(f"It needs a way out: take off {ways}.")
    return " ".join(sentences)


def why_not_on(waits: NotYet, titles: Mapping[str, str]) -> str:
    """What goes on first, or what must come off again, as a sentence.

    >>> why_not_on(NotYet(("piston",)), {"piston": "Piston and rod"})
    'Piston and rod goes on first.'
    """
    sentences = []
    if waits.after:
        goes = "goes" if len(waits.after) == 1 else "go"
        sentences.append(f"{listed(titles[part] for part in waits.after)} {goes} on first.")
    if waits.in_the_way:
        sentences.append(f"It cannot get in: {_in_the_way(waits.in_the_way, titles)}")
    return " ".join(sentences) or "Something else goes on first."


def _in_the_way(waits: InTheWay, titles: Mapping[str, str]) -> str:
    named: Sequence[str] = [titles[part] for part in waits.behind]
    said = f"{listed(named)} {'is' if len(named) == 1 else 'are'} on already" if named else ""
    ways = listed((listed(titles[part] for part in way) for way in waits.ways), "or")
    either = f"take off {ways} again" if ways else ""
    return "; ".join(part for part in (said, either) if part) + "."
