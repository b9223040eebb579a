"""One tool on one head, as a page: yes or no with the reason in figures, and what to use instead."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.tighten.spanner.heads import PULL
from fingertight.quantity import shown
from fingertight.tighten.spanners.choose import ENOUGH_BITE, Fit, Verdict
from fingertight.tighten.spanners.heads import PRACTICE, spanner_for, threads_under
from fingertight.tighten.spanners.jaws import Grip, bite_without_play
from fingertight.tighten.spanners.widths import Width
from fingertight.tighten.threads.names import INCH_MM

ROUNDED = "A spanner that slips rounds the head, and then none fits it any more."
PUSHED_HOME = "Clean the socket out and push the key home: a key that stands on dirt catches the rim only, and slips."
_PULL_SOURCE = "pull, do not push; ring before open end: US Army Ordnance subcourse OD0017"
_POINTS_SOURCE = "six points for heavy work, twelve for medium: US Navy NAVEDTRA 14310"


@dataclass(frozen=True)
class LimitsCard(Card):
    """A width across flats [mm]: by its name, and the least and the most that its standard lets pass."""

    nominal: float
    least: float
    most: float


@dataclass(frozen=True)
class AtCard(Card):
    """A figure in the middle of the limits, and where the limits make it worst; 0 where the tool does not go on."""

    middle: float
    worst: float


@dataclass(frozen=True)
class OtherCard(Card):
    """Another tool on the same head: verdict, play at its worst [deg], bite as a share of the right one's."""

    name: str
    verdict: str
    play_worst_deg: float
    bite_of_right: float


@dataclass(frozen=True)
class UnderCard(Card):
    """A thread that sits under heads of this width, and which heads those are."""

    thread: str
    heads: tuple[str, ...]


@dataclass(frozen=True)
class FitCard(SumCard):
    """A tool on a head (or a key in a socket): verdict, limits [mm], play each way [deg], bite on the corner [mm].

    jaw_mm: the jaw of the tool, or the key. bite_share: of the bite without play. bite_of_right: at its worst, of the
    right tool's at its worst. others: the usual sets on the same head. under: threads that sit under such a head.
    """

    kind: str
    tool: str
    head: str
    right: str
    verdict: str
    head_mm: LimitsCard
    jaw_mm: LimitsCard
    right_jaw_mm: LimitsCard
    play_deg: AtCard
    right_play_deg: AtCard
    bite_mm: AtCard
    right_bite_mm: AtCard
    bite_share: AtCard
    bite_of_right: float
    others: tuple[OtherCard, ...]
    under: tuple[UnderCard, ...]
    notes: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def is_no(self) -> bool:
        """Whether this tool is not right on that head."""
        return not Verdict(self.verdict).is_right

    @property
    def is_key(self) -> bool:
        """Whether it is a key in a socket, not a spanner on a head."""
        return self.kind == "key"

    @property
    def answer(self) -> Answer:
        """For one head the right tool and its neighbours; for one tool on a head yes or no, and why."""
        return _of_one_tool(self) if self.tool != self.right else _of_one_head(self)


def _of_one_head(card: FitCard) -> Answer:
    """The right tool for a head, the others of the usual sets, and how to crack it loose."""
    if card.is_key:
        title, take = f"A socket of {card.head}", f"Take a key of {card.right}."
    else:
        title = f"A head of {card.head} across flats"
        take = f"Take a spanner of {card.right}; to crack it loose, a ring or a socket with six points."
    return Answer(
        title=title,
        lead=(" ".join((*card.notes[:1], take)), *card.notes[1:]),
        sections=(
            _figures(card),
            _others(card, "Other keys" if card.is_key else "Other spanners", card.others),
            *(() if card.is_key else (_cracking_loose(),)),
            Section("Threads under such a head", tuple((one.thread, ", ".join(one.heads)) for one in card.under)),
        ),
        cautions=(PUSHED_HOME,) if card.is_key else (PULL,),
        sources=(*card.sources, *(() if card.is_key else (_PULL_SOURCE, _POINTS_SOURCE))),
    )


