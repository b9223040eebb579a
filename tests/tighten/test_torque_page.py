"""The torque sum as a mechanic meets it: the page, the numbers for programs, and what is refused."""

from typing import cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.cards.sums.tighten.torque import SUM
from fingertight.cards.sums.tighten.torque.card import TorqueCard
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood
from fingertight.tighten.torque.friction import surfaces
from fingertight.tighten.torque.strength import grades

MOST = "Up to 21.3 N·m even a slippery bolt bears it, and nothing strips."


def asked(thread: str = "M8", grade: str = "8.8", **said: str) -> TorqueCard:
    return cast(TorqueCard, SUM.ask({"thread": thread, "grade": grade, **said}))


def lead(card: TorqueCard) -> str:
    return card.answer.lead[0]


def test_without_more_the_torque_is_the_one_for_75_percent_of_proof() -> None:
    card = asked()
    assert lead(card) == "Tighten to 21 N·m: that usually pulls 15.9 kN, 75 % of the proof load."
    assert card.answer.lead[1].startswith("19 bolts of 20 end between 12.9 kN and 20.9 kN (61 % to 98 %)")
    assert not card.is_no


def test_the_page_names_formula_friction_table_and_edition() -> None:
    page = answer_page(asked())
    for said in (
        "  long form, used here     21 N·m: thread 0.12, head 0.12 at 10.3 mm\n",
        "  short form, T = K F d    22.9 N·m: K 0.18, “lubricated” in a published table; too much for a\n",
        "  tables, 90 % of yield    24.5 N·m present (2001 on), 22.7 N·m older: for the usual friction, not\n",
        "friction: VDI 2230, class B; that oiled is this class is\n  common practice, no source;",
        "strength: ISO 898-1:2013, table 3;",
    ):
        assert said in page


def test_the_page_shows_the_three_usual_units() -> None:
    page = answer_page(asked())
    assert "                   N·m   lb·ft  kgf·m\n  a usual bolt     21    15.5   2.15\n" in page


@pytest.mark.parametrize(
    ("grade", "row"),
    [
        ("10.9", "the mark 10.9 means 1000 and 900 MPa; the table asks 1040 and 940"),
        ("12.9", "the mark 12.9 means 1200 and 1080 MPa; the table asks 1220 and 1100"),
    ],
)
def test_the_page_tells_the_mark_from_its_table(grade: str, row: str) -> None:
    assert row in answer_page(asked(grade=grade))


def test_a_torque_that_no_bolt_may_have_is_a_no_with_its_caution() -> None:
    card = asked(torque="28 N·m", surface="oiled")
    assert card.is_no
    assert lead(card).startswith("No: 28 N·m")
    assert card.answer.lead[1] == MOST
    assert "slacken it, and fit a new one." in card.answer.cautions[0]


def test_a_torque_that_only_a_slippery_bolt_does_not_bear_is_a_no_and_says_so() -> None:
    # 24.5 N·m is the published 90 % of yield at friction 0.12 (VDI 2230); an oiled bolt may have 0.08.
    card = asked(torque="24.5")
    assert card.is_no
    said = "No: 24.5 N·m usually pulls 18.5 kN, 87 % of the proof load, but a slippery bolt is pulled to 115 %."
    assert lead(card) == said
    assert card.answer.lead[1] == MOST


def test_a_torque_twice_too_large_may_break_the_bolt() -> None:
    said = "No: 45 N·m may break the bolt: it would usually pull 34.1 kN, 160 % of the proof load"
    assert lead(asked(torque="45")).startswith(said)


def test_the_most_that_the_page_allows_and_the_torque_it_tells_are_themselves_allowed() -> None:
    for grade in ("4.8", "8.8", "12.9", "A2-70", "brass"):
        for surface in ("dry", "oiled", "paste"):
            told = lead(asked(grade=grade, surface=surface)).split()[2]
            assert not asked(grade=grade, surface=surface, torque=told).is_no
            refused = asked(grade=grade, surface=surface, torque=f"{float(told) * 2}")
            assert refused.is_no
            most = refused.answer.lead[1].removeprefix("Up to ").split()[0]
            assert not asked(grade=grade, surface=surface, torque=most).is_no
            assert asked(grade=grade, surface=surface, torque=f"{float(most) * 1.02}").is_no


@pytest.mark.parametrize(("typed", "shown"), [("18 kN", 18_000), ("18", 18_000), ("9000 N", 9000), ("2000 lbf", 8896)])
def test_a_preload_is_asked_for_in_any_unit_of_force(typed: str, shown: float) -> None:
    card = asked(preload=typed)
    assert card.preload_n.usual == pytest.approx(shown, rel=1e-4)
    assert card.asked == "preload"


