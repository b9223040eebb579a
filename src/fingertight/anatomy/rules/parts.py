"""Rules about parts: their ids, who names whom, how the machine lies, how many pieces, what is said twice."""

from collections.abc import Iterator

from fingertight.anatomy.mistakes import Path, Wrong, out, put
from fingertight.anatomy.rules.said import Table, ids, short, tables, text, texts, whole
from fingertight.anatomy.schema import named, nearest, opening

# Lists whose entries must differ, by the table they stand in.
_EACH_ONCE = {
    "part": ("behind", "fit_after", "places", "tools", "record"),
    "check": ("bare", "at", "across"),
    "setting": ("after", "before", "answers"),
    "sign": ("before",),
}
# Only what is written almost alike is offered for a part: crankshaft is not crankcase.
ALIKE = 0.8


def same_ids(said: Table) -> Iterator[Wrong]:
    """Two tables of a kind with one id."""
    for kind in ("instrument", "part", "check", "setting", "sign"):
        first: dict[str, int] = {}
        for index, (path, table) in enumerate(tables(said, kind), 1):
            name = text(table, "id")
            if name in first:
                wrong = f"The id “{short(name)}” stands twice: [[{kind}]] number {first[name]} has it already."
                yield Wrong((*path, "id"), "same-id", wrong, "Give one of the two another id.")
            elif name:
                first[name] = index


def _of_parts(said: Table) -> Iterator[tuple[Path, str, str | None]]:
    """Where parts name parts: the path, the id that is named, the id of the part that names it."""
    for path, part in tables(said, "part"):
        owner = text(part, "id")
        for key in ("behind", "fit_after"):
            yield from (((*path, key, index), name, owner) for index, name in texts(part, key))
        for way_path, way in _ways(path, part):
            yield from (((*way_path, index), name, owner) for index, name in texts(way, "way"))


def _ways(path: Path, part: Table) -> list[tuple[Path, Table]]:
    """Each set of `ways`, under the key `way`, with its path."""
    ways = part.get("ways")
    return [((*path, "ways", index), {"way": way}) for index, way in enumerate(ways if isinstance(ways, list) else [])]


def _of_the_rest(said: Table) -> Iterator[tuple[Path, str]]:
    """Where checks, settings and sign-offs name parts."""
    for kind, keys in {"check": ("bare",), "setting": ("after", "before"), "sign": ("before",)}.items():
        for path, table in tables(said, kind):
            for key in keys:
                yield from (((*path, key, index), name) for index, name in texts(table, key))
    for path, check in tables(said, "check"):
        if name := text(check, "part"):
            yield (*path, "part"), name


def unknown_parts(said: Table) -> Iterator[Wrong]:
    """A part is named that there is not."""
    known = ids(said, "part")
    there = set(known)
    for path, name in [*((path, name) for path, name, _ in _of_parts(said)), *_of_the_rest(said)]:
        if name not in there:
            yield unknown(path, "part", name, known)


def unknown(path: Path, kind: str, name: str, known: list[str]) -> Wrong:
    """The sentence for a name of something that there is not."""
    meant = nearest(name, known, ALIKE)
    mend = f'Write "{meant}".' if meant else f'Name one that there is, or add a [[{kind}]] with id = "{short(name)}".'
    wrong = f"{opening(path)} names the {kind} “{short(name)}”; there is none."
    return Wrong(path, f"unknown-{kind}", wrong, mend, put(path, meant) if meant else ())


def own_ways(said: Table) -> Iterator[Wrong]:
    """A part waits for itself."""
    for path, name, owner in _of_parts(said):
        if name == owner:
            wrong = f"“{short(name)}” stands in its own “{path[2]}”."
            yield Wrong(path, "own-way", wrong, "Take it out of that list.", out(path))


def said_twice(said: Table) -> Iterator[Wrong]:
    """A list names one thing twice."""
    lists: list[tuple[Path, list[tuple[int, str]]]] = []
    for kind, keys in _EACH_ONCE.items():
        lists += [((*path, key), texts(table, key)) for path, table in tables(said, kind) for key in keys]
    for path, part in tables(said, "part"):
        lists += [(here, texts(way, "way")) for here, way in _ways(path, part)]
        lists += [((*here, "answers"), texts(question, "answers")) for here, question in tables(part, "ask", path)]
    machine = said.get("machine")
    lists += [(("machine", "rests"), texts(machine, "rests"))] if isinstance(machine, dict) else []
    for path, entries in lists:
        seen: set[str] = set()
        for index, entry in entries:
            if entry in seen:
                wrong = f"{opening((*path, index))} is “{short(entry)}” again."
                yield Wrong((*path, index), "said-twice", wrong, f"Take it out of {named(path)}.", out((*path, index)))
            seen.add(entry)


def unknown_rests(said: Table) -> Iterator[Wrong]:
    """The machine is to lie in a way that [machine] does not list."""
    machine = said.get("machine", {})
    if not isinstance(machine, dict):
        return
    rests = [rest for _, rest in texts(machine, "rests")]
    for path, part in tables(said, "part"):
        rest = text(part, "rests")
        if rest is None or rest in {*rests, "any"}:
            continue
        meant = nearest(rest, [*rests, "any"])
        mend = f'Write "{meant}".' if meant else f'Add "{short(rest)}" to rests of [machine].'
        if rests and not meant:
            mend = f"Write {' or '.join(f'“{one}”' for one in rests[:9])}, or add it to rests of [machine]."
        wrong = f"The part rests “{short(rest)}”; the machine has no such rest."
        yield Wrong((*path, "rests"), "unknown-rest", wrong, mend, put((*path, "rests"), meant) if meant else ())


def count_and_places(said: Table) -> Iterator[Wrong]:
    """Both `count` and `places` say how many pieces there are."""
    for path, part in tables(said, "part"):
        places, count = texts(part, "places"), whole(part, "count")
        if places and count and count != 1:
            wrong = f"The part counts {count} and has {len(places)} places."
            mend = "Take count out: each place is one piece."
            yield Wrong((*path, "count"), "count-places", wrong, mend, out((*path, "count")))
