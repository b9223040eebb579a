"""What people say besides the work itself: notes, hands up, flags set aside, what is wanted, that the job is done."""

from fingertight.ledger.entry import Entry
from fingertight.ledger.folds import counted, fitted, judged, tightened
from fingertight.ledger.state import State


def note(state: State, entry: Entry) -> None:
    """A remark, a picture, a wiring map; of a part that wants it recorded, it is that record."""
    said = entry.said
    part = said.get("part")
    if part is None:
        return
    recorded = state.recorded.setdefault(part, set())
    recorded.update(what for what in ("photo", "wiring") if said.get(what))
    if all(what in recorded for what in state.plan.parts[part].record):
        state.flags.mend("unrecorded", part)


def help_(state: State, entry: Entry) -> None:
    """Hand up, hand down."""
    state.help_asked = entry.id if entry.said["state"] == "asked" else None


def aside(state: State, entry: Entry) -> None:
    """The instructor lets a flag stand; anybody else's word does not count."""
    if entry.by_instructor:
        state.flags.set_aside(entry.said["entry"], entry.said["flag"])


def aim(state: State, entry: Entry) -> None:
    """Only some parts are wanted; nothing is flagged for it: whatever else comes off is as lawful as before."""
    state.aim, state.way = tuple(entry.said["parts"]), tuple(entry.said["way"])


def finish(state: State, entry: Entry) -> None:
    """The job is said to be done. It is, when nothing is left open."""
    counted.finish(state, entry)
    judged.finish(state, entry)
    tightened.finish(state, entry)
    fitted.finish(state, entry)
    state.finished = not state.flags.open()
