"""In which order and passes a joint is closed evenly, and how uneven another order would be."""

import re
from dataclasses import dataclass
from itertools import pairwise

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Curve, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.quantity import NotUnderstood, plain, read_number
from fingertight.tighten.pattern.layouts import Position, layout_named, numbered_as
from fingertight.tighten.pattern.sequence import tightening_order

_ALIKE = 1.02


@dataclass(frozen=True)
class PassCard(Card):
    """One pass: the share of the torque, the torque where it is known, the least and most clamp on the way (mean 1)."""

    share: float
    torque_nm: float | None
    least: float
    most: float


@dataclass(frozen=True)
class OtherOrder(Card):
    """Another order: how uneven it is, and how many times as uneven as the most even one."""

    order: tuple[int, ...]
    unevenness: float
    steps: tuple[float, ...]
    times: float


@dataclass(frozen=True)
class PatternCard(SumCard):
    """The most even order, positions from 1; `unevenness` is the mean of `steps`, each a share of the mean clamp.

    numbered: how the positions are numbered, in words. held: the least and most load of a bolt after the passes, as
    shares of the full one; held_after_round: after the last round too. around: going round in a circle; other: the
    order that was asked about.
    """

    positions: tuple[tuple[float, float], ...]
    numbered: str
    order: tuple[int, ...]
    loosen: tuple[int, ...]
    proven: bool
    unevenness: float
    steps: tuple[float, ...]
    passes: tuple[PassCard, ...]
    held: tuple[float, float]
    held_after_round: tuple[float, float]
    around: OtherOrder
    other: OtherOrder | None

    @property
    def is_no(self) -> bool:
        """Whether the order that was asked about is less even than it could be."""
        return self.other is not None and self.other.times > _ALIKE

    @property
    def answer(self) -> Answer:
        """The order first, as a picture too; the passes, the reason, and other orders beside it."""
        from fingertight.cards.pictures.bolts import order_picture

        count = len(self.order)
        many = count > 1
        circle = self.around if count > 3 and (self.other is None or self.other.order != self.around.order) else None
        compared = [one for one in (self.other, circle) if one]
        curves = [_curve("The most even order", self.steps)]
        curves += [_curve(_called(one, self), one.steps) for one in compared[:1]]
        return Answer(
            title=f"{count} bolts: the order and the passes" if many else "One bolt",
            lead=_lead(self),
            sections=(_passes(self), *((_others(self, compared),) if compared else ())),
            cautions=(
                "Close the joint with fingers first. If it does not close, something is in between: never pull it down "
                "with the bolts.",
            ),
            notes=_reasons(self) if many else (),
            sources=_SOURCES if many else (),
            picture=order_picture(self.positions, self.order) if many else None,
            picture_says="Where they sit, numbered as they are tightened:" if many else "",
            curves=tuple(curves) if count > 2 else (),
        )


_SOURCES = (
    "the order: computed on an elastic joint, a stiff cover on a softer bed; the published orders of flanges with 4, "
    "8, 12 and 16 bolts (ASME PCC-1, from memory; a public page for 12) come out of it, and heads from the centre out",
    "passes and last round: ASME PCC-1 (from memory), two public pages of gasket makers; for two and three bolts "
    "common practice, no source",
)


def _lead(card: PatternCard) -> tuple[str, ...]:
    count = len(card.order)
    if count == 1:
        return ("Finger-tight, then the full torque.",)
    said = [
        "Tighten in the order in which the picture numbers the bolts.",
        f"As positions, {card.numbered}: {_numbers(card.order)}.",
    ]
    if card.other is not None:
        if card.is_no:
            said.insert(0, f"No: that order is {plain(round(card.other.times, 1))} times as uneven as it could be.")
        else:
            said.insert(0, "Yes: no order is more even than that one by more than a fiftieth.")
    shares = " and ".join(", ".join(_percent(one.share) for one in card.passes).rsplit(", ", 1))
    said.append(f"Finger-tight all round first; then {shares} of the torque, each pass in that order.")
    if count > 3:
        said.append("Then a last round at the full torque, from bolt to bolt in a circle, until none moves.")
    said.append("To loosen, the same turned round, the highest number first, a little at a time.")
    return tuple(said)


def _reasons(card: PatternCard) -> tuple[str, ...]:
    count = len(card.order)
    said = [
        "Why: a bolt pulls its own side down and lifts the far one. After each bolt of this order the clamp over the "
        f"joint differs from its mean by {_percent(card.unevenness)} on average over the steps; "
        + ("no order does better." if card.proven else "no better order was found.")
    ]
    if count > 3:
        said.append(
            f"Why the last round: each bolt slackens its neighbours. After the passes they hold "
            f"{_percent(card.held[0])} to {_percent(card.held[1])} of their load, after the round "
            f"{_percent(card.held_after_round[0])} to {_percent(card.held_after_round[1])}."
        )
    return tuple(said)


def _passes(card: PatternCard) -> Section:
    with_torque = card.passes[0].torque_nm is not None
    rows = []
    for number, one in enumerate(card.passes, 1):
        torque = (f"{plain(round(one.torque_nm, 1))} N·m",) if one.torque_nm is not None else ()
        gaps = "; one side gapes meanwhile" if one.least < 0 else ""
        least = max(0.0, one.least)
        rows.append((str(number), _percent(one.share), *torque, f"{_percent(least)} to {_percent(one.most)}{gaps}"))
    torque_column = ("torque",) if with_torque else ()
    return Section("Passes", tuple(rows), ("pass", "share", *torque_column, "clamp on the way, of its mean"))


