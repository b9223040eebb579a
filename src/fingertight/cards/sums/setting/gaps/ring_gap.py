"""The end gap of a piston ring: new, still good or worn, what it says of the bore, how much is filed."""

from dataclasses import dataclass
from enum import StrEnum

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.gaps.words import bare, range_of, sized
from fingertight.measure.typed import Scale, as_read
from fingertight.measure.verdict import Word
from fingertight.measure.verdict import judged as verdict_on
from fingertight.quantity import NotUnderstood, converted, plain
from fingertight.setting.gaps.leaves import leaf_error_mm
from fingertight.setting.gaps.rings import gap_elsewhere_mm, taper

MOST = 12
SHARP = "Ring ends are sharp and a ring springs: eye protection, spread it no more than it must."


class Gap(StrEnum):
    """What a gap is: as new, larger than new but allowed, worn, too small, or between."""

    NEW = "as new"
    ALLOWED = "larger than new, still good"
    WORN = "worn"
    SMALL = "too small"
    CLOSE = "too close to call"


@dataclass(frozen=True)
class GapAt(Card):
    """The gap at one depth: the thickest leaf that goes; by how much the bore is larger there than at its smallest."""

    depth_mm: float | None
    gap_mm: float
    bore_larger_mm: float


@dataclass(frozen=True)
class RingGapCard(SumCard):
    """A ring’s gap, at one depth or several. The true gap lies between the leaf that goes and the next.

    verdict: on the smallest and the largest gap, null without limits; taper_mm with its expanded uncertainty, null for
    one depth; in_bore_mm: what the smallest gap would be in that bore; to_file_mm: what is filed off for the gap
    wanted.
    """

    unit: str
    gaps: tuple[GapAt, ...]
    step_mm: float
    new_mm: tuple[float, float] | None
    max_mm: float | None
    verdict: Gap | None
    taper_mm: float | None
    taper_unsure_mm: float | None
    taper_max_mm: float | None
    taper_verdict: Word | None
    measured_in_mm: float | None
    bore_mm: float | None
    in_bore_mm: float | None
    wanted_mm: float | None
    to_file_mm: float | None

    @property
    def is_no(self) -> bool:
        """The gap is surely too large or too small, or the bore surely too tapered."""
        return self.verdict in {Gap.WORN, Gap.SMALL} or self.taper_verdict is Word.WORN

    @property
    def answer(self) -> Answer:
        """The verdict on the gap, then the bore, then the file."""
        several = len(self.gaps) > 1
        rows = tuple(
            (
                f"{plain(round(converted(at.depth_mm, 'mm', self.unit), 3))} {self.unit}"
                if at.depth_mm is not None
                else f"place {number}",
                sized(at.gap_mm, self.unit),
                sized(at.bore_larger_mm, self.unit, 1) if at.bore_larger_mm else "smallest",
            )
            for number, at in enumerate(self.gaps, 1)
        )
        return Answer(
            title="Ring gap",
            lead=(*self._verdict(), *self._bore(), *self._elsewhere(), *self._file()),
            sections=(Section("Down the bore", rows, ("depth", "gap", "bore larger by")),) if several else (),
            cautions=(SHARP,),
            notes=tuple(self._notes()),
            sources=(
                "the gap opens π times as fast as the bore: circumference of a circle",
                "verdict: ISO 14253-1:2017, each side proven; taper: GUM (JCGM 100:2008)",
            ),
        )

    def _verdict(self) -> list[str]:
        least, most = min(at.gap_mm for at in self.gaps), max(at.gap_mm for at in self.gaps)
        one = sized(most, self.unit) if least == most else f"{bare(least, self.unit)} to {sized(most, self.unit)}"
        if self.verdict is None:
            return [
                f"The gap is {one} by the thickest leaf that goes; the next, {sized(self.step_mm, self.unit)} thicker, "
                "does not. Without the maker’s limits that says nothing of the ring."
            ]
        new = f"{bare(self.new_mm[0], self.unit)} to {sized(self.new_mm[1], self.unit)} when new" if self.new_mm else ""
        limit = f"worn past {sized(self.max_mm, self.unit)}" if self.max_mm is not None else ""
        limits = ", ".join(filter(None, (new, limit)))
        said = {
            Gap.NEW: f"As new: {one} ({limits}).",
            Gap.ALLOWED: f"Larger than new, still good: {one} ({limits}).",
            Gap.WORN: f"Worn: {one} ({limits}). First look whether it is ring or bore: try a new ring in its place.",
            Gap.SMALL: f"Too small: {one} ({limits}). Hot, its ends would meet and score the bore: file it.",
            Gap.CLOSE: f"Too close to call: {one} ({limits}), and up to {sized(self.step_mm, self.unit)} more, for the "
            "next leaf does not go: try leaves between, and write how much thicker the next one is.",
        }
        return [said[self.verdict]]

    def _bore(self) -> list[str]:
        if self.taper_mm is None or self.taper_unsure_mm is None:
            return []
        said = (
            f"By these gaps the bore has a taper of {sized(self.taper_mm, self.unit)} ± "
            f"{sized(self.taper_unsure_mm, self.unit)}"
        )
        if self.taper_max_mm is None or self.taper_verdict is None:
            return [f"{said}."]
        words = {Word.GOOD: "good", Word.WORN: "worn", Word.CLOSE: "too close to call, take a bore gauge"}
        return [f"{said}; up to {sized(self.taper_max_mm, self.unit)} are allowed: {words[self.taper_verdict]}."]

    def _elsewhere(self) -> list[str]:
        if self.in_bore_mm is None or self.bore_mm is None:
            return []
        if self.in_bore_mm <= 0:
            return [f"In a bore of {sized(self.bore_mm, 'mm')} its ends would meet: the ring is too large for it."]
        return [
            f"In a bore of {sized(self.bore_mm, 'mm')} the same ring has a gap of {sized(self.in_bore_mm, self.unit)}."
        ]

    def _file(self) -> list[str]:
        if self.to_file_mm is None or self.wanted_mm is None:
            return []
        if self.to_file_mm <= 0:
            return [f"For {sized(self.wanted_mm, self.unit)} nothing is filed: the gap is that large already."]
        return [
            f"For {sized(self.wanted_mm, self.unit)} file off up to {sized(self.to_file_mm, self.unit)}, square and "
            "from one end, a few strokes at a time, trying in the bore between: what is off stays off."
        ]

    def _notes(self) -> list[str]:
        said = [
            "Push the ring in square with the piston; the smallest gap is where the bore is worn least, at the bottom."
        ]
        if self.taper_mm is not None:
            said.append("Gaps say nothing of out-of-round: for that, and where it is close, a bore gauge.")
        if self.to_file_mm:
            said.append("File from the outer face inwards, take the burr off; chromed and coated rings are not filed "
                        "unless their maker says how.")  # fmt: skip
        return said


