"""The answer about oil: amounts for each sump, and what a grade says."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.quantity import converted, plain

NEVER_OVER = (
    "Never above the full mark: the crank beats the oil to foam, seals are pressed out, and a cylinder that fills with "
    "oil breaks the rod. Pour nine tenths, wait, look, then the rest."
)


@dataclass(frozen=True)
class SumpSaid(Card):
    """One sump: what fills it dry, after draining, and from where it stands now to the full mark; minus: draw off.

    stands: share of the way from low to full mark, null where it was not said. ml_per_mm: of the dipstick, from two
    fillings.
    """

    name: str
    after_overhaul_ml: float
    stays_ml: float
    after_drain_ml: float
    marks_ml: float | None
    stands: float | None
    to_add_ml: float | None
    ml_per_mm: float | None


@dataclass(frozen=True)
class GradeSaid(Card):
    """What a grade says: viscosity in mm²/s at 100 °C (SAE) or 40 °C (ISO), the upper end of SAE not included; winter:
    at most so thick when cranked, mPa·s at a temperature."""

    name: str
    at_c: int
    least: float
    most: float | None
    high_shear: float | None
    cranking: float | None
    cranking_c: float | None
    edition: str


@dataclass(frozen=True)
class OilCard(SumCard):
    """Amounts for each sump, and grades, in both editions of SAE J300 where they differ."""

    unit: str
    sumps: tuple[SumpSaid, ...]
    grades: tuple[GradeSaid, ...]

    @property
    def is_no(self) -> bool:
        """A sump is over-full."""
        return any(sump.to_add_ml is not None and sump.to_add_ml < 0 for sump in self.sumps)

    @property
    def answer(self) -> Answer:
        """For each sump what is poured, then what the grade says."""
        amounts = tuple(
            (
                sump.name,
                self._said(sump.after_overhaul_ml),
                self._said(sump.after_drain_ml),
                self._said(sump.marks_ml) if sump.marks_ml is not None else "–",
                f"{plain(round(sump.ml_per_mm, 1))} ml" if sump.ml_per_mm is not None else "–",
            )
            for sump in self.sumps
        )
        return Answer(
            title="Oil" + (f": {', '.join(sump.name for sump in self.sumps)}" if self.sumps else ""),
            lead=(*(said for sump in self.sumps for said in self._sump(sump)), *self._grade()),
            sections=(
                Section("Amounts", amounts, ("sump", "dry", "drained", "low to full", "1 mm is")),
                Section("Grades", tuple(self._grades()), ("grade", "mm²/s", "also", "edition")),
            ),
            cautions=(NEVER_OVER,) if self.sumps else (),
            notes=tuple(self._notes()),
            sources=tuple(self._sources()),
        )

    def _said(self, volume_ml: float) -> str:
        step = {"ml": 0, "l": 2, "in³": 1}[self.unit]
        return f"{plain(round(converted(volume_ml, 'ml', self.unit), step) + 0.0)} {self.unit}"

    def _sump(self, sump: SumpSaid) -> list[str]:
        name = f"{sump.name[:1].upper()}{sump.name[1:]}"
        if sump.stands is None:
            stays = f"{self._said(sump.stays_ml)} stay in" if sump.stays_ml else "nothing was said to stay in"
            return [
                f"{name}: {self._said(sump.after_drain_ml)} after draining ({stays}), "
                f"{self._said(sump.after_overhaul_ml)} after an overhaul, when all is dry."
            ]
        if sump.to_add_ml is None:
            return []
        if sump.to_add_ml < 0:
            return [f"{name}: over the full mark; draw off {self._said(-sump.to_add_ml)} before it is run."]
        if sump.to_add_ml == 0:
            return [f"{name}: at the full mark, nothing is added."]
        return [f"{name}: {self._said(sump.to_add_ml)} bring it to the full mark."]

    def _grade(self) -> list[str]:
        said = []
        for grade in self.grades[:1]:
            if grade.at_c == 40:
                said.append(f"{grade.name} is {_thick(grade)} mm²/s thick at 40 °C.")
        summer = [grade for grade in self.grades if grade.at_c == 100 and grade.cranking is None]
        if len(summer) > 1:
            new, old = summer[0], summer[1]
            differs = f"{_thick(new)} mm²/s at 100 °C", f"{_thick(old)}"
            if new.least == old.least and new.high_shear and old.high_shear:
                differs = f"{plain(new.high_shear)} mPa·s under shear at 150 °C", plain(old.high_shear)
            said.append(
                f"{new.name} has {differs[0]} in the edition of {new.edition} and {differs[1]} in that of "
                f"{old.edition}: name the edition."
            )
        elif summer:
            said.append(f"{summer[0].name} is {_thick(summer[0])} mm²/s thick at 100 °C.")
        for grade in self.grades:
            if grade.cranking is not None and grade.cranking_c is not None and grade.edition == self.grades[0].edition:
                said.append(
                    f"{grade.name}: when cranked no thicker than {plain(grade.cranking)} mPa·s at "
                    f"{plain(grade.cranking_c)} °C."
                )
        return said

    def _grades(self) -> list[tuple[str, ...]]:
        rows: list[tuple[str, ...]] = []
        for grade in self.grades:
            also = ""
            if grade.high_shear is not None:
                also = f"{plain(grade.high_shear)} mPa·s at 150 °C, sheared"
            elif grade.cranking is not None and grade.cranking_c is not None:
                also = f"{plain(grade.cranking)} mPa·s at {plain(grade.cranking_c)} °C at most"
            rows.append((grade.name, f"{_thick(grade)} at {grade.at_c} °C", also, grade.edition))
        return rows

    def _notes(self) -> list[str]:
        said = []
        if self.sumps:
            said.append(
                "Engine level and stopped for five minutes; dipstick wiped, and screwed in or only laid on as its "
                "maker says: that alone is some millimetres. The dipstick has the last word, not the jug."
            )
        if self.grades:
            said.append(
                "A grade says how thick, not how good, nor whether it suits a clutch that runs in it: makers’ data."
            )
        return said

    def _sources(self) -> list[str]:
        said = []
        if self.sumps:
            said.append("amounts: volumes added up; what stays in, common practice to measure once, no source")
        if any(grade.at_c == 100 for grade in self.grades):
            said.append("SAE J300, editions of January 2015 and December 1999")
        if any(grade.at_c == 40 for grade in self.grades):
            said.append("ISO 3448")
        return said


def _thick(grade: GradeSaid) -> str:
    if grade.most is None:
        return f"{plain(grade.least)} or more"
    return f"{plain(grade.least)} to {'' if grade.at_c == 40 else 'below '}{plain(grade.most)}"
