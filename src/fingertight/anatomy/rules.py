"""What takes two places of a machine file to be seen wrong. Rules read the values as they stand, so that a file whose
shapes are wrong still hears of everything else: whatever is not of the right type is passed over here."""

from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

from fingertight.anatomy.mistakes import Path, Wrong
from fingertight.anatomy.model import UNTHREADED
from fingertight.anatomy.schema import named, nearest
from fingertight.quantity import NotUnderstood, Unit, plain, unit_named
from fingertight.tighten import NoSuchHead, NoSuchSpanner, NoSuchThread, head_named, spanner_for, thread_named

Table = dict[str, Any]
Found = Iterator[Wrong]


def broken_rules(said: Table) -> Found:
    """Every rule of the format this file breaks; `said` is what tomllib read, misspelt keys mended."""
    for rule in RULES:
        yield from rule(said)


def _tables(said: Table, kind: str) -> list[tuple[Path, Table]]:
    """The tables of one kind with their paths, those that are no tables left out."""
    found = said.get(kind)
    listed = found if isinstance(found, list) else []
    return [((kind, index), table) for index, table in enumerate(listed) if isinstance(table, dict)]


def _texts(table: Table, key: str) -> list[tuple[int, str]]:
    found = table.get(key)
    return (
        [(index, text) for index, text in enumerate(found) if isinstance(text, str)] if isinstance(found, list) else []
    )


def _text(table: Table, key: str) -> str | None:
    found = table.get(key)
    return found if isinstance(found, str) and found else None


def _number(value: object) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e300:
        return None
    return float(value)


def _numbers(table: Table, key: str) -> list[float]:
    """The numbers of a list; nothing when an entry is none, because then the shape is wrong already."""
    found = table.get(key)
    numbers = [_number(value) for value in found] if isinstance(found, list) else []
    return [] if None in numbers else [number for number in numbers if number is not None]


def _whole(table: Table, key: str) -> int | None:
    found = table.get(key)
    return found if isinstance(found, int) and not isinstance(found, bool) and 0 < found <= 10_000 else None


def _ids(said: Table, kind: str) -> list[str]:
    return [table["id"] for _, table in _tables(said, kind) if isinstance(table.get("id"), str)]


def _same_ids(said: Table) -> Found:
    for kind in ("instrument", "part", "check", "setting", "sign"):
        first: dict[str, int] = {}
        for path, table in _tables(said, kind):
            name = _text(table, "id")
            if name is None:
                continue
            if name in first:
                text = (
                    f"Two of [[{kind}]] have the id “{name}”: number {first[name] + 1} and number {int(path[1]) + 1}."
                )
                yield Wrong((*path, "id"), "same-id", text, "Give one of them another id.")
            first.setdefault(name, int(path[1]))


def _part_references(said: Table) -> Iterator[tuple[Path, str, str | None]]:
    """Every place that names a part: its path, the id it names, and the id of the part that says so (or None)."""
    for path, part in _tables(said, "part"):
        for key in ("behind", "fit_after"):
            yield from (((*path, key, index), name, _text(part, "id")) for index, name in _texts(part, key))
        ways = part.get("ways")
        for number, way in enumerate(ways if isinstance(ways, list) else []):
            yield from (
                ((*path, "ways", number, index), name, _text(part, "id")) for index, name in _texts({"way": way}, "way")
            )
    for kind, keys in {"check": ("bare",), "setting": ("after", "before"), "sign": ("before",)}.items():
        for path, table in _tables(said, kind):
            for key in keys:
                yield from (((*path, key, index), name, None) for index, name in _texts(table, key))
    for path, check in _tables(said, "check"):
        if name := _text(check, "part"):
            yield (*path, "part"), name, None


def _unknown(path: Path, kind: str, name: str, known: list[str]) -> Wrong:
    meant = nearest(name, known, 0.8)
    mend = f'Write "{meant}".' if meant else f'Write one that there is, or add a [[{kind}]] with id = "{name[:80]}".'
    return Wrong(
        path,
        f"unknown-{kind}",
        f"{named(path)[:1].upper()}{named(path)[1:]} names the {kind} “{name[:80]}”; there is none.",
        mend,
    )


