"""Every entry of a job as a sentence, and which may be undone."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.ledger.entry import Entry
from fingertight.ledger.flags import Flag
from fingertight.ledger.plan import Plan, listed
from fingertight.ledger.replay import Ledger
from fingertight.lesson.record.recording import A_PHOTO
from fingertight.quantity import plain, unit_named

Said = Mapping[str, Any]
STATUS = {"open": "Open", "mended": "Mended", "aside": "Set aside"}


@dataclass(frozen=True)
class LogLine(Card):
    """One entry. `act` is what its button says; without one it cannot be undone, being struck through already."""

    entry: str
    when: str
    by: str
    sentence: str
    struck: bool
    act: str


@dataclass(frozen=True)
class RaisedFlag(Card):
    """A flag that was ever raised, and what became of it."""

    status: str
    text: str


@dataclass(frozen=True)
class LogCard(Card):
    """The whole log, newest first."""

    job: str
    title: str
    machine: str
    sentence: str
    lines: tuple[LogLine, ...]
    flags: tuple[RaisedFlag, ...]


def log_card(job: str, title: str, machine: str, ledger: Ledger, names: Mapping[str, str] | None = None) -> LogCard:
    """What was done at this bench, and by whom? names: what people are called, by the id that entries name."""
    called = names or {}
    lines = tuple(replace(line, by=called.get(line.by, line.by)) for line in log_lines(ledger))
    struck = sum(line.struck for line in lines)
    sentence = f"{counted(len(lines), 'entry')}, newest first" + (f"; {struck} struck through" if struck else "")
    flags = tuple(RaisedFlag(STATUS[flag.status], flag.text) for flag in ledger.state.flags)
    return LogCard(job, title, machine, sentence, lines[::-1], flags)


def log_lines(ledger: Ledger) -> tuple[LogLine, ...]:
    """The entries in the order they count."""
    entries = ledger.entries
    struck = ledger.struck()
    known = {entry.id: entry for entry in entries}
    return tuple(_line(entry, known, entry.id in struck, ledger.plan) for entry in entries)


def last_line(ledger: Ledger) -> LogLine | None:
    """The last entry alone, however long the log is; nothing when nothing was done yet."""
    entries = ledger.entries
    if not entries:
        return None
    last = entries[-1]
    undone = last.said.get("entry") if last.kind == "undo" else None
    known = {entry.id: entry for entry in entries if entry.id == undone} if undone else {}
    return _line(last, known, ledger.is_struck(last.id), ledger.plan)


def _line(entry: Entry, known: Mapping[str, Entry], struck: bool, plan: Plan) -> LogLine:
    at = str(entry.said.get("at", ""))
    act = "" if struck else "Bring it back" if entry.kind == "undo" else "Undo"
    return LogLine(entry.id, f"{at[:10]} {at[11:16]}", entry.by, in_words(entry, plan, known), struck, act)


def in_words(entry: Entry, plan: Plan, known: Mapping[str, Entry]) -> str:
    """The entry as a sentence that names things; `known` gives an undo the entry it strikes through."""
    if entry.kind != "undo":
        return WORDS[entry.kind](entry.said, plan)
    undone = known.get(str(entry.said["entry"]))
    return f"Undone: {in_words(undone, plan, {})}" if undone and undone.kind != "undo" else "An undo was taken back."


def flag_title(flag: Flag, plan: Plan) -> str:
    """The part a flag is about, for people; "" where it is about none."""
    return plan.parts[flag.part].piece_name(flag.place) if flag.part else ""


def _piece(said: Said, plan: Plan) -> str:
    return plan.parts[said["part"]].piece_name(said.get("place"))


def _absent(said: Said, plan: Plan) -> str:
    return f"This machine has no {_piece(said, plan)}."


def _off(said: Said, plan: Plan) -> str:
    return f"{_piece(said, plan)} came off" + (f" into bag {said['bag']}." if said.get("bag") else ".")


def _on(said: Said, plan: Plan) -> str:
    return f"{_piece(said, plan)} went on" + (f" from bag {said['bag']}." if said.get("bag") else ".")


def _tighten(said: Said, plan: Plan) -> str:
    fasteners = plan.parts[said["part"]].sets[said["set"]]
    what = f"{fasteners.how_many} × {fasteners.counted_as}" if fasteners.counted_as else "the set"
    unit = unit_named(said["unit"]).name
    return f"{_piece(said, plan)}: {what} had pass {said['pass'] + 1} at {plain(said['torque'])} {unit}."


def _reading(said: Said, plan: Plan) -> str:
    spots = (
        " ".join(text for text in (each.get("at"), each.get("across"), plain(each["value"])) if text)
        for each in said["values"]
    )
    return f"{plan.anatomy.check_by_id[said['check']].title} measured, {said['unit']}: {'; '.join(spots)}."


def _decide(said: Said, plan: Plan) -> str:
    return f"The instructor decided: {plan.anatomy.check_by_id[said['check']].title} is {said['verdict']}."


def _set(said: Said, plan: Plan) -> str:
    title = plan.anatomy.setting_by_id[said["setting"]].title
    if said.get("value") is None:
        return f"{title}: “{said.get('answer', '')}”."
    return f"{title} set to {plain(said['value'])} {said.get('unit', '')}".rstrip() + "."


def _sign(said: Said, plan: Plan) -> str:
    return f"{plan.anatomy.sign_by_id[said['sign']].title}: signed."


def _thing(said: Said, plan: Plan) -> str:
    count, thing = said.get("count") or 1, said.get("item")
    many = f"{count} × " if count > 1 else ""
    return f"{many}{thing} of {_piece(said, plan)}" if thing else f"{many}{_piece(said, plan)}"


def _renew(said: Said, plan: Plan) -> str:
    return f"New one here: {_thing(said, plan)}."


def _lost(said: Said, plan: Plan) -> str:
    return f"Missing: {_thing(said, plan)}."


def _found(said: Said, plan: Plan) -> str:
    return f"Turned up: {_thing(said, plan)}."


def _count(said: Said, plan: Plan) -> str:
    bags = [
        f"bag {bag} has {listed(f'{number} × {name}' for name, number in counts.items()) or 'nothing'}"
        for bag, counts in (said.get("bags") or {}).items()
    ]
    tools = [f"{number} × {tool}" for tool, number in (said.get("tools") or {}).items()]
    return f"Counted: {'; '.join([*bags, *tools]) or 'nothing'}."


def _tool(said: Said, plan: Plan) -> str:
    return f"{said['tool']} {'borrowed' if said['way'] == 'out' else 'brought back'}."


def _note(said: Said, plan: Plan) -> str:
    told = "; ".join(_noted(label, str(said[key])) for key, label in _NOTED if said.get(key))
    return f"Noted{f' of {_piece(said, plan)}' if said.get('part') else ''}: {told.rstrip('.')}."


def _noted(label: str, text: str) -> str:
    """What was noted; a picture that is kept is one, its id is no name for people."""
    return "a photo" if A_PHOTO.match(text) else f"{label}{text}"


_NOTED = (("text", ""), ("photo", "photo: "), ("wiring", "wiring: "))


def _help(said: Said, plan: Plan) -> str:
    return "Help was asked for." if said["state"] == "asked" else "Help was given."


def _aside(said: Said, plan: Plan) -> str:
    return f"The instructor lets it stand ({said['flag']}): {said['reason']}"


def _aim(said: Said, plan: Plan) -> str:
    if not said["parts"]:
        return "All of it after all."
    return f"Only {listed(plan.parts[part].title for part in said['parts'])}: {len(said['way'])} come off for it."


def _finish(said: Said, plan: Plan) -> str:
    return "Said to be finished."


WORDS: Final[dict[str, Callable[[Said, Plan], str]]] = {
    "absent": _absent,
    "off": _off,
    "on": _on,
    "tighten": _tighten,
    "reading": _reading,
    "decide": _decide,
    "set": _set,
    "sign": _sign,
    "renew": _renew,
    "lost": _lost,
    "found": _found,
    "count": _count,
    "tool": _tool,
    "note": _note,
    "help": _help,
    "aside": _aside,
    "aim": _aim,
    "finish": _finish,
}
