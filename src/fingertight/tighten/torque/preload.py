"""Torque and preload: the short form, the long form with thread and head friction apart, and the twist of the bolt."""

import math
from dataclasses import dataclass
from enum import Enum

from fingertight.tighten.threads.names import Thread

MM_PER_M = 1000.0


def short_torque_nm(preload_n: float, diameter_mm: float, nut_factor: float) -> float:
    """Which torque gives this preload, by the short form?

    T = K · F · d

    preload_n: F [N]. diameter_mm: d, the nominal diameter of the thread [mm]. nut_factor: K, all friction in one
    number, without unit. Returns the torque [N·m].

    >>> short_torque_nm(15_900, 8, 0.2)
    25.44

    It holds as well as K does, for one size, one surface and one head: the short form knows no scatter. Raises
    ValueError unless every one is above 0.
    Source: Shigley's Mechanical Engineering Design, 9th ed., equation 8-27; checked against its example 8-3 and a
    published SAE J429 dry torque table.
    """
    _above_0(preload_n, diameter_mm, nut_factor)
    return nut_factor * preload_n * diameter_mm / MM_PER_M


def nut_factor_of(torque_nm: float, preload_n: float, diameter_mm: float) -> float:
    """Which nut factor K do a torque and the preload it gave belong to?

    K = T / (F · d)

    torque_nm: T [N·m]. preload_n: F, measured [N]. diameter_mm: d [mm]. Returns K, without unit.

    >>> round(nut_factor_of(25.44, 15_900, 8), 3)
    0.2

    Holds, raises and is from where `short_torque_nm` is.
    """
    _above_0(torque_nm, preload_n, diameter_mm)
    return torque_nm * MM_PER_M / (preload_n * diameter_mm)


@dataclass(frozen=True, slots=True)
class Lever:
    """What a torque turns against [mm]: the thread's pitch, and the diameters at which its and the head's friction act.

    diameter_mm is the nominal one; half_angle_deg half the angle between the flanks: 30, with Whitworth threads 27.5.
    """

    diameter_mm: float
    pitch_mm: float
    middle_mm: float
    bearing_mm: float
    half_angle_deg: float = 30.0


def lever_of(thread: Thread, bearing_mm: float) -> Lever:
    """The lever of this thread over a head that bears at this mean diameter [mm].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> round(lever_of(thread_named("M8"), 10.3).middle_mm, 3)
    7.188
    """
    return Lever(thread.diameter_mm, thread.pitch_mm, thread.pitch_diameter_mm, bearing_mm, thread.flank_angle_deg / 2)


def arm_mm(lever: Lever, thread_friction: float, head_friction: float) -> float:
    """How many N·mm of torque does each newton of preload take?

    T / F = dm/2 · (P + π f dm sec α) / (π dm − f P sec α) + fc · dc/2

    lever: P the pitch, dm the thread's mean diameter, dc the head's, α half the flank angle. thread_friction: f.
    head_friction: fc. Returns the arm [mm].

    >>> round(arm_mm(Lever(8, 1.25, 7.188, 10.3), 0.12, 0.12), 3)
    1.32

    It holds for one start, for sliding without stick and slip, and where nothing else turns with the bolt (a lock nut's
    own torque comes on top). Raises ValueError for friction below 0, or so much that nothing turns.
    Source: Shigley's Mechanical Engineering Design, 9th ed., equation 8-26 (a power screw with a collar); checked
    against its example 8-3.
    """
    secant = 1 / math.cos(math.radians(lever.half_angle_deg))
    around = math.pi * lever.middle_mm
    below = around - thread_friction * lever.pitch_mm * secant
    if thread_friction < 0 or head_friction < 0 or below <= 0:
        raise ValueError("friction is 0 or more, and not so much that nothing turns")
    slope = (lever.pitch_mm + thread_friction * around * secant) / below
    return lever.middle_mm / 2 * slope + head_friction * lever.bearing_mm / 2


def linear_arm_mm(lever: Lever, thread_friction: float, head_friction: float) -> float:
    """The same arm in the linear form of VDI 2230, which tables are made with.

    T / F = 0.159 P + 0.577 d2 μG + μK · Dkm/2     (P/2π and sec 30° / 2, here for any flank angle)

    lever, thread_friction (μG), head_friction (μK): as for `arm_mm`. Returns the arm [mm].

    >>> round(linear_arm_mm(Lever(8, 1.25, 7.188, 10.3), 0.12, 0.12), 3)
    1.315

    It holds where friction times slope is small: up to 0.2 it is within 1 % of `arm_mm`. Raises ValueError for friction
    below 0.
    Source: VDI 2230 part 1 (2003), tightening torque; checked against its tables of preload and torque.
    """
    if thread_friction < 0 or head_friction < 0:
        raise ValueError("friction is 0 or more")
    flanks = lever.middle_mm / (2 * math.cos(math.radians(lever.half_angle_deg)))
    return lever.pitch_mm / (2 * math.pi) + thread_friction * flanks + head_friction * lever.bearing_mm / 2


