"""The shapes of the model, seen from outside: as JSON Schema for programs, as sentences when a file does not fit."""

import datetime
import difflib
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from fingertight.anatomy import model
from fingertight.anatomy.mistakes import Mend, Mends, Path, Wrong, put

# The tables of a file by their keys: the shape of each, and what a person calls one of them.
TABLES: dict[tuple[str, ...], tuple[type[BaseModel], str]] = {
    (): (model.Anatomy, "file"),
    ("machine",): (model.MachineTable, "machine"),
    ("engine",): (model.Engine, "engine"),
    ("instrument",): (model.Instrument, "instrument"),
    ("part",): (model.Part, "part"),
    ("part", "held_by"): (model.FastenerSet, "fastener set"),
    ("part", "with"): (model.SmallThing, "small thing"),
    ("part", "ask"): (model.Question, "question"),
    ("check",): (model.Check, "check"),
    ("check", "gap"): (model.Gap, "gap"),
    ("setting",): (model.Setting, "setting"),
    ("sign",): (model.Sign, "sign"),
}
# Where several tables may stand: [[part]], never [part].
SEVERAL = tuple(keys for keys in TABLES if keys and keys not in {("machine",), ("engine",), ("check", "gap")})
_WANTED = {
    "string_type": "a text in quotes",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "int_parsing_size": "a smaller whole number",
    "float_type": "a number",
    "bool_type": "true or false",
    "tuple_type": "a list in [ ]",
    "model_type": "a table",
}
# What one entry of these lists is called.
_LISTS: dict[str | int, str] = {"ways": "set", "at": "position"}
_SHOWN = 60
_MOST_COMPARED = 1000


def anatomy_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of an anatomy file, from the model that reads it.

    >>> sorted(anatomy_schema()["required"])
    ['format', 'machine', 'part']
    """
    schema = model.Anatomy.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": "Anatomy, format 1"}


def keys_of(path: Path) -> list[str]:
    """The keys the table at this path may have, in the order of the model.

    >>> keys_of(("check", 0, "gap"))
    ['outer', 'inner']
    """
    shape, _ = TABLES.get(_plain(path), (None, ""))
    return [field.alias or name for name, field in shape.model_fields.items()] if shape else []


def nearest(typed: str, known: list[str], cutoff: float = 0.6) -> str | None:
    """The word most likely meant, or None when nothing is like it.

    >>> nearest("behnd", ["behind", "before"])
    'behind'
    """
    if len(known) > _MOST_COMPARED:
        return None
    evened = typed[:80].lower().replace("_", "-").replace(" ", "-")
    spelt = {word.lower().replace("_", "-"): word for word in known}
    found = difflib.get_close_matches(evened, spelt, n=1, cutoff=cutoff)
    return spelt[found[0]] if found else None


def shape_mistakes(error: ValidationError, said: Mapping[str, Any]) -> Iterator[Wrong]:
    """What pydantic found, as sentences; what only follows from another mistake is left out."""
    for detail in error.errors(include_url=False):
        path: Path = detail["loc"]
        if not _only_follows(detail, path, said):
            yield _worded(detail, path)


def _only_follows(detail: ErrorDetails, path: Path, said: Mapping[str, Any]) -> bool:
    if detail["type"] in {"string_pattern_mismatch", "string_too_long"} and path[-1] not in {"id", "name"}:
        # A reference of no shape of an id: the rules say that there is no such part; of an empty one they say nothing.
        return "part" in said and bool(detail["input"])
    return detail["type"] == "too_short" and path == ("part",) and bool(said.get("part"))


def _plain(path: Path) -> tuple[str, ...]:
    return tuple(key for key in path if isinstance(key, str))


def _table_of(path: Path) -> tuple[Path, str, Path]:
    """The innermost table around the end of the path, what a person calls it, and the rest of the path."""
    for size in range(len(path) - 1, -1, -1):
        name = TABLES.get(_plain(path[:size]), (None, ""))[1]
        if name and (size == 0 or _plain(path[:size]) not in SEVERAL or isinstance(path[size - 1], int)):
            return path[:size], name, path[size:]
    return (), "file", path


def named(path: Path) -> str:
    """What a sentence calls the thing at the end of a path.

    >>> named(("part", 0, "held_by", 1, "at", 3)), named(("part", 0, "minutes"))
    ('position 4 of “at” in fastener set 2', '“minutes”')
    """
    table, name, rest = _table_of(path)
    indices = [key + 1 for key in reversed(rest) if isinstance(key, int)]
    names = ["entry"] * (len(indices) - 1) + [_LISTS.get(rest[0], "entry")] if rest and indices else []
    entries = [f"{word} {index}" for word, index in zip(names, indices, strict=True)]
    key = f"“{'.'.join(_plain(rest))}”"
    inside = f" in {name} {int(table[-1]) + 1}" if len(table) > 2 and isinstance(table[-1], int) else ""
    inside = inside or (" in gap" if name == "gap" else "")
    return " of ".join([*entries, key]) + inside


def opening(path: Path) -> str:
    """The same at the beginning of a sentence.

    >>> opening(("part", 0, "ways", 1, 0))
    'Entry 1 of set 2 of “ways”'
    """
    text = named(path)
    return text[:1].upper() + text[1:]


def shown_value(value: object) -> str:
    """What was written, short enough for a sentence.

    >>> shown_value("M6"), shown_value(True), shown_value([1])
    ('the text “M6”', 'true', 'a list')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"the text “{value if len(value) <= _SHOWN else value[: _SHOWN - 1] + '…'}”"
    if isinstance(value, int | float):
        text = repr(value) if abs(value) < 1e15 else "too large a number"
        return text if text.startswith("too") else f"the number {text}"
    if isinstance(value, list | dict):
        return "a list" if isinstance(value, list) else "a table"
    return "a date or a time" if isinstance(value, datetime.date | datetime.time) else "something else"


