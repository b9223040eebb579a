"""The ledger of each job, kept in memory and folded on: looked up, never trusted over what the store has.

A ledger is read and brought up to date under its own lock, because asking it what may move settles what it remembers.
"""

import json
import threading
from collections import OrderedDict
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path

from django.conf import settings

from fingertight.anatomy.read import read
from fingertight.cards.bench.bags import Bags, bag_numbers
from fingertight.cards.bench.page import JobName
from fingertight.ledger.entry import NotAnEntry, read_entry
from fingertight.ledger.plan import Plan
from fingertight.ledger.replay import Ledger
from fingertight.store.archive import JobArchive
from fingertight.store.log.promise import Kept, Log, Refused
from fingertight.store.log.rows import Address
from fingertight.store.models import Job
from fingertight.store.writer import writer_of
from fingertight.web.lesson.courses import marks_of_job
from fingertight.web.pages.assets import stamp

MOST_JOBS = 200


class LiveJob:
    """One job in memory: its ledger up to entry `seq`, the bag meant for each piece, and what could not be read."""

    def __init__(self, job: Job) -> None:
        self.lock = threading.Lock()
        self.plan, self.bags = plan_of(job.machine_sha256, job.machine_version.text)
        self.ledger = Ledger(self.plan)
        self.seq = 0
        self.unread: list[str] = []

    def catch_up(self, log: Log) -> None:
        """Fold on what was kept since."""
        for entry in log.after(self.seq):
            try:
                self.ledger.hear(json.loads(entry.body))
            except NotAnEntry as wrong:
                self.unread.append(f"Entry {entry.seq} is left out: {wrong}")
            self.seq = entry.seq


_live: OrderedDict[tuple[str, int, str, str], LiveJob] = OrderedDict()
_finding = threading.Lock()


@lru_cache(maxsize=64)
def plan_of(sha256: str, text: str) -> tuple[Plan, Bags]:
    """The plan of a machine's text, and the bags its labels name; made once per text."""
    anatomy = read(text).anatomy
    if anatomy is None:  # only a text without mistakes is ever kept
        raise ValueError(f"the kept text {sha256} is no anatomy")
    return Plan(anatomy), bag_numbers(anatomy)


def log_of(job: Job) -> Log:
    """The log of a job, through the one writer."""
    return writer_of(database()).log(job.workshop.pk, job.id)


def database() -> Address:
    """Where everything is: a file of SQLite, or the address of a PostgreSQL database."""
    said = settings.DATABASES["default"]
    if said["ENGINE"].endswith("sqlite3"):
        return Path(said["NAME"])
    from psycopg.conninfo import make_conninfo  # only where it is used: a laptop needs no PostgreSQL

    named = {"host": said["HOST"], "port": said["PORT"], "user": said["USER"], "password": said["PASSWORD"]}
    return make_conninfo(dbname=said["NAME"], **{name: value for name, value in named.items() if value})


@contextmanager
def ledger_of(job: Job) -> Iterator[LiveJob]:
    """The job as it is now, for one thread at a time."""
    key = (str(database()), job.workshop.pk, job.id, job.machine_sha256)
    with _finding:
        live = _live.get(key) or LiveJob(job)
        _live[key] = live
        _live.move_to_end(key)
        while len(_live) > MOST_JOBS:
            _live.popitem(last=False)
    with live.lock:
        live.catch_up(log_of(job))
        yield live


def mark(job: Job) -> str:
    """What changes when anything about the job does: the ETag of its pages."""
    return mark_of(job, log_of(job).head().seq)


def is_seen(job: Job, seen: str | None) -> bool:
    """Whether the ETag a page sends back is that of the job as it is; packing on the way makes an ETag weak (W/)."""
    return seen is not None and seen.removeprefix("W/") == mark(job)


def mark_of(job: Job, seq: int) -> str:
    """The ETag of the job after entry `seq` and of the lesson at its bench, as this version of the program shows it."""
    return f'"{stamp()}-{job.slug}-{seq}{marks_of_job(job)}"'


def check_archive(archive: JobArchive) -> None:
    """Raises Refused unless the job's machine text is without mistakes and every entry of its log can be read."""
    anatomy = read(archive.anatomy).anatomy
    if anatomy is None:
        raise Refused("The machine's file in this zip has mistakes. Mend it where the job came from, and export again.")
    check_log(Plan(anatomy), archive.log)


def check_log(plan: Plan, log: Iterable[Kept]) -> None:
    """Raises Refused unless every entry can be read for the machine of this plan."""
    for entry in log:
        try:
            read_entry(json.loads(entry.body), plan)
        except NotAnEntry as wrong:
            raise Refused(f"Entry {entry.seq} of the log: {wrong} Nothing was taken in.") from None


def name_of(job: Job) -> JobName:
    """What the cards call a job."""
    return JobName(job.slug, job.bench, job.title, job.machine)