def _of_one_tool(card: FitCard) -> Answer:
    """Yes or no first, with the reason in figures, then the right tool beside the one asked for."""
    place = f"in a socket of {card.head}" if card.is_key else f"on a head of {card.head}"
    tool = f"A key of {card.tool}" if card.is_key else f"A spanner of {card.tool}"
    return Answer(
        title=f"{tool} {place}: {_said(card, card.verdict)}",
        lead=_lead(card),
        sections=(
            _figures(card),
            _others(card, "Right here", tuple(one for one in card.others if Verdict(one.verdict).is_right)),
        ),
        cautions=(PUSHED_HOME,) if card.is_key else (PULL, *((ROUNDED,) if card.is_no else ())),
        notes=card.notes,
        sources=(*card.sources, *(() if card.is_key else (_PULL_SOURCE,))),
    )


def _said(card: FitCard, verdict: str) -> str:
    """The verdict in words: a key goes in, a spanner goes on."""
    return verdict.replace(" on", " in") if card.is_key else verdict


def _lead(card: FitCard) -> tuple[str, ...]:
    """Yes or no, why, and what to use instead."""
    use, of_what = f"Use {card.right}.", "socket" if card.is_key else "head"
    worst = (
        f"At its worst it turns {card.play_deg.worst:.1f}° each way before it bites, and catches "
        f"{card.bite_mm.worst:.2f} mm behind the corner; the right one turns {card.right_play_deg.worst:.1f}° and "
        f"catches {card.right_bite_mm.worst:.2f} mm."
    )
    match Verdict(card.verdict):
        case Verdict.NOT_ON if card.is_key:
            return (
                f"No. Even the thinnest key of {card.tool} ({card.jaw_mm.least:.2f} mm) does not go into the smallest "
                f"socket ({card.head_mm.least:.2f} mm). Do not force it. {use}",
            )
        case Verdict.NOT_ON:
            return (
                f"No. Even the widest jaw of {card.tool} ({card.jaw_mm.most:.2f} mm) does not go on a head of full "
                f"size ({card.head_mm.most:.2f} mm). Do not force it. {use}",
            )
        case Verdict.NEVER if not card.bite_mm.worst:
            return (f"No. At its worst it turns round on the {of_what} without biting at all. {use}",)
        case Verdict.NEVER:
            return (f"No. It catches {_percent(card.bite_of_right)} of what the right one does. {use}", worst)
        case Verdict.LOOSE:
            return (f"No: it is loose. Only in need, and never for cracking loose. {use}", worst)
        case Verdict.UNJUDGED:
            return (f"It is not judged here. {use}",)
        case Verdict.TIGHT:
            on = "in" if card.is_key else "on"
            return (
                f"Yes, where it slides home by hand; not every one of this name goes {on}. Never force it.",
                worst,
            )
        case Verdict.FITS:
            apart_mm = abs(card.jaw_mm.nominal - card.head_mm.nominal)
            return (f"Yes. By name they are {apart_mm:.2f} mm apart: less than either may differ from its name.", worst)


def _figures(card: FitCard) -> Section:
    """What the verdict rests on, as made when new; the right tool beside the one asked for."""
    what, of_what = ("key", "socket") if card.is_key else ("jaw", "head")
    rows = [
        (f"the {of_what}, across flats", _limits(card.head_mm)),
        (f"the {what} of {card.tool}", _limits(card.jaw_mm)),
    ]
    if card.tool != card.right:
        rows.append((f"the {what} of {card.right}", _limits(card.right_jaw_mm)))
    if card.play_deg.worst and not card.bite_mm.worst:
        usual = f"{card.play_deg.middle:.1f}° as a rule, " if card.bite_mm.middle else ""
        rows.append(("turns freely, each way", f"{usual}right round at most"))
    elif card.play_deg.worst:
        rows += [
            ("turns freely, each way", f"{card.play_deg.middle:.1f}° as a rule, {card.play_deg.worst:.1f}° at most"),
            (
                "catches of the corner",
                f"{card.bite_mm.middle:.2f} mm as a rule, {card.bite_mm.worst:.2f} mm at least "
                f"({_percent(card.bite_share.worst)} of what it would without play)",
            ),
        ]
    return Section("In figures, as made when new", tuple(rows))


