"""Write the tables of the docs that follow from code: keys of a machine file, kinds of entries and flags.

Each stands between two lines, `<!-- made: NAME -->` and `<!-- end -->`. `make docs` writes them anew; a test compares.
"""

import os
import re
import sys
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from fingertight.anatomy import model
from fingertight.ledger.kinds import ENTRY_KINDS, FLAG_KINDS

DOCS = Path(__file__).resolve().parent.parent / "docs"
MADE = re.compile(r"(<!-- made: ([\w-]+) -->\n).*?(<!-- end -->)", re.DOTALL)


def keys_table(table: type[BaseModel]) -> str:
    """The keys of one table of a machine file: what each means, and what holds when it is left out."""
    rows = [
        (f"`{field.alias or name}`", field.description or "", _left_out(field))
        for name, field in table.model_fields.items()
    ]
    return _rows(("key", "meaning", "when left out"), rows)


def entries_table() -> str:
    """The kinds of entries, with the fields besides id, kind, at and by; `?` for those that may be left out."""
    rows = [
        (f"`{kind.name}`", ", ".join(f"`{field.name}`{'' if field.must else '?'}" for field in kind.fields), kind.says)
        for kind in ENTRY_KINDS.values()
    ]
    return _rows(("kind", "fields", "says"), rows)


def flags_table() -> str:
    """The kinds of flags: when each is raised, what mends it, and whether it stops."""
    rows = [
        (f"`{kind.name}`", kind.raised, kind.mended, "stops" if kind.stops else "can wait")
        for kind in FLAG_KINDS.values()
    ]
    return _rows(("flag", "raised when", "mended by", ""), rows)


def roles_table() -> str:
    """Who may look at which address, and who may write there: as the guard holds it."""
    os.environ.setdefault("FINGERTIGHT_HOME", tempfile.mkdtemp())
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fingertight.web.settings")
    import django

    django.setup()
    from django.urls import get_resolver

    from fingertight.web.people.roles import RULES

    found = {one.name: str(one.pattern) for one in get_resolver("fingertight.web.urls").url_patterns}
    rows = [
        (f"`/{_address(found[name])}`", rule.look.value, rule.write.value)
        for name, rule in sorted(RULES.items(), key=lambda one: _address(found[one[0]]))
    ]
    return _rows(("address", "looks", "writes"), rows)


def _address(pattern: str) -> str:
    """A pattern of an address as people write it."""
    pattern = re.sub(r"\(\?P<(\w+)>(?:[^()]|\([^()]*\))*\)", r"<\1>", pattern).strip("^$").replace("\\", "")
    return re.sub(r"<(?:\w+:)?(\w+)>", r"<\1>", pattern)


TABLES: dict[str, Callable[[], str]] = {
    "keys-of-the-file": lambda: keys_table(model.Anatomy),
    "keys-of-machine": lambda: keys_table(model.MachineTable),
    "keys-of-engine": lambda: keys_table(model.Engine),
    "keys-of-part": lambda: keys_table(model.Part),
    "keys-of-held-by": lambda: keys_table(model.FastenerSet),
    "keys-of-with": lambda: keys_table(model.SmallThing),
    "keys-of-ask": lambda: keys_table(model.Question),
    "keys-of-instrument": lambda: keys_table(model.Instrument),
    "keys-of-check": lambda: keys_table(model.Check),
    "keys-of-gap": lambda: keys_table(model.Gap),
    "keys-of-setting": lambda: keys_table(model.Setting),
    "keys-of-sign": lambda: keys_table(model.Sign),
    "entries": entries_table,
    "flags": flags_table,
    "roles": roles_table,
}


def with_tables(text: str) -> str:
    """The page with each of its made tables as code has it now."""
    return MADE.sub(lambda found: f"{found[1]}{TABLES[found[2]]()}\n{found[3]}", text)


def _left_out(field: FieldInfo) -> str:
    if field.is_required():
        return "must be there"
    value = field.default
    if value in (None, "", ()):
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    return str(list(value) if isinstance(value, tuple) else value)


def _rows(heading: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    named = list(heading)
    lines = [named, ["---"] * len(named), *rows]
    return "\n".join(f"| {' | '.join(cell.replace('|', '/') for cell in line)} |" for line in lines)


def main() -> int:
    """Write every page whose tables changed, and say which."""
    for page in sorted(DOCS.glob("*.md")):
        before = page.read_text("utf-8")
        after = with_tables(before)
        if after != before:
            page.write_text(after, "utf-8")
            print(f"docs/{page.name}: tables written anew")
    return 0


if __name__ == "__main__":
    sys.exit(main())
