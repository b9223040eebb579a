"""The sums on the command line: how their help says what to type, and what is read before they answer."""

import json
import subprocess
import sys

import pytest

from fingertight.cards.sums.every import every_sum
from tests.cli.conftest import Typing

HEAVY = {"django", "pydantic", "typst", "tree_sitter", "numpy", "scipy", "tomlkit", "segno", "difflib"}
TORQUE = ["torque", "M8", "--grade", "8.8"]


@pytest.mark.parametrize("command", [TORQUE, ["wrench", "30", "--arm", "300", "--extension", "75"]])
def test_a_torque_is_answered_before_anything_heavy_is_read(command: list[str]) -> None:
    seen = (
        f"import sys; from fingertight.cli.frame import answer; answer({command}); print(*sys.modules, file=sys.stderr)"
    )
    run = subprocess.run([sys.executable, "-c", seen], capture_output=True, text=True, check=True)
    assert "N·m" in run.stdout
    assert not {name.partition(".")[0] for name in run.stderr.split()} & HEAVY


def test_the_help_shows_units_as_they_are_typed_and_quotes_where_a_shell_wants_them(fingertight: Typing) -> None:
    said = fingertight("torque", "--help").out
    assert '--torque "25 N·m"' in said
    assert '--preload "18 kN"' in said
    assert "N·M" not in said
    assert '--arm "300 mm"' in fingertight("wrench", "--help").out


@pytest.mark.parametrize("name", [one.name for one in every_sum()])
def test_the_help_shows_behind_each_option_what_a_person_might_type(fingertight: Typing, name: str) -> None:
    asked = next(one for one in every_sum() if one.name == name)
    said = fingertight(name, "--help").out
    for field in asked.fields:
        typed = "FILE" if field.kind == "lines" else field.example or field.usual or "".join(field.choices[:1])
        if not field.first and field.kind != "tick":
            assert f"--{field.name} {f'{chr(34)}{typed}{chr(34)}' if ' ' in typed else typed}" in said


@pytest.mark.parametrize("layout", ["-40,0;40,0;0,40", "-40 0; 40 0; 0 40", "-,5 0;40 0;0 40", "-.5,0;40,0;0,40"])
def test_a_layout_may_begin_with_a_minus(fingertight: Typing, layout: str) -> None:
    screen = fingertight("pattern", layout)
    assert (screen.status, screen.err) == (0, "")
    assert screen.out.startswith("3 bolts:")


def test_a_size_below_0_is_read_and_refused_in_its_own_sentence(fingertight: Typing) -> None:
    said = "fingertight: Torque wanted: “-3,5” must be more than 0; write for example 30 N·m.\n"
    assert fingertight("wrench", "-3,5") == (2, "", said)
    arm = fingertight("wrench", "30", "--arm", "-3,5")
    assert arm.err.startswith("fingertight: Arm of the wrench: “-3,5” must be more than 0")


def test_an_option_that_is_none_is_still_named(fingertight: Typing) -> None:
    screen = fingertight("wrench", "30", "--scal", "kgf·m")
    assert screen.status == 2
    assert "“--scal” is not understood here. Did you mean “--scale”?" in screen.err


def test_a_bare_number_on_a_metric_head_is_a_question_and_no_answer(fingertight: Typing) -> None:
    screen = fingertight("torque", "M8", "--grade", "8")
    assert (screen.status, screen.out) == (2, "")
    assert screen.err.startswith(
        "fingertight: Grade: 8 alone is a mark of inch bolts (SAE 8), and M8 is metric: is it 8.8?"
    )


def test_programs_get_what_gives_first_and_what_was_taken(fingertight: Typing) -> None:
    asked = [*TORQUE, "--into", "aluminium", "--engaged", "8", "--torque", "25", "--json"]
    screen = fingertight(*asked)
    card = json.loads(screen.out)
    assert screen.status == 1
    assert (card["strips"], card["hole"]["holds"]) == ("the tapped hole strips", False)
    assert (card["surface_given"], card["nut_class"], card["head_bears"]) == (False, None, 1)
    assert (card["may_seize"], card["may_come_loose"], card["odd_mark"]) == (False, False, False)
