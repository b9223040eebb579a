"""What stands on a bag's label, and the short code by which a bag is found again: scanned, typed or read out.

A code is four letters for the machine, the bag's number and a check character, `HKVT 14 6` as people read it.
Its 26 characters leave out every letter that looks like another character of the code.
"""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from fingertight.anatomy.model import Anatomy, Part

# Left out: the vowels (no word comes up by accident; O and I look like 0 and 1) and B G Q S Z (8 6 0 5 2).
LETTERS = "CDFHJKLMNPRTVWXY"
CHARACTERS = "0123456789" + LETTERS
HIGHEST_BAG = 99_999
_LOOKS_LIKE = str.maketrans("OQIZSGB", "0012568")
_SHAPE = re.compile(rf"([{LETTERS}]{{4}})([1-9L][0-9L]{{0,4}})([{CHARACTERS}])\Z")


@dataclass(frozen=True, slots=True)
class Label:
    """The label of one bag."""

    bag: str
    """The bag's number, in order of removal from 1."""
    part: str
    """The id of the part that lies in the bag."""
    title: str
    """The part's name for people."""
    place: str | None
    """The place this piece goes back to, where pieces are matched."""
    holds: tuple[str, ...]
    """What is counted in the bag: `6 × M6x28`, `2 × dowel`."""
    code: str
    """The short code, without spaces: at most 10 characters of the QR alphanumeric set."""
    machine: str
    """The machine's name, and the bench where one is named."""
    care: str
    """How the part is kept while off; empty where the anatomy says nothing."""


class CodeEnding(StrEnum):
    """How the reading of a typed code ended."""

    RIGHT = "right"
    MISTYPED = "mistyped"
    NOT_A_CODE = "not a code"


@dataclass(frozen=True, slots=True)
class TypedCode:
    """A typed code, read; `machine` (the four letters) and `bag` are empty unless it is right."""

    ending: CodeEnding
    says: str
    machine: str = ""
    bag: str = ""


def check_character(text: str, characters: str = CHARACTERS) -> str:
    """Which character makes a slip in this text show?

    The hybrid system of ISO/IEC 7064 (MOD M+1,M) with M characters: from P = M, each character of value a gives
    S = (P + a) mod M, M where that is 0, and the next P = 2 S mod (M + 1); the check character c makes
    P + c = 1 (mod M). With A–Z this is the standard's MOD 27,26; here the same M = 26 counts the digits and the
    16 letters of `CHARACTERS`. Every single wrong character shows.

    >>> check_character("0794", "0123456789")
    '5'

    Raises ValueError for a character that is not one of `characters`.
    Source: ISO/IEC 7064:2003, hybrid systems; checked against published codes in tests/paper/test_codes.py.
    """
    size = len(characters)
    product = size
    for character in text:
        product = ((product + characters.index(character)) % size or size) * 2 % (size + 1)
    return characters[(1 - product) % size]


def machine_letters(machine: str, bench: str = "") -> str:
    """Which four letters stand for this machine (at this bench) in every one of its codes?

    They follow from the names alone, so labels printed again next year are the same.
    Two names get the same four letters by chance once in 65,536.

    >>> machine_letters("Bench vice")
    'HKVT'
    """
    first_two = hashlib.sha256(f"{machine}\n{bench}".encode()).digest()[:2]
    return "".join(LETTERS[byte >> 4] + LETTERS[byte & 15] for byte in first_two)


def bag_code(machine: str, bag: int, bench: str = "") -> str:
    """What is the short code of this bag?

    >>> bag_code("Bench vice", 14)
    'HKVT146'

    Raises ValueError for a bag number below 1 or above 99,999.
    """
    if not 1 <= bag <= HIGHEST_BAG:
        raise ValueError(f"There is no bag {bag}; bags are numbered from 1 to {HIGHEST_BAG}.")
    body = f"{machine_letters(machine, bench)}{bag}"
    return body + check_character(body)


def spaced(code: str) -> str:
    """The code as it is read out: letters, bag, check character.

    >>> spaced("HKVT146")
    'HKVT 14 6'
    """
    return f"{code[:4]} {code[4:-1]} {code[-1:]}"


def read_code(typed: str) -> TypedCode:
    """Which bag does this typed or scanned code name?

    Small letters, spaces and hyphens do not matter, and a letter that is in no code is read as the digit it looks like
    (O as 0, I as 1, also L for 1 within the bag's number).

    >>> read_code("hkvt i4 g")
    TypedCode(ending=<CodeEnding.RIGHT: 'right'>, says='Bag 14.', machine='HKVT', bag='14')
    >>> read_code("HKVT 41 6").says
    '“HKVT 41 6” has a slip in it: its check character does not fit. Read it from the label once more.'
    """
    shape = _SHAPE.match(re.sub(r"[\s-]", "", typed).upper().translate(_LOOKS_LIKE))
    if shape is None:
        shape_is = "A code is four letters, the bag's number and a check character, for example HKVT 14 6."
        return TypedCode(CodeEnding.NOT_A_CODE, f"“{typed[:40]}” is not a bag's code. {shape_is}")
    machine, bag, check = shape[1], shape[2].replace("L", "1"), shape[3]
    if check_character(machine + bag) != check:
        says = f"“{typed}” has a slip in it: its check character does not fit. Read it from the label once more."
        return TypedCode(CodeEnding.MISTYPED, says)
    return TypedCode(CodeEnding.RIGHT, f"Bag {bag}.", machine, bag)


def labels_in_order(anatomy: Anatomy, order: Sequence[str], bench: str = "") -> tuple[Label, ...]:
    """Which labels does this machine need, in order of removal?

    One label a piece: a part with places gets one for each place. Parts that stay get none.
    `order` is part ids in order of removal; a part that is not in it (absent on this machine) gets no label.

    >>> from fingertight.anatomy.model import MachineTable
    >>> lid = Part(id="lid", with_=({"name": "dowel", "count": 2},))
    >>> vice = Anatomy(format=1, machine=MachineTable(name="Bench vice"), part=(lid,))
    >>> [(label.bag, label.title, label.holds) for label in labels_in_order(vice, ["lid"])]
    [('1', 'Lid', ('2 × dowel',))]

    Raises KeyError for an id that is no part of the machine.
    """
    machine = f"{anatomy.machine.name}, {bench}" if bench else anatomy.machine.name
    pieces = [
        (part, place)
        for part in (anatomy.part_by_id[one] for one in order)
        if not part.stays
        for place in (part.places or (None,))
    ]
    return tuple(
        Label(
            bag=str(number),
            part=part.id,
            title=part.title,
            place=place,
            holds=_holds(part),
            code=bag_code(anatomy.machine.name, number, bench),
            machine=machine,
            care=part.care,
        )
        for number, (part, place) in enumerate(pieces, start=1)
    )


def _holds(part: Part) -> tuple[str, ...]:
    """What is counted in one piece's bag; identical pieces are counted too, a single one is the title itself."""
    pieces = (f"{part.count} × {part.title}",) if part.count > 1 else ()
    return pieces + tuple(f"{count} × {name}" for name, count in part.bag_holds.items())
