"""What is asked about a camshaft that may be out, and the shift that follows from events, lobe centres or dots."""

import re
from collections.abc import Mapping

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.timing.events.ask import EVENTS, event_of
from fingertight.cards.sums.setting.timing.teeth.card import (
    CONTRADICT,
    COUNTED,
    DOTS,
    LIKELY,
    VALVES,
    EventCard,
    TeethCard,
)
from fingertight.quantity import NotUnderstood, in_house, read_quantity
from fingertight.setting.timing.angles import CYCLE, wrapped
from fingertight.setting.timing.teeth import (
    MOST_TEETH,
    SOUND_DEG,
    Shift,
    chances,
    offset_deg,
    together,
    tooth_deg,
    whole_turn,
)
from fingertight.uncertainty.standard import combined, of_limits

_NAMES = {name: name.replace("-", " ").replace("centre", "lobe centre") for name in EVENTS}
_DOTS = re.compile(
    r"\A([0-9.,/ "
    r']+?)\s*(teeth|tooth|t|mm|in|thou|")?\s+(behind|late|ahead|early|before)\Z',
    re.IGNORECASE,
)
_SEEN_MM = 0.5
"""How far off an offset of dots is seen with a rule (±, limits): common practice, no source."""
_FEWEST = 6


def _compute(typed: Typed) -> TeethCard:
    crank_teeth, cam_teeth = _wheels(typed)
    stated = {name: event_of(typed.text(name), _label(name), name) for name in EVENTS if typed.has(name)}
    found = {
        name: event_of(typed.text(f"found-{name}"), f"{_label(name)}, found", name)
        for name in EVENTS
        if typed.has(f"found-{name}")
    }
    dots = typed.text("dots")
    if dots and found:
        raise NotUnderstood("Dots: write how far the dots are off, or what was found at the valves; not both.")
    if dots:
        counted, shift = _by_dots(typed, dots, crank_teeth)
        by = DOTS if counted is None else COUNTED
        return _card((crank_teeth, cam_teeth), stated, {}, shift, by=by, counted=counted)
    shift, furthest = _by_events(typed, stated, found)
    return _card((crank_teeth, cam_teeth), stated, found, shift, by=VALVES, contradicts=furthest > CONTRADICT)


def _wheels(typed: Typed) -> tuple[int, int]:
    crank_teeth, cam_teeth = typed.whole("crank-teeth"), typed.whole("cam-teeth")
    if crank_teeth is None:
        raise NotUnderstood("Teeth of the crank wheel: nothing was typed; write for example 22.")
    return crank_teeth, cam_teeth or 2 * crank_teeth


def _by_events(typed: Typed, stated: Mapping[str, float], found: Mapping[str, float]) -> tuple[Shift, float]:
    """The shift that all events tell of together, each as sure as its reading and as engines are alike."""
    both = [name for name in EVENTS if name in stated and name in found]
    if not both:
        raise NotUnderstood(
            "Nothing can be compared: write a figure as it is stated and the same as it was found, for example inlet "
            "centre 107 and found inlet centre 123, or how far the dots are off."
        )
    # Opening and closing of one valve move against each other with the lash; their middle does not.
    pairs = [[name for name in (f"{valve}-opens", f"{valve}-closes") if name in both] for valve in ("inlet", "exhaust")]
    read = typed.must("unsure") / 2
    shifts = []
    for names in [*pairs, *([name] for name in both if name.endswith("centre"))]:
        if names:
            later = sum(wrapped(found[name] - stated[name], CYCLE) for name in names) / len(names)
            shifts.append(Shift(later, read))
    mean, furthest = together(shifts)
    return Shift(mean.later_deg, combined((mean.standard_deg, of_limits(SOUND_DEG)))), furthest


def _by_dots(typed: Typed, said: str, crank_teeth: int) -> tuple[int | None, Shift]:
    """The shift that the dots show: teeth counted, or millimetres along the pitch circle."""
    split = _DOTS.match(said)
    if split is None:
        raise NotUnderstood(
            f"Dots: “{said[:30]}” does not say how far and which way; write for example 1 tooth behind, or 6.4 mm "
            "ahead, as the cam wheel turns."
        )
    side = 1 if split.group(3).lower() in {"behind", "late"} else -1
    unit = (split.group(2) or "teeth").lower()
    if unit in {"teeth", "tooth", "t"}:
        try:
            number, _ = read_quantity(split.group(1), "mm")
        except NotUnderstood as slip:
            raise NotUnderstood(f"Dots: {slip}") from None
        if number != int(number) or number > MOST_TEETH * 4:
            raise NotUnderstood(
                f"Dots: “{split.group(1).strip()}” is no number of teeth to be out by; count whole teeth between the "
                "dots, or write millimetres."
            )
        teeth = side * int(number)
        return teeth, Shift(teeth * tooth_deg(crank_teeth), 0.0)
    circle = typed.size("pitch-circle")
    if circle is None:
        raise NotUnderstood(
            "Pitch circle: an offset in millimetres is turned into teeth with the diameter of the cam wheel’s pitch "
            "circle; write it, or count the teeth between the dots."
        )
    try:
        offset_mm = side * in_house(*read_quantity(f"{split.group(1)} {unit}", "mm"))
    except NotUnderstood as slip:
        raise NotUnderstood(f"Dots: {slip}") from None
    return None, Shift(offset_deg(offset_mm, circle), offset_deg(of_limits(_SEEN_MM), circle))


