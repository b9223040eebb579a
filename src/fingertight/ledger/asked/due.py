"""What is due now, before a part moves or after it went on: asked by the cards, so that a flag need never be raised.

The same conditions raise the flags (folds/fitted.py); here they are looked up before the entry, there judged at it.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from fingertight.anatomy.model import Setting, Sign
from fingertight.ledger.state import Slot, State


@dataclass(frozen=True, slots=True)
class PassDue:
    """The next pass of one fastener set of a fitted piece, from 0; the torque is that of the pass [N·m]."""

    slot: Slot
    set: int
    number: int
    of: int
    torque_nm: float


def passes_due(state: State) -> tuple[PassDue, ...]:
    """The next pass of each set that has passes to do, in the order the pieces were fitted."""
    due = []
    for slot in state.fitted:
        plan = state.plan.parts[slot[0]]
        for number in plan.torqued:
            fasteners, done = plan.sets[number], state.passes.get((slot, number), 0)
            if fasteners.torque is not None and done < len(fasteners.passes) and slot not in state.empty:
                due.append(
                    PassDue(slot, number, done, len(fasteners.passes), fasteners.torque * fasteners.passes[done])
                )
    return tuple(due)


def settings_due(state: State) -> tuple[Setting, ...]:
    """What must be set and can be set now: all of `after` is on, none of `before` is."""
    return tuple(
        setting
        for setting in state.plan.anatomy.settings
        if setting.id in state.disturbed
        and all(state.is_wholly_on(part) for part in setting.after)
        and not any(state.moves.is_on(part) for part in setting.before)
    )


def settings_before(state: State, part: str) -> tuple[Setting, ...]:
    """What must be set before this part goes on, and is not."""
    return tuple(
        state.plan.anatomy.setting_by_id[name] for name in state.plan.parts[part].wants_set if name in state.disturbed
    )


def signs_before_off(state: State, part: str) -> tuple[Sign, ...]:
    """What the instructor must sign before this part comes off, and has not since it last went on."""
    return _unsigned(state, state.plan.parts[part].wants_sign_off, state.went_on.get(part, -1))


def signs_before_on(state: State, part: str) -> tuple[Sign, ...]:
    """What the instructor must sign before this part goes on, and has not since it last came off."""
    return _unsigned(state, state.plan.parts[part].wants_sign_on, state.came_off.get(part, -1))


def _unsigned(state: State, wanted: Iterable[str], since: int) -> tuple[Sign, ...]:
    """Those of the sign-offs that were not given since then; most parts want none."""
    if not wanted:
        return ()
    return tuple(state.plan.anatomy.sign_by_id[name] for name in wanted if state.signed.get(name, -1) <= since)


def notes_before_off(state: State, part: str) -> tuple[str, ...]:
    """What must be noted of this part before it comes off, and is not: photo, wiring."""
    known = state.recorded.get(part, ())
    return tuple(what for what in state.plan.parts[part].record if what not in known)


def new_before_on(state: State, part: str) -> tuple[tuple[str | None, int], ...]:
    """Which single-use things of the part have no new one here, and how many are lacking (None: the part itself)."""
    return tuple(
        (thing, needed - state.stock.get((part, thing), 0))
        for thing, needed in state.plan.parts[part].single_use
        if state.stock.get((part, thing), 0) < needed
    )