def _compute(typed: Typed) -> RingGapCard:
    gaps, unit = _sizes(typed, "gaps", "Gaps", "0.35; 0.38; 0.42")
    if not gaps:
        raise NotUnderstood("Gaps: nothing was typed; write for example 0.35, or 0.35; 0.38; 0.42 at several depths.")
    depths, _ = _sizes(typed, "depths", "Depths", "10; 45; 90")
    if depths and len(depths) != len(gaps):
        raise NotUnderstood(f"Depths: {len(depths)} for {len(gaps)} gaps; write one depth for each gap.")
    new = range_of(typed, "new", "New", "0.25 to 0.40")
    largest, step = typed.size("max"), typed.must("step")
    if new and largest is not None and largest < new[1]:
        raise NotUnderstood(
            f"Worn past: {sized(largest)} is less than a new ring has (to {sized(new[1])}); write the larger one."
        )
    found = taper(gaps, step, max(map(leaf_error_mm, gaps))) if len(gaps) > 1 else None
    measured_in, bore = typed.size("measured-in"), typed.size("bore")
    if (measured_in is None) != (bore is None):
        raise NotUnderstood("Bore: write both, the bore the gap was measured in and the one it is wanted for.")
    wanted, allowed = typed.size("wanted"), typed.size("taper-max")
    if allowed is not None and found is None:
        raise NotUnderstood("Taper allowed: one gap says nothing of a taper; write gaps at two depths or more.")
    elsewhere = gap_elsewhere_mm(min(gaps), measured_in, bore) if measured_in is not None and bore is not None else None
    larger = found.larger_mm if found else (0.0,)
    return RingGapCard(
        unit=unit,
        gaps=tuple(
            GapAt(depths[place] if depths else None, gap, larger[place]) for place, gap in enumerate(gaps)
        ),
        step_mm=step,
        new_mm=(new[0], new[1]) if new else None,
        max_mm=largest,
        verdict=_verdict(gaps, step, new, largest),
        taper_mm=found.taper_mm if found else None,
        taper_unsure_mm=found.budget.expanded if found else None,
        taper_max_mm=allowed,
        taper_verdict=_taper_verdict(found.taper_mm, allowed, found.budget.expanded) if found and allowed is not None
        else None,
        measured_in_mm=measured_in,
        bore_mm=bore,
        in_bore_mm=elsewhere,
        wanted_mm=wanted,
        to_file_mm=None if wanted is None else round(wanted - (elsewhere if elsewhere is not None else min(gaps)), 6),
    )  # fmt: skip