def _unknown_parts(said: Table) -> Found:
    known = _ids(said, "part")
    ids = set(known)
    for path, name, _ in _part_references(said):
        if name not in ids:
            yield _unknown(path, "part", name, known)


def _own_ways(said: Table) -> Found:
    for path, name, owner in _part_references(said):
        if owner is not None and name == owner:
            yield Wrong(
                path,
                "own-way",
                f"“{name}” stands in its own {named(path).split('“')[1].split('”')[0]}.",
                "Take it out of that list.",
            )


def _said_twice(said: Table) -> Found:
    lists: list[tuple[Path, Table, str]] = []
    for path, part in _tables(said, "part"):
        lists += [(path, part, key) for key in ("behind", "fit_after", "places", "tools", "record")]
        lists += [(inner, question, "answers") for inner, question in _inner(path, part, "ask")]
        ways = part.get("ways")
        lists += [
            ((*path, "ways"), {number: way}, number)
            for number, way in enumerate(ways if isinstance(ways, list) else [])
        ]  # type: ignore[dict-item,list-item]
    for kind, keys in {
        "check": ("bare", "at", "across"),
        "setting": ("after", "before", "answers"),
        "sign": ("before",),
    }.items():
        lists += [(path, table, key) for path, table in _tables(said, kind) for key in keys]
    machine = said.get("machine")
    lists += [(("machine",), machine, "rests")] if isinstance(machine, dict) else []
    for path, table, key in lists:
        seen: set[str] = set()
        for index, text in _texts(table, key):
            if text in seen:
                here = (*path, key, index)
                yield Wrong(
                    here,
                    "said-twice",
                    f"{named(here)[:1].upper()}{named(here)[1:]} says “{text[:80]}” a second time.",
                    "Take it out.",
                )
            seen.add(text)


def _inner(path: Path, part: Table, key: str) -> list[tuple[Path, Table]]:
    return [((*path, *inner), table) for inner, table in _tables(part, key)]


def _unknown_others(said: Table) -> Found:
    instruments, checks = _ids(said, "instrument"), _ids(said, "check")
    for kind in ("check", "setting"):
        for path, table in _tables(said, kind):
            name = _text(table, "instrument")
            if name and name not in instruments:
                yield _unknown((*path, "instrument"), "instrument", name, instruments)
    for path, check in _tables(said, "check"):
        gap = check.get("gap")
        for side in ("outer", "inner") if isinstance(gap, dict) else ():
            name = _text(gap, side)
            if name and name not in checks:
                yield _unknown((*path, "gap", side), "check", name, checks)


def _rests(said: Table) -> Found:
    machine = said.get("machine")
    rests = [text for _, text in _texts(machine, "rests")] if isinstance(machine, dict) else []
    for path, part in _tables(said, "part"):
        rest = _text(part, "rests")
        if rest and rest not in {*rests, "any"}:
            meant = nearest(rest, [*rests, "any"])
            listed = ", ".join(f'"{one}"' for one in rests)
            mend = (
                f'Write "{meant}".'
                if meant
                else f"Write one of {listed}, or add it to rests of [machine]."
                if rests
                else "Add it to rests of [machine]."
            )
            yield Wrong(
                (*path, "rests"), "unknown-rest", f"The part rests “{rest[:80]}”; the machine has no such rest.", mend
            )


def _unit(table: Table | None) -> Unit | None:
    name = (table or {}).get("unit", "mm")
    try:
        return unit_named(name) if isinstance(name, str) else None
    except NotUnderstood:
        return None


def _units(said: Table) -> Found:
    for kind in ("instrument", "check", "setting"):
        for path, table in _tables(said, kind):
            name = table.get("unit")
            if isinstance(name, str) and _unit(table) is None:
                try:
                    unit_named(name[:80])
                except NotUnderstood as unknown:
                    text, _, mend = str(unknown).partition("; ")
                    yield Wrong((*path, "unit"), "no-such-unit", f"{text}.", mend[:1].upper() + mend[1:])
    by_id = {_text(table, "id"): table for _, table in _tables(said, "instrument")}
    for kind in ("check", "setting"):
        for path, table in _tables(said, kind):
            instrument = by_id.get(_text(table, "instrument") or "")
            ours, theirs = _unit(table), _unit(instrument)
            if instrument is not None and ours and theirs and ours.measures != theirs.measures:
                text = f"The {kind} is in {ours.name}, which is a {ours.measures}; the instrument reads {theirs.name}, a {theirs.measures}."
                yield Wrong(
                    (*path, "instrument"),
                    "wrong-unit",
                    text,
                    "Give one of them another unit, or name another instrument.",
                )
    yield from _gap_units(said)


