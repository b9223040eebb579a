"""What the screen of a fastener set and its line on the sheet both say."""

from fractions import Fraction

from fingertight.anatomy.model import FastenerSet
from fingertight.cards.bench.words import noun_of, plural
from fingertight.cards.sums.tighten.wrench import digits
from fingertight.quantity import converted, plain
from fingertight.tighten.threads.names import INCH_MM, thread_named
from fingertight.tighten.torque.strength import on_metric

LEFT_HAND = "Left-hand thread: turn anticlockwise to tighten."
SURFACES = {"dry": "Threads dry.", "oiled": "Threads oiled.", "thread lock": "Thread lock on the threads."}


def set_name(fasteners: FastenerSet, size: str = "") -> str:
    """How many of what, and of which class: 6 × M6x28 bolts, 8.8. size: other than as it is called in counts."""
    size = size or fasteners.counted_as or fasteners.thread or ""
    said = f"{fasteners.how_many} × {size} {plural(fasteners.how_many, noun_of(fasteners))}".rstrip()
    return f"{said}, {fasteners.grade}" if fasteners.grade else said


def inch_size(fasteners: FastenerSet) -> str:
    """How a box of inch bolts is marked, where its length is whole sixteenths: 1/4-20 UNC x 3/4 in; "" for all others.

    A file has the length in mm, rounded to a tenth or finer.
    """
    if fasteners.thread is None or fasteners.length is None or on_metric(thread_named(fasteners.thread)):
        return ""
    sixteenths = round(fasteners.length / INCH_MM * 16)
    if sixteenths < 1 or abs(fasteners.length - sixteenths * INCH_MM / 16) > 0.051:
        return ""
    whole, rest = divmod(sixteenths, 16)
    said = [str(whole)] if whole else []
    return f"{fasteners.thread} x {' '.join([*said, *([str(Fraction(rest, 16))] if rest else [])])} in"


def on_scale(torque_nm: float, unit: str) -> str:
    """A torque [N·m] as a scale of this unit reads: N·m to the hundredth, as the file may have it; else three digits.

    >>> on_scale(12.25, "N·m"), on_scale(12.25, "lb·ft")
    ('12.25', '9.04')
    """
    return plain(round(torque_nm, 2)) if unit == "N·m" and torque_nm >= 1 else digits(converted(torque_nm, "N·m", unit))


def engaged_mm(fasteners: FastenerSet) -> float | None:
    """How deep each one goes into its hole or nut [mm]; None where the file gives no length or no grip."""
    if fasteners.length is None or fasteners.grip is None:
        return None
    return round(fasteners.length - fasteners.grip, 2)


def sentence(words: str) -> str:
    """The words with a full stop where they have no end of their own."""
    return words if words.rstrip().endswith((".", "!", "?")) else f"{words.rstrip()}."
