"""Which spanner is right for a head, which is loose, and which must not be used; and the same for keys in sockets.

The yardstick is the right spanner at its worst: the widest jaw that its standard lets pass, on the narrowest head that
the head's standard lets pass. Another spanner fits when its own widest jaw has no more play on that head.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from fingertight.tighten.spanners.heads import HeadSpanner, is_whitworth, spanners_for
from fingertight.tighten.spanners.jaws import Grip, Play, play, turns_round_from
from fingertight.tighten.spanners.widths import (
    NoSuchWidth,
    Width,
    head_width,
    inch_opening,
    jaw_width,
    key_width,
    socket_width,
    width_named,
)
from fingertight.tighten.threads.names import Thread

SAME_MM = 0.02
"""What counts as no difference between two limits [mm]: a vernier caliper shows no less."""
ENOUGH_BITE = 2 / 3
"""A spanner that catches less than this share of what the right one catches must not be used: it presses the same
torque into two thirds of the corner. The line is this project's own, common practice, no source."""


def _each(sizes: str, unit: str) -> tuple[str, ...]:
    return tuple(f"{size} {unit}" for size in sizes.split(","))


# The usual sets: common practice, no source.
METRIC_SET = _each("5.5,6,7,8,9,10,11,12,13,14,15,16,17,18,19,20,21,22,24,27,30,32,34,36", "mm")
INCH_SET = _each(
    "1/4,5/16,11/32,3/8,7/16,1/2,9/16,5/8,11/16,3/4,13/16,7/8,15/16,1,1 1/16,1 1/8,1 1/4,1 5/16,1 1/2", "in"
)
METRIC_KEYS = _each("1.5,2,2.5,3,4,5,6,8,10,12,14,17,19", "mm")
INCH_KEYS = _each("1/16,5/64,3/32,7/64,1/8,9/64,5/32,3/16,7/32,1/4,5/16,3/8,7/16,1/2,9/16,5/8,3/4", "in")


class Verdict(StrEnum):
    """Whether a spanner may be used on a head, best first."""

    FITS = "fits"
    TIGHT = "fits where it slides home"
    LOOSE = "loose"
    UNJUDGED = "not judged here"
    NEVER = "must not be used"
    NOT_ON = "does not go on"

    @property
    def is_right(self) -> bool:
        """Whether it may be used for any work on that head, cracking loose among it."""
        return self in {Verdict.FITS, Verdict.TIGHT}


@dataclass(frozen=True, slots=True)
class Fit:
    """One tool on one fastener beside the right one: the verdict, and the figures behind it.

    tool: the jaw, or the key. fastener: the head, or the socket in a screw. right: the tool of the fastener's own name.
    middle, worst: the play in the middle of the limits, and where the limits make it most. right_worst: that of the
    right tool. room_mm: what the tightest tool has to spare on a fastener of full size [mm]; below 0 it may not go on.
    """

    tool: Width
    fastener: Width
    right: Width
    verdict: Verdict
    middle: Play
    worst: Play
    right_worst: Play
    room_mm: float

    @property
    def bite_of_right(self) -> float:
        """What it catches at its worst, as a share of what the right tool catches at its worst."""
        return self.worst.bite_mm / self.right_worst.bite_mm


def spanner_on(spanner: str, head: str) -> Fit:
    """May this spanner be used on a head of this width across flats?

    Fits: its widest jaw is no wider than the widest right one (to 0.02 mm), and its narrowest goes on a head of full
    size. Fits where it slides home: the same, but some jaws of its name do not go on a head of full size. Loose: wider;
    only in need, never for cracking loose. Must not be used: at its worst it catches less than two thirds of the corner
    that the right one catches at its worst. Does not go on: not even its widest jaw goes on a head of full size.

    spanner, head: widths by name, "1/2 in", "13 mm". It holds for open ends, rings and six-point sockets as their
    standards let them pass when new, on heads as they pass when new; wear makes every one of them slacker.

    >>> spanner_on("1/2 in", "13 mm").verdict, spanner_on("13 mm", "1/2 in").verdict
    (<Verdict.NOT_ON: 'does not go on'>, <Verdict.LOOSE: 'loose'>)
    >>> spanner_on("3/4 in", "19 mm").verdict, spanner_on("7/16 in", "10 mm").verdict
    (<Verdict.FITS: 'fits'>, <Verdict.NEVER: 'must not be used'>)

    Raises NotUnderstood for a name that is no width, NoSuchWidth where there are no limits for it.
    Source: limits of `widths.head_width` and `widths.jaw_width`, geometry of `jaws.play`; the lines between the
    verdicts are this project's own. Checked against the pairs that a public page calls interchangeable, and those that
    it and the trade warn of.
    """
    flats = head_width(head)
    return _spanner(jaw_width(spanner), flats, jaw_width(flats.name))


