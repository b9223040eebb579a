"""The measuring itself studied, as a class asks it: who stands apart, is the gauge fit, and nobody is shamed."""

import contextlib
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from fingertight.cards.pictures.drawing import Drawing, Stroke, Words, svg
from fingertight.cards.sums.every import sum_named
from fingertight.cards.sums.measure.study.card import StudyCard
from fingertight.quantity import NotUnderstood

PARTS = (Path(__file__).parents[1] / "outside" / "ten-parts-three-people.csv").read_text("utf-8")
JOURNAL = """\
Ann 29.981 29.983 29.982
Ben 29.980 29.982 29.981
Cem 29.991 29.992 29.990
Dora 29.983 29.984 29.982
Eva 29.982 29.981 29.983
"""
NAMES = ("Ann", "Ben", "Cem", "Dora", "Eva")


def asked(readings: str = JOURNAL, **said: str) -> StudyCard:
    card = sum_named("study").ask({"readings": readings, **said})
    assert isinstance(card, StudyCard)
    return card


def lead(card: StudyCard) -> str:
    return " ".join(card.answer.lead)


def notes(card: StudyCard) -> str:
    return " ".join(card.answer.notes)


def fingertight(*arguments: str, sent: str = "") -> tuple[int, str, str]:
    command = [sys.executable, "-m", "fingertight", *arguments]
    run = subprocess.run(command, capture_output=True, text=True, check=False, input=sent)
    return run.returncode, run.stdout, run.stderr


SCREEN = """\
Not fit: gauge and hands for this limit

Not fit: gauge and hands take up 50 % of the tolerance of 0.05 mm (good up to 10 %, may do up to 30
%).
One reading by any of them judges this part wrongly less than 1 in 10,000 times, if it is as large
as the mean of all.
The same hands, reading again, differ with a standard deviation of 0.001 mm (repeatability): 95 of
100 readings lie within ± 0.00196 mm.
Other hands add a standard deviation of 0.00405 mm of their own (reproducibility).
Most of it lies between hands: agree on one way to hold, to set and to read, and study again.
Cem reads 0.0090 mm more than the others: chance does so less than 1 in 10,000 times.

Every reading, over who read it; a bar is their mean.

Where it comes from: reading again 5.8 %, between hands 94.2 % (shares of the variance). Of the
tolerance gauge and hands take up 50 %.

Standard deviations [mm]
                                   by analysis of variance  by average and range
  reading again (repeatability)    0.001                    0.00115
  between hands (reproducibility)  0.00405                  0.00398
  gauge and hands together         0.00417                  0.00414
  all that varies                  0.00417                  0.00414
  share of the tolerance           50.0 %                   49.7 %

Everybody
        mean [mm]  from the others  scatter  of the others’  stands apart by
  Ann   29.9820    0.0000           0.001    1.0 times
  Ben   29.9810    -0.0013          0.001    1.0 times
  Cem   29.9910    +0.0090          0.001    1.0 times       mean
  Dora  29.9830    +0.0013          0.001    1.0 times
  Eva   29.9820    0.0000           0.001    1.0 times

Analysis of variance
  source         sum of squares  degrees of freedom  mean square  F     by chance alone
  people         0.0002004       4                   0.0000501    50.1  less than 1 in 10,000
  reading again  0.00001         10                  0.000001

The two methods differ (say 50.0 % and 49.7 %): ranges use the largest and the smallest reading of
each set only. The variance method uses every reading, and counts here; ranges can be checked on
paper.
From 5 people it is known only badly how far hands differ: the true figure may be 0.6 to 2.9 times
the one above (95 of 100 studies).
Who stands apart is left out of the others that everybody else is held against.
A study is worth what its readings are: the same marked place, parts in mixed order, nobody sees
another’s figures, the gauge set as on any day.
With names: for the instructor’s eyes.

From: analysis of variance, average and range, 10 and 30 %: AIAG Measurement Systems Analysis, 4th
  ed.; scatter: Cochran’s test, ISO 5725-2:1994; wrong verdicts: JCGM 106:2012.

Makers’ data, the workshop’s rules, local law and licensed practice come first.
"""


def test_the_whole_screen_of_a_class_on_one_journal() -> None:
    status, out, err = fingertight("study", "-", "--min", "29.95", "--max", "30.00", "--names", sent=JOURNAL)
    assert (status, err) == (1, "")
    assert out == SCREEN


# -- nobody is shamed ----------------------------------------------------------------------------------------------


