"""One move as the film shows it: from where to where, what comes before and after it, the way back."""

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote

from fingertight.cards.bench.moves import FilmWords, Way
from fingertight.cards.card import Card
from fingertight.lesson.film.chapters import Chapter, Chapters
from fingertight.lesson.film.clock import film_words

DONE, CAME_OFF = "See it done", "See how it came off"


@dataclass(frozen=True)
class SeenMove(Card):
    """A move of the film to go to: its part, off or on, its title, where it begins."""

    part: str
    way: Way
    title: str
    starts: str
    now: bool


@dataclass(frozen=True)
class SeenCard(Card):
    """The film of a machine at one move. src: the address of the film with the piece to play; starts_s, ends_s: that
    piece [s]; sentence: what it shows, where that is not the move that was asked for; says: what has no place in it."""

    machine: str
    name: str
    title: str
    src: str
    starts_s: float
    ends_s: float
    when: str
    sentence: str
    before: SeenMove | None
    after: SeenMove | None
    moves: tuple[SeenMove, ...]
    says: tuple[str, ...]


def film_words_for(chapters: Chapters) -> FilmWords:
    """By way and part, what a card's link to the film is called.

    Where no film shows how a part goes on, how it came off is offered for the rebuild, and called that.
    """
    there = {(str(one.kind), one.part) for one in chapters.chapters}
    words = {("on", part): CAME_OFF for way, part in there if way == "off"}
    return words | dict.fromkeys(there, DONE)


def seen_card(machine: str, name: str, file: str, chapters: Chapters, *, part: str, way: str) -> SeenCard | None:
    """What is shown of this move? Without a part, the first of the film; None where the film has nothing of it."""
    found = chapters.chapters
    shown = next((one for one in found if (one.part, one.kind) == (part, way)), None)
    sentence = ""
    if shown is None and way == "on":
        shown = next((one for one in found if one.part == part), None)
        sentence = "The film does not show how it goes on. This is how it came off." if shown else ""
    shown = shown or (found[0] if found and not part else None)
    if shown is None:
        return None
    place = found.index(shown)
    return SeenCard(
        machine=machine,
        name=name,
        title=shown.title,
        src=f"/films/{quote(file)}#t={shown.starts_s:.3f},{shown.ends_s:.3f}",
        starts_s=shown.starts_s,
        ends_s=shown.ends_s,
        when=f"{film_words(shown.starts_s)} to {film_words(shown.ends_s)} of the film",
        sentence=sentence,
        before=_move(found, place - 1, place),
        after=_move(found, place + 1, place),
        moves=tuple(one for number in range(len(found)) if (one := _move(found, number, place))),
        says=chapters.says,
    )


def _move(chapters: Sequence[Chapter], number: int, now: int) -> SeenMove | None:
    if not 0 <= number < len(chapters):
        return None
    one = chapters[number]
    return SeenMove(one.part, one.kind, one.title, film_words(one.starts_s), number == now)
