"""What the full torque of a fastener set does to its bolts: how hard each pulls, and what gives when it is too much."""

from dataclasses import dataclass

from fingertight.anatomy.model import FastenerSet
from fingertight.cards.sums.tighten.wrench import digits
from fingertight.cards.tighten.words import engaged_mm
from fingertight.quantity import plain
from fingertight.tighten.spanners.heads import NoSuchHead, head_named
from fingertight.tighten.threads.names import NoSuchThread, thread_named
from fingertight.tighten.torque.borne import Bolted, Borne, bolted, borne_torque
from fingertight.tighten.torque.friction import NoSuchBearing, surface_named, surface_taken
from fingertight.tighten.torque.strength import NoSuchGrade, NoSuchStrength, Strain, class_of_nut, grade_meant

_SEIZES = "Stainless steel seizes: turn it slowly."


@dataclass(frozen=True, slots=True)
class Pull:
    """A sentence on the preload, and one of caution where bolt or hole will not bear it; "" where there is none."""

    says: str
    caution: str


def pull_of(fasteners: FastenerSet) -> Pull:
    """What does the torque of this set do to each of its bolts, whatever the torque?

    Asked of `borne_torque`, with the class, surface, head and hole the file states. Nothing is said where the file has
    no torque, no class of strength that a table has for this thread, or a head that bears on nothing known.
    """
    if not (fasteners.torque and fasteners.thread and fasteners.grade):
        return Pull("", "")
    try:
        bolt = _bolted(fasteners, fasteners.thread)
    except (NoSuchThread, NoSuchGrade, NoSuchStrength, NoSuchHead, NoSuchBearing):
        return Pull("", "")
    under = borne_torque(bolt, fasteners.torque)
    cautions = [_too_much(under, fasteners.torque), _SEIZES if bolt.may_seize else ""]
    return Pull(_says(under, bolt, fasteners), " ".join(filter(None, cautions)))


def _bolted(fasteners: FastenerSet, name: str) -> Bolted:
    thread, head = thread_named(name), head_named(fasteners.head or "hex").name
    grade, engaged = grade_meant(fasteners.grade, thread, head), engaged_mm(fasteners)
    surface = surface_named(fasteners.surface, grade.material) if fasteners.surface else surface_taken(grade.material)
    into = (fasteners.into or "") if engaged is not None and engaged > 0 else ""
    return bolted(thread, grade, surface, head, into=into, engaged_mm=engaged)


def _says(under: Borne, bolt: Bolted, fasteners: FastenerSet) -> str:
    share = under.share_of_proof
    low, usual, high = (plain(round(one * 100)) for one in (share.low, share.usual, share.high))
    # A nut carries its own class: the bolt that was reckoned with is named.
    is_nuts = class_of_nut(fasteners.grade) and bolt.grade.is_metric
    of = f"the proof load of its {bolt.grade.name} bolt" if is_nuts else "the proof load"
    taken = "" if fasteners.surface else f", taken {'with paste' if bolt.surface.name == 'paste' else 'as oiled'}"
    return (
        f"The full torque usually pulls {digits(under.preload.usual / 1000)} kN, {usual} % of {of}; "
        f"{low} to {high} % as friction scatters{taken}."
    )


def _too_much(under: Borne, torque_nm: float) -> str:
    """Only what usually happens is cautioned against: what might happen to the slipperiest is in the band."""
    does = ""
    if under.strips is not None and under.strips_usually:
        does = under.strips.value
    elif under.strain in {Strain.OVER, Strain.BREAKS}:
        does = f"a bolt of this class may {'break' if under.strain is Strain.BREAKS else 'stretch for good'}"
    ask = "Ask before you pull: the maker’s data come first, and this file may be wrong."
    return f"{digits(torque_nm)} N·m is too much here: {does}. {ask}" if does else ""
