"""Whole orders and shortest ways in: how long to a proof, how near without one, beside a plain solver model."""

import random
import time
from collections.abc import Callable, Iterator
from statistics import median

from ortools.sat.python import cp_model
from rows import Row

from fingertight.anatomy.model import Anatomy
from fingertight.order import Rules, WholeOrder, work_of
from fingertight.order.best.orders import orders_to, strip_orders
from fingertight.order.cost import Prices

SEEDS = (1, 2, 3)
PROOF_WITHIN_S, SOLVER_S = 20.0, 5.0
SMALL_SET = 50
"""Of so many parts that come off, a proof is asked for."""
LATER = 4
HANDLING = "of its handling"


def rows() -> Iterator[Row]:
    """The rows of this family."""
    yield _proof("50 parts, 8 tools, 3 rests", [assembled(seed, 50, 8, 3) for seed in SEEDS], 2.0)
    yield _solver_model([assembled(seed, 20, 8, 3) for seed in SEEDS])
    yield _proof("100 parts, 5 tools, 2 rests", [assembled(seed, 100, 5, 2) for seed in SEEDS], PROOF_WITHIN_S)
    yield _gap("100 parts, 8 tools, 3 rests", [assembled(seed, 100, 8, 3) for seed in SEEDS], 2.0, 2.0)
    yield _gap("300 parts, 8 tools, 3 rests", [assembled(seed, 300, 8, 3) for seed in SEEDS], 5.0, 8.0)
    yield _first_answer("2,000 parts, 8 tools, 3 rests", assembled(1, 2_000, 8, 3), 15.0)
    for parts, goal in ((300, 1.0), (5_000, 3.0)):
        yield from _ways([assembled(seed, parts, 8, 3) for seed in SEEDS], f"{parts:,} parts", goal)


def assembled(seed: int, parts: int, tools: int, rests: int) -> Anatomy:
    """Sub-assemblies of a dozen parts hung on each other, 1.2 edges a part, some with two ways or two tools."""
    chance = random.Random(seed)
    named, lying = [f"tool {n}" for n in range(tools)], [f"rest {n}" for n in range(rests)]
    said = []
    for number in range(parts):
        own = range(number - number % 12, number)
        part: dict[str, object] = {"id": f"p{number}", "minutes": chance.randint(1, 6)}
        before = [chance.choice(own)] if own else [chance.randrange(number)] if number else []
        if own and chance.random() < 0.2:
            before.append(chance.randrange(number))
        if len(own) > 3 and chance.random() < 0.1:
            part["ways"] = [[f"p{other}" for other in chance.sample(own, 2)] for _ in range(2)]
            before = []
        part["behind"] = [f"p{other}" for other in dict.fromkeys(before)]
        part["tools"] = chance.sample(named, 2 if chance.random() < 0.08 else 1)
        part["rests"] = chance.choice(lying)
        said.append(part)
    return Anatomy.model_validate({"format": 1, "machine": {"name": "Nobody's", "rests": lying}, "part": said})


def _timed(orders: Iterator[WholeOrder], most_s: float) -> tuple[WholeOrder, float, WholeOrder]:
    """The last answer, when it came [s of this process's own work], and the last one there was after `most_s`."""
    start, in_time, found = time.process_time(), None, None
    for found in orders:
        took = time.process_time() - start
        if took > most_s:
            break
        in_time = found
    if found is None:
        raise RuntimeError("no order was found")
    return found, time.process_time() - start, in_time or found


def _proof(what: str, machines: list[Anatomy], goal_s: float) -> Row:
    took = []
    for anatomy in machines:
        found, seconds, _ = _timed(strip_orders(anatomy), PROOF_WITHIN_S)
        took.append(seconds if found.proof == "best" else float("inf"))
    note = ", ".join("not proven" if one == float("inf") else f"{one:.2f} s" for one in sorted(took))
    return Row(f"{what}: a whole order, proven", "–", median(took), "at most", goal_s, unit="s", note=note)


def _gap(what: str, machines: list[Anatomy], after_s: float, goal_percent: float) -> Row:
    """How far the order after so many seconds is above the best one known after several times as long."""
    gaps, bounds = [], []
    for anatomy in machines:
        minutes = sum(work.minutes_min for work in work_of(anatomy).values())
        later, _, soon = _timed_twice(strip_orders(anatomy), after_s, LATER * after_s)
        gaps.append(100 * (soon.cost_min - later.cost_min) / (later.cost_min - minutes))
        bounds.append(100 * (soon.cost_min - later.bound_min) / soon.cost_min)
    note = f"{HANDLING}; the whole cost at most {max(bounds):.1f} % above its own bound"
    return Row(
        f"{what}: above the best known after {after_s:g} s",
        f"{LATER} times as long",
        max(gaps),
        "at most",
        goal_percent,
        unit="%",
        note=note,
    )


def _timed_twice(orders: Iterator[WholeOrder], soon_s: float, late_s: float) -> tuple[WholeOrder, float, WholeOrder]:
    start, soon, found = time.process_time(), None, None
    for found in orders:
        took = time.process_time() - start
        if soon is None or took <= soon_s:
            soon = found
        if took > late_s:
            break
    if found is None or soon is None:
        raise RuntimeError("no order was found")
    return found, time.process_time() - start, soon


def _first_answer(what: str, anatomy: Anatomy, goal_s: float) -> Row:
    start = time.process_time()
    found = next(strip_orders(anatomy))
    took = time.process_time() - start
    note = f"{100 * (found.cost_min - found.bound_min) / found.cost_min:.1f} % above its bound"
    return Row(f"{what}: a first whole order", "–", took, "at most", goal_s, unit="s", note=note)


