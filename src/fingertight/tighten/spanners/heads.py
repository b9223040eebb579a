"""Which spanner, key or screwdriver fits a thread under a head; the heads are a table, the sizes are published ones."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from fingertight.tighten.spanners.widths import NoSuchWidth, Width, head_width
from fingertight.tighten.tables import about, rows
from fingertight.tighten.threads.names import Thread, threads

PRACTICE = "common practice, no source"


class NoSuchHead(ValueError):
    """This head is not known here; the message names the nearest that are, and `nearest` lists them."""

    def __init__(self, typed: str, nearest: tuple[str, ...]) -> None:
        super().__init__(f"There is no head “{typed}” here; the nearest are {', '.join(nearest)}.")
        self.nearest = nearest


class NoSuchSpanner(ValueError):
    """The tables have no size for this thread under this head; the message says so."""


class HeadSpanner(NamedTuple):
    """One head a thread is met under: the spanner or key for it, the standard, and where it is usual ("" unsaid)."""

    head: str
    driver: str
    source: str
    usual: str


class Head(NamedTuple):
    """A head style: the tables its sizes stand in, or the one driver that fits every size ("" for fingers)."""

    name: str
    tables: tuple[str, ...] = ()
    driver: str | None = None


HEADS: dict[str, Head] = {
    head.name: head
    for head in (
        Head("hex", ("iso-4014.csv", "asme-b18.2.1.csv", "bs-1083.csv")),
        Head("hex small", ("practice-small-engines.csv",)),
        Head("hex DIN 931", ("din-931.csv",)),
        Head("hex old Whitworth", ("bs-190.csv",)),
        Head("hex flange", ("en-1665.csv", "asme-b18.2.1-flange.csv")),
        Head("hex flange on small engines", ("practice-small-engines-flange.csv",)),
        Head("hex flange small", ("en-1662.csv",)),
        Head("hex flange small ISO", ("iso-4162.csv",)),
        Head("hex nut", ("iso-4032.csv", "asme-b18.2.2.csv", "bs-1083.csv")),
        Head("hex nut DIN 934", ("din-934.csv",)),
        Head("hex nut old Whitworth", ("bs-190.csv",)),
        Head("flange nut", ("en-1661.csv",)),
        Head("flange nut DIN 6923", ("din-6923.csv",)),
        Head("socket", ("iso-4762.csv", "asme-b18.3.csv")),
        Head("button socket", ("iso-7380.csv", "asme-b18.3-button.csv")),
        Head("countersunk socket", ("iso-10642.csv", "asme-b18.3-countersunk.csv")),
        Head("set screw", ("iso-4026.csv", "asme-b18.3-set.csv")),
        Head("cross", driver="screwdriver, cross"),
        Head("slotted", driver="screwdriver, slotted"),
        Head("wing nut", driver=""),
        Head("wing screw", driver=""),
        Head("knurled", driver=""),
    )
}
# Where a table's heads are usual, in so many words; what is not here is not said.
_USUAL = {
    "iso-4014.csv": f"the ordinary head: {PRACTICE}",
    "practice-small-engines.csv": f"common on small engines: {PRACTICE}",
    "practice-small-engines-flange.csv": f"common on small engines: {PRACTICE}",
    "en-1662.csv": f"common on vehicles: {PRACTICE}",
    "din-931.csv": f"common on older machines: {PRACTICE}",
    "din-934.csv": f"common on older machines: {PRACTICE}",
    "din-6923.csv": f"common on older machines: {PRACTICE}",
    "bs-190.csv": f"on older machines: {PRACTICE}",
}
_SPELT = {
    "hexagon": "hex",
    "small hex": "hex small",
    "hex din 931": "hex DIN 931",
    "hex nut din 934": "hex nut DIN 934",
    "flange nut din 6923": "flange nut DIN 6923",
    "hex flange small iso": "hex flange small ISO",
    "hex flange small engines": "hex flange on small engines",
    "hex old whitworth": "hex old Whitworth",
    "old whitworth": "hex old Whitworth",
    "hex nut old whitworth": "hex nut old Whitworth",
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


@cache
def head_words() -> tuple[tuple[str, str], ...]:
    """Every way a head may be called, the longest first, each with the head that is meant.

    >>> dict(head_words())["socket cap"]
    'socket'
    """
    words = {**{name: name for name in HEADS}, **_SPELT}
    return tuple(sorted(words.items(), key=lambda one: (-len(one[0]), one[0])))


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
        import difflib  # here, so that a start without a mistake need not wait for it

        near = difflib.get_close_matches(lowered[:40], [*HEADS, *_SPELT], n=3, cutoff=0.5)
        names = dict.fromkeys(_SPELT.get(name, name) for name in near)
        raise NoSuchHead(text, tuple(names) or ("hex", "hex flange", "socket"))
    return found


@cache
def _drivers(table: str) -> dict[str, str]:
    """The driver for each thread size of one table."""
    return {row["size"]: row["driver"] for row in rows(table)}


@cache
def _source(table: str) -> str:
    """What the first line of a table names as its source, with the edition of the second."""
    if table.startswith("practice-"):
        return PRACTICE
    said = about(table)
    return f"{said['source'].partition(',')[0]}:{said['edition']}"


def _driver(table: str, thread: Thread) -> str:
    """The driver of one table for a thread, "" where it has none.

    A Whitworth head has its own widths, named with their series; the American ones would be the wrong spanner. Its
    cap screws have the sockets of the inch table. A pipe size is no bolt size: G1/4 is 13 mm thick, and has no head.
    """
    size = f"{thread.size} BSW" if thread.series == "BSW" and table != "asme-b18.3.csv" else thread.size
    return "" if thread.series == "G" else _drivers(table).get(size, "")


def spanner_for(thread: Thread, head: str) -> str:
    """What turns this fastener? "10 mm" is a spanner, "5 mm key" a hexagon key; "" means fingers.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> spanner_for(thread_named("M6"), "hex"), spanner_for(thread_named("1/4-20 UNC"), "hex")
    ('10 mm', '7/16 in')

    A fine thread has the head of the coarse one of its size. One thread is met under several heads; what lies on the
    bench comes first, so an anatomy may name the driver itself.

    Raises NoSuchHead for a head that is not known, NoSuchSpanner where the tables have no size for it.
    Source: ISO 4014, 4026, 4032, 4162, 4762, 7380-1, 10642, EN 1661, 1662, 1665, DIN 931, 934, 6923, ASME B18.2.1,
    B18.2.2, B18.3, BS 1083, BS 190 (files in tables/, each with its edition); small heads and the flange heads of small
    engines: common practice, no source.
    """
    style = head_named(head)
    if style.driver is not None:
        return style.driver
    for table in style.tables:
        if driver := _driver(table, thread):
            return driver
    raise NoSuchSpanner(f"No table here has a spanner for {thread.name} under the head “{style.name}”.")


def whitworth_spanner(marked: str) -> str:
    """Which width has the spanner that is marked with a Whitworth thread: "1/4 W" or "1/4 BS"? "" where it is none.

    W is the old, larger series, BS (or BSF) the one of BS 1083; 1/4 W and 5/16 BS are the same spanner.

    >>> whitworth_spanner("1/4 W"), whitworth_spanner("5/16 BS"), whitworth_spanner("1/4")
    ('0.525 in', '0.525 in', '')

    Raises nothing.
    Source: BS 1083, BS 190 (tables/); the marks as two public pages on British spanners have them.
    """
    size, _, mark = marked.strip().rpartition(" ")
    table = {"W": "bs-190.csv", "WHIT": "bs-190.csv", "BS": "bs-1083.csv", "BSF": "bs-1083.csv"}.get(mark.upper())
    return _drivers(table).get(f"{size.strip()} BSW", "") if table else ""


def is_whitworth(width: str) -> bool:
    """Whether spanners of this width are marked with a Whitworth thread, and stand in no table of openings here.

    >>> is_whitworth("0.525 in"), is_whitworth("1/2 in")
    (True, False)
    """
    return any(width in _drivers(table).values() for table in ("bs-1083.csv", "bs-190.csv"))


def spanner_mark(driver: str, thread: Thread, source: str) -> str:
    """What stands on the spanner: its width, and for a Whitworth head the thread it is marked with.

    driver, source: of a HeadSpanner of this thread.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> spanner_mark("0.445 in", thread_named("1/4 BSW"), "BS 1083:1965"), spanner_mark("10 mm", thread_named("M6"), "")
    ('0.445 in (marked 1/4 BS)', '10 mm')

    Raises nothing.
    Source: as `whitworth_spanner`.
    """
    mark = next((mark for standard, mark in (("BS 1083", "BS"), ("BS 190", "W")) if source.startswith(standard)), "")
    return f"{driver} (marked {thread.size} {mark})" if mark else driver


def spanners_for(thread: Thread) -> tuple[HeadSpanner, ...]:
    """Under which heads is this thread met, and what turns each? All that the tables have, none left out.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> [(one.head, one.driver) for one in spanners_for(thread_named("M8"))][:3]
    [('hex', '13 mm'), ('hex small', '12 mm'), ('hex DIN 931', '13 mm')]

    A thread is no spanner size, and has none of its own. Empty for a pipe thread, or one that no table has a head for.
    Heads that want a screwdriver or fingers at any size are not among them. Sources as for `spanner_for`.
    """
    return tuple(
        HeadSpanner(style.name, driver, _source(table), _USUAL.get(table, ""))
        for style in HEADS.values()
        for table in style.tables
        if (driver := _driver(table, thread))
    )


def threads_under(across_flats_mm: float) -> tuple[tuple[Thread, str], ...]:
    """Which coarse threads sit under a head or nut that measures this across its flats, and by which head?

    across_flats_mm: as measured, or the width of a spanner [mm]. A head counts when the measure lies between the
    published limits of its width; one that is painted, worn or rough lies outside, so widen the measure and ask twice.
    Returns thread and head, smallest thread first. Sockets in a screw are left out: a caliper does not reach them. So
    are the old Whitworth heads of 5/8 and 1 in: no table has limits for their widths.

    >>> [(thread.name, head) for thread, head in threads_under(11.05)]
    [('#12-24 UNC', 'hex nut'), ('1/4-20 UNC', 'hex'), ('1/4-20 UNC', 'hex nut')]

    Source: the tables of `spanner_for`, limits of `widths.head_width`.
    """
    found = [
        (thread, style.name)
        for thread, style, driver in _outside_heads()
        if (width := _limits(driver)) and width.least_mm - 1e-9 <= across_flats_mm <= width.most_mm + 1e-9
    ]
    return tuple(sorted(dict.fromkeys(found), key=lambda one: one[0].diameter_mm))


@cache
def _limits(driver: str) -> Width | None:
    """The limits of the head that this spanner goes on, where a table has them."""
    try:
        return head_width(driver)
    except NoSuchWidth:
        return None


def _outside_heads() -> Iterator[tuple[Thread, Head, str]]:
    """Each coarse thread with each head that a spanner goes over, and that spanner."""
    for thread in threads().values():
        if thread.series in {"coarse", "UNC", "BSW"}:
            for style in HEADS.values():
                for table in style.tables:
                    driver = _driver(table, thread)
                    if driver and not driver.endswith(" key"):
                        yield thread, style, driver
