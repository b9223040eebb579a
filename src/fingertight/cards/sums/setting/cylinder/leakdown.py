"""What a leak-down tester says: how much is lost, and where it hisses."""

from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.setting.cylinder.words import pressure
from fingertight.measure.verdict import Word, judged
from fingertight.quantity import NotUnderstood, plain
from fingertight.setting.cylinder.cranking import leaks

LIMIT = 25.0
"""60 of 80 psi: FAA AC 43.13-1B."""
THROWS = (
    "Air turns the crank: 5 bar on a 68 mm piston push as hard as 180 kg weigh. Piston at top dead centre on the "
    "firing stroke, spanner off, hands off flywheel and fan; let the air in slowly."
)


@dataclass(frozen=True)
class LeakdownCard(SumCard):
    """lost: per cent of the supply that does not arrive, with its expanded uncertainty by both gauges; limit: per cent
    that is still allowed."""

    supply_bar: float
    cylinder_bar: float
    lost: float
    unsure: float
    limit: float
    limit_is_usual: bool
    verdict: Word
    unit: str

    @property
    def is_no(self) -> bool:
        """It surely leaks more than is allowed."""
        return self.verdict is Word.WORN

    @property
    def answer(self) -> Answer:
        """How much is lost, whether that is too much, and where to listen."""
        lost = f"{plain(round(self.lost, 1))} ± {plain(round(self.unsure, 1))} % are lost"
        allowed = f"{plain(self.limit)} % {'are usual as the limit' if self.limit_is_usual else 'are allowed'}"
        words = {
            Word.GOOD: f"Good: {lost}; {allowed}.",
            Word.WORN: f"Worn: {lost}; {allowed}. Listen where it hisses.",
            Word.CLOSE: f"Too close to call: {lost}, {allowed}, and the gauges are not that exact. Warm the engine, "
            "turn it over a few times, and read again.",
        }
        return Answer(
            title="Leak-down",
            lead=(
                words[self.verdict],
                f"{pressure(self.cylinder_bar, self.unit)} of {pressure(self.supply_bar, self.unit)} arrive.",
            ),
            sections=(
                Section(
                    "Where it hisses",
                    (
                        ("carburettor, inlet", "the inlet valve, or its lash is too small"),
                        ("exhaust", "the exhaust valve, or its lash is too small"),
                        ("breather, oil filler", "rings, piston or bore"),
                        ("a neighbour’s plug hole, bubbles in the coolant", "gasket of the head, or a crack"),
                        ("nowhere, and all is lost", "not at top dead centre, or a valve is open"),
                    ),
                ),
            ),
            cautions=(THROWS,),
            notes=(
                "Some loss past the rings is always there: their gaps. Figures of two testers are not alike, because "
                "the hole inside them is not.",
                "It does not mind a decompressor, which works only while the engine is cranked.",
            ),
            sources=("limit 60 of 80 psi: FAA AC 43.13-1B", "where it hisses: common practice, no source"),
        )


def _compute(typed: Typed) -> LeakdownCard:
    read = typed.as_typed("cylinder")
    cylinder, supply, error = typed.must("cylinder"), typed.must("supply"), typed.must("error")
    limit = typed.number("limit")
    try:
        lost = 100 * leaks(supply, cylinder)
    except ValueError:
        unit = read[1] if read else "bar"
        raise NotUnderstood(
            f"In the cylinder: {pressure(cylinder, unit)} are more than the {pressure(supply, unit)} supplied; write "
            "what the second gauge shows, and both in one unit."
        ) from None
    # Each gauge anywhere within its limits: 100 / supply for the second, and cylinder / supply of that for the first.
    unsure = 200 * error / 3**0.5 / supply * (1 + (cylinder / supply) ** 2) ** 0.5
    return LeakdownCard(
        supply_bar=supply,
        cylinder_bar=cylinder,
        lost=lost,
        unsure=unsure,
        limit=LIMIT if limit is None else limit,
        limit_is_usual=limit is None,
        verdict=judged(lost, None, LIMIT if limit is None else limit, unsure).word,
        unit=read[1] if read and read[1] in {"bar", "kPa", "psi"} else "bar",
    )


SUM = Sum(
    name="leakdown",
    title="Leak-down",
    question="how much pressure a cylinder loses, whether that is too much, and where to listen",
    fields=(
        Field("cylinder", "In the cylinder", "size", "what the second gauge shows", "4.2 bar", must=True, first=True,
              unit="bar", least=0, most=20),
        Field("supply", "Supplied", "size", "what the first gauge shows", "5.5 bar", must=True, unit="bar", above=0,
              least=0.5, most=20),
        Field("limit", "Limit", "number", "per cent that may be lost; 25 is usual", "25", unit="%", above=0, most=99),
        Field("error", "Gauges are off by", "size", "at most, to either side", "1 psi", usual="0.07 bar", unit="bar",
              least=0, most=2),
    ),
    compute=_compute,
    card=LeakdownCard,
    example='"60 psi" --supply "80 psi"',
)  # fmt: skip
