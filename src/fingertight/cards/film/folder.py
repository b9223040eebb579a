"""The films there are, and how much room there is for more."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from fingertight.cards.card import Card

MB, GB = 1_000_000, 1_000_000_000


class Lies(Protocol):
    """A film as it lies somewhere."""

    @property
    def name(self) -> str:
        """What it is called."""
        ...

    @property
    def size(self) -> int:
        """How large it is [bytes]."""
        ...


@dataclass(frozen=True)
class FilmLine(Card):
    """A film: its name, how large it is in words."""

    name: str
    size: str


@dataclass(frozen=True)
class FilmsCard(Card):
    """All of them; room: how much is free for more, in words; free_bytes: the same for a program."""

    films: tuple[FilmLine, ...]
    room: str
    free_bytes: int


def films_card(films: Sequence[Lies], free_bytes: int) -> FilmsCard:
    """Which films are there, and is there room for another?"""
    return FilmsCard(
        tuple(FilmLine(one.name, size_words(one.size)) for one in films), size_words(free_bytes), free_bytes
    )


def size_words(size: int) -> str:
    """How large a file is, as disks are sold: thousands.

    >>> size_words(3_456_000_000), size_words(12_400_000), size_words(900)
    ('3.5 GB', '12 MB', 'less than 1 MB')
    """
    if size >= GB:
        return f"{size / GB:.1f} GB"
    return f"{size / MB:.0f} MB" if size >= MB else "less than 1 MB"
