"""The cards that stand on the benches: bench, code, what the code opens."""

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