def _worded(detail: ErrorDetails, path: Path) -> Wrong:
    kind, value, limits = detail["type"], detail["input"], detail.get("ctx", {})
    if kind == "extra_forbidden":
        return unknown_key(path, None)
    if kind == "missing":
        return _missing(path)
    if kind in _WANTED:
        wanted = _WANTED[kind]
        if kind == "model_type" and isinstance(value, list):
            wanted = "one table"
        return Wrong(
            path,
            "wrong-type",
            f"{opening(path)} is {shown_value(value)}; {wanted} is wanted.",
            _written(path, value, kind),
            _rewritten(path, value, kind),
        )
    say = _VALUES.get(kind)
    text, mend = (
        say(path, value, limits) if say else (f"{opening(path)}: {detail['msg']}.", "Write it as the format asks.")
    )
    meant = nearest(value, _choices(limits)) if kind == "literal_error" and isinstance(value, str) else None
    return Wrong(path, "wrong-value", text, mend, put(path, meant) if meant else ())


def unknown_key(path: Path, meant: str | None) -> Wrong:
    """A key that its table does not have; `meant` is the one most likely meant.

    >>> unknown_key(("part", 0, "behnd"), "behind").text
    'There is no key “behnd” in a part.'
    """
    table, name, rest = _table_of(path)
    article = "the" if name in {"file", "machine", "engine"} else "an" if name[0] in "aeiou" else "a"
    known = ", ".join(keys_of(table))
    mend = f"Write {meant}." if meant else f"Take it out; the keys are {known}."
    text = f"There is no key “{str(rest[0])[:_SHOWN]}” in {article} {name}."
    return Wrong(path, "unknown-key", text, mend, ((Mend(path, "key", meant),),) if meant else ())


def _missing(path: Path) -> Wrong:
    table, name, rest = _table_of(path)
    if isinstance(path[-1], int):
        return Wrong(
            path[:-1],
            "wrong-value",
            f"{opening(path[:-1])} has too few numbers.",
            "Write two numbers, for example [68.0, 68.02].",
        )
    examples: dict[tuple[str, ...], str] = {
        ("format",): "Write format = 1 in the first line.",
        ("machine",): 'Write [machine] and name = "…" under it.',
        ("part",): "Write a [[part]] for each thing that goes into one bag.",
    }
    example = examples.get(_plain(path), f"Write {path[-1]} = … into it.")
    # A table within a part is found by its number, the others by their name.
    called = (
        f"{name.capitalize()} {int(table[-1]) + 1}" if len(table) > 2 and isinstance(table[-1], int) else f"The {name}"
    )
    return Wrong(path, "missing-key", f"{called} has no “{rest[0]}”.", example)


def _written(path: Path, value: object, kind: str) -> str:
    """How the same thing is written in the type that is wanted, where that can be said."""
    key = next(key for key in reversed(path) if isinstance(key, str))
    inside = isinstance(path[-1], int)
    if kind == "tuple_type":
        if isinstance(value, dict) and _plain(path) in SEVERAL:
            return f"Write [[{'.'.join(_plain(path))}]] above its keys, or {key} = [{{ … }}]."
        listed = f"[{_toml(value)}]" if isinstance(value, str | int | float) else "[ … ]"
        return f"Write {listed if inside else f'{key} = {listed}'}."
    if kind == "model_type":
        if isinstance(value, list):
            return f"Write [{key}] once."
        return f"Write {{ … }} with {', '.join(keys_of(path)[:3])}." if keys_of(path) else "Write a table."
    fitting = _fitting(value, kind)
    if fitting is None:
        return f"Write {_WANTED[kind]}."
    return f"Write {fitting if inside else f'{key} = {fitting}'}."


