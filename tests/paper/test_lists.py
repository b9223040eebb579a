"""Measuring sheet and hand-over sheet, read back from the page by another library than made them."""

import json

import pypdfium2
import pytest

from fingertight.cards.bench.page import JobName
from fingertight.cards.measure.sheet import MeasuringSheetCard, measuring_sheet
from fingertight.cards.workshop.handover import HandOverCard, handed_over, handover_card
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from fingertight.paper.lists.handover import handover_pdf
from fingertight.paper.lists.measured import MARKS, measured_pdf
from fingertight.paper.sheets import CannotPrint
from tests.conftest import ROOT
from tests.web.honest import machine


def replayed(name: str, slug: str, entries: int = 10_000) -> Ledger:
    """An example log, or its beginning."""
    ledger = Ledger(Plan(machine(slug)))
    lines = (ROOT / "examples" / "logs" / f"{name}.jsonl").read_text("utf-8").splitlines()
    for line in lines[:entries]:
        ledger.hear(json.loads(line))
    return ledger


def words(pdf: bytes) -> str:
    sheets = pypdfium2.PdfDocument(pdf)
    found = " ".join(" ".join(sheet.get_textpage().get_text_range().split()) for sheet in sheets)
    sheets.close()
    return found


@pytest.fixture(scope="module")
def measured() -> MeasuringSheetCard:
    return measuring_sheet(replayed("pump-engine", "pump-engine").state, "0123456789abcdef")


def test_every_size_is_on_the_measuring_sheet_with_what_decides_and_its_verdict(measured: MeasuringSheetCard) -> None:
    said = words(measured_pdf(measured))
    assert len(measured.measured) > 20
    for size in measured.measured:
        assert size.title in said
        assert size.size_says in said
        assert MARKS[size.verdict] in said
    assert "Printed from machine file 0123456789ab" in said


def test_the_same_readings_give_the_same_bytes(measured: MeasuringSheetCard) -> None:
    assert measured_pdf(measured) == measured_pdf(measured)


def test_what_is_not_measured_has_room_to_be_written(measured: MeasuringSheetCard) -> None:
    early = measuring_sheet(replayed("pump-engine", "pump-engine", 3).state, "0")
    said = words(measured_pdf(early))
    assert "Still to be measured" in said
    for size in early.still:
        assert size.title in said


def handed(*jobs: tuple[str, Ledger]) -> HandOverCard:
    return handover_card("Workshop", [handed_over(JobName(bench, bench, "Machine", "m"), one) for bench, one in jobs])


def test_the_hand_over_says_where_each_bench_stopped_and_leaves_out_what_is_finished() -> None:
    half = replayed("hand-winch", "hand-winch", 30)
    card = handed(("Bench 10", half), ("Bench 2", replayed("bench-vice", "bench-vice", 12)),
                  ("Bench 3", replayed("bench-vice", "bench-vice")))  # fmt: skip
    assert [bench.job.bench for bench in card.benches] == ["Bench 2", "Bench 10"]
    said = words(handover_pdf(card, "2026-03-05"))
    assert "Hand-over, 2026-03-05" in said
    for bench in card.benches:
        assert bench.job.bench in said
        assert bench.last in said
        assert bench.bags in said
        assert ", ".join(bench.next) in said


def test_bags_are_named_in_runs() -> None:
    (bench,) = handed(("Bench 1", replayed("bench-vice", "bench-vice", 12))).benches
    assert bench.bags.startswith(f"{len(replayed('bench-vice', 'bench-vice', 12).state.lies)} bags: 1 to ")


def test_without_a_bench_at_work_there_is_nothing_to_hand_over() -> None:
    with pytest.raises(CannotPrint, match="No bench is at work"):
        handover_pdf(handed(), "2026-03-05")
