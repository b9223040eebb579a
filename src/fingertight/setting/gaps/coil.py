"""The gap between a coil and its flywheel: a card as gauge, and what the run-out of the rim does to the gap."""

from fingertight.uncertainty.budget import Budget, Line
from fingertight.uncertainty.standard import of_limits


def card_mm(pack_mm: float, cards: int) -> float:
    """How thick is one card of a pack? A pack of n is n times as thick, and what the caliper is off is shared by n.

    >>> card_mm(3.0, 10)
    0.3

    pack_mm: pressed together between the jaws [mm]. Raises ValueError for a pack without cards.
    """
    if not (pack_mm > 0 and cards >= 1):
        raise ValueError("a pack has a thickness and at least one card")
    return pack_mm / cards


def layers_budget(layers: int, cards: int, error_mm: float) -> Budget:
    """How sure is the thickness of so many layers when a pack of so many was measured to ± error_mm?

    >>> round(layers_budget(1, 10, 0.02).expanded, 4)
    0.0023

    Source: GUM (JCGM 100:2008) 4.3.7 (limits, rectangular) and 5.1.2; that all cards are alike is taken for granted.
    """
    return Budget((Line("caliper", of_limits(error_mm), layers / cards, shape="rectangular"),))


def round_the_rim_mm(gap_mm: float, runout_mm: float, play_mm: float = 0.0) -> tuple[float, float]:
    """What is the gap at least and at most over one turn, set once at any place of the rim [mm]?

    runout_mm: of the rim, the whole reading of a dial [mm]; play_mm: how far the shaft can be lifted in its bearings.
    The rim may come nearer by all its run-out and the play, and draw away as far; below 0 it rubs.

    >>> round_the_rim_mm(0.30, 0.05, 0.04)
    (0.21, 0.39)

    Source: what a dial shows in one turn is twice what the rim is off its middle: geometry.
    """
    away = runout_mm + play_mm
    return round(gap_mm - away, 9), round(gap_mm + away, 9)
