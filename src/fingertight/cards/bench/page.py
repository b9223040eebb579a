"""The bench page: what can be done now, what waits and why, where everything lies, what is not right yet."""

from collections.abc import Mapping
from dataclasses import dataclass

from fingertight.cards.bench.bags import (
    BagCount,
    Bags,
    BagTag,
    CountedKey,
    bag_counts,
    bag_tags,
    bags_sentence,
    suggested_bag,
    tools_counted,
)
from fingertight.cards.bench.due import SettingCard, SignCard, TightenCard, setting_cards, sign_cards, tighten_cards
from fingertight.cards.bench.moves import FilmWords, MoveCard, Warned, move_card, new_ones_asked, notes_asked
from fingertight.cards.bench.sizes import OrderLine, SizeCard, order_lines, size_card
from fingertight.cards.bench.words import counted, why_not_off, why_not_on
from fingertight.cards.card import Card
from fingertight.cards.order.aim import AimCard, aim_card
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.cards.workshop.log import last_line
from fingertight.ledger.asked.due import (
    new_before_on,
    notes_before_off,
    settings_before,
    signs_before_off,
    signs_before_on,
)
from fingertight.ledger.flags import Flag
from fingertight.ledger.plan import listed
from fingertight.ledger.replay import Ledger
from fingertight.ledger.state import Slot, State
from fingertight.order.layers import layers

STAGES = {"strip": "Strip", "measure": "Measure", "rebuild": "Rebuild", "finish": "Finish"}


@dataclass(frozen=True)
class JobName(Card):
    """What a job is called: its address, its bench, which machine it is, and that machine's address."""

    slug: str
    bench: str
    title: str
    machine: str


@dataclass(frozen=True)
class StageTab(Card):
    """One stage of the strip along the top."""

    slug: str
    word: str
    now: bool


@dataclass(frozen=True)
class WaitCard(Card):
    """A part that may not move now, and why not."""

    part: str
    title: str
    sentence: str


@dataclass(frozen=True)
class FlagCard(Card):
    """Something that is not right, with how to mend it."""

    kind: str
    part: str
    entry: str
    text: str
    mend: str
    stops: bool


@dataclass(frozen=True)
class LastLine(Card):
    """The last entry, to be undone with one tap."""

    entry: str
    sentence: str
    act: str


@dataclass(frozen=True)
class PressedCard(Card):
    """The answer to a press, for programs: its id, its number in the log, and what is not right now."""

    id: str
    seq: int
    flags: tuple[FlagCard, ...]
    finished: bool


@dataclass(frozen=True)
class BenchCard(Card):
    """All a bench page shows at one stage; lists that belong to another stage are empty.

    aim: what is wanted, where that is not all of it; besides: moves that may be made and are not needed for it.
    """

    job: JobName
    stage: str
    stages: tuple[StageTab, ...]
    aim: AimCard | None
    moves: tuple[MoveCard, ...]
    besides: tuple[MoveCard, ...]
    nothing_to_move: str
    waits: tuple[WaitCard, ...]
    tightens: tuple[TightenCard, ...]
    settings: tuple[SettingCard, ...]
    signs: tuple[SignCard, ...]
    sizes: tuple[SizeCard, ...]
    later_sizes: tuple[SizeCard, ...]
    to_order: tuple[OrderLine, ...]
    counts: tuple[BagCount, ...]
    tools: tuple[CountedKey, ...]
    rings: RingPicture
    bags: tuple[BagTag, ...]
    bags_sentence: str
    flags: tuple[FlagCard, ...]
    help_asked: bool
    finished: bool
    untouched: bool
    finish_sentence: str
    last: LastLine | None

    @property
    def places_problem(self) -> bool:
        """Whether what was not taken is said at its own form, and so not at the top of the page."""
        return any(setting.problem for setting in self.settings)


def stage_of(ledger: Ledger) -> str:
    """Which stage is a job in, as far as its moves tell? The one its last move belongs to."""
    struck = ledger.struck()
    last = next(
        (
            entry
            for entry in reversed(ledger.entries)
            if entry.kind in {"off", "on", "finish"} and entry.id not in struck
        ),
        None,
    )
    return {"off": "strip", "on": "rebuild", "finish": "finish"}[last.kind] if last else "strip"


