"""Roller chain: its names, pitch circles, length for a centre distance and back, and wear."""

import math
from dataclasses import dataclass

from fingertight.setting.tables import rows

LIMIT, TEETH_OF_LIMIT, FIXED = 0.03, 66, 0.015
"""Longer than this it is worn: 3 % in general, 200 % / teeth on more than 66 teeth, 1.5 % between fixed centres.
Source: two chain makers’ pages of questions; 2 % where it runs in a case is common practice, no source."""


@dataclass(frozen=True, slots=True)
class Chain:
    """A chain by its name, what else it is called, and its sizes [mm]."""

    name: str
    also: str
    pitch_mm: float
    roller_mm: float
    width_mm: float


def chains() -> tuple[Chain, ...]:
    """Every chain of the table.

    >>> [chain.name for chain in chains() if chain.pitch_mm == 12.7 and chain.roller_mm > 8]
    ['08B', '428']
    """
    return tuple(
        Chain(row["name"], row["also"], float(row["pitch_mm"]), float(row["roller_mm"]), float(row["width_mm"]))
        for row in rows("iso-606.csv")
    )


def chain_named(said: str) -> Chain | None:
    """The chain of this name, however it is written; None where the table has none.

    >>> chain_named("08b-1").pitch_mm, chain_named("#40").name, chain_named("9Z")
    (12.7, '08A', None)
    """
    bare = said.strip().lstrip("#").upper().removesuffix("-1").replace(" ", "").replace("ANSI", "")
    names = {name.upper(): chain for chain in chains() for name in (chain.name, chain.also) if name}
    names["04B"] = names["04"]
    return names.get(bare)


def pitch_circle_mm(teeth: int, pitch_mm: float) -> float:
    """How large is the circle on which the pins lie? pitch / sin(180° / teeth) [mm].

    >>> round(pitch_circle_mm(17, 25.4), 2)
    138.23

    Source: ISO 606, sprockets; checked against a public table. Raises ValueError for fewer than 5 teeth.
    """
    if teeth < 5:
        raise ValueError("no wheel for chain has fewer than 5 teeth")
    return pitch_mm / math.sin(math.pi / teeth)


def pitches(centre_mm: float, pitch_mm: float, teeth: tuple[int, int]) -> float:
    """How many pitches long is the chain round both wheels?

    L = 2 C + (N + n) / 2 + (N − n)² / (4 π² C), C the centre distance in pitches.

    >>> round(pitches(36 * 12.7, 12.7, (20, 63)), 1)
    114.8

    Good to a tenth of a pitch while the wheels are apart. Source: textbooks of machine design and chain makers’ pages;
    checked against published examples. Raises ValueError where the wheels would touch.
    """
    small, large = sorted(teeth)
    apart = (pitch_circle_mm(small, pitch_mm) + pitch_circle_mm(large, pitch_mm)) / 2
    if centre_mm <= apart:
        raise ValueError("the wheels would touch")
    centre = centre_mm / pitch_mm
    return 2 * centre + (large + small) / 2 + (large - small) ** 2 / (4 * math.pi**2 * centre)


def centre_mm(links: int, pitch_mm: float, teeth: tuple[int, int]) -> float:
    """At which centre distance is a chain of so many links just taut [mm]?

    C = p/8 · (2 L − N − n + √((2 L − N − n)² − 8 (N − n)² / π²))

    >>> round(centre_mm(114, 1, (20, 63)), 1)
    35.6

    Source: `pitches` turned round; as in textbooks, which write 0.81 for 8 / π². Raises ValueError for a chain too
    short for these wheels.
    """
    small, large = sorted(teeth)
    left = 2 * links - large - small
    square = left * left - 8 * (large - small) ** 2 / math.pi**2
    if left <= 0 or square < 0:
        raise ValueError("the chain is too short for these wheels")
    centre = pitch_mm / 8 * (left + math.sqrt(square))
    if centre <= (pitch_circle_mm(small, pitch_mm) + pitch_circle_mm(large, pitch_mm)) / 2:
        raise ValueError("the chain is too short for these wheels")
    return centre


def even_links(needed: float) -> int:
    """The even number of links that is not shorter: an odd one wants a cranked link, the weakest of all.

    >>> even_links(73.2), even_links(74.0)
    (74, 74)
    """
    return 2 * math.ceil(round(needed, 3) / 2)


def wrapped_deg(centre: float, pitch_mm: float, teeth: tuple[int, int]) -> float:
    """Over how many degrees does the chain lie on the smaller wheel? 180° − 2 arcsin((D − d) / 2C).

    >>> round(wrapped_deg(120, 12.7, (18, 36)))
    145

    Source: two circles and their tangents. 120° or more are wanted (common practice, no source).
    """
    small, large = sorted(teeth)
    apart = (pitch_circle_mm(large, pitch_mm) - pitch_circle_mm(small, pitch_mm)) / 2
    return 180 - 2 * math.degrees(math.asin(min(apart / centre, 1.0)))


def longer_by(measured_mm: float, links: int, pitch_mm: float) -> float:
    """By which share is the chain longer than new? measured / (links · pitch) − 1.

    >>> round(longer_by(130.8, 10, 12.7), 4)
    0.0299

    measured_mm: over so many pitches, pin to pin, pulled taut [mm].
    """
    return measured_mm / (links * pitch_mm) - 1


def worn_at(large_teeth: int, *, fixed: bool = False) -> float:
    """From which share longer is it worn out, on a large wheel of so many teeth?

    >>> worn_at(36), worn_at(100), worn_at(36, fixed=True)
    (0.03, 0.02, 0.015)

    Source: as `LIMIT`. The worn chain rides up the teeth of a large wheel first.
    """
    limit = LIMIT if large_teeth <= TEETH_OF_LIMIT else 2 / large_teeth
    return min(limit, FIXED) if fixed else limit
