"""The answer about feeler leaves: what a reading proves, what would settle it, leaves for a range, the screw."""

from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.setting.gaps.words import (
    COLD,
    FEELER_SOURCES,
    SHUT,
    bare,
    in_ten,
    sized,
    stacked,
    verdict_words,
)
from fingertight.quantity import plain
from fingertight.setting.gaps.go_no_go import Set, between, judged
from fingertight.setting.gaps.leaves import Stack, stack_of

Leaves = tuple[float, ...]


@dataclass(frozen=True)
class FeelerCard(SumCard):
    """A gap by leaves. low_mm, high_mm: between which it lies (high null: no leaf stopped); middle_mm, standard_mm: the
    best figure and its standard uncertainty; share_within: of what is possible, what lies in the range.

    must_go, must_not_go, too_small, too_large: leaves that prove the range, or prove it missed; makes: those that make
    the gap that was asked for. turn_deg: how far the screw is turned to `to_mm`, minus: so that the gap closes.
    deg_for_hundredth: of the screw, for 0.01 mm of gap. Leaves are in mm, thinnest first.
    """

    unit: str
    goes: Leaves | None
    does_not_go: Leaves | None
    low_mm: float | None
    high_mm: float | None
    middle_mm: float | None
    standard_mm: float | None
    least_mm: float | None
    most_mm: float | None
    verdict: Set | None
    share_within: float | None
    must_go: Leaves | None
    must_not_go: Leaves | None
    too_small: Leaves | None
    too_large: Leaves | None
    proves: bool | None
    gap_mm: float | None
    makes: Leaves | None
    deg_for_hundredth: float | None
    to_mm: float | None
    turn_deg: float | None
    leaf_error_mm: float | None

    @property
    def is_no(self) -> bool:
        """The gap is surely not in its range."""
        return self.verdict in {Set.SMALL, Set.LARGE}

    def stack(self, leaves: Leaves | None) -> Stack | None:
        """Leaves with what they may be off."""
        return stack_of(leaves, self.leaf_error_mm) if leaves else None

    @property
    def answer(self) -> Answer:
        """What the reading proves, the verdict and what would settle it, then the leaves, then the screw."""
        sections = [Section("Leaves for this range", tuple(_proving(self)), ("this leaf", "and it", "proves"))]
        if self.deg_for_hundredth is not None:
            sections.append(Section("Adjusting screw", tuple(_screw(self))))
        return Answer(
            title=_title(self),
            lead=(*_range(self), *_reading(self), *_making(self), *_turning(self)),
            sections=tuple(sections),
            cautions=(COLD, SHUT),
            notes=tuple(_notes(self)),
            sources=FEELER_SOURCES,
        )


def _title(card: FeelerCard) -> str:
    if card.least_mm is not None and card.most_mm is not None:
        asked = f"{bare(card.least_mm, card.unit)} to {sized(card.most_mm, card.unit)}"
        return f"Feeler: is the gap {asked}?" if card.low_mm is not None else f"Feeler: how to prove {asked}"
    if card.gap_mm is not None:
        return f"Feeler: leaves for {sized(card.gap_mm, card.unit)}"
    return "Feeler: what the leaves say" if card.low_mm is not None else "Feeler: the adjusting screw"


def _reading(card: FeelerCard) -> list[str]:
    if card.low_mm is None:
        return []
    goes, stops = card.stack(card.goes), card.stack(card.does_not_go)
    if goes and stops and card.middle_mm is not None and card.standard_mm is not None:
        off = goes.error_mm or stops.error_mm
        by = " by what is marked on the leaves" if off else ""
        said = [
            f"The gap lies between {bare(goes.thickness_mm, card.unit)} and "
            f"{sized(stops.thickness_mm, card.unit)}{by}" + (f", and surely between {_surely(card)}." if off else ".")
        ]
        said.append(
            f"If one figure is wanted: {sized(card.middle_mm, card.unit)}, with a standard uncertainty of "
            f"{sized(card.standard_mm, card.unit)}; any size between is as likely as another."
        )
        return said
    if goes:
        return [
            f"The gap is {sized(card.low_mm, card.unit)} or more. How much more nobody knows until a thicker leaf does "
            "not go: try the next one."
        ]
    return [f"The gap is less than {sized(card.high_mm or 0, card.unit)}; until a thinner leaf goes it may be 0."]


def _surely(card: FeelerCard) -> str:
    return f"{bare(card.low_mm or 0, card.unit)} and {sized(card.high_mm or 0, card.unit)}"


def _range(card: FeelerCard) -> list[str]:
    if card.least_mm is None or card.most_mm is None:
        return []
    asked = f"{bare(card.least_mm, card.unit)} to {sized(card.most_mm, card.unit)}"
    if card.verdict is None:
        return _how_to_prove(card, asked)
    said = {
        Set.GOOD: f"Good: all of it lies within {asked}.",
        Set.SMALL: f"Too small: surely less than {sized(card.least_mm, card.unit)}.",
        Set.LARGE: f"Too large: surely more than {sized(card.most_mm, card.unit)}.",
    }.get(card.verdict)
    if said:
        return [said]
    share = f": {in_ten(card.share_within)} of what is possible is in" if card.share_within is not None else ""
    return [f"{verdict_words(card.verdict)}: the leaves do not prove {asked}{share}.", *_settling(card)]


