"""Rules about checks and settings: what they are measured with, units, ranges, gaps, questions."""

from collections.abc import Iterator

from fingertight.anatomy.mistakes import Path, Wrong, out, put
from fingertight.anatomy.rules.parts import unknown
from fingertight.anatomy.rules.said import Table, by_id, ids, number, numbers, short, tables, text, texts
from fingertight.anatomy.schema import nearest
from fingertight.quantity import UNITS, NotUnderstood, Unit, unit_named

_SIDES = ("outer", "inner")
_NOT_FOR_A_GAP = (
    "part",
    "bare",
    "at",
    "across",
    "instrument",
    "out_of_round_max",
    "taper_max",
    "repeat",
    "shape",
    "shims",
)


def _gaps(said: Table) -> Iterator[tuple[Path, Table, Table]]:
    """The checks that are a gap: path, check, gap."""
    for path, check in tables(said, "check"):
        gap = check.get("gap")
        if isinstance(gap, dict):
            yield path, check, gap


def unknown_instruments(said: Table) -> Iterator[Wrong]:
    """An instrument is named that there is not."""
    known = ids(said, "instrument")
    for kind in ("check", "setting"):
        for path, table in tables(said, kind):
            name = text(table, "instrument")
            if name and name not in known:
                yield unknown((*path, "instrument"), "instrument", name, known)


def unknown_checks(said: Table) -> Iterator[Wrong]:
    """A gap names a check that there is not."""
    known = ids(said, "check")
    for path, _, gap in _gaps(said):
        for side in _SIDES:
            name = text(gap, side)
            if name and name not in known:
                yield unknown((*path, "gap", side), "check", name, known)


def _unit(table: Table) -> Unit | None:
    """The unit of a table, mm where none is said; None where it is not known."""
    name = table.get("unit", "mm")
    try:
        return unit_named(name[:80]) if isinstance(name, str) else None
    except NotUnderstood:
        return None


def unknown_units(said: Table) -> Iterator[Wrong]:
    """A unit that is not known."""
    for kind in ("instrument", "check", "setting"):
        for path, table in tables(said, kind):
            name = table.get("unit")
            if isinstance(name, str) and _unit(table) is None:
                wrong = f"There is no unit “{short(name)}” here."
                yield Wrong((*path, "unit"), "no-such-unit", wrong, f"Write one of {', '.join(UNITS)}.")


def units_of_another_kind(said: Table) -> Iterator[Wrong]:
    """A size in mm on an instrument that reads °C; a gap in mm between two angles."""
    instruments, checks = by_id(said, "instrument"), by_id(said, "check")
    for kind in ("check", "setting"):
        for path, table in tables(said, kind):
            other = instruments.get(text(table, "instrument") or "")
            if other is not None and (wrong := _clash(table, other, f"The {kind}", "the instrument")):
                mend = "Write another unit for one of the two, or name another instrument."
                yield Wrong((*path, "instrument"), "wrong-unit", wrong, mend)
    for path, check, gap in _gaps(said):
        for side in _SIDES:
            other = checks.get(text(gap, side) or "")
            if other is not None and (wrong := _clash(check, other, "The gap", f"the check “{other['id']}”")):
                mend = "Write another unit for one of the two, or name another check."
                yield Wrong((*path, "gap", side), "wrong-unit", wrong, mend)


def _clash(one: Table, other: Table, first: str, second: str) -> str | None:
    ours, theirs = _unit(one), _unit(other)
    if ours is None or theirs is None or ours.measures == theirs.measures:
        return None
    return f"{first} is in {ours.name} ({ours.measures}), {second} in {theirs.name} ({theirs.measures})."


def reversed_ranges(said: Table) -> Iterator[Wrong]:
    """The larger number stands first."""
    for kind, key in (("check", "new"), ("setting", "range")):
        for path, table in tables(said, kind):
            pair = numbers(table, key)
            if len(pair) == 2 and pair[0] > pair[1]:
                wrong = f"“{key}” runs from {pair[0]:g} down to {pair[1]:g}."
                mend = f"Write {key} = [{pair[1]:g}, {pair[0]:g}]."
                turned = put((*path, key), (pair[1], pair[0]))
                yield Wrong((*path, key), "range-reversed", wrong, mend, turned)
    for path, check in tables(said, "check"):
        least, most = number(check.get("min")), number(check.get("max"))
        if least is not None and most is not None and least > most:
            wrong = f"“min” is {least:g} and “max” is {most:g}: nothing lies between them."
            turned = ((*put((*path, "min"), most)[0], *put((*path, "max"), least)[0]),)
            yield Wrong((*path, "min"), "range-reversed", wrong, f"Write min = {most:g} and max = {least:g}.", turned)


