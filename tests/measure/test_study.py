"""The measuring itself studied: against published values, another library, and tables as people type them."""

import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.stats import f as f_distribution
from scipy.stats import f_oneway

from fingertight.measure.study.anova import Source, TwoWay, one_way, two_way
from fingertight.measure.study.apart import means_apart, scatters_apart
from fingertight.measure.study.fit import Fit, classes, fit, share_of_tolerance, wrong_verdicts
from fingertight.measure.study.ranges import by_ranges, of_ranges
from fingertight.measure.study.table import read_table
from fingertight.quantity import NotUnderstood

HERE = Path(__file__).parents[1] / "outside"
OUTSIDE = tomllib.loads((HERE / "study.toml").read_text("utf-8"))
Case = dict[str, Any]
CERTIFIED = sorted(path.name for path in (HERE / "nist-strd").glob("*.dat"))


def cases(topic: str) -> Any:
    return pytest.mark.parametrize("case", OUTSIDE[topic], ids=lambda case: case.get("id", "constant"))


def near(case: Case) -> Any:
    return pytest.approx(case["expect"], rel=case.get("rel"), abs=case.get("abs", 0))


def cells_of(case: Case) -> Any:
    name = case["readings"]
    text = OUTSIDE["readings"].get(name) or (HERE / f"{name}.csv").read_text("utf-8")
    return read_table(text, "mm").cells


def nist(name: str) -> tuple[list[list[float]], dict[str, tuple[float, ...]]]:
    """The groups of a NIST file, and what it certifies: the rows of its table by their first word."""
    lines = (HERE / "nist-strd" / name).read_text("ascii").splitlines()
    groups: dict[str, list[float]] = {}
    for line in lines[60:]:
        if line.split():
            group, value = line.split()
            groups.setdefault(group, []).append(float(value))
    said = [line.split() for line in lines[40:47]]
    table = {row[0]: tuple(map(float, row[3:])) for row in said if row and row[0] in {"Between", "Within"}}
    return list(groups.values()), table


# -- published values ----------------------------------------------------------------------------------------------


@cases("two_way")
def test_a_two_way_analysis_is_as_published(case: Case) -> None:
    found = two_way(cells_of(case))
    parts, kept = found.components(), found.components(pool=False)
    values = {
        "part_squares": found.part.squares,
        "person_squares": found.person.squares,
        "interaction_squares": found.interaction.squares,
        "repeat_squares": found.repeat.squares,
        "part_mean_square": found.part.mean_square,
        "person_mean_square": found.person.mean_square,
        "repeat_mean_square": found.repeat.mean_square,
        "interaction_f": found.interaction.against(found.repeat)[0],
        "person_f_kept": found.person.against(found.interaction)[0],
        "part_variance_kept": kept.part,
        "share": 100 * math.sqrt(parts.gauge / parts.total),
        "classes": classes(math.sqrt(parts.part or 0), math.sqrt(parts.gauge)),
    }
    assert values[case["what"]] == near(case)


@cases("ranges")
def test_the_range_method_is_as_published(case: Case) -> None:
    found = by_ranges(cells_of(case))
    assert found.part is not None
    values = {
        "repeat": found.repeat,
        "person": found.person,
        "gauge": found.gauge,
        "part": found.part,
        "total": found.total,
        "share": 100 * found.gauge / found.total,
        "classes": classes(found.part, found.gauge),
        "mean_range": found.mean_range,
        "means_apart": found.means_apart,
    }
    assert values[case["what"]] == near(case)


@cases("one_way")
def test_a_one_way_analysis_has_every_certified_digit(case: Case) -> None:
    found = one_way(nist(case["file"])[0])
    values = {
        "F": found.between.against(found.within)[0],
        "sd": found.scatter,
        "r2": found.r_squared,
    }
    assert values[case["what"]] == near(case)


