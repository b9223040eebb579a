"""What the sums about gaps share: sizes in the unit they were typed in, ranges, verdicts as sentences."""

from fingertight.cards.sums.asked import Typed
from fingertight.quantity import NotUnderstood, converted, plain
from fingertight.setting.gaps.go_no_go import Set
from fingertight.setting.gaps.leaves import Stack
from fingertight.setting.gaps.said import range_said

COLD = "Set a gap at the temperature its maker names, mostly cold: hot parts have another gap."
SHUT = "Valve lash: spark lead off, piston at top dead centre on the firing stroke, so that the valve is shut."
FEELER_SOURCES = (
    "go and no-go: ISO 14253-1:2017, each side proven",
    "between two leaves: GUM (JCGM 100:2008) 4.3.7, rectangular",
    "what a leaf may be off: IS 3179 as quoted in a textbook",
)
_DECIMALS = {"mm": (2, 3), "in": (3, 4), "thou": (0, 1), "µm": (0, 0)}
"""With how many decimals a gap is written, at least and at most: a leaf is marked 0.20, not 0.2."""


def sized(size_mm: float, unit: str = "mm", more: int = 0) -> str:
    """A gap in the unit it was typed in, as finely as leaves are marked.

    >>> sized(0.1460), sized(0.20), sized(0.254, "in"), sized(0.254, "thou")
    ('0.146 mm', '0.20 mm', '0.010 in', '10 thou')
    """
    return f"{bare(size_mm, unit, more)} {unit}"


def bare(size_mm: float, unit: str = "mm", more: int = 0) -> str:
    """The same without its unit.

    >>> bare(0.1524, "in"), bare(0.20)
    ('0.006', '0.20')
    """
    least, most = _DECIMALS[unit]
    text = plain(round(converted(size_mm, "mm", unit), most + more) + 0.0)
    short = least - len(text.partition(".")[2])
    return f"{text}{'' if '.' in text or short <= 0 else '.'}{'0' * short}"


def both(size_mm: float) -> str:
    """A gap in millimetres and in thousandths of an inch.

    >>> both(0.254)
    '0.254 mm (10 thou)'
    """
    return f"{sized(size_mm)} ({sized(size_mm, 'thou')})"


def stacked(stack: Stack, unit: str = "mm") -> str:
    """A leaf, or leaves on each other with what they make together.

    >>> stacked(Stack((0.06, 0.1))), stacked(Stack((0.15,)))
    ('0.06 + 0.10 (0.16 mm)', '0.15 mm')
    """
    if len(stack.leaves_mm) == 1:
        return sized(stack.thickness_mm, unit)
    return f"{' + '.join(bare(leaf, unit) for leaf in stack.leaves_mm)} ({sized(stack.thickness_mm, unit)})"


def range_of(typed: Typed, name: str, label: str, example: str) -> tuple[float, float, str] | None:
    """A range that was typed [mm], with the unit it was typed in; None where it may be left empty and was.

    Raises NotUnderstood with the label of its field.
    """
    if not typed.has(name):
        return None
    try:
        return range_said(typed.text(name), example)
    except NotUnderstood as slip:
        said = str(slip)
        raise NotUnderstood(f"{label}: {said}") from None


def verdict_words(verdict: Set) -> str:
    """The verdict at the beginning of a sentence.

    >>> verdict_words(Set.CLOSE)
    'Too close to call'
    """
    return verdict.value.capitalize()


def in_ten(share: float) -> str:
    """A share as a person says it.

    >>> in_ten(0.4), in_ten(0.02), in_ten(0.98)
    ('about 4 in 10', 'less than 1 in 20', 'more than 19 in 20')
    """
    if share < 0.05:
        return "less than 1 in 20"
    return "more than 19 in 20" if share > 0.95 else f"about {max(round(10 * share), 1)} in 10"
