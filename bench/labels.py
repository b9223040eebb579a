"""Sixty bag labels as a PDF, beside making their sixty codes and nothing else."""

from collections.abc import Iterator
from time import perf_counter

import segno
from jobs import pump_engine
from rows import Row, best_seconds

from fingertight.cards.labels import labels_in_order
from fingertight.cards.order.whole import OrderCard, order_card
from fingertight.paper.labels import label_pdf
from fingertight.paper.sheets import sheet_named

MANY = 60
SHEET = "a4-3x7"


def rows() -> Iterator[Row]:
    """The rows of this family."""
    anatomy = pump_engine().anatomy
    order = order_card(anatomy)
    assert isinstance(order, OrderCard)
    labels = labels_in_order(anatomy, order.order, "Bench 4")[:MANY]
    assert len(labels) == MANY
    sheet = sheet_named(SHEET)
    printed, made = best_seconds(
        lambda: label_pdf(labels, sheet),
        lambda: [segno.make(label.code, version=1, error="h", micro=False) for label in labels],
        rounds=9,
        clock=perf_counter,
    )
    yield Row(
        f"{MANY} labels as a PDF, each code on it twice", f"making their {MANY} codes", printed / made, "at most", 3.0
    )
