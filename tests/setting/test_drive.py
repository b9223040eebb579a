"""Centrifugal clutch, ratio and chain: what a person reads, and what must hold whatever the figures."""

import math
from typing import cast

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fingertight.cards.sums.setting.drive.chain import ChainCard
from fingertight.cards.sums.setting.drive.clutch import ClutchCard
from fingertight.cards.sums.setting.drive.ratio import RatioCard, stages_said
from fingertight.cli.answers import answer_page
from fingertight.setting.drive.chain import centre_mm, chain_named, even_links, pitch_circle_mm, pitches
from fingertight.setting.drive.clutch import Clutch, ring_spring_n
from fingertight.setting.drive.gears import Stage, Train, meet_again
from tests.setting.asking import asked, page, refused

SHOES = {"shoes": "4", "mass": "60 g", "radius": "30", "drum": "80", "spring": "40 N", "rate": "8", "travel": "1"}


def test_a_clutch_engages_where_its_shoes_fling_as_much_as_their_springs_pull() -> None:
    card = cast(ClutchCard, asked("clutch", **SHOES, idle="1400", torque="12", speed="3000", wear="0.5"))
    # √(48 / (0.060 · 0.031)) = 160.6 rad/s = 1534 1/min; at rest √(40 / (0.060 · 0.030)) = 1424 1/min.
    assert card.engages_per_min == pytest.approx(1534, abs=0.5)
    assert card.moves_per_min == pytest.approx(1423.5, abs=0.5)
    # 3000 1/min = 314.2 rad/s: 4 · 0.3 · (0.060 · 0.031 · 314.2² − 48) · 0.040.
    assert card.asked is not None
    assert card.asked.torque_nm == pytest.approx(4 * 0.3 * (0.060 * 0.031 * 314.159**2 - 48) * 0.040, abs=0.01)
    said = page("clutch", **SHOES, idle="1400", torque="12", speed="3000", wear="0.5")
    assert "It engages at 1534 1/min; the shoes leave their stops at 1424 1/min." in said
    assert "At idle, 1400 1/min, it does not drive." in said
    assert "At 3000 1/min it carries 6.5 N·m before it slips, 2.04 kW." in said
    assert "It carries 12 N·m from 3822 1/min on; between engaging and that it slips and grows hot." in said
    assert "lining worn by 0.5 mm 1584 1/min" in said
    assert "springs a tenth weaker 1455 1/min" in said
    assert "A shoe on a pivot grips more when it leads and less when it trails: that is not reckoned here." in said


def test_a_clutch_that_drives_at_idle_is_answered_no() -> None:
    card = asked("clutch", **SHOES, idle="1600")
    assert card.is_no
    assert "At idle, 1600 1/min, it drives: idle slower, or renew the springs." in " ".join(answer_page(card).split())


def test_soft_springs_let_the_shoes_go_all_the_way_at_once() -> None:
    said = page("clutch", shoes="2", mass="100", radius="40", drum="110", spring="60 N", travel="4")
    assert "all at once, and lets go at" in said


def test_in_oil_the_same_clutch_carries_a_third_and_engages_alike() -> None:
    dry, wet = asked("clutch", **SHOES, speed="3000"), asked("clutch", **SHOES, speed="3000", runs="in oil")
    assert wet.engages_per_min == dry.engages_per_min
    assert wet.asked.torque_nm == pytest.approx(dry.asked.torque_nm / 3)


def test_one_spring_round_all_shoes_pulls_each_by_its_two_ends() -> None:
    # Three shoes: two pulls 120° apart by their directions, 2 · T · sin 60°.
    assert ring_spring_n(100, 3) == pytest.approx(100 * math.sqrt(3))
    said = {name: text for name, text in SHOES.items() if name != "spring"}
    assert asked("clutch", **said, ring_spring="25").spring_n == pytest.approx(50 * math.sin(math.pi / 4))


CLUTCHES = st.builds(
    Clutch,
    shoes=st.integers(1, 6),
    mass_g=st.floats(20, 5000),
    radius_mm=st.floats(10, 200),
    drum_mm=st.floats(440, 900),
    friction=st.floats(0.05, 0.6),
    spring_n=st.floats(0, 3000),
    rate_n_mm=st.floats(0, 80),
    travel_mm=st.floats(0, 10),
)


@given(CLUTCHES, st.floats(0.5, 400))
def test_a_clutch_carries_what_was_asked_from_the_speed_it_names(clutch: Clutch, torque: float) -> None:
    speed = clutch.speed_for(torque)
    assert clutch.torque_nm(speed) >= torque * (1 - 1e-6)
    assert clutch.torque_nm(clutch.touches_per_min * 0.999) == pytest.approx(0.0, abs=1e-6)
    assert clutch.with_springs(0.9).engages_per_min <= clutch.engages_per_min + 1e-9


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Shoes: nothing was typed; write how many there are, for example 4."),
        ({"shoes": "4"}, "Spring: write how strong each shoe is pulled in at rest"),
        ({**SHOES, "ring_spring": "5"}, "but not both."),
        ({**SHOES, "shoes": "0"}, "Shoes: “0” must be more than 0"),
        ({**SHOES, "radius": "50"}, "Radius: 50 mm and the travel reach the drum, 40 mm from the middle."),
        ({**SHOES, "mass": "60 N"}, "Mass of a shoe: N is a force, g a mass: write it in g."),
        ({**SHOES, "wear": "20"}, "Lining worn by: with 20 mm gone the shoe’s middle would reach the drum"),
        ({**SHOES, "runs": "wet"}, "Runs: there is no “wet” here; choose one of dry, in oil."),
        ({**SHOES, "spring": "-4"}, "Spring: “-4” must be 0 N or more"),
        ({**SHOES, "rate": "soft"}, "Rate of the spring: “soft” is not a number"),
    ],
)
def test_a_clutch_that_cannot_be_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("clutch", **said)


