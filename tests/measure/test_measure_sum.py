"""Is it worn, and how sure are we: the sum as people ask it, at the command line and for programs."""

import json
import re
import subprocess
import sys
from typing import get_args

import pytest

from fingertight.anatomy.model import Material
from fingertight.cards.pictures.drawing import Drawing, Stroke, svg
from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.measure.measure import MeasureCard
from fingertight.measure.budget import Tool, reading_budget
from fingertight.measure.temperature import materials
from fingertight.quantity import NotUnderstood

BORE = {"new": "68.000 68.015", "max": "68.165", "error": "0.005"}


def asked(**said: str) -> MeasureCard:
    card = sum_named("measure").ask({name.replace("_", "-"): text for name, text in said.items()})
    assert isinstance(card, MeasureCard)
    return card


def lead(card: MeasureCard) -> str:
    return " ".join(card.answer.lead)


def fingertight(*arguments: str) -> tuple[int, str, str]:
    run = subprocess.run([sys.executable, "-m", "fingertight", *arguments], capture_output=True, text=True, check=False)
    return run.returncode, run.stdout, run.stderr


SCREEN = """\
Too close to call: 68.1600 ± 0.0082 mm

Too close to call: 68.1600 ± 0.0082 mm is 0.005 mm inside its nearest limit, and that is less than
it may be out.
Called good, it would be worn about 1 in 9 times; called worn, good about 89 in 100 times.
micrometer would settle it: it would be ± 0.00351 mm.

The size 68.1600 ± 0.0082 mm on its bar; about 1 in 9 lies past a limit.

Against its limits
  new                     68 to 68.015 mm
  worn past               68.165 mm
  read                    68.16 mm
  chance that it is good  about 89 in 100

Budget
  cause                                                                 mm       share
  reading to the nearest step  step 0.01       ÷ √3 or √12              0.00289  50 %
  error of the instrument      limits ± 0.005  ÷ √3 or √12              0.00289  50 %
  all together, u                              √ of the sum of squares  0.00408
  U = 2.00 · u                                 95 of 100 times          0.00816

Ways to decide
  how sure                        inside by   says               wrong in at most  from
  as it reads, no guard band      none        good               50 in 100         ILAC-G8:09/2019, simple
                                                                                   acceptance
  95 of 100 sure                  0.00672 mm  too close to call  5 in 100          ISO 14253-1:2017, unless
                                                                                   agreed otherwise
  the whole of U                  0.00816 mm  too close to call  2.3 in 100        ILAC-G8:09/2019; the rule here

One reading says nothing of how readings scatter, and the budget leaves that out; three would tell.

From: decision rule: ISO 14253-1:2017, good and worn each proven with the uncertainty; chances: JCGM
  106:2012, clause 7; budget: GUM (JCGM 100:2008).

Makers’ data, the workshop’s rules, local law and licensed practice come first.
"""


def test_the_whole_screen_of_a_bore_too_close_to_call() -> None:
    status, out, err = fingertight(
        "measure", "68.16", "--new", "68.000 68.015", "--max", "68.165", "--error", "0.005",
        "--others", "micrometer 0.001 0.003; vernier 0.02 0.02",
    )  # fmt: skip
    assert (status, err) == (0, "")
    assert out == SCREEN


def test_a_good_bore_is_good_with_what_it_may_be_out() -> None:
    card = asked(readings="68.152 68.155 68.153", **BORE)
    assert card.verdict == "good"
    assert lead(card).startswith("Good: 68.1533 ± 0.0082 mm is 0.0117 mm inside its nearest limit.")
    assert card.chance_good > 0.99
    assert card.settled_by is None
    assert not card.is_no