@pytest.mark.parametrize("name", CERTIFIED)
def test_sums_of_squares_have_all_fifteen_digits_that_are_certified(name: str) -> None:
    # NIST/ITL StRD, the table in each file; SmLs07 has thirteen leading digits in common.
    groups, certified = nist(name)
    found = one_way(groups)
    assert set(certified) == {"Between", "Within"}
    assert (found.between.squares, found.between.mean_square) == pytest.approx(
        certified["Between"][:2], rel=5e-15, abs=0
    )
    assert (found.within.squares, found.within.mean_square) == pytest.approx(certified["Within"][:2], rel=5e-15, abs=0)
    assert found.between.against(found.within)[0] == pytest.approx(certified["Between"][2], rel=5e-15, abs=0)


def test_the_naive_sum_of_squares_would_have_failed_there() -> None:
    groups, certified = nist("SmLs07.dat")
    values = [value for group in groups for value in group]
    naive = sum(value * value for value in values) - sum(values) ** 2 / len(values)
    assert abs(naive - certified["Between"][0] - certified["Within"][0]) > 1


@cases("range_constant")
def test_a_constant_for_ranges_is_as_published(case: Case) -> None:
    assert of_ranges(case["readings"], case["sets"]) == near(case)


@cases("cochran")
def test_a_scatter_stands_apart_just_where_cochrans_table_says(case: Case) -> None:
    people = case["people"]
    for readings, critical in zip(case["readings"], case["critical"], strict=True):
        dofs = [readings - 1] * people

        def chance(share: float, dofs: list[int] = dofs) -> float:
            rest = (1 - share) / (people - 1)
            return scatters_apart([share, *[rest] * (people - 1)], dofs).hands[0].chance

        # The table has three decimals: half a digit below it is chance still, half above no more.
        assert chance(critical - 0.00075) > 0.05 > chance(critical + 0.00075)


# -- another library -----------------------------------------------------------------------------------------------


def test_one_way_agrees_with_another_library_on_random_tables() -> None:
    chance = np.random.default_rng(8)
    for _ in range(40):
        groups = [
            [float(value) for value in chance.normal(68, 0.01, chance.integers(2, 9))]
            for _ in range(int(chance.integers(2, 12)))
        ]
        found, theirs = one_way(groups), f_oneway(*groups)
        assert found.between.against(found.within) == pytest.approx((theirs.statistic, theirs.pvalue), rel=1e-6)


def by_projection(cells: Any) -> list[float]:
    """Sums of squares by another road: least-squares fits of nested models with numpy."""
    people, parts, n = np.shape(cells)
    y = np.ravel(cells)
    person, part = np.repeat(np.arange(people), parts * n), np.tile(np.repeat(np.arange(parts), n), people)
    ones, by_person, by_part = np.ones((len(y), 1)), np.eye(people)[person], np.eye(parts)[part]

    def left(*columns: Any) -> float:
        design = np.hstack(columns)
        fitted = design @ np.linalg.lstsq(design, y, rcond=None)[0]
        return float(((y - fitted) ** 2).sum())

    each = np.eye(people * parts)[person * parts + part]
    none, one, both, whole = left(ones), left(ones, by_person), left(ones, by_person, by_part), left(each)
    return [one - both, none - one, both - whole, whole]


def test_two_way_agrees_with_least_squares_on_random_tables() -> None:
    chance = np.random.default_rng(9)
    for people, parts, n in ((2, 2, 2), (3, 10, 3), (8, 4, 2)):
        table = chance.normal(0, 1, (people, parts, n)) + chance.normal(0, 2, (1, parts, 1))
        found = two_way(table.tolist())
        ours = [found.part.squares, found.person.squares, found.interaction.squares, found.repeat.squares]
        assert ours == pytest.approx(by_projection(table), rel=1e-8)
        assert found.person.against(found.error)[1] == pytest.approx(
            f_distribution.sf(found.person.mean_square / found.error.mean_square, people - 1, found.error.dof)
        )


