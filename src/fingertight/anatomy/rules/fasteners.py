"""Rules about fastener sets: threads and heads that exist, positions, orders and passes that can be done."""

from collections import Counter
from collections.abc import Iterator

from fingertight.anatomy.mistakes import Mends, Path, Wrong, out, put
from fingertight.anatomy.model import UNTHREADED
from fingertight.anatomy.rules.said import Table, number, numbers, short, tables, text, whole
from fingertight.quantity import plain
from fingertight.tighten.bolts.reach import Reach, reach
from fingertight.tighten.spanners.heads import NoSuchHead, NoSuchSpanner, spanner_for
from fingertight.tighten.threads.names import NoSuchThread, thread_named

_LONGEST_LIST = 10
# No thread here is coarser: what stands after M6x and is more than this is a length.
_COARSEST_MM = 8


def _sets(said: Table) -> Iterator[tuple[Path, Table]]:
    for path, part in tables(said, "part"):
        yield from tables(part, "held_by", path)


def _called(path: Path) -> str:
    return f"fastener set {int(path[-1]) + 1}"


def threads_and_heads(said: Table) -> Iterator[Wrong]:
    """A thread, head or driver that does not exist; a set with both thread and kind, or neither."""
    for path, fasteners in _sets(said):
        if ("thread" in fasteners) == ("kind" in fasteners):
            yield _thread_and_kind(path, "thread" in fasteners)
        thread, head = text(fasteners, "thread"), text(fasteners, "head")
        if thread is None:
            continue
        try:
            known = thread_named(thread[:80])
            if head and "spanner" not in fasteners:
                spanner_for(known, head[:80])
        except NoSuchThread as missing:
            wrong = f"There is no thread “{short(thread)}” in the tables."
            bolt, near = _with_its_length(thread), missing.nearest
            mends = put((*path, "thread"), near[0]) if len(near) == 1 and bolt is None else _bolt_mends(path, bolt)
            yield Wrong((*path, "thread"), "no-such-thread", wrong, _thread_mend(bolt, near), mends)
        except NoSuchHead as missing:
            wrong = f"There is no head “{short(head or '')}” here."
            mend = f'Write {" or ".join(missing.nearest)}, or name the driver: spanner = "10 mm".'
            yield Wrong((*path, "head"), "no-such-head", wrong, mend)
        except NoSuchSpanner as missing:
            yield Wrong((*path, "head"), "no-spanner", str(missing), 'Name the driver: spanner = "10 mm".')


def _thread_and_kind(path: Path, both: bool) -> Wrong:
    wrong = f"F{_called(path)[1:]} has {'both a thread and a kind' if both else 'neither a thread nor a kind'}."
    mend = f'Write thread = "M6", or kind = "{UNTHREADED[0]}" for what has no thread.'
    return Wrong(path, "thread-and-kind", wrong, "Keep one of the two." if both else mend)


def _with_its_length(thread: str) -> tuple[str, float] | None:
    """A bolt written with its length is the commonest slip of all: M6x28 is M6, 28 mm long."""
    size, _, length = (part.strip() for part in thread.replace("×", "x").partition("x"))
    if length.isascii() and length.replace(".", "", 1).isdigit() and len(length) < _LONGEST_LIST:
        try:
            if float(length) > _COARSEST_MM:
                return thread_named(size).name, float(length)
        except NoSuchThread:
            pass
    return None


def _bolt_mends(path: Path, bolt: tuple[str, float] | None) -> Mends:
    return ((*put((*path, "thread"), bolt[0])[0], *put((*path, "length"), bolt[1])[0]),) if bolt else ()


def _thread_mend(bolt: tuple[str, float] | None, nearest: tuple[str, ...]) -> str:
    if bolt:
        return f'Write thread = "{bolt[0]}" and length = {plain(bolt[1])}.'
    return f"Write {' or '.join(nearest)}." if nearest else "Write it as in M6, M6x0.75, 1/4-20 UNC or #10-24."


def reaches(said: Table) -> Iterator[Wrong]:
    """A bolt that bottoms before it clamps, or is too short to hold: found here, before it is tightened."""
    for path, fasteners in _sets(said):
        thread, length, grip = text(fasteners, "thread"), number(fasteners.get("length")), number(fasteners.get("grip"))
        depth = number(fasteners.get("depth"))
        if thread is None or length is None or grip is None or min(length, depth or length) <= 0 or grip < 0:
            continue
        try:
            diameter = thread_named(thread[:80]).diameter_mm
        except NoSuchThread:
            continue
        reached = reach(length, grip, diameter, depth)
        called = f"{_called(path)} ({thread}x{plain(length)})"
        if reached.word is Reach.TOO_LONG:
            wrong = (
                f"The bolts of {called} bottom {plain(round(reached.by_mm, 2))} mm before they clamp {plain(grip)} mm."
            )
            mend = (
                f"Write the length they have, at most {plain(round(grip + (depth or 0), 2))}, or how deep the hole is."
            )
            yield Wrong((*path, "length"), "too-long", wrong, mend)
        elif reached.word is Reach.TOO_SHORT:
            least = plain(round(length + reached.by_mm, 2))
            engaged = plain(round(max(reached.engaged_mm, 0), 2))
            wrong = f"The bolts of {called} reach {engaged} mm into the hole; they hold from {least} mm of length on."
            yield Wrong((*path, "length"), "too-short", wrong, "Write the length they have, or what they clamp.")