def _card(
    wheels: tuple[int, int],
    stated: Mapping[str, float],
    found: Mapping[str, float],
    shift: Shift,
    *,
    by: str,
    counted: int | None = None,
    contradicts: bool = False,
) -> TeethCard:
    crank_teeth, cam_teeth = wheels
    tooth = tooth_deg(crank_teeth)
    rest = Shift(wrapped(shift.later_deg), shift.standard_deg)
    teeth, likely = _likeliest(rest, crank_teeth) if counted is None else (counted, {f"{counted:+d}": 1.0, "none": 0.0})
    moves = -(teeth or 0) * tooth
    compared = [name for name in stated if name in found]
    now = {name: at + shift.later_deg for name, at in stated.items()} | dict(found)
    return TeethCard(
        crank_teeth=crank_teeth,
        cam_teeth=cam_teeth,
        tooth_deg=tooth,
        tooth_cam_deg=tooth * crank_teeth / cam_teeth,
        later_deg=shift.later_deg,
        u_deg=2 * shift.standard_deg,
        teeth=teeth,
        chances=likely,
        by=by,
        by_lash=len(compared) == 1 and not compared[0].endswith("centre"),
        whole_turn=whole_turn(shift, crank_teeth) and teeth == 0,
        contradicts=contradicts,
        longer_deg=_longer(stated, found),
        events=tuple(
            EventCard(
                name=_NAMES[name],
                stated_deg=stated.get(name),
                found_deg=now[name],
                later_deg=wrapped(now[name] - stated[name], CYCLE) if name in stated else None,
                after_deg=now[name] + moves,
            )
            for name in EVENTS
            if name in now
        ),
        overlap_stated_deg=_overlap(stated),
        overlap_found_deg=_overlap(now),
    )


def _likeliest(shift: Shift, crank_teeth: int) -> tuple[int | None, dict[str, float]]:
    """The number of teeth that is likelier than not, and how likely each is, by its name on the card."""
    by_number = chances(shift, crank_teeth)
    best = max(by_number, key=lambda number: by_number[number])
    likely = {"none" if number is None else f"{number:+d}": chance for number, chance in by_number.items()}
    return best if by_number[best] >= LIKELY else None, likely


def _longer(stated: Mapping[str, float], found: Mapping[str, float]) -> dict[str, float]:
    """How much longer than stated each valve is open, where all four figures are known."""
    ends = {valve: (f"{valve}-opens", f"{valve}-closes") for valve in ("inlet", "exhaust")}
    return {
        valve: (found[last] - found[first]) - (stated[last] - stated[first])
        for valve, (first, last) in ends.items()
        if all(name in known for name in (first, last) for known in (stated, found))
    }


def _overlap(known: Mapping[str, float]) -> float | None:
    if "inlet-opens" not in known or "exhaust-closes" not in known:
        return None
    return known["exhaust-closes"] - known["inlet-opens"]


def _label(name: str) -> str:
    said = _NAMES[name]
    return f"{said[0].upper()}{said[1:]}"


def _field(name: str, example: str) -> tuple[Field, Field]:
    """A figure as it is stated and as it was found."""
    about = {
        "inlet-opens": "before top dead centre",
        "inlet-closes": "after bottom dead centre",
        "inlet-centre": "after top dead centre",
        "exhaust-opens": "before bottom dead centre",
        "exhaust-closes": "after top dead centre",
        "exhaust-centre": "before top dead centre",
    }[name]
    return (
        Field(name, f"{_label(name)}, stated", "text", f"degrees {about}, or with its side", example),
        Field(f"found-{name}", f"{_label(name)}, found", "text", "the same as it was found on the engine", example),
    )


SUM = Sum(
    name="teeth",
    title="Teeth out",
    question="by how many teeth the camshaft is out, and which way to move it",
    fields=(
        Field("crank-teeth", "Teeth of the crank wheel", "whole", "the wheel on the crank that drives the camshaft",
              "22", must=True, least=_FEWEST, most=400),
        Field("cam-teeth", "Teeth of the cam wheel", "whole", "twice as many where nothing is typed", "44",
              least=_FEWEST, most=800),
        *_field("inlet-centre", "107"),
        *_field("exhaust-centre", "110"),
        *_field("inlet-opens", "15"),
        *_field("inlet-closes", "45"),
        *_field("exhaust-opens", "70"),
        *_field("exhaust-closes", "10"),
        Field("unsure", "Found to", "size", "how sure (±) the found figures are", "2", usual="2", unit="deg", above=0,
              most=60),
        Field("dots", "Dots", "text", "how far the cam wheel’s dot is behind or ahead of its mark, as the wheel turns",
              "1 tooth behind"),
        Field("pitch-circle", "Pitch circle", "size", "its diameter on the cam wheel, for dots in millimetres",
              "134 mm", unit="mm", above=0, least=10, most=2000),
    ),
    compute=_compute,
    card=TeethCard,
    example='--crank-teeth 22 --inlet-centre 107 --found-inlet-centre 123',
    more="From lobe centres or events, stated and found at the same lift; or from the dots.",
)  # fmt: skip