def test_a_train_of_chain_and_gears_turns_the_last_shaft_slower_and_backwards() -> None:
    said = page("ratio", stages="18:36 chain, 15:60", speed="3600", torque="8 N·m")
    assert (
        "The first shaft turns 8 times for one turn of the last; the last turns the other way than the first." in said
    )
    assert "3600 1/min become 450 1/min." in said
    # Chain 0.94 to 0.98, gears 0.95 to 0.99: 64 · 0.893 and 64 · 0.9702.
    assert "8 N·m become 57.2 N·m to 62.1 N·m: 89.3 to 97 % of the torque arrive (64 N·m without loss)." in said
    assert "15:60 gears 4 450 1/min, backwards the same teeth meet every 4 turns of the driver" in said
    assert "18:36 chain 2 1800 1/min by its links: see chain" in said
    assert "15 to 15.2 %" not in said


def test_idlers_turn_the_way_round_but_not_the_ratio() -> None:
    said = page("ratio", stages="20:60:10", speed="60")
    assert "The last shaft turns 2 times for one turn of the first; the last turns the same way as the first." in said
    assert "60 1/min become 120 1/min." in said
    assert not asked("ratio", stages="15:60 ring gear").reverses


def test_the_efficiency_that_is_typed_is_taken() -> None:
    card = cast(RatioCard, asked("ratio", stages="20:40", torque="10", efficiency="85 to 95"))
    assert (card.least_nm, card.most_nm) == (pytest.approx(17), pytest.approx(19))
    one = cast(RatioCard, asked("ratio", stages="20:40", torque="10", efficiency="90 %"))
    assert (one.least_nm, one.most_nm) == (pytest.approx(18), pytest.approx(18))


@given(st.lists(st.tuples(st.integers(5, 90), st.integers(5, 90)), min_size=1, max_size=5))
def test_a_train_turned_round_has_the_ratio_turned_round(teeth: list[tuple[int, int]]) -> None:
    train = Train(tuple(Stage(pair) for pair in teeth))
    back = Train(tuple(Stage(pair[::-1]) for pair in reversed(teeth)))
    assert train.ratio * back.ratio == pytest.approx(1.0)
    assert train.reverses is back.reverses
    assert abs(back.speeds(train.speeds(1000)[-1])[-1]) == pytest.approx(1000)


@given(st.integers(5, 120), st.integers(5, 120))
def test_the_same_teeth_meet_again_when_both_have_gone_whole_turns(driver: int, driven: int) -> None:
    met = next(turns for turns in range(1, driven + 1) if turns * driver % driven == 0)
    assert meet_again(driver, driven) == met


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Stages: nothing was typed; write for example 18:36 chain, 15:60."),
        ({"stages": "fast"}, "Stages: “fast” is no stage; write the driver’s teeth first"),
        ({"stages": "18"}, "Stages: “18” is no stage"),
        ({"stages": "18:0"}, "Stages: “18:0”: a wheel has 1 to 1000 teeth"),
        ({"stages": "18:36 rope"}, "“rope” links no wheels here; write gears, ring gear, chain or belt."),
        ({"stages": "18:20:36 chain"}, "a chain links two wheels, and others it runs over change nothing"),
        ({"stages": "60:15 ring"}, "a ring gear has more teeth than the pinion inside it"),
        ({"stages": ",".join(["18:36"] * 9)}, "Stages: 9 stages are more than are worked out here; write up to 8."),
        ({"stages": "18:36", "efficiency": "120"}, "Efficiency: “120” is not 0 to 100 per cent"),
        ({"stages": "18:36", "speed": "-3"}, "Speed: “-3” must be more than 0"),
    ],
)
def test_what_is_no_train_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("ratio", **said)


def test_stages_are_understood_however_they_are_written() -> None:
    for text in ("18:36 chain, 15:60", "18/36 chain 15/60", "18 : 36 Chain; 15:60 gears"):
        assert [(stage.teeth, stage.kind) for stage in stages_said(text)] == [((18, 36), "chain"), ((15, 60), "gears")]


