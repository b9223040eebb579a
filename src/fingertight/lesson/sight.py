"""What is missing at a bench: since when, and which entry had it in sight last. A place to begin looking, no blame."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from fingertight.ledger.entry import Entry
from fingertight.ledger.flags import Cause
from fingertight.ledger.replay import Ledger, fold
from fingertight.ledger.state import Slot, State

ON_THE_MACHINE: Final = "on the machine"
IN_NO_BAG: Final = "off, in no bag"
LENT: Final = "lent out"
BROUGHT_BACK: Final = "brought back"
COUNTED: Final = "counted with the tools"


@dataclass(frozen=True, slots=True)
class Missing:
    """Something out of sight. what, sentence: its name, and what is so now; since: when its flag was raised or the tool
    went out; last_seen, last_by, where: when, by whom and where an entry had it in sight last [s since 1970]. Where no
    entry ever had, last_by and where are "" and last_seen is `since`."""

    what: str
    sentence: str
    since: float
    last_seen: float
    last_by: str
    where: str


@dataclass(frozen=True, slots=True)
class _Sought:
    """What to look for in the log, by the cause of its flag (a tool that is out has the cause it would have): a tool,
    or a thing (`name`, "" for the part itself) of these pieces."""

    cause: Cause
    what: str
    sentence: str
    tool: str = ""
    name: str = ""
    pieces: frozenset[Slot] = frozenset()


@dataclass(frozen=True, slots=True)
class _Sight:
    """One look at it."""

    when: float
    by: str
    where: str


def missing_of(ledger: Ledger) -> tuple[Missing, ...]:
    """What is missing at this bench, the longest missing first?

    That is what an open flag calls short or a tool out, and each tool that is out, flagged or not. A thing was in sight
    when a count of its bag was right, when its part came off or went on; a tool when it was lent, when the last one
    came back, or at a right count. What is struck through saw nothing.

    >>> from fingertight.anatomy.model import Anatomy
    >>> from fingertight.ledger import Plan
    >>> box = Anatomy.model_validate({"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}]})
    >>> ledger = Ledger(Plan(box))
    >>> said = {"kind": "tool", "by": "s-07", "tool": "puller", "way": "out"}
    >>> ledger.hear({"id": "1", "at": "2026-03-05T09:00:00Z", **said})
    True
    >>> [(missing.sentence, missing.last_by) for missing in missing_of(ledger)]
    [('Puller is out.', 's-07')]
    """
    state = ledger.state
    is_open = {(flag.entry, flag.kind) for flag in state.flags.open()}
    sought = [*_things(state), *_tools(state)]
    sights: dict[Cause, _Sight] = {}
    raised: dict[Cause, Entry] = {}
    went_out: dict[str, float] = {}
    for entry, before in _steps(ledger) if sought else ():
        if entry.kind == "tool" and entry.said["way"] == "out" and not _are_out(before, entry.said["tool"]):
            went_out[entry.said["tool"]] = entry.when
        for one in sought:
            if not before.flags.stands(*one.cause):
                # The last entry before which it did not stand is the one that raised it.
                raised[one.cause] = entry
            if where := _tool_seen(one, entry, before) if one.tool else _thing_seen(one, entry, before):
                sights[one.cause] = _Sight(entry.when, entry.by, where)
    found = []
    for one in sought:
        by = raised[one.cause]
        is_out = bool(one.tool) and _are_out(state, one.tool)
        if not is_out and (by.id, one.cause[0]) not in is_open:
            continue  # the instructor set it aside
        since = went_out[one.tool] if is_out else by.when
        sight = sights.get(one.cause, _Sight(since, "", ""))
        found.append(Missing(one.what, one.sentence, since, sight.when, sight.by, sight.where))
    return tuple(sorted(found, key=lambda missing: missing.since))


def _steps(ledger: Ledger) -> Iterator[tuple[Entry, State]]:
    """Each entry that stands, with the state as it was before it."""
    state = State(ledger.plan)
    struck = ledger.struck()
    for entry in ledger.entries:
        if entry.id not in struck:
            yield entry, state
            fold(state, entry)


# -- what to look for ----------------------------------------------------------------------------------------------


def _things(state: State) -> Iterator[_Sought]:
    """What is short; whether its flag is open or set aside is not known yet."""
    plan = state.plan
    for cause in state.flags.standing("short"):
        if cause[1] is not None:
            bag, name = str(cause[1]), str(cause[2])
            there = state.bags[bag]
            number = max(1, state.expected(bag).get(name, 0) - there.holds.get(name, 0))
            part = there.pieces[0][0] if there.pieces else there.last_part
            pieces = there.pieces or (plan.parts[part].slots if part else ())
            what, of = _many(number, name), f" of {plan.parts[part].title}" if part else ""
            sentence = f"{what}{of} {_is(number)} not in bag {bag}."
            yield _Sought(cause, what, sentence, name=name, pieces=frozenset(pieces))
        else:
            lost, thing = plan.parts[str(cause[2])], str(cause[3] or "")
            number = state.missing.get((lost.id, thing or None), 1)
            what = _many(number, thing or lost.title)
            sentence = f"{what}{f' of {lost.title}' if thing else ''} {_is(number)} missing."
            yield _Sought(cause, what, sentence, name=thing, pieces=frozenset(lost.slots))


def _tools(state: State) -> Iterator[_Sought]:
    for tool, box in state.tools.items():
        cause = ("tool-out", tool)
        if box.out:
            name = tool[:1].upper() + tool[1:]
            sentence = f"{name} is out." if box.out == 1 else f"{box.out} × {tool} are out."
            yield _Sought(cause, _many(box.out, tool), sentence, tool=tool)
        elif state.flags.stands(*cause):
            # All came back, and yet the count had fewer than were out at once.
            yield _Sought(cause, tool, f"Fewer of {tool} were counted than were out at once.", tool=tool)


def _many(number: int, name: str) -> str:
    return name if number == 1 else f"{number} × {name}"


def _is(number: int) -> str:
    return "is" if number == 1 else "are"


def _are_out(state: State, tool: str) -> bool:
    return tool in state.tools and state.tools[tool].out > 0


# -- who had it in sight: where it was then, or "" -------------------------------------------------------------------


def _tool_seen(sought: _Sought, entry: Entry, before: State) -> str:
    said = entry.said
    box = before.tools.get(sought.tool)
    if entry.kind == "tool" and said["tool"] == sought.tool:
        if said["way"] == "out":
            return LENT
        # With others of its kind still out, the one that came back is not the one that is missing.
        return BROUGHT_BACK if box is None or box.out <= 1 else ""
    if entry.kind == "count" and box is not None and (said.get("tools") or {}).get(sought.tool, 0) >= box.most_out > 0:
        return COUNTED
    return ""


def _thing_seen(sought: _Sought, entry: Entry, before: State) -> str:
    said = entry.said
    if entry.kind == "count":
        return next(_right_counts(sought, (said.get("bags") or {}).items(), before), "")
    slot = (said.get("part"), said.get("place"))
    if entry.kind not in ("off", "on") or slot not in sought.pieces:
        return ""
    if entry.kind == "on":
        return ON_THE_MACHINE
    bag, counts = said.get("bag"), said.get("counts")
    if slot not in before.empty:
        # Whoever takes the part off has all of it before them; what they count short never came into the bag.
        holds = before.plan.parts[slot[0]].holds.get(sought.name, 0)
        if (counts or {}).get(sought.name, holds) < holds:
            return ON_THE_MACHINE
        return f"in bag {bag}" if bag else IN_NO_BAG
    # It is off already: only a right count says that somebody looked.
    return next(_right_counts(sought, [(bag, counts)] if bag and counts else [], before), "")


def _right_counts(sought: _Sought, counted: Iterable[tuple[str, dict[str, int]]], before: State) -> Iterator[str]:
    """The bags of these that hold a piece we look for, and were counted with all that was asked of them there."""
    for bag, counts in counted:
        if not any(before.lies.get(piece) == bag for piece in sought.pieces):
            continue
        expected = before.expected(bag)
        asked = [sought.name] if sought.name else list(expected)
        if asked and all(counts.get(name, 0) >= expected.get(name, 0) > 0 for name in asked):
            yield f"in bag {bag}"
