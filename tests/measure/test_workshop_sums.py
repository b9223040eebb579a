"""Bore, clearance, shim, run-out and fit as somebody asks them: the answer, its sentence, and wrong input."""

import json
import math
from urllib.parse import parse_qsl, urlsplit

import pytest

from fingertight.cards.measure.linked import FILLED, sum_of_check, sum_of_setting
from fingertight.cards.sums.answer import SumCard
from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.measure.workshop.bore import BoreCard
from fingertight.cards.sums.measure.workshop.clearance import ClearanceCard
from fingertight.cards.sums.measure.workshop.fit import FitCard
from fingertight.cards.sums.measure.workshop.runout import RunoutCard
from fingertight.cards.sums.measure.workshop.shim import ShimCard
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from fingertight.quantity import NotUnderstood
from tests.conftest import ROOT
from tests.setting.asking import asked
from tests.web.honest import machine

BORE = "top 68.05 68.06; middle 68.04 68.05; bottom 68.03 68.04"
# GUM (JCGM 100:2008) 4.3.7: half a step and the limits of the error, both rectangular, expanded with k = 2.
U_MM = 2 * math.sqrt((0.01 / 2) ** 2 / 3 + 0.005**2 / 3)


def text_of(card: SumCard) -> str:
    return " ".join(card.answer.lead)


def test_a_bore_is_judged_by_its_largest_reading_its_round_and_its_taper() -> None:
    card = asked("bore", readings=BORE, max="68.165", round_max="0.05", taper_max="0.05", error="0.005")
    assert isinstance(card, BoreCard)
    size, round_, taper = card.judged
    assert (card.verdict, size.size_mm, round_.size_mm, taper.size_mm) == ("good", 68.06, 0.01, 0.02)
    assert size.U_mm == pytest.approx(U_MM)
    assert round_.U_mm == pytest.approx(U_MM * math.sqrt(2))


def test_a_height_may_be_a_number_before_a_colon() -> None:
    card = asked("bore", readings="10 mm: 68.05 68.06; 45 mm: 68.04 68.05", max="68.165")
    assert card.heights == ("10 mm", "45 mm")


def test_a_taper_past_its_limit_makes_a_bore_worn_that_is_large_enough() -> None:
    card = asked("bore", readings="68.12 68.12; 68.02 68.02", max="68.165", taper_max="0.05")
    assert (card.verdict, card.is_no) == ("worn", True)
    assert "Taper: 0.1000 ± 0.0082 mm, worn." in text_of(card)


def test_a_journal_is_judged_by_its_smallest_reading() -> None:
    card = asked("bore", readings="29.962 29.966; 29.961 29.965", min="29.92", resolution="0.001")
    assert card.judged[0].size_mm == 29.961
    assert card.answer.title == "Journal: good"


def test_the_same_sizes_in_inches_have_the_same_verdict() -> None:
    metric = asked("bore", readings="68.05 68.06", max="68.165")
    inches = asked("bore", readings="2.6791 2.6795", max="2.6837 in", unit="in", resolution="0.0005 in")
    assert (metric.verdict, inches.verdict) == ("good", "good")
    assert "2.6795" in text_of(inches)


def test_a_clearance_is_as_unsure_as_both_its_sizes() -> None:
    card = asked("clearance", outer="68.06", inner="67.96", max="0.12", outer_error="0.005", inner_error="0.005")
    assert isinstance(card, ClearanceCard)
    assert card.judged.size_mm == pytest.approx(0.1)
    assert card.judged.U_mm == pytest.approx(U_MM * math.sqrt(2))
    assert card.judged.verdict == "good"


def test_an_aluminium_piston_that_runs_hot_uses_its_clearance_up() -> None:
    said = {"outer_material": "cast iron", "inner_material": "aluminium"}
    mild = asked("clearance", outer="68.06", inner="67.96", outer_warm="90", inner_warm="110", **said)
    hot = asked("clearance", outer="68.06", inner="67.96", outer_warm="90", inner_warm="200", **said)
    assert 0 < mild.warm_mm < 0.1
    assert "and it seizes" in text_of(hot)


