"""Rules about the engine's geometry and about what an instrument can reach."""

from collections.abc import Iterator

from fingertight.anatomy.mistakes import Wrong, put
from fingertight.anatomy.rules.said import Table, by_id, number, numbers, tables, text, whole
from fingertight.quantity import NotUnderstood, converted, plain

_EVENTS = {"inlet": ("top", "bottom"), "exhaust": ("bottom", "top")}
_LONGEST_OPEN_DEG = 450.0
"""No valve of a four-stroke stands open longer; usual are 210 to 330 (common practice, no source)."""

_OVERRUN = 0.01
"""How far an instrument still shows a size past its range, as a share of it (common practice, no source)."""


def cranks(said: Table) -> Iterator[Wrong]:
    """The rod must be longer than the throw of the crank, which is half the stroke."""
    engine = _engine(said)
    stroke, rod = number(engine.get("stroke")), number(engine.get("rod"))
    if stroke is not None and rod is not None and 0 < rod <= stroke / 2:
        wrong = f"The rod is {plain(rod)} mm and the throw, half the stroke, {plain(stroke / 2)} mm: it cannot turn."
        yield Wrong(("engine", "rod"), "no-such-crank", wrong, "Look both up again; rod is from pin to pin.")


def valve_events(said: Table) -> Iterator[Wrong]:
    """A valve opens, and closes later, within what a camshaft can do."""
    for valve, (first, last) in _EVENTS.items():
        events = numbers(_engine(said), valve)
        if len(events) != 2:
            continue
        stands_open = events[0] + 180 + events[1]
        if not 0 < stands_open <= _LONGEST_OPEN_DEG or max(map(abs, events)) >= 180:
            wrong = (
                f"“{valve}” opens {plain(events[0])}° before {first} and closes {plain(events[1])}° after {last} "
                f"dead centre: open for {plain(stands_open)}°."
            )
            mend = f"Write {valve} = [before {first}, after {last}], each less than 180."
            yield Wrong(("engine", valve), "no-such-events", wrong, mend)


def cam_wheels(said: Table) -> Iterator[Wrong]:
    """The camshaft of a four-stroke turns once while the crank turns twice."""
    engine = _engine(said)
    crank, cam = whole(engine, "crank_teeth"), whole(engine, "cam_teeth")
    if crank and cam and engine.get("strokes", 4) == 4 and cam != 2 * crank:
        wrong = f"The crank has {crank} teeth and the camshaft {cam}; a four-stroke wants {2 * crank}."
        yield Wrong(("engine", "cam_teeth"), "cam-teeth", wrong, "Count both wheels again, or write strokes = 2.")


def reaches(said: Table) -> Iterator[Wrong]:
    """What an instrument shows goes from small to large, and holds the sizes that it is to measure."""
    instruments = by_id(said, "instrument")
    for path, instrument in tables(said, "instrument"):
        shows = numbers(instrument, "range")
        if len(shows) == 2 and shows[0] > shows[1]:
            wrong = f"“range” runs from {shows[0]:g} down to {shows[1]:g}."
            mend = f"Write range = [{shows[1]:g}, {shows[0]:g}]."
            turned = put((*path, "range"), (shows[1], shows[0]))
            yield Wrong((*path, "range"), "range-reversed", wrong, mend, turned)
    for path, check in tables(said, "check"):
        instrument = instruments.get(text(check, "instrument") or "", {})
        shows, sizes = numbers(instrument, "range"), _sizes(check, instrument)
        if len(shows) < 2 or shows[0] > shows[1] or not sizes:
            continue
        over = _OVERRUN * (shows[1] - shows[0])
        if min(sizes) < shows[0] - over or max(sizes) > shows[1] + over:
            unit = instrument.get("unit", "mm")
            least, most = (plain(round(size, 4)) for size in (min(sizes), max(sizes)))
            about = f"is {least}" if least == most else f"goes from {least} to {most}"
            wrong = f"“{instrument['id']}” shows {plain(shows[0])} to {plain(shows[1])} {unit}; this {about} {unit}."
            yield Wrong((*path, "instrument"), "out-of-reach", wrong, "Name another instrument, or mend its range.")


def _engine(said: Table) -> Table:
    engine = said.get("engine")
    return engine if isinstance(engine, dict) else {}


def _sizes(check: Table, instrument: Table) -> list[float]:
    """The sizes a check is about, in the unit of its instrument; none where they cannot be compared."""
    known = [*numbers(check, "new"), number(check.get("min")), number(check.get("max"))]
    try:
        return [
            converted(size, str(check.get("unit", "mm")), str(instrument.get("unit", "mm")))
            for size in known
            if size is not None
        ]
    except NotUnderstood:
        return []
