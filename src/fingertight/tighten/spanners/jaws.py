"""The play between a jaw and a hexagon: how far it turns before it bites, and how much of the corner it then catches.

A hexagon s wide across the flats lies between two flat jaws, w apart. Lying square, it has w − s to spare. Turn the
spanner: two opposite corners come nearer to the jaws, and touch when the hexagon, seen along the jaws, has grown from s
to w. So turned, the corner stands 30° − φ from square to the jaw, at e/2 from the middle (e: across the corners):

            jaw  ─────────────────•──────       • the corner, e/2 from the middle
                                 ╱ ┆ w/2        cos(30° − φ) = w / e
            middle              ┼──┘            e = s / cos 30°

The same holds in a ring or a socket, whose flats are three such pairs of jaws, and for a hexagon key, which is the
hexagon inside the socket of a screw. Corners are taken as sharp and jaws as flat and parallel, as they are when new.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import acos, cos, degrees, radians, sqrt

_COS_30 = sqrt(3) / 2
_COS_15 = cos(radians(15))
_SAME_MM = 1e-9  # Two equal widths, written differently, are the same width.


class Grip(StrEnum):
    """What holds the hexagon: two jaws, a ring or socket with six points, or one with twelve."""

    OPEN_END = "open end"
    SIX_POINTS = "six points"
    TWELVE_POINTS = "twelve points"

    @property
    def corners(self) -> int:
        """How many corners of the hexagon it presses on."""
        return 2 if self is Grip.OPEN_END else 6


class Ends(StrEnum):
    """How turning a spanner on a hexagon ends."""

    BITES = "bites"
    DOES_NOT_GO_ON = "does not go on"
    TURNS_ROUND = "turns round without biting"


@dataclass(frozen=True, slots=True)
class Play:
    """How turning ends, how far it turns before that, each way [deg], and what it catches behind the corner.

    bite_mm: how far the corner reaches behind the jaw [mm]. bite_share: as a share of the bite of two jaws without
    play. Both are 0 where it does not go on or turns round; the angle then is 0 or 30°, from where all begins again.
    """

    ends: Ends
    deg: float
    bite_mm: float
    bite_share: float


def across_corners_mm(hexagon_mm: float) -> float:
    """How wide is a sharp hexagon across its corners? e = s / cos 30° = 1.1547 s

    hexagon_mm: s, across the flats [mm], above 0. Returns e [mm].

    Real corners are a little rounded: a head 13 mm across flats measures at least 14.38 mm, not 15.01.

    >>> round(across_corners_mm(13), 2)
    15.01

    Raises ValueError for a width that is not above 0. Source: plane geometry; checked against the largest widths
    across corners of ASME B18.2.1.
    """
    if not hexagon_mm > 0:
        raise ValueError("a width across flats is above 0")
    return hexagon_mm / _COS_30


def play(opening_mm: float, hexagon_mm: float, grip: Grip = Grip.OPEN_END) -> Play:
    """How far does a spanner turn freely on a hexagon, each way, and how much does it then catch?

    φ = 30° − arccos(w · cos 30° / s);   bite = (e − w) / 2;   twelve points: bite = e / 2 − w / (2 cos 15°)

    opening_mm: w, between the jaws or the flats of ring or socket [mm], above 0. hexagon_mm: s, across the flats [mm],
    above 0. grip: twelve points cut the middle out of each flat, so a corner is held by less, and slips into the next
    notch after 15° where six points hold it up to 30°.

    It holds for sharp corners and flat, parallel jaws. A worn jaw is wider at its tip, a rounded corner shorter.

    >>> round(play(13, 12.7).deg, 2), round(play(13, 12.7).bite_mm, 2)
    (2.43, 0.83)
    >>> play(12.7, 13).ends, play(12, 10).ends
    (<Ends.DOES_NOT_GO_ON: 'does not go on'>, <Ends.TURNS_ROUND: 'turns round without biting'>)

    Raises ValueError for a width that is not above 0. Source: plane geometry (this module's picture); checked by
    turning a hexagon's corners step by step in the tests.
    """
    if not opening_mm > 0:
        raise ValueError("an opening is above 0")
    corners_mm = across_corners_mm(hexagon_mm)
    if opening_mm < hexagon_mm - _SAME_MM:
        return Play(Ends.DOES_NOT_GO_ON, 0.0, 0.0, 0.0)
    behind_mm = opening_mm / _COS_15 if grip is Grip.TWELVE_POINTS else opening_mm
    bite_mm = (corners_mm - behind_mm) / 2
    if bite_mm <= _SAME_MM:
        return Play(Ends.TURNS_ROUND, 30.0, 0.0, 0.0)
    turned_deg = 30.0 - degrees(acos(min(1.0, opening_mm / corners_mm)))
    return Play(Ends.BITES, max(0.0, turned_deg), bite_mm, bite_mm / ((corners_mm - hexagon_mm) / 2))


def bite_without_play(grip: Grip) -> float:
    """What share of the bite of two jaws does this grip catch, where there is no play at all?

    1 for an open end and for six points; for twelve points (1 − cos 30° / cos 15°) / (1 − cos 30°).

    >>> bite_without_play(Grip.SIX_POINTS), round(bite_without_play(Grip.TWELVE_POINTS), 2)
    (1.0, 0.77)

    Source: `play` with w = s.
    """
    return play(1.0, 1.0, grip).bite_share


def turns_round_from(grip: Grip) -> float:
    """How many times as wide as the hexagon is the opening in which it turns round without biting?

    1 / cos 30° for jaws and six points, cos 15° / cos 30° for twelve.

    >>> round(turns_round_from(Grip.SIX_POINTS), 3), round(turns_round_from(Grip.TWELVE_POINTS), 3)
    (1.155, 1.115)

    Source: `play` with no bite left.
    """
    return (_COS_15 if grip is Grip.TWELVE_POINTS else 1.0) / _COS_30
