"""Volumes of a cylinder: displacement, compression ratio and how sure it is, and what milling would do."""

import math
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.cylinder.words import ml, mm, ratio
from fingertight.quantity import NotUnderstood, plain, shown
from fingertight.setting.cylinder.volumes import (
    Cylinder,
    Errors,
    clearance_for_ml,
    milled,
    otto_efficiency,
    ratio_budget,
    to_mill_mm,
)

_USUAL = (4.0, 14.0)
"""Between which ratios petrol engines lie: common practice, no source."""
_NO_ENGINE = 2.0
KNOCK = (
    "A higher ratio knocks on poor fuel and heats the head; milling brings the valves nearer to the piston: press "
    "putty between them, turn by hand, and look how thick it is left."
)


@dataclass(frozen=True)
class Cause(Card):
    """One line of the budget of the ratio: what it adds to the expanded uncertainty, and its share of the variance."""

    name: str
    adds: float
    share: float


@dataclass(frozen=True)
class CompressionCard(SumCard):
    """A cylinder’s volumes and ratio. unsure: expanded uncertainty of the ratio; after_milling: the ratio when
    `mill_mm` is taken off the head; for_wanted_ml: what must be left above the piston for the ratio wanted, and
    to_mill_mm how much is milled for it (minus: a thicker gasket). otto_efficiency: of the ideal cycle, 0 to 1.
    """

    bore_mm: float
    stroke_mm: float
    cylinders: int
    swept_ml: float
    all_swept_ml: float
    chamber_ml: float
    gasket_ml: float
    deck_ml: float
    crown_ml: float
    clearance_ml: float
    ratio: float
    unsure: float
    budget: tuple[Cause, ...]
    mill_mm: float
    face_cm2: float
    face_is_bore: bool
    after_milling: float | None
    wanted: float | None
    for_wanted_ml: float | None
    to_mill_mm: float | None
    otto_efficiency: float

    @property
    def answer(self) -> Answer:
        """The ratio and what makes it unsure, the volumes, what milling does."""
        from fingertight.cards.pictures.cylinder import volumes_picture

        return Answer(
            title=f"Compression: bore {mm(self.bore_mm)}, stroke {mm(self.stroke_mm)}",
            lead=tuple(self._lead()),
            sections=tuple(self._sections()),
            cautions=(KNOCK,) if self.wanted is not None or self.after_milling is not None else (),
            notes=tuple(self._notes()),
            sources=(
                "ratio: swept and clearance volume by clearance volume; checked against published examples",
                "uncertainty: GUM (JCGM 100:2008) 4.3.7 and 5.1.4",
                "Otto cycle: 1 − r^(1 − 1.4)",
            ),
            drawings=(volumes_picture(self),),
        )

    def _lead(self) -> list[str]:
        all_of_them = f", {ml(self.all_swept_ml, 0)} in {self.cylinders} cylinders" if self.cylinders > 1 else ""
        worst = max(self.budget, key=lambda cause: cause.share)
        said = [
            f"The compression ratio is {plain(round(self.ratio, 2))} ± {self._unsure()} to 1: "
            f"{ml(self.clearance_ml)} are left above the piston.",
            f"The piston sweeps {ml(self.swept_ml)}{all_of_them}.",
            f"Most of the doubt comes from the {worst.name}: {round(100 * worst.share)} % of it.",
        ]
        if self.wanted is not None and self.for_wanted_ml is not None and self.to_mill_mm is not None:
            does = (
                f"mill {mm(self.to_mill_mm)} off the head"
                if self.to_mill_mm > 0
                else f"take {mm(-self.to_mill_mm)} more of gasket"
            )
            said.append(
                f"For {ratio(self.wanted)} {ml(self.for_wanted_ml)} must be left: {does}."
                if abs(self.to_mill_mm) >= 0.005
                else f"That is the {ratio(self.wanted)} that was wanted."
            )
        return said

    def _unsure(self) -> str:
        return shown(math.ceil(self.unsure * 100 - 1e-9) / 100, 0.01)

    def _sections(self) -> list[Section]:
        rows = [
            ("swept by the piston", ml(self.swept_ml, 2)),
            ("chamber", ml(self.chamber_ml, 2)),
            *((("gasket", ml(self.gasket_ml, 2)),) if self.gasket_ml else ()),
            *((("deck height", ml(self.deck_ml, 2)),) if self.deck_ml else ()),
            *((("piston crown", ml(self.crown_ml, 2)),) if self.crown_ml else ()),
            ("left above the piston", ml(self.clearance_ml, 2)),
        ]
        found = [Section("Volumes", tuple(rows))]
        causes = [
            (cause.name, f"± {shown(cause.adds, 0.001)}", f"{round(100 * cause.share)} %")
            for cause in self.budget
            if cause.adds
        ]
        causes.append(("together", f"± {shown(self.unsure, 0.001)}", ""))
        found.append(
            Section(
                "What makes the ratio unsure", tuple(causes), ("cause", "adds (95 of 100 times)", "of the variance")
            )
        )
        does = []
        if self.after_milling is not None:
            does.append((f"{mm(self.mill_mm)} milled off the head", ratio(self.after_milling)))
        does.append(("as it is", ratio(self.ratio)))
        does.append(
            ("Otto cycle at this ratio", f"{round(100 * self.otto_efficiency, 1):g} % of the heat becomes work")
        )
        found.append(Section("What it means", tuple(does)))
        return found

    def _notes(self) -> list[str]:
        said = [
            "Head level, valves shut and greased at their seats, plug in, a clear plate with a small hole greased on; "
            "fill by burette until the last bubble is out. Oil creeps: read at once.",
        ]
        if not self.gasket_ml and not self.deck_ml:
            said.append(
                "Neither gasket nor deck height was given: that is right only where the chamber was filled with the "
                "gasket on and the piston at its top, through the plug hole."
            )
        if self.face_is_bore:
            said.append(
                "Milling is reckoned as wide as the bore; write the face where the chamber is wider or narrower."
            )
        said.append("No engine reaches the Otto cycle: a small one turns about a quarter of its fuel into work.")
        if not _USUAL[0] <= self.ratio <= _USUAL[1]:
            said.append(
                f"Is that right? Petrol engines have {plain(_USUAL[0])} to {plain(_USUAL[1])} (common practice, no "
                "source)."
            )
        return said


