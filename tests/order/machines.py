"""Machines nobody would build, by seed and by hypothesis: with ways, fit_after, parts that stay, and without."""

import random
from collections.abc import Sequence

from hypothesis import strategies as st

from fingertight.anatomy.model import Anatomy
from fingertight.order import Stands

Machine = dict[str, Stands]


def tangled(seed: int, most: int = 9) -> Machine:
    """Anything goes: parts in each other's way, rings, parts behind what stays."""
    chance = random.Random(seed)
    ids = [f"p{number}" for number in range(chance.randint(2, most))]

    def some(how_many: int, not_this: str) -> list[str]:
        others = [other for other in ids if other != not_this]
        return chance.sample(others, min(len(others), how_many))

    return {
        part: Stands(
            part,
            some(chance.choice([0, 1, 1, 2]), part) if chance.random() < 0.5 else [],
            [some(chance.choice([1, 1, 2]), part) for _ in range(chance.choice([0, 0, 2, 3]))],
            some(1, part) if chance.random() < 0.25 else [],
            chance.random() < 0.04,
        )
        for part in ids
    }


def layered(seed: int, parts: int, *, ways: bool = True, window: int = 50) -> Machine:
    """Each part waits only for parts before it, so that everything comes off; some have two ways out."""
    chance = random.Random(seed)
    machine: Machine = {}
    for number in range(parts):
        before = [f"p{other}" for other in range(max(0, number - window), number)]
        behind = chance.sample(before, min(len(before), chance.choice([1, 1, 1, 2])))
        two = ways and len(before) > 3 and chance.random() < 0.3
        machine[f"p{number}"] = Stands(
            f"p{number}", behind, [chance.sample(before, 2) for _ in range(2)] if two else []
        )
    return machine


@st.composite
def strippable(draw: st.DrawFn, most: int = 10, *, fit_after: bool = False) -> Machine:
    """A machine that comes off whole, its parts in any sequence; with `fit_after` one that goes back whole, too."""
    count = draw(st.integers(1, most))
    names = draw(st.permutations([f"p{number}" for number in range(count)]))
    machine: Machine = {}
    for number, part in enumerate(names):
        before = st.sampled_from(names[:number]) if number else st.nothing()
        several = st.lists(before, max_size=2, unique=True) if number else st.just([])
        one_way = st.lists(before, min_size=1, max_size=2, unique=True)
        # One way leads through earlier parts; what other ways ask for does not matter.
        other_ways = st.lists(st.lists(st.sampled_from(names), min_size=1, max_size=2, unique=True), max_size=2)
        ways = [draw(one_way), *draw(other_ways)] if number and draw(st.booleans()) else []
        ways = [way for way in ways if part not in way]
        later = names[number + 1 :]
        after = draw(st.lists(st.sampled_from(later), max_size=1)) if fit_after and later else []
        machine[part] = Stands(part, draw(several), ways, after)
    return {part: machine[part] for part in sorted(machine)}


def as_anatomy(parts: Machine, *, rests: Sequence[str] = (), **said: dict[str, object]) -> Anatomy:
    """The same machine as a machine file says it, `said` with further keys of its parts (`p0={"minutes": 2}`)."""
    return Anatomy.model_validate(
        {
            "format": 1,
            "machine": {"name": "Nobody's machine", "rests": list(rests)},
            "part": [
                {
                    "id": part.id,
                    "behind": list(part.behind),
                    "ways": [list(way) for way in part.ways],
                    "fit_after": list(part.fit_after),
                    "stays": part.stays,
                    **said.get(part.id, {}),
                }
                for part in parts.values()
            ],
        }
    )


def leaning(seed: int, parts: int = 8) -> Machine:
    """Hardly anything but ways of one part each, to and fro, so that parts lean on each other in circles."""
    chance = random.Random(seed)
    ids = [f"p{number}" for number in range(parts)]
    machine = {}
    for number, part in enumerate(ids):
        others = [other for other in ids if other != part]
        ways = [[other] for other in chance.sample(others, chance.choice([1, 2, 2, 3]))]
        after = chance.sample(others, 1) if chance.random() < 0.1 else []
        machine[part] = Stands(part, (), ways if number > 1 else (), after)
    return machine
