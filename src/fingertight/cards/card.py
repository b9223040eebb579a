"""What every card can do: become plain JSON for programs."""

from dataclasses import asdict, dataclass
from typing import Any


@dataclass(frozen=True)
class Card:
    """What a person is shown. Every field is text, a number, a truth, another card, or a tuple of these."""

    def as_json(self) -> dict[str, Any]:
        """The card as plain JSON values, its fields in their order."""
        return asdict(self)
