"""`learn`: who blocks whom, from bench logs of any kind and a few answers."""

import json
import sys
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from fingertight.cli.terminal import Misused, called, command, read_bytes, say, write, write_whole

if TYPE_CHECKING:
    from fingertight.cards.record.learned import LearnedCard, LearnedPart
    from fingertight.order.learn import Answer, Learned, Strip

WIDE = 100
SAID = {
    "y": "yes",
    "yes": "yes",
    "n": "no",
    "no": "no",
    "?": "don't know",
    "d": "don't know",
    "don't know": "don't know",
}


def add_parser(commands: Any) -> None:
    """Add `learn` to the commands."""
    learn = command(
        commands,
        "learn",
        "who blocks whom, learned from bench logs and a few answers",
        "Reads what came off in which order out of bench logs and says what must be off before what: sure, or only\n"
        "likely. With --ask it asks the question that settles most, again and again: y, n, ? for don't know, an empty\n"
        "line stops. --answers keeps them in a file, an answer a line. With -o a machine file is written.",
        "fingertight learn examples/logs/hand-winch.jsonl",
    )
    learn.add_argument("logs", metavar="LOG", nargs="+", help="a bench log, an entry a line; each is one strip")
    learn.add_argument("--answers", metavar="FILE", default="", help="answers given before; new ones are added to it")
    learn.add_argument("--ask", action="store_true", help="ask at the terminal until an empty line is typed")
    learn.add_argument("--ways", action="store_true", help="ask about parts that come off in several ways, too")
    learn.add_argument("--name", default="Learned machine", help="what the machine is called in its file")
    learn.add_argument("-o", "--output", metavar="FILE.toml", default="", help="write the machine file")
    learn.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print what is known, and write the file where one is asked for."""
    from fingertight.cards.record.learned import learned_card, learned_text
    from fingertight.order.learn import learn, next_question

    if options.output and not options.output.endswith(".toml"):
        raise Misused(f"--output: {options.output} is no name of a machine file; write one that ends in .toml.")
    strips = [_strip(path) for path in options.logs]
    learned = learn(strips, _answers(options.answers))
    if options.ask:
        learned = _asked(options, learned)
    if options.output:
        day = _day()
        try:
            text = learned_text(options.name, learned, day)
        except ValueError:
            raise Misused("No part came off in any of these logs: there is no machine to write.") from None
        write_whole(Path(options.output), text.encode())
    card = learned_card(learned, next_question(learned, ways=options.ways))
    return say(options, card, learned_page, 1 if card.contradictions else 0)


def _day() -> str:
    from datetime import UTC, datetime

    return datetime.now(UTC).astimezone().date().isoformat()


def _strip(path: str) -> "Strip":
    from fingertight.lesson.record.strips import strip_in
    from fingertight.store.log.lines import read_lines
    from fingertight.store.log.promise import Refused

    try:
        sent = read_lines(read_bytes(path), called(path))
    except Refused as refused:
        raise Misused("\n".join(refused.sentences)) from None
    return strip_in((json.loads(line.body) for line in sent), called(path))


def _answers(path: str) -> "list[Answer]":
    """The answers in a file; none where it is not there yet. Raises Misused."""
    from fingertight.order.learn import Answer

    if not path or not Path(path).exists():
        return []
    found = []
    for number, line in enumerate(read_bytes(path).decode("utf-8", "replace").splitlines(), 1):
        try:
            said = json.loads(line)
            answer = Answer(str(said["part"]), tuple(map(str, said["on"])), SAID[said["said"]], str(said["by"]))  # type: ignore[arg-type]
        except (ValueError, KeyError, TypeError):
            raise Misused(
                f"{path}, line {number}: this is no answer. Write it as "
                '{"part": "fan", "on": ["guard"], "said": "no", "by": "Ann"}, or leave the line out.'
            ) from None
        found.append(answer)
    return found


def _asked(options: Namespace, learned: "Learned") -> "Learned":
    """Ask at the terminal until nothing is left, or an empty line is typed."""
    from fingertight.cards.record.asking import question_sentence
    from fingertight.order.learn import heard, next_question

    while question := next_question(learned, ways=options.ways):
        write(sys.stderr, f"{question_sentence(question)} [y, n, ? or nothing to stop]")
        typed = sys.stdin.buffer.readline().decode("utf-8", "replace").strip().casefold()
        if not typed:
            break
        if typed not in SAID:
            write(sys.stderr, "Type y for yes, n for no, ? for don't know, or nothing to stop.")
            continue
        answer = question.answered(SAID[typed], "the terminal")  # type: ignore[arg-type]
        if options.answers:
            line = {"part": answer.part, "on": list(answer.on), "said": answer.said, "by": answer.by}
            with Path(options.answers).open("a", encoding="utf-8") as file:
                file.write(json.dumps(line, ensure_ascii=False) + "\n")
        learned = heard(learned, answer)
    return learned


def learned_page(card: "LearnedCard") -> str:
    """What is known, part by part; what does not go together; what to ask next."""
    return "\n".join(_lines(card))


def _lines(card: "LearnedCard") -> Iterator[str]:
    yield f"{card.sentence}."
    yield ""
    wide = max((len(one.part) for one in card.parts), default=0)
    for one in card.parts:
        yield from wrap(f"{one.part:{wide}}  {_waits(one)}", WIDE, subsequent_indent=" " * (wide + 2))
    if card.contradictions:
        yield from ("", "This does not go together")
    for said in card.contradictions:
        yield from wrap(said, WIDE, initial_indent="  ", subsequent_indent="    ")
    yield from ("", f"Ask next: {card.asked}" if card.asked else "Nothing is left to ask.")


def _waits(one: "LearnedPart") -> str:
    said = []
    if one.surely:
        said.append(f"after {', '.join(one.surely)}")
    if one.likely:
        said.append(f"likely after {', '.join(one.likely)}")
    if one.ways:
        said.append("by " + " or ".join(" and ".join(way) for way in one.ways))
    return "; ".join(said) or "waits for nothing"
