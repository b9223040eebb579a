"""A number typed by a person becomes a number in the house unit, and goes back with honest digits.

House units: mm, N, N·m, min, deg, °C, ml, bar, 1/min, g. One decimal mark, point or comma; never a thousands mark;
plain digits only.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction


class NotUnderstood(ValueError):
    """What was typed is not a quantity; the message is a sentence that says where, what and how to mend it."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit people write, what it measures, and what one of it is in the house unit of its kind."""

    name: str
    measures: str
    in_house: float


# Exact by definition: inch (25.4 mm), pound-force, kilogram-force and foot (NIST SP 811, appendix B.8), litre.
_LBF_N = 4.4482216152605
_KGF_N = 9.80665
UNITS: dict[str, Unit] = {
    unit.name: unit
    for unit in (
        Unit("mm", "length", 1.0),
        Unit("in", "length", 25.4),
        Unit("µm", "length", 0.001),
        Unit("thou", "length", 0.0254),
        Unit("ml", "volume", 1.0),
        Unit("l", "volume", 1000.0),
        Unit("in³", "volume", 16.387064),
        Unit("deg", "angle", 1.0),
        Unit("min", "time", 1.0),
        Unit("°C", "temperature", 1.0),
        Unit("N·m", "torque", 1.0),
        Unit("lb·ft", "torque", _LBF_N * 0.3048),
        Unit("lb·in", "torque", _LBF_N * 0.0254),
        Unit("kgf·m", "torque", _KGF_N),
        Unit("kgf·cm", "torque", _KGF_N / 100),
        Unit("N", "force", 1.0),
        Unit("kN", "force", 1000.0),
        Unit("lbf", "force", _LBF_N),
        Unit("bar", "pressure", 1.0),
        Unit("hPa", "pressure", 0.001),
        Unit("kPa", "pressure", 0.01),
        Unit("psi", "pressure", _LBF_N / 0.0254**2 / 1e5),
        Unit("1/min", "speed", 1.0),
        Unit("g", "mass", 1.0),
        Unit("kg", "mass", 1000.0),
    )
}
HOUSE = {
    "length": "mm",
    "volume": "ml",
    "angle": "deg",
    "time": "min",
    "temperature": "°C",
    "torque": "N·m",
    "force": "N",
    "pressure": "bar",
    "speed": "1/min",
    "mass": "g",
}
_SPELT = {
    "μm": "µm", "um": "µm", '"': "in", "inch": "in", "inches": "in", "ins": "in", "thous": "thou", "Nm": "N·m",
    "ML": "ml", "mL": "ml", "L": "l", "°": "deg", "degrees": "deg", "minutes": "min", "C": "°C", "degC": "°C",
    "lb": "lbf", "lbs": "lbf", "rpm": "1/min", "rev/min": "1/min", "min-1": "1/min", "mbar": "hPa",
    "cm³": "ml", "cm3": "ml", "cc": "ml", "in3": "in³", "cu in": "in³",
}  # fmt: skip
# A torque, written without capitals, spaces, dots and dashes: a force and a length, in either order. A kilopond is a
# kilogram-force (NIST SP 811, appendix B.8), and the kg of "mkg" can be no mass here.
_FOOT, _POUND, _KILO = "(?:ft|foot|feet)", "(?:lbs?|lbf|pounds?)", "(?:kgf?|kp)"
_TORQUES = {
    "N·m": r"nm|newtonmet(?:re|er)s?",
    "lb·ft": rf"{_POUND}{_FOOT}|{_FOOT}{_POUND}",
    "lb·in": rf"{_POUND}(?:in|inch|inches)|(?:in|inch){_POUND}",
    "kgf·m": rf"{_KILO}m|m{_KILO}",
    "kgf·cm": rf"{_KILO}cm|cm{_KILO}",
}
_BETWEEN = r"[\s.*·⋅∙•×-]+"
_TWO_MEANINGS = {
    "mil": "“{}” is a thousandth of an inch to some and a millimetre to others; write thou or mm.",
    "mils": "“{}” are thousandths of an inch to some and millimetres to others; write thou or mm.",
}
_LONGEST = 40  # No size with its unit is longer; reading more would only cost time.
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)\Z")
_FRACTION = re.compile(r"([+-]?)(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)\Z")
_SPLIT = re.compile(r"\s*([+-]?[0-9.,/ -]*[0-9.,])\s*(.*?)\s*\Z", re.DOTALL)


def unit_named(name: str) -> Unit:
    """Which unit is meant by this text?

    >>> unit_named("Nm").name, unit_named("ft lbs").name, unit_named("mkg").name
    ('N·m', 'lb·ft', 'kgf·m')

    Raises NotUnderstood, naming the units there are, and for a word that means two (mil).
    """
    found = _known(name)
    if found is None:
        raise NotUnderstood(f"There is no unit “{name}” here; write one of {', '.join(UNITS)}.")
    return found


def _known(name: str) -> Unit | None:
    """The unit of this name, however it is spelt. Raises NotUnderstood for a word that means two."""
    said = name.strip()
    if said.lower() in _TWO_MEANINGS:
        raise NotUnderstood(_TWO_MEANINGS[said.lower()].format(said))
    if found := UNITS.get(_SPELT.get(said, said)):
        return found
    bare = re.sub(_BETWEEN, "", said.lower())
    return next((UNITS[unit] for unit, written in _TORQUES.items() if re.fullmatch(written, bare)), None)


