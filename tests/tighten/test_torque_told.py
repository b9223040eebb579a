"""Which bolt, in which state, under which head: what the torque sum takes where it is told less than all, and says."""

from typing import cast

import pytest

from fingertight.cards.sums.tighten.torque import SUM
from fingertight.cards.sums.tighten.torque.card import TorqueCard
from fingertight.cli.answers import answer_page
from fingertight.tighten.torque.friction import surfaces


def asked(thread: str = "M8", grade: str = "8.8", **said: str) -> TorqueCard:
    return cast(TorqueCard, SUM.ask({"thread": thread, "grade": grade, **said}))


SEIZES = "Stainless steel seizes: use paste and turn slowly. With paste it takes less torque: ask again for that."


def test_dry_stainless_steel_gets_less_than_75_percent() -> None:
    card = asked(grade="A2-70", surface="dry")
    assert card.share_of_proof.usual < 0.65
    assert card.answer.lead[2].endswith("a slippery bolt would not bear that as it is turned.")


@pytest.mark.parametrize("surface", ["dry", "oiled", "thread lock"])
def test_stainless_steel_without_paste_always_gets_the_caution_that_it_seizes(surface: str) -> None:
    assert SEIZES in asked(grade="A4-80", surface=surface).answer.cautions
    assert SEIZES not in asked(grade="A4-80", surface="paste").answer.cautions
    assert SEIZES not in asked(grade="8.8", surface=surface).answer.cautions


def test_stainless_steel_of_which_no_surface_is_said_gets_the_least_torque_of_all_and_is_told_so() -> None:
    left_out = asked(grade="A2-70")
    said = [asked(grade="A2-70", surface=surface).torque_nm.usual for surface in surfaces("stainless")]
    assert left_out.torque_nm.usual == min(said)
    assert left_out.answer.lead[1] == (
        "No surface was given: it is reckoned with paste, with which stainless steel takes the least torque."
    )
    assert len(asked(grade="A2-70", surface="paste").answer.lead) == len(left_out.answer.lead) - 1
    assert asked(grade="8.8").surface == asked("1/4-20", "brass").surface == "oiled"


def test_a_countersunk_head_is_reckoned_as_a_cone_and_says_so() -> None:
    # The lever of the head's friction: (16 + 9) / 2 / sin 45°; 2 d wide and of 90° (bd-warehouse, ISO 10642).
    card = asked(grade="10.9", head="countersunk")
    assert card.friction.bearing_mm == pytest.approx(12.5 * 2**0.5)
    notes = card.answer.notes
    assert "wedges, and its friction acts as if at 17.7 mm." in notes[-1]
    assert not any("1.25 d" in note for note in notes)
    assert card.answer.cautions[0].startswith("The small socket of a countersunk head may round out")


@pytest.mark.parametrize("head", ["countersunk", "button"])
def test_a_head_with_a_socket_in_little_metal_bears_four_fifths_of_its_class(head: str) -> None:
    # ISO 10642 and ISO 7380-1: 80 %; M8, 10.9 breaks at 38,100 N (ISO 898-1, table 4), 80 % of that.
    card, page = asked(grade="10.9", head=head), answer_page(asked(grade="10.9", head=head))
    assert card.strength.breaking_n == pytest.approx(0.8 * 38_100, rel=0.002)
    assert card.preload_n.high <= 0.8 * 30_400 * 1.001
    assert "  breaks at           30.5 kN or more: 80 % of 1040 MPa\n" in page
    assert f"A {card.head} head bears 80 % of what its thread bears, and it is reckoned so." in page
    assert card.formulas.table_nm is None


def test_a_nut_of_class_8_is_reckoned_with_the_bolt_that_goes_with_it() -> None:
    card = asked(grade="8", head="nut")
    assert (card.grade, card.nut_class) == ("8.8", "8")
    assert card.torque_nm == asked(head="nut").torque_nm
    assert card.answer.notes == (
        "8 is the class of the nut: it is reckoned with the strongest bolt that goes with it, 8.8.",
    )
    assert asked().nut_class is None


def test_a_thread_is_read_as_it_is_typed_on_a_phone() -> None:
    assert asked("m8").thread == "M8"
    assert asked("1/4 unc", "SAE 5").thread == "1/4-20 UNC"


def test_a_share_may_be_written_with_its_sign() -> None:
    assert asked(share="60%").share_of_proof.usual == pytest.approx(0.6)
    assert asked(share="60 %").torque_nm == asked(share="60").torque_nm


@pytest.mark.parametrize(("share", "is_little"), [("33", True), ("34", False)])
def test_a_preload_under_a_third_of_proof_may_come_loose(share: str, is_little: bool) -> None:
    said = "Under a third of the proof load a bolt may come loose (common practice, no source)."
    assert (said in asked(share=share).answer.notes) is is_little
