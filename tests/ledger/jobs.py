"""Jobs nobody would do: random entries for one rich machine, and honest jobs on random machines."""

import random
from typing import Any

from hypothesis import strategies as st

from fingertight.ledger import Ledger, Plan
from tests.ledger.bench import Said, at
from tests.order.machines import Machine, as_anatomy

ENGINE = """
[[instrument]]
id = "gauge"
resolution = 0.01
error = 0.005
[[part]]
id = "case"
stays = true
[[part]]
id = "guard"
record = ["photo"]
[[part]]
id = "cover"
behind = ["guard"]
with = [{ name = "gasket", single_use = true }, { name = "dowel", count = 2 }]
ask = [{ question = "Lip inwards?", answers = ["yes", "no"], right = "yes" }]
  [[part.held_by]]
  thread = "M6"
  length = 28
  count = 6
  torque = 10.0
  passes = [0.4, 1.0]
[[part]]
id = "follower"
places = ["inlet", "exhaust"]
behind = ["cover"]
[[part]]
id = "piston"
ways = [["cover"], ["guard", "follower"]]
fit_after = ["follower"]
single_use = true
[[check]]
id = "bore"
part = "case"
bare = ["piston"]
instrument = "gauge"
new = [68.0, 68.015]
max = 68.165
[[check]]
id = "skirt"
part = "piston"
instrument = "gauge"
new = [67.95, 67.97]
min = 67.9
[[check]]
id = "clearance"
gap = { outer = "bore", inner = "skirt" }
max = 0.12
[[setting]]
id = "lash"
after = ["follower"]
before = ["cover"]
range = [0.13, 0.17]
[[sign]]
id = "drained"
stage = "strip"
before = ["guard"]
[[sign]]
id = "timing"
stage = "rebuild"
before = ["cover"]
"""
BAGS = st.sampled_from(["1", "2", "3"])
PIECES = st.sampled_from(
    [{"part": part} for part in ("case", "guard", "cover", "cover", "piston")]
    + [{"part": "follower", "place": place} for place in ("inlet", "exhaust")]
)
COUNTS = st.dictionaries(st.sampled_from(["M6x28", "dowel", "gasket"]), st.integers(0, 7), max_size=2)
IDS = st.integers(0, 19).map(lambda number: f"e{number}")


def _said(kind: str, **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Said]:
    return st.fixed_dictionaries(
        {"kind": st.just(kind), "as": st.sampled_from(["student", "instructor"])}, optional={}
    ).flatmap(lambda base: st.fixed_dictionaries(fields).map(lambda more: {**base, **more}))


def _of_a_piece(kind: str, **fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Said]:
    return st.tuples(PIECES, _said(kind, **fields)).map(lambda both: {**both[1], **both[0]})


THING = st.sampled_from([{"item": "gasket", "part": "cover"}, {"item": "dowel", "part": "cover"}, {"part": "piston"}])
ENTRY = st.one_of(
    _of_a_piece("off", bag=BAGS, counts=COUNTS),
    _of_a_piece("off", bag=BAGS),
    _of_a_piece("on", bag=BAGS, answers=st.sampled_from([[], ["yes"], ["no"]])),
    _of_a_piece("on", answers=st.just(["yes"])),
    _said(
        "tighten", part=st.just("cover"), set=st.just(0), torque=st.sampled_from([4, 10, 8]), unit=st.just("N·m"),
        **{"pass": st.sampled_from([0, 1])},
    ),
    _said(
        "reading", check=st.sampled_from(["bore", "skirt"]), unit=st.just("mm"),
        values=st.lists(
            st.sampled_from([67.85, 67.96, 68.02, 68.16, 68.2, 6.8]).map(lambda value: {"value": value}),
            min_size=1, max_size=4,
        ),
    ),
    _said("decide", check=st.sampled_from(["bore", "clearance"]), verdict=st.sampled_from(["good", "worn"])),
    _said("set", setting=st.just("lash"), value=st.sampled_from([0.15, 0.3])),
    _said("sign", sign=st.sampled_from(["drained", "timing"])),
    st.tuples(THING, _said("renew", count=st.just(1))).map(lambda both: {**both[1], **both[0]}),
    st.tuples(THING, st.one_of(_said("lost"), _said("found"))).map(lambda both: {**both[1], **both[0]}),
    _said("count", bags=st.dictionaries(BAGS, COUNTS, max_size=2)),
    _said("count", tools=st.dictionaries(st.just("wrench"), st.integers(0, 2))),
    _said("tool", tool=st.just("wrench"), way=st.sampled_from(["out", "in"])),
    _said("note", part=st.just("guard"), photo=st.just("p")),
    _said("undo", entry=IDS),
    _said("aside", entry=IDS, flag=st.sampled_from(["out-of-turn", "over", "spent"]), reason=st.just("Shown.")),
    _said("absent", part=st.sampled_from(["guard", "piston", "follower"])),
    _said("finish"),
)  # fmt: skip


