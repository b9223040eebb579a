"""Is a pass what it should be? A torque as read beside the one wanted, and what slip would explain the difference."""

from dataclasses import dataclass

from fingertight.quantity import UNITS, in_house, unit_named

MAY_BE_OFF = 0.10
"""How far a pass may be off its torque, as a share: common practice, no source (the contract of the log states it)."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip that explains a torque: read in another unit (named), or this many times what was wanted."""

    unit: str = ""
    times: float = 1.0


def is_right(given_nm: float, wanted_nm: float) -> bool:
    """Is the pass within a tenth of its torque? Both in N·m, wanted above 0.

    >>> is_right(10.9, 10), is_right(11.1, 10)
    (True, False)

    Source: `MAY_BE_OFF`.
    """
    return abs(given_nm - wanted_nm) <= MAY_BE_OFF * wanted_nm + 1e-9


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