def bench_card(
    job: JobName,
    ledger: Ledger,
    bags: Bags,
    stage: str,
    *,
    typed: Mapping[str, str] | None = None,
    problem: str = "",
    warned: Warned | None = None,
    films: FilmWords | None = None,
) -> BenchCard:
    """What do the two students at this bench see at this stage? `typed`, `problem`: a form that was not taken; warned:
    what other benches got wrong, films: what a film shows, by way and part."""
    state, said = ledger.state, dict(typed or {})
    stripping = stage in {"strip", "measure"}
    off_now, on_now = _off_now(state, bags), _on_now(state)
    moves = _off_cards(state, bags, off_now, warned, films) if stage == "strip" else ()
    moves = _on_cards(state, on_now, warned, films) if stage == "rebuild" else moves
    aim, besides = aim_card(state), tuple[MoveCard, ...]()
    if aim and stage == "strip":
        moves, besides = (tuple(move for move in moves if (move.part in aim.way) is needed) for needed in (True, False))
    last = last_line(ledger)
    flags = state.flags.open()
    sizes, later_sizes = _sizes(state) if stage == "measure" else ((), ())
    parts_off = list(dict.fromkeys(part for part, _ in on_now))
    return BenchCard(
        job=job,
        stage=stage,
        stages=tuple(StageTab(slug, word, slug == stage) for slug, word in STAGES.items()),
        aim=aim,
        moves=moves,
        besides=besides,
        nothing_to_move=_nothing_to_move(state, stage),
        waits=_waits_off(state, aim)
        if stage == "strip"
        else _waits_on(state, set(parts_off))
        if stage == "rebuild"
        else (),
        tightens=() if stripping else tighten_cards(state),
        settings=() if stripping else setting_cards(state, said, problem),
        signs=()
        if stage == "measure"
        else sign_cards(state, _parts(off_now) if stripping else [], [] if stripping else parts_off),
        sizes=sizes,
        later_sizes=later_sizes,
        to_order=order_lines(state) if stage == "measure" else (),
        counts=bag_counts(state, said) if stage == "finish" else (),
        tools=tools_counted(state, said) if stage == "finish" else (),
        rings=_rings(state, stripping, set(parts_off), aim if stripping else None),
        bags=bag_tags(state, () if stripping else set(on_now), newest_first=not stripping),
        bags_sentence=bags_sentence(state, newest_first=not stripping),
        flags=tuple(flag_card(flag) for flag in flags),
        help_asked=state.help_asked is not None,
        finished=state.finished,
        untouched=not state.came_off,
        finish_sentence=_finish_sentence(state, flags),
        last=LastLine(last.entry, last.sentence, last.act) if last else None,
    )


def pressed_card(ledger: Ledger, entry: str, seq: int) -> PressedCard:
    """What does a program hear whose entry was kept as number `seq`?"""
    state = ledger.state
    return PressedCard(entry, seq, tuple(flag_card(flag) for flag in state.flags.open()), state.finished)


def flag_card(flag: Flag) -> FlagCard:
    """The flag as it is shown."""
    return FlagCard(flag.kind, flag.part or "", flag.entry, flag.text, flag.mend, flag.stops)


def _parts(slots: list[Slot]) -> list[str]:
    return list(dict.fromkeys(part for part, _ in slots))


def _off_now(state: State, bags: Bags) -> list[Slot]:
    """Pieces that may come off, in the order of their bags."""
    slots = [
        (part, place)
        for part in state.moves.may_come_off()
        for place in state.plan.parts[part].places
        if (part, place) not in state.empty
    ]
    return sorted(slots, key=lambda slot: int(bags.get(slot, "0")))


def _on_now(state: State) -> list[Slot]:
    """Empty slots that may be filled, the last that came off first."""
    may = set(state.may_go_on())
    slots = [slot for slot in state.empty if slot[0] in may]
    came = {slot: turn for turn, slot in enumerate(state.lies)}
    return sorted(slots, key=lambda slot: -came.get(state.empty[slot], -1))


def _off_cards(
    state: State, bags: Bags, slots: list[Slot], warned: Warned | None, films: FilmWords | None
) -> tuple[MoveCard, ...]:
    cards = []
    for slot in slots:
        part = state.plan.anatomy.part_by_id[slot[0]]
        signs = listed(f"“{sign.title}”" for sign in signs_before_off(state, part.id))
        first = [f"The instructor signs {signs} first."] if signs else []
        asks = notes_asked(part, notes_before_off(state, part.id))
        bag = suggested_bag(state, bags, slot)
        cards.append(move_card("off", part, slot[1], bag, first=first, asks=asks, warned=warned, films=films))
    return tuple(cards)


