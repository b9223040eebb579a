"""The careless pair of the example log at a bench of a class: each kind of mistake is on the wall before start-up."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from django.test import override_settings

from fingertight.anatomy.model import Anatomy
from fingertight.cards.measure.page import field_of
from fingertight.ledger import FLAG_KINDS, Ledger, Plan
from fingertight.web.jobs.ledgers import ledger_of, log_of
from tests.journeys.lessons.conftest import QUICK
from tests.journeys.lessons.pair import BY_NUMBER, Hand, Pair
from tests.web.honest import machine
from tests.web.people.cast import NUMBER, TEACHER_NUMBER, Cast, gathered
from tests.web.tablet import Form, Tablet

Said = dict[str, Any]
ENGINE = "pump-engine"
LOG = files("fingertight.examples").joinpath("logs/pump-engine-mistakes.jsonl")


@pytest.fixture
def cast(workshop: Path | str) -> Any:
    """The demo class, whose second lesson is open."""
    with override_settings(PASSWORD_HASHERS=QUICK):
        yield gathered()


def in_a_form(said: Said, anatomy: Anatomy) -> dict[str, str]:
    """The fields of a form that says this entry."""
    form = {name: str(value) for name, value in said.items() if isinstance(value, str | int | float)}
    for name in ("at", "by", "as", "planted", "skew_s", "typed", "shown_by"):
        form.pop(name, None)
    form |= {f"answer-{nth}": answer for nth, answer in enumerate(said.get("answers", [])) if answer}
    form |= {f"holds/{name}": str(many) for name, many in said.get("counts", {}).items()}
    form |= {f"tools/{name}": str(many) for name, many in (said.get("tools") or {}).items()}
    for bag, counts in (said.get("bags") or {}).items():
        form |= {f"count/{bag}/{name}": str(many) for name, many in counts.items()}
    if "order" in said:
        form["order"] = ",".join(map(str, said["order"]))
    if said["kind"] == "set" and "value" in said:
        form["value"] = f"{said['value']} {said['unit']}"
    if said["kind"] == "reading":
        check = anatomy.check_by_id[said["check"]]
        boxes: dict[str, list[str]] = {}
        for one in said["values"]:
            row = (check.at or (None,)).index(one.get("at"))
            column = (check.across or (None,)).index(one.get("across"))
            boxes.setdefault(field_of(row, column), []).append(f"{one['value']} {said['unit']}")
        form |= {box: "; ".join(values) for box, values in boxes.items()}
    return form


def answered(said: Said, anatomy: Anatomy) -> Said:
    """The same where a question was left open: a page insists on an answer, and the careless give any but the right."""
    if said["kind"] != "on":
        return said
    given = said.get("answers", [])
    asked = anatomy.part_by_id[said["part"]].ask[len(given) :]
    wrong = [next(answer for answer in ask.answers if answer != ask.right) for ask in asked]
    return {**said, "answers": [*given, *wrong]} if wrong else said


def careless(cast: Cast) -> Pair:
    """Ada and Bo at Bench 4, whose engine nobody has touched."""
    ada, bo = (Hand(cast.people[name].id, name, NUMBER) for name in ("Ada", "Bo"))
    tilda = Hand(cast.people["Tilda"].id, "Tilda", TEACHER_NUMBER)
    pair = Pair(cast.job("Ada"), cast.bench("Ada").code, (ada, bo), tilda)
    for hand in (bo, ada):
        pair.joins(hand, cast.code)
    return pair


def says(pair: Pair, said: Said, anatomy: Anatomy) -> None:
    """One line of the log, sent from the tablet in the hands that the log names; the instructor types the number."""
    if said["by"] != "t-01" and said["by"] != {"Ada": "s-07", "Bo": "s-08"}[pair.in_hand.name]:
        pair.changes_hands()
    typed = in_a_form(said, anatomy) | ({"number": ""} if said["kind"] in BY_NUMBER else {})
    pair.sends(Form(f"{pair.bench}/finish", "post", typed), {})
    assert pair.answer.status_code == 200, (said, pair.page.text[:500])


def test_every_kind_of_mistake_is_on_the_wall_of_the_class_before_anybody_starts_the_engine(cast: Cast) -> None:
    anatomy, pair = machine(ENGINE), careless(cast)
    pure = Ledger(Plan(anatomy))
    wall = cast.teacher()
    address, shown = f"/wall?class={cast.of.slug}", set()
    known: set[str] = set()
    for line in LOG.read_text("utf-8").splitlines():
        said = answered(json.loads(line), anatomy)
        if said["id"] in known:
            continue
        known.add(said["id"])
        says(pair, said, anatomy)
        pure.hear({**said, "at": f"2026-03-05T09:00:00.{len(known):06}Z", "skew_s": 0})
        if "planted" in said:
            flag = next(one for one in pure.state.flags if (one.entry, one.kind) == (said["id"], said["planted"]))
            assert flag.text in wall.opens(address).text.partition("Not right yet ")[2], (said, flag)
            shown.add(flag.kind)
    assert shown == set(FLAG_KINDS)
    kept = [json.loads(entry.body) for entry in log_of(pair.job).after()]
    assert [(one["id"], one["kind"], one["by"], one["as"], one.get("shown_by")) for one in kept] == pair.written
    _finishes_once_all_is_set_aside(pair, wall, address)


def _finishes_once_all_is_set_aside(pair: Pair, wall: Tablet, address: str) -> None:
    """As long as one flag is open the job is not finished, and the flag is on the wall."""
    for _ in range(30):
        pair.posts("finish")
        if "The job is finished: nothing is open." in pair.page.text:
            break
        with ledger_of(pair.job) as live:
            still_open = [flag.text for flag in live.ledger.state.flags.open()]
        assert still_open
        on_it = wall.opens(address).text.partition("Not right yet ")[2]
        assert all(text in on_it for text in still_open)
        pair.presses("Set it aside", reason="Shown on purpose.")
    assert "The job is finished: nothing is open." in pair.page.text
    assert "Bench 4 Stops." not in wall.opens(address).text
