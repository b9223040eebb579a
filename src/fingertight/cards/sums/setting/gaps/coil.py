"""The gap between coil and flywheel: a card as gauge, in its range or not, and once round the rim."""

from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.gaps.words import both, range_of, sized
from fingertight.measure.verdict import Word
from fingertight.measure.verdict import judged as verdict_on
from fingertight.quantity import NotUnderstood, plain
from fingertight.setting.gaps.coil import card_mm, layers_budget, round_the_rim_mm

USUAL = "0.010 to 0.014 in"
_USUAL_MM = (0.254, 0.3556)
_THICKEST_MM = 2.0
HARD = "Spark lead off and earthed before the flywheel is turned; turn it by hand."


@dataclass(frozen=True)
class CoilCard(SumCard):
    """A card, a leaf or several cards as gauge, and the gap they make. card_mm: one of them, null for a plain gap.

    unsure_mm: the expanded uncertainty of the gap; tightest_mm, widest_mm: over one turn of a rim with this run-out and
    a shaft with this play. verdict: on the gap where it was set, with the magnets under the coil.
    """

    unit: str
    card_mm: float | None
    cards: int | None
    layers: int | None
    gap_mm: float
    unsure_mm: float
    least_mm: float
    most_mm: float
    range_is_usual: bool
    verdict: Word
    runout_mm: float | None
    play_mm: float | None
    tightest_mm: float
    widest_mm: float

    @property
    def is_no(self) -> bool:
        """The gap is surely not in its range, or the rim would rub."""
        return self.verdict is Word.WORN or self.tightest_mm <= 0

    @property
    def answer(self) -> Answer:
        """What the card is, whether that is a gap, and whether the rim clears."""
        rows = [("the gap", both(self.gap_mm)), ("sure to", f"± {sized(self.unsure_mm, more=1)}")]
        if self.card_mm is not None:
            rows.insert(0, ("one card", both(self.card_mm)))
        rows.append(("its range", f"{both(self.least_mm)} to {both(self.most_mm)}"))
        if self.runout_mm is not None or self.play_mm is not None:
            rows.append(("once round, at least", both(self.tightest_mm)))
            rows.append(("once round, at most", both(self.widest_mm)))
        return Answer(
            title="Coil to flywheel",
            lead=tuple(self._lead()),
            sections=(Section("The gap", tuple(rows)),),
            cautions=(HARD,),
            notes=tuple(_notes(self)),
            sources=(
                "a pack of cards: what the caliper is off is shared by as many",
                *(("range: common practice, no source",) if self.range_is_usual else ()),
                "verdict: ISO 14253-1:2017",
            ),
        )

    def _lead(self) -> list[str]:
        said = []
        if self.card_mm is not None and self.cards and self.layers:
            layers = "one card makes" if self.layers == 1 else f"{self.layers} cards on each other make"
            said.append(f"One card is {sized(self.card_mm)} thick; {layers} a gap of {both(self.gap_mm)}.")
        asked = f"{sized(self.least_mm, self.unit)} to {sized(self.most_mm, self.unit)}"
        usual = ", which is usual on small engines" if self.range_is_usual else ""
        if self.verdict is Word.GOOD:
            said.append(f"Good: it lies within {asked}{usual}.")
        elif self.verdict is Word.WORN:
            way, then = (
                ("small", "it may rub when hot, and a rubbing rim ruins the coil")
                if self.gap_mm < self.least_mm
                else ("large", "the spark is weak when the engine is pulled slowly")
            )
            said.append(f"Too {way} for {asked}{usual}: {then}.")
            said += self._instead()
        else:
            said.append(f"Too close to call: by what the caliper is off it may lie outside {asked}{usual}.")
        if self.tightest_mm <= 0:
            said.append("With this run-out and play the rim would rub: find out why before the engine is run.")
        elif self.runout_mm is not None or self.play_mm is not None:
            said.append(f"Once round nothing rubs: {sized(self.tightest_mm)} are left at the tightest place.")
        return said

    def _instead(self) -> list[str]:
        """How many of the same cards would do."""
        if not self.card_mm:
            return []
        would = [n for n in range(1, 9) if self.least_mm <= n * self.card_mm <= self.most_mm]
        if not would:
            return ["No number of these cards makes a gap within the range: take another card, or leaves."]
        return [f"{would[0]} of these cards would make {both(would[0] * self.card_mm)}."]


