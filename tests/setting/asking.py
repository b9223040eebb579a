"""Asking a sum as somebody types it: the card, the page as one line, or the sentence of a refusal."""

from typing import Any

import pytest

from fingertight.cards.sums.every import sum_named
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood


def asked(name: str, **said: str) -> Any:
    """The card; a field’s dashes are written as underlines."""
    return sum_named(name).ask({field.replace("_", "-"): text for field, text in said.items()})


def page(name: str, **said: str) -> str:
    """What a person reads on the terminal, single spaces between the words."""
    return " ".join(answer_page(asked(name, **said)).split())


def refused(name: str, **said: str) -> str:
    """The sentence; a test fails where the sum was answered."""
    with pytest.raises(NotUnderstood) as slip:
        asked(name, **said)
    return str(slip.value)
