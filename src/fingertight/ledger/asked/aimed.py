"""How far a job is that only wants to get at some parts."""

from dataclasses import dataclass

from fingertight.ledger.state import State


@dataclass(frozen=True, slots=True)
class Aimed:
    """wanted: the parts; way: what comes off for them, in order; left: what of it is still on; arrived: whether all
    that is wanted is off."""

    wanted: tuple[str, ...]
    way: tuple[str, ...]
    left: tuple[str, ...]
    arrived: bool


def aimed(state: State) -> Aimed | None:
    """How far is the job on its way? None for one that strips everything.

    What is wanted is on the way, whatever the log says; what this machine does not have is off.
    """
    if not state.aim:
        return None
    way = tuple(dict.fromkeys((*state.way, *state.aim)))
    left = [part for part in way if not (state.moves.is_off(part) or state.moves.is_absent(part))]
    arrived = not set(state.aim) & set(left)
    return Aimed(state.aim, way, () if arrived else tuple(left), arrived)