def _gap_units(said: Table) -> Found:
    by_id = {_text(table, "id"): table for _, table in _tables(said, "check")}
    for path, check in _tables(said, "check"):
        gap = check.get("gap")
        for side in ("outer", "inner") if isinstance(gap, dict) else ():
            other = by_id.get(_text(gap, side) or "")
            ours, theirs = _unit(check), _unit(other)
            if other is not None and ours and theirs and ours.measures != theirs.measures:
                text = f"The gap is in {ours.name}, which is a {ours.measures}; the check “{other['id']}” is in {theirs.name}, a {theirs.measures}."
                yield Wrong(
                    (*path, "gap", side), "wrong-unit", text, "Give one of them another unit, or name another check."
                )


def _fasteners(said: Table) -> Found:
    for path, part in _tables(said, "part"):
        for here, fasteners in _inner(path, part, "held_by"):
            yield from _thread(here, fasteners)
            yield from _numbers_of_a_set(here, fasteners)
            yield from _passes(here, fasteners)


def _thread(path: Path, fasteners: Table) -> Found:
    thread, number = _text(fasteners, "thread"), int(path[-1]) + 1
    if ("thread" in fasteners) == ("kind" in fasteners):
        both = (
            f"has both a thread and a kind, “{fasteners['kind']}”"
            if thread and "kind" in fasteners
            else "has neither a thread nor a kind"
        )
        mend = (
            "Keep one of them."
            if both.startswith("has both")
            else f'Write thread = "M6", or kind = "{UNTHREADED[0]}" for what has none.'
        )
        yield Wrong(path, "thread-and-kind", f"Fastener set {number} {both}.", mend)
    if thread is None:
        return
    try:
        known = thread_named(thread[:80])
    except NoSuchThread as unknown:
        text, _, mend = str(unknown).partition("; ")
        yield Wrong((*path, "thread"), "no-such-thread", f"{text.rstrip('.')}.", _thread_mend(thread, unknown, mend))
        return
    head = _text(fasteners, "head")
    if head is None or "spanner" in fasteners:
        return
    try:
        head_named(head[:80])
        spanner_for(known, head)
    except NoSuchHead as unknown:
        mend = f'Write one of {", ".join(unknown.nearest)}, or name the driver, as in spanner = "10 mm".'
        yield Wrong((*path, "head"), "no-such-head", f"There is no head “{head[:80]}” here.", mend)
    except NoSuchSpanner as unknown:
        yield Wrong((*path, "head"), "no-spanner", str(unknown), 'Name the driver, as in spanner = "10 mm".')


def _thread_mend(thread: str, unknown: NoSuchThread, mend: str) -> str:
    """A bolt written with its length is the commonest slip of all: M6x28 is M6, 28 mm long."""
    size, _, length = thread.replace("×", "x").partition("x")
    if unknown.nearest and _digits(length) and float(length) > 8:
        return f'Write thread = "{size.strip()}" and length = {plain(float(length))}.'
    return (
        f"{mend[:1].upper()}{mend[1:]}"
        if not unknown.nearest
        else f"Write one that exists: {', '.join(unknown.nearest)}."
    )


def _digits(text: str) -> bool:
    return text.strip().isascii() and text.strip().replace(".", "", 1).isdigit() and len(text) < 20


