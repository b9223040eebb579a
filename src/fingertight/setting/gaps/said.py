"""What a mechanic says of a feeler: “0.15 goes, 0.20 does not”; a range; the leaves there are."""

import re
from dataclasses import dataclass

from fingertight.quantity import NotUnderstood, converted, plain, read_quantity, unit_named
from fingertight.setting.gaps.leaves import THICKEST_MM, THINNEST_MM, leaves_of, set_names

_STOPS = re.compile(
    r"\b(?:no[\s-]*go(?:es)?|(?:does|do|did|will|would)\s*(?:not|n[’']t)(?:\s+(?:go|fit|pass|enter)(?:\s+in)?)?|"
    r"(?:doesn|don|won)[’']?t(?:\s+(?:go|fit|pass))?|stops|not|too\s+thick)\b",
    re.IGNORECASE,
)
_GOES = re.compile(r"\b(?:go|goes|went|passes|pass|fits|slides|drags|enters)(?:\s+in)?\b", re.IGNORECASE)
_PARTS = re.compile(r"\s*(?:;|,(?=\s)|\bbut\b|\band\b|\bwhile\b)\s*", re.IGNORECASE)
_METRIC = re.compile(r"\A\s*[Mm]\s*(?=[0-9.,])")
_UNIT = re.compile(r"[0-9]\s*(mm|inches|inch|in|thous?|\"|µm|μm|um)(?![A-Za-z])")
_TO = re.compile(r"\s+(?:to|bis|and)\s+|\s*[–—]\s*|(?<=[0-9a-z\"])\s*-\s*(?=[0-9.,])|\s*\.\.+\s*", re.IGNORECASE)
_LONGEST = 200
FOR_EXAMPLE = "0.15 goes, 0.20 does not"


@dataclass(frozen=True, slots=True)
class Tried:
    """The leaves that go, and those that do not [mm each]; None: not said. unit: what it was said in."""

    goes: tuple[float, ...] | None
    stops: tuple[float, ...] | None
    unit: str


def tried(text: str) -> Tried:
    """Which leaves go and which do not?

    >>> tried("0.15 goes, 0,20 does not").stops
    (0.2,)
    >>> tried("M 0.25 + 0.20")
    Tried(goes=(0.25, 0.2), stops=None, unit='mm')
    >>> [round(leaf, 4) for leaf in tried("go 5 thou, no-go 6 thou").goes]
    [0.127]

    A reading without a word is the thickest that goes. Raises NotUnderstood for none, for two without a word, for what
    is said twice, and for what is no leaf.
    """
    said = text.strip().replace("−", "-")
    if not said or len(said) > _LONGEST:
        raise NotUnderstood(f"Write what goes and what does not, for example {FOR_EXAMPLE}.")
    unit = _unit_in(said)
    goes: tuple[float, ...] | None = None
    stops: tuple[float, ...] | None = None
    parts = _parts(said)
    if not parts:
        raise NotUnderstood(f"“{said}” names no leaf; write for example {FOR_EXAMPLE}.")
    for part in parts:
        no, left = bool(_STOPS.search(part)), _STOPS.sub(" ", part)
        yes, left = bool(_GOES.search(left)), _GOES.sub(" ", left)
        if not (no or yes) and len(parts) > 1:
            raise NotUnderstood(f"“{part.strip()}”: does it go, or not? Write for example {FOR_EXAMPLE}.")
        if (stops if no else goes) is not None:
            word = "does not go" if no else "goes"
            raise NotUnderstood(f"“{said}” says twice what {word}; write one of each, for example {FOR_EXAMPLE}.")
        leaves = _leaves(left, unit)
        if no:
            stops = leaves
        else:
            goes = leaves
    return Tried(goes, stops, unit)