@pytest.mark.parametrize("typed", ["21.0354 N·m", "15.515 lb·ft", "186.18 lbf-in", "2.14502 kgf·m", "214.502 kgf·cm"])
def test_a_torque_is_asked_about_in_any_unit(typed: str) -> None:
    assert asked(torque=typed).share_of_proof.usual == pytest.approx(0.75, abs=2e-4)


@given(st.floats(5, 70), st.sampled_from(["M6", "M8x1", "M10", "1/4-20"]), st.sampled_from(["dry", "oiled", "paste"]))
@settings(max_examples=40, deadline=None)
def test_torque_preload_and_share_are_recovered_from_each_other(share: float, thread: str, surface: str) -> None:
    by_share = asked(thread, surface=surface, share=f"{share:.6f}")
    by_torque = asked(thread, surface=surface, torque=f"{by_share.torque_nm.usual:.9f}")
    by_preload = asked(thread, surface=surface, preload=f"{by_torque.preload_n.usual:.6f} N")
    assert by_preload.share_of_proof.usual * 100 == pytest.approx(share, rel=1e-5)


@pytest.mark.parametrize(
    ("typed", "note"),
    [
        ("210 N·m", "This is about ten times what brings 75 % of the proof load: is the decimal mark astray?"),
        ("2.1 N·m", "This is about a tenth of what brings 75 % of the proof load: is the decimal mark astray?"),
        ("250 N·m", "This is about ten times what brings 75 % of the proof load: is the decimal mark astray?"),
        ("2.5 N·m", "This is about a tenth of what brings 75 % of the proof load: is the decimal mark astray?"),
        ("15.5 N·m", "The same number in lb·ft would bring 75 % of the proof load: was the unit misread?"),
        ("21 lb·ft", "The same number in N·m would bring 75 % of the proof load: was the unit misread?"),
        ("2.145 N·m", "The same number in kgf·m would bring 75 % of the proof load: was the unit misread?"),
        ("186 N·m", "The same number in lb·in would bring 75 % of the proof load: was the unit misread?"),
    ],
)
def test_a_torque_that_looks_like_a_slip_is_recognised(typed: str, note: str) -> None:
    assert note in asked(torque=typed).answer.notes


def test_a_torque_near_the_usual_one_is_no_slip() -> None:
    assert asked(torque="20").slip is None
    assert asked(torque="20").answer.notes == ()


def test_a_hole_in_aluminium_strips_first_and_the_torque_goes_down_to_what_it_holds() -> None:
    card = asked(into="aluminium", engaged="12 mm")
    hole = card.hole
    assert hole is not None
    assert hole.weakest == "the tapped hole strips"
    assert not card.is_no
    assert lead(card) == "Tighten to 20.1 N·m: that usually pulls 15.2 kN, 72 % of the proof load."
    assert card.answer.lead[2] == "Not the usual 75 % of the proof load: a slippery bolt would strip the thread."
    assert card.answer.cautions[0].endswith("engage 17.1 mm (0.67 in) or more, or take less torque.")


def test_a_torque_that_strips_the_hole_is_a_no() -> None:
    card = asked(into="aluminium", engaged="12 mm", torque="20.6")
    assert card.is_no
    said = "No: the tapped hole strips at 20 kN, and 20.6 N·m usually pulls 15.6 kN, 73 % of the proof load, "
    assert lead(card) == f"{said}with a slippery bolt 20.4 kN."
    assert card.answer.lead[1] == "Up to 20.1 N·m even a slippery bolt bears it, and nothing strips."


def test_a_hole_that_every_bolt_strips_is_the_headline_before_what_the_bolt_itself_bears() -> None:
    card = asked(into="aluminium", engaged="8", torque="25 N·m")
    assert card.hole is not None
    assert card.hole.weakest_n is not None
    assert card.hole.weakest_n < card.preload_n.low
    assert card.strips == "the tapped hole strips"
    said = "No: the tapped hole strips at 12.7 kN, and 25 N·m pulls 15.3 kN even with a rough bolt, "
    assert lead(card) == f"{said}usually 18.9 kN, 89 % of the proof load."
    assert not any("overdone" in caution for caution in card.answer.cautions)


def test_a_hole_that_a_usual_bolt_strips_is_the_headline_though_the_bolt_would_break_too() -> None:
    card = asked(into="aluminium", engaged="12", torque="45")
    assert card.ends == "may break"
    assert lead(card).startswith("No: the tapped hole strips at 20 kN, and 45 N·m pulls 27.5 kN even with a rough bolt")


