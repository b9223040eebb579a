"""Cards as pages of plain text, for people at a terminal."""

from fingertight.anatomy.mistakes import Mistake
from fingertight.cards.change.difference import HEADINGS, DifferenceCard
from fingertight.cards.check import CheckCard, FoundMistake
from fingertight.cards.moves import InTheWay, MovesCard
from fingertight.cards.order.whole import NoOrderCard, OrderCard, proof_sentence
from fingertight.cards.order.within import Reached, WithinCard
from fingertight.cards.printed import PrintedCard
from fingertight.cards.replay import FlagCard, Lies, ReadingCard, ReplayCard
from fingertight.quantity import plain

NEXT_BEYOND = 3


def check_page(card: CheckCard) -> str:
    """Each file with its mistakes under it."""
    lines = []
    for name in card.files:
        found = [mistake for mistake in card.mistakes if mistake.file == name]
        lines.append(f"{name}: {many(len(found), 'mistake') if found else 'no mistakes'}")
        lines += [mistake_lines(mistake) for mistake in found]
    return "\n".join(lines)


def mistake_lines(mistake: FoundMistake | Mistake) -> str:
    """Where and what in one line, how to mend it in the next."""
    return f"  line {mistake.line}, {mistake.where}: {mistake.text}\n    {mistake.mend}"


def difference_page(card: DifferenceCard) -> str:
    """How many changes, then each under what it is about, then what it means at a bench."""
    sections = [card.sentence]
    for kind, heading in HEADINGS.items():
        lines = [f"  {sentence}" for one in card.changes if one.kind == kind for sentence in one.sentences]
        if lines:
            sections.append("\n".join([heading, *lines]))
    if not card.same:
        benches = [f"  {sentence}" for sentence in card.benches] or ["  Nothing is different there."]
        sections.append("\n".join(["For a job that goes on with the new file", *benches]))
    return "\n\n".join(sections)


def order_page(card: OrderCard | NoOrderCard) -> str:
    """The steps, numbered, with what each asks for; then the cost."""
    if card.order is None:
        return card.because
    wide = max((len(step.part) for step in card.steps), default=0)
    wide_title = max((len(step.title) for step in card.steps), default=0)
    lines = [f"{card.machine}: {card.about}, {plain(card.cost_min)} min", ""]
    for number, step in enumerate(card.steps, 1):
        if step.turn_to:
            lines.append(f"      turn the machine: {step.turn_to}")
        named = f"{number:4}  {step.part:{wide}}  {step.title:{wide_title}}"
        lines.append(f"{named}  {plain(step.minutes):>4} min  {', '.join(step.tools)}".rstrip())
    work = plain(sum(step.minutes for step in card.steps))
    lines += [
        "",
        f"{work} min of work, {many(card.changes, 'change')} of spanner, {many(card.turns, 'turn')} of the machine.",
    ]
    return "\n".join([*lines, proof_sentence(card)])


def within_page(card: WithinCard) -> str:
    """What can be had in the time, and what is next beyond it."""
    every = [*card.reached, *card.beyond[:NEXT_BEYOND]]
    wide = max((len(one.part) for one in every), default=0)
    wide_title = max((len(one.title) for one in every), default=0)
    lines = [f"{card.machine}: what can be off in {plain(card.minutes)} min", ""]
    lines += [_reached(one, wide, wide_title) for one in card.reached] or ["  nothing"]
    if card.beyond:
        lines += ["", "Next beyond it", *(_reached(one, wide, wide_title) for one in card.beyond[:NEXT_BEYOND])]
    return "\n".join(lines)


def _reached(one: Reached, wide: int, wide_title: int) -> str:
    sure = "" if one.proof == "best" else ", perhaps less"
    said = f"  {one.part:{wide}}  {one.title:{wide_title}}  {plain(one.cost_min):>6} min"
    return f"{said}, {many(one.parts, 'part')}{sure}"


def moves_page(card: MovesCard) -> str:
    """Every part under what may be done with it."""
    wide = max(len(part) for part in card.titles)
    blocked = {part: _what_first(part, card) for part in card.in_the_way}
    waiting = {part: _what_before(part, card) for part in card.not_yet}
    parts = [card.machine]
    for heading, rows in (
        ("May come off now", dict.fromkeys(card.may_come_off, "")),
        ("May not come off yet", blocked),
        ("May go on now", dict.fromkeys(card.may_go_on, "")),
        ("May not go on yet", waiting),
    ):
        lines = [f"  {part:{wide}}  {card.titles[part]}{why and ': ' + why}" for part, why in rows.items()]
        parts.append("\n".join([heading, *(lines or ["  nothing"])]))
    return "\n\n".join(parts)