def positions(said: Table) -> Iterator[Wrong]:
    """As many positions as fasteners, no two at one place."""
    for path, fasteners in _sets(said):
        places, count = _places(fasteners), whole(fasteners, "count")
        if count and places and count != len(places):
            wrong = (
                f"F{_called(path)[1:]} counts {count}, but “at” has {len(places)} position{'s' * (len(places) > 1)}."
            )
            mend = f"Write {count} positions, or count = {len(places)}."
            ways = (*put((*path, "count"), len(places)), *out((*path, "at")))
            yield Wrong((*path, "at"), "count-positions", wrong, mend, ways)
        seen: dict[tuple[float, ...], int] = {}
        for index, place in enumerate(places):
            spot = tuple(numbers({"at": place}, "at"))
            if len(spot) == 2 and spot in seen:
                wrong = f"Positions {seen[spot] + 1} and {index + 1} of {_called(path)} are the same."
                yield Wrong((*path, "at", index), "same-position", wrong, "Write where this one is.")
            seen.setdefault(spot, index)


def _places(fasteners: Table) -> list[object]:
    found = fasteners.get("at")
    return found if isinstance(found, list) else []


def orders(said: Table) -> Iterator[Wrong]:
    """A given pattern needs an order with each position once; no other pattern has one."""
    for path, fasteners in _sets(said):
        order, pattern = fasteners.get("order"), fasteners.get("pattern")
        count = whole(fasteners, "count") or len(_places(fasteners)) or 1
        if pattern == "given" and (order is None or order == []):
            example = ", ".join(str(one) for one in range(1, min(count, _LONGEST_LIST) + 1))
            mend = f"Write order = [{example}], as they are tightened."
            yield Wrong((*path, "pattern"), "order-positions", "The pattern is given, but no order is.", mend)
        if not isinstance(order, list) or not order or any(type(one) is not int for one in order):
            continue
        if pattern != "given":
            mend = 'Write pattern = "given", or take the order out.'
            ways = (*put((*path, "pattern"), "given"), *out((*path, "order")))
            wrong = "An order stands here, but the pattern is not given."
            yield Wrong((*path, "order"), "order-positions", wrong, mend, ways)
        if sorted(order) != list(range(1, count + 1)):
            wrong = f"The order of {_called(path)} must name each position from 1 to {count} once."
            yield Wrong((*path, "order"), "order-positions", wrong, _order_mend(order, count))


def _order_mend(order: list[int], count: int) -> str:
    inside = range(1, count + 1)
    missing = [one for one in inside if one not in order]
    again = [one for one, times in Counter(order).items() if times > 1 and one in inside]
    beyond = [one for one in dict.fromkeys(order) if one not in inside and abs(one) < 1e9]
    mends = []
    for verb, ones in (("Add", missing), ("Write only once", again), ("Take out", beyond)):
        if ones:
            mends.append(f"{verb} {', '.join(str(one) for one in ones[:_LONGEST_LIST])}.")
    return " ".join(mends) or "Write each position once."


def passes(said: Table) -> Iterator[Wrong]:
    """Passes are shares of the torque, from small to large, and the last is the whole."""
    for path, fasteners in _sets(said):
        shares = numbers(fasteners, "passes")
        too_large = next((index for index, share in enumerate(shares) if share > 1), None)
        if too_large is not None:
            wrong = f"A pass of {shares[too_large]:g} is more than the whole torque; passes are shares of it."
            here = (*path, "passes", too_large)
            meant = _pass_shares(shares, number(fasteners.get("torque")))
            mend = f"Write passes = [{', '.join(plain(share) for share in meant[:_LONGEST_LIST])}]."
            yield Wrong(here, "pass-share", wrong, mend, put((*path, "passes"), tuple(meant)))
            continue
        for index in range(1, len(shares)):
            if shares[index] < shares[index - 1]:
                wrong = f"A pass of {shares[index]:g} comes after one of {shares[index - 1]:g}."
                yield Wrong((*path, "passes", index), "pass-share", wrong, "Write the passes from small to large.")
        if shares and max(shares) < 1:
            wrong = f"The last pass is {plain(shares[-1])} of the torque: the whole is never reached."
            here, whole_too = (*path, "passes", len(shares) - 1), put((*path, "passes"), (*shares, 1.0))
            yield Wrong(here, "pass-share", wrong, "Add 1.0 as the last pass.", whole_too)


def _pass_shares(shares: list[float], torque: float | None) -> list[float]:
    """Percent, or torques themselves, are written by mistake: either way the largest is the whole."""
    whole_torque = torque if torque and torque >= max(shares) else max(shares)
    return [round(share / whole_torque, 3) for share in shares]