def test_a_chain_is_known_by_its_name_and_laid_round_two_wheels() -> None:
    card = cast(ChainCard, asked("chain", chain="08B", small="18", large="36", centre="120"))
    # 2 · 120 / 12.7 + 27 + 18² / (4 π² · 9.449) = 18.898 + 27 + 0.869.
    # 46 links: 12.7 / 8 · (38 + √(38² − 8 · 18² / π²)).
    assert card.pitches == pytest.approx(46.767, abs=0.001)
    said = page("chain", chain="08B", small="18", large="36", centre="120")
    assert "08B: 12.7 mm from pin to pin, rollers 8.51 mm, 7.75 mm between the inner plates." in said
    assert "it must be 46.77 pitches long: 48 links are just taut at 128.19 mm, 46 at 114.89 mm." in said
    assert "pitch circle of 18 teeth 73.14 mm" in said
    assert "links and teeth have a factor of 12 in common: the same ones meet" in said
    assert "An odd number wants a cranked link, the weakest of all" in page(
        "chain", chain="420", small="15", large="37", links="101"
    )


def test_a_bare_pitch_names_the_chains_it_may_be() -> None:
    said = page("chain", chain="1/2 in")
    assert "Chains of this pitch: 081, 083, 084, 08B, 085, 08A, 420, 428; roller and width tell them apart." in said
    assert chain_named("04B") == chain_named("04")


@pytest.mark.parametrize(
    ("more", "sentence", "no"),
    [
        ({"measured": "128.5", "over": "10"}, "Good: 128.5 mm over 10 pitches is 1.18 ± 0.09 % longer than new", False),
        ({"measured": "132", "over": "10"}, "Worn: 132 mm over 10 pitches is 3.94 ± 0.09 % longer than new", True),
        ({"measured": "130.8", "over": "10"}, "Too close to call: 130.8 mm over 10 pitches", False),
        ({"measured": "129.5", "over": "10", "fixed": "yes"}, "worn out at 1.5 %. Renew the wheels with it", True),
        ({"measured": "129.5", "over": "10", "limit": "2"}, "Too close to call", False),
        ({"measured": "126", "over": "10"}, "It cannot be shorter than new: count the pitches again", False),
    ],
)
def test_a_chain_is_worn_when_it_is_too_long(more: dict[str, str], sentence: str, no: bool) -> None:
    card = asked("chain", chain="08B", **more)
    assert sentence in " ".join(answer_page(card).split())
    assert card.is_no is no


@given(st.integers(9, 60), st.integers(9, 90), st.floats(1.2, 30))
def test_the_distance_of_a_chain_gives_its_length_back(one: int, other: int, apart: float) -> None:
    touching = (pitch_circle_mm(one, 12.7) + pitch_circle_mm(other, 12.7)) / 2
    links = even_links(pitches(touching * apart, 12.7, (one, other)))
    assume(links < 2000)
    taut = centre_mm(links, 12.7, (one, other))
    # The published pair of formulas is its own inverse but for what their last term leaves out.
    assert pitches(taut, 12.7, (one, other)) == pytest.approx(links, abs=0.02)
    assert taut >= touching * apart - 0.2


@given(st.integers(9, 60), st.integers(9, 90), st.floats(1.6, 30))
def test_the_published_length_is_that_of_two_circles_and_their_tangents(one: int, other: int, apart: float) -> None:
    small, large = (pitch_circle_mm(teeth, 1) / 2 for teeth in sorted((one, other)))
    centre = (small + large) * apart
    lean = math.asin((large - small) / centre)
    # Chords of the teeth that are wrapped, not arcs: teeth · share of the turn.
    wrapped = max(one, other) * (math.pi + 2 * lean) / math.tau + min(one, other) * (math.pi - 2 * lean) / math.tau
    assert pitches(centre, 1, (one, other)) == pytest.approx(2 * centre * math.cos(lean) + wrapped, abs=0.25)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({}, "Chain: nothing was typed; write its name, for example 08B or 420, or its pitch, 12.7 mm."),
        ({"chain": "9Z"}, "Chain: there is no “9Z” in the table (04, 04B, 05B, 06B, 081"),
        ({"chain": "0"}, "Chain: “0” is no name in the table and no pitch of 4 to 80 mm"),
        ({"chain": "08B", "small": "18"}, "Large wheel: write the teeth of both wheels."),
        ({"chain": "08B", "centre": "120"}, "Small wheel: for a length the teeth of both wheels must be known"),
        (
            {"chain": "08B", "small": "18", "large": "36", "centre": "50"},
            "Centre distance: at 50 mm the wheels would touch",
        ),
        (
            {"chain": "08B", "small": "18", "large": "36", "links": "20"},
            "Links: 20 are too few to go round 18 and 36 teeth",
        ),
        ({"chain": "08B", "measured": "130"}, "Over pitches: write both, for example 130.8 mm over 10 pitches."),
        ({"chain": "08B", "measured": "130", "over": "5"}, "Measured: 5 pitches of this chain are 63.5 mm when new"),
        ({"chain": "08B", "small": "3", "large": "10"}, "Small wheel: “3” is less than 5"),
        (
            {"chain": "08B", "small": "18", "large": "36", "centre": "90 kg"},
            "Centre distance: kg is a mass, mm a length",
        ),
    ],
)
def test_a_chain_that_cannot_be_is_refused_with_its_mend(said: dict[str, str], sentence: str) -> None:
    assert sentence in refused("chain", **said)
