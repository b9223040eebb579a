"""What is asked about oil: sumps as a person says them, and the grade on a can."""

import re
from dataclasses import replace

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.drive.oil.card import GradeSaid, OilCard, SumpSaid
from fingertight.quantity import NotUnderstood, converted, plain, read_number, read_quantity
from fingertight.setting.drive.grades import EDITIONS, edition_of, iso_vg, oil_named, sae
from fingertight.setting.drive.sumps import Sump, marks_of

EXAMPLE = "engine: full 600, stays 40, marks 150, stands half"
_STANDS = {"low": 0.0, "full": 1.0, "half": 0.5, "middle": 0.5, "quarter": 0.25, "three quarters": 0.75}
_MOST_SUMPS = 6
_FILL = re.compile(r"(.+?)\s+at\s+(.+)", re.IGNORECASE)


def _compute(typed: Typed) -> OilCard:
    said, grade = typed.text("sumps"), typed.text("grade")
    if not said and not grade:
        raise NotUnderstood(f"Sumps: nothing was asked; write for example {EXAMPLE}; or a grade, for example SAE 30.")
    return OilCard(
        unit=typed.unit("show") or "ml", sumps=_sumps(said), grades=_grades_of(grade, typed.choice("edition"))
    )


def _sumps(text: str) -> tuple[SumpSaid, ...]:
    pieces = [piece for piece in re.split(r"[;\n]", text) if piece.strip()]
    if len(pieces) > _MOST_SUMPS:
        raise NotUnderstood(f"Sumps: {len(pieces)} are more than any engine has; write up to {_MOST_SUMPS}.")
    return tuple(_sump(piece.strip(), number) for number, piece in enumerate(pieces, 1))


def _sump(piece: str, number: int) -> SumpSaid:
    """One sump as it is said: its name, then what is known of it."""
    head, colon, rest = piece.partition(":")
    name = head.strip() if colon else f"sump {number}"
    label = f"Sumps, {name}"
    words: dict[str, str] = {}
    fills: list[tuple[float, float]] = []
    for part in (part.strip() for part in re.split(r",(?=\s)|,(?=[a-z])", rest if colon else piece)):
        if not part:
            continue
        key, _, value = part.partition(" ")
        key = key.lower()
        if key == "fill":
            fills.append(_filling(label, value))
        elif key in {"full", "stays", "marks", "stands", "low", "top"}:
            words[key] = value.strip()
        else:
            raise NotUnderstood(
                f"{label}: “{part}” is not understood; write full, stays, marks, stands, low, top or fill and its "
                f"figure, for example {EXAMPLE}."
            )
    full, marks, per_mm, ends = _dipstick(label, words, fills)
    stays = _volume(label, words["stays"]) if "stays" in words else 0.0
    try:
        sump = Sump(full, stays, marks)
    except ValueError as wrong:
        raise NotUnderstood(
            f"{label}: {wrong}. Full is what fills it dry to the full mark ({plain(round(full, 1))} ml), and is the "
            "largest."
        ) from None
    stands = _stands(label, words, ends) if "stands" in words else None
    if stands is not None and marks is None:
        raise NotUnderstood(
            f"{label}: to top it up write what lies between low and full mark, for example marks 150 ml."
        )
    return SumpSaid(
        name=name,
        after_overhaul_ml=sump.full_ml,
        stays_ml=sump.stays_ml,
        after_drain_ml=sump.after_drain_ml,
        marks_ml=marks,
        stands=stands,
        to_add_ml=None if stands is None else sump.to_add_ml(stands),
        ml_per_mm=per_mm,
    )


def _dipstick(
    label: str, words: dict[str, str], fills: list[tuple[float, float]]
) -> tuple[float, float | None, float | None, tuple[float, float] | None]:
    """What fills it, what lies between the marks, what 1 mm holds, and where the marks are [mm]."""
    ends = None
    if "low" in words or "top" in words or fills:
        if "low" not in words or "top" not in words:
            raise NotUnderstood(f"{label}: write where both marks are, from the tip: for example low 10 mm, top 22 mm.")
        ends = (_length(label, words["low"]), _length(label, words["top"]))
        if ends[1] <= ends[0]:
            raise NotUnderstood(
                f"{label}: the full mark is above the low one; write both from the tip of the dipstick."
            )
    if fills:
        if len(fills) != 2:
            raise NotUnderstood(
                f"{label}: two known fillings are wanted, each with where it stands: for example fill 450 ml at 11 mm, "
                "fill 550 ml at 21 mm."
            )
        assert ends is not None
        try:
            found, full = marks_of(*ends, fills[0], fills[1])
        except ValueError:
            raise NotUnderstood(f"{label}: the fuller filling stands higher; write both again, oil first.") from None
        if full <= 0 or full - found.between_ml <= 0:
            raise NotUnderstood(
                f"{label}: by these fillings the low mark lies below an empty sump; write where the oil stands from "
                "the tip, both times."
            )
        return full, found.between_ml, found.ml_per_mm, ends
    if "full" not in words:
        raise NotUnderstood(f"{label}: write what fills it dry to the full mark, for example full 600 ml.")
    marks = _volume(label, words["marks"]) if "marks" in words else None
    return _volume(label, words["full"]), marks, marks / (ends[1] - ends[0]) if ends and marks else None, ends