def _numbers_of_a_set(path: Path, fasteners: Table) -> Found:
    at = fasteners.get("at")
    places = at if isinstance(at, list) else []
    count, number = _whole(fasteners, "count"), int(path[-1]) + 1
    if count and places and count != len(places):
        text = f"Fastener set {number} counts {count} and has {len(places)} position{'s' * (len(places) != 1)}."
        yield Wrong((*path, "at"), "count-positions", text, f"Write {count} positions, or count = {len(places)}.")
    seen: dict[tuple[float, ...], int] = {}
    for index, place in enumerate(places):
        spot = tuple(_numbers({"at": place}, "at"))
        if len(spot) == 2 and spot in seen:
            text = f"Positions {seen[spot] + 1} and {index + 1} of fastener set {number} are the same."
            yield Wrong((*path, "at", index), "same-position", text, "Write where the bolt is.")
        seen.setdefault(spot, index)
    yield from _order(path, fasteners, count or len(places) or 1)


def _order(path: Path, fasteners: Table, count: int) -> Found:
    order, given = fasteners.get("order"), fasteners.get("pattern") == "given"
    if given and not order:
        yield Wrong(
            (*path, "pattern"),
            "order-positions",
            "The pattern is given, and no order is.",
            f"Write order = {list(range(1, min(count, 9) + 1))}, as they are tightened.",
        )
    if (
        not isinstance(order, list)
        or not order
        or not all(isinstance(one, int) and not isinstance(one, bool) for one in order)
    ):
        return
    if "pattern" in fasteners and not given:
        yield Wrong(
            (*path, "order"),
            "order-positions",
            f"An order stands beside the pattern “{fasteners['pattern']}”.",
            'Write pattern = "given", or take the order out.',
        )
    elif "pattern" not in fasteners:
        yield Wrong(
            (*path, "order"),
            "order-positions",
            "An order stands here without a pattern.",
            'Write pattern = "given" beside it.',
        )
    if sorted(order) != list(range(1, count + 1)):
        text = f"The order must name each position from 1 to {count} once."
        missing = [str(one) for one in range(1, count + 1) if one not in order][:10]
        twice = [str(one) for one, times in Counter(order).items() if times > 1][:10]
        beyond = [str(one)[:10] for one in order if not 1 <= one <= count][:10]
        wrong = [
            f"{what}: {', '.join(ones)}"
            for what, ones in (("missing", missing), ("twice", twice), ("not there", beyond))
            if ones
        ]
        yield Wrong((*path, "order"), "order-positions", text, f"{'; '.join(wrong).capitalize()}.")


def _passes(path: Path, fasteners: Table) -> Found:
    passes, torque = _numbers(fasteners, "passes"), _number(fasteners.get("torque"))
    for index, share in enumerate(passes):
        here = (*path, "passes", index)
        if share > 1:
            whole = max(torque or 0, *passes) if torque is None or max(passes) > torque else torque
            shares = ", ".join(plain(round(one / whole, 3)) for one in passes[:10])
            text = f"A pass of {share:g} is more than the whole torque: passes are shares of it, 1.0 the last."
            yield Wrong(here, "pass-share", text, f"Write passes = [{shares}].")
            return
        if index and share < passes[index - 1]:
            yield Wrong(
                here,
                "pass-share",
                f"A pass of {share:g} comes after one of {passes[index - 1]:g}.",
                "Write the passes from small to large.",
            )


def _pieces(said: Table) -> Found:
    for path, part in _tables(said, "part"):
        places, count = _texts(part, "places"), _whole(part, "count")
        if places and count and count != 1:
            text = f"The part counts {count} and has {len(places)} places."
            yield Wrong((*path, "count"), "count-places", text, "Take count out: each place is one piece.")


def _ranges(said: Table) -> Found:
    for kind, key in (("check", "new"), ("setting", "range")):
        for path, table in _tables(said, kind):
            pair = _numbers(table, key)
            if len(pair) == 2 and pair[0] > pair[1]:
                yield Wrong(
                    (*path, key),
                    "range-reversed",
                    f"“{key}” runs from {pair[0]:g} down to {pair[1]:g}.",
                    f"Write {key} = [{pair[1]:g}, {pair[0]:g}].",
                )
    for path, check in _tables(said, "check"):
        least, most, new = _number(check.get("min")), _number(check.get("max")), sorted(_numbers(check, "new"))
        if least is not None and most is not None and least > most:
            yield Wrong(
                (*path, "min"),
                "range-reversed",
                f"“min” is {least:g} and “max” is {most:g}: nothing lies between.",
                f"Write min = {most:g} and max = {least:g}.",
            )
            continue
        if len(new) == 2 and most is not None and new[1] > most:
            text = f"New ones go up to {new[1]:g}, and past {most:g} they are worn out."
            yield Wrong((*path, "max"), "new-is-worn", text, "Look both up again; write min for what gets smaller.")
        if len(new) == 2 and least is not None and new[0] < least:
            text = f"New ones go down to {new[0]:g}, and below {least:g} they are worn out."
            yield Wrong((*path, "min"), "new-is-worn", text, "Look both up again; write max for what gets larger.")