def test_the_variances_that_went_in_come_out_by_both_methods() -> None:
    chance = np.random.default_rng(10)
    found, ranged = [], []
    for _ in range(60):
        table = (
            chance.normal(0, 1, (6, 8, 3)) + chance.normal(0, 2, (6, 1, 1)) + chance.normal(0, 5, (1, 8, 1))
        ).tolist()
        one, other = two_way(table).components(pool=False), by_ranges(table)
        found.append((one.repeat, one.person, one.part or 0))
        ranged.append((other.repeat, other.person, other.part or 0))
    assert np.mean(found, axis=0) == pytest.approx([1, 4, 25], rel=0.15)
    assert np.mean(ranged, axis=0) == pytest.approx([1, 2, 5], rel=0.15)


# -- what the analysis does ----------------------------------------------------------------------------------------


def test_the_interaction_is_pooled_when_it_is_no_more_than_scatter_and_kept_when_it_is() -> None:
    scatter = Source(60.0, 60)
    none = TwoWay(Source(90.0, 9), Source(8.0, 2), Source(18.0, 18), scatter, 3)
    some = TwoWay(Source(90.0, 9), Source(8.0, 2), Source(90.0, 18), scatter, 3)
    assert (none.pools, some.pools) == (True, False)
    assert none.components().repeat == pytest.approx(78 / 78)
    assert some.components().interaction == pytest.approx((5 - 1) / 3)


def test_a_variance_below_nothing_counts_as_nothing_and_is_named() -> None:
    found = one_way([[1.0, 3.0], [2.0, 2.0]]).components()
    assert (found.person, found.zeroed) == (0.0, ("people",))
    two = two_way([[[1.0, 3.0], [1.0, 3.0]], [[3.0, 1.0], [3.0, 1.0]]]).components(pool=False)
    assert set(two.zeroed) == {"people on parts"}
    assert (two.person, two.part, two.interaction) == (0.0, 0.0, 0.0)


@pytest.mark.parametrize("groups", [[[1.0, 2.0]], [[1.0, 2.0], []], [[1.0], [2.0]]])
def test_what_cannot_be_analysed_is_refused(groups: list[list[float]]) -> None:
    with pytest.raises(ValueError, match=r"two groups|nothing was read twice"):
        one_way(groups)


def test_a_table_with_gaps_is_refused_by_two_way_and_ranges_but_not_by_one_way() -> None:
    gaps = [[[1.0, 2.0], [3.0]], [[2.0, 1.0], [3.0, 4.0]]]
    for method in (two_way, by_ranges):
        with pytest.raises(ValueError, match=r"as many everywhere|gaps"):
            method(gaps)
    assert one_way([cell for row in gaps for cell in row]).within.squares == pytest.approx(1.5)


# -- who stands apart ----------------------------------------------------------------------------------------------


def test_one_far_mean_does_not_make_its_neighbours_far() -> None:
    found = means_apart([10.0, 10.1, 9.9, 10.0, 20.0], [3] * 5, 0.01, 10)
    assert found.apart == (4,)
    assert found.hands[4].by == pytest.approx(10.0)
    assert found.hands[1].by == pytest.approx(0.1 + 0.1 / 3)


def test_of_two_and_of_two_camps_nobody_is_the_odd_one() -> None:
    for means in ([1.0, 2.0], [1.0, 1.0, 2.0, 2.0], [1.0, 2.0, 4.0]):
        found = means_apart(means, [4] * len(means), 0.001, 12)
        assert found.split
        assert found.apart == ()


def test_two_means_are_compared_as_students_t_has_it() -> None:
    # By hand: t = 1 / √(1·(1/4 + 1/4)) = 1.414; two-sided with 6 degrees of freedom p = 0.207 (scipy).
    assert means_apart([1.0, 2.0], [4, 4], 1.0, 6).hands[0].chance == pytest.approx(0.2070, abs=5e-4)


def test_where_nobody_differs_somebody_is_blamed_in_one_study_of_twenty_at_most() -> None:
    chance = np.random.default_rng(11)
    means = scatters = 0
    for _ in range(600):
        groups = chance.normal(0, 1, (5, 4)).tolist()
        found = one_way(groups)
        means += bool(means_apart([sum(g) / 4 for g in groups], [4] * 5, found.within.mean_square, 15).apart)
        scatters += bool(scatters_apart([float(np.var(g, ddof=1)) for g in groups], [3] * 5).apart)
    # 5 % of 600 is 30; three standard deviations of a count of 30 are 16.
    assert 5 < means < 46
    assert 10 < scatters < 46