def test_a_hole_that_holds_more_than_the_bolt_bears_leaves_the_headline_to_the_bolt() -> None:
    card = asked(into="aluminium", engaged="16", torque="25")
    assert card.hole is not None
    assert card.hole.weakest == "the tapped hole strips"
    assert (card.strips, card.ends) == (None, "over what it bears when slippery")
    assert lead(card).endswith("but a slippery bolt is pulled to 117 %.")


@pytest.mark.parametrize(
    ("engaged", "gives"), [("3 mm", "the tapped hole strips at 3.63 kN"), ("0.5", "no thread carries")]
)
def test_a_hole_that_holds_next_to_nothing_is_a_no_and_gets_no_torque(engaged: str, gives: str) -> None:
    card = asked(into="aluminium", engaged=engaged)
    assert card.is_no
    assert lead(card).startswith(f"No: {gives}")


def test_without_an_engaged_length_the_page_says_how_much_is_needed() -> None:
    card = asked(into="aluminium")
    assert "  least engagement  17.1 mm (0.67 in), 2.1 d: then the bolt breaks first\n" in answer_page(card)
    assert card.hole is not None
    assert card.hole.weakest is None


def test_enough_thread_lets_the_bolt_break_first_and_no_caution_is_made_of_it() -> None:
    card = asked(into="steel", engaged="10 mm")
    assert card.hole is not None
    assert card.hole.weakest == "the bolt breaks"
    assert len(card.answer.cautions) == 1


def test_a_grip_shows_the_turn_that_does_the_same() -> None:
    card = asked(grip="20 mm")
    assert card.turn is not None
    assert card.turn.turn_deg.low < card.turn.turn_deg.usual < card.turn.turn_deg.high
    back = asked(grip="20 mm", turn=f"{card.turn.turn_deg.usual:.6f}")
    assert back.preload_n.usual == pytest.approx(card.preload_n.usual, rel=1e-5)


def test_a_turn_past_yield_is_a_no() -> None:
    card = asked(grip="20 mm", turn="90", torque="10 N·m")
    assert card.is_no
    assert lead(card).startswith("No: a turn of 90° after a snug 10 N·m may break the bolt: it would usually pull")


def test_a_small_turn_from_snug_adds_to_what_the_snug_torque_pulls() -> None:
    snug, both, alone = (
        asked(torque="8 N·m").preload_n.usual,
        asked(grip="30", turn="8", torque="8 N·m"),
        asked(grip="30", turn="8").preload_n.usual,
    )
    assert both.preload_n.usual == pytest.approx(snug + alone)
    assert lead(both).startswith("A turn of 8° after a snug 8 N·m usually pulls")


def test_what_turns_gets_its_caution_on_every_page() -> None:
    said = "Flywheel, blade, wheel, big end and whatever else turns: nothing but the maker’s torque will do."
    for card in (asked(), asked(torque="40"), asked(grip="20", turn="5")):
        assert card.answer.cautions[-1] == said


def test_a_mark_of_another_family_and_a_head_without_a_table_are_said() -> None:
    notes = asked("1/4-20", "8.8").answer.notes
    assert notes == (
        "8.8 is a mark of another family than 1/4-20 UNC: look at mark and thread again.",
        "No table here has the bearing face of this head: its mean diameter is taken as 1.25 d.",
    )


