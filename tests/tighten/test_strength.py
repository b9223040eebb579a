"""How strong a bolt is by its mark: every published load and stress of tests/outside/strength.toml."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.quantity import converted
from fingertight.tighten.threads.names import INCH_MM, thread_named
from fingertight.tighten.torque.strength import (
    PSI_MPA,
    NoSuchGrade,
    NoSuchStrength,
    Strain,
    breaking_load_n,
    class_of_nut,
    grade_meant,
    grade_named,
    grades,
    named_strengths,
    proof_load_n,
    strain_of,
    strength_of,
)
from fingertight.tighten.torque.stripping import shear_area_of_hole_mm2

OUTSIDE = tomllib.loads((Path(__file__).parents[1] / "outside" / "strength.toml").read_text("utf-8"))
VALUES: list[dict[str, Any]] = OUTSIDE["value"]
Case = dict[str, Any]


def cases(topic: str, name: str) -> Any:
    return pytest.mark.parametrize("case", OUTSIDE[topic], ids=lambda case: case[name])


def computed(value: Case) -> float | list[float]:
    """What this project answers to the question of one published value, in its unit."""
    asked, given_sizes = value["id"], value["inputs"]
    if asked.startswith("strip-internal"):
        sizes = (given_sizes[name] * INCH_MM for name in ("engagement_in", "bolt_major_min_in", "nut_pitch_dia_max_in"))
        return shear_area_of_hole_mm2(thread_named(given_sizes["thread"]).pitch_mm, *sizes) / INCH_MM**2
    mark = given_sizes.get("property_class") or f"grade {given_sizes['grade']}"
    grade, thread = grade_named(mark), thread_named(given_sizes.get("thread", "M8"))
    if asked.endswith("-name"):
        return list(named_strengths(grade))
    if "proof-stress" in asked:
        return strength_of(grade, thread).proof_mpa
    if asked.endswith("min-strength"):
        return strength_of(grade, thread).tensile_mpa
    load_n = proof_load_n(thread, grade) if "proof" in asked else breaking_load_n(thread, grade)
    return converted(load_n, "N", value["unit"])


@pytest.mark.parametrize("value", VALUES, ids=[value["id"] for value in VALUES])
def test_a_bolt_is_as_strong_as_its_standard_publishes(value: Case) -> None:
    # Each value names its source in tests/outside/strength.toml.
    limits = value["tolerance"]
    expected = pytest.approx(value["expect"], abs=limits.get("abs") or 1e-9, rel=limits.get("rel", 0))
    assert computed(value) == expected, f"{value['question']} {value['source']}"


def test_every_published_question_is_there_once() -> None:
    assert len({value["id"] for value in VALUES}) == len(VALUES) == 34


@cases("stress_ratio", "class")
def test_proof_stress_is_the_published_share_of_yield(case: Case) -> None:
    strength = strength_of(grade_named(case["class"]), thread_named(case["thread"]))
    assert round(strength.proof_mpa / strength.yield_mpa, 2) == case["ratio"]


@cases("brass", "thread")
def test_a_brass_bolt_breaks_no_earlier_than_published(case: Case) -> None:
    thread = thread_named(case["thread"])
    for mark in ("CU2", "CU3"):
        assert breaking_load_n(thread, grade_named(mark)) == pytest.approx(case["breaking_n"], rel=0.005)


@cases("stainless", "mark")
def test_a_stainless_bolt_has_the_published_strengths(case: Case) -> None:
    for mark in (case["mark"], case["mark"].replace("A2", "A4")):
        strength = strength_of(grade_named(mark), thread_named("M8"))
        assert (strength.tensile_mpa, strength.yield_mpa) == (case["tensile_mpa"], case["yield_mpa"])


@cases("sae", "thread")
def test_an_sae_grade_has_the_published_strengths_of_its_size(case: Case) -> None:
    strength = strength_of(grade_named(f"SAE {case['grade']}"), thread_named(case["thread"]))
    ksi = [stress / PSI_MPA / 1000 for stress in (strength.tensile_mpa, strength.yield_mpa, strength.proof_mpa)]
    assert ksi == pytest.approx(case["ksi"])


def test_a_mark_is_a_round_name_and_its_table_asks_something_else() -> None:
    grade = grade_named("10.9")
    asked = strength_of(grade, thread_named("M8"))
    assert named_strengths(grade) == (1000, 900)
    assert (asked.tensile_mpa, asked.yield_mpa, asked.proof_mpa) == (1040, 940, 830)


def test_class_8_8_is_stronger_above_m16_and_m16_is_not_above() -> None:
    grade = grade_named("8.8")
    small, large = (strength_of(grade, thread_named(name)) for name in ("M16", "M18"))
    assert (small.tensile_mpa, small.proof_mpa) == (800, 580)
    assert (large.tensile_mpa, large.proof_mpa) == (830, 600)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("8.8", "8.8"),
        ("8,8", "8.8"),
        (" Class 8.8 ", "8.8"),
        ("property class 12.9", "12.9"),
        ("grade 5", "SAE 5"),
        ("gr. 8", "SAE 8"),
        ("SAE J429 grade 2", "SAE 2"),
        ("sae5", "SAE 5"),
        ("5", "SAE 5"),
        ("a2-70", "A2-70"),
        ("A4 80", "A4-80"),
        ("stainless A2-50", "A2-50"),
        ("Brass", "brass CU2"),
        ("CU3", "brass CU3"),
    ],
)
def test_a_grade_may_be_written_in_several_ways(typed: str, name: str) -> None:
    assert grade_named(typed).name == name


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("8.9", "There is no grade “8.9” here; the nearest are 8.8."),
        ("grade 7", "There is no grade “grade 7” here; the nearest are SAE 8, SAE 5, SAE 2."),
        ("stainless", "There is no grade “stainless” here; the nearest are A2-50, A2-70, A2-80."),
        ("A3-70", "There is no grade “A3-70” here; the nearest are A4-70, A2-70, A4-80."),
        ("banana", "There is no grade “banana” here; the nearest are 8.8, 10.9, SAE 5."),
        ("", "There is no grade “” here; the nearest are 8.8, 10.9, SAE 5."),
        ("8" * 90, f"There is no grade “{'8' * 20}…” here; the nearest are 8.8, 10.9, SAE 5."),
    ],
)
def test_a_grade_that_does_not_exist_is_answered_with_the_nearest(typed: str, sentence: str) -> None:
    with pytest.raises(NoSuchGrade) as refused:
        grade_named(typed)
    assert str(refused.value) == sentence


# ISO 898-2:2012, nuts and the bolts they go with at most, as reprinted on a public fastener page.
NUTS = {"5": "5.8", "6": "6.8", "8": "8.8", "9": "9.8", "10": "10.9", "12": "12.9"}


@pytest.mark.parametrize(("nut", "bolt"), NUTS.items())
def test_the_class_of_a_nut_stands_for_its_bolt_on_a_nut_only(nut: str, bolt: str) -> None:
    m8 = thread_named("M8")
    for typed in (nut, f"class {nut}", f" grade {nut} "):
        assert grade_meant(typed, m8, "flange nut").name == bolt
        assert class_of_nut(typed) == nut
        with pytest.raises(NoSuchGrade, match=rf"is it {bolt}\?"):
            grade_meant(typed, m8)
    assert grade_meant(bolt, m8, "hex nut").name == grade_meant(bolt, m8).name == bolt


@pytest.mark.parametrize("typed", ["1", "2", "5", "8", "grade 8", "gr. 5"])
def test_a_bare_mark_of_inch_bolts_is_one_on_inch_threads_only(typed: str) -> None:
    number = typed.rsplit(maxsplit=1)[-1]
    assert grade_meant(typed, thread_named("1/4-20")).name == f"SAE {number}"
    with pytest.raises(
        NoSuchGrade, match=rf"^{number} alone is a mark of inch bolts \(SAE {number}\), and M8 is metric"
    ):
        grade_meant(typed, thread_named("M8"))
    assert grade_meant(f"SAE {number}", thread_named("M8")).name == f"SAE {number}"


@pytest.mark.parametrize(
    ("thread", "typed", "sentence"),
    [
        ("M8", "5",
         "5 alone is a mark of inch bolts (SAE 5), and M8 is metric: is it 5.8? 5 is also the class of the nut that "
         "goes with 5.8 bolts (ISO 898-2). Write 5.8; a head with three lines is SAE 5."),
        ("M8", "2", "2 alone is a mark of inch bolts (SAE 2), and M8 is metric: write both numbers, as in 8.8."),
        ("M8", "10", "10 alone is the class of the nut that goes with 10.9 bolts (ISO 898-2): is it 10.9?"),
        ("M8", "05",
         "05 is the class of a thin nut, which strips before the bolt is pulled home: write the bolt’s mark."),
        ("M8", "88", "A metric bolt has two numbers, and here is only 88: write both, as in 8.8."),
        ("M8", "no mark", "An unmarked bolt is reckoned as 4.6 at most (common practice, no source): write 4.6."),
        ("1/4-20", "None",
         "An unmarked bolt is reckoned as SAE 2 at most (common practice, no source): write SAE 2."),
        ("M8", "Stainless steel",
         "Stainless steel comes in several strengths: write the mark on the head, for example A2-70 or A4-70."),
        ("M8", "A2",
         "Stainless steel comes in several strengths: write the mark on the head, for example A2-70 or A4-70."),
        ("M8", "8.9", "There is no grade “8.9” here; the nearest are 8.8."),
    ],
)  # fmt: skip
def test_what_is_no_whole_mark_is_asked_for_and_not_guessed(thread: str, typed: str, sentence: str) -> None:
    with pytest.raises(NoSuchGrade) as refused:
        grade_meant(typed, thread_named(thread))
    assert str(refused.value) == sentence
    assert all(name in grades() for name in refused.value.nearest)


def test_a_pound_a_square_inch_is_made_of_the_pound_and_the_inch() -> None:
    # NIST SP 811, appendix B.8: psi to pascal 6.894 757 E+03.
    assert pytest.approx(6.894757e-3, rel=1e-7) == PSI_MPA


@given(st.text(max_size=60))
@settings(max_examples=60, deadline=None)
def test_whatever_is_typed_is_a_grade_or_refused_in_a_sentence(typed: str) -> None:
    try:
        named = grade_named(typed)
    except NoSuchGrade as refused:
        named = grades()[refused.nearest[0]]
        said = str(refused)
    else:
        said = f"{named.name}."
    assert named.name in grades()
    assert said.endswith(".")
    assert len(said) < 120


@pytest.mark.parametrize(
    ("thread", "grade", "sentence"),
    [
        ("M42", "8.8", "ISO 898-1:2013 has no 8.8 for M42; it covers M1.6 to M39."),
        ("M18", "9.8", "ISO 898-1:2013 has no 9.8 for M18; it covers M1.6 to M16."),
        ("#10-24", "SAE 5", "SAE J429 has no SAE 5 for #10-24 UNC; it covers 1/4 in to 1 1/2 in."),
        ("G1/4", "8.8", "G1/4 is a pipe thread: no bolt has it, and no table its strength."),
    ],
)
def test_a_size_the_standard_does_not_cover_gets_no_guess(thread: str, grade: str, sentence: str) -> None:
    with pytest.raises(NoSuchStrength) as refused:
        strength_of(grade_named(grade), thread_named(thread))
    assert str(refused.value) == sentence


def test_only_property_classes_name_strengths() -> None:
    with pytest.raises(ValueError, match="names no strengths"):
        named_strengths(grade_named("SAE 5"))


def test_in_every_grade_proof_comes_before_yield_and_yield_before_breaking() -> None:
    for grade in grades().values():
        for above, to, strength in grade.by_size:
            assert above < to
            assert 0 < strength.proof_mpa <= strength.yield_mpa < strength.tensile_mpa


def test_the_more_a_bolt_is_pulled_the_worse_it_ends() -> None:
    bears, breaks = (20_000.0, 21_000.0), (25_000.0, 27_000.0)
    ends = [strain_of(pull, pull * 1.3, bears, breaks) for pull in (10_000, 16_500, 20_500, 26_000)]
    assert ends == [Strain.WITHIN, Strain.OVER_WHEN_SLIPPERY, Strain.OVER, Strain.BREAKS]
    assert strain_of(20_000, 21_000, bears, breaks) is Strain.WITHIN
    assert strain_of(19_000, 28_000, bears, breaks) is Strain.BREAKS