@st.composite
def logs(draw: st.DrawFn, most: int = 20) -> list[Said]:
    """A log of the engine in the order of its times, an entry a minute; most of it is wrong."""
    return [
        {"id": f"e{number}", "at": at(number), "by": "s-07", **said}
        for number, said in enumerate(draw(st.lists(ENTRY, max_size=most)))
    ]


def trimmings(machine: Machine, chance: random.Random) -> dict[str, Any]:
    """What else the parts of a random machine may say: bolts, questions, places, new stock, records."""
    said: dict[str, dict[str, object]] = {}
    for part in machine:
        keys: dict[str, object] = {}
        if chance.random() < 0.5:
            keys["held_by"] = [{"thread": "M6", "length": 20, "count": 4, "torque": 10.0, "passes": [0.5, 1.0]}]
        if chance.random() < 0.3:
            keys["with"] = [{"name": "gasket", "single_use": True}]
        if chance.random() < 0.3:
            keys["ask"] = [{"question": "Right way round?", "answers": ["yes", "no"], "right": "yes"}]
        if chance.random() < 0.3:
            keys["record"] = ["photo"]
        if chance.random() < 0.3:
            keys["places"] = ["left", "right"]
        said[part] = keys
    return said


def honest(machine: Machine, seed: int) -> tuple[Plan, list[Said]]:
    """A plan for the machine with trimmings, and the log of a whole strip and rebuild with nothing forgotten."""
    chance = random.Random(seed)
    movable = [part for part in machine if not machine[part].stays]
    anatomy = as_anatomy(machine, **trimmings(machine, chance)).model_dump(by_alias=True, exclude_defaults=True)
    anatomy["format"] = 1
    anatomy["check"] = [{"id": "size", "part": movable[0], "new": (10.0, 10.1), "max": 10.5}]
    anatomy["setting"] = [{"id": "gap", "after": movable[:1], "range": (0.3, 0.4)}]
    anatomy["setting"] += [{"id": "oil", "before": movable[-1:], "question": "?", "answers": ("y", "n"), "right": "y"}]
    anatomy["sign"] = [{"id": f"sign-{stage}", "stage": stage, "before": movable[:2]} for stage in ("strip", "rebuild")]
    plan = Plan(type(as_anatomy(machine)).model_validate(anatomy))
    job = _Honest(plan, chance)
    job.strip()
    job.rebuild()
    return plan, job.log


class _Honest:
    """Somebody careful: notes and signs before, counts as it comes off, tightens and sets as it goes on."""

    def __init__(self, plan: Plan, chance: random.Random) -> None:
        self.plan, self.chance = plan, chance
        self.ledger, self.log = Ledger(plan), list[Said]()

    def say(self, kind: str, **fields: object) -> None:
        number = len(self.log)
        self.log.append(
            {"id": f"e{number}", "kind": kind, "at": at(number / 10), "by": "t", "as": "instructor", **fields}
        )
        self.ledger.hear(self.log[-1])

    def strip(self) -> None:
        bag = 0
        while free := self.ledger.state.moves.may_come_off():
            part = self.plan.parts[self.chance.choice(free)]
            for sign in part.wants_sign_off:
                self.say("sign", sign=sign)
            for what in part.record:
                self.say("note", part=part.id, **{what: "p1"})
            for place in part.places:
                bag += 1
                where = {"place": place} if place else {}
                self.say("off", part=part.id, bag=str(bag), counts=part.holds, **where)
        self.say("reading", check="size", values=[{"value": 10.2}], unit="mm")

    def rebuild(self) -> None:
        while free := self.ledger.state.may_go_on():
            part = self.plan.parts[self.chance.choice(free)]
            for sign in part.wants_sign_on:
                self.say("sign", sign=sign)
            if "oil" in part.wants_set:
                self.say("set", setting="oil", answer="y")
            _, place = self.chance.choice(self.ledger.state.pieces_off(part.id))
            self._fit(part.id, place)
        self.say("set", setting="gap", value=0.35)
        self.say("finish")

    def _fit(self, name: str, place: str | None) -> None:
        part = self.plan.parts[name]
        where = {"place": place} if place else {}
        for item, count in part.single_use:
            self.say("renew", part=name, item=item, count=count)
        answers = [question.right for question in part.questions]
        self.say("on", part=name, bag=self.ledger.state.lies[name, place], answers=answers, **where)
        for number in part.torqued:
            for turn, torque in enumerate((5.0, 10.0)):
                self.say("tighten", part=name, set=number, torque=torque, unit="N·m", **where, **{"pass": turn})