def range_said(text: str, example: str) -> tuple[float, float, str]:
    """The least and the most of a range [mm], and the unit it was said in.

    >>> range_said("0.13 to 0.17", ""), range_said("0,15 ± 0,02", "")
    ((0.13, 0.17, 'mm'), (0.13, 0.17, 'mm'))
    >>> [round(end, 4) for end in range_said("10-14 thou", "")[:2]]
    [0.254, 0.3556]

    Raises NotUnderstood for one size, a range turned round, and sizes that are none.
    """
    said = text.strip().replace("−", "-")
    if len(said) > _LONGEST:
        raise NotUnderstood(f"that is too long for a range; write for example {example}.")
    unit = _unit_in(said)
    if "±" in said or "+-" in said or "+/-" in said:
        middle, _, half = re.sub(r"\+/?-", "±", said).partition("±")
        size, by = _mm(middle, unit), _mm(half, unit)
        least, most = round(size - by, 9), round(size + by, 9)
    else:
        ends = [end for end in (_TO.split(said) if _TO.search(said) else said.split()) if end.strip()]
        if len(ends) == 3 and _UNIT.search(f"0 {ends[-1]}"):  # “0.13 0.17 mm”
            ends = ends[:2]
        if len(ends) != 2:
            raise NotUnderstood(f"“{said}” is no range; write its least and its most, for example {example}.")
        least, most = _mm(ends[0], unit), _mm(ends[1], unit)
    if least > most:
        raise NotUnderstood(f"“{said}” runs from more to less; write the smaller size first, for example {example}.")
    if least < 0:
        raise NotUnderstood(f"“{said}” reaches below 0, and no gap does; write for example {example}.")
    return least, most, unit


def leaves_said(text: str) -> tuple[tuple[float, ...], str]:
    """The leaves there are [mm] and the unit they are marked in: a usual set by its name, or each leaf.

    >>> leaves_said("0.05 0.10 0.15")
    ((0.05, 0.1, 0.15), 'mm')

    Raises NotUnderstood for a set there is not, and for what is no leaf.
    """
    said = " ".join(text.split())
    if said.lower() in set_names():
        return leaves_of(said.lower()), "in" if said.lower() == "inch" else "mm"
    if not any(letter.isdigit() for letter in said):
        raise NotUnderstood(
            f"there is no set “{said}” here; write {', '.join(set_names())}, or each leaf, for example 0.05 0.10 0.15."
        )
    unit = _unit_in(said)
    pieces = [piece for piece in re.split(r"[;\s]+|,(?=\s)", re.sub(r"(?<=[0-9])\s+(?=[a-z\"µμ])", "", said)) if piece]
    leaves = tuple(dict.fromkeys(_leaf(piece.rstrip(","), unit) for piece in pieces if piece != unit))
    if len(leaves) > 60:
        raise NotUnderstood(f"{len(leaves)} leaves are more than any set has; write up to 60.")
    return leaves, unit


def _parts(said: str) -> list[str]:
    """The pieces of a reading, one leaf or stack each: apart by a comma, a semicolon, “but”, or by their own words."""
    parts = [part for part in _PARTS.split(said) if part.strip()]
    stops = _STOPS.search(said)
    goes = _GOES.search(_STOPS.sub(lambda found: " " * len(found.group()), said))
    if len(parts) > 1 or not (stops and goes):
        return parts
    first, second = sorted((stops, goes), key=lambda found: found.start())
    cut = first.end() if said[: first.start()].strip() else second.start()
    return [said[:cut], said[cut:]]


def _unit_in(said: str) -> str:
    """The unit that is written behind any of the numbers; millimetres where none is."""
    found = _UNIT.findall(said)
    return unit_named(found[-1]).name if found else "mm"


def _leaves(text: str, unit: str) -> tuple[float, ...]:
    """The leaves of one stack [mm]."""
    said = text.strip(" .:=")
    if _METRIC.match(said):
        said, unit = _METRIC.sub("", said), "mm"
    leaves = said.split("+")
    if not all(leaf.strip() for leaf in leaves):
        raise NotUnderstood(f"“{text.strip()}” names no leaf; write for example {FOR_EXAMPLE}.")
    return tuple(_leaf(leaf.strip(), unit) for leaf in leaves)


def _leaf(text: str, unit: str) -> float:
    size = _mm(text, unit)
    if not THINNEST_MM <= size <= THICKEST_MM:
        meant = f" {plain(converted(size, 'mm', unit))} thou?" if unit == "mm" and 1 <= size < 100 else ""
        raise NotUnderstood(
            f"“{text}” is no feeler leaf: they are {plain(THINNEST_MM)} to {plain(THICKEST_MM)} mm thick"
            f"{'. Did you mean' + meant if meant else '; is the unit right?'}"
        )
    return size


def _mm(text: str, unit: str) -> float:
    value, named = read_quantity(text.strip(), unit)
    return round(converted(value, named, "mm"), 9)
