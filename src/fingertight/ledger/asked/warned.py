"""Where earlier jobs on the same machine went wrong, so that the next one is told before its move."""

from collections import Counter
from collections.abc import Iterable, Mapping

from fingertight.ledger.replay import Ledger

Mishap = tuple[str, str, str]
"""The way of the move (off or on), the part, the kind of the flag that was raised."""

WENT_WRONG: Mapping[str, str] = {
    "out-of-turn": "moved it before its turn",
    "shut-in": "shut something in that was still off",
    "short": "missed something of it at a count",
    "over": "had something of it left over",
    "wrong-way": "fitted it another way round than it belongs, or left its question open",
    "wrong-place": "mixed up its places",
    "spent": "fitted it with something that is used once only",
    "worn": "fitted it though a size of it is worn or undecided",
    "loose": "left out a pass of its bolts",
    "wrong-torque": "pulled its bolts to another torque, or in another unit",
    "wrong-order": "went round its bolts in a poor order",
    "unset": "forgot a setting before it",
    "unsigned": "went past a sign-off",
    "unrecorded": "noted nothing before it came off",
}
"""What is said of each kind of flag; those that are about no move stand not here."""

_OFF = {"off", "count", "lost", "note"}


def mishaps(ledger: Ledger) -> set[Mishap]:
    """What went wrong at the moves of one job, mended since or not: what was undone never happened."""
    kinds = {entry.id: entry.kind for entry in ledger.entries}
    return {
        ("off" if kinds.get(flag.entry, "on") in _OFF else "on", flag.part, flag.kind)
        for flag in ledger.state.flags
        if flag.part and flag.kind in WENT_WRONG
    }


def warnings(jobs: Iterable[set[Mishap]]) -> dict[tuple[str, str], tuple[str, ...]]:
    """What to say at each move, by way and part: the mishap of the most jobs first.

    >>> warnings([{("on", "rod", "wrong-way")}, {("on", "rod", "wrong-way")}, set()])
    {('on', 'rod'): ('2 of 3 other benches fitted it another way round than it belongs, or left its question open.',)}
    """
    all_of_them = list(jobs)
    found = Counter(mishap for job in all_of_them for mishap in job)
    said: dict[tuple[str, str], list[str]] = {}
    for (way, part, kind), count in sorted(found.items(), key=lambda one: (-one[1], one[0])):
        benches = f"{count} of {len(all_of_them)} other benches" if len(all_of_them) > 1 else "The one other bench"
        said.setdefault((way, part), []).append(f"{benches} {WENT_WRONG[kind]}.")
    return {move: tuple(lines) for move, lines in said.items()}