def test_without_the_tick_no_name_is_on_the_page_in_the_drawings_or_in_what_programs_get() -> None:
    card = asked(max="30.00", tolerance="0.05")
    everything = json.dumps(card.as_json()) + repr(card.answer)
    assert not [name for name in NAMES if name in everything]
    assert "so that nobody is shamed" in notes(card)
    assert [person.name for person in card.people] == ["A", "B", "C", "D", "E"]


def test_letters_are_dealt_neither_in_the_order_of_the_table_nor_by_the_alphabet() -> None:
    orders = set()
    for turn in range(30):
        text = JOURNAL.replace("29.98", f"{29 + turn}.98")
        first = [cell[0] for person in asked(text).people for cell in person.readings]
        typed = [float(line.split()[1]) for line in text.splitlines()]
        orders.add(tuple(typed.index(value) for value in first))
    assert len(orders) > 15


def test_the_same_table_deals_the_same_letters() -> None:
    assert asked().people == asked(tolerance="0.05").people


def test_with_the_tick_the_instructor_sees_names_in_the_order_of_the_table() -> None:
    card = asked(names="yes")
    assert tuple(person.name for person in card.people) == NAMES
    # By hand: the mean of Cem is 29.991, that of the four others 29.982.
    assert "Cem reads 0.0090 mm more than the others: chance does so less than 1 in 10,000 times." in lead(card)
    assert "for the instructor’s eyes" in notes(card)


def test_letters_that_were_typed_stay_and_instruments_keep_their_names() -> None:
    assert [person.name for person in asked(PARTS).people] == ["A", "B", "C"]
    dials = asked(JOURNAL, who="instruments")
    assert "Instrument Cem reads 0.0090 mm more" in lead(dials)
    assert "set all on one ring or block" in lead(dials)
    assert "shamed" not in notes(dials)
    assert asked("gauge,reading,reading\nold,2.50,2.51\nnew,2.52,2.51").instruments


# -- what it says --------------------------------------------------------------------------------------------------


def test_both_methods_are_shown_and_why_they_differ() -> None:
    card = asked(PARTS)
    rows = {row[0]: row[1:] for row in card.answer.sections[0].rows}
    assert rows["share of all that varies"] == ("27.9 %", "26.7 %")
    assert rows["classes of part"] == ("4", "5")
    assert "The two methods differ (say 27.9 % and 26.7 %, 4 and 5 classes): ranges use the largest" in notes(card)
    assert card.pooled
    assert "no more than scatter" in notes(card)
    assert "It tells 4 classes of such parts apart; 5 or more are wanted" in lead(card)


def test_the_bias_of_a_hand_is_told_with_its_chance() -> None:
    card = asked(PARTS)
    assert "C reads 0.384 mm less than the others: chance does so less than 1 in 10,000 times." in lead(card)
    # By hand: the mean of A is 0.1903, of B 0.0683, of C -0.2543 (AIAG prints the same).
    assert [round(person.mean, 4) for person in card.people] == [0.1903, 0.0683, -0.2543]
    assert card.people[2].away == pytest.approx(-0.2543 - (0.1903 + 0.0683) / 2, abs=1e-4)


def test_a_wild_hand_is_told_by_its_scatter() -> None:
    card = asked(JOURNAL.replace("29.983 29.984 29.982", "29.990 29.984 29.973"), names="yes")
    assert "Dora scatters 8.6 times as much as the others" in lead(card)
    (dora,) = [person for person in card.people if person.apart_by_scatter]
    assert (dora.name, dora.apart_by_mean) == ("Dora", False)


def test_where_nobody_stands_apart_that_is_said() -> None:
    card = asked(JOURNAL.replace("29.99", "29.98"))
    assert "No person’s mean stands apart from the others’." in lead(card)
    assert not any(person.apart_by_mean or person.apart_by_scatter for person in card.people)


def test_of_two_nobody_is_called_the_odd_one() -> None:
    card = asked("Ann 29.981 29.983 29.982\nBen 29.991 29.992 29.990")
    assert "The two differ by 0.0090 mm in their means, and not by chance; of two nobody can say which" in lead(card)
    assert not any(person.apart_by_mean for person in card.people)


