"""All the sums there are, each in the module of its family; only the one that is asked for is read."""

from importlib import import_module

from fingertight.cards.sums.asked import Sum

# The module of each sum, in the order they are offered.
WHERE: dict[str, str] = {
    "thread": "tighten.thread",
    "identify": "tighten.identify",
    "spanner": "tighten.spanner",
    "torque": "tighten.torque",
    "wrench": "tighten.wrench",
    "pattern": "tighten.pattern",
    "measure": "measure.measure",
    "instrument": "measure.instrument",
    "bore": "measure.workshop.bore",
    "clearance": "measure.workshop.clearance",
    "shim": "measure.workshop.shim",
    "runout": "measure.workshop.runout",
    "fit": "measure.workshop.fit",
    "study": "measure.study",
    "piston": "setting.timing.piston",
    "tdc": "setting.timing.tdc",
    "timing": "setting.timing.events",
    "teeth": "setting.timing.teeth",
    "rim": "setting.timing.rim",
    "feeler": "setting.gaps.feeler",
    "coil": "setting.gaps.coil",
    "ring-gap": "setting.gaps.ring_gap",
    "compression": "setting.cylinder.compression",
    "cranking": "setting.cylinder.cranking",
    "leakdown": "setting.cylinder.leakdown",
    "clutch": "setting.drive.clutch",
    "ratio": "setting.drive.ratio",
    "chain": "setting.drive.chain",
    "oil": "setting.drive.oil",
}


def sum_named(name: str) -> Sum:
    """The sum of this name.

    Raises KeyError when there is none.
    """
    found: Sum = import_module(f"fingertight.cards.sums.{WHERE[name]}").SUM
    return found


# What the families are called, by the folder their sums stand in, in the order they are shown.
FAMILIES: dict[str, str] = {
    "tighten": "Tighten",
    "measure": "Measure",
    "setting.timing": "Time it",
    "setting.gaps": "Set its gaps",
    "setting.cylinder": "Cylinder",
    "setting.drive": "Drive and oil",
}


def by_family() -> tuple[tuple[str, tuple[Sum, ...]], ...]:
    """Each family with its sums, in the order they are offered."""
    return tuple(
        (title, tuple(sum_named(name) for name, where in WHERE.items() if where.startswith(f"{folder}.")))
        for folder, title in FAMILIES.items()
    )


def every_sum() -> tuple[Sum, ...]:
    """All of them, in the order they are offered."""
    return tuple(sum_named(name) for name in WHERE)