def test_a_wild_hand_stands_apart_by_scatter_and_a_steady_one_does_not() -> None:
    assert scatters_apart([1.0, 1.2, 0.9, 60.0], [4] * 4).apart == (3,)
    assert scatters_apart([1.0, 1.2, 0.9, 0.0001], [4] * 4).apart == ()


# -- fit for a limit -----------------------------------------------------------------------------------------------


def test_ten_and_thirty_per_cent_part_good_from_may_do_from_not() -> None:
    shares = (0.1, 0.1001, 0.3, 0.3001)
    assert [fit(share) for share in shares] == [Fit.GOOD, Fit.MAY_DO, Fit.MAY_DO, Fit.NOT]
    assert fit(share_of_tolerance(0.005, 0.1)) is Fit.MAY_DO
    assert classes(1.0, 0.0) is None


def test_wrong_verdicts_of_many_parts_agree_with_drawing_them_at_random() -> None:
    chance = np.random.default_rng(12)
    size = chance.normal(10.0, 0.5, 400_000)
    read = size + chance.normal(0, 0.2, size.size)
    wrong = float(((abs(size - 10.1) <= 0.6) != (abs(read - 10.1) <= 0.6)).mean())
    assert wrong_verdicts(10.0, 0.5, 0.2, 9.5, 10.7) == pytest.approx(wrong, abs=0.002)
    assert wrong_verdicts(10.0, 0.5, 0.0, 9.5, 10.7) is None
    assert wrong_verdicts(10.8, 0.0, 0.1, None, 10.7) == pytest.approx(0.1587, abs=1e-4)


# -- tables as they are typed --------------------------------------------------------------------------------------

SAME = [
    "1 Ann 2.51 2.52\n1 Ben 2.50 2.49\n2 Ann 2.61 2.62\n2 Ben 2.60 2.60",
    "1; Ann; 2,51; 2,52\n1; Ben; 2,50; 2,49\n2; Ann; 2,61; 2,62\n2; Ben; 2,60; 2,60\n",
    "1, Ann, 2.51, 2.52\n1, Ben, 2.50, 2.49\n2, Ann, 2.61, 2.62\n2, Ben, 2.60, 2.60",
    "1,Ann,2.51,2.52\n1,Ben,2.50,2.49\n2,Ann,2.61,2.62\n2,Ben,2.60,2.60",
    "1 Ann 2,51 2,52\n1 Ben 2,50, 2,49\n2 ann 2,61 2,62\n2 ben 2,60 2,60",
    "# a note\n\n1\tAnn\t2.51 mm\t2.52\n1\tBen\t2.50\t2.49\n2\tAnn\t2.61\t2.62\n2\tBen\t2.60\t2.60",
    "1 Ann 2.51\n1 Ann 2.52\n1 Ben 2.50 - 2.49 mm\n2 Ann 2.61 2.62\n2 Ben 2.60 2.60",
    "Person,Trial,Part,Reading\nAnn,1,1,2.51\nAnn,2,1,2.52\nBen,1,1,2.50\nBen,2,1,2.49\nAnn,1,2,2.61\nAnn,2,2,2.62\n"
    "Ben,1,2,2.60\nBen,2,2,2.60",
    "part;person;reading 1;reading 2\n1;Ann;2,51;2,52\n1;Ben;2,50;2,49\n2;Ann;2,61;2,62\n2;Ben;2,60;2,60",
    "part person readings\n1 Ann 2.51 2.52\n1 Ben 2.50 2.49\n2 Ann 2.61 2.62\n2 Ben 2.60 2.60",
]


