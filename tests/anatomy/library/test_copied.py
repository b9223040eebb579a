"""An assembly is copied into a machine: no clash, no mistake, its own moves as they were, the file's comments kept."""

import tomllib
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.anatomy.change.words import difference
from fingertight.anatomy.library.copied import CannotCopy, Copied, begun, copied
from fingertight.anatomy.library.shelf import assembly, names, text_of
from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.order.knots import knots
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules
from tests.anatomy.change.test_by_forms import TEXTS, anatomy_of, comments

ASSEMBLIES = st.sampled_from(names())
FRAME = """\
format = 1

[machine] # as it stands in the yard
name = "Cart" # ours
rests = ["on its wheels", "on its side"]

[[part]]
id = "frame"
stays = true # all else is fixed to it

[[part]]
id = "bed" # four bolts
behind = ["frame-guard"]

[[part]]
id = "frame-guard"

# the end
"""
TILTED = """\
format = 1
[machine]
name = "Axle"
rests = ["flat", "upside down"]
[[instrument]]
id = "rule"
resolution = 0.5
[[part]]
id = "axle"
rests = "upside down"
[[part]]
id = "bush"
rests = "any"
behind = ["axle"]
[[check]]
id = "length"
part = "axle"
instrument = "rule"
max = 200
[[sign]]
id = "seen"
stage = "strip"
before = ["axle"]
"""


def off_from(anatomy: Anatomy) -> Moves:
    """The machine, nothing off yet."""
    return Moves(Rules.of(anatomy))


@settings(deadline=None, max_examples=10)
@given(st.data())
def test_the_copied_parts_move_among_each_other_as_those_of_the_assembly(data: st.DataObject) -> None:
    """All of the machine that comes off is off first; then any strip of the assembly, lawful or not, and back."""
    base = data.draw(st.sampled_from([FRAME, TEXTS["bench-vice"], TEXTS["hand-winch"]]))
    name = data.draw(ASSEMBLIES)
    machine = anatomy_of(base)
    loose = [part.id for part in machine.parts if not part.stays]
    behind = data.draw(st.lists(st.sampled_from(loose), unique=True, max_size=3))
    made = copied(base, text_of(name), behind)
    ids = made.ids["part"]
    whole, alone = off_from(anatomy_of(made.text)), off_from(assembly(name))
    first = set(whole.may_come_off()) & set(ids.values())
    assert first == (set() if behind else {ids[part] for part in alone.may_come_off()})
    strip = [machine.parts[nth].id for nth in Rules.of(machine).sweep()]
    for part in strip:
        whole.took(part)
    for _ in range(data.draw(st.integers(0, 2 * len(ids)))):
        part = data.draw(st.sampled_from(sorted(ids)))
        if part in alone.off():
            whole.put(ids[part])
            alone.put(part)
        else:
            whole.took(ids[part])
            alone.took(part)
        assert {ids[one] for one in alone.may_come_off()} == set(whole.may_come_off()) & set(ids.values())
        assert {ids[one] for one in alone.may_go_on()} == set(whole.may_go_on()) & set(ids.values())
    assert knots(Rules.of(anatomy_of(made.text))) == []


@settings(deadline=None, max_examples=8)
@given(st.sampled_from(sorted(TEXTS)), st.lists(ASSEMBLIES, min_size=1, max_size=3))
def test_copied_again_and_again_nothing_clashes_and_the_rest_stays(name: str, several: list[str]) -> None:
    text = TEXTS[name]
    for one in (*several, *several):
        before = tomllib.loads(text)
        text = copied(text, text_of(one)).text
        after = tomllib.loads(text)
        assert after["part"][: len(before["part"])] == before["part"]
        assert {key: before[key] for key in before if isinstance(before[key], dict)} == {
            key: after[key] for key in after if isinstance(after[key], dict)
        }
    assert comments(text) == comments(TEXTS[name])
    titles = [part.title for part in anatomy_of(text).parts]
    assert len(titles) == len(set(titles))


def _again(text: str, name: str) -> tuple[str, Copied]:
    made = copied(text, text_of(name))
    return made.text, made


def test_a_second_exhaust_is_numbered_with_all_that_belongs_to_it() -> None:
    text, first = _again(FRAME, "two-bolt-exhaust")
    text, second = _again(text, "two-bolt-exhaust")
    assert (first.number, second.number) == (1, 2)
    parts = anatomy_of(text).part_by_id
    assert (parts["exhaust-2"].title, parts["exhaust-2"].behind) == ("Exhaust 2", ("exhaust-guard-2",))
    assert (
        parts["exhaust-2"].held_by
        == parts["exhaust"].held_by
        == assembly("two-bolt-exhaust").part_by_id["exhaust"].held_by
    )
    assert "[[part.held_by]]" in text
    assert difference(anatomy_of(FRAME), anatomy_of(text)) == (
        "Exhaust guard: a new part.",
        "Exhaust: a new part.",
        "Exhaust guard 2: a new part.",
        "Exhaust 2: a new part.",
    )


