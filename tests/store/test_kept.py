"""Machines' texts by version, jobs by number, and a job carried from one workshop to another."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from fingertight.store.archive import read_archive, write_archive
from fingertight.store.log.promise import Kept, Refused
from fingertight.store.writer import Writer
from tests.store.cast import ANATOMY, BENCH_1, NEXT_DOOR, NINE, WORKSHOP, as_sent, entries, entry
from tests.store.test_append_only import SETTINGS

NOON = datetime(2026, 3, 5, 12, tzinfo=UTC)
ODD = "# Öl\r\nformat = 1\n\t \u2028"


def _job(kept: ModuleType, workshop: int = WORKSHOP, job: str = BENCH_1) -> object:
    return kept.Job.objects.get(workshop=workshop, id=job)


def test_django_s_connection_has_every_setting_entries_rely_on(kept: ModuleType) -> None:
    with kept.connection.cursor() as cursor:
        read_back = {name: cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in SETTINGS}
    assert read_back == SETTINGS
    assert kept.connection.transaction_mode == "IMMEDIATE"


def test_a_new_text_is_a_new_version_and_the_text_there_is_now_is_not(kept: ModuleType) -> None:
    workshop = kept.Workshop.objects.get(pk=WORKSHOP)
    texts = [ODD, "second", "second", "third"]
    versions = [kept.keep_machine(workshop, "winch", "Winch", text, NOON).version for text in texts]
    assert versions == [1, 2, 2, 3]
    assert kept.MachineVersion.objects.get(workshop=workshop, slug="winch", version=1).text == ODD


def test_versions_count_for_each_machine_and_each_workshop(kept: ModuleType) -> None:
    here, there = kept.Workshop.objects.order_by("pk")
    assert kept.keep_machine(here, "winch", "Winch", "one", NOON).version == 1
    assert kept.keep_machine(here, "bench-fan", "Bench fan", "one", NOON).version == 2
    assert kept.keep_machine(there, "winch", "Winch", "one", NOON).version == 1


def test_jobs_on_a_machine_are_numbered_and_named_after_it(kept: ModuleType) -> None:
    version = _job(kept).machine_version
    job = kept.start_job(version, "job-3", "Bench 4", NOON)
    assert (job.number, job.slug, job.title) == (3, "bench-fan-3", "Bench fan no. 3")
    newer = kept.keep_machine(version.workshop, version.slug, "Bench fan", "a newer text", NOON)
    job = kept.start_job(newer, "job-4", "Bench 4", NOON, title="The squeaky one")
    assert (job.number, job.title) == (4, "The squeaky one")
    assert job.machine_version.text == "a newer text"


def test_a_job_carried_to_another_workshop_is_the_same_job_there(kept: ModuleType, writer: Writer) -> None:
    writer.append(WORKSHOP, BENCH_1, entries(20), NINE)
    writer.append(WORKSHOP, BENCH_1, [entry("late")], "2026-03-05T10:00:00Z")
    log = writer.log(WORKSHOP, BENCH_1)
    zipped = write_archive(kept.archive_of(_job(kept), log))

    kept.Job.objects.get(workshop=NEXT_DOOR, id=BENCH_1).delete()
    there = kept.Workshop.objects.get(pk=NEXT_DOOR)
    job = kept.keep_archive(there, read_archive(zipped), NOON)
    copy = writer.log(NEXT_DOOR, BENCH_1)
    assert copy.after() == log.after()
    assert copy.check(log.head()).ended.value == "whole"
    assert (job.title, job.number, job.machine_version.text) == ("Bench fan no. 1", 3, ANATOMY)
    assert write_archive(kept.archive_of(_job(kept, NEXT_DOOR), copy)) == zipped
    assert writer.append(NEXT_DOOR, BENCH_1, [entry("e22")], NINE)[0].seq == 22
    assert writer.change(NEXT_DOOR) == 22


def test_a_job_that_is_here_already_is_not_taken_in_again(kept: ModuleType, writer: Writer) -> None:
    writer.append(WORKSHOP, BENCH_1, entries(2), NINE)
    archive = kept.archive_of(_job(kept), writer.log(WORKSHOP, BENCH_1))
    with pytest.raises(Refused, match=r"This job is here already: Bench fan no\. 1\. Open it instead\."):
        kept.keep_archive(kept.Workshop.objects.get(pk=WORKSHOP), archive, NOON)


def test_nothing_of_a_job_is_taken_in_when_one_entry_cannot_be(kept: ModuleType, writer: Writer) -> None:
    writer.append(WORKSHOP, BENCH_1, entries(5), NINE)
    archive = kept.archive_of(_job(kept), writer.log(WORKSHOP, BENCH_1))
    fresh = archive._replace(id="new-job", machine="winch", anatomy="a new text")
    new = [Kept(seq, one.id, one.body, NINE) for seq, one in enumerate(entries(4, start=11), start=1)]
    last_is_known = fresh._replace(log=(*new, fresh.log[4]))
    with pytest.raises(
        Refused, match=r"Entry 5 of the log cannot be kept: This workshop has it already in another job"
    ):
        kept.keep_archive(kept.Workshop.objects.get(pk=WORKSHOP), last_is_known, NOON)
    assert not kept.Job.objects.filter(id="new-job").exists()
    assert not kept.MachineVersion.objects.filter(slug="winch").exists()
    assert writer.change(WORKSHOP) == 5


def test_a_log_without_arrival_times_arrives_now(kept: ModuleType, writer: Writer) -> None:
    archive = kept.archive_of(_job(kept), writer.log(WORKSHOP, BENCH_1))
    log = tuple(Kept(seq, one.id, one.body, "") for seq, one in enumerate(entries(3), start=1))
    kept.keep_archive(kept.Workshop.objects.get(pk=WORKSHOP), archive._replace(id="from-a-file", log=log), NOON)
    assert {one.arrived for one in writer.log(WORKSHOP, "from-a-file").after()} == {NOON.isoformat()}


def test_a_job_cannot_be_deleted_from_under_its_entries(kept: ModuleType, writer: Writer) -> None:
    from django.db.utils import IntegrityError

    writer.append(WORKSHOP, BENCH_1, entries(1), NINE)
    with pytest.raises(IntegrityError, match="FOREIGN KEY"):
        _job(kept).delete()
    assert as_sent(writer.log(WORKSHOP, BENCH_1).after()) == entries(1)


def test_what_a_printer_misses_by_is_kept_for_each_workshop(kept: ModuleType) -> None:
    from fingertight.store.models import LabelPrinter

    for workshop in kept.Workshop.objects.all():
        LabelPrinter.objects.create(workshop=workshop, name="Office", nudge_x_mm=workshop.pk / 10)
    mine = LabelPrinter.objects.get(workshop=NEXT_DOOR, name="Office")
    assert (mine.nudge_x_mm, mine.nudge_y_mm, mine.scale_x, mine.scale_y) == (0.2, 0.0, 1.0, 1.0)


def test_a_database_that_cannot_hold_the_entry_table_is_said_to_be_so(
    kept: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    from django.db import NotSupportedError

    make_entry_table = import_module("fingertight.store.migrations.0001_first").make_entry_table
    elsewhere = SimpleNamespace(connection=SimpleNamespace(vendor="oracle"))
    with pytest.raises(NotSupportedError, match="no SQL for oracle"):
        make_entry_table(None, elsewhere)
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 36, 0))
    with pytest.raises(NotSupportedError, match=r"Use a Python with SQLite 3\.37 or newer"):
        make_entry_table(None, SimpleNamespace(connection=kept.connection))


def test_every_table_of_this_room_leads_its_key_with_the_workshop(database: Path) -> None:
    with closing(sqlite3.connect(database)) as connection:
        tables = [name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        ours = [name for name in tables if name == "entry" or (name.startswith("store_") and name != "store_workshop")]
        recorded = {"store_recordedmachine", "store_recordedentry", "store_photo"}
        people = {"store_person", "store_schoolclass", "store_classbench", "store_member", "store_classentry"}
        listed = {"store_attempt", "store_job", "store_labelprinter", "store_machineversion", "store_machinestep"}
        assert set(ours) == {"entry", "store_sharedtool", "store_teacherline"} | people | listed | recorded
        for table in ours:
            for _, index, unique, _, _ in connection.execute(f"PRAGMA index_list({table})").fetchall():
                first = connection.execute(f"PRAGMA index_info({index})").fetchone()[2]
                assert first in ("workshop", "workshop_id")
                assert unique
