"""Passes of the wrench: is each done, at its torque, in an even order, and before the part is closed in?"""

from collections.abc import Mapping, Sequence
from typing import Any

from fingertight.ledger.entry import Entry
from fingertight.ledger.plan import PartPlan, listed
from fingertight.ledger.state import Slot, State
from fingertight.quantity import in_house, plain, unit_named
from fingertight.tighten.pattern.sequence import judge_order
from fingertight.tighten.torque.wrench import Slip, is_right, slip_behind

OVERDONE = 1.5
"""So many times its full torque, and a fastener is not trusted again: common practice, no source."""


def tighten(state: State, entry: Entry) -> None:
    """A fastener set had a pass. It counts only after the passes before it, and when no fastener was left out.

    A pass that was done before and is done again begins the set anew from there: its bolts were slackened for it.
    """
    said = entry.said
    plan = state.plan.parts[said["part"]]
    slot: Slot = (plan.id, said.get("place"))
    number, nth = said["set"], said["pass"]
    if slot in state.empty:
        bag = state.lies.get(state.empty[slot])
        where = f"lies in bag {bag}" if bag else "is off"
        text = f"{plan.piece_name(slot[1])} was tightened, but it {where}."
        mend = "Undo the wrong entry, or log that it went on."
        state.flags.raise_(("clash", plan.id, slot[1], "tightened"), plan.id, entry.id, text, mend, place=slot[1])
        return
    fasteners = plan.sets[number]
    missed = _missed(said.get("order"), fasteners.how_many)
    done = state.passes.get((slot, number), 0)
    if nth > done:
        state.early[slot, number] = nth
    elif not missed:
        state.passes[slot, number] = done = nth + 1
        state.early.pop((slot, number), None)
    if done >= len(fasteners.passes):
        state.flags.mend("loose", plan.id, slot[1], number)
    if fasteners.torque is not None:
        _judge_torque(state, entry, slot, fasteners.torque * fasteners.passes[nth])
    _judge_order(state, entry, slot, missed)


def _judge_torque(state: State, entry: Entry, slot: Slot, wanted_nm: float) -> None:
    said = entry.said
    plan = state.plan.parts[slot[0]]
    cause = ("wrong-torque", plan.id, slot[1], said["set"], said["pass"])
    given_nm = in_house(said["torque"], said["unit"])
    if is_right(given_nm, wanted_nm):
        state.flags.mend(*cause)
        state.worst_nm.pop(cause, None)
        return
    which = _which(plan, said)
    given = f"{plain(said['torque'])} {unit_named(said['unit']).name}"
    wanted = f"{plain(round(wanted_nm, 2))} N·m"
    slip = _slip_words(slip_behind(said["torque"], said["unit"], wanted_nm), said["torque"])
    text = f"{plan.piece_name(slot[1])}: {which} was {given}, but {wanted} belongs there{slip}."
    first = _first(given_nm, wanted_nm, wanted_nm / plan.sets[said["set"]].passes[said["pass"]])
    mend = f"{first} {which} on {plan.piece_name(slot[1])} again with {wanted}{_after(plan, said)}."
    worst_nm = state.worst_nm.get(cause, wanted_nm)
    if not state.flags.stands(*cause):
        state.flags.raise_(cause, plan.id, entry.id, text, mend, place=slot[1])
    elif (given_nm > wanted_nm, abs(given_nm - wanted_nm)) > (worst_nm > wanted_nm, abs(worst_nm - wanted_nm)):
        state.flags.worsen(cause, text, mend)
    else:
        return
    state.worst_nm[cause] = given_nm


def _first(given_nm: float, wanted_nm: float, full_nm: float) -> str:
    """What comes before the pass is done again, and what it begins with."""
    if given_nm <= wanted_nm:
        return "Do"
    return f"Slacken them, {'fit new ones' if given_nm > OVERDONE * full_nm else 'look at bolt and thread'}, and do"


def _missed(order: Sequence[int] | None, count: int) -> tuple[int, ...]:
    """The fasteners that a pass left out, where it was said which it did."""
    return tuple(one for one in range(1, count + 1) if one not in order) if order else ()