def _spanner(jaw: Width, flats: Width, right: Width) -> Fit:
    return _fit(
        (jaw, flats, right),
        middle=play(jaw.middle_mm, flats.middle_mm),
        worst=play(jaw.most_mm, flats.least_mm),
        right_worst=play(right.most_mm, flats.least_mm),
        rooms_mm=(jaw.least_mm - flats.most_mm, jaw.most_mm - flats.most_mm),
        slacker_mm=jaw.most_mm - right.most_mm,
    )


def key_in(key: str, socket: str) -> Fit:
    """May this hexagon key be used in the socket of a screw that wants another?

    The same as `spanner_on`, turned inside out: the key is the hexagon, the socket the jaws; a thin key is a loose one.

    key, socket: widths by name, "5 mm", "3/16 in"; a socket is named after its key.

    >>> key_in("3/16 in", "5 mm").verdict, key_in("5 mm", "3/16 in").verdict
    (<Verdict.NEVER: 'must not be used'>, <Verdict.NOT_ON: 'does not go on'>)

    Raises NotUnderstood for a name that is no width, NoSuchWidth where there are no limits for it.
    Source: limits of `widths.key_width` and `widths.socket_width`, geometry of `jaws.play`; the lines between the
    verdicts are this project's own.
    """
    bar, hole = key_width(key), socket_width(socket)
    right = key_width(hole.name)
    return _fit(
        (bar, hole, right),
        middle=play(hole.middle_mm, bar.middle_mm),
        worst=play(hole.most_mm, bar.least_mm),
        right_worst=play(hole.most_mm, right.least_mm),
        rooms_mm=(hole.least_mm - bar.most_mm, hole.least_mm - bar.least_mm),
        slacker_mm=right.least_mm - bar.least_mm,
    )


class OnHead(NamedTuple):
    """One of the heads a thread is met under, and whether a tool may be used on it; the figures where there are any."""

    head: HeadSpanner
    verdict: Verdict
    fit: Fit | None


def on_thread(tool: str, thread: Thread) -> tuple[OnHead, ...]:
    """May this spanner or key be used on a thread, under each of the heads it is met under?

    tool: a width by name, "12 mm", or a key, "5 mm key": a spanner is judged on the heads that stand out, a key on the
    sockets. Returns every such head with its verdict, as `spanner_on` and `key_in` give it. Where no table has the
    limits of the right tool (Whitworth heads), one by the inch formula stands in for it, to refuse what is too wide or
    too narrow; what would pass is not judged, but for the right tool itself.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> found = on_thread("12 mm", thread_named("M8"))
    >>> [(one.head.head, one.head.driver) for one in found if one.verdict.is_right]
    [('hex small', '12 mm'), ('hex flange on small engines', '12 mm')]
    >>> [one.verdict.value for one in on_thread("7/16 in", thread_named("1/4 BSW"))][:2]
    ['not judged here', 'does not go on']

    Raises NotUnderstood for a name that is no width, NoSuchWidth where no spanner or key has it.
    Source: as `spanner_on` and `key_in`; heads as `spanners_for`.
    """
    is_key = tool.endswith(" key")
    name = width_named(tool.removesuffix(" key"))[0]
    own = key_width(name) if is_key else _jaw(name)
    met = [one for one in spanners_for(thread) if one.driver.endswith(" key") == is_key]
    return tuple(_on_head(own, one, is_key=is_key) for one in met)


def _jaw(name: str) -> Width:
    """The opening by its table; of a Whitworth spanner by the formula that stands in for one."""
    try:
        return jaw_width(name)
    except NoSuchWidth:
        if not is_whitworth(name):
            raise
        return inch_opening(name, width_named(name)[1])


