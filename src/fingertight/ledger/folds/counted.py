"""What should be there, and is not, or is too much: bags, small things, new stock, tools."""

from collections.abc import Mapping

from fingertight.ledger.entry import Entry
from fingertight.ledger.flags import Cause, Flag, Flags
from fingertight.ledger.folds import judged
from fingertight.ledger.plan import PartPlan, listed
from fingertight.ledger.state import Bag, Slot, State, ToolBox


def count(state: State, entry: Entry) -> None:
    """The count at the end of a lesson: bags key by key, and tools."""
    for bag, counts in (entry.said.get("bags") or {}).items():
        compare(state, entry, bag, counts)
    tools = entry.said.get("tools")
    if tools is not None:
        _count_tools(state, entry, tools)


def compare(state: State, entry: Entry, bag: str, counts: Mapping[str, int]) -> None:
    """A bag was counted: what was counted is compared, what was not says nothing; an empty bag should hold 0."""
    there = state.bags.setdefault(bag, Bag())
    expected = state.expected(bag)
    part = there.pieces[0][0] if there.pieces else there.last_part
    for name, number in counts.items():
        wanted = expected.get(name, 0)
        if wanted or number or name in there.holds:
            there.holds[name] = number
        if number >= wanted:
            state.flags.mend("short", bag, name)
            for piece, _ in there.pieces:
                if state.missing.pop((piece, name), 0):
                    state.flags.mend("short", None, piece, name)
        if number <= wanted:
            state.flags.mend("over", bag, name)
        if number < wanted:
            _raise_short(state, entry, bag, name)
        if number > wanted:
            text = f"Bag {bag}{_whose(state, there)} holds {number} × {name}, but {wanted} came off into it."
            mend = f"Find out which part the rest belongs to, put it in its bag, and count bag {bag} again."
            _say(state.flags, Flag("over", part, entry.id, text, mend), ("over", bag, name))


def _whose(state: State, bag: Bag) -> str:
    names = [state.plan.parts[part].piece_name(place) for part, place in bag.pieces]
    if bag.last_part and not names:
        names = [state.plan.parts[bag.last_part].title]
    return f" of {listed(names)}" if names else ""


def _raise_short(state: State, entry: Entry, bag: str, name: str) -> None:
    there = state.bags[bag]
    part = there.pieces[0][0] if there.pieces else there.last_part
    wanted = state.expected(bag).get(name, 0)
    text = f"Bag {bag}{_whose(state, there)} holds {there.holds.get(name, 0)} of {wanted} × {name}."
    mend = f"Look for it under the bench and in the bags beside; count bag {bag} again, or say found or renewed."
    _say(state.flags, Flag("short", part, entry.id, text, mend), ("short", bag, name))


def _say(flags: Flags, flag: Flag, cause: Cause) -> None:
    """The flag is raised; one that is open already says the newest count, and keeps the entry that raised it."""
    flags.raise_(cause, flag.part, flag.entry, flag.text, flag.mend)
    flags.worsen(cause, flag.text, flag.mend)


def lost(state: State, entry: Entry) -> None:
    """Something is missing: a small thing out of its bag, or the part itself."""
    said = entry.said
    plan = state.plan.parts[said["part"]]
    name, number = said.get("item"), said.get("count") or 1
    bag = _bag_of(state, plan.id, said.get("bag"))
    if name is not None and bag is not None:
        there = state.bags[bag]
        there.holds[name] = max(0, there.holds.get(name, 0) - number)
        _raise_short(state, entry, bag, name)
        return
    number += state.missing.get((plan.id, name), 0)
    state.missing[plan.id, name] = number
    what = f"{number} × {name} of {plan.title}" if name else plan.title if number == 1 else f"{number} × {plan.title}"
    text = f"{what} {'is' if number == 1 else 'are'} missing."
    mend = "Look for it under the bench and in the bags beside; say found or renewed."
    _say(state.flags, Flag("short", plan.id, entry.id, text, mend), ("short", None, plan.id, name))


def found(state: State, entry: Entry) -> None:
    """Something turned up."""
    said = entry.said
    _back_again(state, said["part"], said.get("item"), said.get("count") or 1, said.get("bag"))


