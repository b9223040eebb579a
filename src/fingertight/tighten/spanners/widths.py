"""How wide a head, a jaw, a key and a socket of one name really are: their published limits."""

import re
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from fingertight.quantity import NotUnderstood, plain, read_number, read_quantity
from fingertight.tighten.tables import rows
from fingertight.tighten.threads.names import INCH_MM

_LONGEST = 40
_SMALL_INCH = frozenset({"5/32 in", "7/32 in", "9/32 in", "11/32 in"})


class NoSuchWidth(ValueError):
    """No table here has limits for this width; the message says which and what there is."""


class Width(NamedTuple):
    """A width across flats: what it is called, what that is in mm, its published limits [mm], and their source."""

    name: str
    nominal_mm: float
    least_mm: float
    most_mm: float
    source: str

    @property
    def middle_mm(self) -> float:
        """The middle of the limits [mm]: what is met most often."""
        return (self.least_mm + self.most_mm) / 2


def width_named(text: str) -> tuple[str, float]:
    """Which width across flats is meant, and how many mm is that by its name?

    A number alone is mm, a fraction alone inches: nobody writes mm in fractions.

    >>> width_named("13"), width_named("1/2"), width_named("0.5 in")
    (('13 mm', 13.0), ('1/2 in', 12.7), ('1/2 in', 12.7))

    Raises NotUnderstood for text that is no width, or one that is not above 0.
    """
    number = re.match(r"\s*[+−-]?[0-9.,/ -]*", text)
    written = number[0].strip() if number else ""
    behind = text.strip()[len(written) :]
    # A slip in the number is answered with an example that is a width; only a wrong unit with the units there are.
    is_slip = any(one.isdigit() for one in behind) or (behind and written[-1:] in {".", ","})
    if is_slip or len(text.strip()) > _LONGEST or not _is_number(written):
        raise NotUnderstood(_no_width(text))
    value, unit = read_quantity(text, "in" if "/" in text else "mm")
    if not 0 < value < float("inf"):
        raise NotUnderstood(_no_width(text))
    if unit not in {"mm", "in"}:
        raise NotUnderstood(
            f"“{text.strip()}”: a width across flats is in mm or in; write for example 13 mm or 1/2 in."
        )
    return (f"{plain(value)} mm", value) if unit == "mm" else (f"{_fraction(value)} in", value * INCH_MM)


def _is_number(written: str) -> bool:
    try:
        read_number(written)
    except NotUnderstood:
        return False
    return True


def _no_width(text: str) -> str:
    short = text.strip() if len(text.strip()) <= _LONGEST else f"{text.strip()[:20]}…"
    return f"“{short}” is no width across flats; write for example 13 mm or 1/2 in."


def _fraction(inches: float) -> str:
    """As it stands on a spanner: 1 1/16, or a decimal where it is no 64th."""
    sixty_fourths = inches * 64
    if abs(sixty_fourths - round(sixty_fourths)) > 1e-6 or not round(sixty_fourths):
        return plain(inches)
    whole, part = divmod(Fraction(round(sixty_fourths), 64), 1)
    return " ".join(str(piece) for piece in (whole, part) if piece)


def head_width(name: str) -> Width:
    """Between which limits does a hexagon head or nut of this name measure across the flats?

    name: "13 mm", "1/2 in". Returns the name's own width and its limits [mm]. A metric head is never wider than its
    name; up to 24 mm it is of product grade A, above it may be of grade B. Rough heads (grade C) measure less still.

    >>> head_width("13 mm").least_mm, round(head_width("1/2 in").least_mm, 2)
    (12.73, 12.42)

    Raises NotUnderstood for a name that is no width, NoSuchWidth where the tables have no such head.
    Source: ISO 4759-1:2000; ASME B18.2.1:2012 and B18.2.2:2010; BS 1083:1965 (tables/).
    """
    name, nominal_mm = width_named(name)
    if name.endswith(" mm"):
        if name not in _metric_jaws():
            raise NoSuchWidth(_no_spanner(name, nominal_mm))
        less_mm = next(float(row["less_mm"]) for row in rows("iso-4759-1.csv") if nominal_mm <= float(row["up_to_mm"]))
        return Width(name, nominal_mm, nominal_mm - less_mm, nominal_mm, "ISO 4759-1:2000")
    found = _inch_heads().get(name)
    if found is None and not _is_sixteenth(nominal_mm / INCH_MM):
        raise NoSuchWidth(_no_spanner(name, nominal_mm))
    if found is None:
        raise NoSuchWidth(f"No table here has a head of {name} across flats; there are {_listed(_inch_heads())}.")
    least_in, most_in, source = found
    return Width(name, nominal_mm, least_in * INCH_MM, most_in * INCH_MM, source)