@pytest.mark.parametrize(
    ("tolerance", "fit", "says", "is_no"),
    [("0.5", "good", "Good: gauge and hands take up 5 %", False), ("0.1", "may do", "It may do: ", False),
     ("0.05", "not fit", "Not fit: gauge and hands take up 5", True)],
)  # fmt: skip
def test_the_gauge_is_judged_by_its_share_of_the_tolerance(tolerance: str, fit: str, says: str, is_no: bool) -> None:
    card = asked(tolerance=tolerance)
    assert (card.fit, card.is_no) == (fit, is_no)
    assert card.answer.lead[0].startswith(says)
    assert card.counts.gauge is not None
    assert card.counts.share_of_tolerance == pytest.approx(6 * card.counts.gauge / float(tolerance))


def test_without_a_tolerance_several_parts_are_judged_by_all_that_varies_and_one_part_is_not() -> None:
    assert asked(PARTS).fit == "may do"
    one = asked()
    assert one.fit is None
    assert "write them." in notes(one)
    assert one.answer.title == "The measuring itself: how far readings differ"


def test_the_chance_of_a_wrong_verdict_follows_from_the_limits() -> None:
    near, far = asked(max="29.985"), asked(max="30.1")
    assert near.wrong is not None
    assert far.wrong is not None
    assert near.wrong > 0.2
    assert far.wrong < 1e-3
    assert "One reading by any of them judges this part wrongly" in lead(near)
    assert asked(tolerance="0.1").wrong is None


def test_limits_and_tolerance_in_another_unit_are_understood() -> None:
    card = asked("Ann 1.0001 1.0003\nBen 1.0001 1.0002", unit="in", min="25.3 mm", max="25.5 mm")
    assert card.tolerance == pytest.approx(0.2 / 25.4)
    assert card.unit == "in"


# -- tables that are not full --------------------------------------------------------------------------------------

GAPS = "1 Ann 2.51 2.52\n1 Ben 2.50 2.49\n2 Ann 2.61 2.64\n2 Ben 2.60"


def test_a_table_with_gaps_says_which_part_lacks_what_and_judges_reading_again_only() -> None:
    card = asked(GAPS, tolerance="0.5")
    assert card.gaps == {"2": 1}
    assert "The table has gaps: part 2 lacks 1 reading. The two-way analysis wants each part read as often" in notes(
        card
    )
    # By hand: 0.01²/2 twice and 0.03²/2, over three degrees of freedom.
    assert card.counts.repeat == pytest.approx(((0.0001 + 0.0001 + 0.0009) / 2 / 3) ** 0.5)
    assert (card.counts.between, card.counts.gauge, card.people[0].away) == (None, None, None)
    assert card.fit is None
    assert "not settled while the table has gaps" in notes(card)
    assert asked(GAPS, tolerance="0.02").answer.lead[0].startswith("Not fit: reading again alone takes up")


def test_a_part_that_somebody_did_not_read_at_all_is_a_gap_too() -> None:
    card = asked("1 Ann 2.51 2.52\n1 Ben 2.50 2.49\n2 Ann 2.61 2.64")
    assert card.gaps == {"2": 2}
    assert all(svg(drawing) for drawing in card.answer.drawings)


def test_one_part_read_unequally_often_is_still_compared() -> None:
    card = asked(JOURNAL.replace(" 29.981\nCem", "\nCem"))
    assert card.counts.between is not None
    assert len(card.methods) == 1
    assert "the variance method allows for that, the range method does not" in notes(card)
    assert any(person.apart_by_mean for person in card.people)