def in_house(value: float, unit: str) -> float:
    """How much is this in the house unit of its kind (mm, ml, deg, min, °C, N·m, bar …)?

    >>> round(in_house(10, "lb·ft"), 4)
    13.5582

    Source: NIST SP 811, appendix B.8 (exact factors).
    """
    return value * unit_named(unit).in_house


def converted(value: float, unit: str, to: str) -> float:
    """The same quantity in another unit of its kind.

    >>> round(converted(1, "in", "mm"), 3)
    25.4

    Raises NotUnderstood when the units measure different things.
    """
    if unit == to and unit in UNITS:
        return value
    source, target = unit_named(unit), unit_named(to)
    if source.measures != target.measures:
        raise NotUnderstood(
            f"{source.name} is a {source.measures}, {target.name} a {target.measures}: write it in {target.name}."
        )
    return value if source is target else value * source.in_house / target.in_house


def read_number(text: str) -> float:
    """The number a person typed. One mark, point or comma, is the decimal mark; a fraction is read as one.

    >>> read_number("68,02"), read_number("1 1/4")
    (68.02, 1.25)

    Raises NotUnderstood for letters, two marks, other digits than 0 to 9, more than a size has, or nothing at all.
    """
    typed = text.strip().replace("−", "-")
    if not typed:
        raise NotUnderstood("Nothing was typed; write a number, for example 68.02.")
    if len(typed) > _LONGEST:
        raise NotUnderstood(f"“{typed[:12]}…” is too long to be a size; write a number, for example 68.02.")
    fraction = _FRACTION.match(typed)
    if fraction:
        sign, whole, top, bottom = fraction.groups()
        if int(bottom) == 0:
            raise NotUnderstood(f"“{text}” divides by nothing; write the fraction again.")
        size = float(int(whole or 0) + Fraction(int(top), int(bottom)))
        return -size if sign == "-" else size
    if typed.count(".") + typed.count(",") > 1:
        raise NotUnderstood(
            f"“{text}” has two marks; write one decimal mark and no mark for thousands, for example 68.02."
        )
    if not _NUMBER.match(typed):
        raise NotUnderstood(f"“{typed}” is not a number; write digits with one decimal mark, for example 68.02.")
    return float(typed.replace(",", "."))


def read_quantity(text: str, unit: str) -> tuple[float, str]:
    """The number and the unit a person typed; `unit` is what is meant when they wrote none.

    >>> read_quantity("2.678 in", "mm")
    (2.678, 'in')

    Raises NotUnderstood as `read_number` does, and when the unit written measures another thing than `unit`, or is
    none; digits in it, or a decimal mark with a letter behind it, are a slip in the number ("34.o1").
    """
    typed = text.strip()
    split = _SPLIT.match(typed) if len(typed) <= _LONGEST else None
    if split is None:
        return read_number(text), unit_named(unit).name
    number, written = split.groups()
    known = _known(written) is not None
    if written and not known and (number[-1] in ".," or any(letter.isdigit() for letter in written)):
        return read_number(text), unit_named(unit).name
    value = read_number(number)
    if not written:
        return value, unit_named(unit).name
    if not known:
        measures = unit_named(unit).measures
        names = [one.name for one in UNITS.values() if one.measures == measures]
        raise NotUnderstood(f"There is no unit “{written}” here; write {one_of(names)}.")
    converted(value, written, unit)
    return value, unit_named(written).name


def one_of(names: Sequence[str]) -> str:
    """What to write, where there are names to choose from.

    >>> one_of(["mm", "in"]), one_of(["mm"])
    ('one of mm, in', 'mm')
    """
    return f"one of {', '.join(names)}" if len(names) > 1 else "".join(names)


def shown(value: float, resolution: float = 0.001) -> str:
    """The number with as many decimals as the resolution is worth, and no more.

    >>> shown(68.0213, 0.01), shown(10.0, 1)
    ('68.02', '10')

    Ties go to even on the decimal text, as ASTM E29 and NIST SP 811 B.7 ask.
    """
    if resolution <= 0 or not math.isfinite(value):
        return f"{value:g}"
    decimals = max(0, -math.floor(math.log10(resolution) + 1e-9))
    text = format(Decimal(repr(value)), f".{decimals}f")
    return text.lstrip("-") if not text.strip("-0.") else text


def as_read(value: float, step: float) -> str:
    """The size with the digits its instrument shows; with more only where it was typed with more.

    >>> as_read(34.1, 0.02), as_read(2.855, 0.02)
    ('34.10', '2.855')
    """
    said = shown(value, step)
    return said if math.isclose(float(said), value, rel_tol=0, abs_tol=1e-9) else plain(round(value, 6))


def as_found(value: float, step: float) -> str:
    """A size that was worked out, a mean or a difference: one digit more than its instrument shows, at the most.

    >>> as_found(0.113333, 0.01), as_found(68.05, 0.01), as_found(33.9, 0.02)
    ('0.113', '68.05', '33.90')
    """
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return as_read(round(value, decimals + 1), step)


def unsure_by(uncertainty: float, step: float) -> str:
    """The uncertainty with as many digits as the size has, rounded up, as GUM (JCGM 100:2008) 7.2.6 allows.

    >>> unsure_by(0.0082, 0.01), unsure_by(0.037, 0.02)
    ('0.01', '0.04')
    """
    place = 10.0 ** math.floor(math.log10(step) + 1e-9)
    return shown(math.ceil(round(uncertainty / place, 6)) * place, step)


def plain(value: float) -> str:
    """The number without trailing zeros, as it stands in names such as M6x28.

    >>> plain(28.0), plain(31.75)
    ('28', '31.75')
    """
    text = format(Decimal(repr(value + 0.0)), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text
