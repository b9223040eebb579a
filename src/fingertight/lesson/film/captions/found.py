"""The likeliest moves in the captions of a film, each with its confidence and why; what is moved by hand stays."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from fingertight.anatomy.model import Anatomy
from fingertight.ledger.plan import listed
from fingertight.lesson.film.captions.heard import Heard, heard
from fingertight.lesson.film.captions.names import Names
from fingertight.lesson.film.captions.solve import EARLY, Chosen, InTurn, Moment, chosen
from fingertight.lesson.film.captions.words import Cue, english_share, spoken
from fingertight.lesson.film.chapters import Kind

SUREST: Final = 0.95
"""No words make a move more certain than this; what a person put there is 1."""
LEAST: Final = 0.2
"""Less than this is not worth a person's look."""
UNLIKE_ENGLISH: Final = 0.15
FEW_NAMES: Final = 0.25
OR_SAY: Final = ", or say what the parts are called there (--also PART=WORDS)"
"""What else mends it at a terminal; a page leaves this out."""

Puts = Mapping[tuple[str, Kind], float | None]
"""What a person moved by hand: for a part and a kind the time it is done [s of the film], or None: not in the film."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A move that the captions seem to speak of.

    said_s, at_s: when it is spoken of, and when it is done [s of the film]. confidence: 0 to 1, by the words alone; it
    orders proposals and is no probability. reasons: sentences. words: what was said.
    """

    part: str
    kind: Kind
    said_s: float
    at_s: float
    confidence: float
    reasons: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Found:
    """The proposals in the order of the film, the parts without any, and what a person should know of the whole."""

    proposals: tuple[Proposal, ...]
    missing: tuple[str, ...]
    says: tuple[str, ...]


def found(
    anatomy: Anatomy,
    cues: Sequence[Cue],
    puts: Puts | None = None,
    also: Mapping[str, Sequence[str]] | None = None,
) -> Found:
    """Which moves do these captions speak of, and when?

    A move is looked for where a part is named; how well it is named, what is said of it (off, on, later, not), and
    whether the part could move then (`order.Moves`) make a score, and the scores are chosen from as a whole, each part
    once off and once on, in the order of time. The film may strip, build back, or do the one and then the other.

    puts: corrections by hand; they stand, and the rest is solved anew around them. also: for a part, what else this
    teacher calls it.

    >>> box = {"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}, {"id": "tray", "behind": ["lid"]}]}
    >>> cues = [Cue(0.0, 4.0, "First the lid comes off."), Cue(9.0, 12.0, "Then you can lift the tray out.")]
    >>> [(one.part, one.at_s, one.confidence) for one in found(Anatomy.model_validate(box), cues).proposals]
    [('lid', 4.0, 0.95), ('tray', 12.0, 0.95)]

    Raises KeyError when `puts` or `also` names a part that the anatomy does not have, or one that stays.
    """
    puts = puts or {}
    movable = {part.id for part in anatomy.parts if not part.stays}
    for part in (*(part for part, _ in puts), *(also or {})):
        if part not in movable:
            raise KeyError(part)
    words = spoken(cues)
    names = Names(anatomy, also)
    said = heard(words, names.mentions(words))
    if unlike := _unlike(len(movable), said, english_share(words), bool(words)):
        said = [] if unlike[1] else said
    turned_s = _turned_s(said)
    proposals = []
    for kind in ("off", "on"):
        mine = [one for one in said if (one.said_s < turned_s) == (kind == "off")]
        proposals += _of_kind(anatomy, kind, mine, puts)
    proposals = _done(proposals, cues, puts)
    missing = tuple(part.id for part in anatomy.parts if part.id in movable - {one.part for one in proposals})
    says = [unlike[0]] if unlike else []
    if not proposals and not says:
        says = ["The captions name no part that comes off or goes on. Is this the film of this machine?"]
    return Found(tuple(proposals), missing, tuple(says))


def _unlike(movable: int, said: Sequence[Heard], share: float, is_any: bool) -> tuple[str, bool] | None:
    """A sentence where the captions are in another language than the machine file, and whether to stop there."""
    if not is_any:
        return "The captions hold no words.", True
    if share >= UNLIKE_ENGLISH:
        return None
    named = len({part for one in said for part in one.scores})
    if named < max(2, FEW_NAMES * movable):
        return (
            f"The captions name {named} of {movable} parts, and few of their words are English: they seem to be in "
            f"another language than the machine file. Translate one of them{OR_SAY}.",
            True,
        )
    return "The captions are not in English, so only names were looked for: off and on are not told apart.", False


