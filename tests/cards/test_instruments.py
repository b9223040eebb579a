"""Drawn instruments are right to the line: they are read back from their SVG by the lines alone, as a person does."""

import math
import re
from collections.abc import Callable
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.cards.pictures.drawing import svg
from fingertight.cards.pictures.instruments.drawn import drawn_for, instrument_drawing
from fingertight.measure.scales.kinds import KINDS, Scales

LINE = re.compile(r"M(-?[\d.]+) (-?[\d.]+)(?:([VHhL])(-?[\d.]+)(?: (-?[\d.]+))?)\Z")
Line = tuple[str, float, float, float, float]


def lines_of(page: ElementTree.Element) -> list[Line]:
    """Every straight stroke: its look, and its two ends."""
    found = []
    for path in page.iter("path"):
        match = LINE.match(path.get("d", ""))
        if match:
            x, y, how, one, other = match.groups()
            x0, y0, a = float(x), float(y), float(one)
            end = {"V": (x0, a), "H": (a, y0), "h": (x0 + a, y0), "L": (a, float(other or 0))}[how]
            found.append((path.get("class", "").removeprefix("d-"), x0, y0, *end))
    return found


def words_of(page: ElementTree.Element) -> list[tuple[str, float, float]]:
    return [(one.text or "", float(one.get("x", 0)), float(one.get("y", 0))) for one in page.iter("text")]


def read_vernier(page: ElementTree.Element, scales: Scales) -> float:
    """Whole marks left of the vernier's 0, then the line of the window that meets one above."""
    lines, words = lines_of(page), words_of(page)
    seams = sorted({y0 for look, _, y0, _, y1 in lines if look == "faint" and y0 == y1})
    main = [x for look, x, y, _, y1 in lines if look == "line" and y == seams[0] and y1 < y]
    named = {
        min(main, key=lambda x: abs(x - at)): text for text, at, y in words if y < seams[0] and re.match(r"\d", text)
    }
    zero = min(x for look, x, y, _, y1 in lines if look == "steel" and y == seams[0] and y1 > y)
    text_0 = next(text for text, at, y in words if seams[0] < y < seams[1] - 60 and abs(at - zero) < 0.01)
    assert text_0 == "0"
    at, text = sorted(named.items())[-1] if scales.unit == "mm" else sorted(named.items())[0]
    apart = (main[-1] - main[0]) / (len(main) - 1)
    whole = None
    if scales.unit == "mm":
        whole = float(text) + math.floor((zero - at) / apart + 4e-3) * scales.mark
    # The window: its lines are numbered by the numbers under them.
    above = [x for look, x, y, _, y1 in lines if look == "line" and y == seams[1] and y1 < y]
    below = sorted(x for look, x, y, _, y1 in lines if look == "steel" and y == seams[1] and y1 > y)
    numbers = [(float(text), at) for text, at, y in words if y > seams[1] and re.match(r"\d+\Z", text)]
    value, place = numbers[0]
    nearest = min(range(len(below)), key=lambda number: abs(below[number] - place))
    first = round(value * (scales.parts / 10 if scales.parts != 25 else 1)) - nearest
    meets = min(range(len(below)), key=lambda number: min(abs(below[number] - x) for x in above))
    rest = (first + meets) * scales.step
    if whole is None:  # inches: tenths repeat along the scale, so only the part of a tenth is read back
        tenth = {round(x, 3): text for x, text in named.items()}
        at, text = next((x, text) for x, text in sorted(tenth.items()))
        marks = math.floor((zero - at) / apart + 4e-3)
        digit = int(text.split()[0]) if "in" not in text else 0
        whole = digit * 0.1 + marks * scales.mark
        return round((whole + rest) % 1, 6)
    return round(whole + rest, 6)


def read_micrometer(page: ElementTree.Element, scales: Scales) -> float:
    """The last number on the sleeve, the marks from there to the thimble, and the thimble's line at the long line."""
    lines, words = lines_of(page), words_of(page)
    long_line = next(y0 for look, x0, y0, x1, y1 in lines if look == "line" and y0 == y1 and x1 - x0 > 200)
    edge = max(x1 for look, _, y0, x1, y1 in lines if look == "line" and y0 == y1 == long_line)
    marks = sorted(x0 for look, x0, y0, x1, y1 in lines if look == "line" and x0 == x1 and y0 == long_line)
    numbers = [
        (float(text), x)
        for text, x, y in words
        if y < long_line and x < edge - 20 and any(abs(x - m) < 0.01 for m in marks)
    ]
    thimble = [(y0, x1 - x0) for look, x0, y0, x1, y1 in lines if look == "steel" and x0 == edge and y0 == y1]
    named = [(int(text), y - 5) for text, x, y in words if x > edge]
    value, y_named = named[0]
    apart = min(abs(one[0] - other[0]) for one in thimble for other in thimble if one != other)
    at = value + (y_named - long_line) / apart
    at %= scales.parts
    if scales.vernier:
        sleeve = [
            y0 for look, x0, y0, x1, y1 in lines if look == "line" and y0 == y1 and 20 < x1 - x0 < 40 and x1 == edge
        ]
        sleeve = [long_line, *sorted(sleeve, reverse=True)]
        assert len(sleeve) == scales.vernier + 1
        meets = min(range(scales.vernier), key=lambda number: min(abs(sleeve[number] - y) for y, _ in thimble))
        turned = math.floor(at + 1e-3) + meets / scales.vernier
    else:
        turned = float(round(at)) % scales.parts
    if not numbers:  # nothing numbered is out yet: the marks are counted from the first, which is 0
        return round((len(marks) - 1) * scales.mark + turned * scales.step * (scales.vernier or 1), 6)
    number, x_number = numbers[-1]
    beyond = sum(1 for x in marks if x > x_number + 0.01)
    unit = 1.0 if scales.unit == "mm" else 0.1
    return round(number * unit + beyond * scales.mark + turned * scales.step * (scales.vernier or 1), 6)