def renew(state: State, entry: Entry) -> None:
    """A new one is here: into stock, in place of what was missing; and a new part has no old readings."""
    said = entry.said
    part, name = said["part"], said.get("item")
    number = 1 if said.get("count") is None else said["count"]
    state.stock[part, name] = state.stock.get((part, name), 0) + number
    _back_again(state, part, name, number, None)
    if name is None:
        judged.forget(state, part)


def _back_again(state: State, part: str, name: str | None, number: int, bag: str | None) -> None:
    missing = state.missing.get((part, name), 0)
    if missing:
        state.missing[part, name] = max(0, missing - number)
        number = max(0, number - missing)
        if not state.missing[part, name]:
            state.flags.mend("short", None, part, name)
    if name is None or not number:
        return
    for where in _bags_of(state, part, bag):
        wanted = state.expected(where).get(name, 0)
        there = state.bags[where]
        if there.holds.get(name, 0) < wanted:
            there.holds[name] = min(wanted, there.holds.get(name, 0) + number)
            if there.holds[name] >= wanted:
                state.flags.mend("short", where, name)
            return


def _bags_of(state: State, part: str, bag: str | None) -> list[str]:
    mine = [state.lies.get(piece) for piece in state.plan.parts[part].slots]
    return [where for where in mine if where is not None and bag in (None, where)]


def _bag_of(state: State, part: str, bag: str | None) -> str | None:
    return next(iter(_bags_of(state, part, bag)), None)


def went_on(state: State, plan: PartPlan, slot: Slot) -> None:
    """The part is fitted again: what was missing of it, or left over, is settled by that."""
    if not state.flags.any_standing:
        return
    still_off = state.pieces_off(plan.id)
    still_lie_in = {state.lies.get(state.empty[other]) for other in still_off}
    for kind in ("short", "over"):
        for cause in state.flags.standing(kind, plan.id):
            bag = cause[1]
            if (bag not in still_lie_in) if bag is not None else not still_off:
                state.flags.mend(*cause)
    if not still_off:
        for key in [key for key in state.missing if key[0] == plan.id]:
            del state.missing[key]


def finish(state: State, entry: Entry) -> None:
    """The job is said to be done: no part may be left over, and no tool out."""
    for part in dict.fromkeys(part for part, _ in state.empty):
        plan = state.plan.parts[part]
        slots = state.pieces_off(part)
        bags = [bag for slot in slots if (bag := state.lies.get(state.empty[slot]))]
        where = f" in {'bag' if len(bags) == 1 else 'bags'} {listed(bags)}" if bags else ""
        names = listed([str(place) for _, place in slots if place])
        text = f"{plan.title}{f' ({names})' if names else ''} is left over{where}: the job was finished without it."
        state.flags.raise_(
            ("over", None, part), part, entry.id, text, f"Fit {plan.title}, or say that this machine lacks it."
        )
    for name, box in state.tools.items():
        if box.out:
            _raise_tool(state, entry, name, f"{name} is still out: the job was finished without it.")


# -- tools ---------------------------------------------------------------------------------------------------------


def tool(state: State, entry: Entry) -> None:
    """A tool was borrowed or brought back."""
    name = entry.said["tool"]
    box = state.tools.setdefault(name, ToolBox())
    if entry.said["way"] == "out":
        box.out += 1
        box.most_out = max(box.most_out, box.out)
        return
    box.out = max(0, box.out - 1)
    if not box.out:
        state.flags.mend("tool-out", name)


def _count_tools(state: State, entry: Entry, tools: Mapping[str, int]) -> None:
    for name, box in state.tools.items():
        listed = tools.get(name)
        if listed is None:
            if box.out:
                _raise_tool(state, entry, name, f"{name} was lent out, not brought back, and not counted.")
        elif listed < box.most_out:
            _raise_tool(state, entry, name, f"{name}: {listed} counted, but {box.most_out} were out at once.")
        else:
            box.out = box.most_out = 0
            state.flags.mend("tool-out", name)


def _raise_tool(state: State, entry: Entry, name: str, text: str) -> None:
    mend = f"Find {name}, bring it back and say so, or count again with it."
    state.flags.raise_(("tool-out", name), None, entry.id, text[:1].upper() + text[1:], mend)