def test_where_the_step_hides_all_scatter_that_is_said_and_one_step_is_no_bias() -> None:
    card = asked("Ann 2.50 2.50 2.50\nBen 2.50 2.50 2.50\nCem 2.51 2.51 2.51", tolerance="1")
    assert "read the same each time: the step of the instrument hides how they scatter" in lead(card)
    assert not any(person.apart_by_mean or person.apart_by_scatter for person in card.people)
    assert card.fit is None
    assert "while the step hides the scatter" in notes(card)
    json.dumps(card.as_json(), allow_nan=False)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"tolerance": "0.05 bar"}, "Tolerance: bar is a pressure, mm a length: write it in mm."),
        ({"tolerance": "0"},
         "Tolerance: it has no width; write how far the largest size allowed is from the smallest."),
        ({"min": "30.1", "max": "30"},
         "The limits are turned round: from 30.1 up to 30 mm; write the smaller as Smallest allowed."),
        ({"min": "29.9", "max": "30", "tolerance": "0.2"},
         "Tolerance: 0.2 mm was written, and the two limits are 0.1 mm apart; leave one of them out."),
        ({"max": "thirty"},
         "Largest allowed: “thirty” is not a number; write digits with one decimal mark, for example 68.02."),
        ({"readings": ""}, "Readings: nothing was typed; write for example 3 Ann 68.152 68.155."),
        ({"readings": "Ann 2.5 2.6\nBen 2.5 2.6 bar"},
         "Readings, line 2: bar is a pressure, mm a length: write it in mm."),
    ],
)  # fmt: skip
def test_bad_input_gets_a_sentence_with_its_mend(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as slip:
        asked(**{"readings": JOURNAL, **said})
    assert str(slip.value) == sentence


@pytest.mark.parametrize(
    "typed",
    ["0", "1e999", "nan", "x" * 3000, "1,2,3", "9" * 30, "\x00", "a b\na c", "a;b;1;2\nc;b;1;2", "who 1 2\nb 1 2"],
)
def test_whatever_is_typed_is_a_card_or_a_sentence(typed: str) -> None:
    for said in ({"readings": typed}, {"readings": JOURNAL, "max": typed}, {"readings": JOURNAL, "tolerance": typed}):
        with contextlib.suppress(NotUnderstood):
            card = sum_named("study").ask(said)
            json.dumps(card.as_json(), allow_nan=False)
            assert all(svg(drawing) for drawing in card.answer.drawings)


def test_a_sum_is_listed_before_anything_heavy_is_read() -> None:
    seen = "import sys; import fingertight.cards.sums.measure.study; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", seen], capture_output=True, text=True, check=True)
    assert not {name.partition(".")[0] for name in run.stdout.split()} & {"numpy", "scipy", "pydantic", "django"}


# -- the drawings --------------------------------------------------------------------------------------------------


def dots(drawing: Drawing) -> list[tuple[float, float]]:
    """Where each dot's left edge is, and how high it is."""
    found = [re.match(r"M(-?[\d.]+) (-?[\d.]+)a", shape.path) for shape in drawing.shapes if isinstance(shape, Stroke)]
    return [(float(one[1]), float(one[2])) for one in found if one]


def words(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Words)]


def test_every_reading_is_a_dot_over_its_part_and_over_its_person() -> None:
    over_parts, over_people, bars = asked(PARTS, tolerance="8").answer.drawings
    assert len(dots(over_parts)) == len(dots(over_people)) == 90
    assert {"1", "10", "A", "B", "C"} <= set(words(over_parts))
    assert {"A", "B", "C"} <= set(words(over_people))
    assert "of the tolerance" in words(bars)
    assert bars.says == (
        "Where it comes from: reading again 3.4 %, between hands 4.4 %, parts 92.2 % (shares of the variance). Of the "
        "tolerance gauge and hands take up 22.7 %."
    )


def test_higher_readings_stand_higher_and_the_limit_stands_where_it_is() -> None:
    over_people, _ = asked(names="yes", max="29.995").answer.drawings
    heights = [y for _, y in dots(over_people)]
    values = [float(value) for line in JOURNAL.splitlines() for value in line.split()[1:]]
    order = sorted(range(len(values)), key=values.__getitem__)
    assert [heights[place] for place in order] == sorted(heights, reverse=True)
    limit = next(shape for shape in over_people.shapes if isinstance(shape, Stroke) and shape.look == "warn")
    top = float(limit.path.split()[1].partition("H")[0])
    per_mm = (heights[0] - heights[6]) / (values[6] - values[0])
    assert top == pytest.approx(heights[0] - per_mm * (29.995 - values[0]), abs=0.1)
    assert "limit 29.995" in words(over_people)


def test_only_who_stands_apart_is_drawn_to_be_seen() -> None:
    over_people = asked(names="yes").answer.drawings[0]
    bars = [shape for shape in over_people.shapes if isinstance(shape, Stroke) and shape.look in {"bold", "warn"}]
    assert [bar.look for bar in bars] == ["bold", "bold", "warn", "bold", "bold"]


def test_a_large_class_with_long_names_stays_within_its_drawing() -> None:
    text = "\n".join(f"Student-number-{chr(97 + k)}; 29.98{k % 10}; 29.97{k % 7}" for k in range(26))
    for drawing in asked(text, names="yes").answer.drawings:
        assert all(drawing.left <= x <= drawing.left + drawing.width for x, _ in dots(drawing))
        assert all(0 <= shape.y <= drawing.height for shape in drawing.shapes if isinstance(shape, Words))
