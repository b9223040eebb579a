"""Our heads and sockets beside every row of a parts library's tables; what disagrees stands here by row, with why."""

import csv
from collections.abc import Iterator
from pathlib import Path

import pytest

from fingertight.tighten.spanners.heads import NoSuchSpanner, spanner_for
from fingertight.tighten.spanners.widths import socket_width, width_named
from fingertight.tighten.threads.names import Thread, threads

LIBRARY = Path(__file__).parent.parent / "outside" / "bd-warehouse-heads"
# Which of its columns speaks of which of our heads (README.md there says more).
COLUMNS = [
    ("hex_head_parameters.csv", "iso4014:s", "hex"),
    ("hex_head_parameters.csv", "iso4017:s", "hex"),
    ("hex_head_parameters.csv", "din931:s", "hex DIN 931"),
    ("hex_head_with_flange_parameters.csv", "din1665:s", "hex flange"),
    ("hex_head_with_flange_parameters.csv", "din1662:s", "hex flange small"),
    ("hex_nut_parameters.csv", "iso4032:s", "hex nut"),
    ("hex_nut_parameters.csv", "iso4033:s", "hex nut"),
    ("hex_nut_parameters.csv", "iso4035:s", "hex nut DIN 934"),
    ("hex_nut_with_flange_parameters.csv", "din1665:s", "flange nut DIN 6923"),
    ("socket_head_cap_parameters.csv", "iso4762:s", "socket"),
    ("socket_head_cap_parameters.csv", "asme_b18.3:s", "socket"),
    ("button_head_parameters.csv", "iso7380_1:s", "button socket"),
    ("countersunk_head_parameters.csv", "iso10642:s", "countersunk socket"),
    ("setscrew_parameters.csv", "iso4026:s", "set screw"),
    ("metric_set_screw_parameters.csv", "Socket_Size", "set screw"),
    ("imperial_set_screw_parameters.csv", "Socket_Size", "set screw"),
]
# These two give the most that a socket may measure, not the key.
MOST_OF_THE_SOCKET = {"button socket", "countersunk socket"}
# (column, size): what it has, and why ours is another.
DISAGREE = {
    ("din931:s", "M1.6-0.35"): ("3.02", "the least width of a head called 3.2 mm (3.02 in ISO 4014, grade A)"),
    ("din931:s", "M2-0.4"): ("3.82", "the least width of a head called 4 mm"),
    ("din931:s", "M2.5-0.45"): ("4.82", "the least width of a head called 5 mm"),
    ("din931:s", "M3.5-0.6"): ("5.82", "the least width of a head called 6 mm"),
    ("iso10642:s", "M6-1"): ("4.12", "the most of a socket of 4 mm in older editions; ISO 4762:2004 has 4.095"),
    ("Socket_Size", "#1-64"): ("0.028", "ASME B18.3 has 0.035 in for #1 (reprint on a fastener page)"),
    ("Socket_Size", "#1-72"): ("0.028", "ASME B18.3 has 0.035 in for #1 (reprint on a fastener page)"),
}
# (column, size) that our table does not have; each head that only the library speaks of.
ONLY_THERE = {
    ("iso4035:s", "M1.8-0.35"),
    ("iso4035:s", "M42-4.5"),
    ("iso4035:s", "M45-4.5"),
    ("iso4035:s", "M48-5"),
    ("iso4035:s", "M52-5"),
    ("iso10642:s", "M18-2.5"),
    ("iso10642:s", "M22-2.5"),
    ("iso10642:s", "M24-3"),
    ("iso4026:s", "M1.4-0.3"),
    ("iso4026:s", "M1.8-0.35"),
}


def _every_row() -> Iterator[tuple[str, str, str, str]]:
    """Column, our head, size and what the library has, for each filled cell."""
    for file, column, head in COLUMNS:
        with (LIBRARY / file).open(encoding="utf-8-sig", newline="") as lines:
            for row in csv.DictReader(lines):
                cells = {name.strip(): (cell or "").strip() for name, cell in row.items() if name}
                if cells[column]:
                    yield column, head, cells["Size"], cells[column]


ROWS = list(_every_row())


def _thread(size: str) -> Thread:
    """A thread of this size: the head does not ask for its pitch."""
    name = size.rpartition("-")[0]
    return next(thread for thread in threads().values() if thread.size == name and thread.series not in {"G", "BSW"})


def _agrees(head: str, driver: str, theirs: str) -> bool:
    """Whether it is the same width: the key or spanner by its name, or the socket's most, rounded as theirs is."""
    name, ours_mm = width_named(driver.removesuffix(" key"))
    if head in MOST_OF_THE_SOCKET:
        decimals = len(theirs.partition(".")[2])
        return round(socket_width(name).most_mm, decimals) == float(theirs)
    unit = name.rpartition(" ")[2]
    return width_named(f"{theirs} {unit}")[1] == pytest.approx(ours_mm, abs=1e-9)


@pytest.mark.parametrize(("column", "head", "size", "theirs"), ROWS, ids=[f"{r[0]} {r[2]}" for r in ROWS])
def test_a_head_of_the_library_takes_our_spanner(column: str, head: str, size: str, theirs: str) -> None:
    # Source of every value: package bd-warehouse 0.4.0 (tests/outside/bd-warehouse-heads).
    if (column, size) in ONLY_THERE:
        with pytest.raises((NoSuchSpanner, StopIteration)):
            spanner_for(_thread(size), head)
        return
    agrees = _agrees(head, spanner_for(_thread(size), head), theirs)
    if (column, size) in DISAGREE:
        assert (theirs, agrees) == (DISAGREE[column, size][0], False), "it agrees now: take it off the list"
    else:
        assert agrees, f"{size} under “{head}”: {theirs} there, {spanner_for(_thread(size), head)} here"


def test_nearly_every_row_is_compared_and_few_disagree() -> None:
    named = {(column, size) for column, _, size, _ in ROWS}
    assert named >= ONLY_THERE | DISAGREE.keys()
    assert len(ROWS) - len(ONLY_THERE) > 250
    assert len(DISAGREE) < 10


def test_the_thin_nut_and_the_flange_nut_there_have_the_old_widths() -> None:
    # ISO 4035 has 16 mm for M10 today, EN 1661 too; the columns hold 17 (DIN 934) and 15 (DIN 6923).
    assert ("iso4035:s", "hex nut DIN 934", "M10-1.5", "17") in ROWS
    assert ("din1665:s", "flange nut DIN 6923", "M10-1.5", "15") in ROWS
    m10 = _thread("M10-1.5")
    assert [spanner_for(m10, head) for head in ("hex nut", "flange nut")] == ["16 mm", "16 mm"]
