"""`check`, `moves` and `replay`: what follows from a machine file, and from a log beside it."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from fingertight.cli.terminal import Misused, called, command, nearest, read_bytes, read_text, say

if TYPE_CHECKING:
    from fingertight.anatomy.model import Anatomy
    from fingertight.ledger.entry import Entry
    from fingertight.ledger.plan import Plan


def add_parser(commands: Any) -> None:
    """Add `check`, `moves` and `replay` to the commands."""
    check = command(
        commands,
        "check",
        "every mistake of a machine file: line, what, how to mend",
        "Reads machine files and lists all their mistakes at once, each with its line and how to mend it.",
        "fingertight check examples/bench-vice.toml",
    )
    check.add_argument("anatomies", metavar="ANATOMY", nargs="+", help="a machine file, or - for standard input")
    check.set_defaults(run=run_check)

    moves = command(
        commands,
        "moves",
        "what may come off next, what may go on, and what is in the way",
        "With these parts off: what may come off, what may go on, and for all others what is in the way.",
        "fingertight moves examples/bench-vice.toml --off tommy-bar,slide",
    )
    moves.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    moves.add_argument("--off", metavar="A,B,C", default="", help="the parts that are off, by id (none, if left out)")
    moves.set_defaults(run=run_moves)

    replay = command(
        commands,
        "replay",
        "where everything is, and what is wrong, after a log",
        "Goes through a bench log from its first entry to its last:\n"
        "where everything is, what was measured, what is wrong. Exit status 1 while a flag is open.",
        "fingertight replay examples/bench-vice.toml examples/logs/bench-vice.jsonl",
    )
    replay.add_argument("anatomy", metavar="ANATOMY", help="a machine file, or - for standard input")
    replay.add_argument("log", metavar="LOG", help="a bench log, an entry a line, or - for standard input")
    replay.set_defaults(run=run_replay)


def run_check(options: Namespace) -> int:
    """Print every mistake of every file."""
    from fingertight.cards.check import check_card
    from fingertight.cli.pages import check_page

    texts = [(name, read_text(name)) for name in options.anatomies]
    card = check_card(texts)
    return say(options, card, check_page, 0 if card.ok else 1)


def run_moves(options: Namespace) -> int:
    """Print what may be done when these parts are off."""
    from fingertight.cards.moves import moves_card
    from fingertight.cli.pages import moves_page

    anatomy = read_machine(options.anatomy)
    off = [part.strip() for part in options.off.split(",") if part.strip()]
    known(off, anatomy)
    stays = [part for part in off if anatomy.part_by_id[part].stays]
    if stays:
        raise Misused(f"--off: {anatomy.part_by_id[stays[0]].title} ({stays[0]}) stays, it is never off. Leave it out.")
    return say(options, moves_card(anatomy, off), moves_page, 0)


def run_replay(options: Namespace) -> int:
    """Print where a job stands."""
    from fingertight.cards.replay import replay_card
    from fingertight.cli.pages import replay_page
    from fingertight.ledger.plan import Plan
    from fingertight.ledger.replay import Ledger

    if options.anatomy == options.log == "-":
        raise Misused("Only one of ANATOMY and LOG can come from standard input. Give the other as a file.")
    plan = Plan(read_machine(options.anatomy))
    card = replay_card(Ledger(plan, read_log(options.log, plan)))
    return say(options, card, replay_page, 1 if card.open_flags else 0)


def read_log(path: str, plan: "Plan") -> "list[Entry]":
    """The entries of a log file.

    Raises Misused with a sentence for each line that is no entry of this machine's log.
    """
    import json

    from fingertight.ledger.entry import NotAnEntry, read_entry
    from fingertight.store.log.lines import MOST_SENTENCES, read_lines
    from fingertight.store.log.promise import Refused

    raw = read_bytes(path)
    try:
        sent = read_lines(raw, called(path))
    except Refused as refused:
        raise Misused("\n".join(refused.sentences)) from None
    numbers = (number for number, line in enumerate(raw.split(b"\n"), 1) if line.strip())
    entries, wrong = [], []
    for number, line in zip(numbers, sent, strict=True):
        try:
            entries.append(read_entry(json.loads(line.body), plan))
        except NotAnEntry as refused:
            wrong.append(f"{called(path)}, line {number}: {refused}")
    if len(wrong) > MOST_SENTENCES:
        wrong[MOST_SENTENCES:] = [
            f"{called(path)}: {len(wrong) - MOST_SENTENCES} more lines are no entries of this machine."
        ]
    if wrong:
        raise Misused("\n".join(wrong))
    return entries


def read_machine(path: str) -> "Anatomy":
    """The anatomy in a file.

    Raises Misused, listing the mistakes, when it has any. A machine that can never be stripped is read all the same.
    """
    return machine_in(read_text(path), path)


def machine_in(text: str, path: str) -> "Anatomy":
    """The anatomy in the text of this file; raises Misused as `read_machine` does."""
    from fingertight.anatomy.read import read
    from fingertight.cli.pages import many, mistake_lines

    reading = read(text)
    if reading.anatomy is None:
        listed = "\n".join(mistake_lines(mistake) for mistake in reading.mistakes)
        raise Misused(
            f"{called(path)} has {many(len(reading.mistakes), 'mistake')}, mend what it says first:\n{listed}"
        )
    return reading.anatomy


def known(parts: list[str], anatomy: "Anatomy") -> None:
    """Raises Misused for a part that the machine does not have, with the one that may be meant."""
    for part in parts:
        if part not in anatomy.part_by_id:
            raise Misused(f"{anatomy.machine.name} has no part “{part}”.{nearest(part, list(anatomy.part_by_id))}")