def _compute(typed: Typed) -> CompressionCard:
    found = _cylinder(typed)
    errors = Errors(typed.must("bore-error"), typed.must("length-error"), typed.must("oil-error"))
    budget = ratio_budget(found, errors)
    face = typed.number("face")
    face_mm2 = 100 * face if face else math.pi / 4 * found.bore_mm**2
    mill = typed.must("mill")
    wanted = typed.number("wanted")
    cylinders = typed.whole("cylinders") or 1
    return CompressionCard(
        bore_mm=found.bore_mm,
        stroke_mm=found.stroke_mm,
        cylinders=cylinders,
        swept_ml=found.swept_ml,
        all_swept_ml=cylinders * found.swept_ml,
        chamber_ml=found.chamber_ml,
        gasket_ml=found.gasket_ml,
        deck_ml=found.deck_ml,
        crown_ml=found.crown_ml,
        clearance_ml=found.clearance_ml,
        ratio=found.ratio,
        unsure=budget.expanded,
        budget=tuple(
            Cause(line.source, budget.coverage * line.part, budget.share(line)) for line in budget.lines
        ),
        mill_mm=mill,
        face_cm2=face_mm2 / 100,
        face_is_bore=face is None,
        after_milling=_after(found, mill, face_mm2),
        wanted=wanted,
        for_wanted_ml=clearance_for_ml(found.swept_ml, wanted) if wanted else None,
        to_mill_mm=to_mill_mm(found, wanted, face_mm2) if wanted else None,
        otto_efficiency=otto_efficiency(found.ratio),
    )  # fmt: skip


def _after(found: Cylinder, mill_mm: float, face_mm2: float) -> float | None:
    """The ratio after milling; None where nothing is milled, or more than there is."""
    if not mill_mm:
        return None
    try:
        return milled(found, mill_mm, face_mm2).ratio
    except ValueError:
        raise NotUnderstood(
            f"Milled off: {mm(mill_mm)} would take the whole chamber away; write what is taken off, for example 0.1 mm."
        ) from None