def test_a_worn_bore_is_no_and_says_how_likely_it_is_good_all_the_same() -> None:
    status, out, _ = fingertight("measure", "68.18", "--max", "68.165", "--error", "0.005")
    assert status == 1
    assert "Worn: 68.1800 ± 0.0082 mm is 0.015 mm past its nearest limit." in out
    assert "The chance that it is good all the same: less than 1 in 1,000." in out


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ({"readings": "68.151 68.157 68.160", "max": "68.165", "resolution": "0.001", "error": "0.002"},
         "4 readings of this spot in all, if they scatter as these do, would settle it."),
        ({"readings": "67.863", "min": "67.845", "temperature": "40", "material": "aluminium", "resolution": "0.001",
          "error": "0.001"},
         "Let part and instrument come to 20 °C and read again: it would be ± 0.00129 mm."),
        ({"readings": "68.160", "max": "68.165", "error": "0.005", "others": "micrometer 0.001 0.003"},
         "micrometer would settle it: it would be ± 0.00351 mm."),
        ({"readings": "68.164", "max": "68.165", "error": "0.005", "others": "micrometer 0.001 0.003"},
         "No reading and no instrument here would settle it: the instructor decides, or it is renewed."),
    ],
    ids=["read again", "let it cool", "better instrument", "nobody can"],
)  # fmt: skip
def test_the_one_thing_that_would_settle_it_is_said_and_would(said: dict[str, str], expected: str) -> None:
    card = asked(**said)
    assert card.verdict == "too close to call"
    assert card.answer.lead[-1] == expected
    assert card.settled_by is not None
    if card.settled_by.way in {"better instrument", "let it cool"}:
        assert card.settled_by.U_mm <= abs(card.margin_mm) < card.U_mm


def test_an_instrument_that_can_judge_nothing_says_so_in_the_lead() -> None:
    card = asked(readings="68.05", new="68.000 68.015", max="68.165", resolution="0.5")
    assert card.cannot_judge
    assert card.answer.lead[1] == (
        "This instrument cannot judge this limit at all: ± 0.289 mm leaves no room between what is new and what is "
        "worn, and nothing it reads could be called good."
    )
    both = asked(readings="10", min="9.99", max="10.01", error="0.02")
    assert "leaves no room between its limits" in lead(both)
    assert not asked(readings="68.05", **BORE).cannot_judge
    # Two readings far apart are unsure too, and more of them would mend that: the instrument is not to blame.
    assert not asked(readings="68.10 68.14", **BORE).cannot_judge


@pytest.mark.parametrize(
    ("said", "doubt"),
    [
        ({"readings": "68.10"}, "One reading says nothing of how readings scatter, and the budget leaves that out; "
         "three would tell."),
        ({"readings": "68.10 68.14"}, "So few readings know their own scatter badly: U is 12.7 u; one more makes it "
         "surer."),
        ({"readings": "68.105"}, "It was read finer than its step of 0.01 mm: is the step right?"),
        ({"readings": "68.10", "error": ""}, "The error of the instrument was not said and counts as none: U is the "
         "least it can be."),
        ({"readings": "68.10", "temperature": "30", "material": "aluminium"},
         "Brought to 20 °C: -0.0079 mm was added to what was read."),
    ],
    ids=["one reading", "two readings", "finer than its step", "no error", "warm"],
)  # fmt: skip
def test_what_the_budget_does_not_know_is_said(said: dict[str, str], doubt: str) -> None:
    assert doubt in asked(**{**BORE, **said}).answer.notes


