"""Tightening by angle: how stiff bolt and clamped parts are, and which preload a turn brings."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.tighten.threads.names import Thread
from fingertight.tighten.torque.friction import Band, Bearing
from fingertight.tighten.torque.stripping import hole_material

BOLT_MODULUS_MPA = 205_000.0
"""Stiffness of steel: VDI 2230 (2003) takes 205 000 MPa for bolts, from memory; Shigley 207 000."""
_CONE_DEG = 30.0
_HEAD, _ENGAGED, _NUT, _HOLE = 0.5, 0.5, 0.4, 0.33


@dataclass(frozen=True, slots=True)
class Layer:
    """One clamped part: how thick it is [mm], and how stiff its metal [MPa]."""

    thick_mm: float
    modulus_mpa: float


def rod_stiffness_n_per_mm(lengths_and_areas: Sequence[tuple[float, float]], modulus_mpa: float) -> float:
    """How stiff is a bolt of several thicknesses behind each other?

    k = E / Σ (l / A)

    lengths_and_areas: (l [mm], A [mm²]) of each piece, above 0. modulus_mpa: E [MPa]. Returns the stiffness [N/mm].

    >>> round(rod_stiffness_n_per_mm([(30, 113), (15, 84.3)], 207_000) / 1000, 1)
    466.8

    It holds below yield. Raises ValueError for what is not above 0.
    Source: Shigley's Mechanical Engineering Design, 9th ed., equation 8-17; checked against the solutions of its
    problems 8-20 to 8-25.
    """
    if not (lengths_and_areas and modulus_mpa > 0 and all(long > 0 < area for long, area in lengths_and_areas)):
        raise ValueError("lengths, areas and the modulus are above 0")
    return modulus_mpa / sum(long / area for long, area in lengths_and_areas)


def frustum_stiffness_n_per_mm(hole_mm: float, face_mm: float, thick_mm: float, modulus_mpa: float) -> float:
    """How stiff is the part of a clamped piece that a bolt presses, a cone of 30° around a hole?

    k = π E d tan 30° / ln [(2 t tan 30° + D − d)(D + d) / ((2 t tan 30° + D + d)(D − d))]

    hole_mm: d. face_mm: D, the small end, above d. thick_mm: t, above 0. modulus_mpa: E. Returns the stiffness [N/mm].

    >>> round(frustum_stiffness_n_per_mm(12, 18, 20, 207_000) / 1000)
    4470

    It holds where the part is wider than the cone. Raises ValueError otherwise than said above.
    Source: Shigley's Mechanical Engineering Design, 9th ed., equation 8-20; checked against the solutions of its
    problems 8-22 to 8-25.
    """
    if not (face_mm > hole_mm > 0 and thick_mm > 0 and modulus_mpa > 0):
        raise ValueError("sizes are above 0, and the face is wider than the hole")
    tangent = math.tan(math.radians(_CONE_DEG))
    wider = 2 * thick_mm * tangent
    ratio = (wider + face_mm - hole_mm) * (face_mm + hole_mm) / ((wider + face_mm + hole_mm) * (face_mm - hole_mm))
    return math.pi * modulus_mpa * hole_mm * tangent / math.log(ratio)


def parts_stiffness_n_per_mm(layers: Sequence[Layer], hole_mm: float, face_mm: float) -> float:
    """How stiff are the parts a bolt clamps, pressed by a cone from either end?

    1/k = Σ 1/k of each `frustum_stiffness_n_per_mm`; the cones meet halfway through.

    layers: from head to nut. hole_mm: d. face_mm: D, what the head and the nut bear on. Returns the stiffness [N/mm].

    >>> steel, iron = Layer(20, 207_000), Layer(25, 100_000)
    >>> round(parts_stiffness_n_per_mm([steel, iron], 12, 18) / 1000)
    1379

    Holds and raises as that does. A gasket is not elastic in this sense, and makes the answer too stiff.
    Source: Shigley's Mechanical Engineering Design, 9th ed., section 8-5; checked as above.
    """
    half = sum(layer.thick_mm for layer in layers) / 2
    give = sum(
        1 / frustum_stiffness_n_per_mm(hole_mm, face_mm + 2 * deep * math.tan(math.radians(_CONE_DEG)), thick, modulus)
        for side in (layers, layers[::-1])
        for deep, thick, modulus in _down_to(side, half)
    )
    return 1 / give


def _down_to(layers: Sequence[Layer], half: float) -> list[tuple[float, float, float]]:
    """What of these layers lies above this depth: how deep each piece begins, its thickness, its modulus."""
    pieces, deep = [], 0.0
    for layer in layers:
        thick = min(layer.thick_mm, half - deep)
        if thick > 1e-12:
            pieces.append((deep, thick, layer.modulus_mpa))
            deep += thick
    return pieces


@dataclass(frozen=True, slots=True)
class Joint:
    """A bolt through its parts: how far each newton stretches the one and squeezes the others [mm/N].

    The bolt's give is a span: a shank as thick as the thread's outside gives least, thread along the whole grip most.
    """

    pitch_mm: float
    bolt_least: float
    bolt_most: float
    parts: float

    @property
    def give(self) -> Band:
        """Bolt and parts together [mm/N]: with a plain shank, in the middle, threaded all along.

        >>> Joint(1.25, 1e-6, 3e-6, 1e-6).give.usual
        3e-06
        """
        low, high = self.bolt_least + self.parts, self.bolt_most + self.parts
        return Band(low, (low + high) / 2, high)


def joint_of(thread: Thread, grip_mm: float, bearing: Bearing, clamped: str, into: str = "") -> Joint:
    """How much do bolt and clamped parts give?

    bolt: δ = Σ l/(E A): head 0.5 d and shank on the outside area; thread on the root area; 0.5 d of engaged thread on
    the root area, and 0.4 d (nut) or 0.33 d (hole, of its metal) on the outside area. parts: cones of 30°; in a hole
    they reach d/2 into it.

    grip_mm: how thick the clamped parts are together [mm], above 0. bearing: of the head. clamped: "steel", "cast iron"
    or "aluminium". into: the metal of a tapped hole, "" for a nut. Returns the gives [mm/N].

    >>> from fingertight.tighten.threads.names import thread_named
    >>> joint = joint_of(thread_named("M8"), 20, Bearing(11.63, 9, ""), "steel", "aluminium")
    >>> round(1 / joint.bolt_least / 1000), round(1 / joint.bolt_most / 1000), round(1 / joint.parts / 1000)
    (272, 213, 795)

    It holds below yield, for steel bolts and parts wider than the cone; no gasket, no washer. Raises NoSuchHole, and
    ValueError for a grip of 0 or less.
    Source: bolt VDI 2230 part 1 (2003), resilience, from memory; parts Shigley's Mechanical Engineering Design, 9th
    ed., table 8-7 and equation 8-20; checked against a sum of springs, slice by slice.
    """
    if grip_mm <= 0:
        raise ValueError("the grip is above 0")
    size = thread.diameter_mm
    outside, root = (math.pi / 4 * across**2 for across in (size, thread.minor_external_mm))
    end_mpa = hole_material(into).modulus_mpa if into else BOLT_MODULUS_MPA
    ends = [(_HEAD * size, outside), (_ENGAGED * size, root)]
    held = 1 / rod_stiffness_n_per_mm([((_HOLE if into else _NUT) * size, outside)], end_mpa)
    layers = [Layer(grip_mm, hole_material(clamped).modulus_mpa)]
    if into:
        layers.append(Layer(size / 2, end_mpa))
    return Joint(
        pitch_mm=thread.pitch_mm,
        bolt_least=held + 1 / rod_stiffness_n_per_mm([*ends, (grip_mm, outside)], BOLT_MODULUS_MPA),
        bolt_most=held + 1 / rod_stiffness_n_per_mm([*ends, (grip_mm, root)], BOLT_MODULUS_MPA),
        parts=1 / parts_stiffness_n_per_mm(layers, bearing.hole_mm, bearing.outer_mm),
    )


_NOTHING = Band(0.0, 0.0, 0.0)


def preload_by_turn_n(turn_deg: float, joint: Joint, snug: Band = _NOTHING) -> Band:
    """Which preload does a turn bring, from where the parts already touch, or from a snug preload?

    F = F_snug + θ/360 · P / (δ_bolt + δ_parts)

    turn_deg: θ, of the bolt against the parts [deg], 0 or more. joint: its gives. snug: F_snug, its ends and what is
    usual [N]. Returns the preload [N]: threaded all along, in the middle, with a plain shank; least with least.

    >>> joint = Joint(1.25, 4e-6, 4e-6, 2e-6)
    >>> round(preload_by_turn_n(30, joint).usual), round(preload_by_turn_n(30, joint, Band(900, 1000, 1200)).usual)
    (17361, 18361)

    It holds below yield. Above, the bolt stretches and preload stays behind; before the parts touch, a turn brings
    none. What beds in (paint, burrs, a gasket) takes its part. Raises ValueError for an angle below 0.
    Source: VDI 2230 part 1 (2003), angle-controlled tightening; Shigley's Mechanical Engineering Design, 9th ed.,
    section 8-8 (turn of the nut).
    """
    if turn_deg < 0:
        raise ValueError("the angle is 0 or more")
    slid_mm, give = turn_deg / 360 * joint.pitch_mm, joint.give
    return Band(snug.low + slid_mm / give.high, snug.usual + slid_mm / give.usual, snug.high + slid_mm / give.low)


def turn_for_preload_deg(preload_n: float, joint: Joint) -> Band:
    """Which turn brings this preload, from where the parts already touch?

    θ = 360 · F (δ_bolt + δ_parts) / P

    preload_n: F [N], 0 or more. Returns the angle [deg]: with a plain shank, in the middle, threaded all along.

    >>> round(turn_for_preload_deg(17_361, Joint(1.25, 4e-6, 4e-6, 2e-6)).usual, 1)
    30.0

    Holds and is from where `preload_by_turn_n` is. Raises ValueError for a preload below 0.
    """
    if preload_n < 0:
        raise ValueError("the preload is 0 or more")
    per_mm, give = 360 * preload_n / joint.pitch_mm, joint.give
    return Band(per_mm * give.low, per_mm * give.usual, per_mm * give.high)