def _others(card: FitCard, heading: str, others: tuple[OtherCard, ...]) -> Section:
    """Other tools on the same head; where one turns round at its worst, or does not go on, there is no angle."""
    rows = tuple(
        (
            one.name,
            _said(card, one.verdict),
            f"{one.play_worst_deg:.1f}°" if one.bite_of_right else "",
            _percent(one.bite_of_right) if one.bite_of_right else "",
        )
        for one in others
    )
    return Section(
        heading, rows, ("key" if card.is_key else "spanner", "verdict", "turns at most", "bite, of the right one’s")
    )


def _cracking_loose() -> Section:
    """Ring before open end, and six points before twelve, with the reason in figures."""
    six, twelve, two = Grip.SIX_POINTS.corners, Grip.TWELVE_POINTS.corners, Grip.OPEN_END.corners
    return Section(
        "To crack it loose",
        (
            ("1", f"Ring or socket with six points: it presses on {six} corners, an open end on {two}, so each corner "
             f"bears {_percent(two / six)} of what it bears in an open end."),
            ("2", f"Ring or socket with twelve points: on {twelve} corners too, but it catches "
             f"{_percent(bite_without_play(Grip.TWELVE_POINTS))} as much of each and slips after half the angle. "
             "Not on a tight, rusted or rounded head."),
            ("3", f"Open end: on {two} corners. To run a loose one down, not to crack a tight one."),
        ),
    )  # fmt: skip


def _limits(width: LimitsCard) -> str:
    inches = f"{width.least / INCH_MM:.3f} to {width.most / INCH_MM:.3f} in"
    return f"{shown(width.least, 0.01)} to {shown(width.most, 0.01)} mm ({inches})"


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def fit_card(fit: Fit, near: tuple[Fit, ...], is_key: bool, notes: tuple[str, ...]) -> FitCard:
    """The card of one tool on one head, `near` being the usual sets on it, the right one first."""
    what = ("key", "socket") if is_key else ("jaw", "head")
    return FitCard(
        kind="key" if is_key else "spanner",
        tool=fit.tool.name,
        head=fit.fastener.name,
        right=fit.right.name,
        verdict=fit.verdict.value,
        head_mm=_limits_card(fit.fastener),
        jaw_mm=_limits_card(fit.tool),
        right_jaw_mm=_limits_card(fit.right),
        **_at(fit, ""),
        **_at(near[0], "right_"),
        bite_share=AtCard(0, 0) if _not_on(fit) else AtCard(fit.middle.bite_share, fit.worst.bite_share),
        bite_of_right=0 if _not_on(fit) else fit.bite_of_right,
        others=tuple(
            OtherCard(
                one.tool.name,
                one.verdict.value,
                0 if _not_on(one) else one.worst.deg,
                0 if _not_on(one) else one.bite_of_right,
            )
            for one in near
            if one.tool.name != fit.tool.name
        ),
        under=() if is_key else _under(fit.fastener),
        notes=notes,
        sources=(
            f"widths of the {what[1]}: {fit.fastener.source}",
            f"of the {what[0]}: {' and '.join(dict.fromkeys((fit.tool.source, fit.right.source)))}",
            f"refused below {_percent(ENOUGH_BITE)} of the right one’s bite: {PRACTICE}",
        ),
    )


def _not_on(fit: Fit) -> bool:
    """Whether its figures mean nothing: on a head of full size it does not go on at all."""
    return fit.verdict is Verdict.NOT_ON


def _at(fit: Fit, whose: str) -> dict[str, AtCard]:
    """Play and bite of a tool as the fields of the card."""
    if _not_on(fit):
        return {f"{whose}play_deg": AtCard(0, 0), f"{whose}bite_mm": AtCard(0, 0)}
    return {
        f"{whose}play_deg": AtCard(fit.middle.deg, fit.worst.deg),
        f"{whose}bite_mm": AtCard(fit.middle.bite_mm, fit.worst.bite_mm),
    }


def _limits_card(width: Width) -> LimitsCard:
    return LimitsCard(width.nominal_mm, width.least_mm, width.most_mm)


def _under(head: Width) -> tuple[UnderCard, ...]:
    """The threads under heads of this name, each with its heads."""
    heads: dict[str, list[str]] = {}
    for thread, style in threads_under(head.nominal_mm):
        if spanner_for(thread, style) == head.name:
            heads.setdefault(thread.name, []).append(style)
    return tuple(UnderCard(name, tuple(styles)) for name, styles in heads.items())
