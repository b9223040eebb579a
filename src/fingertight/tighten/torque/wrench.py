"""A torque wrench: what its scale must read with an extension on it, and how far it may be off."""

import math

LARGEST_SMALL_NM = 10.0
_OFF_SMALL, _OFF_LARGE = 0.06, 0.04


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


def given_nm(set_nm: float, arm_mm: float, extension_mm: float, angle_deg: float = 0.0) -> float:
    """What does the fastener get, when a wrench with an extension is set to this?

    T = T_w · (L + E·cos θ) / L

    set_nm: T_w, what the scale reads [N·m], above 0. arm_mm, extension_mm, angle_deg: as for `effective_arm_mm`.
    Returns the torque at the fastener [N·m].

    >>> given_nm(24, 300, 75)
    30.0

    Holds, raises and is from where `setting_nm` is.
    """
    if not set_nm > 0:
        raise ValueError("the torque is above 0")
    return set_nm * effective_arm_mm(arm_mm, extension_mm, angle_deg) / arm_mm


def may_be_off(largest_nm: float) -> float:
    """By what share may a setting (click) wrench be off? 6 % up to a largest torque of 10 N·m, 4 % above.

    largest_nm: the largest torque of the wrench [N·m], above 0; where only the torque set is known, that.

    >>> round(may_be_off(8) * 8, 2), may_be_off(50) * 50
    (0.48, 2.0)

    Source: ISO 6789:2003, type II class A, as quoted in a torque-wrench manual.
    """
    return _OFF_SMALL if largest_nm <= LARGEST_SMALL_NM else _OFF_LARGE
