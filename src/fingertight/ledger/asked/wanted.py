"""What is to be ordered: parts found worn, what is used once and not here yet, what is lost."""

from dataclasses import dataclass

from fingertight.anatomy.model import Check, Part
from fingertight.ledger.folds.judged import verdict_of, word_on
from fingertight.ledger.state import State
from fingertight.measure.verdict import Word
from fingertight.quantity import plain


@dataclass(frozen=True, slots=True)
class ToOrder:
    """One thing to order: how many of which part (or of the small thing `item` of it), what it is called when it is
    ordered, why, and whether that is not sure yet."""

    part: str
    item: str | None
    count: int
    name: str
    why: str
    perhaps: bool = False


def to_order(state: State) -> tuple[ToOrder, ...]:
    """What is to be ordered now, in the order of the machine's file; what was renewed is here and drops off."""
    found: dict[tuple[str, str | None], ToOrder] = {}
    for part in state.plan.anatomy.parts:
        if state.moves.is_absent(part.id):
            continue
        for one in (*_worn(state, part), *_lost(state, part), *_used_once(state, part)):
            found.setdefault((one.part, one.item), one)
    return tuple(found.values())


def _worn(state: State, part: Part) -> list[ToOrder]:
    """The part, where a check on it says worn, or is too close to call and not decided."""
    wanted = []
    for check in state.plan.anatomy.checks:
        word = word_on(state, check.id)
        if word in (Word.WORN, Word.CLOSE) and part.id in _to_blame(state, check):
            perhaps = word is Word.CLOSE
            why = f"{check.title}: {word.value}{_sizes(state, check)}"
            count = 1 if part.places else part.count
            wanted.append(ToOrder(part.id, None, count, part.spare or part.title, why, perhaps))
    return sorted(wanted, key=lambda one: one.perhaps)[:1]


def _to_blame(state: State, check: Check) -> set[str]:
    """The part a check is of; of a gap the part that is further gone from new, or both where that is not known."""
    if check.gap is None:
        return {check.part} if check.part else set()
    checks = state.plan.anatomy.check_by_id
    gone = {}
    for side in (check.gap.outer, check.gap.inner):
        found, source = verdict_of(state, side), checks[side]
        if source.part is None:
            continue
        way = _way(source)
        # How much of the way from new to worn is used up: 1 at the limit.
        gone[source.part] = 1 - found.margin / way if found is not None and way else None
    known = {part: used for part, used in gone.items() if used is not None}
    if len(known) < len(gone) or not known:
        return set(gone)
    return {max(known, key=lambda part: known[part])}


def _way(check: Check) -> float:
    if check.new is None:
        return 0.0
    if check.max is not None:
        return check.max - check.new[1]
    return check.new[0] - check.min if check.min is not None else 0.0


def _sizes(state: State, check: Check) -> str:
    found = verdict_of(state, check.id)
    limit = check.max if check.max is not None else check.min
    if found is None or limit is None:
        return ""
    return f", {plain(round(found.worst, 4))} {check.unit}, limit {plain(limit)}"


def _lost(state: State, part: Part) -> list[ToOrder]:
    """The part, its fasteners and small things that are missing."""
    plan = state.plan.parts[part.id]
    short: dict[str | None, int] = {
        item: count for (owner, item), count in state.missing.items() if owner == part.id and count > 0
    }
    for bag in state.bags.values():
        for name, number in plan.holds.items():
            mine = sum(1 for piece in bag.pieces if piece[0] == part.id)
            # A bag with pieces of two parts cannot say whose is missing.
            if mine and {piece[0] for piece in bag.pieces} == {part.id}:
                lacks = number * mine - bag.holds.get(name, number * mine)
                if lacks > 0:
                    short[name] = short.get(name, 0) + lacks
    spare = {thing.name: thing.spare for thing in part.with_}
    return [
        ToOrder(part.id, item, count, (spare.get(item) or item) if item else part.spare or part.title, "missing")
        for item, count in short.items()
    ]


def _used_once(state: State, part: Part) -> list[ToOrder]:
    """What must not be refitted, for a part that is off, less what is here new."""
    if not state.pieces_off(part.id):
        return []
    spare = {thing.name: thing.spare for thing in part.with_}
    wanted = []
    for item, number in state.plan.parts[part.id].single_use:
        pieces = len(state.pieces_off(part.id)) if part.places else 1
        lacks = number * pieces - state.stock.get((part.id, item), 0)
        if lacks > 0:
            name = (spare.get(item) or item) if item else part.spare or part.title
            wanted.append(ToOrder(part.id, item, lacks, name, "used once only"))
    return wanted
