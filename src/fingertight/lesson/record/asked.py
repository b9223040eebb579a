"""What a recording and its answers teach, with parts by name, so that every sentence about them can be read aloud."""

from collections.abc import Mapping

from fingertight.lesson.record.recording import Recording
from fingertight.order.learn import Answer, Learned, Strip, Ticks, learn, told


def learned_from(recording: Recording, label: str, people: Mapping[str, str] | None = None) -> Learned:
    """What is known after this recording and the answers to its questions?

    label: who stripped it, and when. people: what those who answered are called, by id.
    """
    names = {part.id: part.name for part in recording.off}
    called = people or {}
    strips = [Strip(tuple(names.values()), label)] if names else []
    for other in recording.strips:
        order, still_on = (
            tuple(names[part] for part in some if part in names) for some in (other.order, other.still_on)
        )
        strips.append(Strip(order, other.label, still_on))
    answers = [
        Answer(names[one.part], tuple(names[other] for other in one.on), one.said, called.get(one.by, "the teacher"))
        for one in recording.answers
        if one.part in names and all(other in names for other in one.on)
    ]
    ticks = [
        Ticks(names[one.part], tuple(tuple(names[other] for other in some) for some in one.sets), one.only, by)
        for one in recording.ticks
        if all(part in names for part in (one.part, *(other for some in one.sets for other in some)))
        for by in [called.get(one.by, "the teacher")]
    ]
    known = learn(strips, answers)
    return learn(strips, (*answers, *told(known, ticks))) if ticks else known
