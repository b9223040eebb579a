"""What each person did with their own hands, from the logs of every bench they stood at."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from fingertight.ledger.entry import Entry
from fingertight.ledger.plan import Plan, listed
from fingertight.ledger.replay import Ledger

FEWEST: Final = 12
"""So many entries must be there before anything is said of who wrote them (common practice, no source)."""
MOST_SHARE: Final = 0.8
"""From this share on one person does the work of the bench (common practice, no source)."""
HANDS_ON: Final = ("off", "on", "tighten", "reading", "set")
"""The entries that stand for a hand on the machine."""
SHOWN_BY: Final = "shown_by"
"""The field of a `sign` that says who showed the work; a log keeps it like any field it does not know."""


@dataclass(frozen=True, slots=True)
class Did:
    """One thing done: at which job, by which entry of which kind, to what, and when [s since 1970]."""

    job: str
    entry: str
    kind: str
    what: str
    when: float


@dataclass(frozen=True, slots=True)
class Hands:
    """All one person did, each kind of work in the order it was done."""

    person: str
    off: tuple[Did, ...] = ()
    on: tuple[Did, ...] = ()
    passes: tuple[Did, ...] = ()
    readings: tuple[Did, ...] = ()
    settings: tuple[Did, ...] = ()
    signs: tuple[Did, ...] = ()
    counts: tuple[Did, ...] = ()


@dataclass(frozen=True, slots=True)
class OneSided:
    """One person does nearly all the work of a bench: who, which share [0 to 1], of how many entries."""

    person: str
    share: float
    of: int


def hands_of(person: str, ledgers: Sequence[tuple[str, Ledger]]) -> Hands:
    """What has this person done with their own hands, at these jobs (name and ledger)?

    What is struck through is left out. A sign-off is its instructor's entry, but the work of the person in its field
    `shown_by`: without one it counts for nobody, and written by anybody but an instructor it is none.

    >>> from fingertight.anatomy.model import Anatomy
    >>> box = Anatomy.model_validate({"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}]})
    >>> ledger = Ledger(Plan(box))
    >>> ledger.hear({"id": "1", "kind": "off", "at": "2026-03-05T09:00:00Z", "by": "s-07", "part": "lid"})
    True
    >>> [did.what for did in hands_of("s-07", [("Bench 1", ledger)]).off], hands_of("s-08", [("Bench 1", ledger)]).off
    (['Lid'], ())
    """
    done: dict[str, list[Did]] = {kind: [] for kind in (*HANDS_ON, "sign", "count")}
    for job, ledger in ledgers:
        for entry in _standing(ledger):
            if entry.kind in done and _whose(entry) == person:
                what = _what(entry, ledger.plan)
                done[entry.kind].append(Did(job, entry.id, entry.kind, what, entry.when))
    sorted_ = {kind: tuple(sorted(each, key=_when)) for kind, each in done.items()}
    return Hands(
        person=person,
        off=sorted_["off"],
        on=sorted_["on"],
        passes=sorted_["tighten"],
        readings=sorted_["reading"],
        settings=sorted_["set"],
        signs=sorted_["sign"],
        counts=sorted_["count"],
    )


def not_yet(hands: Hands, ledger: Ledger) -> tuple[str, ...]:
    """Which kinds of work does this machine offer that the person has never done? A sentence for each.

    Parts that this very machine lacks offer nothing, nor does a part that stays come off or go on.

    >>> from fingertight.anatomy.model import Anatomy
    >>> box = Anatomy.model_validate({"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}]})
    >>> not_yet(Hands("s-07"), Ledger(Plan(box)))
    ('Took nothing off yet.', 'Fitted nothing yet.')
    """
    plan, moves = ledger.plan, ledger.state.moves
    here = [part for part in plan.anatomy.parts if not moves.is_absent(part.id)]
    moved = any(not part.stays for part in here)
    offered = (
        (moved, hands.off, "Took nothing off yet."),
        (moved, hands.on, "Fitted nothing yet."),
        (any(plan.parts[part.id].torqued for part in here), hands.passes, "Tightened nothing to a torque yet."),
        (any(not check.gap for check in plan.anatomy.checks), hands.readings, "Read no size yet."),
        (bool(plan.anatomy.settings), hands.settings, "Set nothing yet."),
        (bool(plan.anatomy.signs), hands.signs, "Showed nothing for a sign-off yet."),
    )
    return tuple(sentence for is_offered, done, sentence in offered if is_offered and not done)


def one_sided(ledger: Ledger, people: Sequence[str]) -> OneSided | None:
    """Does one of these people do nearly all the work of their bench? None where not, or too little was done to tell.

    Counted are entries of kind off, on, tighten, reading and set by these people: at least `FEWEST` of them, and one
    person with `MOST_SHARE` or more. Somebody alone at a bench is never one-sided.

    >>> from fingertight.anatomy.model import Anatomy
    >>> box = Anatomy.model_validate({"format": 1, "machine": {"name": "Box"}, "part": [{"id": "lid"}]})
    >>> ledger = Ledger(Plan(box))
    >>> for minute in range(10, 22):
    ...     said = {"id": f"{minute}", "kind": "off", "by": "s-07", "part": "lid"}
    ...     _ = ledger.hear({**said, "at": f"2026-03-05T09:{minute}:00Z"})
    >>> one_sided(ledger, ["s-07", "s-08"])
    OneSided(person='s-07', share=1.0, of=12)
    """
    together = set(people)
    if len(together) < 2:
        return None
    counts = Counter(entry.by for entry in _standing(ledger) if entry.kind in HANDS_ON and entry.by in together)
    total = counts.total()
    if total < FEWEST:
        return None
    person, most = counts.most_common(1)[0]
    share = most / total
    return OneSided(person, share, total) if share >= MOST_SHARE else None


def _standing(ledger: Ledger) -> list[Entry]:
    struck = ledger.struck()
    return [entry for entry in ledger.entries if entry.id not in struck]


def _when(did: Did) -> float:
    return did.when


def _whose(entry: Entry) -> str | None:
    """Whose work an entry stands for; None: nobody's."""
    if entry.kind != "sign":
        return entry.by
    shown_by = entry.said.get(SHOWN_BY)
    return shown_by if isinstance(shown_by, str) and entry.by_instructor else None


def _what(entry: Entry, plan: Plan) -> str:
    said = entry.said
    match entry.kind:
        case "reading":
            return plan.anatomy.check_by_id[said["check"]].title
        case "set":
            return plan.anatomy.setting_by_id[said["setting"]].title
        case "sign":
            return plan.anatomy.sign_by_id[said["sign"]].title
        case "count":
            bags = said.get("bags") or {}
            named = [f"{'Bag' if len(bags) == 1 else 'Bags'} {listed(bags)}"] if bags else []
            tools = ["tools" if bags else "Tools"] if said.get("tools") else []
            return "; ".join([*named, *tools]) or "Nothing"
        case _:
            return plan.parts[said["part"]].piece_name(said.get("place"))
