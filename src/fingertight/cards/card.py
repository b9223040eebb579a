"""What every card can do: become plain JSON for programs."""

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    from pydantic import TypeAdapter


@dataclass(frozen=True)
class Card:
    """What a person is shown. Every field is text, a number, a truth, another card, or a tuple or dict of these.

    A field that only a page needs is marked `Field(exclude=True)`: programs do not get it.
    """

    def as_json(self) -> dict[str, Any]:
        """The card as plain JSON values, its fields in their order."""
        kind: Any = type(self)
        return cast(dict[str, Any], _adapter(kind).dump_python(self, mode="json"))


@cache
def _adapter(kind: Any) -> "TypeAdapter[Any]":
    """Made once for each kind of card: the same that `fingertight schema` describes."""
    from pydantic import TypeAdapter  # here, so that a page of text need not wait for it

    return TypeAdapter(kind)
