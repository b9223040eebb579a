"""What strips and answers teach: part by part what must be off before it, sure or only likely, and what to ask next."""

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.write import written
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.record.asking import question_sentence
from fingertight.order.learn import Learned, Question


@dataclass(frozen=True)
class LearnedPart(Card):
    """One part: blockers that are sure, those that are only likely, and ways, one of which must be off."""

    part: str
    surely: tuple[str, ...]
    likely: tuple[str, ...]
    ways: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class NextQuestion(Card):
    """Could `part` come off with all of `on` still on?"""

    part: str
    on: tuple[str, ...]


@dataclass(frozen=True)
class LearnedCard(Card):
    """All of it. unsettled: pairs of parts of which it is not known whether one blocks the other."""

    parts: tuple[LearnedPart, ...]
    strips: int
    answers: int
    unsettled: int
    contradictions: tuple[str, ...]
    question: NextQuestion | None
    sentence: Annotated[str, Field(exclude=True)]
    asked: Annotated[str, Field(exclude=True)]


def learned_card(learned: Learned, question: Question | None) -> LearnedCard:
    """What is known, and what is best asked next?"""
    parts = tuple(LearnedPart(one.part, one.surely, one.likely, one.ways) for one in learned.stands())
    sure, likely = sum(len(one.surely) for one in parts), sum(len(one.likely) for one in parts)
    return LearnedCard(
        parts=parts,
        strips=len(learned.strips),
        answers=len(learned.counted),
        unsettled=learned.unsettled(),
        contradictions=tuple(one.sentence for one in learned.contradictions),
        question=NextQuestion(question.part, question.on) if question else None,
        sentence=f"{counted(len(parts), 'part')} in {counted(len(learned.strips), 'strip')}, "
        f"{counted(len(learned.counted), 'answer')}: {counted(sure, 'blocker')} sure, {likely} likely",
        asked=question_sentence(question) if question else "",
    )


def learned_text(name: str, learned: Learned, day: str) -> str:
    """The machine file of what is known, with the parts by their ids: what held them no log of moves says.

    Raises ValueError for strips of nothing.
    """
    stands = learned.stands()
    if not stands:
        raise ValueError("no strip names a part")
    likely = sum(len(stand.likely) for stand in stands)
    about = f"Learned from {counted(len(learned.strips), 'strip')}, {day}"
    about += f"; {likely} of its blockers are likely only: nobody was sure" if likely else ""
    parts = [
        {
            "id": stand.part,
            **({"behind": list(stand.behind)} if stand.behind else {}),
            **({"ways": [list(way) for way in stand.ways]} if stand.ways else {}),
        }
        for stand in stands
    ]
    return written(Anatomy.model_validate({"format": 1, "machine": {"name": name, "source": about}, "part": parts}))
