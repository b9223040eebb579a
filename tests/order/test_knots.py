"""Machines that cannot be stripped or built back: the ring that is named is really one, and really to blame."""

from fingertight.order import Knot, Moves, Rules, Stands, knots, knots_before
from tests.order import by_the_text
from tests.order.machines import Machine, tangled
from tests.order.seeds import for_seeds


def _furthest(machine: Machine) -> Moves:
    """All off that can ever come off."""
    moves = Moves(Rules(machine.values()))
    for number in moves.rules.sweep():
        moves.took(moves.rules.ids[number])
    return moves


def _in_the_way_of(part: str, furthest: Moves) -> set[str]:
    said = furthest.in_the_way(part)
    return {*said.behind, *(other for way in said.ways for other in way)}


def _blames(furthest: Moves, part: str) -> set[str]:
    """The part, what is in its way for ever, and what is in the way of that."""
    found, waiting = {part}, [part]
    while waiting:
        more = _in_the_way_of(waiting.pop(), furthest) - found
        found |= more
        waiting += more
    return found


@for_seeds(600)
def test_every_ring_is_of_different_parts_that_never_come_off_each_with_the_next_in_its_way(seed: int) -> None:
    machine = tangled(seed)
    furthest, found = _furthest(machine), knots(Rules(machine.values()))
    stuck = {part for part in furthest.on() if not machine[part].stays}
    assert bool(stuck) == any(knot.code != "never-on" for knot in found)
    for knot in found:
        ring = knot.ring
        assert len(set(ring)) == len(ring)
        if knot.code == "never-off":
            part, staying = ring
            assert part in stuck
            assert machine[staying].stays
            assert staying in _in_the_way_of(part, furthest)
        if knot.code == "ring":
            assert set(ring) <= stuck
            assert all(
                after in _in_the_way_of(part, furthest) for part, after in zip(ring, ring[1:] + ring[:1], strict=True)
            )


def _can_be_built_back(machine: Machine) -> bool:
    """By trying every sequence of parts that may go on, after a whole strip."""
    start = frozenset(part for part in machine if not machine[part].stays)
    seen, waiting = {start}, [start]
    while waiting:
        off = waiting.pop()
        if not off:
            return True
        for part in by_the_text.may_go_on(off, by_the_text.NOBODY, machine):
            if off - {part} not in seen:
                seen.add(off - {part})
                waiting.append(off - {part})
    return False


@for_seeds(300)
def test_a_machine_that_comes_off_whole_is_said_never_to_go_back_exactly_when_no_sequence_builds_it(seed: int) -> None:
    machine = tangled(seed, most=6)
    # Every blocking of the strip is loosened, so that the question is the rebuild alone.
    loose = {part.id: part._replace(behind=part.behind[:1], stays=False) for part in machine.values()}
    rules = Rules(loose.values())
    if len(rules.sweep()) < len(loose):
        loose = {part.id: part._replace(behind=(), ways=part.ways[:1], stays=False) for part in machine.values()}
        rules = Rules(loose.values())
    if len(rules.sweep()) < len(loose):
        loose = {part.id: Stands(part.id, fit_after=part.fit_after) for part in machine.values()}
        rules = Rules(loose.values())
    found = knots(rules)
    assert {knot.code for knot in found} <= {"never-on"}
    assert bool(found) != _can_be_built_back(loose)


@for_seeds(300)
def test_of_a_part_that_never_comes_off_the_knot_named_first_is_in_its_own_way(seed: int) -> None:
    machine = tangled(seed)
    furthest = _furthest(machine)
    for part in machine:
        found = knots_before(furthest.rules, part)
        assert bool(found) == (part in furthest.on())
        if found and not machine[part].stays:
            assert set(found[0].ring) <= _blames(furthest, part)


def test_of_two_knots_the_one_in_this_parts_way_is_named() -> None:
    rules = Rules(
        [
            Stands("case", stays=True),
            Stands("pin", ["case"]),
            Stands("left", ["right"]),
            Stands("right", ["left"]),
            Stands("cap", ["left"]),
        ]
    )
    assert [knot.ring for knot in knots(rules)] == [("pin", "case"), ("left", "right")]
    assert knots_before(rules, "cap")[0].ring == ("left", "right")
    assert knots_before(rules, "pin")[0].ring == ("pin", "case")


def test_a_part_behind_one_that_stays_is_named_with_it_and_what_is_behind_that_part_blames_the_same_two() -> None:
    rules = Rules([Stands("case", stays=True), Stands("liner", ["case"]), Stands("ring", ["liner"])])
    assert knots(rules) == [Knot("never-off", ("liner", "case"), ("liner", "ring"))]
    assert knots_before(rules, "ring")[0].ring == ("liner", "case")
    assert knots_before(rules, "case")[0].ring == ("case", "case")


def test_a_part_all_of_whose_ways_lead_through_what_stays_is_named_with_one_of_these() -> None:
    rules = Rules([Stands("case", stays=True), Stands("bed", stays=True), Stands("pin", ways=[["case"], ["bed"]])])
    assert knots(rules)[0].ring == ("pin", "case")


def test_a_part_with_a_way_through_what_stays_and_another_way_comes_off() -> None:
    rules = Rules([Stands("case", stays=True), Stands("cap"), Stands("pin", ways=[["case"], ["cap"]])])
    assert knots(rules) == []


def test_a_part_behind_itself_is_a_ring_of_one() -> None:
    assert knots(Rules([Stands("bush", ["bush"])]))[0].ring == ("bush",)


def test_parts_that_come_off_but_wait_for_each_other_on_the_way_back_are_named_as_such() -> None:
    rules = Rules([Stands("seal", fit_after=["cover"]), Stands("cover", fit_after=["seal"])])
    (knot,) = knots(rules)
    assert (knot.code, set(knot.ring)) == ("never-on", {"seal", "cover"})
    assert knots_before(rules, "seal") == []
    assert knot.sentence({"seal": "Seal", "cover": "Cover"}) == (
        "These parts can never go back, whatever is tried first: Seal, which waits for Cover, which waits for Seal."
    )


def test_the_sentence_of_a_ring_names_each_part_and_the_first_again() -> None:
    said = Knot("ring", ("a", "b", "c"), ()).sentence({"a": "Hub", "b": "Nut", "c": "Key"})
    assert said == (
        "These parts block each other, so none of them can ever come off: "
        "Hub, which waits for Nut, which waits for Key, which waits for Hub."
    )
