"""The film of a recording: a chapter for each part, from the one mark that lined the two clocks up."""

from fingertight.cards.film.chapters import ChapterCard, ChaptersCard
from fingertight.lesson.film.clock import film_words
from fingertight.lesson.record.recording import Recording


def recording_chapters(name: str, recording: Recording) -> ChaptersCard:
    """Which chapters does the film of this recording have?

    A chapter begins when the part before was off, or with the film, and ends when its own is. Parts that came off
    before the film began have none, which is said; so has the whole where no mark was made.
    """
    if recording.film is None:
        says = ("No mark was made: say what the film shows at a moment you know, and every chapter follows.",)
        return ChaptersCard((), says, None, name)
    second, at = recording.film
    chapters: list[ChapterCard] = []
    starts_s, before = 0.0, 0
    for part in recording.off:
        ends_s = round(second + part.when - at, 3)
        if ends_s <= starts_s:
            before += ends_s <= 0
            continue
        title = f"{part.name} off"
        chapters.append(
            ChapterCard(part.id, None, "off", title, starts_s, ends_s, film_words(starts_s), film_words(ends_s))
        )
        starts_s = ends_s
    said = (f"{before} came off before the film begins.",) if before else ()
    return ChaptersCard(tuple(chapters), said, None, name)