def test_a_part_that_is_too_large_is_said_to_be() -> None:
    assert "(interference): it does not go in freely" in text_of(asked("clearance", outer="68", inner="68.02"))


def test_a_shim_is_chosen_for_the_middle_with_its_chance() -> None:
    card = asked("shim", float="0.47", wanted="0.05 0.25", shims="0.10 0.15 0.20 0.30", error="0.012")
    assert isinstance(card, ShimCard)
    assert (card.shims_mm, card.then.size_mm, card.is_no) == ((0.3,), pytest.approx(0.17), False)
    assert "Shim: 0.3 mm. It leaves 0.170 ± 0.016 mm" in text_of(card)


def test_what_is_right_already_stays_and_what_no_shim_mends_is_no() -> None:
    assert "Leave it as it is" in text_of(asked("shim", float="0.15", wanted="0.05 0.25", shims="0.1"))
    none = asked("shim", float="0.90", wanted="0.05 0.10", shims="0.1")
    assert none.is_no
    assert "A shim of 0.825 mm would leave the middle" in text_of(none)


def test_a_shim_that_is_in_is_reckoned_with() -> None:
    card = asked("shim", **{"float": "0.35", "wanted": "0.05 0.25", "shims": "0.2 0.3 0.4", "in": "0.2"})
    assert (card.shims_mm, card.more_mm) == ((0.4,), pytest.approx(0.2))
    assert "instead of 0.2 mm" in text_of(card)


def test_run_out_is_half_as_much_of_the_shaft_and_says_which_way() -> None:
    card = asked("runout", readings="0.00 0.01 0.03 0.04 0.03 0.01 0.00 -0.01", max="0.04", error="0.012")
    assert isinstance(card, RunoutCard)
    assert (card.judged.size_mm, card.judged.verdict) == (pytest.approx(0.05), "too close to call")
    assert card.off_towards_deg == pytest.approx(135, abs=1)
    two = asked("runout", readings="0.002 in -0.003 in")
    assert two.judged.size_mm == pytest.approx(0.127)
    assert (two.off_mm, two.off_towards_deg) == (pytest.approx(0.0635), None)


def test_a_fit_says_what_kind_it_is_and_whether_parts_keep_to_it() -> None:
    card = asked("fit", fit="25 H7/g6", hole="25.012", shaft="24.997")
    assert isinstance(card, FitCard)
    assert (card.kind, card.least_play_um, card.most_play_um) == ("clearance", 7, 41)
    assert [one.verdict for one in card.measured] == ["good", "worn"]
    assert "from 15 µm of interference to 19 µm of play" in text_of(asked("fit", fit="25 H7/k6"))
    assert "An interference fit: 1 to 42 µm too large" in text_of(asked("fit", fit="50 H7/p6"))