def test_a_name_for_people_that_is_taken_is_numbered_too() -> None:
    taken = FRAME.replace('id = "bed"', 'id = "bed"\nname = "EXHAUST"')
    assert copied(taken, text_of("two-bolt-exhaust")).number == 2


def test_what_must_be_off_first_stands_with_what_comes_off_first() -> None:
    made = anatomy_of(copied(FRAME, text_of("two-bolt-exhaust"), ["bed", "frame-guard", "bed"]).text)
    assert made.part_by_id["exhaust-guard"].behind == ("bed", "frame-guard")
    assert made.part_by_id["exhaust"].behind == ("exhaust-guard",)


def test_instruments_alike_are_shared_and_others_are_not_taken_for_them() -> None:
    once = copied(FRAME, text_of("hub-bearing-with-shims")).text
    twice = anatomy_of(copied(once, text_of("hub-bearing-with-shims")).text)
    assert [one.id for one in twice.instruments] == ["dial-gauge"]
    assert [(check.id, check.part, check.instrument) for check in twice.checks] == [
        ("hub-float", "hub", "dial-gauge"),
        ("hub-float-2", "hub-2", "dial-gauge"),
    ]
    coarse = once.replace("resolution = 0.01", "resolution = 0.1")
    other = anatomy_of(copied(coarse, text_of("hub-bearing-with-shims")).text)
    assert [one.id for one in other.instruments] == ["dial-gauge", "dial-gauge-2"]
    assert other.check_by_id["hub-float-2"].instrument == "dial-gauge-2"


def test_ways_to_lie_that_the_machine_does_not_know_come_along() -> None:
    made = anatomy_of(copied(FRAME, TILTED).text)
    assert made.machine.rests == ("on its wheels", "on its side", "upside down")
    bare = copied(FRAME.replace('rests = ["on its wheels", "on its side"]\n', ""), TILTED)
    assert anatomy_of(bare.text).machine.rests == ("flat", "upside down")
    again = anatomy_of(copied(copied(FRAME, TILTED).text, TILTED).text)
    assert again.machine.rests == made.machine.rests
    assert again.sign_by_id["seen-2"].before == ("axle-2",)


@pytest.mark.parametrize(
    ("text", "source", "behind", "sentence"),
    [
        (FRAME, text_of("wet-clutch"), ["frame"], "Frame never comes off: nothing can wait for that."),
        (FRAME, text_of("wet-clutch"), ["lid"], "The machine has no part “lid”. Choose among those it has."),
        (FRAME, "format = 1", [], "The assembly has mistakes of its own. Line 1:"),
        (
            "format = 1\n[[part",
            text_of("wet-clutch"),
            [],
            "The machine’s file has mistakes of its own; mend them first.",
        ),
        (
            FRAME.replace('"frame-guard"]', '"no"]'),
            text_of("wet-clutch"),
            [],
            "The machine’s file has mistakes; mend them",
        ),
        ("part = 3\n", text_of("wet-clutch"), [], "The machine’s file has mistakes"),
    ],
)
def test_what_cannot_be_copied_is_said(text: str, source: str, behind: list[str], sentence: str) -> None:
    with pytest.raises(CannotCopy) as refused:
        copied(text, source, behind)
    assert sentence in str(refused.value)


@settings(deadline=None, max_examples=10)
@given(
    st.text(min_size=1, max_size=30).map(lambda name: " ".join(name.split())).filter(bool),
    st.lists(ASSEMBLIES, min_size=1, max_size=4),
)
def test_a_machine_is_begun_from_assemblies_only(name: str, several: list[str]) -> None:
    made = read(begun(name, [text_of(one) for one in several]))
    assert made.anatomy is not None
    assert made.anatomy.machine.name == name
    assert len(made.anatomy.parts) == sum(len(assembly(one).parts) for one in several)
    assert knots(Rules.of(made.anatomy)) == []


def test_a_machine_of_no_assembly_is_refused() -> None:
    with pytest.raises(CannotCopy, match=r"No assembly was chosen\. Tick one or more\."):
        begun("Cart", [])


def test_the_wholes_stand_together_in_the_file() -> None:
    made = copied(FRAME, text_of("recoil-starter"))
    order = [part.id for part in anatomy_of(made.text).parts]
    places = [order.index(new) for new in made.ids["part"].values()]
    assert all(after == before + 1 for before, after in pairwise(places))
