"""An anatomy that was written to a file and read again is the same anatomy."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fingertight.anatomy import Anatomy, read
from fingertight.anatomy.write import written
from fingertight.tighten.threads.names import threads
from tests.anatomy.hand_pump import HAND_PUMP

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))

TEXTS = st.text(st.characters(codec="utf-8"), min_size=1, max_size=12)
SIZES = st.floats(0.001, 1e6) | st.integers(1, 10_000).map(float)
PLACES = st.floats(-500, 500) | st.integers(-500, 500).map(float)
DIFFERENT = st.lists(TEXTS, min_size=2, max_size=4, unique=True)


@st.composite
def questions(draw: st.DrawFn) -> dict[str, Any]:
    answers = draw(DIFFERENT)
    return {"question": draw(TEXTS), "answers": answers, "right": draw(st.sampled_from(answers))}


@st.composite
def fastener_sets(draw: st.DrawFn) -> dict[str, Any]:
    said: dict[str, Any] = {"length": draw(SIZES), "note": draw(TEXTS), "left_hand": draw(st.booleans())}
    if draw(st.booleans()):
        said |= {"thread": draw(st.sampled_from(sorted(threads()))), "torque": draw(SIZES)}
    else:
        said |= {"kind": draw(st.sampled_from(["circlip", "press fit", "taper"]))}
    said["at"] = draw(st.lists(st.tuples(PLACES, PLACES), max_size=4, unique=True))
    if said["at"] and draw(st.booleans()):
        said |= {"pattern": "given", "order": draw(st.permutations(range(1, len(said["at"]) + 1)))}
    said["passes"] = [*sorted(draw(st.lists(st.floats(0.05, 1), max_size=2))), 1.0]
    return said


@st.composite
def parts(draw: st.DrawFn, name: str, others: list[str]) -> dict[str, Any]:
    said: dict[str, Any] = {"id": name, "name": draw(TEXTS), "stays": draw(st.booleans()), "minutes": draw(SIZES)}
    if others:
        said["behind"] = draw(st.lists(st.sampled_from(others), unique=True, max_size=3))
        said["ways"] = draw(st.lists(st.lists(st.sampled_from(others), unique=True, max_size=2), max_size=2))
    if draw(st.booleans()):
        said["places"] = draw(DIFFERENT)
    else:
        said["count"] = draw(st.integers(1, 9))
    said["with"] = [{"name": thing, "single_use": draw(st.booleans())} for thing in draw(st.lists(TEXTS, max_size=2))]
    said["ask"] = draw(st.lists(questions(), max_size=2))
    said["held_by"] = draw(st.lists(fastener_sets(), max_size=2))
    said["care"] = draw(TEXTS)
    return said


@st.composite
def anatomies(draw: st.DrawFn) -> Anatomy:
    names = [f"part-{number}" for number in range(draw(st.integers(1, 4)))]
    smallest, largest = sorted((draw(SIZES), draw(SIZES)))
    said = {
        "format": 1,
        "machine": {"name": draw(TEXTS), "rests": draw(DIFFERENT)},
        "engine": {"stroke": draw(SIZES), "drive": [[18, 36], [11, 30]], "inlet": [12, 48]},
        "instrument": [{"id": "gauge", "kind": "dial", "resolution": draw(SIZES), "unit": "mm"}],
        "part": [draw(parts(name, names[:index])) for index, name in enumerate(names)],
        "check": [
            {"id": "bore", "part": names[0], "instrument": "gauge", "new": [smallest, largest], "max": largest},
            {"id": "skirt", "part": names[-1], "min": smallest, "unit": "in"},
            {"id": "clearance", "gap": {"outer": "bore", "inner": "skirt"}},
        ],
        "setting": [{"id": "lash", "after": [names[0]], "range": [smallest, largest], "how": draw(TEXTS)}],
        "sign": [{"id": "timing", "stage": "strip", "before": [names[-1]]}],
    }
    return Anatomy.model_validate(said)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(anatomies())
def test_what_is_written_fresh_is_read_back_equal(anatomy: Anatomy) -> None:
    reading = read(written(anatomy))
    assert reading.mistakes == ()
    assert reading.anatomy == anatomy


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.name for path in EXAMPLES])
def test_every_example_machine_is_written_and_read_back_equal(path: Path) -> None:
    anatomy = read(path.read_bytes()).anatomy
    assert anatomy is not None
    assert read(written(anatomy)).anatomy == anatomy


def test_a_fresh_file_says_only_what_differs_from_the_defaults() -> None:
    anatomy = read(HAND_PUMP).anatomy
    assert anatomy is not None
    text = written(anatomy)
    assert text.startswith(
        'format = 1\n\n[machine]\nname = "Hand pump"\nrests = ["upright", "on its side"]\n\n[[instrument]]'
    )
    assert '[[part]]\nid = "rod"\nbehind = ["cover"]\n\n[[part]]' in text
    assert '  [[part.held_by]]\n  thread = "M6"\n  length = 28\n  head = "hex"\n  count = 4\n' in text
    assert '[[check]]\nid = "clearance"\nmax = 0.3\ngap = { outer = "bore", inner = "skirt" }\n' in text


def test_a_list_too_wide_for_a_line_gets_a_line_for_each_entry() -> None:
    cautions = ["Do not lever between the machined faces"] * 2 + ["Spring under load: keep your face away from it"]
    said = {"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid", "cautions": cautions}]}
    text = written(Anatomy.model_validate(said))
    assert 'cautions = [\n    "Do not lever between the machined faces",\n' in text