def jaw_width(name: str) -> Width:
    """Between which limits does the opening of a spanner of this name measure, open-ended, ring or socket?

    name: "13 mm", "1/2 in". Returns the name's own width and the limits of the opening [mm].
    Inch sizes W: least 1.005 W + 0.001 in, most 0.005 W + 0.004 in more. Metric sizes: a table for machined openings;
    rings and sockets left as forged may be up to 0.1 mm wider still (to 32 mm).

    >>> jaw_width("13 mm").most_mm, round(jaw_width("1 1/2 in").most_mm / 25.4, 3)
    (13.24, 1.52)

    It holds for new spanners; a worn or spread jaw is wider. Not for spanners marked with a Whitworth thread.

    Raises NotUnderstood for a name that is no width, NoSuchWidth where no spanner has this name.
    Source: ISO 691:1983; ASME B18.2.2-2015, appendix (its table is compared in the tests).
    """
    name, nominal_mm = width_named(name)
    if name.endswith(" mm"):
        more = _metric_jaws().get(name)
        if more is None:
            raise NoSuchWidth(_no_spanner(name, nominal_mm))
        return Width(name, nominal_mm, nominal_mm + more[0], nominal_mm + more[1], "ISO 691:1983")
    inches = nominal_mm / INCH_MM
    if name in _inch_heads() and _inch_heads()[name][2].startswith("BS "):
        raise NoSuchWidth(f"No table here has the limits of a spanner for {name}: it is marked with its thread.")
    # Sixteenths, and a few 32nds among the small ones (the sizes of the table).
    if not 0.15 < inches <= 4 or not (_is_sixteenth(inches) or name in _SMALL_INCH):
        raise NoSuchWidth(_no_spanner(name, nominal_mm))
    return inch_opening(name, nominal_mm)


def inch_opening(name: str, nominal_mm: float) -> Width:
    """Between which limits would a spanner of this width open by the inch formula, whatever its width?

    Least 1.005 W + 0.001 in, most 0.005 W + 0.004 in more.

    name: how it is called. nominal_mm: W [mm]. Returns its limits [mm]. For Whitworth spanners, which no table here
    has, it is a stand-in, good for refusing what is far too wide and for nothing else.

    >>> round(inch_opening("0.445 in", 0.445 * 25.4).most_mm, 2)
    11.54

    Raises nothing.
    Source: ASME B18.2.2-2015, appendix.
    """
    inches = nominal_mm / INCH_MM
    least_in = 1.005 * inches + 0.001
    most_in = least_in + 0.005 * inches + 0.004
    return Width(name, nominal_mm, least_in * INCH_MM, most_in * INCH_MM, "ASME B18.2.2-2015, appendix")


def heads_measuring(across_flats_mm: float) -> tuple[Width, ...]:
    """Which heads may it be that measures this across its flats? A sound head measures less than its name.

    across_flats_mm: as measured [mm]. Returns the heads whose limits hold it, metric first; none for a worn or odd one.

    >>> [head.name for head in heads_measuring(12.85)], [head.name for head in heads_measuring(18.8)]
    (['13 mm'], ['19 mm', '3/4 in'])

    Source: limits of `head_width`.
    """
    heads = (head_width(name) for name in (*_metric_jaws(), *_inch_heads()))
    return tuple(head for head in heads if head.least_mm <= across_flats_mm <= head.most_mm)


