"""Which spanner, key or screwdriver fits a thread under a head; the heads are a table, the sizes are published ones."""

import difflib
from dataclasses import dataclass
from functools import cache

from fingertight.tighten.tables import rows
from fingertight.tighten.threads import Thread


class NoSuchHead(ValueError):
    """This head is not known here; the message names the nearest that are, and `nearest` lists them."""

    def __init__(self, typed: str, nearest: tuple[str, ...]) -> None:
        super().__init__(f"There is no head “{typed}” here; the nearest are {', '.join(nearest)}.")
        self.nearest = nearest


class NoSuchSpanner(ValueError):
    """The tables have no size for this thread under this head; the message says so."""


@dataclass(frozen=True, slots=True)
class Head:
    """A head style: the tables its sizes stand in, or the one driver that fits every size ("" for fingers)."""

    name: str
    tables: tuple[str, ...] = ()
    driver: str | None = None


HEADS: dict[str, Head] = {
    head.name: head
    for head in (
        Head("hex", ("iso-4014.csv", "asme-b18.2.1.csv")),
        Head("hex DIN 931", ("din-931.csv",)),
        Head("hex flange", ("en-1665.csv", "asme-b18.2.1-flange.csv")),
        Head("hex flange small", ("en-1662.csv",)),
        Head("hex nut", ("iso-4032.csv", "asme-b18.2.2.csv")),
        Head("flange nut", ("en-1661.csv",)),
        Head("socket", ("iso-4762.csv", "asme-b18.3.csv")),
        Head("button socket", ("iso-7380.csv",)),
        Head("countersunk socket", ("iso-10642.csv",)),
        Head("set screw", ("iso-4026.csv",)),
        Head("cross", driver="screwdriver, cross"),
        Head("slotted", driver="screwdriver, slotted"),
        Head("wing nut", driver=""),
        Head("wing screw", driver=""),
        Head("knurled", driver=""),
    )
}
_SPELT = {
    "hexagon": "hex",
    "hex head": "hex",
    "flange": "hex flange",
    "flanged hex": "hex flange",
    "hexagon flange": "hex flange",
    "small hex flange": "hex flange small",
    "nut": "hex nut",
    "hexagon nut": "hex nut",
    "lock nut": "hex nut",
    "hex flange nut": "flange nut",
    "socket cap": "socket",
    "socket head": "socket",
    "hex socket": "socket",
    "button": "button socket",
    "countersunk": "countersunk socket",
    "grub screw": "set screw",
    "cross head": "cross",
    "cross pan": "cross",
    "pan cross": "cross",
    "slot": "slotted",
    "wing": "wing nut",
    "thumb screw": "knurled",
}


def head_named(text: str) -> Head:
    """Which head is meant by this text?

    >>> head_named("socket cap").name
    'socket'

    Raises NoSuchHead, naming the nearest there are.
    """
    evened = " ".join(text.split())
    lowered = evened.lower()
    found = HEADS.get(evened) or HEADS.get(_SPELT.get(lowered, lowered))
    if found is None:
        near = difflib.get_close_matches(lowered[:40], [*HEADS, *_SPELT], n=3, cutoff=0.5)
        names = dict.fromkeys(_SPELT.get(name, name) for name in near)
        raise NoSuchHead(text, tuple(names) or ("hex", "hex flange", "socket"))
    return found


@cache
def _drivers(table: str) -> dict[str, str]:
    """The driver for each thread size of one table."""
    return {row["size"]: row["driver"] for row in rows(table)}


def spanner_for(thread: Thread, head: str) -> str:
    """What turns this fastener? "10 mm" is a spanner, "5 mm key" a hexagon key; "" means fingers.

    >>> from fingertight.tighten.threads import thread_named
    >>> spanner_for(thread_named("M6"), "hex"), spanner_for(thread_named("1/4-20 UNC"), "hex")
    ('10 mm', '7/16 in')

    A fine thread has the head of the coarse one of its size. One thread is met under several heads; what lies on the
    bench comes first, so an anatomy may name the driver itself.

    Raises NoSuchHead for a head that is not known, NoSuchSpanner where the tables have no size for it.
    Source: ISO 4014, 4026, 4032, 4762, 7380-1, 10642, EN 1661, 1662, 1665, DIN 931, ASME B18.2.1, B18.2.2, B18.3
    (files in tables/, each with its edition).
    """
    style = head_named(head)
    if style.driver is not None:
        return style.driver
    # A pipe size is no bolt size: G1/4 is 13 mm thick, and no table here has a head for it.
    for table in style.tables if thread.series != "G" else ():
        driver = _drivers(table).get(thread.size)
        if driver:
            return driver
    raise NoSuchSpanner(f"No table here has a spanner for {thread.name} under the head “{style.name}”.")