def _turned_s(said: Sequence[Heard]) -> float:
    """Where the film turns from stripping to building back [s]: what is said of off before and of on after is most."""
    best = total = -sum(one.leans for one in said)
    turned_s = 0.0
    for one in sorted(said, key=lambda one: one.said_s):
        total += 2 * one.leans
        if total >= best:
            best, turned_s = total, one.said_s + 1e-6
    return turned_s


def _of_kind(anatomy: Anatomy, kind: Kind, said: Sequence[Heard], puts: Puts) -> list[Proposal]:
    """The best choice among what was heard, around what was put by hand."""
    by_hand = {part: at_s for (part, which), at_s in puts.items() if which == kind}
    moments: list[tuple[float, Moment, Heard | None]] = [
        (at_s, Moment({part: 1.0}, is_sure=True), None) for part, at_s in by_hand.items() if at_s is not None
    ]
    for one in said:
        scores = {part: score for part, score in one.scored(kind).items() if part not in by_hand}
        if scores:
            moments.append((one.done_s, Moment(scores, is_many=one.is_plural), one))
    moments.sort(key=lambda moment: moment[0], reverse=kind == "on")
    turn = InTurn(anatomy, kind)
    picks = chosen([moment for _, moment, _ in moments], turn)
    taken = {pick.part for pick in picks}
    titles = {part.id: part.title for part in anatomy.parts}
    proposals = (_proposal(pick, moments[pick.moment], kind, titles, taken) for pick in picks)
    return [one for one in proposals if one.confidence >= LEAST]


def _proposal(
    pick: Chosen, at: tuple[float, Moment, Heard | None], kind: Kind, titles: Mapping[str, str], taken: set[str]
) -> Proposal:
    when_s, moment, one = at
    if one is None:
        return Proposal(pick.part, kind, when_s, when_s, 1.0, ("Put here by hand.",), "")
    score = moment.scores[pick.part]
    reasons = list(one.reasons(pick.part, kind))
    if pick.in_the_way:
        score *= EARLY[min(len(pick.in_the_way), len(EARLY) - 1)]
        first = listed(titles[part] for part in pick.in_the_way[:3])
        known = "off" if kind == "off" else "on"
        order = "before" if kind == "off" else "after"
        reasons.append(f"By the machine file {first} would be {known} {order} it.")
    others = [part for part in moment.scores if part != pick.part and part not in taken]
    if others and not moment.is_many:
        score *= 0.8
        reasons.append(f"It could be {listed((titles[part] for part in others[:3]), 'or')} as well.")
    return Proposal(pick.part, kind, one.said_s, one.done_s, round(min(score, SUREST), 2), tuple(reasons), one.words)


def _done(proposals: list[Proposal], cues: Sequence[Cue], puts: Puts) -> list[Proposal]:
    """When each is done. What is only announced (“now we take off …”) is done when the next is spoken of.

    So a chapter, which ends when its move is done, shows the work and not the talk before it. Strictly increasing.
    """
    proposals = sorted(proposals, key=lambda one: (one.at_s, one.part))
    until_s = max((cue.ends_s for cue in cues), default=0.0)
    is_put = [puts.get((one.part, one.kind)) is not None for one in proposals]
    nexts_s = [*(one.said_s for one in proposals[1:]), until_s][: len(proposals)]
    done_ms = [
        round(max(one.at_s, one.at_s if put or one.at_s > one.said_s else next_s) * 1000)
        for one, put, next_s in zip(proposals, is_put, nexts_s, strict=True)
    ]
    for number in range(1, len(done_ms)):
        if done_ms[number] <= done_ms[number - 1] and (is_put[number - 1] or not is_put[number]):
            done_ms[number] = done_ms[number - 1] + 1
    for number in range(len(done_ms) - 1, 0, -1):  # what was put by hand stays; the others make room
        done_ms[number - 1] = max(min(done_ms[number - 1], done_ms[number] - 1), 0)
    return [replace(one, at_s=ms / 1000) for one, ms in zip(proposals, done_ms, strict=True)]
