"""The spanner that lies ready is the one that fits."""

import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from fingertight.tighten import HEADS, NoSuchHead, NoSuchSpanner, head_named, spanner_for, thread_named, threads

OUTSIDE = Path(__file__).parent.parent / "outside" / "threads-and-spanners.toml"
VALUES: list[dict[str, Any]] = [
    value for value in tomllib.loads(OUTSIDE.read_text(encoding="utf-8"))["value"] if value["topic"] == "spanners"
]
# How a published value names a head, and how an anatomy does.
HEADS_IN_THE_VALUES = {
    "hexagon ISO 4014/4017": "hex",
    "hexagon DIN 931/933": "hex DIN 931",
    "nut ISO 4032": "hex nut",
    "hexagon flange EN 1665": "hex flange",
    "hexagon flange small EN 1662": "hex flange small",
    "flange nut EN 1661": "flange nut",
    "socket cap ISO 4762": "socket",
    "socket cap ASME B18.3": "socket",
    "hex cap screw ASME B18.2.1": "hex",
}


def across_flats(driver: str) -> float | str:
    """The size in a driver's name: a number of millimetres, or the text of a fraction of an inch."""
    size = driver.removesuffix(" key").removesuffix(" mm").removesuffix(" in")
    return size if "/" in size else float(size)


@pytest.mark.parametrize("value", VALUES, ids=[value["id"] for value in VALUES])
def test_a_head_takes_the_spanner_its_standard_publishes(value: dict[str, Any]) -> None:
    # Each value names its source in tests/outside/threads-and-spanners.toml.
    asked = value["inputs"]
    thread = thread_named(asked["thread"] if "thread" in asked else f"{asked['thread_in']} UNC")
    if "head" in asked:
        assert across_flats(spanner_for(thread, HEADS_IN_THE_VALUES[asked["head"]])) == value["expect"]
    else:
        assert [across_flats(spanner_for(thread, head)) for head in ("hex", "hex DIN 931")] == value["expect"]


def test_there_are_published_values_for_every_kind_of_head() -> None:
    assert {value["inputs"].get("head") for value in VALUES} == {*HEADS_IN_THE_VALUES, None}


@pytest.mark.parametrize(
    ("thread", "head", "driver"),
    [
        ("M6", "hex flange", "10 mm"),
        ("M6x0.75", "hex", "10 mm"),
        ("M6", "socket cap", "5 mm key"),
        ("M8", "Hex Flange", "13 mm"),
        ("1/4-28 UNF", "hex", "7/16 in"),
        ("1/4-20 BSW", "socket", "3/16 in key"),
        ("#10-24", "socket", "5/32 in key"),
        ("M5", "cross", "screwdriver, cross"),
        ("M5", "slotted", "screwdriver, slotted"),
        ("M6", "wing nut", ""),
    ],
)
def test_the_driver_follows_from_thread_and_head(thread: str, head: str, driver: str) -> None:
    assert spanner_for(thread_named(thread), head) == driver


def test_a_head_that_is_not_known_is_answered_with_the_nearest() -> None:
    with pytest.raises(NoSuchHead) as refused:
        head_named("hexx flange")
    assert str(refused.value).startswith("There is no head “hexx flange” here; the nearest are hex flange")


@pytest.mark.parametrize(
    ("thread", "head"), [("M9", "hex"), ("M6", "nothing"), ("G1/4", "hex"), ("M20", "hex flange small")]
)
def test_where_no_table_has_a_size_nothing_is_guessed(thread: str, head: str) -> None:
    with pytest.raises((NoSuchSpanner, NoSuchHead)):
        spanner_for(thread_named(thread), head)


def test_a_thread_without_a_spanner_is_said_to_have_none() -> None:
    with pytest.raises(NoSuchSpanner) as refused:
        spanner_for(thread_named("M9"), "hex")
    assert str(refused.value) == "No table here has a spanner for M9 under the head “hex”."


def test_every_size_of_every_table_belongs_to_a_thread_that_exists() -> None:
    sizes = {thread.size for thread in threads().values()}
    for head in HEADS.values():
        for table in head.tables:
            text = files("fingertight.tighten.tables").joinpath(table).read_text(encoding="utf-8")
            rows = [line.split(",")[0] for line in text.splitlines() if not line.startswith("# ")][1:]
            assert rows, table
            assert set(rows) <= sizes, table


def test_every_table_says_where_it_comes_from_and_how_it_was_read() -> None:
    tables = [table for table in files("fingertight.tighten.tables").iterdir() if table.name.endswith(".csv")]
    assert len(tables) >= 15
    for table in tables:
        begins = [line.split(":")[0] for line in table.read_text(encoding="utf-8").splitlines()[:4]]
        assert begins == ["# source", "# edition", "# table", "# how it was read"], table.name
