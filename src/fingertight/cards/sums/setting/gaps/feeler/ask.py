"""What is asked about feeler leaves: a reading, a range, a gap to make, the adjusting screw."""

import math

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.gaps.feeler.card import FeelerCard, Leaves
from fingertight.cards.sums.setting.gaps.words import range_of, sized
from fingertight.quantity import NotUnderstood
from fingertight.setting.gaps.go_no_go import Between, Proof, between, judged, proof
from fingertight.setting.gaps.leaves import Stack, leaves_of, makes, stack_of
from fingertight.setting.gaps.rocker import turn_deg
from fingertight.setting.gaps.said import FOR_EXAMPLE, leaves_said, tried


def _compute(typed: Typed) -> FeelerCard:
    error_mm = typed.size("leaf-error")
    wanted = range_of(typed, "range", "Range", "0.13 to 0.17")
    gap = typed.as_typed("gap")
    found, unit = _tried(typed, error_mm)
    unit = unit or (wanted[2] if wanted else gap[1] if gap else "mm")
    leaves = _leaves(typed, unit)
    pitch_mm, ratio = typed.size("pitch"), typed.number("ratio") or 1.0
    if found is None and wanted is None and gap is None and pitch_mm is None:
        raise NotUnderstood(
            f"Nothing was asked: write a reading, for example {FOR_EXAMPLE}, a range to prove, a gap to make, or the "
            "pitch of the adjusting screw."
        )
    least, most = (wanted[0], wanted[1]) if wanted else (None, None)
    if least is not None and least == most:
        raise NotUnderstood("Range: it has no width, and no leaf proves a single size; write its least and its most.")
    proving = proof(least, most, leaves, error_mm) if least is not None and most is not None else None
    gap_mm = typed.size("gap")
    to_mm = gap_mm if gap_mm is not None else (least + most) / 2 if least is not None and most is not None else None
    middle = found.middle_mm if found else None
    turned = turn_deg(to_mm - middle, pitch_mm, ratio) if pitch_mm and to_mm is not None and middle else None
    return _card(
        unit=unit,
        found=found,
        within=(least, most),
        proving=proving,
        gap_mm=gap_mm,
        making=makes(gap_mm, leaves, 3, error_mm) if gap_mm is not None else None,
        screw=(turn_deg(0.01, pitch_mm, ratio) if pitch_mm else None, to_mm if turned is not None else None, turned),
        error_mm=error_mm,
    )


def _card(
    *,
    unit: str,
    found: Between | None,
    within: tuple[float | None, float | None],
    proving: Proof | None,
    gap_mm: float | None,
    making: Stack | None,
    screw: tuple[float | None, float | None, float | None],
    error_mm: float | None,
) -> FeelerCard:
    least, most = within
    judging = found is not None and least is not None and most is not None
    return FeelerCard(
        unit=unit,
        goes=found.goes.leaves_mm if found and found.goes else None,
        does_not_go=found.stops.leaves_mm if found and found.stops else None,
        low_mm=found.low_mm if found else None,
        high_mm=found.high_mm if found and math.isfinite(found.high_mm) else None,
        middle_mm=found.middle_mm if found else None,
        standard_mm=found.standard_mm if found else None,
        least_mm=least,
        most_mm=most,
        verdict=judged(found, least, most) if judging else None,  # type: ignore[arg-type]
        share_within=found.share_within(least, most) if judging else None,  # type: ignore[union-attr, arg-type]
        must_go=proving.goes.leaves_mm if proving and proving.goes else None,
        must_not_go=proving.stops.leaves_mm if proving and proving.stops else None,
        too_small=proving.small.leaves_mm if proving and proving.small else None,
        too_large=proving.large.leaves_mm if proving and proving.large else None,
        proves=proving.proves if proving else None,
        gap_mm=gap_mm,
        makes=making.leaves_mm if making else None,
        deg_for_hundredth=screw[0],
        to_mm=screw[1],
        turn_deg=screw[2],
        leaf_error_mm=error_mm,
    )


def _tried(typed: Typed, error_mm: float | None) -> tuple[Between | None, str]:
    """What was tried, and the unit it was said in."""
    if not typed.has("reading"):
        return None, ""
    try:
        said = tried(typed.text("reading"))
    except NotUnderstood as slip:
        raise NotUnderstood(f"Reading: {slip}") from None
    goes = stack_of(said.goes, error_mm) if said.goes else None
    stops = stack_of(said.stops, error_mm) if said.stops else None
    try:
        return between(goes, stops), said.unit
    except ValueError:
        pass
    assert goes is not None
    assert stops is not None
    raise NotUnderstood(
        f"Reading: {sized(goes.thickness_mm, said.unit)} cannot go where {sized(stops.thickness_mm, said.unit)} does "
        f"not; try both leaves again, and write the thinner one as the one that goes, for example {FOR_EXAMPLE}."
    )


def _leaves(typed: Typed, unit: str) -> Leaves:
    if not typed.has("leaves"):
        return leaves_of("inch" if unit in {"in", "thou"} else "metric")
    try:
        return leaves_said(typed.text("leaves"))[0]
    except NotUnderstood as slip:
        raise NotUnderstood(f"Leaves: {slip}") from None


SUM = Sum(
    name="feeler",
    title="Feeler leaves",
    question="what feeler leaves prove of a gap, which leaves prove a range or make a gap, and how far the screw is "
    "turned",
    fields=(
        Field("reading", "Reading", "text", "which leaf goes and which does not; leaves on each other with +",
              "0.15 goes, 0.20 does not", first=True),
        Field("range", "Range", "text", "the least and the most the gap may be", "0.13 to 0.17"),
        Field("gap", "Gap wanted", "size", "a gap that leaves should make, or the screw be turned to", "0.45 mm",
              unit="mm", above=0, least=0.01, most=10),
        Field("leaves", "Leaves there are", "text", "a usual set (metric, metric 20, inch), or each leaf",
              "0.05 0.10 0.15 0.20"),
        Field("leaf-error", "Leaf error", "size", "how far a leaf may be off what is marked on it", "0.002 mm",
              unit="mm", least=0, most=0.1),
        Field("pitch", "Pitch of the screw", "size", "of the adjusting screw’s thread; 1/26 in for 26 to the inch",
              "0.75 mm", unit="mm", above=0, least=0.2, most=3),
        Field("ratio", "Rocker ratio", "number", "how far the valve’s end goes for the screw’s end; 1 where the screw "
              "bears on the valve", "1.4", above=0, least=0.2, most=5),
    ),
    compute=_compute,
    card=FeelerCard,
    example='"0.15 goes, 0.20 does not" --range "0.13 to 0.17"',
    more="A leaf above the most that does not go leaves the sizes between unproven: the leaf that must not go is no "
    "thicker than the most.",
)  # fmt: skip
