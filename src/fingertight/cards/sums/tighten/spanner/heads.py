"""A thread and the heads it is met under, as a page: the thread does not say the spanner."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard, either
from fingertight.tighten.spanners.heads import PRACTICE, HeadSpanner, spanner_mark
from fingertight.tighten.spanners.widths import width_named
from fingertight.tighten.threads.names import INCH_MM, Thread

PULL = (
    "Pull, do not push: a spanner that slips skins your knuckles. Where only pushing will do, push with the open palm."
)


@dataclass(frozen=True)
class HeadCard(Card):
    """One head of a thread: what turns it, that width [mm] (0 where it is none), the standard, where it is usual.

    mark: what stands on the spanner, with the thread where it is a Whitworth one.
    """

    head: str
    driver: str
    mark: str
    across_flats_mm: float
    source: str
    usual: str


@dataclass(frozen=True)
class HeadsCard(SumCard):
    """A thread and the heads it is met under; `said` is why there is none, `nearest` the threads that exist."""

    thread: str
    heads: tuple[HeadCard, ...]
    said: str = ""
    nearest: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def is_no(self) -> bool:
        """Whether no table here has a head for it."""
        return not self.heads or bool(self.said)

    @property
    def answer(self) -> Answer:
        """The spanners first, then every head with its standard."""
        drivers = list(dict.fromkeys(one.mark or "fingers" for one in self.heads))
        spanners = [name for name in drivers if not name.endswith(" key")]
        keys = [name.removesuffix(" key") for name in drivers if name.endswith(" key")]
        lead = [self.said] if self.said else []
        if self.heads and len(self.heads) == 1:
            lead.append(f"{self.thread} under the head “{self.heads[0].head}”: {drivers[0]}.")
        elif self.heads:
            met = [f"{either(spanners)} across the flats"] if spanners else []
            met += [f"a socket for a key of {either(keys)}"] if keys else []
            lead.append(
                f"{self.thread} is met with {', and with '.join(met)}. The thread does not say which: measure it."
            )
        rows = tuple(
            (one.driver, _inches(one.across_flats_mm), one.head, one.source, one.usual.replace(f": {PRACTICE}", " *"))
            for one in self.heads
        )
        return Answer(
            title=f"{self.thread if len(self.thread) <= 40 else self.thread[:40] + '…'}: which spanner",
            lead=tuple(lead),
            sections=(Section("Heads it is met under", rows, ("spanner", "in", "head", "standard", "")),)
            if len(self.heads) > 1
            else (),
            cautions=(PULL,) if any(one.across_flats_mm and " key" not in one.driver for one in self.heads) else (),
            notes=(
                *self.notes,
                *((f"* {PRACTICE}",) if any(row[4].endswith("*") for row in rows) and len(rows) > 1 else ()),
            ),
            sources=tuple(dict.fromkeys(one.source for one in self.heads)) if len(self.heads) == 1 else (),
        )


def head_card(one: HeadSpanner, thread: Thread) -> HeadCard:
    width_mm = width_named(one.driver.removesuffix(" key"))[1]
    mark = spanner_mark(one.driver, thread, one.source)
    return HeadCard(one.head, one.driver, mark, round(width_mm, 4), one.source, one.usual)


def _inches(width_mm: float) -> str:
    return f"{width_mm / INCH_MM:.3f}" if width_mm else ""
