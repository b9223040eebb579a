"""What was recorded and learned becomes a machine file: every part with what held it, and who must be off before it."""

from typing import Any

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.write import written
from fingertight.lesson.record.recording import Fasteners, Recorded, Recording
from fingertight.order.learn import Learned
from fingertight.tighten.threads.names import NoSuchThread, thread_named

KINDS = ("circlip", "press fit", "taper", "clip", "plug-in")


def drawn(name: str, recording: Recording, learned: Learned, day: str) -> str:
    """The text of the machine file. What is only likely stands in it as if it were known: that is the careful side.

    learned: with the parts by name, as `learned_from` has it. day: as it stands in `source`. Raises ValueError for a
    recording of nothing.
    """
    if not recording.off:
        raise ValueError("nothing was recorded")
    rests = list(dict.fromkeys(part.details.rests for part in recording.off if part.details.rests))
    ids = {part.name: part.id for part in recording.off}
    stands = {ids[stand.part]: stand for stand in learned.stands()}
    likely = sum(len(stand.likely) for stand in stands.values())
    about = f"Recorded by doing, {day}"
    about += f"; {likely} of its blockers are likely only: nobody was sure" if likely else ""
    parts = [{"id": part.id, "name": part.name, "stays": True} for part in recording.staying]
    for part in recording.off:
        stand = stands[part.id]
        parts.append(
            _part(part)
            | _lists(
                behind=[ids[other] for other in stand.behind],
                ways=[[ids[other] for other in way] for way in stand.ways],
            )
        )
    machine: dict[str, Any] = {"name": name, "source": about, **_lists(rests=rests)}
    return written(Anatomy.model_validate({"format": 1, "machine": machine, "part": parts}))


def _part(part: Recorded) -> dict[str, Any]:
    details = part.details
    return {
        "id": part.id,
        "name": part.name,
        **_lists(
            held_by=[_held(one) for one in details.held_by],
            tools=list(details.tools),
            cautions=[details.caution] if details.caution else [],
        ),
        **({"with": [{"name": name, "count": count} for name, count in details.with_]} if details.with_ else {}),
        **({"care": details.care} if details.care else {}),
        **({"rests": details.rests} if details.rests else {}),
    }


def _held(one: Fasteners) -> dict[str, Any]:
    said: dict[str, Any] = {"kind": one.kind} if one.kind else {}
    if one.thread:
        said["thread"] = one.thread
    if one.length_mm:
        said["length"] = one.length_mm
    if one.at:
        said["at"] = [list(place) for place in one.at]
    elif one.count > 1:
        said["count"] = one.count
    return said


def _lists(**lists: list[Any]) -> dict[str, Any]:
    return {name: found for name, found in lists.items() if found}


def is_thread(typed: str) -> bool:
    """Whether this names a thread.

    >>> is_thread("M6"), is_thread("1/4-20 UNC"), is_thread("big")
    (True, True, False)
    """
    try:
        thread_named(typed)
    except NoSuchThread:
        return False
    return True