def _what_first(part: str, card: MovesCard) -> str:
    if part in card.staying:
        return "it stays"
    return _still_on(card.in_the_way[part], card.titles)


def _what_before(part: str, card: MovesCard) -> str:
    said = card.not_yet[part]
    reasons = [f"first fit {_all_of(said.after, card.titles)}"] if said.after else []
    if said.in_the_way:
        reasons.append(_still_on(said.in_the_way, card.titles))
    return "; ".join(reasons)


def _still_on(way: InTheWay, titles: dict[str, str]) -> str:
    """What is in the way, with names: “first take off Head; and Rod cap, or Crankshaft”."""
    wanted = [_all_of(way.behind, titles)] if way.behind else []
    if way.ways:
        wanted.append(", or ".join(_all_of(each, titles) for each in way.ways))
    return f"first take off {'; and '.join(wanted)}"


def _all_of(parts: tuple[str, ...], titles: dict[str, str]) -> str:
    names = [titles[part] for part in parts]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def many(count: int, of: str) -> str:
    """The number with its word.

    >>> many(1, "turn"), many(2, "turn")
    ('1 turn', '2 turns')
    """
    return f"{count} {of}" if count == 1 else f"{count} {of}s"


def replay_page(card: ReplayCard) -> str:
    """What is wrong first, then where everything lies, what was measured, and what may be done next."""
    wrong = card.open_flags
    off = f"{len(card.off)} of {many(len(card.off) + len(card.on), 'part')} off"
    state = "finished" if card.finished else "not finished"
    sections = [f"{card.machine}: {state}, {off}, {many(len(wrong), 'flag')} open"]
    if wrong:
        sections.append("\n".join(["Not right yet", *(_flag_lines(flag) for flag in wrong)]))
    closed = len(card.flags) - len(wrong)
    if closed:
        was = "was" if closed == 1 else "were"
        sections.append(f"{many(closed, 'flag')} {was} mended or set aside.")
    for heading, lines in (
        ("Off", _where_lines(card)),
        ("Absent", [f"  {part}  {card.titles[part]}" for part in card.absent]),
        ("Measured", [f"  {card.titles[check]}: {_verdict(reading)}" for check, reading in card.readings.items()]),
        ("May come off now", _named(card.may_come_off, card.titles)),
        ("May go on now", _named(card.may_go_on, card.titles)),
    ):
        if lines:
            sections.append("\n".join([heading, *lines]))
    return "\n\n".join(sections)


def _flag_lines(flag: FlagCard) -> str:
    stops = " (stops)" if flag.stops else ""
    return f"  {flag.kind}{stops}: {flag.text}\n    {flag.mend}"


def _where_lines(card: ReplayCard) -> list[str]:
    lines = []
    for part, where in card.off.items():
        pieces = {"": where} if isinstance(where, Lies) else where.places
        for place, lies in pieces.items():
            name = f"{card.titles[part]} ({place})" if place else card.titles[part]
            lines.append(f"  {part}  {name}: {_bag_words(lies, card)}")
    return lines


def _bag_words(lies: Lies, card: ReplayCard) -> str:
    if lies.bag is None:
        return "nobody said where"
    bag = card.bags.get(lies.bag)
    holds = [f"{count} × {name}" for name, count in bag.holds.items() if count] if bag else []
    return f"bag {lies.bag}" + (f" with {', '.join(holds)}" if holds else "")


def _verdict(reading: ReadingCard) -> str:
    if reading.worst is None or reading.margin is None or reading.uncertainty is None:
        return f"{reading.verdict.value}, as the instructor decided"
    side = "inside" if reading.margin >= 0 else "past"
    size, margin, unsure = (
        plain(round(value, 4)) for value in (reading.worst, abs(reading.margin), reading.uncertainty)
    )
    unit = reading.unit
    # Without an instrument nothing says how sure the size is; a U of 0 would claim that it is certain.
    sure = f"U = {unsure} {unit}" if reading.uncertainty else "U is not known: no instrument is named"
    return f"{reading.verdict.value}; {size} {unit} is {margin} {unit} {side} its limit ({sure})"


def _named(parts: tuple[str, ...], titles: dict[str, str]) -> list[str]:
    wide = max((len(part) for part in parts), default=0)
    return [f"  {part:{wide}}  {titles[part]}" for part in parts]


def labels_page(card: PrintedCard) -> str:
    """What was written, and what to mind at the printer."""
    if not card.labels:
        return f"{card.file}: the ruler page of {card.sheet_says}. Print it at its own size (100 %)."
    first, last = card.labels[0].bag, card.labels[-1].bag
    bags = f"{many(len(card.labels), 'label')}, bags {first} to {last}"
    return f"{card.file}: {bags}, on {many(card.pages, 'sheet')}: {card.sheet_says}. Print it at its own size (100 %)."