def _others(card: PatternCard, compared: list[OtherOrder]) -> Section:
    rows: list[tuple[str, ...]] = [("the most even", _percent(card.unevenness), _numbers(card.order))]
    rows += [
        (_called(one, card), f"{_percent(one.unevenness)}, {plain(round(one.times, 1))} ×", _numbers(one.order))
        for one in compared
    ]
    return Section("How uneven, the mean of all steps", tuple(rows), ("", "", f"positions, {card.numbered}"))


def _called(one: OtherOrder, card: PatternCard) -> str:
    return "your order" if one is card.other else "round the circle"


def _curve(name: str, steps: tuple[float, ...]) -> Curve:
    turns = tuple(str(turn) for turn in range(1, len(steps) + 1))
    return Curve(f"{name[0].upper()}{name[1:]}: how uneven after its first, second, … bolt", turns, steps)


def _numbers(order: tuple[int, ...]) -> str:
    return ", ".join(str(one) for one in order)


def _percent(share: float) -> str:
    return f"{round(share * 100)} %"


def _compute(typed: Typed) -> PatternCard:
    said = typed.text("layout")
    try:
        at = layout_named(said)
    except NotUnderstood as slip:
        raise NotUnderstood(f"Layout: {slip}") from None
    order, shares = _order(typed.text("order"), len(at)), _shares(typed.text("passes"))
    return _card(at, numbered_as(said), order, typed.size("torque"), shares)


def _card(
    at: tuple[Position, ...],
    numbered: str,
    order: tuple[int, ...],
    torque_nm: float | None,
    shares: tuple[float, ...],
) -> PatternCard:
    """The answer for these positions; order: one to compare; shares: passes other than the usual."""
    from fingertight.tighten.pattern.even import most_even_order, steps, unevenness
    from fingertight.tighten.pattern.rounds import held, on_the_way, passes_for

    best = most_even_order(at)
    shares = shares or passes_for(len(at))
    circle = tightening_order(at, "around")
    rounds = [(best.order, share) for share in shares]
    after, after_round = held(at, rounds), held(at, [*rounds, (circle, 1.0)])

    def beside(one: tuple[int, ...]) -> OtherOrder:
        mean = unevenness(at, one)
        return OtherOrder(one, mean, steps(at, one), mean / best.unevenness if best.unevenness else 1.0)

    return PatternCard(
        positions=at,
        numbered=numbered,
        order=best.order,
        loosen=best.order[::-1],
        proven=best.proven,
        unevenness=best.unevenness,
        steps=steps(at, best.order),
        passes=tuple(
            PassCard(one.share, None if torque_nm is None else torque_nm * one.share, one.least, one.most)
            for one in on_the_way(at, best.order, shares)
        ),
        held=(min(after), max(after)),
        held_after_round=(min(after_round), max(after_round)),
        around=beside(circle),
        other=beside(order) if order else None,
    )


def _order(text: str, count: int) -> tuple[int, ...]:
    """The order to compare: each position once.

    Raises NotUnderstood, naming what is missing or said twice.
    """
    words = [word for word in re.split(r"[\s,;>→-]+", text) if word]
    if not words:
        return ()
    wrong = next((word for word in words if not (word.isascii() and word.isdigit() and len(word) < 5)), None)
    if wrong:
        raise NotUnderstood(
            f"Order to compare: “{wrong[:20]}” is no position; write their numbers, for example 1,3,2,4."
        )
    order = tuple(int(word) for word in words)
    for number in range(1, count + 1):
        if order.count(number) != 1:
            times = "missing" if number not in order else "there twice"
            raise NotUnderstood(f"Order to compare: position {number} is {times}; name each from 1 to {count} once.")
    if len(order) != count:
        beyond = next(one for one in order if not 1 <= one <= count)
        raise NotUnderstood(f"Order to compare: there is no position {beyond}; name each from 1 to {count} once.")
    return order


def _shares(text: str) -> tuple[float, ...]:
    """Passes as shares or per cent, rising to the whole.

    Raises NotUnderstood when they do not rise, or end elsewhere.
    """
    # "30 60 100", "30; 60; 100", "30,60,100": a comma is a decimal mark only where something else stands between.
    between = r"[\s;/%]+" if re.search(r"[\s;/]", text.strip()) else r"[,%]+"
    words = [word.rstrip(",") for word in re.split(between, text) if word.rstrip(",")]
    if not words:
        return ()
    try:
        shares = [read_number(word) for word in words]
    except NotUnderstood as slip:
        raise NotUnderstood(f"Passes: {slip}") from None
    if shares[-1] == 100:
        shares = [share / 100 for share in shares]
    rising = shares[0] > 0 and all(one < other for one, other in pairwise(shares))
    if not rising or shares[-1] != 1 or len(shares) > 10:
        raise NotUnderstood(f"Passes: “{text}” do not rise from above 0 to 100 %; write for example 30,60,100.")
    return tuple(shares)


SUM = Sum(
    name="pattern",
    title="Tightening pattern",
    question="in which order and passes a joint is closed evenly, and how uneven another order is",
    fields=(
        Field("layout", "Layout", "text", 'where the bolts sit: "ring 8", "rows 2x5", or x y; x y; … in mm', "ring 8",
              must=True, first=True),
        Field("order", "Order to compare", "text", "how uneven is this order?", "1,2,3,4"),
        Field("torque", "Full torque", "size", "the torque of the last pass", "10 N·m", unit="N·m", above=0, most=5000),
        Field("passes", "Passes", "text", "in per cent of the torque, other than the usual", "30,60,100"),
    ),
    compute=_compute,
    card=PatternCard,
    example='"ring 8" --torque "10 N·m"',
)  # fmt: skip
