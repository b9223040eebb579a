"""The demo workshop of a first start: the example machines, two benches on the pump engine. All of it is invented."""

import json
import secrets
from collections.abc import Iterator
from datetime import datetime, timedelta
from importlib.resources import files
from typing import Any

from fingertight.anatomy.read import read
from fingertight.cards.bench.bags import bag_numbers
from fingertight.ledger.asked.due import notes_before_off, signs_before_off
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from fingertight.store.archive import JobArchive
from fingertight.store.ids import uuid7
from fingertight.store.kept import keep_archive, keep_machine
from fingertight.store.log.promise import Kept
from fingertight.store.models import MachineVersion, Workshop

NAME = "Demo workshop (invented)"
SHOWN_ON = "pump-engine"
BETWEEN_ENTRIES = timedelta(minutes=2)

Said = dict[str, Any]


def make_demo(now: datetime) -> bool:
    """Make the demo workshop in an empty database. False when there is a workshop already: then nothing changes."""
    if Workshop.objects.exists():
        return False
    workshop = Workshop.objects.create(name=NAME)
    for file in sorted(files("fingertight.examples").iterdir(), key=lambda file: file.name):
        if file.name.endswith(".toml"):
            text = file.read_text("utf-8")
            anatomy = read(text).anatomy
            if anatomy is not None:
                keep_machine(workshop, file.name.removesuffix(".toml"), anatomy.machine.name, text, now)
    shown = MachineVersion.objects.get(workshop=workshop, slug=SHOWN_ON)
    _start(workshop, shown, "Bench 4", 0.0, now)
    _start(workshop, shown, "Bench 7", 0.5, now)
    return True


def _start(workshop: Workshop, version: MachineVersion, bench: str, share: float, now: datetime) -> None:
    """A bench with a share of its machine stripped, lawfully and in the order of the labels."""
    anatomy = read(version.text).anatomy
    if anatomy is None:  # what is kept is without mistakes
        raise ValueError(version.slug)
    bags = sorted(bag_numbers(anatomy).items(), key=lambda piece: int(piece[1]))
    pieces = [(part, place, bag) for (part, place), bag in bags[: round(len(bags) * share)]]
    said = list(_strip(Plan(anatomy), pieces))
    first = now - BETWEEN_ENTRIES * len(said)
    log = []
    for number, entry in enumerate(said):
        at = first + BETWEEN_ENTRIES * number
        name = uuid7(int(at.timestamp() * 1000), secrets.token_bytes(10))
        whole = {"id": name, **entry, "at": at.isoformat(timespec="seconds"), "by": "owner", "as": "instructor"}
        log.append(Kept(number + 1, name, json.dumps(whole, ensure_ascii=False), whole["at"]))
    job = uuid7(int(now.timestamp() * 1000), secrets.token_bytes(10))
    archive = JobArchive(job, "", bench, first.isoformat(), version.slug, version.name, version.text, tuple(log))
    keep_archive(workshop, archive, now)


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
