"""Widths of heads, openings of spanners and corners beside published ones, each with its source beside it."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from fingertight.tighten.spanners.choose import spanner_on
from fingertight.tighten.spanners.heads import spanner_for, spanners_for
from fingertight.tighten.spanners.jaws import across_corners_mm
from fingertight.tighten.spanners.widths import head_width, jaw_width, socket_width, width_named
from fingertight.tighten.threads.names import INCH_MM, thread_named, threads

OUTSIDE = Path(__file__).parent.parent / "outside" / "heads-and-jaws.toml"
PUBLISHED: dict[str, list[dict[str, Any]]] = tomllib.loads(OUTSIDE.read_text(encoding="utf-8"))
VALUES = PUBLISHED["value"]


def rows(table: str) -> list[Any]:
    """The rows of every table of this name, each with its source."""
    found = [
        pytest.param(*row, f"{each['source']} ({each['how']})", id=f"{each['ref']} {' '.join(map(str, row))}")
        for each in PUBLISHED[table]
        for row in each["rows"]
    ]
    assert found
    return found


def computed(value: dict[str, Any]) -> Any:
    """What this project answers to one published value, in its unit."""
    asked, name = value["inputs"], value["id"]
    if name.endswith("limits"):
        head = head_width(spanner_for(thread_named(f"{asked['thread_in']} UNC"), "hex"))
        return [head.least_mm / INCH_MM, head.most_mm / INCH_MM]
    if name.endswith("corners"):
        return across_corners_mm(asked["across_flats_max_in"])
    if name.startswith("spanner-inch"):
        return width_named(f"{asked['across_flats_in']} in")[1]
    if name.startswith("trade-inch-on-metric"):
        return any(spanner_on(f"{asked['spanner_in']} in", f"{head} mm").verdict.is_right for head in asked["heads_mm"])
    assert name.endswith("small-engine"), f"nothing here answers {name}"
    small = next(one for one in spanners_for(thread_named(asked["thread"])) if "small engines" in one.usual)
    return width_named(small.driver)[1]


@pytest.mark.parametrize("value", VALUES, ids=[value["id"] for value in VALUES])
def test_a_published_value_comes_out(value: dict[str, Any]) -> None:
    # Each value names its source in tests/outside/heads-and-jaws.toml.
    limits = value["tolerance"]
    expected = value["expect"]
    if not isinstance(expected, bool):
        expected = pytest.approx(expected, abs=limits["abs"] or 1e-9)
    assert computed(value) == expected, f"{value['question']} {value['source']}"


@pytest.mark.parametrize(("name", "least_in", "most_in", "source"), rows("openings_in"))
def test_an_inch_spanner_opens_as_wide_as_its_standard_says(
    name: str, least_in: float, most_in: float, source: str
) -> None:
    # The tables round the least opening and the tolerance to a thousandth each, in part upwards, and add them.
    within = 0.0015
    jaw = jaw_width(name)
    assert jaw.least_mm / INCH_MM == pytest.approx(least_in, abs=within), source
    assert jaw.most_mm / INCH_MM == pytest.approx(most_in, abs=within), source


@pytest.mark.parametrize(("name", "most_mm", "least_mm", "source"), rows("heads_mm"))
def test_a_metric_head_is_as_narrow_as_its_standard_allows_and_no_wider_than_its_name(
    name: str, most_mm: float, least_mm: float, source: str
) -> None:
    head = head_width(name)
    assert (head.least_mm, head.most_mm) == (pytest.approx(least_mm, abs=0.001), most_mm), source


@pytest.mark.parametrize(("name", "most_in", "source"), rows("corners_in"))
def test_the_corners_of_the_widest_head_are_where_its_standard_has_them(name: str, most_in: float, source: str) -> None:
    # Tables of two decimals are good to half a hundredth; those of three to the rounding of flats and corners.
    within = 0.006 if "two decimals" in source else 0.0015
    corners_in = across_corners_mm(head_width(name).most_mm) / INCH_MM
    assert corners_in == pytest.approx(most_in, abs=within), source


@pytest.mark.parametrize(("size", "head", "driver", "source"), rows("spanners_of_threads"))
def test_a_thread_under_a_head_takes_the_published_spanner(size: str, head: str, driver: str, source: str) -> None:
    name, _, series = size.partition(" BSW")
    whitworth = " BSW" in size
    thread = next(
        one
        for one in threads().values()
        if one.size == name and (one.series == "BSW") == whitworth and one.series != "G"
    )
    assert not series
    assert spanner_for(thread, head) == driver, source


@pytest.mark.parametrize(("name", "least_in", "most_in", "source"), rows("sockets_in"))
def test_a_socket_lies_between_its_gauges(name: str, least_in: float, most_in: float, source: str) -> None:
    socket = socket_width(name)
    assert socket.least_mm / INCH_MM == pytest.approx(least_in, abs=1e-4), source
    assert socket.most_mm / INCH_MM == pytest.approx(most_in, abs=1e-4), source


def test_there_are_many_published_values_and_sources() -> None:
    tables = [table for name, tables in PUBLISHED.items() if name != "value" for table in tables]
    assert len(VALUES) + sum(len(table["rows"]) for table in tables) > 200
    assert len({table["ref"] for table in tables} | {value["ref"] for value in VALUES}) >= 15
