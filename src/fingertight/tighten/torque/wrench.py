"""A torque wrench: what its scale must read with an extension, how far it may be off, and the slips of reading it."""

import math
from dataclasses import dataclass

from fingertight.quantity import UNITS, in_house, unit_named

LARGEST_SMALL_NM = 10.0
LARGEST_NM = 20_000.0
"""No bolt of the tables takes more, and no wrench is set to it: common practice, no source."""
_OFF_SMALL, _OFF_LARGE = 0.06, 0.04
PASS_MAY_BE_OFF = 0.10
"""How far a pass may be off its torque, as a share: common practice, no source (the contract of the log states it)."""
ASTRAY = 1 / 3
"""How near to ten times, or to a tenth, a torque looks like a decimal mark gone astray: common practice, no source."""


def effective_arm_mm(arm_mm: float, extension_mm: float, angle_deg: float = 0.0) -> float:
    """How long is the arm from the hand to the fastener, seen square to the pull, with an extension on the wrench?

    L + E·cos θ

    arm_mm: L, from the middle of the grip to the square [mm], above 0. extension_mm: E, from the square to the fastener
    [mm], 0 or more. angle_deg: θ, between wrench and extension [deg]: 0 straight on, 90 square (no change), 180 folded
    back. Returns the arm [mm].

    >>> effective_arm_mm(300, 75), effective_arm_mm(300, 75, 90), effective_arm_mm(300, 75, 180)
    (375.0, 300.0, 225.0)

    It holds for one hand at the middle of the grip. Raises ValueError when a length is out of range, or when the
    extension reaches back past the grip. Source: US Army TM 9-254 (effective length).
    """
    if not (arm_mm > 0 and extension_mm >= 0):
        raise ValueError("the arm is above 0, the extension is 0 or more")
    reach_mm = arm_mm + extension_mm * round(math.cos(math.radians(angle_deg)), 12)
    if reach_mm <= 0:
        raise ValueError("the extension reaches back past the grip")
    return reach_mm


def setting_nm(wanted_nm: float, arm_mm: float, extension_mm: float, angle_deg: float = 0.0) -> float:
    """What must the wrench be set to, so that the fastener gets what is wanted through an extension?

    T_w = T · L / (L + E·cos θ)

    wanted_nm: T, at the fastener [N·m], above 0. arm_mm, extension_mm, angle_deg: as for `effective_arm_mm`. Returns
    the setting [N·m].

    It holds for one hand at the middle of the grip; the arm is that of the hand, not of the tool.

    >>> round(setting_nm(300, 10, 4), 1), round(setting_nm(300, 10, 4, 45), 2), setting_nm(30, 300, 75, 90)
    (214.3, 233.86, 30.0)

    Raises ValueError when a length or the torque is out of range, or when the extension reaches back past the grip.
    Source: US Army TM 9-254 (effective length), FAA AC 43.13-1B; checked against the worked examples of
    TM 1-1500-204-23-9, NAVEDTRA 14315 and two aircraft manuals.
    """
    if not wanted_nm > 0:
        raise ValueError("the torque is above 0")
    return wanted_nm * arm_mm / effective_arm_mm(arm_mm, extension_mm, angle_deg)


def may_be_off(largest_nm: float) -> float:
    """By what share may a setting (click) wrench be off? 6 % up to a largest torque of 10 N·m, 4 % above.

    largest_nm: the largest torque of the wrench [N·m], above 0; where only the torque set is known, that.

    >>> round(may_be_off(8) * 8, 2), may_be_off(50) * 50
    (0.48, 2.0)

    Source: ISO 6789:2003, type II class A, as quoted in a torque-wrench manual.
    """
    return _OFF_SMALL if largest_nm <= LARGEST_SMALL_NM else _OFF_LARGE


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip that explains a torque: read in another unit (named), or this many times what was wanted."""

    unit: str = ""
    times: float = 1.0


def is_right(given_nm: float, wanted_nm: float) -> bool:
    """Is the pass within a tenth of its torque? Both in N·m, wanted above 0.

    >>> is_right(10.9, 10), is_right(11.1, 10)
    (True, False)

    Source: `PASS_MAY_BE_OFF`.
    """
    return abs(given_nm - wanted_nm) <= PASS_MAY_BE_OFF * wanted_nm + 1e-9


def slip_behind(torque: float, unit: str, wanted_nm: float) -> Slip | None:
    """Which slip would make this torque right: another unit, or a decimal mark gone astray? None explains nothing.

    torque: as read, in `unit`; wanted_nm: what belongs there [N·m], above 0. Where several would do (a kilogram-force
    metre is nearly ten newton metres), the one that comes nearest to what was wanted.

    >>> slip_behind(7.4, "N·m", 10), slip_behind(100, "N·m", 10), slip_behind(1.02, "N·m", 10)
    (Slip(unit='lb·ft', times=1.0), Slip(unit='', times=10.0), Slip(unit='kgf·m', times=1.0))

    Raises NotUnderstood for a unit that is not known. Source: conversion factors of NIST SP 811, appendix B.8.
    """
    named = unit_named(unit)
    meant = {
        Slip(unit=other.name): torque * other.in_house
        for other in UNITS.values()
        if other.measures == "torque" and other is not named
    }
    given_nm = in_house(torque, unit)
    meant |= {Slip(times=times): given_nm / times for times in (0.1, 10.0)}
    right = [slip for slip, meant_nm in meant.items() if is_right(meant_nm, wanted_nm)]
    return min(right, key=lambda slip: abs(meant[slip] - wanted_nm), default=None)


def decimal_astray(given_nm: float, wanted_nm: float) -> Slip | None:
    """Does this torque look as if a decimal mark had gone astray? For advice: within a third of ten times or a tenth.

    given_nm, wanted_nm: as meant to be set, and as usual [N·m], above 0. None: neither.

    >>> decimal_astray(250, 21), decimal_astray(2.5, 21), decimal_astray(40, 21)
    (Slip(unit='', times=10.0), Slip(unit='', times=0.1), None)

    It is wider than `slip_behind`, because what is wanted is itself only usual. Source: `ASTRAY`.
    """
    near = [times for times in (0.1, 10.0) if abs(given_nm / times - wanted_nm) <= ASTRAY * wanted_nm]
    return Slip(times=near[0]) if near else None