def new_is_worn(said: Table) -> Iterator[Wrong]:
    """A new one lies past the limit: mostly `max` where `min` is meant."""
    for path, check in tables(said, "check"):
        least, most, new = number(check.get("min")), number(check.get("max")), sorted(numbers(check, "new"))
        if len(new) != 2 or (least is not None and most is not None and least > most):
            continue
        if most is not None and new[1] > most:
            wrong = f"New ones go up to {new[1]:g}, and past {most:g} they are worn out."
            yield Wrong((*path, "max"), "new-is-worn", wrong, "Look both up again; what gets smaller has a min.")
        if least is not None and new[0] < least:
            wrong = f"New ones go down to {new[0]:g}, and below {least:g} they are worn out."
            yield Wrong((*path, "min"), "new-is-worn", wrong, "Look both up again; what gets larger has a max.")


def gaps(said: Table) -> Iterator[Wrong]:
    """A gap follows from two different checks that are measured, and is not measured itself."""
    computed = {text(check, "id") for _, check, _ in _gaps(said)}
    for path, check, gap in _gaps(said):
        for key in _NOT_FOR_A_GAP:
            if key in check:
                wrong = f"A gap follows from its two checks, and “{key}” says how it is measured."
                ways = out((*path, key), (*path, "gap"))
                yield Wrong((*path, key), "gap-and-readings", wrong, f"Take out {key}, or the gap.", ways)
        if text(gap, "outer") and text(gap, "outer") == text(gap, "inner"):
            wrong = f"The outer and the inner check of the gap are both “{short(gap['outer'])}”."
            yield Wrong((*path, "gap"), "gap-of-gap", wrong, "Name two different checks.")
            continue
        for side in _SIDES:
            name = text(gap, side)
            if name and name in computed:
                wrong = f"“{short(name)}” is a gap itself."
                yield Wrong((*path, "gap", side), "gap-of-gap", wrong, "Name a check that is measured.")


def never_bare(said: Table) -> Iterator[Wrong]:
    """What must be off for a check never comes off."""
    stays = {text(part, "id") for _, part in tables(said, "part") if part.get("stays") is True}
    for path, check in tables(said, "check"):
        for index, name in texts(check, "bare"):
            if name in stays:
                wrong = f"“{short(name)}” stays on, so this can never be measured."
                here = (*path, "bare", index)
                yield Wrong(here, "never-bare", wrong, "Take it out of bare.", out(here))


def nothing_to_set(said: Table) -> Iterator[Wrong]:
    """A setting has either a range or a question with its answers."""
    for path, setting in tables(said, "setting"):
        question = text(setting, "question")
        if ("range" in setting) == (question is not None):
            wrong = f"The setting has {'both a range and' if question else 'neither a range nor'} a question."
            mend = "Write range = [smallest, largest], or question, answers and right."
            yield Wrong(path, "nothing-to-set", wrong, "Keep one of the two." if question else mend)
        if question and (len(texts(setting, "answers")) < 2 or not text(setting, "right")):
            wrong = "The question wants two answers or more, and the right one."
            mend = 'Write answers = ["yes", "no"] and right = "yes".'
            yield Wrong((*path, "question"), "question-answers", wrong, mend)


def right_answers(said: Table) -> Iterator[Wrong]:
    """The right answer is one of the answers."""
    asked = [question for path, part in tables(said, "part") for question in tables(part, "ask", path)]
    for path, table in [*asked, *tables(said, "setting")]:
        right, answers = text(table, "right"), [answer for _, answer in texts(table, "answers")]
        if right and answers and right not in answers:
            meant = nearest(right, answers)
            mend = f'Write right = "{short(meant)}".' if meant else "Write one of the answers, or add it to them."
            wrong = f"The right answer “{short(right)}” is not among the answers."
            ways = put((*path, "right"), meant) if meant else ()
            yield Wrong((*path, "right"), "answer-not-listed", wrong, mend, ways)


def after_and_before(said: Table) -> Iterator[Wrong]:
    """A setting wants a part on and not yet on."""
    for path, setting in tables(said, "setting"):
        after = {name: index for index, name in texts(setting, "after")}
        for index, name in texts(setting, "before"):
            if name in after:
                wrong = f"“{short(name)}” is to be on, and not yet on, when this is set."
                here, ways = (*path, "before", index), out((*path, "after", after[name]), (*path, "before", index))
                yield Wrong(here, "after-and-before", wrong, "Take it out of after or of before.", ways)
