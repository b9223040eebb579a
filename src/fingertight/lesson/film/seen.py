"""Where the parts of a machine are seen done: the film of a recording, under the parts the machine has now."""

from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.ledger.plan import listed
from fingertight.lesson.film.chapters import Chapter, Chapters
from fingertight.lesson.record.filmed import Way
from fingertight.lesson.record.recording import Recording

MOST_NAMED = 6


@dataclass(frozen=True, slots=True)
class FilmMove:
    """A move in a film: the part by the id it has in the machine now, its title, when it is done [s of the film].

    by_hand: somebody put it there; else it follows from the press while the strip was recorded.
    """

    part: str
    title: str
    way: Way
    at_s: float
    by_hand: bool


def film_moves(anatomy: Anatomy, recording: Recording) -> tuple[tuple[FilmMove, ...], tuple[str, ...]]:
    """Which moves does the film of this recording show, in its order? And the names of parts the machine has no more.

    A part is known again by its id, or where that was changed, by its name. Without a mark there are none.
    """
    if recording.film is None:
        return (), ()
    second, at = recording.film
    of, parts = recording.filmed, anatomy.part_by_id
    by_title = {part.title.casefold(): part.id for part in anatomy.parts}
    names = {part.id: part.name for part in recording.parts}
    told: list[tuple[float, str, Way]] = [(part.when, part.id, "off") for part in recording.off]
    told += [(when, part, "on") for part, when in of.on.items()]
    moves, gone = [], []
    for when, recorded, way in sorted(told, key=lambda one: one[0]):
        part = recorded if recorded in parts else by_title.get(names.get(recorded, recorded).casefold(), "")
        if (recorded, way) in of.unseen:
            continue
        if not part or parts[part].stays:
            gone.append(names.get(recorded, recorded))
            continue
        at_s = round(second + when - at, 3)
        moves.append(FilmMove(part, parts[part].title, way, at_s, (recorded, way) in of.by_hand))
    return tuple(moves), tuple(dict.fromkeys(gone))


def seen_done(anatomy: Anatomy, recording: Recording) -> Chapters:
    """The chapters of this recording's film, for the parts its machine has now.

    A chapter begins when the move before was done, or with the film, and ends when its own is; moves of one moment
    share its time. What came off before the film, and parts that are gone from the machine's file, have none.
    """
    if recording.film is None:
        return Chapters((), ("The film has no mark yet: nobody knows where in it a part comes off.",))
    moves, gone = film_moves(anatomy, recording)
    chapters: list[Chapter] = []
    before, last_ms = 0, 0
    times: dict[int, list[FilmMove]] = {}
    for move in moves:
        times.setdefault(round(move.at_s * 1000), []).append(move)
    for at_ms, together in sorted(times.items()):
        if at_ms - last_ms < len(together):
            before += len(together)
            continue
        edges = [last_ms + (at_ms - last_ms) * number // len(together) for number in range(len(together) + 1)]
        for move, starts_ms, ends_ms in zip(together, edges, edges[1:], strict=False):
            title = f"{move.title} {move.way}"
            chapters.append(Chapter(move.part, None, move.way, starts_ms / 1000, ends_ms / 1000, title))
        last_ms = at_ms
    says = []
    if before:
        says.append(f"{before} {'move comes' if before == 1 else 'moves come'} before the film begins.")
    if gone:
        named = [*gone[:MOST_NAMED], *([f"{len(gone) - MOST_NAMED} more"] if len(gone) > MOST_NAMED else [])]
        is_are, its = ("is", "its place is") if len(gone) == 1 else ("are", "their places are")
        says.append(f"In the machine’s file {listed(named)} {is_are} no more, so {its} left out.")
    return Chapters(tuple(chapters), tuple(says))
