"""The spanner that lies ready is the one that fits."""

import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from fingertight.tighten.spanners.heads import (
    HEADS,
    NoSuchHead,
    NoSuchSpanner,
    head_named,
    spanner_for,
    spanners_for,
    threads_under,
    whitworth_spanner,
)
from fingertight.tighten.spanners.widths import head_width
from fingertight.tighten.threads.names import thread_named, threads

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
        ("1/4-20 BSW", "hex", "0.445 in"),
        ("M8", "small hex", "12 mm"),
        ("M8", "hex flange on small engines", "12 mm"),
        ("1/4-20 BSW", "hex old whitworth", "0.525 in"),
        ("1/4-20 UNC", "button", "5/32 in key"),
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
            assert {row.removesuffix(" BSW") for row in rows} <= sizes, table


def test_every_table_says_where_it_comes_from_and_how_it_was_read() -> None:
    tables = [table for table in files("fingertight.tighten.tables").iterdir() if table.name.endswith(".csv")]
    assert len(tables) >= 15
    for table in tables:
        begins = [line.split(":")[0] for line in table.read_text(encoding="utf-8").splitlines()[:4]]
        assert begins == ["# source", "# edition", "# table", "# how it was read"], table.name


def test_one_thread_is_offered_every_head_it_is_met_under_and_none_is_refused() -> None:
    # The trap: M8 is 13 by ISO, 10 on small flanges, 12 on many small engines; M10 is 16, 17, 14, 13 or 15.
    assert {one.driver for one in spanners_for(thread_named("M8"))} >= {"13 mm", "12 mm", "10 mm"}
    assert {one.driver for one in spanners_for(thread_named("M10"))} >= {"16 mm", "17 mm", "15 mm", "14 mm", "13 mm"}
    every = {head.name for head in HEADS.values() if head.tables}
    assert {one.head for one in spanners_for(thread_named("M8"))} == {
        name for name in every if "old Whitworth" not in name
    }


def test_every_head_offered_gives_the_spanner_that_is_given_for_it_alone() -> None:
    for thread in threads().values():
        offered = spanners_for(thread)
        assert len({one.head for one in offered}) == len(offered)
        assert all(spanner_for(thread, one.head) == one.driver for one in offered), thread.name


def test_what_is_common_on_small_engines_says_that_it_has_no_source() -> None:
    small = next(one for one in spanners_for(thread_named("M8")) if one.head == "hex small")
    assert (small.driver, small.source) == ("12 mm", "common practice, no source")
    assert small.usual == "common on small engines: common practice, no source"


def test_every_other_head_names_its_standard_and_edition() -> None:
    for thread in threads().values():
        for one in spanners_for(thread):
            practice = one.head in {"hex small", "hex flange on small engines"}
            assert one.source == "common practice, no source" if practice else one.source.rpartition(":")[2].isdigit()


def test_a_pipe_thread_has_no_head() -> None:
    assert spanners_for(thread_named("G1/4")) == ()


def test_a_whitworth_bolt_is_never_given_an_american_spanner() -> None:
    # BS 1083: 0.445 in across flats for 1/4 in; the American head of 7/16 in is 0.438 in.
    drivers = {one.driver for one in spanners_for(thread_named("1/4-20 BSW"))}
    assert "7/16 in" not in drivers
    assert "0.445 in" in drivers


def test_a_head_of_13_mm_sits_on_m8_or_on_m10_and_which_is_said() -> None:
    under = {(thread.name, head) for thread, head in threads_under(13)}
    assert {("M8", "hex"), ("M10", "hex flange small")} <= under
    assert all(thread.series in {"coarse", "UNC", "BSW"} for thread, _ in threads_under(13))


@pytest.mark.parametrize(("measured_mm", "there"), [(12.85, "M8"), (12.6, "5/16-18 UNC"), (18.8, "1/2-13 UNC")])
def test_a_sound_head_measures_less_than_its_name_and_is_still_found(measured_mm: float, there: str) -> None:
    assert there in {thread.name for thread, _ in threads_under(measured_mm)}


def test_a_width_that_no_head_has_sits_on_no_thread() -> None:
    assert threads_under(13.4) == ()


def test_a_head_whose_table_has_this_thread_is_found_by_its_own_width() -> None:
    for thread in threads().values():
        if thread.series in {"coarse", "UNC", "BSW"}:
            for one in spanners_for(thread):
                # No table has the limits of the old heads of 5/8 and 1 in.
                if not one.driver.endswith("key") and one.driver not in {"1.1 in", "1.67 in"}:
                    width_mm = head_width(one.driver).most_mm
                    assert (thread, one.head) in threads_under(width_mm), one


@pytest.mark.parametrize(("size", "published_in", "source"), [
    *((size, width, "an old cyclopaedia’s table of Whitworth nuts, to 0.0001 in (stored copy)") for size, width in (
        ("1/2", 0.9191), ("9/16", 1.011), ("5/8", 1.101), ("3/4", 1.3012), ("7/8", 1.4788), ("1", 1.6701))),
    ("1/4", 0.525, "5/16 BS in BS 1083, table 1: two public pages say that 1/4 W is the same spanner"),
])  # fmt: skip
def test_an_old_whitworth_head_is_as_wide_as_it_was_published(size: str, published_in: float, source: str) -> None:
    driver = spanner_for(thread_named(f"{size} BSW"), "hex old Whitworth")
    assert float(driver.removesuffix(" in")) == pytest.approx(published_in, abs=0.0015), source


@pytest.mark.parametrize(
    ("marked", "width"),
    [("1/4 W", "0.525 in"), ("5/16 BS", "0.525 in"), ("1/4 bsf", "0.445 in"), ("1/4", ""), ("W", ""), ("9/9 W", "")],
)
def test_a_whitworth_spanner_is_known_by_its_mark(marked: str, width: str) -> None:
    assert whitworth_spanner(marked) == width
