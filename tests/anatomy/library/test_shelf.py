"""The common assemblies: machine files without mistakes, that warn where something can hurt, and pretend nothing."""

import pytest

from fingertight.anatomy.library.shelf import assembly, names, text_of
from fingertight.cards.check import check_card
from fingertight.order.knots import knots
from fingertight.order.layers import layers
from fingertight.order.rules import Rules

HURTS = {
    "recoil-starter": ("spring leaps out", "goggles"),
    "two-bolt-exhaust": ("Hot", "Studs shear"),
    "overhead-valve-top": ("under load", "Lead off"),
    "wet-clutch": ("under load", "Oil drained"),
    "flywheel-with-key": ("Puller only", "plug lead off"),
    "float-carburettor": ("Fuel burns", "no flame"),
    "drum-brake": ("dust harms lungs", "Stretched springs fly"),
    "hub-bearing-with-shims": ("On stands", "goggles"),
}


def test_there_is_what_a_teacher_looks_for() -> None:
    assert set(names()) == set(HURTS)
    with pytest.raises(KeyError):
        text_of("../model")


@pytest.mark.parametrize("name", names())
def test_each_is_a_machine_without_mistakes_that_comes_apart_wholly(name: str) -> None:
    assert check_card([(name, text_of(name))]).mistakes == ()
    rules = Rules.of(assembly(name))
    assert knots(rules) == []
    assert len(layers(rules)) >= 2
    assert not [part.id for part in assembly(name).parts if part.stays]


@pytest.mark.parametrize("name", names())
def test_each_warns_where_something_can_hurt(name: str) -> None:
    cautions = " ".join(caution for part in assembly(name).parts for caution in part.cautions)
    assert not [word for word in HURTS[name] if word not in cautions]


@pytest.mark.parametrize("name", names())
def test_nothing_pretends_to_be_a_maker_s_figure(name: str) -> None:
    text, anatomy = text_of(name), assembly(name)
    assert "Invented for the library: no maker builds this one" in text
    assert "nvented" in anatomy.machine.source
    for part in anatomy.parts:
        assert all(one.torque is None or "invented" in one.torque_source for one in part.held_by)
    assert all("invented" in check.of for check in anatomy.checks if check.new or check.max or check.min)
    assert not [setting.id for setting in anatomy.settings if setting.range]


@pytest.mark.parametrize("name", names())
def test_every_part_says_how_it_is_kept_or_goes_back_and_how_long_it_takes(name: str) -> None:
    assert not [part.id for part in assembly(name).parts if not part.minutes or not (part.care or part.fit)]
