"""What was read, set, borrowed and renewed on each example machine. All invented."""

from collections.abc import Mapping
from dataclasses import dataclass

from making.drafts import Draft, student, teacher


@dataclass(frozen=True)
class Machine:
    """One example machine as the bench met it."""

    file: str
    lessons: tuple[str, ...]
    hour: str
    lesson_min: float
    readings: Mapping[str, tuple[float, ...]]
    settings: Mapping[str, float | str]
    notes: Mapping[str, str]
    """The wiring map of a part, as written down."""
    shared: tuple[str, ...]
    """Tools the workshop has few of, borrowed for the strip …"""
    shared_again: tuple[str, ...]
    """… and for the rebuild."""
    at_once: tuple[str, ...] = ()
    """Settings made as soon as they can be, before the bolts of that part are tightened."""
    absent: tuple[str, ...] = ()
    typed_with_comma: tuple[str, ...] = ()
    in_order: Mapping[str, tuple[int, ...]] | None = None
    """Parts whose bolts the bench logged one by one, in this order."""


VICE = Machine(
    file="bench-vice",
    lessons=("2026-01-15", "2026-01-22"),
    hour="08:10",
    lesson_min=50,
    readings={"washer-thickness": (2.94, 2.93), "spring-length": (39.2,)},
    settings={"jaw-gap": 0.05, "swivel": "yes"},
    notes={},
    shared=("pin punch 4 mm",),
    shared_again=("pin punch 4 mm",),
    absent=("dust-plate",),
    typed_with_comma=("spring-length",),
)

WINCH = Machine(
    file="hand-winch",
    lessons=("2026-01-29", "2026-02-05", "2026-02-12", "2026-02-19"),
    hour="09:45",
    lesson_min=75,
    readings={
        "disc-outer": (3.62, 3.58, 3.60),
        "disc-inner": (3.26, 3.26, 3.28),
        "pawl-spring-length": (18.20, 16.80),
        "bush-bore": (30.12, 30.16, 30.11, 30.15),
        "drum-shaft-journal": (29.95, 29.94, 29.95, 29.95),
        "drum-end-float": (0.74,),
    },
    settings={"brake-gap": 0.40, "shift-throw": "yes, both", "grease": "yes"},
    notes={},
    shared=("two-leg puller", "hand press"),
    shared_again=("hand press", "bearing drift set"),
    typed_with_comma=("drum-end-float",),
)

PUMP = Machine(
    file="pump-engine",
    lessons=(
        "2026-02-26", "2026-03-05", "2026-03-12", "2026-03-19", "2026-03-26",
        "2026-04-16", "2026-04-23", "2026-04-30",
    ),
    hour="13:30",
    lesson_min=75,
    readings={
        "compression": (5.2,),
        "crank-end-float": (0.18,),
        "head-flatness": (0.03, 0.03, 0.04),
        "valve-guide": (5.518, 5.524),
        "valve-stem": (5.462, 5.455),
        "valve-spring-length": (33.60, 33.40),
        "bore": (68.05, 68.06, 68.04, 68.05, 68.03, 68.04),
        "piston-skirt": (67.96,),
        "ring-gap-top": (1.08,),
        "ring-gap-second": (0.62,),
        "gudgeon-pin-size": (17.992, 17.990, 17.993),
        "crankpin": (29.962, 29.966, 29.961, 29.965),
        "big-end-bore": (30.03, 30.04),
        "main-journals": (25.004, 25.005, 25.003, 25.004),
        "cam-lobes": (27.661, 27.618),
        "friction-outer": (2.86, 2.84, 2.86),
        "friction-inner": (2.64, 2.62, 2.64),
        "chain-length": (115.20,),
    },
    settings={
        "plug-gap": 0.75, "chain-slack": 5.0, "lash-inlet": 0.15, "lash-exhaust": 0.20, "coil-gap": 0.40,
        "governor": "yes", "clutch-oil": "yes", "engine-oil": 580.0, "true-top": 0.5, "cam-timing": 1.5,
    },
    notes={"kill-wire": "black, switch to coil: under the rim clip, behind the coil leg; green, switch to earth bolt"},
    shared=(
        "flywheel holder", "flywheel puller", "valve spring compressor", "ring expander", "two-leg puller",
        "bearing puller", "bearing drift set", "hot-air gun",
    ),
    shared_again=(
        "flywheel holder", "valve spring compressor", "ring expander", "ring compressor", "bearing drift set",
        "hot-air gun", "seal driver 25",
    ),
    at_once=("lash-inlet", "lash-exhaust", "coil-gap"),
    typed_with_comma=("piston-skirt", "ring-gap-second"),
    in_order={"head": (1, 3, 2, 4), "fan-shroud": (2, 4, 5, 1, 3)},
)  # fmt: skip

MACHINES = (VICE, WINCH, PUMP)


def after_reading(check: str) -> list[Draft]:
    """What the bench and the instructor did about a reading that was not simply good."""
    if check == "friction-inner":
        return [
            teacher("decide", check=check, verdict="good"),
            teacher("note", part="friction-plate-inner", text="Good for one more year; order a plate."),
        ]
    if check == "ring-gap-top":
        new = [{"value": 0.28}]
        return [
            student("note", part="ring-top", text="Gap 1.08, limit 1.00: ring is worn."),
            student("renew", by="s-08", part="ring-top", count=1),
            student("reading", check=check, values=new, unit="mm", instrument="feeler", minutes=2),
        ]
    if check == "pawl-spring-length":
        both = [{"at": "upper", "value": 19.02}, {"at": "lower", "value": 19.04}]
        return [
            student("renew", by="s-08", part="pawl-spring", count=2),
            student("reading", check=check, values=both, unit="mm", instrument="calliper", minutes=2),
        ]
    return []
