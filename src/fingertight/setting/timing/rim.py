"""Degrees on the rim of a flywheel: as an arc, as a chord, and as the strips a timing tape is cut into."""

import math
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip of a tape: from and to where its degrees run; the next begins where this ends."""

    from_deg: float
    to_deg: float


def arc_mm(diameter_mm: float, angle_deg: float) -> float:
    """How far apart are two marks, measured round the rim with a tape? π D α / 360 [mm].

    >>> round(arc_mm(180, 23), 3)
    36.128

    Source: the circle.
    """
    return math.pi * diameter_mm * angle_deg / 360


def chord_mm(diameter_mm: float, angle_deg: float) -> float:
    """How far apart are two marks in a straight line, as dividers or a rule have it? D sin(α / 2) [mm].

    >>> round(chord_mm(180, 23), 3), round(chord_mm(2, 30), 4)
    (35.886, 0.5176)

    angle_deg: 0 to 180. Source: the circle; checked against a table of chords.
    """
    return diameter_mm * math.sin(math.radians(angle_deg) / 2)


def deg_of_arc(diameter_mm: float, arc: float) -> float:
    """How many degrees is so much of the rim? 360 s / (π D) [deg].

    >>> round(deg_of_arc(540 / 3.141592653589793, 27), 6)
    18.0

    Source: the circle.
    """
    return 360 * arc / (math.pi * diameter_mm)


def deg_of_chord(diameter_mm: float, chord: float) -> float:
    """How many degrees are between two marks so far apart in a straight line? 2 asin(c / D) [deg].

    >>> round(deg_of_chord(180, 35.886), 2)
    23.0

    chord: 0 to the diameter [mm]. Raises ValueError for more. Source: the circle.
    """
    if not 0 <= chord <= diameter_mm:
        raise ValueError("no chord is longer than the diameter")
    return math.degrees(2 * math.asin(chord / diameter_mm))


def strips(diameter_mm: float, longest_mm: float) -> tuple[Strip, ...]:
    """Into which strips is a tape for this rim cut, so that none is longer than there is room? −180 to 180, joints on
    whole tens of degrees where that can be.

    >>> strips(80, 260)
    (Strip(from_deg=-180.0, to_deg=180.0),)
    >>> [(one.from_deg, one.to_deg) for one in strips(180, 260)]
    [(-180.0, -60.0), (-60.0, 60.0), (60.0, 180.0)]

    diameter_mm, longest_mm: above 0. Source: common practice, no source.
    """
    most_deg = deg_of_arc(diameter_mm, longest_mm)
    many = math.ceil(360 / most_deg - 1e-9)
    many += 1 - many % 2 if many > 1 else 0  # an odd number: top dead centre lies in the middle of a strip
    each = 360 / many
    ends = [round((-180 + each * number) / 10) * 10.0 for number in range(many + 1)]
    if any(later - one > most_deg for one, later in pairwise(ends)):
        ends = [-180 + each * number for number in range(many + 1)]
    return tuple(Strip(one, later) for one, later in pairwise(ends))