def test_where_a_standard_has_no_proof_load_the_page_says_what_stands_for_it() -> None:
    assert "  0.2 % stretch, for a proof load  16.5 kN: 450 MPa\n" in answer_page(asked(grade="A2-70"))


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"grade": ""}, "Grade: nothing was typed; write for example 8.8."),
        ({"grade": "8.9"}, "Grade: There is no grade “8.9” here; the nearest are 8.8."),
        ({"grade": "8"},
         "Grade: 8 alone is a mark of inch bolts (SAE 8), and M8 is metric: is it 8.8? 8 is also the class of the nut "
         "that goes with 8.8 bolts (ISO 898-2). Write 8.8; a head with six lines is SAE 8."),
        ({"grade": "unmarked"},
         "Grade: An unmarked bolt is reckoned as 4.6 at most (common practice, no source): write 4.6."),
        ({"grade": "inox"},
         "Grade: Stainless steel comes in several strengths: write the mark on the head, for example A2-70 or A4-70."),
        ({"thread": "M9.5"}, "Thread: There is no thread “M9.5” in the tables; the nearest are M9, M10, M8."),
        ({"thread": "M42"}, "Grade: ISO 898-1:2013 has no 8.8 for M42; it covers M1.6 to M39."),
        ({"thread": "G1/4"}, "Grade: G1/4 is a pipe thread: no bolt has it, and no table its strength."),
        ({"surface": "wet"},
         "Surface: there is no “wet” here; choose one of dry, oiled, plated, thread lock, paste."),
        ({"grade": "A4-80", "surface": "plated"},
         "Surface: There is no surface “plated” here for stainless bolts; choose one of dry, oiled, thread lock, "
         "paste."),
        ({"torque": "-5"}, "Torque: “-5” must be more than 0; write for example 25 N·m."),
        ({"torque": "0"}, "Torque: “0” must be more than 0; write for example 25 N·m."),
        ({"torque": "nan"},
         "Torque: “nan” is not a number; write digits with one decimal mark, for example 68.02."),
        ({"torque": "999999"},
         "Torque: “999999” is more than 20000 N·m, the most that is worked out here; is the unit right?"),
        ({"torque": "25 kN"}, "Torque: kN is a force, N·m a torque: write it in N·m."),
        ({"preload": "18 N·m"}, "Preload: N·m is a torque, kN a force: write it in kN."),
        ({"torque": "25", "preload": "18"}, "Give one of torque, preload and share; here are torque and preload."),
        ({"preload": "18", "share": "75"}, "Give one of torque, preload and share; here are preload and share."),
        ({"share": "0.75"}, "Share of proof: “0.75” is under 1 %; write 75 for 75 %."),
        ({"share": "0,6"}, "Share of proof: “0,6” is under 1 %; write 60 for 60 %."),
        ({"share": "0.001"}, "Share of proof: “0.001” is under 1 %; write 75 for 75 %."),
        ({"share": "400"},
         "Share of proof: “400” is more than 300 %, the most that is worked out here; is the unit right?"),
        ({"torque": "21", "torque-unit": "in"}, "Torque: in is a length, N·m a torque: write it in N·m."),
        ({"torque": "21 N·m", "torque-unit": "in"}, "Torque: in is a length, N·m a torque: write it in N·m."),
        ({"torque": "21", "torque-unit": "mil"},
         "Torque: “mil” is a thousandth of an inch to some and a millimetre to others; write thou or mm."),
        ({"share": "0"}, "Share of proof: “0” must be more than 0; write for example 75."),
        ({"into": "wood"}, "Hole in: there is no “wood” here; choose one of steel, cast iron, aluminium."),
        ({"into": "steel", "engaged": "0"}, "Thread engaged: “0” must be more than 0; write for example 12 mm."),
        ({"engaged": "12"},
         "Hole in: with an engaged length it must be known; choose one of steel, cast iron, aluminium."),
        ({"turn": "90"}, "Grip: with a turn it must be known; write for example 20 mm."),
        ({"turn": "-90", "grip": "20"}, "Turn: “-90” must be more than 0; write for example 90."),
        ({"turn": "90", "grip": "20", "share": "50"},
         "Turn: beside it goes the snug torque or nothing, not a preload or a share."),
        ({"head": "set screw"},
         "Head: A set screw has no head that bears on anything; no torque is worked out for it."),
        ({"head": "hexx"}, "Head: There is no head “hexx” here; the nearest are hex, hex nut."),
    ],
)  # fmt: skip
def test_what_cannot_be_worked_out_is_refused_in_a_sentence(said: dict[str, str], sentence: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        asked(**{"thread": "M8", "grade": "8.8", **said})
    assert str(refused.value) == sentence


def test_every_grade_on_every_surface_gets_a_torque_that_is_no_no() -> None:
    for grade in grades().values():
        thread = "M8" if grade.is_metric else "3/8-16"
        for surface in surfaces(grade.material):
            card = asked(thread, grade.name, surface=surface)
            assert not card.is_no, (grade.name, surface)
            assert answer_page(card).count("No: ") == 0


def test_programs_get_the_bands_and_null_where_nothing_was_asked() -> None:
    plain, whole = asked().as_json(), asked(into="steel", engaged="12", grip="20").as_json()
    assert set(plain["torque_nm"]) == set(plain["preload_n"]) == {"low", "usual", "high"}
    assert plain["hole"] is plain["turn"] is plain["slip"] is None
    assert plain["proof_n"] == pytest.approx(21_200, rel=0.003)
    assert whole["hole"]["holds"] is True
    assert whole["turn"]["grip_mm"] == 20
