"""A bench of the demo class: a share of its machine stripped, lawfully and in the order of the labels."""

import json
import secrets
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import cycle
from typing import Any

from fingertight.anatomy.read import read
from fingertight.cards.bench.bags import bag_numbers
from fingertight.ledger.asked.due import notes_before_off, signs_before_off
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from fingertight.store.archive import JobArchive
from fingertight.store.ids import uuid7
from fingertight.store.kept import keep_archive
from fingertight.store.log.promise import Kept
from fingertight.store.models import Job, MachineVersion

BETWEEN_ENTRIES = timedelta(minutes=2)

Said = dict[str, Any]


@dataclass(frozen=True)
class Bench:
    """What one bench did: which share of its bags is filled, by whose hands in turn, what it said besides at the end.

    lessons: when each lesson began; the work is spread over them, the last part ends just before `now`.
    """

    name: str
    share: float
    hands: tuple[str, ...]
    teacher: str
    lessons: tuple[datetime, ...]
    now: datetime
    besides: tuple[tuple[datetime, Said], ...] = ()


def start(version: MachineVersion, bench: Bench) -> Job:
    """The job of a bench with its log."""
    anatomy = read(version.text).anatomy
    if anatomy is None:  # what is kept is without mistakes
        raise ValueError(version.slug)
    bags = sorted(bag_numbers(anatomy).items(), key=lambda piece: int(piece[1]))
    pieces = [(part, place, bag) for (part, place), bag in bags[: round(len(bags) * bench.share)]]
    said = list(_strip(Plan(anatomy), pieces))
    timed = [*zip(_times(bench, len(said)), _signed(said, bench), strict=True), *bench.besides]
    timed.sort(key=lambda one: one[0])
    log = []
    for number, (at, entry) in enumerate(timed):
        name = uuid7(int(at.timestamp() * 1000), secrets.token_bytes(10))
        whole = {"id": name, **entry, "at": at.isoformat(timespec="seconds")}
        log.append(Kept(number + 1, name, json.dumps(whole, ensure_ascii=False), whole["at"]))
    job = uuid7(int(bench.now.timestamp() * 1000), secrets.token_bytes(10))
    begun = bench.lessons[0].isoformat()
    archive = JobArchive(job, "", bench.name, begun, version.slug, version.name, version.text, tuple(log))
    return keep_archive(version.workshop, archive, bench.now)


def _times(bench: Bench, many: int) -> Iterator[datetime]:
    """When each entry was made: the first half in the first lesson, the rest up to now."""
    first = many // 2
    for nth in range(first):
        yield bench.lessons[0] + timedelta(minutes=5) + BETWEEN_ENTRIES * nth
    began, rest = bench.lessons[-1], many - first
    for nth in range(rest):
        yield began + (bench.now - began) * (nth + 1) / (rest + 1)


def _signed(said: Sequence[Said], bench: Bench) -> Iterator[Said]:
    """By whom: the students in turn; what is to be signed by the teacher, shown by the student whose turn it is."""
    hands = cycle(bench.hands)
    for entry in said:
        hand = next(hands)
        if entry["kind"] == "sign":
            yield {**entry, "by": bench.teacher, "as": "instructor", "shown_by": hand}
        else:
            yield {**entry, "by": hand, "as": "student"}


def _strip(plan: Plan, pieces: list[tuple[str, str | None, str]]) -> Iterator[Said]:
    """The entries of an honest strip: what must be noted is noted first, what must be signed is signed first."""
    ledger = Ledger(plan)

    def heard(said: Said) -> Said:
        ledger.hear(
            {"id": str(len(ledger.entries)), "at": "2026-01-01T00:00:00Z", "by": "owner", "as": "instructor", **said}
        )
        return said

    for part, place, bag in pieces:
        for what in notes_before_off(ledger.state, part):
            yield heard({"kind": "note", "part": part, what: "invented: as on the sketch beside the bench"})
        for sign in signs_before_off(ledger.state, part):
            yield heard({"kind": "sign", "sign": sign.id})
        yield heard({"kind": "off", "part": part, "bag": bag} | ({"place": place} if place else {}))