@pytest.mark.parametrize("text", SAME)
def test_one_table_may_be_typed_in_many_ways(text: str) -> None:
    table = read_table(text, "mm")
    assert [name.casefold() for name in table.people] == ["ann", "ben"]
    assert table.parts == ("1", "2")
    assert table.cells == (((2.51, 2.52), (2.61, 2.62)), ((2.50, 2.49), (2.60, 2.60)))
    assert (table.decimals, table.gaps) == (2, ())


def test_names_of_two_words_and_inches_are_read() -> None:
    table = read_table("Ann Lee; 1.000 in; 1.001 in\nBen; 25.4; 25.5", "mm")
    assert table.people == ("Ann Lee", "Ben")
    assert table.cells[0][0] == pytest.approx((25.4, 25.4254))
    assert read_table("gauge,reading,reading\n1,2.5,2.6\n2,2.4,2.7", "mm").instruments


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "Readings: there is no line with a reading; write for example 3 Ann 68.152 68.155, one line for each part "
         "and person."),
        ("Ann 2.5 2.6", "Readings: all are of one person or instrument, and nothing tells how hands differ; let two or "
         "more read the same parts, three if it can be."),
        ("Ann 2.5\nBen 2.6", "Readings: each part was read once by each, and nothing tells how the same hands differ; "
         "let all read again, without a look at the first reading."),
        ("Ann 2.5 2.6\nBen 2.5 tow", "Readings, line 2: “tow” is not a number; write digits with one decimal mark, for "
         "example 68.02."),
        ("Ann 2.5 2.6\nBen 2.5 2.o4", "Readings, line 2: “2.o4” is not a number; write digits with one decimal mark, "
         "for example 68.02."),
        ("Ann 2.5 2.6\nBen 2.5 2.6 bar", "Readings, line 2: bar is a pressure, mm a length: write it in mm."),
        ("1 2 2.5 2.6\n1 3 2.5 2.6", "Readings, line 1: a name or letter for who read it is wanted where “1” stands; "
         "people that go by numbers want a header: part,person,reading."),
        ("Ann,2,51,2,52\nBen,2,50,2,49", "Readings, line 1: commas stand between the fields and may stand within the "
         "numbers too; put ; between the fields, or write numbers with a point."),
        ("person,readings\nAnn,2,51", "Readings, line 1: commas stand between the fields and may stand within the "
         "numbers too; put ; between the fields, or write numbers with a point."),
        ("person,reading,reading\nAnn,2,51,2,52", "Readings, line 2: there are 5 fields for 3 columns; write one for "
         "each, and numbers with a point where commas stand between."),
        ("person,colour,reading\nAnn,red,2.5", "Readings, header: the column “colour” is not known here; call the "
         "columns part, person, trial, reading."),
        ("person,part\nAnn,1", "Readings, header: no column is called reading; write for example part,person,reading."),
        ("person,reading", "Readings: nothing stands under the header; write one line for each part and person."),
        ("part,person,reading\n,Ann,2.5", "Readings, line 2: who read it, or which part it was, is not written; write "
         "it in its column."),
        ("Ann Lee 2.5 2.6\nBen Poe 2.5 2.6", "Readings: no part was read by two people; let all read the same parts. A "
         "name of two words wants ; behind it."),
        ("1 Ann 2.5 2.6\n1 Ben 2.5 2.6\n1 Cem - -", "Readings: somebody has no reading at all; write one behind every "
         "name, or leave it out."),
        ("1 Ann 2.5 2.6\n1 Ben", "Readings, line 2: “1 Ben” is not part, person and readings; write for example 3 Ann "
         "68.152 68.155, one line for each part and person."),
        ("A 1 2\n" * 4000, "Readings: this is longer than the 19,000 letters a study may have; leave out columns or "
         "parts."),
        ("\n".join(f"p{place:c<3} 1 2" for place in range(61)), "Readings: 61 people are more than the 60 that are "
         "studied at once."),
    ],
)  # fmt: skip
def test_a_table_that_is_none_gets_a_sentence_with_its_mend(text: str, sentence: str) -> None:
    with pytest.raises(NotUnderstood) as slip:
        read_table(text, "mm")
    assert str(slip.value) == sentence