def _notes(card: CoilCard) -> list[str]:
    said = [
        "Magnets under the coil, the card between both legs and the rim, let the magnets pull the coil in, tighten, "
        "pull the card out, turn once by hand and listen: a rim that is not round draws near on one side.",
        "The spark is made with the magnets under the coil: there the gap counts, elsewhere the rim need only clear.",
        "A leaf of steel sticks to the magnets: card, brass or plastic lets itself be felt.",
    ]
    if card.card_mm is not None:
        said.append(
            "Paper and card give way when they are pressed: squeeze the pack between the jaws as the magnets will."
        )
    if card.range_is_usual:
        said.append("The range is that of most small engines; 20 thou are about 0.5 mm, a business card about 0.25 mm.")
    return said


def _compute(typed: Typed) -> CoilCard:
    wanted = range_of(typed, "range", "Range", USUAL)
    pack, gap = typed.as_typed("pack"), typed.as_typed("gap")
    error_mm = typed.must("error")
    cards, layers = typed.whole("cards"), typed.whole("layers") or 1
    if (pack is None) == (gap is None):
        raise NotUnderstood(
            "Pack: write how thick a pack of cards is and how many they are, for example 3 mm and 10; or the gap "
            "itself, but not both."
        )
    one = None
    if pack is not None:
        if cards is None:
            raise NotUnderstood(
                "Cards: write how many cards the pack has, for example 10; one alone is read too roughly."
            )
        one = card_mm(typed.must("pack"), cards)
        if one > _THICKEST_MM:
            raise NotUnderstood(
                f"Pack: {plain(round(one, 3))} mm are no card. Is it {plain(round(typed.must('pack'), 3))} mm for "
                f"{cards} of them?"
            )
        unsure = layers_budget(layers, cards, error_mm).expanded
        gap_mm = layers * one
    else:
        if cards is not None:
            raise NotUnderstood("Cards: they belong to a pack; write how thick it is.")
        gap_mm, unsure = typed.must("gap"), layers_budget(1, 1, error_mm).expanded
    least, most, unit = wanted if wanted else (*_USUAL_MM, "in")
    runout, play = typed.size("runout"), typed.size("play")
    tightest, widest = round_the_rim_mm(gap_mm, runout or 0.0, play or 0.0)
    return CoilCard(
        unit=unit,
        card_mm=one,
        cards=cards,
        layers=layers if one is not None else None,
        gap_mm=gap_mm,
        unsure_mm=unsure,
        least_mm=least,
        most_mm=most,
        range_is_usual=wanted is None,
        verdict=verdict_on(gap_mm, least, most, unsure).word,
        runout_mm=runout,
        play_mm=play,
        tightest_mm=tightest,
        widest_mm=widest,
    )


SUM = Sum(
    name="coil",
    title="Coil gap",
    question="whether a card makes the gap between coil and flywheel, and whether the rim clears all round",
    fields=(
        Field("pack", "Pack of cards", "size", "how thick several like cards are together, squeezed", "3 mm",
              first=True, unit="mm", above=0, least=0.1, most=100),
        Field("cards", "Cards in the pack", "whole", "how many they are", "10", above=0, most=500),
        Field("layers", "Cards in the gap", "whole", "how many of them are laid between coil and rim", "2", above=0,
              most=20),
        Field("gap", "Gap", "size", "the gap itself, where it was found with leaves", "0.30 mm", unit="mm", above=0,
              least=0.02, most=5),
        Field("range", "Range", "text", f"the least and the most it may be; {USUAL} is usual", USUAL),
        Field("runout", "Run-out of the rim", "size", "what a dial on the rim shows in one turn, from end to end",
              "0.05 mm", unit="mm", least=0, most=3),
        Field("play", "Play of the shaft", "size", "how far the shaft can be lifted in its bearings", "0.05 mm",
              unit="mm", least=0, most=3),
        Field("error", "Caliper is off by", "size", "at most, to either side", "0.02 mm", usual="0.02 mm", unit="mm",
              least=0, most=1),
    ),
    compute=_compute,
    card=CoilCard,
    example='"3 mm" --cards 10',
)  # fmt: skip