def _as_marked(card: FeelerCard) -> bool:
    """Whether it would be good if every leaf were as thick as is marked on it."""
    goes, stops = (Stack(leaves) if leaves else None for leaves in (card.goes, card.does_not_go))
    return judged(between(goes, stops), card.least_mm or 0, card.most_mm or 0) is Set.GOOD


def _how_to_prove(card: FeelerCard, asked: str) -> list[str]:
    goes, stops = card.stack(card.must_go), card.stack(card.must_not_go)
    if card.proves and goes and stops:
        return [
            f"{stacked(goes, card.unit)} must go and {stacked(stops, card.unit)} must not: then the gap is surely "
            f"{asked}."
        ]
    return [
        f"With these leaves {asked} cannot be proven: none lies far enough inside both ends. Take finer leaves, or "
        "have the leaves measured and write how far they are off (leaf error)."
    ]


def _settling(card: FeelerCard) -> list[str]:
    """What to try next: the leaf that would prove the side that is open."""
    goes, stops = card.stack(card.must_go), card.stack(card.must_not_go)
    known = card.stack(card.goes), card.stack(card.does_not_go)
    said = []
    if (card.high_mm is None or card.high_mm > (card.most_mm or 0)) and stops and _between(stops, *known):
        said.append(f"Try {stacked(stops, card.unit)}: if it does not go, the gap is not too large.")
    if (card.low_mm or 0) < (card.least_mm or 0) and goes and _between(goes, *known):
        said.append(f"Try {stacked(goes, card.unit)}: if it goes, the gap is not too small.")
    if not said and _as_marked(card):
        said.append(
            "By what is marked on the leaves it is good; what they may be off leaves it open: measure both leaves with "
            "a micrometer and write what is left as leaf error, or set the gap so that the leaves below prove it."
        )
    return said or [
        "No leaf of this set lies between, to settle it: take finer leaves, or set the gap so that the leaves below "
        "prove it."
    ]


def _between(stack: Stack, goes: Stack | None, stops: Stack | None) -> bool:
    above = goes is None or stack.thickness_mm > goes.thickness_mm + 1e-9
    return above and (stops is None or stack.thickness_mm < stops.thickness_mm - 1e-9)


def _making(card: FeelerCard) -> list[str]:
    if card.gap_mm is None or not card.makes:
        return []
    stack = Stack(card.makes)
    away = stack.thickness_mm - card.gap_mm
    near = "" if abs(away) < 0.0005 else f", {sized(abs(away), card.unit)} {'more' if away > 0 else 'less'} than asked"
    return [f"For {sized(card.gap_mm, card.unit)} take {stacked(stack, card.unit)}{near}."]


def _turning(card: FeelerCard) -> list[str]:
    if card.deg_for_hundredth is None:
        return []
    if card.turn_deg is None or card.to_mm is None or card.middle_mm is None:
        step = 0.05 if card.unit in {"mm", "µm"} else 0.0508
        return [f"{_deg(card.deg_for_hundredth * step / 0.01)} of the screw make {sized(step, card.unit)} of gap."]
    if abs(card.turn_deg) < 1:
        return [f"The screw stays: the gap is about {sized(card.to_mm, card.unit)}."]
    way = "closes" if card.turn_deg < 0 else "opens"
    return [
        f"From about {sized(card.middle_mm, card.unit)} to {sized(card.to_mm, card.unit)} turn the screw by "
        f"{_deg(abs(card.turn_deg))}, the way that {way} the gap; then lock it and try the leaves again."
    ]


def _deg(value: float) -> str:
    turn = f" ({plain(round(value / 360, 2))} of a turn)" if value >= 30 else ""
    return f"{plain(round(value))}°{turn}"


def _proving(card: FeelerCard) -> list[tuple[str, str, str]]:
    asked = (
        (card.must_go, "goes", "not too small"),
        (card.must_not_go, "does not go", "not too large"),
        (card.too_small, "does not go", "too small"),
        (card.too_large, "goes", "too large"),
    )
    found = []
    for leaves, does, proves in asked if card.proves else asked[2:]:
        stack = card.stack(leaves)
        if stack:
            found.append((stacked(stack, card.unit), does, proves))
    return found


def _screw(card: FeelerCard) -> list[tuple[str, str]]:
    each = card.deg_for_hundredth or 0
    return [
        (f"{sized(step, card.unit)} of gap", _deg(each * step / 0.01))
        for step in ((0.01, 0.05, 0.10) if card.unit in {"mm", "µm"} else (0.0254, 0.0508, 0.127))
    ] + [("a quarter turn", f"{sized(0.9 / each, card.unit)} of gap")]


def _notes(card: FeelerCard) -> list[str]:
    several = any(
        leaves and len(leaves) > 1
        for leaves in (card.goes, card.does_not_go, card.must_go, card.must_not_go, card.makes)
    )
    said = ["A leaf that goes drags lightly and is not forced; one that buckles is no reading."]
    if several:
        said.append(
            "Leaves on each other are a little thicker than their sum, by oil and air: wipe them, press them together, "
            "and take a single leaf where one will do."
        )
    said.append(
        "In a rocker worn hollow a leaf bridges the hollow: the gap is larger than the leaf says (common practice, and "
        "a workshop page on adjusters). There go by the screw: close it by fingers, then back by its degrees."
    )
    if card.leaf_error_mm is None and (card.goes or card.least_mm is not None):
        said.append(
            "A leaf is taken to be off by up to 0.004 mm (to 0.30 mm thick) or 0.006 mm; measured leaves: write what "
            "they may be off as leaf error, 0 to take them as they are marked."
        )
    return said
