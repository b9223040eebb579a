"""Parts come off and go on: where every piece is, in which bag, and whether it was its turn."""

from fingertight.ledger.entry import Entry
from fingertight.ledger.folds import counted, fitted, judged, tightened
from fingertight.ledger.plan import PartPlan, listed
from fingertight.ledger.state import Bag, Slot, State
from fingertight.order.moves import InTheWay


def absent(state: State, entry: Entry) -> None:
    """This machine does not have the part."""
    part = entry.said["part"]
    for place in state.plan.parts[part].places:
        slot = (part, place)
        piece = state.empty.pop(slot, slot)
        state.sits.pop(slot, None)
        state.fitted.pop(slot, None)
        _take_out(state, piece)
        state.flags.taken_off(part, place)
        state.flags.mend("out-of-turn", part, place)
    state.flags.mend("shut-in", part)
    _mend_freed(state, state.moves.lacks(part).freed)
    for flag_kind in ("short", "over"):
        for cause in state.flags.standing(flag_kind, part):
            state.flags.mend(*cause)


def off(state: State, entry: Entry) -> None:
    """A piece came off and lies in a bag."""
    said = entry.said
    plan = state.plan.parts[said["part"]]
    slot: Slot = (plan.id, said.get("place"))
    bag = said.get("bag")
    if slot in state.empty:
        _off_again(state, entry, plan, slot, bag)
    else:
        state.finished = False
        _judge_turn_off(state, entry, plan, slot)
        state.flags.taken_off(plan.id, slot[1])
        fitted.taken_off(state, entry, plan, slot)
        piece = state.sits.pop(slot, slot)
        state.empty[slot] = piece
        _lay(state, entry, plan, piece, bag)
        state.came_off[plan.id] = state.clock
        if len(state.pieces_off(plan.id)) == len(plan.places):
            # One piece off lets nothing out that the others shut in.
            state.flags.mend("shut-in", plan.id)
            _mend_freed(state, state.moves.took(plan.id).freed)
    if said.get("counts") and bag is not None and state.lies.get(state.empty[slot]) == bag:
        counted.compare(state, entry, bag, said["counts"])


def on(state: State, entry: Entry) -> None:
    """A piece went on."""
    said = entry.said
    plan = state.plan.parts[said["part"]]
    slot: Slot = (plan.id, said.get("place"))
    lacking = state.moves.is_absent(plan.id)
    if slot not in state.empty and not lacking:
        fitted.answered_again(state, entry, plan, slot)
        return
    _judge_turn_on(state, entry, plan, slot)
    first = _waiting_first(state, plan)
    shut_in: tuple[str, ...] = ()
    closed_in: tuple[str, ...] = ()
    if lacking or state.moves.is_off(plan.id):
        step = state.moves.put(plan.id)
        # Of a part with places, the pieces that still lie in their bags are shut in when the part itself is held.
        lying = [part for part in step.held if state.moves.is_on(part) and state.pieces_off(part)]
        shut_in = tuple(dict.fromkeys((*step.shut_in, *lying))) if lying else step.shut_in
        closed_in = step.held
    if first or shut_in:
        _raise_shut_in(state, entry, plan, first, shut_in)
    if not lacking:
        _place(state, entry, plan, slot, said.get("bag"))
    state.went_on[plan.id] = state.clock
    counted.went_on(state, plan, slot)
    fitted.went_on(state, entry, plan, slot)
    judged.went_on(state, entry, plan)
    for part in closed_in:
        if state.moves.is_on(part):
            tightened.closed_in(state, entry, state.plan.parts[part], plan.title)


# -- whose turn it was ---------------------------------------------------------------------------------------------


def _judge_turn_off(state: State, entry: Entry, plan: PartPlan, slot: Slot) -> None:
    cause = ("out-of-turn", *slot)
    if state.flags.stands(*cause):
        # It was fitted out of turn and is out again: that is the mend, not a second mistake.
        state.flags.mend(*cause)
        return
    if state.moves.is_clear(plan.id) or not state.moves.is_on(plan.id):
        return
    hindrance = state.moves.in_the_way(plan.id)
    name = plan.piece_name(slot[1])
    if hindrance:
        text = f"{name} came off though {still_on_words(state, hindrance)}."
        mend = f"Put {name} back, or take off what is in its way as well; look for damage where it was forced."
    else:
        text = f"{name} came off, but it stays on this machine."
        mend = f"Put {name} back, or undo the entry."
    state.flags.raise_(cause, plan.id, entry.id, text, mend, place=slot[1])


def _judge_turn_on(state: State, entry: Entry, plan: PartPlan, slot: Slot) -> None:
    cause = ("out-of-turn", *slot)
    if state.flags.stands(*cause):
        state.flags.mend(*cause)
        return
    hindrance = state.moves.in_the_way(plan.id)
    if not hindrance:
        return
    name = plan.piece_name(slot[1])
    text = f"{name} went on though {still_on_words(state, hindrance)}."
    mend = f"Take {name} off again, take off what is in its way, then fit both in turn."
    state.flags.raise_(cause, plan.id, entry.id, text, mend, place=slot[1])


