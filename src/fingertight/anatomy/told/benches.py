"""What a new text of a machine means for a job that is under way: its log stays, what follows from it changes."""

from collections.abc import Iterator, Mapping, Sequence

from fingertight.anatomy.model import Anatomy, Part
from fingertight.anatomy.told.names import FIELDS
from fingertight.quantity import NotUnderstood, converted

WORDS = {"part": "part", "check": "size", "setting": "setting", "sign": "sign-off"}
CANNOT = "cannot be read with the new file: its bench keeps the old one."
LIMITS = ("unit", "new", "max", "min", "out_of_round_max", "taper_max", "gap", "instrument", "repeat")


def for_benches(old: Anatomy, new: Anatomy) -> tuple[str, ...]:
    """What changes for a bench that goes on with the new file? Empty where all that may be done is as it was.

    First what each part waits for, then what a log can no longer be read for, then what is judged anew.

    >>> def box(**lid): return Anatomy.model_validate({"format": 1, "machine": {"name": "Box"},
    ...     "part": [{"id": "nut"}, {"id": "lid", **lid}]})
    >>> for_benches(box(), box(behind=["nut"]))
    ('Lid comes off after Nut now; before, it waited for nothing.',)
    """
    titles = {part.id: part.title for one in (old, new) for part in one.parts}
    said: list[str] = []
    for part in new.parts:
        if part.id in old.part_by_id:
            said += _waits(old.part_by_id[part.id], part, titles)
            said += _of_its_bag(old.part_by_id[part.id], part)
        elif not part.stays:
            said.append(
                f"{part.title} is new: it counts as still on, until the bench takes it off or says it is absent."
            )
    said += _unreadable(old, new)
    said += _of_sizes(old, new)
    return tuple(said)


def _waits(old: Part, new: Part, titles: Mapping[str, str]) -> Iterator[str]:
    if old.stays != new.stays:
        yield f"{new.title} {'never comes off' if new.stays else 'can come off'} now."
    before, after = (_off_after(part, titles) for part in (old, new))
    if (set(old.behind), set(map(frozenset, old.ways))) != (set(new.behind), set(map(frozenset, new.ways))):
        yield f"{new.title} comes off after {after} now; before, it waited for {before}."
    if set(old.fit_after) != set(new.fit_after):
        firsts, were = (_all_of(part.fit_after, titles) or "nothing" for part in (new, old))
        yield f"{new.title} goes on after {firsts} is on; before, it waited so for {were}."


def _off_after(part: Part, titles: Mapping[str, str]) -> str:
    ways = ", or ".join(_all_of(way, titles) or "nothing" for way in part.ways)
    return "; and ".join(said for said in (_all_of(part.behind, titles), ways) if said) or "nothing"


def _of_its_bag(old: Part, new: Part) -> Iterator[str]:
    if old.bag_holds != new.bag_holds:
        yield f"The bag of {new.title} should hold {_bag(new)} now; before, {_bag(old)}."
    if old.count != new.count:
        yield f"{new.title} is {new.count} pieces now; before, {old.count}."
    passes = [[one.passes for one in part.held_by] for part in (old, new)]
    torques = [[one.torque for one in part.held_by] for part in (old, new)]
    if len(new.held_by) == len(old.held_by) and (passes[0] != passes[1] or torques[0] != torques[1]):
        yield f"{new.title} is tightened by the new figures; passes that were done are judged by them."
    lost = [
        "a piece of it that is gone" if set(old.places or ("",)) - set(new.places or ("",)) else "",
        "a fastener set of it that is gone" if len(new.held_by) < len(old.held_by) else "",
        "a pass of it that is gone"
        if any(len(one.passes) > len(other.passes) for one, other in zip(old.held_by, new.held_by, strict=False))
        else "",
        *(f"{name} of it" for name in old.bag_holds if name not in new.bag_holds),
    ]
    for one in filter(None, lost):
        yield f"{new.title}: a log that names {one} {CANNOT}"


def _of_sizes(old: Anatomy, new: Anatomy) -> Iterator[str]:
    for check in new.checks:
        before = old.check_by_id.get(check.id)
        if before and any(getattr(before, key) != getattr(check, key) for key in LIMITS):
            yield f"{check.title} is judged by the new figures; readings stay as they were read."
            if (check.gap and not before.gap) or not _alike(before.unit, check.unit):
                yield f"{check.title}: a log with a reading of it {CANNOT}"
    for setting in new.settings:
        was = old.setting_by_id.get(setting.id)
        if was and (was.range, was.unit, was.right) != (setting.range, setting.unit, setting.right):
            yield f"{setting.title} is judged by the new figures; what was set stays as it was said."
            if (was.range is None) != (setting.range is None) or not _alike(was.unit, setting.unit):
                yield f"{setting.title}: a log that says how it was set {CANNOT}"


def _alike(unit: str, other: str) -> bool:
    """Whether two units measure one kind of thing."""
    try:
        converted(1.0, unit, other)
    except NotUnderstood:
        return False
    return True


def _unreadable(old: Anatomy, new: Anatomy) -> Iterator[str]:
    for kind, word in WORDS.items():
        left = {one.id for one in getattr(new, FIELDS[kind])}
        gone = [one.id for one in getattr(old, FIELDS[kind]) if one.id not in left]
        if gone:
            named = f"the {word} {gone[0]}" if len(gone) == 1 else f"one of the {word}s {', '.join(gone)}"
            yield f"A log that names {named} {CANNOT}"


def _bag(part: Part) -> str:
    return ", ".join(f"{count} × {name}" for name, count in part.bag_holds.items()) or "nothing more"


def _all_of(parts: Sequence[str], titles: Mapping[str, str]) -> str:
    names = [titles.get(part, part) for part in parts]
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