def _rewritten(path: Path, value: object, kind: str) -> Mends:
    """The same, for a program to do."""
    if kind == "tuple_type" and isinstance(value, str | int | float):
        return put(path, (value,))
    fitting = _fitting(value, kind)
    return put(path, tomllib.loads(f"x = {fitting}")["x"]) if fitting and kind in _SIMPLE else ()


_SIMPLE = {"string_type", "int_type", "float_type", "bool_type"}


def _fitting(value: object, kind: str) -> str | None:
    if kind == "string_type" and isinstance(value, int | float):
        return _toml(_toml(value))
    if kind == "bool_type" and isinstance(value, str) and value.lower() in {"true", "yes", "false", "no"}:
        return "true" if value.lower() in {"true", "yes"} else "false"
    number = r"-?[0-9]{1,12}(\.[0-9]{1,12})?" if kind == "float_type" else r"-?[0-9]{1,12}"
    if kind in {"float_type", "int_type"} and isinstance(value, str) and re.fullmatch(number, value):
        return value
    if kind == "int_type" and isinstance(value, float) and value.is_integer() and abs(value) < 1e12:
        return str(int(value))
    return None


def _toml(value: object) -> str:
    """The value as it stands in a TOML file, for a mend."""
    if isinstance(value, bool):
        return "true" if value else "false"
    return (
        f'"{value[:_SHOWN]}"'
        if isinstance(value, str)
        else repr(value)
        if isinstance(value, float) or abs(int(str(value)[:15]))
        else "0"
    )


def _not_an_id(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    mended = re.sub(r"[^a-z0-9]+", "-", str(value)[:80].lower()).strip("-")
    mend = (
        f'Write {path[-1]} = "{mended}"; the name for people goes into name.' if mended else "Use a to z, 0 to 9 and -."
    )
    return f"{opening(path)} is {shown_value(value)}; an id has only a to z, 0 to 9 and single - between.", mend


def _not_one_of(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    if path == ("format",):
        return f"The format is {shown_value(value)}; this program reads format 1.", "Write format = 1."
    choices = _choices(limits)
    meant = nearest(value, choices) if isinstance(value, str) else None
    return (
        f"{opening(path)} is {shown_value(value)}.",
        f"Write {' or '.join(_toml(c) for c in ([meant] if meant else choices))}.",
    )


def _choices(limits: Mapping[str, Any]) -> list[str]:
    return re.findall(r"'([^']*)'", str(limits["expected"]))


def _at_least(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    least = limits.get("ge", limits.get("gt"))
    bound = f"{least:g} or more" if "ge" in limits else f"more than {least:g}"
    return f"{opening(path)} is {shown_value(value)}; it must be {bound}.", f"Write {bound}."


def _at_most(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    most = limits.get("le", limits.get("lt"))
    return f"{opening(path)} is {shown_value(value)}; {most:g} is the most.", f"Write {most:g} or less."


def _too_few(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    least = limits["min_length"]
    return (
        f"{opening(path)} lists {limits['actual_length']}; {least} or more {'is' if least == 1 else 'are'} wanted.",
        "Write what is missing.",
    )


def _too_many(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    return f"{opening(path)} has too many numbers.", "Write two numbers, for example [68.0, 68.02]."


def _empty(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    return f"{opening(path)} is empty.", "Write it, or take the line out."


def _too_long(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    most = limits["max_length"]
    return f"{opening(path)} is longer than {most} characters.", f"Write it in {most} characters or less."


def _not_finite(path: Path, value: object, limits: Mapping[str, Any]) -> tuple[str, str]:
    return f"{opening(path)} is {value!r}; that is no size.", "Write a number, or take the line out."


_VALUES: dict[str, Callable[[Path, object, Mapping[str, Any]], tuple[str, str]]] = {
    "string_pattern_mismatch": _not_an_id,
    "literal_error": _not_one_of,
    "greater_than": _at_least,
    "greater_than_equal": _at_least,
    "less_than": _at_most,
    "less_than_equal": _at_most,
    "too_short": _too_few,
    "too_long": _too_many,
    "string_too_short": _empty,
    "string_too_long": _too_long,
    "finite_number": _not_finite,
}
