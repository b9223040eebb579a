"""A reading as a person types it: one number or several, feelers stacked, turns of a dial; in any unit."""

import re
from dataclasses import dataclass

from fingertight.quantity import NotUnderstood, converted, plain, read_quantity, unit_named

MOST = 30
_METRIC_LEAVES = re.compile(r"\s*[Mm]\s*(?=[0-9.,])")
_TURNS = re.compile(r"\s*([+-]?)\s*([0-9]+)\s*(?:turns?|t)\b[\s+,;]*(.*)\Z", re.IGNORECASE | re.DOTALL)
_UNIT_BEHIND = re.compile(r"([0-9.,])\s+(?=[^\s0-9.,;+/-])")
_THOUSANDS = re.compile(r"(?<![0-9.,])[0-9]{1,3}(?: [0-9]{3})+(?![0-9])")


@dataclass(frozen=True, slots=True)
class Typed:
    """What was read: one value or more of one spot, the unit they are in, and how it was understood, where that is
    more than one number ("" where it is not)."""

    values: tuple[float, ...]
    unit: str
    said: str = ""


@dataclass(frozen=True, slots=True)
class Scale:
    """What the instrument counts in: its unit, its smallest step, and what one turn of its hand is [its unit]."""

    unit: str
    step: float = 0.01
    turn: float | None = None


def as_read(text: str, scale: Scale) -> Typed:
    """What was read, from the text as typed?

    >>> as_read("68,02", Scale("mm")).values
    (68.02,)
    >>> as_read("M 0.25 + 0.20", Scale("mm")).values, as_read("2 turns + 0.34", Scale("mm", 0.01, 1.0)).values
    ((0.45,), (2.34,))
    >>> as_read("68.16 68.17 68,16", Scale("mm")).values
    (68.16, 68.17, 68.16)

    Raises NotUnderstood with what is wrong and how to mend it.
    """
    said = text.strip().replace("−", "-").replace("–", "-")
    turned = _TURNS.match(said)
    if turned:
        return _turns(said, turned, scale)
    leaves = _METRIC_LEAVES.match(said)
    if leaves:
        said, scale = said[leaves.end() :], Scale("mm", scale.step)
    if "+" in said.lstrip("+"):
        return _stacked(said, scale.unit)
    try:
        value, unit = read_quantity(said, scale.unit)
    except NotUnderstood as single:
        pieces = _pieces(said)
        if len(pieces) < 2 or not any(any(one.isdigit() for one in piece) for piece in pieces):
            raise single from None
        return _several(said, pieces, scale.unit)
    return Typed((value,), unit)


def _turns(text: str, found: re.Match[str], scale: Scale) -> Typed:
    """Whole turns of a dial and what its hand shows beyond."""
    if scale.turn is None:
        raise NotUnderstood(f"“{text}” counts turns, and this instrument has none; write the size it shows.")
    sign, turns, rest = found.groups()
    beyond, unit = 0.0, scale.unit
    if rest:
        beyond, unit = read_quantity(rest, scale.unit)
        if re.fullmatch(r"[0-9]+", rest) and beyond >= 1:
            beyond *= scale.step  # a bare whole number beside turns is divisions of the dial
    one = converted(scale.turn, scale.unit, unit)
    if beyond < 0 or beyond >= one:
        raise NotUnderstood(
            f"“{text}”: beside whole turns the hand shows less than one turn, {plain(one)} {unit}; write for example "
            f"2 turns + {plain(round(one * 0.34, 4))}."
        )
    size = round(int(turns) * one + beyond, 9)
    size = -size if sign == "-" else size
    return Typed((size,), unit, f"{turns} turns of {plain(one)} and {plain(round(beyond, 9))}: {plain(size)} {unit}")


def _stacked(text: str, unit: str) -> Typed:
    """Leaves laid on each other: a unit behind the last holds for those that have none."""
    leaves = [leaf.strip() for leaf in text.split("+")]
    if not all(leaves):
        raise NotUnderstood(f"“{text}” has nothing on one side of a +; write for example 0.25 + 0.20.")
    _, behind = read_quantity(leaves[-1], unit)
    read = [read_quantity(leaf, behind) for leaf in leaves]
    if any(value <= 0 for value, _ in read):
        raise NotUnderstood(f"“{text}”: a leaf has a thickness; write for example 0.25 + 0.20.")
    size = round(sum(converted(value, one, behind) for value, one in read), 9)
    return Typed((size,), behind, f"{len(read)} leaves, together {plain(size)} {behind}")


def _pieces(text: str) -> list[str]:
    """The readings of one spot: apart by ; or by spaces, a comma behind a number too; a unit stays with its number."""
    if _THOUSANDS.search(text):
        raise NotUnderstood(f"“{text}”: write no space within a number; several readings stand apart with ;.")
    parted = [piece for piece in re.split(r";", text) if piece.strip()]
    if len(parted) > 1:
        return [piece.strip().rstrip(",") for piece in parted]
    together = _UNIT_BEHIND.sub(r"\1", text)
    return [piece.rstrip(",") for piece in together.split() if piece.rstrip(",")]


def _several(text: str, pieces: list[str], unit: str) -> Typed:
    if len(pieces) > MOST:
        raise NotUnderstood(f"“{text[:24]}…” holds {len(pieces)} readings of one spot; {MOST} are the most.")
    behind = unit
    if pieces[-1][-1:].isalpha() or pieces[-1][-1:] in '°"':
        _, behind = read_quantity(pieces[-1], unit)
    read = [read_quantity(piece, behind) for piece in pieces]
    values = tuple(round(converted(value, one, behind), 9) for value, one in read)
    name = unit_named(behind).name
    return Typed(values, name, f"{len(values)} readings, mean {plain(round(sum(values) / len(values), 4))} {name}")
