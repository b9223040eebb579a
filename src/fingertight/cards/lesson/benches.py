"""What a class prints for joining: the cards that stand on the benches, and the badges students carry."""

from dataclasses import dataclass

from fingertight.cards.card import Card


@dataclass(frozen=True)
class BenchCard(Card):
    """One bench. address: what its QR code opens; "" where tablets cannot reach this machine, then it says the code."""

    bench: str
    code: str
    machine: str
    address: str


@dataclass(frozen=True)
class BenchCardsCard(Card):
    """A class's cards. note: what the instructor must know before printing, "" where nothing."""

    title: str
    where: str
    benches: tuple[BenchCard, ...]


@dataclass(frozen=True)
class Badge(Card):
    """One student. address: what the badge's QR code opens."""

    name: str
    address: str


@dataclass(frozen=True)
class BadgesCard(Card):
    """The badges of a class."""

    title: str
    badges: tuple[Badge, ...]
