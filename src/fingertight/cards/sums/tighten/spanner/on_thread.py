"""One tool on a thread, as a page: under which of its heads it is right, and what the others want."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard, either
from fingertight.cards.sums.tighten.spanner.fit import PUSHED_HOME, ROUNDED
from fingertight.cards.sums.tighten.spanner.heads import PULL
from fingertight.tighten.spanners.choose import OnHead, Verdict
from fingertight.tighten.spanners.heads import PRACTICE, spanner_mark
from fingertight.tighten.threads.names import Thread

_UNLISTED = (
    "No table here has the limits of Whitworth spanners: what is far too wide is refused beside one by the inch "
    "formula of ASME B18.2.2, what comes near is not judged. Use the one that is marked with the thread."
)


@dataclass(frozen=True)
class OnHeadCard(Card):
    """One head of the thread: its own spanner or key, the standard, where it is usual, and the verdict on this tool.

    play_worst_deg: how far the tool turns freely at its worst [deg]. bite_of_right: what it catches then, as a share of
    the right one's. Both are 0 where it does not go on, and where there are no limits to tell.
    """

    head: str
    driver: str
    mark: str
    source: str
    usual: str
    verdict: str
    play_worst_deg: float
    bite_of_right: float


@dataclass(frozen=True)
class OnThreadCard(SumCard):
    """A spanner or a key on a thread, under every head the thread is met under."""

    kind: str
    tool: str
    thread: str
    heads: tuple[OnHeadCard, ...]
    notes: tuple[str, ...]

    @property
    def is_no(self) -> bool:
        """Whether it is right under none of them."""
        return not self._right

    @property
    def _right(self) -> tuple[OnHeadCard, ...]:
        return tuple(one for one in self.heads if Verdict(one.verdict).is_right)

    @property
    def answer(self) -> Answer:
        """Yes or no first; then what the other heads want, and every head with its verdict."""
        is_key = self.kind == "key"
        verdicts = [Verdict(one.verdict) for one in self.heads]
        best = min(verdicts, key=list(Verdict).index)
        some = " under some heads" if self._right and len(self._right) < len(self.heads) else ""
        said = _in_words(best.value, self.kind)
        rows = tuple(
            (one.head, one.mark, self._said(one), one.source, one.usual.replace(f": {PRACTICE}", " *"))
            for one in self.heads
        )
        tool = f"A key of {self.tool}" if is_key else f"A spanner of {self.tool}"
        return Answer(
            title=f"{tool} on {self.thread}: {said}{some}",
            lead=(self._yes_or_no(), *self._others()),
            sections=(
                Section("Under each head", rows, ("head", "key" if is_key else "spanner", self.tool, "standard", "")),
            ),
            cautions=(PUSHED_HOME,) if is_key else (PULL, *((ROUNDED,) if self.is_no else ())),
            notes=(
                *self.notes,
                *((_UNLISTED,) if Verdict.UNJUDGED in verdicts else ()),
                *((f"* {PRACTICE}",) if any(row[4].endswith("*") for row in rows) else ()),
            ),
        )

    def _said(self, one: OnHeadCard) -> str:
        verdict = _in_words(one.verdict, self.kind)
        if not one.bite_of_right or one.verdict == Verdict.FITS:
            return verdict
        return f"{verdict}; turns {one.play_worst_deg:.1f}°, bites {one.bite_of_right * 100:.0f} %"

    def _yes_or_no(self) -> str:
        if not self._right:
            wanted = either(list(dict.fromkeys(one.mark.removesuffix(" key") for one in self.heads)))
            unjudged = any(one.verdict == Verdict.UNJUDGED for one in self.heads)
            what = "made for" if unjudged else "right under"
            if len(self.heads) == 1:
                head = self.heads[0].head
                return f"No: {self.tool} is not {what} the head “{head}” of {self.thread}. Use {wanted}."
            return f"No: {self.tool} is {what} no head of {self.thread}. Use {wanted}, as the head measures."
        where = either(list(dict.fromkeys(one.driver.removesuffix(" key") for one in self._right)))
        measures = f"the socket takes {where}" if self.kind == "key" else f"the head measures {where} across the flats"
        slides = any(one.verdict == Verdict.TIGHT for one in self._right)
        if slides:
            measures += " and it slides home by hand"
        return f"Yes, where {measures}: {_named(self._right)}."

    def _others(self) -> tuple[str, ...]:
        """What the first head wants that this tool is wrong under: the ordinary one, where it is that."""
        wrong = next((one for one in self.heads if not Verdict(one.verdict).is_right), None)
        if wrong is None or not self._right:
            return ()
        return (
            f"The head “{wrong.head}” wants {wrong.mark.removesuffix(' key')}: there {self.tool} "
            f"{_in_words(wrong.verdict, self.kind)}. "
            "The thread does not say which head it is: measure it.",
        )


def _in_words(verdict: str, kind: str) -> str:
    """A key goes in, a spanner goes on."""
    return verdict.replace(" on", " in") if kind == "key" else verdict


def _named(heads: tuple[OnHeadCard, ...]) -> str:
    """The heads by name; those without a published table with where they are met, once for all that are met there."""
    plain = [one.head for one in heads if one.source != PRACTICE]
    by: dict[str, list[str]] = {}
    for one in heads:
        if one.source == PRACTICE:
            by.setdefault(one.usual, []).append(one.head)
    return ", ".join((*plain, *(f"{', '.join(names)} ({where})" for where, names in by.items())))


def on_thread_card(tool: str, thread: Thread, found: tuple[OnHead, ...], notes: tuple[str, ...]) -> OnThreadCard:
    """The card of one tool under the heads in `found`."""
    is_key = tool.endswith(" key")
    cards = tuple(_card(one, thread) for one in found)
    return OnThreadCard("key" if is_key else "spanner", tool.removesuffix(" key"), thread.name, cards, notes)


def _card(one: OnHead, thread: Thread) -> OnHeadCard:
    met, fit = one.head, one.fit
    tells = fit is not None and one.verdict is not Verdict.NOT_ON
    return OnHeadCard(
        met.head,
        met.driver,
        spanner_mark(met.driver, thread, met.source),
        met.source,
        met.usual,
        one.verdict.value,
        fit.worst.deg if fit and tells else 0.0,
        fit.bite_of_right if fit and tells else 0.0,
    )