def test_a_fully_said_cool_measurement_of_three_readings_has_no_doubts() -> None:
    assert asked(readings="68.10 68.11 68.10", **BORE).answer.notes == ()


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"readings": "68.16", "min": "68.2", "max": "68.1"},
         "The limits are turned round: worn below 68.2 and past 68.1 mm; write the smaller as Worn below."),
        ({"readings": "68.16", "max": "68.165", "new": "68.015 68.000"},
         "New: it runs from 68.015 down to 68 mm; write the smaller size first."),
        ({"readings": "68.16", "max": "68.165", "new": "68.2 68.3"},
         "New ones go up to 68.3 mm, and past 68.165 mm they are worn; for what wears smaller write Worn below."),
        ({"readings": "68.16", "min": "67.9", "new": "67.8 67.85"},
         "New ones go down to 67.8 mm, and below 67.9 mm they are worn; for what wears larger write Worn past."),
        ({"readings": "68.16", "max": "68.165", "resolution": "0"},
         "Step of the instrument: “0” must be more than 0; write for example 0.01 mm."),
        ({"readings": "68.16", "max": "68.165", "resolution": "-0.01"},
         "Step of the instrument: “-0.01” must be more than 0; write for example 0.01 mm."),
        ({"readings": "68.16", "max": "68.165", "error": "-0.01"},
         "Error of the instrument: “-0.01” must be 0 mm or more; write for example 0.005 mm."),
        ({"readings": "sixty", "max": "68.165"},
         "Readings: “sixty” is not a number; write digits with one decimal mark, for example 68.02."),
        ({"readings": "68.1 bar", "max": "68.165"}, "Readings: bar is a pressure, mm a length: write it in mm."),
        ({"readings": "68.16", "max": "3 kg"}, "Worn past: kg is a mass, mm a length: write it in mm."),
        ({"readings": "68.16", "max": "68.1 68.2"}, "Worn past: one size is wanted, not 2."),
        ({"readings": "68.16", "max": "68.165", "new": "68"},
         "New: two sizes are wanted, the smallest and the largest; write for example 68.000 68.015."),
        ({"readings": "68.16"},
         "There is no limit to judge by; write Worn past for what wears larger, Worn below for smaller."),
        ({"readings": "", "max": "68.165"},
         "Readings of one spot: nothing was typed; write for example 68.152 68.155 68.153."),
        ({"readings": "68.16", "max": "68.165", "temperature": "30"},
         "Material of the part: with a temperature it must be known what it is made of; choose steel, aluminium …"),
        ({"readings": "68.16", "max": "68.165", "instrument-temperature": "30"},
         "Temperature: that of the part must be known too; write for example 28 °C."),
        ({"readings": "68.16", "max": "68.165", "others": "micrometer"},
         "Other instruments: “micrometer” is no name with a step and an error. Write each with its step and its error "
         "in mm, for example micrometer 0.001 0.003."),
        ({"readings": "68.16", "max": "68.165", "others": "gauge 0 0.1"},
         "Other instruments: “gauge 0 0.1”: a step is more than 0, an error 0 or more. Write each with its step and "
         "its error in mm, for example micrometer 0.001 0.003."),
    ],
)  # fmt: skip
def test_bad_input_gets_a_sentence_with_its_mend(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as slip:
        asked(**said)
    assert str(slip.value) == sentence


def test_a_cold_micrometer_on_a_warm_piston_reads_all_of_its_growth() -> None:
    warm = {"readings": "68.00", "min": "67.845", "temperature": "50", "material": "aluminium"}
    alike, cold = asked(**warm), asked(**warm, instrument_temperature="20")
    # By hand: 68 mm · 30 °C · 11.6e-6 and · 23.1e-6.
    assert 68.0 - alike.size_mm == pytest.approx(0.0237, abs=1e-4)
    assert 68.0 - cold.size_mm == pytest.approx(0.0471, abs=1e-4)
    assert cold.U_mm == pytest.approx(alike.U_mm, rel=0.2)


def test_inches_are_asked_and_answered_in_inches() -> None:
    card = asked(readings="2.6829", new="2.6772 2.6778", max="2.6837", resolution="0.0005 in", unit="in")
    assert card.answer.title == "Good: 2.68290 ± 0.00029 in"
    assert card.size_mm == pytest.approx(68.1457, abs=1e-4)
    assert ("worn past", "2.6837 in") in card.answer.sections[0].rows


def test_programs_get_the_budget_the_chance_and_what_settles_it() -> None:
    status, out, err = fingertight(
        "measure", "68.16", "--max", "68.165", "--error", "0.005", "--others", "micrometer 0.001 0.003", "--json"
    )
    assert (status, err) == (0, "")
    card = json.loads(out)
    assert card["U_mm"] == reading_budget(Tool(0.01, 0.005)).expanded
    assert card["chance_good"] == pytest.approx(0.8897, abs=1e-4)
    assert card["settled_by"] == {
        "way": "better instrument", "U_mm": pytest.approx(0.003512, abs=1e-6), "readings": 0, "instrument": "micrometer"
    }  # fmt: skip
    assert card["degrees_of_freedom"] is None


def test_what_the_lead_says_of_the_risk_is_what_the_card_has() -> None:
    for size in ("68.160", "68.163", "68.165", "68.167"):
        card = asked(readings=size, **BORE)
        bad, good = re.findall(r"about (\d+ in \d+|1 in \d+) times", card.answer.lead[1])
        for words, chance in ((bad, 1 - card.chance_good), (good, card.chance_good)):
            top, _, bottom = words.partition(" in ")
            assert int(top) / int(bottom) == pytest.approx(chance, abs=0.03)


def test_a_reading_is_answered_before_anything_heavy_is_read() -> None:
    seen = (
        "import sys; from fingertight.cli.frame import answer; "
        "answer(['measure', '68.16', '--max', '68.165', '--temperature', '30', '--material', 'steel']); "
        "print(*sys.modules, file=sys.stderr)"
    )
    run = subprocess.run([sys.executable, "-c", seen], capture_output=True, text=True, check=True)
    assert "Too close to call" in run.stdout
    assert not {name.partition(".")[0] for name in run.stderr.split()} & {"numpy", "scipy", "pydantic", "django"}


def test_a_part_may_be_of_every_material_the_machine_file_knows() -> None:
    assert materials() == get_args(Material)


# -- the drawing ---------------------------------------------------------------------------------------------------


def places(drawing: Drawing, look: str) -> list[list[float]]:
    """The horizontal places of every stroke of this look."""
    return [
        [float(x) for x in re.findall(r"[ML](-?[\d.]+) ", shape.path)]
        for shape in drawing.shapes
        if isinstance(shape, Stroke) and shape.look == look
    ]


def test_the_drawing_has_new_limit_whisker_and_a_bell_that_is_filled_past_the_limit() -> None:
    card = asked(readings="68.160", **BORE)
    (drawing,) = card.answer.drawings
    assert drawing.says == "The size 68.1600 ± 0.0082 mm on its bar; about 1 in 9 lies past a limit."
    limit_x = next(xs[0] for xs in places(drawing, "warn"))
    bell, filled = places(drawing, "steel")[0], places(drawing, "fill-warn")[0]
    value_x = places(drawing, "bold")[0][0]
    whisker = next(xs for xs in places(drawing, "line") if len(xs) == 3)
    assert value_x < limit_x < whisker[-1], "the whisker reaches over the limit: too close to call"
    assert min(filled) == pytest.approx(limit_x, abs=0.1)
    assert max(bell) == pytest.approx(max(filled), abs=0.5)
    # One millimetre of size is as wide everywhere: U against the distance to the limit.
    assert (whisker[-1] - value_x) / (limit_x - value_x) == pytest.approx(card.U_mm / card.margin_mm, rel=0.02)
    assert svg(drawing).startswith('<svg class="drawing"')


def test_a_size_far_from_its_limit_has_no_filled_bell_and_a_narrow_bell_is_smooth() -> None:
    (drawing,) = asked(readings="68.05", **BORE).answer.drawings
    assert all(max(xs) - min(xs) < 1 for xs in places(drawing, "fill-warn"))
    bell = places(drawing, "steel")[0]
    assert len(set(bell)) > 40