def torque_nm(preload_n: float, lever: Lever, thread_friction: float, head_friction: float) -> float:
    """Which torque gives this preload, by the long form?

    T = F · arm

    preload_n: F [N], above 0. The rest as for `arm_mm`. Returns the torque [N·m].

    >>> round(torque_nm(15_900, Lever(8, 1.25, 7.188, 10.3), 0.12, 0.12), 1)
    21.0

    Holds and is from where `arm_mm` is. Raises ValueError as it does, and for a preload of 0 or less.
    """
    _above_0(preload_n)
    return preload_n * arm_mm(lever, thread_friction, head_friction) / MM_PER_M


def linear_torque_nm(preload_n: float, lever: Lever, thread_friction: float, head_friction: float) -> float:
    """Which torque gives this preload, by the linear form that tables are made with?

    T = F · linear arm

    preload_n: F [N], above 0. The rest as for `linear_arm_mm`. Returns the torque [N·m].

    >>> round(linear_torque_nm(18_600, Lever(8, 1.25, 7.188, 10.3), 0.12, 0.12), 1)
    24.5

    Holds and is from where `linear_arm_mm` is. Raises ValueError as it does, and for a preload of 0 or less.
    """
    _above_0(preload_n)
    return preload_n * linear_arm_mm(lever, thread_friction, head_friction) / MM_PER_M


def preload_n(torque_nm: float, lever: Lever, thread_friction: float, head_friction: float) -> float:
    """Which preload does this torque give, by the long form?

    F = T / arm

    torque_nm: T [N·m], above 0. The rest as for `arm_mm`. Returns the preload [N].

    >>> round(preload_n(21.0, Lever(8, 1.25, 7.188, 10.3), 0.12, 0.12), -2)
    15900.0

    Holds and is from where `arm_mm` is. Raises ValueError as it does, and for a torque of 0 or less.
    """
    _above_0(torque_nm)
    return torque_nm * MM_PER_M / arm_mm(lever, thread_friction, head_friction)


class Twist(Enum):
    """How the twist of tightening is spread over the bolt: what 3/2 or 2 stands for in the equivalent stress.

    The tables of VDI 2230 (2001 and later) let the bolt yield from its skin inwards, the older ones keep it elastic.
    """

    YIELDING = 1.5
    ELASTIC = 2.0


def stress_while_tightening_mpa(preload_n: float, thread: Thread, thread_friction: float) -> float:
    """How hard is the bolt strained while it is being tightened, pull and twist together?

    σ = F / As · √(1 + 3 [3/2 · d2/d0 · (P/(π d2) + μ sec α)]²)

    preload_n: F [N], 0 or more. thread: d2 the pitch diameter, d0 the diameter of the stress area, P the pitch, α half
    the flank angle. thread_friction: μ. Returns the equivalent stress, to be set beside the yield stress [MPa].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> round(stress_while_tightening_mpa(18_600, thread_named("M8"), 0.12))
    575

    It holds up to yield, for a bolt whose thread is its thinnest place; half of the twist leaves when the wrench does.
    Raises ValueError for a preload or friction below 0.
    Source: VDI 2230 part 1 (2003), equivalent stress at assembly (von Mises, twist spread as in a yielding bar).
    """
    if preload_n < 0 or thread_friction < 0:
        raise ValueError("preload and friction are 0 or more")
    return preload_n / thread.stress_area_mm2 * _with_twist(thread, thread_friction)


def preload_at_share_of_yield_n(
    thread: Thread, yield_mpa: float, share: float, thread_friction: float, twist: Twist = Twist.YIELDING
) -> float:
    """Up to which preload does a bolt stay, pull and twist together, within this share of its yield?

    F = ν · Re · As / √(1 + 3 [3/2 · d2/d0 · (P/(π d2) + μ sec α)]²)

    yield_mpa: Re or Rp0.2 [MPa], above 0. share: ν, 0.9 in the published tables, above 0. twist: ELASTIC puts 2 for
    3/2, as older tables have it. The rest as for `stress_while_tightening_mpa`. Returns the preload [N].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> round(preload_at_share_of_yield_n(thread_named("M8"), 640, 0.9, 0.12), -2)
    18600.0

    Holds as that does. Raises ValueError for what is not above 0, and friction below 0.
    Source: VDI 2230 part 1 (2003), assembly preload; checked against its tables of 90 % of yield, and with ELASTIC
    against an older workshop table, which is about a tenth below: name the table with the torque.
    """
    _above_0(yield_mpa, share)
    if thread_friction < 0:
        raise ValueError("friction is 0 or more")
    return share * yield_mpa * thread.stress_area_mm2 / _with_twist(thread, thread_friction, twist)


def _with_twist(thread: Thread, thread_friction: float, twist: Twist = Twist.YIELDING) -> float:
    """How much larger the equivalent stress is than that of the pull alone."""
    middle = thread.pitch_diameter_mm
    at = math.sqrt(4 * thread.stress_area_mm2 / math.pi)
    secant = 1 / math.cos(math.radians(thread.flank_angle_deg / 2))
    slope = thread.pitch_mm / (math.pi * middle) + thread_friction * secant
    return math.sqrt(1 + 3 * (twist.value * middle / at * slope) ** 2)


def _above_0(*sizes: float) -> None:
    if not all(size > 0 for size in sizes):
        raise ValueError("each of these sizes is above 0")