def _ways(machines: list[Anatomy], what: str, goal_s: float) -> Iterator[Row]:
    """The way to a deep part: ours weighs work, changes and turns; the solver only which parts come off."""
    took, beside, sizes, proven = [], [], [], 0
    for anatomy in machines:
        target = _near(anatomy)
        found, seconds, _ = _timed(orders_to(anatomy, [target]), PROOF_WITHIN_S)
        took.append(seconds)
        beside.append(_seconds(lambda anatomy=anatomy, target=target: _chosen(anatomy, target)))
        sizes.append(len(found.order or ()))
        proven += found.proof == "best"
    note = f"{min(sizes)} to {max(sizes)} parts come off; {proven} of {len(machines)} proven"
    what = f"the shortest way in, {what}"
    yield Row(what, "–", max(took), "at most", goal_s, unit="s", note=note)
    ratio = median(one / other for one, other in zip(took, beside, strict=True))
    yield Row(f"{what}, order and all", "CP-SAT choosing the parts only", ratio, "at most", None)


def _near(anatomy: Anatomy) -> str:
    """The last part that has no more than so many parts in its way, ways counted whole."""
    parts = anatomy.part_by_id
    for part in reversed(anatomy.parts):
        queue = [part.id]
        for name in queue:
            before = [*parts[name].behind, *(other for way in parts[name].ways for other in way)]
            queue += [other for other in dict.fromkeys(before) if other not in queue]
            if len(queue) > 2 * SMALL_SET:
                break
        if SMALL_SET / 4 < len(queue) <= SMALL_SET:
            return part.id
    return anatomy.parts[-1].id


def _seconds(job: Callable[[], object]) -> float:
    start = time.process_time()
    job()
    return time.process_time() - start


def _chosen(anatomy: Anatomy, target: str) -> float:
    model, rules, works = cp_model.CpModel(), Rules.of(anatomy), work_of(anatomy)
    off = [model.new_bool_var("") for _ in rules.ids]
    tools = {tool: model.new_bool_var("") for work in works.values() for tool in sorted(work.tools)}
    model.add(off[rules.index[target]] == 1)
    for part, name in enumerate(rules.ids):
        for other in rules.behind[part]:
            model.add_implication(off[part], off[other])
        for tool in works[name].tools:
            model.add_implication(off[part], tools[tool])
        if rules.ways[part]:
            ways = [model.new_bool_var("") for _ in rules.ways[part]]
            model.add_bool_or([off[part].negated(), *ways])
            for way, taken in zip(rules.ways[part], ways, strict=True):
                for other in rules.members[way]:
                    model.add_implication(taken, off[other])
    minutes = [round(100 * works[part].minutes_min) for part in rules.ids]
    model.minimize(sum(many * one for many, one in zip(minutes, off, strict=True)) + 25 * sum(tools.values()))
    return _solve(model)[0]


def _solver_model(machines: list[Anatomy]) -> Row:
    """Whole orders by a plain circuit model: one arc for each part that may follow another."""
    ours, gaps = [], []
    for anatomy in machines:
        minutes = sum(work.minutes_min for work in work_of(anatomy).values())
        found, seconds, _ = _timed(strip_orders(anatomy), PROOF_WITHIN_S)
        ours.append(seconds)
        bound, _ = _solve(_circuit(anatomy))
        gaps.append(100 * (1 - bound / max(found.cost_min - minutes, 1e-9)))
    note = f"after {SOLVER_S:g} s the solver's bound is {min(gaps):.0f} to {max(gaps):.0f} % below what ours proves"
    return Row(
        "20 parts, 8 tools, 3 rests: a whole order, proven",
        f"the {SOLVER_S:g} s a plain CP-SAT circuit had",
        max(ours) / SOLVER_S,
        "at most",
        1.0,
        note=note,
    )


def _circuit(anatomy: Anatomy) -> cp_model.CpModel:
    works, ids, prices = work_of(anatomy), [part.id for part in anatomy.parts], Prices()
    rules, model = Rules.of(anatomy), cp_model.CpModel()
    many = len(ids)
    place = [model.new_int_var(0, many - 1, "") for _ in ids]
    arcs, cost = [], []
    for one in range(-1, many):
        for two in range(-1, many):
            if one == two:
                continue
            arc = model.new_bool_var("")
            arcs.append((one + 1, two + 1, arc))
            if two >= 0 and one >= 0:
                model.add(place[two] == place[one] + 1).only_enforce_if(arc)
                first, then = works[ids[one]], works[ids[two]]
                new = len(then.tools) - len(then.tools & first.tools)
                cost.append((round(100 * (prices.change_min * new + prices.turn_min * (first.rest != then.rest))), arc))
            elif two >= 0:
                model.add(place[two] == 0).only_enforce_if(arc)
                cost.append((round(100 * prices.change_min * len(works[ids[two]].tools)), arc))
    model.add_circuit(arcs)
    for part in range(many):
        for other in rules.behind[part]:
            model.add(place[other] < place[part])
        if rules.ways[part]:
            ways = [model.new_bool_var("") for _ in rules.ways[part]]
            model.add_bool_or(ways)
            for way, taken in zip(rules.ways[part], ways, strict=True):
                for other in rules.members[way]:
                    model.add(place[other] < place[part]).only_enforce_if(taken)
    model.minimize(sum(price * arc for price, arc in cost))
    return model


def _solve(model: cp_model.CpModel) -> tuple[float, float]:
    """The bound and what was found [min]."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_time_in_seconds = SOLVER_S
    solver.solve(model)
    return solver.best_objective_bound / 100, solver.objective_value / 100
