"""Which text of a machine is its newest: steps are only added, going back is one, and nothing is lost."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fingertight.store.archive import read_archive, write_archive
from fingertight.store.log.promise import Refused
from fingertight.store.writer import Writer
from tests.store.cast import ANATOMY, BENCH_1, WORKSHOP

NOON = datetime(2026, 3, 5, 12, tzinfo=UTC)


@pytest.fixture
def here(kept: ModuleType) -> Any:
    """The workshop."""
    return kept.Workshop.objects.get(pk=WORKSHOP)


@pytest.fixture
def versions(kept: ModuleType) -> ModuleType:
    """The module, on the database of `kept`."""
    return import_module("fingertight.store.versions")


def history(versions: ModuleType, here: Any) -> list[tuple[int, str, str]]:
    """Number, text and how, the newest first."""
    return [(step.number, step.text.text, step.how) for step in versions.steps_of(here, "winch")]


def keeps(kept: ModuleType, here: Any, *texts: str) -> None:
    """These texts, one after the other."""
    for text in texts:
        kept.keep_machine(here, "winch", "Winch", text, NOON, by="ada")


def test_an_old_text_that_is_kept_again_is_the_newest_version(
    kept: ModuleType, versions: ModuleType, here: Any
) -> None:
    keeps(kept, here, "one", "two", "one", "two", "three")
    assert history(versions, here) == [
        (5, "three", "kept"),
        (4, "two", "kept"),
        (3, "one", "kept"),
        (2, "two", "kept"),
        (1, "one", "kept"),
    ]
    newest = versions.newest_of(here, "winch")
    assert (newest.text, newest.number, newest.version) == ("three", 5, 5)
    assert {step.by for step in versions.steps_of(here, "winch")} == {"ada"}


def test_going_back_is_a_new_version_with_the_old_text(kept: ModuleType, versions: ModuleType, here: Any) -> None:
    keeps(kept, here, "one", "two", "three")
    again = versions.go_back(here, "winch", 1, newest=3, at=NOON, by="ben")
    assert (again.text, again.number, again.version) == ("one", 4, 1)
    assert history(versions, here)[0] == (4, "one", "back 1")
    assert versions.newest_of(here, "winch").text == "one"
    assert [text for _, text, _ in history(versions, here)[1:]] == ["three", "two", "one"]
    assert versions.go_back(here, "winch", 3, newest=4, at=NOON).number == 5
    job = kept.start_job(versions.newest_of(here, "winch"), "job-on-winch", "Bench 1", NOON)
    assert job.machine_version.text == "three"


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        ((9, 3), "This machine has no version 9. Choose one of the list."),
        ((1, 2), "Meanwhile this machine has version 3. Look at what changed, then choose again."),
        ((3, 3), "Version 3 and version 3 are the same text: there is nothing to go back to."),
        ((1, 3), "Version 1 and version 3 are the same text: there is nothing to go back to."),
    ],
)
def test_what_cannot_be_gone_back_to_is_said_and_nothing_is_added(
    kept: ModuleType, versions: ModuleType, here: Any, asked: tuple[int, int], sentence: str
) -> None:
    keeps(kept, here, "one", "two", "one")
    with pytest.raises(Refused) as refused:
        versions.go_back(here, "winch", asked[0], newest=asked[1], at=NOON)
    assert str(refused.value) == sentence
    assert len(history(versions, here)) == 3


def test_a_second_press_goes_back_only_once(kept: ModuleType, versions: ModuleType, here: Any) -> None:
    keeps(kept, here, "one", "two")
    versions.go_back(here, "winch", 1, newest=2, at=NOON)
    with pytest.raises(Refused, match="Meanwhile this machine has version 3"):
        versions.go_back(here, "winch", 1, newest=2, at=NOON)
    assert len(history(versions, here)) == 3


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.one_of(st.sampled_from(["a", "b", "c"]), st.integers(1, 6)), max_size=8))
def test_whatever_is_kept_and_gone_back_to_every_version_stays_as_it_was(
    kept: ModuleType, versions: ModuleType, here: Any, acts: list[str | int]
) -> None:
    slug = f"m{import_module('uuid').uuid4().hex}"
    expected: list[str] = []
    for act in acts:
        if isinstance(act, str):
            kept.keep_machine(here, slug, "M", act, NOON)
            expected += [act] if expected[-1:] != [act] else []
        elif act <= len(expected) and expected[act - 1] != expected[-1]:
            versions.go_back(here, slug, act, newest=len(expected), at=NOON)
            expected.append(expected[act - 1])
        assert [(step.number, step.text.text) for step in reversed(versions.steps_of(here, slug))] == list(
            enumerate(expected, 1)
        )
        newest = versions.newest_of(here, slug)
        assert (newest.text, newest.number) == (expected[-1], len(expected)) if expected else newest is None


def test_an_old_job_that_is_read_in_does_not_bring_its_old_text_back(
    kept: ModuleType, versions: ModuleType, here: Any, writer: Writer
) -> None:
    job = kept.Job.objects.get(workshop=here, id=BENCH_1)
    zipped = write_archive(kept.archive_of(job, writer.log(WORKSHOP, BENCH_1)))
    kept.keep_machine(here, "bench-fan", "Bench fan", "newer", NOON)
    taken_in = kept.keep_archive(here, read_archive(zipped)._replace(id="again"), NOON)
    assert taken_in.machine_version.text == ANATOMY
    assert versions.newest_of(here, "bench-fan").text == "newer"


def test_a_step_is_never_changed_or_deleted(kept: ModuleType, here: Any, database: Path) -> None:
    keeps(kept, here, "one", "two")
    kept.connection.close()
    with closing(sqlite3.connect(database)) as file:
        for act in ("UPDATE store_machinestep SET number = 9", "DELETE FROM store_machinestep"):
            with pytest.raises(sqlite3.DatabaseError, match="A version of a machine is never changed"):
                file.execute(act)


def test_versions_from_before_there_were_steps_have_a_step_each(database: Path) -> None:
    moved_up = import_module("fingertight.store.migrations.0005_steps").SO_FAR
    with closing(sqlite3.connect(database)) as file:
        file.execute(moved_up)
        steps = file.execute("SELECT workshop_id, slug, number, how FROM store_machinestep ORDER BY 1").fetchall()
        assert steps == [(1, "bench-fan", 1, "kept"), (2, "bench-fan", 1, "kept")]