def _judge_order(state: State, entry: Entry, slot: Slot, missed: Sequence[int]) -> None:
    """Was the pass whole and even, where it was said in which order? Without that, nothing is said against it."""
    said = entry.said
    plan = state.plan.parts[slot[0]]
    fasteners = plan.sets[said["set"]]
    cause = ("wrong-order", plan.id, slot[1], said["set"], said["pass"])
    piece, which = plan.piece_name(slot[1]), _which(plan, said)
    if missed:
        names = listed([str(one) for one in missed])
        text = f"{piece}: {which} missed {names} of {fasteners.how_many}, as the file counts them; it does not count."
        state.flags.raise_(
            cause,
            plan.id,
            entry.id,
            text,
            f"Do {which} on {piece} again, all of them{_after(plan, said)}.",
            place=slot[1],
        )
        return
    done: Sequence[int] = said.get("order") or ()
    is_judged = done and fasteners.pattern is not None and len(fasteners.at) > 2
    judged = judge_order(fasteners.at, done, fasteners.pattern, fasteners.order) if is_judged else None
    if judged is None or judged.is_even_enough:
        state.flags.mend(*cause)
        return
    times = plain(round(judged.times, 1))
    text = f"{piece}: {which} went {times} times as unevenly as its pattern: one side came first."
    order = f"in the numbered order ({', '.join(str(one) for one in judged.wanted)} in the file)"
    mend = f"Slacken them, and do {which} on {piece} again {order}{_after(plan, said)}."
    state.flags.raise_(cause, plan.id, entry.id, text, mend, place=slot[1])


def _after(plan: PartPlan, said: Mapping[str, Any]) -> str:
    """What is to follow a pass that is done once more."""
    return ", then the passes after it" if said["pass"] + 1 < len(plan.sets[said["set"]].passes) else ""


def _which(plan: PartPlan, said: Mapping[str, Any]) -> str:
    return f"pass {said['pass'] + 1} of {plan.sets[said['set']].counted_as or 'its set'}"


def _slip_words(slip: Slip | None, torque: float) -> str:
    """What slip explains the number, as the end of a sentence; or nothing."""
    if slip is None:
        return ""
    if slip.unit:
        return f"; {plain(torque)} {slip.unit} would be right: a slip of units"
    return "; it is a tenth of it" if slip.times < 1 else "; it is ten times it"


def closed_in(state: State, entry: Entry, plan: PartPlan, by: str) -> None:
    """Another part went on over this one: its passes must be done."""
    for place in plan.places:
        if (plan.id, place) in state.fitted:
            _judge_passes(state, entry, plan, (plan.id, place), f"{by} went on over it")


def _judge_passes(state: State, entry: Entry, plan: PartPlan, slot: Slot, when: str) -> None:
    for number in plan.torqued:
        fasteners = plan.sets[number]
        done = state.passes.get((slot, number), 0)
        if done >= len(fasteners.passes):
            continue
        left, early = len(fasteners.passes) - done, state.early.get((slot, number))
        what = f"{fasteners.how_many} × {fasteners.counted_as}" if fasteners.counted_as else "a set"
        text = f"{plan.piece_name(slot[1])}: {what} had {done} of {len(fasteners.passes)} passes when {when}."
        if early is not None:
            text += f" Pass {early + 1} was done before those that belong before it, and does not count."
        passes = "the last pass" if left == 1 else f"the last {left} passes"
        full = plain(fasteners.torque or 0)
        mend = f"Do {passes} of {what} on {plan.piece_name(slot[1])}; the full torque is {full} N·m."
        state.flags.raise_(("loose", plan.id, slot[1], number), plan.id, entry.id, text, mend, place=slot[1])


def finish(state: State, entry: Entry) -> None:
    """The job is said to be done: what still has passes to do?"""
    for part, place in state.fitted:
        _judge_passes(state, entry, state.plan.parts[part], (part, place), "the job was finished")
