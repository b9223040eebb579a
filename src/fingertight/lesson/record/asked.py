"""What a recording and its answers teach, with parts by name, so that every sentence about them can be read aloud."""

from collections.abc import Mapping

from fingertight.lesson.record.recording import Recording
from fingertight.order.learn import Answer, Learned, Strip, learn


def learned_from(recording: Recording, label: str, people: Mapping[str, str] | None = None) -> Learned:
    """What is known after this recording and the answers to its questions?

    label: who stripped it, and when. people: what those who answered are called, by id.
    """
    names = {part.id: part.name for part in recording.off}
    called = people or {}
    strip = Strip(tuple(names.values()), label)
    answers = [
        Answer(names[one.part], tuple(names[other] for other in one.on), one.said, called.get(one.by, "the teacher"))
        for one in recording.answers
        if one.part in names and all(other in names for other in one.on)
    ]
    return learn([strip] if names else [], answers)