def _on_head(own: Width, met: HeadSpanner, *, is_key: bool) -> OnHead:
    wanted = width_named(met.driver.removesuffix(" key"))[0]
    try:
        fit = key_in(own.name, wanted) if is_key else spanner_on(own.name, wanted)
    except NoSuchWidth:
        return OnHead(met, _beside_stand_in(own, wanted, is_key=is_key), None)
    return OnHead(met, fit.verdict, fit)


def _beside_stand_in(own: Width, wanted: str, *, is_key: bool) -> Verdict:
    """The verdict where the limits of the tool or of the right one are in no table: only what is plainly wrong is."""
    if own.name == wanted:
        return Verdict.FITS
    if is_key:
        return Verdict.UNJUDGED
    nominal_mm = width_named(wanted)[1]
    plain = {Verdict.NOT_ON, Verdict.NEVER}
    try:
        head = head_width(wanted)
        plain.add(Verdict.LOOSE)
    except NoSuchWidth:  # The old heads of 5/8 and 1 in: how much narrower than their name they may be is not known.
        head = Width(wanted, nominal_mm, nominal_mm, nominal_mm, "")
    verdict = _spanner(own, head, inch_opening(wanted, nominal_mm)).verdict
    return verdict if verdict in plain else Verdict.UNJUDGED


def _fit(
    pieces: tuple[Width, Width, Width],
    *,
    middle: Play,
    worst: Play,
    right_worst: Play,
    rooms_mm: tuple[float, float],
    slacker_mm: float,
) -> Fit:
    """The verdict from the play of both tools, and from what the tightest and the slackest tool have to spare."""
    tightest_mm, slackest_mm = rooms_mm
    if slackest_mm < -SAME_MM:
        verdict = Verdict.NOT_ON
    elif worst.bite_mm < ENOUGH_BITE * right_worst.bite_mm:
        verdict = Verdict.NEVER
    elif slacker_mm > SAME_MM:
        verdict = Verdict.LOOSE
    else:
        verdict = Verdict.TIGHT if tightest_mm < -SAME_MM else Verdict.FITS
    tool, fastener, right = pieces
    return Fit(tool, fastener, right, verdict, middle, worst, right_worst, tightest_mm)


def spanners_on(head: str) -> tuple[Fit, ...]:
    """Which spanners of the usual metric and inch sets come near a head of this width, and may each be used?

    head: the width by name. Returns the right one first, then the others, best verdict first and least play first; all
    whose name lies between a twentieth less and the width in which the head turns round freely.

    >>> [(fit.tool.name, fit.verdict.value) for fit in spanners_on("19 mm")][:2]
    [('19 mm', 'fits'), ('3/4 in', 'fits')]

    Raises as `spanner_on` does. The sets are common practice, no source.
    """
    flats = head_width(head)
    most_mm = flats.nominal_mm * turns_round_from(Grip.OPEN_END)
    near = _near((flats.name, *METRIC_SET, *INCH_SET), 0.95 * flats.nominal_mm, most_mm)
    return _best_first([spanner_on(name, flats.name) for name in near])


def keys_in(socket: str) -> tuple[Fit, ...]:
    """Which keys of the usual metric and inch sets come near a socket of this width, and may each be used?

    socket: the width by name. Returns the right one first, then the others, as `spanners_on` does.

    >>> [(fit.tool.name, fit.verdict.value) for fit in keys_in("5 mm")][:2]
    [('5 mm', 'fits'), ('3/16 in', 'must not be used')]

    Raises as `key_in` does. The sets are common practice, no source.
    """
    hole = socket_width(socket)
    least_mm = hole.nominal_mm / turns_round_from(Grip.OPEN_END)
    near = _near((hole.name, *METRIC_KEYS, *INCH_KEYS), least_mm, 1.05 * hole.nominal_mm)
    return _best_first([key_in(name, hole.name) for name in near])


def _near(names: tuple[str, ...], least_mm: float, most_mm: float) -> list[str]:
    return [name for name in dict.fromkeys(names) if least_mm <= width_named(name)[1] <= most_mm]


def _best_first(fits: list[Fit]) -> tuple[Fit, ...]:
    order = list(Verdict)
    fits.sort(key=lambda fit: (fit.tool.name != fit.right.name, order.index(fit.verdict), fit.worst.deg))
    return tuple(fits)
