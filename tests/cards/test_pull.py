"""What is said of the pull a torque brings: when it is a fact beside others, and when it is a caution."""

import re

import pytest

from fingertight.anatomy import read
from fingertight.anatomy.model import FastenerSet
from fingertight.cards.tighten.pull import pull_of

LID = """
format = 1
[machine]
name = "Little pump"
[[part]]
id = "lid"
  [[part.held_by]]
  thread = "M8"
  torque_source = "a table of our own"
"""


def _set(**said: object) -> FastenerSet:
    lines = "".join(f"  {key} = {value!r}\n" for key, value in said.items())
    anatomy = read(LID + lines).anatomy
    assert anatomy is not None
    return anatomy.parts[0].held_by[0]


def test_a_usual_torque_is_a_fact_and_no_caution() -> None:
    pull = pull_of(_set(torque=20, grade="8.8", head="hex", surface="oiled"))
    assert (
        pull.says == "The full torque usually pulls 15.1 kN, 71 % of the proof load; 58 to 94 % as friction scatters."
    )
    assert pull.caution == ""


@pytest.mark.parametrize(("grade", "proof_n"), [("8.8", 21_200), ("10.9", 30_400), ("12.9", 35_500)])
def test_the_share_is_of_the_proof_load_of_the_standard(grade: str, proof_n: float) -> None:
    # ISO 898-1:2013, table 5, the proof loads of M8, which it prints to three digits.
    said = pull_of(_set(torque=20, grade=grade, head="hex", surface="oiled")).says
    pull, share = re.search(r"([0-9.]+) kN, ([0-9]+) %", said).groups()  # type: ignore[union-attr]
    assert float(pull) * 1000 / proof_n == pytest.approx(int(share) / 100, abs=0.006)


def test_a_surface_that_is_not_stated_is_taken_as_oiled_and_said_so() -> None:
    stated = pull_of(_set(torque=20, grade="8.8", head="hex", surface="oiled")).says
    assert pull_of(_set(torque=20, grade="8.8", head="hex")).says == stated[:-1] + ", taken as oiled."


@pytest.mark.parametrize(
    ("torque", "grade", "does"),
    [(34, "A2-70", "a bolt of this class may stretch for good"), (50, "8.8", "a bolt of this class may break")],
)
def test_more_than_the_bolt_bears_is_a_caution(torque: float, grade: str, does: str) -> None:
    caution = pull_of(_set(torque=torque, grade=grade, head="hex", surface="oiled")).caution
    assert caution.removesuffix(" Stainless steel seizes: turn it slowly.") == (
        f"{torque} N·m is too much here: {does}. Ask before you pull: the maker’s data come first, "
        "and this file may be wrong."
    )


def test_a_hole_that_strips_first_is_a_caution_where_it_is_deep_enough_it_is_none() -> None:
    steel = {"torque": 20, "grade": "8.8", "head": "hex", "surface": "oiled", "grip": 10, "into": "aluminium"}
    assert "20 N·m is too much here: the tapped hole strips." in pull_of(_set(**steel, length=18)).caution
    assert pull_of(_set(**steel, length=26)).caution == ""


@pytest.mark.parametrize("torque", [50, 1_000, 25_000, 1e9])
def test_no_torque_is_too_large_to_be_cautioned_against(torque: float) -> None:
    assert "a bolt of this class may break." in pull_of(_set(torque=torque, grade="8.8", head="hex")).caution


def test_a_hole_that_strips_comes_before_the_bolt_that_would_break() -> None:
    shallow = {"grade": "8.8", "head": "hex", "surface": "oiled", "grip": 10, "length": 18, "into": "aluminium"}
    for torque in (20, 25, 60):
        caution = pull_of(_set(torque=torque, **shallow)).caution
        assert caution.startswith(f"{torque} N·m is too much here: the tapped hole strips. Ask")


@pytest.mark.parametrize(
    ("nut", "bolt"), [("5", "5.8"), ("6", "6.8"), ("8", "8.8"), ("9", "9.8"), ("10", "10.9"), ("12", "12.9")]
)
def test_a_nut_is_taken_with_the_bolt_that_goes_with_its_class(nut: str, bolt: str) -> None:
    # ISO 898-2:2012, nuts and the bolts they go with at most, as reprinted on a public fastener page.
    of_nut = pull_of(_set(torque=12, grade=nut, head="hex nut", surface="oiled"))
    of_bolt = pull_of(_set(torque=12, grade=bolt, head="hex nut", surface="oiled"))
    assert of_nut.says.replace(f" of its {bolt} bolt", "") == of_bolt.says
    assert of_nut.says != of_bolt.says
    assert of_nut.caution == of_bolt.caution


def test_of_a_bolt_whose_mark_is_one_bare_number_nothing_is_guessed() -> None:
    assert pull_of(_set(torque=20, grade="8", head="hex")).says == ""
    assert "of the proof load;" in pull_of(_set(torque=20, grade="SAE 8", head="hex")).says


def test_stainless_steel_of_unknown_surface_is_taken_with_paste_which_pulls_the_most() -> None:
    bare, dry = (pull_of(_set(torque=15, grade="A2-70", head="hex", **more)) for more in ({}, {"surface": "dry"}))
    assert bare.says.endswith("as friction scatters, taken with paste.")
    assert float(bare.says.split()[5]) > 2 * float(dry.says.split()[5])
    assert (bare.caution, dry.caution) == ("", "Stainless steel seizes: turn it slowly.")


def test_a_countersunk_screw_is_pulled_less_by_the_same_torque() -> None:
    # Its cone rubs at 12.5 mm / sin 45° instead of 10.7 mm flat: ISO 10642, heads 2 d wide; ISO 4762.
    flat, cone = (pull_of(_set(torque=20, grade="8.8", head=head)).says for head in ("socket", "countersunk"))
    assert float(cone.split()[5]) < 0.8 * float(flat.split()[5])


@pytest.mark.parametrize("head", ["set screw", "wing nut"])
def test_nothing_is_said_of_what_bears_on_nothing_or_is_turned_by_fingers(head: str) -> None:
    assert pull_of(_set(torque=20, grade="8.8", head=head, spanner="fingers")).says == ""


@pytest.mark.parametrize("left_out", ["torque", "grade"])
def test_nothing_is_said_of_what_the_file_does_not_know(left_out: str) -> None:
    said: dict[str, object] = {"torque": 20, "grade": "8.8", "head": "hex"}
    del said[left_out]
    pull = pull_of(_set(**said))
    assert (pull.says, pull.caution) == ("", "")