def key_width(name: str) -> Width:
    """Between which limits does a hexagon key of this name measure across its flats?

    name: "5 mm", "3/16 in". Returns the name's own width and the limits [mm].

    >>> key_width("5 mm").least_mm, round(key_width("3/16 in").least_mm, 3)
    (4.95, 4.724)

    Raises NotUnderstood for a name that is no width, NoSuchWidth where the tables have no such key.
    Source: JIS B 4648:2008 (after ISO 2936); ASME B18.3:2012.
    """
    return _key_or_socket(name, "key", "jis-b-4648.csv", "JIS B 4648:2008 (after ISO 2936)")


def socket_width(name: str) -> Width:
    """Between which limits does the hexagon socket in a screw measure across its flats?

    name: "5 mm", "3/16 in", after the key it takes. Returns the name's own width and the limits [mm].

    >>> socket_width("5 mm").most_mm, round(socket_width("3/16 in").most_mm, 3)
    (5.14, 4.826)

    Raises NotUnderstood for a name that is no width, NoSuchWidth where the tables have no such socket.
    Source: ISO 4762:2004; ASME B18.3:2012.
    """
    return _key_or_socket(name, "socket", "iso-4762-sockets.csv", "ISO 4762:2004")


def _key_or_socket(name: str, piece: str, metric: str, source: str) -> Width:
    """The limits of a key or of a socket, from the metric table or from the inch one."""
    name, nominal_mm = width_named(name)
    number = name.rpartition(" ")[0]
    if name.endswith(" mm"):
        found = {plain(float(row["name_mm"])): (float(row["least_mm"]), float(row["most_mm"])) for row in rows(metric)}
        per_unit = 1.0
    else:
        found = {
            row["size"]: (float(row[f"{piece}_least_in"]), float(row[f"{piece}_most_in"]))
            for row in rows("asme-b18.3-keys.csv")
        }
        per_unit, source = INCH_MM, "ASME B18.3:2012"
    if number not in found:
        unit = name.rpartition(" ")[2]
        raise NoSuchWidth(f"No table here has a {piece} of {name}; there are {', '.join(found)} {unit}.")
    least, most = found[number]
    return Width(name, nominal_mm, least * per_unit, most * per_unit, source)


def _is_sixteenth(inches: float) -> bool:
    """Whether this is a whole number of sixteenths, as spanners are named."""
    return abs(inches * 16 - round(inches * 16)) < 1e-6


@cache
def _inch_heads() -> dict[str, tuple[float, float, str]]:
    """Inch heads by name: least and most across flats [in], and the standard."""
    heads = {
        f"{row['size']} in": (float(row["least_in"]), float(row["most_in"]), "ASME B18.2.1:2012, B18.2.2:2010")
        for row in rows("asme-b18.2-widths.csv")
    }
    for row in rows("bs-1083.csv"):
        most_in = float(row["driver"].removesuffix(" in"))
        heads[row["driver"]] = (float(row["least_in"]), most_in, "BS 1083:1965")
    return heads


def _listed(heads: dict[str, tuple[float, float, str]]) -> str:
    return f"{', '.join(name.removesuffix(' in') for name in heads if '/' in name)} in"


@cache
def _metric_jaws() -> dict[str, tuple[float, float]]:
    """Metric spanners by name: by how much the opening is wider, least and most [mm]."""
    return {f"{row['name_mm']} mm": (float(row["least_mm"]), float(row["most_mm"])) for row in rows("iso-691.csv")}


def _no_spanner(name: str, width_mm: float) -> str:
    """That no spanner has this name, and what a head may be that measures so much."""
    if width_mm < 3.2:
        return f"No spanner is called {name}: they begin at 3.2 mm. For a hexagon key write {name} key."
    said = f"No spanner is called {name}."
    if heads := heads_measuring(width_mm):
        limits = (f"{head.name} ({head.least_mm:.2f} to {head.most_mm:.2f} mm)" for head in heads)
        return f"{said} A head that measures so much is {' or '.join(limits)}."
    if width_mm > 110:
        return f"{said} Is the unit right?"
    names = [name for name in (*_metric_jaws(), *_inch_heads()) if "mm" in name or "/" in name]
    names.sort(key=lambda head: abs(width_named(head)[1] - width_mm))
    return f"{said} The nearest are {names[0]} and {names[1]}."