def _on_cards(state: State, slots: list[Slot], warned: Warned | None, films: FilmWords | None) -> tuple[MoveCard, ...]:
    cards = []
    for slot in slots:
        part = state.plan.anatomy.part_by_id[slot[0]]
        due = [f"“{setting.title}” is set" for setting in settings_before(state, part.id)]
        due += [f"“{sign.title}” is signed" for sign in signs_before_on(state, part.id)]
        first = [f"Before this, {listed(due)}."] if due else []
        asks = new_ones_asked(part, new_before_on(state, part.id))
        bag = state.lies.get(slot) or ""
        cards.append(move_card("on", part, slot[1], bag, first=first, asks=asks, warned=warned, films=films))
    return tuple(cards)


def _titles(state: State) -> dict[str, str]:
    return {part: plan.title for part, plan in state.plan.parts.items()}


def _waits_off(state: State, aim: AimCard | None = None) -> tuple[WaitCard, ...]:
    free, titles = set(state.moves.may_come_off()), _titles(state)
    return tuple(
        WaitCard(part, titles[part], why_not_off(state.moves.in_the_way(part), titles))
        for part in state.moves.on()
        if part not in free and not state.plan.anatomy.part_by_id[part].stays and (aim is None or part in aim.way)
    )


def _waits_on(state: State, free: set[str]) -> tuple[WaitCard, ...]:
    titles = _titles(state)
    return tuple(
        WaitCard(part, titles[part], why_not_on(state.not_yet(part), titles))
        for part in _parts(list(state.empty))
        if part not in free
    )


def _nothing_to_move(state: State, stage: str) -> str:
    if stage == "measure":
        stated = bool(state.plan.anatomy.checks)
        return (
            "Nothing can be measured now; below stands what comes off first."
            if stated
            else "This machine’s file states no sizes to measure."
        )
    if stage == "strip":
        return (
            "Nothing is left to come off."
            if not _waits_off(state)
            else "Nothing can come off now; below stands what is in the way."
        )
    if not state.empty:
        return "Everything is on the machine. Take the last turns and settings below, then count and finish."
    return "Nothing can go on now; below stands what must happen first."


def _sizes(state: State) -> tuple[tuple[SizeCard, ...], tuple[SizeCard, ...]]:
    """What can be measured now or was measured, a gap last; and what only follows later."""
    cards = [size_card(state, check) for check in state.plan.anatomy.checks]
    cards.sort(key=lambda card: (card.is_gap, bool(card.waits)))
    now = [card for card in cards if card.verdict or not (card.is_gap or card.waits)]
    return tuple(now), tuple(card for card in cards if card not in now)


def _rings(state: State, stripping: bool, may_go_on: set[str], aim: AimCard | None) -> RingPicture:
    free = set(state.moves.may_come_off()) if stripping else may_go_on
    stays = {part.id for part in state.plan.anatomy.parts if part.stays}
    way = set(aim.way) if aim else set()
    if aim:
        free &= way
    standing = {}
    for part in state.plan.parts:
        out = state.moves.is_off(part)
        word = "free" if part in free else "off" if out else "absent" if state.moves.is_absent(part) else "on"
        word = "way" if word == "on" and part in way else word
        standing[part] = "stays" if part in stays else word
    moving = [part for part, word in standing.items() if word not in {"absent", "stays"}]
    off = len(state.moves.off())
    may = f"{len(free)} may come off now" if stripping else f"{len(free)} may go on now"
    sentence = (
        f"{off} of {len(moving)} off, {may}." if aim is None else f"{off} off, {len(aim.way)} to come off, {may}."
    )
    return ring_picture(layers(state.plan.rules), _titles(state), standing, sentence)


def _finish_sentence(state: State, flags: list[Flag]) -> str:
    if state.finished:
        return "The job is finished: nothing is open."
    if flags:
        are = "is" if len(flags) == 1 else "are"
        return (
            f"{counted(len(flags), 'thing')} {are} not right yet. Finish is granted once each is mended or set aside."
        )
    if not state.came_off:
        return "There is nothing to finish yet: nothing ever came off."
    still = len(_parts(list(state.empty)))
    if still:
        return (
            f"{counted(still, 'part')} {'is' if still == 1 else 'are'} still off. Finish is granted once all are back."
        )
    return "Nothing open is known. Finish looks once more at every bag, turn, setting and size."
