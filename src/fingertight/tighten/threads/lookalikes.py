"""What happens when a bolt meets the hole of another thread, and which threads are taken for each other."""

import math
from enum import StrEnum
from functools import cache
from typing import NamedTuple

from fingertight.tighten.tables import rows
from fingertight.tighten.threads.limits import Span, bolt_limits, nut_limits
from fingertight.tighten.threads.names import Thread, threads

# A start that a hand feels: less than a quarter of a turn is no start.
_FELT_TURNS = 0.25
_TEMPTING_TURNS, _TEMPTING_GRIP = 0.5, 0.5
# Taps cut a little over the basic diameter at the root; common practice, no source.
_ROOT_ROOM_PITCHES = 0.1
# Height of a usual nut, in diameters (ISO 4032, style 1: 0.8 to 0.9).
_NUT_DIAMETERS = 0.8
_SELDOM = 0.4


class Meets(StrEnum):
    """How a bolt and a hole of two threads end."""

    FITS = "fits"
    DOES_NOT_START = "does not start"
    BINDS = "starts and binds"
    GOES_IN = "goes in, but holds badly"
    DROPS_IN = "drops in without gripping"


class Meeting(NamedTuple):
    """How it ends, after how many turns a sound pair binds (least, most; ∞ where never), the play and the grip.

    play_mm: pitch diameter of the hole less that of the bolt [mm]; below 0 there is none. grip: how much of the
    depth of the hole's thread the bolt's crests reach into, 1 for all of it, between basic sizes.
    """

    ends: Meets
    turns: Span
    play_mm: Span
    grip: float


class LookAlike(NamedTuple):
    """A thread that is taken for another: what this one's bolt does in its hole, and its bolt in this one's hole."""

    thread: Thread
    bolt_in_its_hole: Meeting
    its_bolt_in_this_hole: Meeting


@cache
def usual_weights() -> dict[str, float]:
    """How usual each thread is, by its name; the most usual has 100 (common practice, no source).

    >>> usual_weights()["M6"], usual_weights()["M27x1"]
    (100.0, 0.4)
    """
    listed = {row["thread"]: float(row["weight"]) for row in rows("practice-usual.csv")}
    return {name: listed.get(name, _SELDOM) for name in threads()}


def meeting(bolt: Thread, hole: Thread) -> Meeting:
    """What happens when a sound bolt of one thread is turned into a sound hole of another?

    Every turn the pitches drift apart by |P − P'|, and drift takes play in the pitch diameter. It binds after
    turns = (D2' − d2) / (|P − P'| · cot(α/2)), α the angle between the flanks (mean of both).

    bolt, hole: threads of the tables. Returns the end, the turns by the limits of `bolt_limits` and `nut_limits`, the
    play [mm] and the grip. It does not start where there is no play at all, or where the bolt's crest or root finds no
    room; it goes in where the play lasts for a nut 0.8 diameters high.

    It holds for clean, undamaged threads turned by hand; with a spanner anything can be forced, once.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> into = meeting(thread_named("M6"), thread_named("1/4-20 UNC"))
    >>> into.ends.value, [round(turns, 1) for turns in into.turns]
    ('starts and binds', [0.4, 0.9])
    >>> meeting(thread_named("1/4-20 UNC"), thread_named("M6")).ends.value
    'does not start'

    Raises nothing for threads of the tables.
    Source: a pitch error counts as pitch diameter, 1.732 δP at 60° (ISO 5408, virtual pitch diameter); which pairs come
    out was checked against workshop practice (tests/tighten/test_lookalikes.py).
    """
    outside, inside = bolt_limits(bolt), nut_limits(hole)
    play = inside.pitch_mm[0] - outside.pitch_mm[1], inside.pitch_mm[1] - outside.pitch_mm[0]
    drift = _drift_mm(bolt, hole)
    least, most = (max(one, 0.0) / drift if drift else (math.inf if one > 0 else 0.0) for one in play)
    depth = hole.diameter_mm - hole.minor_internal_mm
    grip = min((bolt.diameter_mm - hole.minor_internal_mm) / depth, 1.0)
    no_room = (
        outside.major_mm[0] > inside.major_min_mm + _ROOT_ROOM_PITCHES * hole.pitch_mm
        or outside.minor_mm[0] > inside.minor_mm[1]
    )
    if bolt == hole:
        ends = Meets.FITS
    elif grip <= 0:
        ends = Meets.DROPS_IN
    elif no_room or most < _FELT_TURNS:
        ends = Meets.DOES_NOT_START
    elif not drift or least >= _NUT_DIAMETERS * hole.diameter_mm / hole.pitch_mm:
        ends = Meets.GOES_IN
    else:
        ends = Meets.BINDS
    return Meeting(ends, (least, most), play, grip)


def look_alikes(thread: Thread, most: int = 6) -> tuple[LookAlike, ...]:
    """Which threads must not be forced together with this one, since one starts in the other's hole?

    Of the threads that are met at all (weight 1 and more), those whose bolt starts in this one's hole, or whose hole
    this one's bolt starts in, by half a turn or more and at least half as deep as it should grip; the most usual first.

    thread: one of the tables. most: how many at most. Returns them with both meetings.

    >>> from fingertight.tighten.threads.names import thread_named
    >>> [one.thread.name for one in look_alikes(thread_named("M6"))]
    ['1/4-20 UNC', '1/4-28 UNF', '1/4-20 BSW', 'M6x0.75', '#12-24 UNC']

    Raises nothing for a thread of the tables.
    Source: `meeting`; how usual a thread is: common practice, no source.
    """
    found = []
    weights = usual_weights()
    for other in threads().values():
        # Further apart than a pitch, one never takes hold in the other: its crests pass by, or do not go in.
        near = abs(other.diameter_mm - thread.diameter_mm) <= max(other.pitch_mm, thread.pitch_mm)
        if near and other != thread and weights[other.name] >= 1:
            there, here = meeting(thread, other), meeting(other, thread)
            if _tempts(there) or _tempts(here):
                found.append(LookAlike(other, there, here))
    found.sort(key=lambda one: -weights[one.thread.name])
    return tuple(found[:most])


def _tempts(meets: Meeting) -> bool:
    """Whether a hand would think it right: it takes hold, and turns."""
    starts = meets.ends in {Meets.BINDS, Meets.GOES_IN}
    return starts and meets.turns[1] >= _TEMPTING_TURNS and meets.grip >= _TEMPTING_GRIP


def _drift_mm(bolt: Thread, hole: Thread) -> float:
    """How much pitch-diameter play one turn takes [mm]."""
    half_deg = (bolt.flank_angle_deg + hole.flank_angle_deg) / 4
    apart = abs(bolt.pitch_mm - hole.pitch_mm)
    return apart / math.tan(math.radians(half_deg)) if apart > 1e-6 else 0.0