def _cylinder(typed: Typed) -> Cylinder:
    """The cylinder that was typed. Raises NotUnderstood for volumes that no engine has."""
    gasket, hole = typed.size("gasket") or 0.0, typed.size("gasket-bore") or 0.0
    found = Cylinder(
        bore_mm=typed.must("bore"),
        stroke_mm=typed.must("stroke"),
        chamber_ml=typed.must("chamber"),
        gasket_mm=gasket,
        gasket_bore_mm=hole,
        deck_mm=typed.size("deck") or 0.0,
        crown_ml=typed.size("crown") or 0.0,
    )
    if hole and not gasket:
        raise NotUnderstood("Hole of the gasket: write how thick the gasket is too, for example 1.2 mm.")
    if hole and hole < 0.9 * found.bore_mm:
        raise NotUnderstood(
            f"Hole of the gasket: {mm(hole)} is smaller than the bore of {mm(found.bore_mm)}, and the piston would "
            "meet it; is that its diameter?"
        )
    if found.clearance_ml <= 0:
        raise NotUnderstood(
            f"Piston crown: with these figures {ml(found.clearance_ml)} are left above the piston, and it would meet "
            "the head. What a dome takes is minus, what a dish adds is plus; measure the chamber again."
        )
    if found.ratio < _NO_ENGINE:
        raise NotUnderstood(
            f"Chamber: {ml(found.clearance_ml)} above the piston are more than it sweeps ({ml(found.swept_ml)}), so it "
            "would hardly compress; is the unit right, and is the bore a diameter?"
        )
    return found


SUM = Sum(
    name="compression",
    title="Compression ratio",
    question="displacement and compression ratio from measured volumes, how sure it is, and what milling does",
    fields=(
        Field("bore", "Bore", "size", "diameter of the cylinder", "68 mm", must=True, first=True, unit="mm", above=0,
              least=10, most=1000),
        Field("stroke", "Stroke", "size", "how far the piston goes from top to bottom", "45 mm", must=True, first=True,
              unit="mm", above=0, least=10, most=2000),
        Field("chamber", "Chamber", "size", "what the head holds, measured with oil", "21.5 ml", must=True, unit="ml",
              above=0, most=10_000),
        Field("gasket", "Gasket", "size", "its thickness when tightened", "1.2 mm", unit="mm", above=0, most=10),
        Field("gasket-bore", "Hole of the gasket", "size", "its diameter; as the bore where nothing is said", "70 mm",
              unit="mm", above=0, most=1000),
        Field("deck", "Deck height", "size", "how far the piston stays below the face at its top; minus: stands out",
              "0.3 mm", unit="mm", least=-20, most=20),
        Field("crown", "Piston crown", "size", "what a dish in it adds; minus: what a dome takes", "-1.5 ml", unit="ml",
              least=-2000, most=2000),
        Field("cylinders", "Cylinders", "whole", "how many the engine has", "1", above=0, most=24),
        Field("wanted", "Ratio wanted", "number", "to have what must be left, and what is milled for it", "9", above=1,
              most=30),
        Field("mill", "Milled off", "size", "what is taken off the head, to see what it does", "0.1 mm",
              usual="0.1 mm", unit="mm", least=0, most=10),
        Field("face", "Face", "number", "how large the hole in the face of the head is, where it is not the bore", "38",
              unit="cm²", above=0, most=10_000),
        Field("bore-error", "Bore is off by", "size", "at most, to either side", "0.01 mm", usual="0.02 mm", unit="mm",
              least=0, most=5),
        Field("length-error", "Lengths are off by", "size", "stroke, gasket, deck height, at most", "0.02 mm",
              usual="0.05 mm", unit="mm", least=0, most=5),
        Field("oil-error", "Oil is off by", "size", "at most, by the step of burette or syringe and bubbles", "0.1 ml",
              usual="0.2 ml", unit="ml", least=0, most=50),
    ),
    compute=_compute,
    card=CompressionCard,
    example='"68 mm" "45 mm" --chamber "21.5 ml"',
)  # fmt: skip
