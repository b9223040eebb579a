"""What looks like a slip is questioned, kept and counted; read the same again, it stands."""

from tests.ledger.bench import Bench
from tests.ledger.test_sized import BOTTOM, ENGINE, TOP, bare, reads


def text(bench: Bench) -> list[str]:
    return [flag.text for flag in bench.ledger.state.flags if flag.open and flag.kind in {"likely-slip", "odd-reading"}]


def test_a_missed_turn_of_the_thimble_is_questioned_and_counts_all_the_same() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 67.46})
    assert bench.wrong() == ["likely-slip piston"]
    assert text(bench) == ["Skirt: 67.46 mm: one turn of the thimble too many or too few? Then it is 67.96 mm."]
    assert bench.flag("likely-slip").mend == "Read this spot again; the same again stands."
    assert bench.verdict("skirt") == "worn"


def test_read_right_the_second_time_it_is_mended() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 67.46})
    reads(bench, "skirt", {"value": 67.96})
    assert bench.wrong() == []
    assert bench.verdict("skirt") == "good"


def test_read_the_same_again_it_stands_and_is_worn() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 67.46})
    reads(bench, "skirt", {"value": 67.47})
    assert bench.wrong() == []
    assert bench.verdict("skirt") == "worn"


def test_read_twice_in_one_entry_it_is_not_questioned() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 67.46}, {"value": 67.47})
    assert bench.wrong() == []


def test_digits_turned_round_are_questioned_with_what_was_meant() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 86.02}, {**BOTTOM, "value": 68.03})
    assert text(bench) == ["Bore (top): 86.02 mm: are two digits turned round? Then it is 68.02 mm."]


def test_inch_for_millimetre_is_odd_takes_no_part_and_says_what_it_would_be() -> None:
    bench = bare()
    reads(bench, "bore", {**TOP, "value": 2.678}, {**BOTTOM, "value": 68.03})
    assert text(bench) == ["Bore (top): 2.678 mm cannot be right beside 68 to 68.015 mm when new."]
    assert bench.flag("odd-reading").mend == "Was it read in inches? Then it is 68.0212 mm. Read again."
    assert bench.verdict("bore") == "good"


def test_what_the_micrometer_cannot_show_takes_no_part() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 76.79})
    assert bench.wrong() == ["odd-reading piston"]
    assert bench.verdict("skirt") is None


def test_a_place_the_check_does_not_have_is_asked_about() -> None:
    bench = bare()
    reads(bench, "bore", {"at": "Top", "value": 68.03})
    assert text(bench) == ["Bore (Top): it has no place “Top”; is top meant?"]
    assert bench.verdict("bore") == "good"


def test_a_renewed_part_is_questioned_no_more() -> None:
    bench = bare()
    reads(bench, "skirt", {"value": 67.46})
    bench.renews("piston")
    assert bench.wrong() == []


def test_an_honestly_worn_part_is_not_questioned() -> None:
    bench = Bench(ENGINE)
    bench.off("piston", "1")
    reads(bench, "skirt", {"value": 67.80})
    reads(bench, "bore", {**TOP, "value": 68.25})
    assert bench.wrong() == []
