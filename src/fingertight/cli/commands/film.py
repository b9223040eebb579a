"""`chapters`: a film's chapters from a demonstration log, or a log from a film's captions. The film is not opened."""

from argparse import Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.machine import machine_in, read_log
from fingertight.cli.terminal import Misused, called, command, nearest, read_bytes, read_text, say, write_whole

if TYPE_CHECKING:
    from fingertight.anatomy.model import Anatomy
    from fingertight.cards.film.chapters import ChaptersCard
    from fingertight.cards.film.found import FoundCard
    from fingertight.ledger.replay import Ledger
    from fingertight.lesson.film.captions.found import Found, Puts
    from fingertight.lesson.film.clock import Clock

WIDE = 100
MOST_NAMED = 8
FORMATS = ("vtt", "ffmetadata")
_WANTS_MARK = (
    "--mark lines the film up with the log: FILM=LOG, for example 0:42=2026-03-05T09:00:00+01:00, or with a part by "
    "its id, the moment it is off."
)


def add_parser(commands: Any) -> None:
    """Add `chapters` to the commands."""
    parser = command(
        commands,
        "chapters",
        "chapters of a demonstration's film from its log, or a log from its captions",
        "Gives each move of a demonstration log its place in the film: as a list, as WebVTT for a browser,\n"
        "as a metadata file for ffmpeg. With --captions instead of LOG, moves are looked for in the words of\n"
        "the film and proposed with their confidence; -o writes them as a log. The film itself is never opened.\n"
        "Exit status 1 when there is no chapter, or no move was found.",
        "fingertight chapters examples/bench-vice.toml examples/logs/bench-vice.jsonl --mark 0:42=slide",
    )
    parser.add_argument("anatomy", metavar="MACHINE", help="a machine file, or - for standard input")
    parser.add_argument("log", metavar="LOG", nargs="?", help="the log of the demonstration, or - for standard input")
    parser.add_argument(
        "--mark",
        metavar="FILM=LOG",
        action="append",
        default=[],
        help="one moment by both clocks: a time of the film, and a time of the log or a part (0:42=slide: when it is "
        "off; 9:10=on:slide: when it is on again); a second one where the film runs off",
    )
    parser.add_argument("--length", metavar="TIME", help="how long the film is, for example 48:20")
    parser.add_argument("--format", choices=FORMATS, help="print the chapters as that file, or write it with -o")
    parser.add_argument("-o", "--output", metavar="FILE", default="", help="the file to write")
    parser.add_argument("--captions", metavar="FILE", help="propose moves from these captions (WebVTT or SRT)")
    parser.add_argument(
        "--put",
        metavar="PART=TIME",
        action="append",
        default=[],
        help="a proposal dragged right: coil=8:40, on:coil=31:05, or coil=no where it is not in the film",
    )
    parser.add_argument(
        "--also", metavar="PART=WORDS", action="append", default=[], help="what else a part is called in the film"
    )
    parser.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print or write chapters, or what was found in captions."""
    inputs = [one for one in (options.anatomy, options.log, options.captions) if one is not None]
    if inputs.count("-") > 1:
        raise Misused("Only one file can come from standard input. Give the others as files.")
    if (options.log is None) == (options.captions is None):
        raise Misused("Give a LOG to make chapters from, or --captions to find the moves of one: one of the two.")
    if options.output in inputs:
        raise Misused(f"--output: {options.output} is read here and would be written over. Name another file.")
    if len(options.mark) > 2:
        raise Misused("--mark: one mark is enough, two where the film runs off; leave the others out.")
    return _found(options) if options.log is None else _chapters(options)


def _chapters(options: Namespace) -> int:
    from fingertight.cards.film.chapters import chapters_card
    from fingertight.ledger.plan import Plan
    from fingertight.ledger.replay import Ledger
    from fingertight.lesson.film.clock import film_time
    from fingertight.paper.film.written import ffmetadata, webvtt

    if options.put or options.also:
        raise Misused("--put and --also belong to --captions; a log says itself what was done when.")
    chosen = _format(options)
    if not options.mark:
        raise Misused(f"--mark is missing. {_WANTS_MARK}")
    with _about("--length"):
        length_s = film_time(options.length) if options.length is not None else None
    plan = Plan(machine_in(read_text(options.anatomy), options.anatomy))
    ledger = Ledger(plan, read_log(options.log, plan))
    card = chapters_card(ledger, _clock(options, ledger), length_s, options.output or None)
    status = 0 if card.chapters else 1
    if not chosen or not card.chapters:
        return say(options, card, chapters_page, status)
    text = webvtt(card) if chosen == "vtt" else ffmetadata(card)
    if options.output:
        _write(options.output, text)
        return say(options, card, chapters_page, status)
    return say(options, card, lambda _: text.rstrip("\n"), status)


def _format(options: Namespace) -> str:
    """Which file is meant: by its name, or as asked. Machine files and logs are not written over by a slip."""
    name = options.output.lower()
    if name.endswith((".toml", ".jsonl")):
        raise Misused(f"--output: {options.output} is a name of a machine file or a log; write one that ends in .vtt.")
    if options.format is None and name and not name.endswith(".vtt"):
        raise Misused(f"--output: {options.output} does not end in .vtt; say --format vtt or --format ffmetadata.")
    return str(options.format or ("vtt" if name else ""))


def _found(options: Namespace) -> int:
    import json

    from fingertight.cards.film.found import found_card
    from fingertight.lesson.film.captions.drafted import drafted
    from fingertight.lesson.film.captions.found import found
    from fingertight.paper.film.captions import NotCaptions, read_captions

    if options.format or options.length is not None:
        raise Misused("--format and --length belong to a LOG: write the log first with -o, then make its chapters.")
    if options.output and not options.output.lower().endswith(".jsonl"):
        raise Misused(f"--output: {options.output} is no name of a log; write one that ends in .jsonl.")
    if options.output and not options.mark:
        raise Misused(f"--mark is missing: a log needs the time of day. {_WANTS_MARK}")
    text = read_text(options.anatomy)
    anatomy = machine_in(text, options.anatomy)
    puts, also = _puts(options.put, anatomy), _also(options.also, anatomy)
    clock = _clock(options, None) if options.mark else None
    raw = read_bytes(options.captions)
    try:
        captions = read_captions(raw, called(options.captions))
    except NotCaptions as refused:
        raise Misused("\n".join(refused.sentences)) from None
    moves = found(anatomy, captions.cues, puts, also)
    card = found_card(anatomy, moves, captions.says, options.output or None)
    if clock and options.output and moves.proposals:
        ids = _ids(anatomy, moves, text.encode() + b"\x00" + raw)
        entries = drafted(anatomy, moves.proposals, clock, ids, "film")
        _write(options.output, "".join(json.dumps(entry, ensure_ascii=False) + "\n" for entry in entries))
    return say(options, card, found_page, 0 if card.proposals else 1)


def _ids(anatomy: "Anatomy", moves: "Found", made_from: bytes) -> list[str]:
    """An id for each entry, the same whenever the same log is made anew, and another once a move was dragged."""
    from hashlib import sha256
    from uuid import NAMESPACE_OID, uuid5

    from fingertight.lesson.film.captions.drafted import moves_of

    source = sha256(made_from).hexdigest()
    return [
        str(uuid5(NAMESPACE_OID, f"{source} {part} {place} {kind} {at_s:.3f}"))
        for one in moves.proposals
        for (part, place, kind), at_s in ((move, one.at_s) for move in moves_of(anatomy, [one]))
    ]


def _clock(options: Namespace, ledger: "Ledger | None") -> "Clock":
    from fingertight.lesson.film.clock import Clock, read_mark

    with _about("--mark"):
        return Clock.of(*(read_mark(typed, ledger) for typed in options.mark))


@contextmanager
def _about(option: str) -> Iterator[None]:
    """A refusal names the option it is about."""
    from fingertight.lesson.film.clock import NotLinedUp

    try:
        yield
    except NotLinedUp as refusal:
        raise Misused(f"{option}: {refusal}") from None


def _puts(typed: list[str], anatomy: "Anatomy") -> "Puts":
    from fingertight.lesson.film.clock import film_time

    puts: dict[tuple[str, Any], float | None] = {}
    for one in typed:
        named, _, at = one.partition("=")
        kind, _, part = named.strip().rpartition(":")
        if kind not in ("", "off", "on") or not at.strip():
            raise Misused(f"--put: “{one}” is no move; write PART=TIME: coil=8:40, on:coil=31:05 or coil=no.")
        _movable("--put", part, anatomy)
        with _about("--put"):
            puts[part, kind or "off"] = None if at.strip() == "no" else film_time(at)
    return puts


def _also(typed: list[str], anatomy: "Anatomy") -> dict[str, list[str]]:
    also: dict[str, list[str]] = {}
    for one in typed:
        part, _, words = one.partition("=")
        if not any(letter.isalnum() for letter in words):
            raise Misused(f"--also: “{one}” says no words; write PART=WORDS, for example coil=magneto.")
        _movable("--also", part.strip(), anatomy)
        also.setdefault(part.strip(), []).append(words)
    return also


def _movable(option: str, part: str, anatomy: "Anatomy") -> None:
    known = anatomy.part_by_id
    if part not in known:
        raise Misused(f"{option}: {anatomy.machine.name} has no part “{part}”.{nearest(part, list(known))}")
    if known[part].stays:
        raise Misused(f"{option}: {known[part].title} ({part}) stays, it is never off. Leave it out.")


def _write(file: str, text: str) -> None:
    from pathlib import Path

    write_whole(Path(file), text.encode())


def chapters_page(card: "ChaptersCard") -> str:
    """Each chapter with its place, or what was written; then what has none."""
    from fingertight.cli.pages import many

    count = many(len(card.chapters), "chapter")
    says = [line for sentence in card.says for line in wrap(sentence, WIDE)]
    if card.file and card.chapters:
        return "\n".join([f"{card.file}: {count} of {card.machine}.", *says])
    wide = max((len(one.ends) for one in card.chapters), default=0)
    lines = [f"  {one.starts:>{wide}} – {one.ends:>{wide}}  {one.title}" for one in card.chapters]
    return "\n".join([f"{card.machine}: {count}", *(["", *lines] if lines else []), *(["", *says] if says else [])])


def found_page(card: "FoundCard") -> str:
    """What was found, the less sure with why; what was not found; what was written."""
    return "\n".join(_found_lines(card))


def _found_lines(card: "FoundCard") -> Iterator[str]:
    from fingertight.cli.pages import many

    count = many(len(card.proposals), "move")
    yield f"{card.machine}: {count} found in the captions"
    if card.proposals:
        yield ""
    wide = max((len(one.at) for one in card.proposals), default=0)
    for one in card.proposals:
        yield f"  {one.at:>{wide}}  {one.confidence:.2f} {one.how:7}  {one.title}"
        if one.how in ("look", "likely"):
            yield from wrap(" ".join(one.reasons), WIDE, initial_indent=" " * 8, subsequent_indent=" " * 8)
    if card.proposals and card.missing:
        named = [card.titles[part] for part in card.missing[:MOST_NAMED]]
        more = len(card.missing) - len(named)
        named += [f"and {many(more, 'more part')}"] if more else []
        yield from ("", *wrap(f"Not found: {'; '.join(named)}.", WIDE))
    if card.says:
        yield from ("", *(line for sentence in card.says for line in wrap(sentence, WIDE)))
    if card.file and card.proposals:
        yield from ("", f"{card.file}: a log of {count}, to be looked through before it is used.")
