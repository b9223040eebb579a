"""What a form says of a part becomes the few edits of the text that are needed; all else stays as it is written."""

from dataclasses import dataclass

from fingertight.anatomy.model import Part
from fingertight.anatomy.write import Edit, RemoveKey, SetKey, Value


@dataclass(frozen=True, slots=True)
class PartSaid:
    """What a form says of a part; "", an empty list and None stand for nothing said. minutes [min]."""

    name: str
    behind: tuple[str, ...]
    stays: bool
    minutes: float | None
    tools: tuple[str, ...]
    cautions: tuple[str, ...]
    care: str
    fit: str


def said_of(part: Part) -> PartSaid:
    """The form as the file fills it in."""
    return PartSaid(
        part.name or "",
        part.behind,
        part.stays,
        part.minutes,
        part.tools,
        part.cautions,
        part.care,
        part.fit,
    )


def edits_of(part: Part, said: PartSaid) -> tuple[Edit, ...]:
    """Which edits make the file say this of the part? None where it does already.

    >>> from fingertight.anatomy.write import rewritten
    >>> text = '[[part]]\\nid = "fan"  # pulls off\\nbehind = ["lid"]\\n'
    >>> fan = Part.model_validate({"id": "fan", "behind": ["lid"]})
    >>> print(rewritten(text, edits_of(fan, PartSaid("", ("lid", "guard"), False, 2.0, (), (), "", ""))))
    [[part]]
    id = "fan"  # pulls off
    behind = ["lid", "guard"]
    minutes = 2
    <BLANKLINE>
    """
    before = said_of(part)
    wanted: dict[str, tuple[object, object, Value | None]] = {
        "name": (before.name, said.name, said.name or None),
        "behind": (before.behind, said.behind, list(said.behind) or None),
        "stays": (before.stays, said.stays, True if said.stays else None),
        "minutes": (before.minutes, said.minutes, said.minutes),
        "tools": (before.tools, said.tools, list(said.tools) or None),
        "cautions": (before.cautions, said.cautions, list(said.cautions) or None),
        "care": (before.care, said.care, said.care or None),
        "fit": (before.fit, said.fit, said.fit or None),
    }
    return tuple(
        RemoveKey("part", part.id, key) if value is None else SetKey("part", part.id, key, value)
        for key, (old, new, value) in wanted.items()
        if old != new
    )
