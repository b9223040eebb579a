"""What is kept as more than one row, or once only: a machine's text as a version, a started job, an attempt at reading,
a job out as an archive and in again."""

from __future__ import annotations

from datetime import UTC, datetime

from django.db import connection, transaction
from django.db.models import Max

from fingertight.store.archive import JobArchive
from fingertight.store.log.promise import Ended, Log, Refused, Sent
from fingertight.store.log.rows import Keeping, session_on
from fingertight.store.models import Attempt, Job, LabelPrinter, MachineVersion, Workshop
from fingertight.store.school.tables import TeacherLine
from fingertight.store.versions import kept_text, next_version


def keep_machine(
    workshop: Workshop, slug: str, name: str, text: str, kept: datetime, *, by: str = ""
) -> MachineVersion:
    """The machine has exactly this text from now on: the one it has, or a new version with the next number."""
    return next_version(workshop, slug, name, text, kept, by=by)


@transaction.atomic
def keep_printer(
    workshop: Workshop, name: str, nudge_mm: tuple[float, float], scale: tuple[float, float]
) -> LabelPrinter:
    """What a printer misses by, to the right and down [mm], and its scales; a known name is measured anew."""
    missing = {"nudge_x_mm": nudge_mm[0], "nudge_y_mm": nudge_mm[1], "scale_x": scale[0], "scale_y": scale[1]}
    return LabelPrinter.objects.update_or_create(workshop=workshop, name=name, defaults=missing)[0]


def keep_line(version: MachineVersion, move: tuple[str, str], text: str) -> None:
    """What the teacher says at a move (way, part) of a machine; "" takes it back."""
    TeacherLine.objects.update_or_create(
        workshop=version.workshop, machine=version.slug, way=move[0], part=move[1], defaults={"text": text}
    )


def keep_attempt(workshop: Workshop, attempt_id: str, *, who: str, instrument: str, seed: int, typed: str) -> bool:
    """An attempt at reading an instrument is kept, once however often it is sent; whether it was new.

    One row in a transaction of its own: it waits its turn behind the writer of entries, and holds nothing up.
    """
    said = {"who": who, "instrument": instrument, "seed": seed, "typed": typed, "at": datetime.now(UTC)}
    return Attempt.objects.get_or_create(workshop=workshop, id=attempt_id, defaults=said)[1]


@transaction.atomic
def start_job(version: MachineVersion, job_id: str, bench: str, started: datetime, title: str = "") -> Job:
    """A new job on this machine with its next number: "Pump engine no. 7", unless it has a title of its own."""
    jobs = Job.objects.filter(workshop=version.workshop, machine=version.slug)
    number = 1 + (jobs.aggregate(last=Max("number"))["last"] or 0)
    return Job.objects.create(
        workshop=version.workshop,
        id=job_id,
        slug=f"{version.slug}-{number}",
        number=number,
        title=title or f"{version.name} no. {number}",
        bench=bench,
        started=started,
        machine=version.slug,
        machine_sha256=version.sha256,
    )


def archive_of(job: Job, log: Log) -> JobArchive:
    """A job as it stands now, with its machine's text and its whole log."""
    version = job.machine_version
    return JobArchive(
        job.id,
        job.title,
        job.bench,
        job.started.astimezone(UTC).isoformat(),
        job.machine,
        version.name,
        version.text,
        log.after(),
    )


@transaction.atomic
def keep_archive(workshop: Workshop, archive: JobArchive, now: datetime) -> Job:
    """The job of an archive, kept in this workshop with all its entries, or not at all.

    An entry without an arrival time (its log was a file) arrives now.

    Raises Refused when the workshop has this job or one of its entries already.
    """
    here = Job.objects.filter(workshop=workshop, id=archive.id).first()
    if here:
        raise Refused(f"This job is here already: {here.title}. Open it instead.")
    # An old job does not bring the machine's old text back for everybody: the text is only kept.
    version = kept_text(workshop, archive.machine, archive.anatomy) or keep_machine(
        workshop, archive.machine, archive.machine_name, archive.anatomy, now
    )
    started = datetime.fromisoformat(archive.started)
    job = start_job(version, archive.id, archive.bench, started, archive.title)
    keeping = Keeping(session_on(connection.vendor, connection.connection))
    for entry in archive.log:
        receipt = keeping.keep(workshop.pk, job.id, Sent(entry.id, entry.body), entry.arrived or now.isoformat())
        if receipt.ended is not Ended.NEW:
            because = receipt.because or "This workshop has it already in another job."
            raise Refused(f"Entry {entry.seq} of the log cannot be kept: {because} Nothing was taken in.")
    return job