def _gaps(said: Table) -> Found:
    gaps = {_text(table, "id") for _, table in _tables(said, "check") if "gap" in table}
    for path, check in _tables(said, "check"):
        gap = check.get("gap")
        if not isinstance(gap, dict):
            continue
        for key in ("part", "bare", "at", "across", "instrument", "out_of_round_max", "taper_max"):
            if key in check:
                text = f"A gap follows from its two checks; “{key}” says how it is measured."
                yield Wrong((*path, key), "gap-and-readings", text, f"Take {key} out, or the gap.")
        outer, inner = _text(gap, "outer"), _text(gap, "inner")
        if outer and outer == inner:
            yield Wrong(
                (*path, "gap"),
                "gap-of-gap",
                f"Outer and inner of the gap are the same check, “{outer[:80]}”.",
                "Name two checks.",
            )
        for side, name in (("outer", outer), ("inner", inner)):
            if name and name in gaps:
                yield Wrong(
                    (*path, "gap", side),
                    "gap-of-gap",
                    f"“{name[:80]}” is a gap itself.",
                    "Name a check that is measured.",
                )


def _never_bare(said: Table) -> Found:
    stays = {_text(part, "id") for _, part in _tables(said, "part") if part.get("stays") is True}
    for path, check in _tables(said, "check"):
        for index, name in _texts(check, "bare"):
            if name in stays:
                yield Wrong(
                    (*path, "bare", index),
                    "never-bare",
                    f"“{name}” stays on, so this can never be measured.",
                    "Take it out of bare.",
                )


def _questions(said: Table) -> Found:
    asked = [question for path, part in _tables(said, "part") for question in _inner(path, part, "ask")]
    for path, setting in _tables(said, "setting"):
        question = _text(setting, "question")
        if ("range" in setting) == (question is not None):
            both = "both a range and a question" if question else "neither a range nor a question"
            mend = (
                "Keep one of them."
                if question
                else "Write range = [smallest, largest], or question, answers and right."
            )
            yield Wrong(path, "nothing-to-set", f"The setting has {both}.", mend)
        if question and (len(_texts(setting, "answers")) < 2 or not _text(setting, "right")):
            text = "The question has no two answers, or no right one."
            yield Wrong(
                (*path, "question"), "question-answers", text, 'Write answers = ["yes", "no"] and right = "yes".'
            )
        asked.append((path, setting))
    for path, table in asked:
        right, answers = _text(table, "right"), [text for _, text in _texts(table, "answers")]
        if right and answers and right not in answers:
            meant = nearest(right, answers) or answers[0]
            text = f"The right answer “{right[:80]}” is not among the answers."
            yield Wrong(
                (*path, "right"), "answer-not-listed", text, f'Write right = "{meant[:80]}", or add it to answers.'
            )


def _after_and_before(said: Table) -> Found:
    for path, setting in _tables(said, "setting"):
        after = {name for _, name in _texts(setting, "after")}
        for index, name in _texts(setting, "before"):
            if name in after:
                text = f"“{name}” is to be on and not yet on when this is set."
                yield Wrong((*path, "before", index), "after-and-before", text, "Take it out of after or of before.")


RULES: tuple[Callable[[Table], Found], ...] = (
    _same_ids, _unknown_parts, _own_ways, _said_twice, _unknown_others, _rests, _units, _fasteners, _pieces, _ranges, _gaps,
    _never_bare, _questions, _after_and_before,
)  # fmt: skip
