"""`schema`: JSON Schema of every file fingertight reads and of every `--json` answer it gives."""

from argparse import Namespace
from typing import Any

from fingertight.cli.terminal import Misused, command, nearest, write

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def add_parser(commands: Any) -> None:
    """Add `schema` to the commands."""
    schema = command(
        commands,
        "schema",
        "JSON Schema of every file and every --json answer",
        "Prints the JSON Schema of the files and of the answers, all of them or the one that is named.",
        "fingertight schema check",
    )
    schema.add_argument(
        "name", metavar="NAME", nargs="?", help="one file or command: anatomy, log-entry, check, order …"
    )
    schema.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Print one schema, or all under `files` and `answers`."""
    import json
    import sys

    files, answers = file_schemas(), answer_schemas()
    if options.name is None:
        chosen: dict[str, Any] = {"files": files, "answers": answers}
    else:
        every = {**files, **answers}
        if options.name not in every:
            near = nearest(options.name, list(every)) or f" There are {', '.join(every)}."
            raise Misused(f"There is no schema “{options.name}”.{near}")
        chosen = every[options.name]
    write(sys.stdout, json.dumps(chosen, indent=2, ensure_ascii=False))
    return 0


def file_schemas() -> dict[str, dict[str, Any]]:
    """The schema of a machine file (as JSON of its TOML), and of one line of a log."""
    from fingertight.anatomy.schema import anatomy_schema

    return {"anatomy": anatomy_schema(), "log-entry": entry_schema()}


def answer_schemas() -> dict[str, dict[str, Any]]:
    """The schema of what each command prints with `--json`."""
    from pydantic import TypeAdapter

    from fingertight.cards.change.difference import DifferenceCard
    from fingertight.cards.check import CheckCard
    from fingertight.cards.film.chapters import ChaptersCard
    from fingertight.cards.film.found import FoundCard
    from fingertight.cards.measure.sheet import MeasuringSheetCard
    from fingertight.cards.moves import MovesCard
    from fingertight.cards.order.layout import LayoutCard
    from fingertight.cards.order.whole import NoOrderCard, OrderCard
    from fingertight.cards.printed import PrintedCard
    from fingertight.cards.record.learned import LearnedCard
    from fingertight.cards.replay import ReplayCard
    from fingertight.cards.sums.every import every_sum
    from fingertight.cards.sums.setting.timing.printed import PrintedTape, PrintedWheel
    from fingertight.cards.tighten.bolt import BoltCard
    from fingertight.cards.tighten.sheet import TighteningSheetCard
    from fingertight.cards.tighten.tray import TrayCard

    cards: dict[str, Any] = {
        "check": CheckCard,
        "difference": DifferenceCard,
        "order": OrderCard | NoOrderCard,
        "layout": LayoutCard | NoOrderCard,
        "learn": LearnedCard,
        "moves": MovesCard,
        "replay": ReplayCard,
        "labels": PrintedCard | NoOrderCard,
        "torques": TighteningSheetCard,
        "measured": MeasuringSheetCard,
        "wheel": PrintedWheel,
        "tape": PrintedTape,
        **{asked.name: asked.card for asked in every_sum()},
        "bolt": BoltCard,
        "tray": TrayCard,
        "chapters": ChaptersCard | FoundCard,
    }
    return {
        name: {
            "$schema": DRAFT,
            **TypeAdapter(card).json_schema(mode="serialization"),
            "title": f"fingertight {name} --json",
        }
        for name, card in cards.items()
    }


def entry_schema() -> dict[str, Any]:
    """The schema of one entry, from the table of kinds. Unknown fields are kept, so they are allowed."""
    from fingertight.ledger.kinds import ENTRY_KINDS

    kinds = [
        {
            "if": {"properties": {"kind": {"const": kind.name}}},
            "then": {
                "description": kind.says,
                "properties": {field.name: _shape(field.shape) for field in kind.fields},
                "required": [field.name for field in kind.fields if field.must],
            },
        }
        for kind in ENTRY_KINDS.values()
    ]
    return {
        "$schema": DRAFT,
        "title": "One line of a bench log",
        "type": "object",
        "required": ["id", "kind", "at"],
        "properties": {
            "id": {"type": "string", "minLength": 1, "description": "made by the device that wrote it"},
            "kind": {"enum": list(ENTRY_KINDS)},
            "at": {"type": "string", "format": "date-time", "description": "the device's clock, with offset"},
            "by": {"type": "string"},
            "as": {"enum": ["student", "instructor"]},
            "skew_s": {"type": "number", "description": "server's clock less the device's [s]"},
        },
        "allOf": kinds,
    }


def _shape(shape: Any) -> dict[str, Any]:
    """What a field may hold, as schema; ids of parts and the like are texts here: it knows no machine."""
    from fingertight.ledger.kinds import FLAG_KINDS, Shape

    count = {"type": "integer", "minimum": 0}
    counts = {"type": "object", "additionalProperties": count}
    texts = {"type": ["string", "null"]}
    value = {
        "type": "object",
        "required": ["value"],
        "properties": {"value": {"type": "number"}, "at": texts, "across": texts},
    }
    shapes: dict[Shape, dict[str, Any]] = {
        Shape.NUMBER: {"type": "number"},
        Shape.TEMPERATURE: {"type": "number", "minimum": -20, "maximum": 150},
        Shape.COUNT: count,
        Shape.COUNTS: counts,
        Shape.BAGS: {"type": "object", "additionalProperties": counts},
        Shape.PARTS: {"type": "array", "items": {"type": "string"}},
        Shape.TEXTS: {"type": "array", "items": texts},
        Shape.VALUES: {"type": "array", "minItems": 1, "items": value},
        Shape.COUNT_LIST: {"type": "array", "items": count},
        Shape.VERDICT: {"enum": ["good", "worn"]},
        Shape.WAY: {"enum": ["out", "in"]},
        Shape.HELP: {"enum": ["asked", "given"]},
        Shape.FLAG: {"enum": list(FLAG_KINDS)},
    }
    return {"description": shape.value, **shapes.get(shape, {"type": "string"})}
