"""A short code as a QR code, drawn as one outline: no hairlines between its squares, whatever draws the page."""

from collections.abc import Sequence

from fingertight.paper.sheets import CannotPrint

Corner = tuple[int, int]


def outline(code: str) -> str:
    """How is this code drawn, as the data of an SVG path with a side of 21?

    Version 1 at error level H, never a Micro QR code, so every code has the same size on the label.

    >>> outline("HKVT146")[:13]
    'M0 0H7V7H0ZM0'

    Raises CannotPrint for what does not fit: more than 10 characters, or others than 0–9 A–Z $%*+-./: and space.
    """
    import segno  # kept out of the start of commands that print nothing

    try:
        made = segno.make(code, version=1, error="h", micro=False, boost_error=False, mode="alphanumeric")
    except ValueError as why:
        raise CannotPrint(f"“{code}” does not fit a label's QR code: at most 10 capitals and digits do.") from why
    return traced([[bool(square) for square in row] for row in made.matrix])


def address_outline(address: str) -> tuple[int, str]:
    """How is an address drawn: the side of its QR code in squares, and the data of an SVG path of that side?

    As small as the address allows at error level M: a card on a bench is not soaked like a bag's label.

    >>> address_outline("http://192.168.1.20:8010/join/K7QX2M")[0]
    29

    Raises CannotPrint for an address that is too long for any code.
    """
    import segno

    try:
        made = segno.make(address, error="m", micro=False, boost_error=False)
    except ValueError as why:
        raise CannotPrint(f"“{address[:60]}…” is too long for a QR code.") from why
    dark = [[bool(square) for square in row] for row in made.matrix]
    return len(dark), traced(dark)


def traced(dark: Sequence[Sequence[bool]]) -> str:
    """What closed lines run round the dark squares, to be filled by the even-odd rule?

    >>> traced([[True, True], [False, True]])
    'M0 0H2V2H1V1H0Z'
    """
    ahead = _edges(dark)
    lines = []
    for start in sorted(ahead):
        while ahead[start]:
            corners = [start, ahead[start].pop()]
            while corners[-1] != start:
                corners.append(ahead[corners[-1]].pop())
            lines.append(_drawn(corners))
    return "".join(lines)


def _edges(dark: Sequence[Sequence[bool]]) -> dict[Corner, list[Corner]]:
    """Every edge between dark and light, from corner to corner, the dark on its right hand."""
    squares = dict.fromkeys((x, y) for y, row in enumerate(dark) for x, square in enumerate(row) if square)
    edges: dict[Corner, list[Corner]] = {}
    for x, y in squares:
        if (x, y - 1) not in squares:
            edges.setdefault((x, y), []).append((x + 1, y))
        if (x + 1, y) not in squares:
            edges.setdefault((x + 1, y), []).append((x + 1, y + 1))
        if (x, y + 1) not in squares:
            edges.setdefault((x + 1, y + 1), []).append((x, y + 1))
        if (x - 1, y) not in squares:
            edges.setdefault((x, y + 1), []).append((x, y))
    return edges


def _drawn(corners: list[Corner]) -> str:
    """A closed walk from its upper left corner as path data, straight runs as one line."""
    steps = ["M{} {}".format(*corners[0])]
    for before, here, after in zip(corners, corners[1:], corners[2:], strict=False):
        if before[1] == here[1] != after[1]:
            steps.append(f"H{here[0]}")
        elif before[0] == here[0] != after[0]:
            steps.append(f"V{here[1]}")
    return "".join(steps) + "Z"