def _mend_freed(state: State, freed: tuple[str, ...]) -> None:
    """What these parts waited for is off now: they are where they may lawfully be."""
    for part in filter(state.moves.is_clear, freed):  # what stays is nowhere lawful but on
        for place in state.plan.parts[part].places:
            state.flags.mend("out-of-turn", part, place)


def _waiting_first(state: State, plan: PartPlan) -> tuple[str, ...]:
    return tuple(first for first in plan.fit_after if state.pieces_off(first)) if plan.fit_after else ()


def _raise_shut_in(
    state: State, entry: Entry, plan: PartPlan, first: tuple[str, ...], shut_in: tuple[str, ...]
) -> None:
    both = tuple(dict.fromkeys((*first, *shut_in)))
    names = state.plan.titles(both)
    if shut_in:
        so = "which cannot go back now" if len(both) == 1 else "which cannot all go back now"
    else:
        so = "which must be on first"
    text = f"{plan.title} went on before {names}, {so}{_lie_words(state, both)}."
    state.flags.raise_(
        ("shut-in", plan.id), plan.id, entry.id, text, f"Take {plan.title} off again and fit {names} first."
    )


def _lie_words(state: State, parts: tuple[str, ...]) -> str:
    bags = [bag for part in parts for slot in state.pieces_off(part) if (bag := state.lies.get(state.empty[slot]))]
    if not bags:
        return ""
    return f" (bag {bags[0]})" if len(bags) == 1 else f" (bags {listed(bags)})"


def still_on_words(state: State, hindrance: InTheWay) -> str:
    """What is in the way, as the end of a sentence: “Guard and Fan are still on”, “Clip or Nut must be off first”."""
    if hindrance.behind:
        return f"{state.plan.titles(hindrance.behind)} {'is' if len(hindrance.behind) == 1 else 'are'} still on"
    return f"{' or '.join(state.plan.titles(way) for way in hindrance.ways)} must be off first"


# -- which piece, which bag ----------------------------------------------------------------------------------------


def _lay(state: State, entry: Entry, plan: PartPlan, piece: Slot, bag: str | None) -> None:
    state.lies[piece] = bag
    if bag is None:
        return
    there = state.bags.setdefault(bag, Bag())
    if there.pieces:
        other = state.plan.parts[there.pieces[0][0]].piece_name(there.pieces[0][1])
        text = f"Bag {bag} was given to {plan.piece_name(piece[1])}, but {other} lies in it."
        mend = "Undo the wrong one of the two entries and give it a bag of its own."
        state.flags.raise_(("clash", bag, piece), plan.id, entry.id, text, mend, place=piece[1])
    there.pieces.append(piece)
    there.last_part = plan.id
    for name, number in plan.holds.items():
        there.holds[name] = there.holds.get(name, 0) + number


def _take_out(state: State, piece: Slot) -> None:
    bag = state.lies.pop(piece, None)
    if bag is None:
        return
    there = state.bags[bag]
    there.pieces.remove(piece)
    if there.pieces:
        for name, number in state.plan.parts[piece[0]].holds.items():
            there.holds[name] = max(0, there.holds.get(name, 0) - number)
    else:
        there.holds = {}


def _off_again(state: State, entry: Entry, plan: PartPlan, slot: Slot, bag: str | None) -> None:
    """It is off already: nothing new, unless it is said to lie in another bag."""
    piece = state.empty[slot]
    if bag is None or state.lies.get(piece) == bag:
        return
    if state.lies.get(piece) is None:
        _lay(state, entry, plan, piece, bag)
        return
    text = f"{plan.piece_name(slot[1])} came off again into bag {bag}, but it lies in bag {state.lies[piece]} already."
    mend = "Undo the wrong one of the two entries."
    state.flags.raise_(("clash", plan.id, slot[1], "bag", bag), plan.id, entry.id, text, mend, place=slot[1])


def _place(state: State, entry: Entry, plan: PartPlan, slot: Slot, bag: str | None) -> None:
    """Fill the slot with the piece that was taken: out of the bag named, else its own, else the one that is left."""
    own = state.empty.pop(slot)
    mine = [piece for piece in plan.slots if piece in state.lies]
    from_bag = [piece for piece in mine if bag is not None and state.lies[piece] == bag]
    belongs = slot if slot in mine else own
    piece = belongs if belongs in from_bag or not from_bag else from_bag[0]
    if piece not in mine:
        piece = mine[0] if mine else slot
    right_bag = state.lies.get(slot)
    wrong = piece != slot or (bag is not None and right_bag is not None and bag != right_bag)
    _take_out(state, piece)
    if piece != slot:
        state.sits[slot] = piece
    if not wrong:
        return
    if piece != slot:
        out_of = f" out of bag {bag}" if bag else ""
        text = f"{plan.piece_name(piece[1])}{out_of} was fitted in the place of {plan.piece_name(slot[1])}."
        mend = f"Take it off again and fit the {slot[1]} piece here{f', out of bag {right_bag}' if right_bag else ''}."
    else:
        text = f"{plan.piece_name(slot[1])} went on out of bag {bag}, but it lies in bag {right_bag}."
        mend = f"Take it off again, look what it is, and fit what lies in bag {right_bag}."
    state.flags.raise_(("wrong-place", plan.id, slot[1]), plan.id, entry.id, text, mend, place=slot[1])
