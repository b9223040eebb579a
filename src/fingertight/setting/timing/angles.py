"""An angle of the crank as a mechanic says it, “31 before”, “15 BTDC”, “329”, as degrees, and back."""

import re
from dataclasses import dataclass
from typing import Literal

from fingertight.quantity import NotUnderstood, plain, read_number

Centre = Literal["", "top", "bottom", "firing"]
TURN, CYCLE = 360.0, 720.0

_SPLIT = re.compile(r"\s*([+-]?\s*[0-9][0-9.,/ ]*|[+-]?[.,][0-9]+)\s*(.*?)\s*\Z", re.DOTALL)
_WORDS: dict[str, tuple[int, Centre]] = {
    "before": (-1, ""), "after": (1, ""), "early": (-1, ""), "late": (1, ""),
    "btdc": (-1, "top"), "atdc": (1, "top"), "btc": (-1, "top"), "atc": (1, "top"),
    "bbdc": (-1, "bottom"), "abdc": (1, "bottom"), "bbc": (-1, "bottom"), "abc": (1, "bottom"),
    "tdc": (0, "top"), "top": (0, "top"), "tc": (0, "top"), "mark": (0, ""), "the": (0, ""),
    "bdc": (0, "bottom"), "bottom": (0, "bottom"), "bc": (0, "bottom"), "dead": (0, ""), "centre": (0, ""),
    "center": (0, ""), "firing": (0, "firing"), "compression": (0, "firing"),
    "°": (0, ""), "deg": (0, ""), "degs": (0, ""), "degree": (0, ""), "degrees": (0, ""), "crank": (0, ""),
}  # fmt: skip
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class Said:
    """An angle as it was said: number [deg], side of the centre (−1 before, 1 after, 0 not said), centre."""

    number: float
    side: int = 0
    centre: Centre = ""


def read_angle(text: str) -> Said:
    """What angle is meant?

    >>> read_angle("15° BTDC"), read_angle("37 after")
    (Said(number=15.0, side=-1, centre='top'), Said(number=37.0, side=1, centre=''))

    Raises NotUnderstood for what is no number, a unit of another kind, and words that are not about a dead centre.
    """
    typed = text.strip().replace("−", "-")
    split = _SPLIT.match(typed) if len(typed) <= _LONGEST else None
    if split is None:
        raise NotUnderstood(f"“{typed[:20]}” is no angle; write degrees, for example 31 before TDC.")
    number, words = read_number(re.sub(r"\A([+-])\s+", r"\1", split.group(1)).strip()), split.group(2)
    side, centre = 0, ""
    for word in re.findall(r"°|[^\s.,°]+", words.lower()):
        if word not in _WORDS:
            raise NotUnderstood(f"“{typed}”: “{word}” is no word for an angle here; write for example 31 before TDC.")
        says_side, says_centre = _WORDS[word]
        if says_side and side:
            raise NotUnderstood(f"“{typed}” says the side twice; write for example 31 before TDC.")
        side = side or says_side
        centre = says_centre if says_centre and centre != "firing" else centre
    if side and number < 0:
        raise NotUnderstood(f"“{typed}” has a minus and a side; write one of them, for example 31 before TDC.")
    if abs(number) > CYCLE:
        raise NotUnderstood(
            f"“{typed}” is more than two turns of the crank; write 0 to 360, or so much before or after."
        )
    return Said(number, side, centre)  # type: ignore[arg-type]


def on_the_wheel(text: str) -> float:
    """What does a degree wheel read, in degrees after its 0 (−180 to 180)?

    >>> [on_the_wheel(said) for said in ("31 before", "37 after", "329", "-31", "10 before BDC")]
    [-31.0, 37.0, -31.0, -31.0, 170.0]

    Raises NotUnderstood as `read_angle` does, and for more than a whole turn.
    """
    said = read_angle(text)
    if abs(said.number) > TURN:
        raise NotUnderstood(f"“{text.strip()}” is more than a whole turn; a degree wheel reads 0 to 360.")
    return wrapped((said.side or 1) * said.number + (TURN / 2 if said.centre == "bottom" else 0.0))


def in_the_cycle(text: str, usual: tuple[int, Centre], near_deg: float) -> float:
    """Where in the two turns of a four-stroke is this, in degrees after the top dead centre between the strokes of
    exhaust and inlet?

    usual: side and centre that a bare number is counted from; near_deg: where such a thing usually is: a degree wheel
    cannot tell two turns apart, so the nearest is meant, but where the firing top dead centre is named.

    >>> in_the_cycle("15", (-1, "top"), 0), in_the_cycle("10 ATDC", (-1, "top"), 0)
    (-15.0, 10.0)
    >>> in_the_cycle("45", (1, "bottom"), 225)
    225.0

    Raises NotUnderstood as `read_angle` does, and for a bare number of more than half a turn.
    """
    said = read_angle(text)
    side, centre = said.side or usual[0], said.centre or usual[1]
    if abs(said.number) > TURN / 2 and not (said.side and said.centre):
        raise NotUnderstood(
            f"“{text.strip()}” is more than half a turn from a dead centre; write it from the nearer one, for example "
            "15 before TDC."
        )
    at = side * said.number + {"top": 0.0, "firing": TURN, "bottom": TURN / 2, "": 0.0}[centre]
    step = CYCLE if centre == "firing" else TURN
    return at + step * round((near_deg - at) / step)


def wrapped(deg: float, turn: float = TURN) -> float:
    """The same angle within half a turn of 0, upper end included.

    >>> wrapped(329), wrapped(180), wrapped(-180), wrapped(375, 720)
    (-31.0, 180.0, 180.0, -345)
    """
    left = deg % turn
    return left if left <= turn / 2 else left - turn


def middle(one_deg: float, other_deg: float) -> tuple[float, float]:
    """The middle of the shorter arc between two angles, and half that arc [deg]; the other middle is half a turn away.

    >>> middle(-31, 37), middle(329, 37), middle(170, -150)
    ((3.0, 34.0), (3.0, 34.0), (-170.0, 20.0))
    """
    apart = wrapped(other_deg - one_deg)
    return wrapped(one_deg + apart / 2), abs(apart) / 2


def said_from_top(deg: float, decimals: int = 1) -> str:
    """An angle within a turn in words, from the top.

    >>> said_from_top(-31), said_from_top(3.04), said_from_top(0)
    ('31° before TDC', '3° after TDC', 'at TDC')
    """
    number = plain(round(abs(deg), decimals))
    return "at TDC" if number == "0" else f"{number}° {'before' if deg < 0 else 'after'} TDC"


def said_from_nearest(cycle_deg: float, decimals: int = 1) -> str:
    """A place in the cycle in words, from the nearer dead centre.

    >>> said_from_nearest(225), said_from_nearest(-250), said_from_nearest(-15), said_from_nearest(180)
    ('45° after BDC', '70° before BDC', '15° before TDC', 'at BDC')
    """
    from_top = wrapped(cycle_deg)
    if abs(from_top) <= 90:
        return said_from_top(from_top, decimals)
    return said_from_top(wrapped(cycle_deg - 180), decimals).replace("TDC", "BDC")
