"""The next question about a recorded machine, and what is known, likely and unknown so far."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.order.layers import layers
from fingertight.order.learn import AtOnce, Learned, Question
from fingertight.order.rules import Rules, Stands

WORDS = {
    "free": "asked about now",
    "on": "all that blocks it is sure",
    "off": "some of what blocks it is only likely",
    "absent": "left on in the question",
    "stays": "never comes off",
}


@dataclass(frozen=True)
class AskedStand(Card):
    """What one part waits for: sure, only likely, and one of several ways."""

    name: str
    surely: str
    likely: str
    ways: str


@dataclass(frozen=True)
class Shown(Card):
    """A part by name, and its first photo, "" where it has none."""

    name: str
    photo: str


@dataclass(frozen=True)
class TicksCard(Card):
    """One part, "" at the end, and all that may be in its way, the nearest first; how far it is, in a sentence.

    sets: the ways told of it so far.
    """

    part: str
    photo: str
    candidates: tuple[Shown, ...]
    sets: tuple[tuple[str, ...], ...]
    progress: str


@dataclass(frozen=True)
class AskingCard(Card):
    """The question, "" when none is left; the parts it names; how far it is, in a sentence; what cannot be, each with
    its mend."""

    question: str
    part: str
    on: tuple[str, ...]
    shown: tuple[Shown, ...]
    progress: str
    stands: tuple[AskedStand, ...]
    contradictions: tuple[str, ...]
    rings: RingPicture | None


def ticks_card(
    learned: Learned, asked: AtOnce | None, photos: Mapping[str, str], sets: Sequence[tuple[str, ...]] = ()
) -> TicksCard:
    """Of which part is it to be said what is in its way?

    photos: the first photo of a part, by name. sets: ways of it that were told already.
    """
    usual = [learned.parts[part] for part in learned.evidence.usual]
    done = usual.index(asked.part) if asked else len(usual)
    return TicksCard(
        part=asked.part if asked else "",
        photo=photos.get(asked.part, "") if asked else "",
        candidates=tuple(Shown(name, photos.get(name, "")) for name in asked.candidates) if asked else (),
        sets=tuple(sets),
        progress=f"{done} of {counted(len(usual), 'part')} done. Stop whenever you like.",
    )


def asking_card(learned: Learned, question: Question | None, photos: Mapping[str, str] | None = None) -> AskingCard:
    """What is asked next, and what is known? photos: the first photo of a part, by name."""
    stands = learned.stands()
    open_pairs = learned.unsettled()
    sure = sum(len(stand.surely) for stand in stands)
    likely = sum(len(stand.likely) for stand in stands)
    progress = f"{counted(len(learned.counted), 'answer')}; {counted(sure, 'blocker')} sure, {likely} likely"
    if question is None:
        progress += ". Nothing is left to ask." if not open_pairs else ". What is left, nobody knew."
    else:
        progress += f"; {counted(open_pairs, 'pair')} of parts not settled. Stop whenever you like."
    return AskingCard(
        question=question_sentence(question) if question else "",
        part=question.part if question else "",
        on=question.on if question else (),
        shown=tuple(Shown(name, (photos or {}).get(name, "")) for name in (question.part, *question.on))
        if question and photos
        else (),
        progress=progress,
        stands=tuple(
            AskedStand(
                stand.part,
                ", ".join(stand.surely),
                ", ".join(stand.likely),
                " or ".join(" and ".join(way) for way in stand.ways),
            )
            for stand in stands
        ),
        contradictions=tuple(one.sentence for one in learned.contradictions),
        rings=_rings(learned, question) if stands else None,
    )


def question_sentence(question: Question) -> str:
    """As it is asked aloud."""
    on = [_the(name) for name in question.on]
    held = f"{', '.join(on[:-1])} and {on[-1]} all" if len(on) > 1 else on[0]
    return f"Could {_the(question.part)} have come off with {held} still on?"


def _the(name: str) -> str:
    """A name within a sentence.

    >>> _the("Brake cover"), _the("TDC plate")
    ('the brake cover', 'the TDC plate')
    """
    lower = name[:1].lower() + name[1:] if len(name) > 1 and name[1].islower() else name
    return f"the {lower}"


def _rings(learned: Learned, question: Question | None) -> RingPicture:
    stands = learned.stands()
    on = set(question.on) if question else set()
    state = {
        stand.part: "free"
        if question and stand.part == question.part
        else "absent"
        if stand.part in on
        else "off"
        if stand.likely
        else "on"
        for stand in stands
    }
    rules = Rules(Stands(stand.part, stand.behind, stand.ways) for stand in stands)
    sure = sum(not stand.likely for stand in stands)
    sentence = f"Of {counted(len(stands), 'part')} it is sure for {sure} what blocks them."
    return ring_picture(layers(rules), {name: name for name in state}, state, sentence, WORDS)