def _taper_verdict(taper_mm: float, allowed_mm: float, unsure_mm: float) -> Word:
    return verdict_on(taper_mm, None, allowed_mm, unsure_mm).word


def _verdict(
    gaps: tuple[float, ...], step: float, new: tuple[float, float, str] | None, largest: float | None
) -> Gap | None:
    """What the gaps are: each lies between its leaf and the next thicker one."""
    if new is None and largest is None:
        return None
    grain = 1e-9
    least, most, limit = min(gaps), max(gaps), largest if largest is not None else new[1] if new else 0.0
    if most >= limit - grain and (most > limit + grain or step == 0):
        return Gap.WORN
    if new and least + step <= new[0] + grain:
        return Gap.SMALL
    if most + step > limit + grain or (new and least < new[0] - grain):
        return Gap.CLOSE
    if new and most + step <= new[1] + grain:
        return Gap.NEW
    return Gap.ALLOWED


def _sizes(typed: Typed, name: str, label: str, example: str) -> tuple[tuple[float, ...], str]:
    """Sizes with “;” or spaces between [mm]; a unit behind the last holds for all that have none."""
    text = typed.text(name)
    if not text.strip("; "):
        return (), "mm"
    try:
        read = as_read(text, Scale("mm"))
        behind = read.unit
        found = tuple(round(converted(value, behind, "mm"), 9) for value in read.values)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{label}: {slip} Write for example {example}.") from None
    if len(found) > MOST:
        raise NotUnderstood(f"{label}: {len(found)} are more than anybody measures; write up to {MOST}.")
    if any(size <= 0 for size in found):
        raise NotUnderstood(f"{label}: “{text}” has one that is 0 or less; write for example {example}.")
    if name == "gaps" and max(found) > 10:
        raise NotUnderstood(
            f"{label}: {plain(max(found))} mm is no ring gap; is the unit right? Write for example {example}."
        )
    return found, behind if behind in {"mm", "in", "thou", "µm"} else "mm"


SUM = Sum(
    name="ring-gap",
    title="Ring gap",
    question="whether a piston ring’s end gap is good, what gaps at several depths say of the bore, how much is filed",
    fields=(
        Field("gaps", "Gaps", "text", "the thickest leaf that goes; at several depths with ; between",
              "0.35; 0.38; 0.42", must=True, first=True),
        Field("depths", "Depths", "text", "where each was measured, from the top", "10; 45; 90"),
        Field("new", "New", "text", "the gap of a new ring, from and to", "0.25 to 0.40"),
        Field("max", "Worn past", "size", "the largest gap that is allowed", "1.0 mm", unit="mm", above=0, most=10),
        Field("step", "Next leaf", "size", "how much thicker the next leaf is, which does not go", "0.05 mm",
              usual="0.05 mm", unit="mm", least=0, most=0.5),
        Field("taper-max", "Taper allowed", "size", "the largest taper of the bore that is allowed", "0.05 mm",
              unit="mm", above=0, most=1),
        Field("wanted", "Gap wanted", "size", "the gap the ring is filed to", "0.30 mm", unit="mm", above=0, most=10),
        Field("measured-in", "Measured in", "size", "the bore, or ring gauge, the gap was measured in", "68.00 mm",
              unit="mm", above=0, least=10, most=2000),
        Field("bore", "Bore it is for", "size", "another bore, to have the gap there", "68.16 mm", unit="mm", above=0,
              least=10, most=2000),
    ),
    compute=_compute,
    card=RingGapCard,
    example='"0.45; 0.38; 0.35" --depths "10; 45; 90" --new "0.25 to 0.40" --max 1.0',
)  # fmt: skip