@pytest.mark.parametrize(
    ("name", "said", "says"),
    [
        ("bore", {"readings": "top 68.05; bottom 68.01 68.02"}, "top has 1 where others have 2"),
        ("bore", {"readings": "68.05; 68.01", "round-max": "0.05"}, "Out of round: one direction says nothing of it"),
        ("bore", {"readings": "68.05 68.01", "taper-max": "0.05"}, "Taper: one height says nothing of it"),
        ("bore", {"readings": "top"}, "“top” has no size in it"),
        ("bore", {"readings": ";;;"}, "Readings: nothing was typed"),
        ("bore", {"readings": "1 68.05; 2 68.06"}, "1 mm and 68.06 mm are not of one part"),
        ("bore", {"readings": "top 680.5; bottom 68.05"}, "are not of one part"),
        ("bore", {"readings": "top 68.05 kg"}, "Readings, top: "),
        ("bore", {"readings": BORE, "min": "68.2", "max": "68.1"}, "limits are turned round"),
        ("bore", {"readings": BORE, "resolution": "0"}, "Step of the instrument: “0” must be more than 0"),
        ("clearance", {"outer": "68.06", "inner": ""}, "Inner size: nothing was typed"),
        ("clearance", {"outer": "68.06", "inner": "-1"}, "Inner size: a size is more than 0"),
        ("clearance", {"outer": "68", "inner": "67", "inner-warm": "120"}, "what both parts are made of must be known"),
        ("shim", {"float": "0.4", "wanted": "0.25 0.05", "shims": "0.1"}, "Wanted: the least and the most"),
        ("shim", {"float": "0.4", "wanted": "0.05 0.25", "shims": "0"}, "Shims: write how thick"),
        ("runout", {"readings": "0.02"}, "Readings: two at least"),
        ("runout", {"readings": "0.02 0.03", "max": "0"}, "Limit: it is more than 0"),
        ("fit", {"fit": "25 h6", "hole": "25"}, "the fit names no hole"),
        ("fit", {"fit": "nothing"}, "Fit: “nothing” is no fit"),
    ],
)
def test_what_cannot_be_worked_out_is_a_sentence_with_its_box(name: str, said: dict[str, str], says: str) -> None:
    with pytest.raises(NotUnderstood, match=says):
        sum_named(name).ask(said)


def test_the_sums_a_machine_file_names_open_with_its_figures_in_boxes_that_take_them() -> None:
    anatomy = machine("pump-engine")
    ledger = Ledger(Plan(anatomy))
    for line in (ROOT / "examples" / "logs" / "pump-engine.jsonl").read_text("utf-8").splitlines():
        ledger.hear(json.loads(line))
    links = [sum_of_check(ledger.state, check, ledger.state.values.get(check.id, [])) for check in anatomy.checks]
    links += [sum_of_setting(anatomy, setting) for setting in anatomy.settings]
    found = {}
    for link in filter(None, links):
        name = urlsplit(link.address).path.rsplit("/", 1)[1]
        said = dict(parse_qsl(urlsplit(link.address).query))
        filled = {field for field in said if field != FILLED}
        assert filled <= {field.name for field in sum_named(name).fields}
        try:
            found[name] = sum_named(name).ask(said).answer.title
        except NotUnderstood as still:
            found[name] = str(still)
    assert found["bore"] == "Bore: good"
    assert found["shim"] == "Shim: none"
    assert found["clearance"] == "Clearance: good"
    assert found["ring-gap"] == "Ring gap"
    assert found["cranking"] == "Cranking pressure at 8.6 : 1"
    # These want what only the bench can say.
    assert found["tdc"].startswith("One side: nothing was typed")
    assert found["coil"].startswith("Pack: ")


def test_a_part_larger_than_its_bore_is_no_good_clearance_though_only_a_largest_one_is_given() -> None:
    card = asked("clearance", outer="68", inner="68.02", max="0.12")
    assert (card.judged.verdict, card.is_no, card.answer.title) == ("worn", True, "Clearance: none, interference")
    near = asked("clearance", outer="68.005", inner="68", max="0.12")
    assert near.judged.verdict == "too close to call"


def test_an_interference_that_is_wanted_is_judged_by_its_own_limits() -> None:
    card = asked("clearance", outer="50.01", inner="50.04", min="-0.06", max="-0.01")
    assert (card.judged.verdict, card.is_no) == ("good", False)


def test_a_bore_with_two_limits_is_held_to_both() -> None:
    card = asked("bore", readings="29.85 29.96", min="29.90", max="30.0")
    assert [(one.what, one.verdict) for one in card.judged[:2]] == [("largest", "good"), ("smallest", "worn")]
    assert card.is_no