def _stands(label: str, words: dict[str, str], ends: tuple[float, float] | None) -> float:
    """Where it stands, as a share of the way from the low to the full mark."""
    said = " ".join(words["stands"].lower().removeprefix("at ").split())
    if said in _STANDS:
        return _STANDS[said]
    if ends is not None and said.endswith("mm"):
        return (_length(label, said) - ends[0]) / (ends[1] - ends[0])
    try:
        share = read_number(said.removesuffix("%").strip()) / (100 if said.endswith("%") else 1)
    except NotUnderstood:
        share = -1.0
    if not -1 < share <= 3:
        raise NotUnderstood(
            f"{label}: “stands {words['stands']}” is not understood; write low, half, full, or a share of the way, for "
            "example 1/4; in mm, with low and top, from the tip."
        )
    return share


def _filling(label: str, text: str) -> tuple[float, float]:
    found = _FILL.match(text.strip())
    if found is None:
        raise NotUnderstood(f"{label}: “fill {text}” is not understood; write for example fill 450 ml at 11 mm.")
    return _volume(label, found.group(1)), _length(label, found.group(2))


def _volume(label: str, text: str) -> float:
    return _positive(label, text, "ml")


def _length(label: str, text: str) -> float:
    return _positive(label, text, "mm")


def _positive(label: str, text: str, unit: str) -> float:
    try:
        value, named = read_quantity(text, unit)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{label}: {slip}") from None
    if not 0 <= value < 1e6:
        raise NotUnderstood(f"{label}: “{text}” must be 0 or more, and no lake; write for example {EXAMPLE}.")
    return converted(value, named, unit)


def _grades_of(text: str, edition: str) -> tuple[GradeSaid, ...]:
    """The grades of an oil, in the edition asked for, or in both where they differ."""
    if not text:
        return ()
    oil = oil_named(text)
    if oil is None:
        raise NotUnderstood(f"Grade: “{text}” is no grade; write for example SAE 30, 10W-40, or ISO VG 46.")
    if oil.vg:
        within = iso_vg(oil.vg)
        if within is None:
            raise NotUnderstood(
                f"Grade: there is no ISO VG {oil.vg}; they go 2, 3, 5, 7, 10, 15, 22, 32, 46, 68, 100 …"
            )
        return (GradeSaid(f"ISO VG {oil.vg}", 40, within[0], within[1], None, None, None, "ISO 3448"),)
    wanted = [edition] if edition else list(EDITIONS)
    said: list[GradeSaid] = []
    for name in filter(None, (oil.winter, oil.summer)):
        found = [row for each in wanted if (row := _row(name, each, oil.winter))]
        if not found:
            raise NotUnderstood(
                f"Grade: SAE J300 has no {name}{f' in the edition of {edition}' if edition else ''}; winter grades are "
                "0W to 25W in steps of 5, the others 8, 12, 16, 20, 30, 40, 50, 60."
            )
        said += found if len({replace(row, edition="") for row in found}) > 1 else found[:1]
    return tuple(said)


def _row(name: str, edition: str, winter: str) -> GradeSaid | None:
    grade = sae(name, edition)
    if grade is None:
        return None
    return GradeSaid(
        name=f"SAE {name}",
        at_c=100,
        least=grade.least_100c,
        most=grade.below_100c,
        high_shear=grade.sheared(winter),
        cranking=grade.cranking,
        cranking_c=grade.cranking_c,
        edition=edition_of(edition),
    )


SUM = Sum(
    name="oil",
    title="Oil",
    question="what oil is poured into each sump, after draining, after an overhaul or to top up, and what a grade says",
    fields=(
        Field("sumps", "Sumps", "text", "each with its name, what fills it dry, what stays in when drained, what lies "
              "between the marks, where it stands; ; between sumps", EXAMPLE, first=True),
        Field("grade", "Grade", "text", "the grade on the can", "SAE 30"),
        Field("edition", "Edition", "choice", "of SAE J300; both where nothing is said", "2015",
              choices=tuple(EDITIONS)),
        Field("show", "Amounts in", "unit", "the unit of the jug", choices=("ml", "l", "in³")),
    ),
    compute=_compute,
    card=OilCard,
    example='"engine: full 600, stays 40; clutch: full 450, stays 30"',
    more="Instead of full and marks two known fillings will do: fill 450 ml at 11 mm, fill 550 ml at 21 mm, low 10 mm, "
    "top 22 mm.",
)  # fmt: skip