def read_dial(page: ElementTree.Element, scales: Scales) -> float:
    """The angle of the long hand among the hundred lines, and the small hand's whole turns."""
    hands = [(x0, y0, x1, y1) for look, x0, y0, x1, y1 in lines_of(page) if look == "bold"]
    x0, y0, x1, y1 = hands[0]
    angle = math.degrees(math.atan2(x1 - x0, -(y1 - y0))) % 360
    line = round(angle / 360 * scales.parts, 3)
    if scales.kind == "bore gauge":
        away = -line if line <= scales.parts / 2 else scales.parts - line
        return round(away * scales.step, 6)
    small = next(each for each in lines_of(page) if each[0] == "line" and (each[1], each[2]) == (150.0, 206.0))
    turns = math.degrees(math.atan2(small[3] - small[1], -(small[4] - small[2]))) % 360 / 36
    whole = math.floor(turns - line / scales.parts + 0.5)
    steps = whole * scales.parts + line
    return round(steps * scales.step, 6)


READERS: dict[str, Callable[[ElementTree.Element, Scales], float]] = {
    "vernier": read_vernier,
    "micrometer": read_micrometer,
    "dial": read_dial,
    "bore gauge": read_dial,
}


def page_at(reading: float, scales: Scales, shift: int = 0) -> ElementTree.Element:
    zero = 68.0 if scales.kind == "bore gauge" else None
    drawn = instrument_drawing(reading + (zero or 0), scales, zero=zero, shift=shift)
    return ElementTree.fromstring(svg(drawn))


@pytest.mark.parametrize("name", KINDS)
@settings(max_examples=300, deadline=None)
@given(share=st.floats(0, 1), shift=st.integers(-3, 3))
def test_every_instrument_is_read_back_to_the_line(name: str, share: float, shift: int) -> None:
    scales = KINDS[name]
    low, high = (round(end / scales.step) for end in scales.range)
    if scales.kind == "dial":
        low, high = 0, high - 1
    if scales.kind == "bore gauge":
        low, high = low + 1, high - 1
    reading = round((low + round(share * (high - low))) * scales.step, 6)
    read = READERS[scales.kind](page_at(reading, scales, shift), scales)
    wanted = reading % 1 if name == "vernier-inch" else reading
    assert read == pytest.approx(wanted, abs=scales.step / 100)


@pytest.mark.parametrize(
    ("name", "reading", "says"),
    [
        ("vernier-0.02", 34.62, "Its 0 stands past 34 mm; line 31 of its vernier meets a line of the main scale."),
        ("micrometer-0.01", 17.88, "The sleeve shows 17.5 mm; line 38 of the thimble stands at the long line."),
        ("dial-0.01", 2.34, "A dial gauge at 2.34 mm: the hand stands at line 34."),
    ],
)
def test_what_is_drawn_is_said_too(name: str, reading: float, says: str) -> None:
    assert instrument_drawing(reading, KINDS[name]).says.endswith(says)


def test_a_bore_gauge_says_what_it_was_set_to_and_which_side_its_hand_is_on() -> None:
    says = instrument_drawing(68.06, KINDS["bore-gauge-0.01"], zero=68.0).says
    assert says == "A bore gauge set to 0 at 68.00 mm: its hand stands 0.06 mm on the side of larger."


def test_a_reading_of_a_machine_s_instrument_is_drawn_where_it_can_be() -> None:
    assert drawn_for("micrometer", "mm", 0.01, 67.96) is not None
    assert drawn_for("bore gauge", "mm", 0.01, 68.05) is not None
    assert drawn_for("bore gauge", "mm", 0.01, 68.05, zero=50.0) is None
    assert drawn_for("vernier", "mm", 0.02, 400.0) is None
    assert drawn_for("feeler", "mm", 0.01, 0.2) is None