def test_a_journal_without_a_limit_for_round_is_told_the_general_rule_and_that_the_maker_comes_first() -> None:
    card = asked("bore", readings="30.000 30.004; 30.000 30.002", min="29.92", resolution="0.001")
    # US Army TM 10-3930-647-14&P: 0.0004 of the diameter, 0.012 mm of 30 mm.
    assert any("would allow 0.012 mm" in note and "the maker’s limit comes first" in note for note in card.answer.notes)
    limited = asked("bore", readings="30.000 30.004", min="29.92", resolution="0.001", round_max="0.02")
    assert not any("general rule" in note for note in limited.answer.notes)


def test_a_float_that_is_right_keeps_the_shim_that_is_in() -> None:
    card = asked("shim", **{"float": "0.10", "in": "0.05", "wanted": "0.05 0.25", "shims": "0.1 0.2"})
    assert (card.shims_mm, card.more_mm, card.then.size_mm) == ((0.05,), 0, 0.1)
    assert "Leave it as it is" in text_of(card)


def test_a_float_too_small_for_any_shim_is_not_told_to_fit_one_of_less_than_nothing() -> None:
    card = asked("shim", float="0.02", wanted="0.05 0.25", shims="0.1")
    assert card.is_no
    assert "A shim of" not in text_of(card)
    assert "Shims only take float away: 0.13 mm more of it is wanted" in text_of(card)


def test_a_shaft_that_is_oval_is_not_said_to_be_bent() -> None:
    card = asked("runout", readings="0.04 0 -0.04 0 0.04 0 -0.04 0", max="0.1", held="in V-blocks")
    assert (card.judged.size_mm, card.off_mm, card.left_mm) == (0.08, 0, 0.08)
    assert "half of what the dial shows" not in text_of(card)
    assert "furthest out" not in text_of(card)
    assert "Most of it is no bend: beside the middle 0.08 mm are left" in text_of(card)


def test_a_dial_that_stands_still_says_nothing_of_a_direction() -> None:
    assert "furthest out" not in text_of(asked("runout", readings="0 0 0 0 0 0", max="0.04"))


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("bore", {"readings": BORE, "min": "68.0", "max": "68.165", "resolution": "0.5"}),
        ("bore", {"readings": BORE, "max": "68.165", "round-max": "0.005", "error": "0.005"}),
        ("clearance", {"outer": "68.06", "inner": "67.96", "max": "0.12", "outer-resolution": "0.5"}),
        ("shim", {"float": "0.47", "wanted": "0.05 0.25", "shims": "0.3", "resolution": "0.5"}),
        ("runout", {"readings": "0 0.01", "max": "0.04", "resolution": "0.5"}),
        ("fit", {"fit": "25 H7/g6", "shaft": "24.99", "resolution": "0.05"}),
    ],
)
def test_an_instrument_too_coarse_for_the_limit_is_said_to_be(name: str, said: dict[str, str]) -> None:
    card = sum_named(name).ask(said)
    assert "cannot be judged with this instrument" in text_of(card)
    fine = {key: "0.001" for key in said if key.endswith("resolution")} or {"resolution": "0.001"}
    finer = said | fine | ({"error": "0"} if "error" in said else {})
    assert "cannot be judged with this instrument" not in text_of(sum_named(name).ask(finer))


@pytest.mark.parametrize(
    ("name", "said", "says"),
    [
        ("bore", {"readings": BORE, "round-max": "-0.05"}, "Out of round allowed: it is more than 0"),
        ("bore", {"readings": BORE, "taper-max": "0"}, "Taper allowed: it is more than 0"),
        ("bore", {"readings": "top 68.05; top 68.04", "max": "68.165"}, "“top” stands twice; give each height"),
        ("clearance", {"outer": "68.06", "inner": "6.796"}, "68.06 mm and 6.796 mm are not of one pair"),
        ("fit", {"fit": "25 H7/g6", "shaft": "249.8"}, "Shaft, measured: 249.8 mm is far from 25 mm"),
    ],
)
def test_what_cannot_be_right_is_refused_with_its_mend(name: str, said: dict[str, str], says: str) -> None:
    with pytest.raises(NotUnderstood, match=says):
        sum_named(name).ask(said)
