"""Entries on PostgreSQL: kept once, in order, by many at once; never changed; a bad one spoils no other."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import closing

import pytest

from fingertight.store.log import postgres
from fingertight.store.log.lines import LinesLog
from fingertight.store.log.promise import Chain, Ended, NotKept, Refused, Sent
from fingertight.store.writer import Writer
from tests.store.cast import BENCH_1, BENCH_2, NINE, WORKSHOP, as_sent, entries, entry


@pytest.fixture
def writer(address: str):  # type: ignore[no-untyped-def]
    """The writer of this test's database."""
    made = Writer(address)
    yield made
    made.stop()


def test_an_entry_is_kept_once_and_comes_back_as_it_was_sent(writer: Writer) -> None:
    sent = entries(3)
    assert [one.ended for one in writer.append(WORKSHOP, BENCH_1, sent, NINE)] == [Ended.NEW] * 3
    again = writer.append(WORKSHOP, BENCH_1, sent, NINE)
    assert [(one.ended, one.seq) for one in again] == [(Ended.HAD, 1), (Ended.HAD, 2), (Ended.HAD, 3)]
    assert as_sent(writer.log(WORKSHOP, BENCH_1).after()) == sent
    assert writer.log(WORKSHOP, BENCH_1).check().ended is Chain.WHOLE


def test_a_bad_row_does_not_spoil_its_neighbours(writer: Writer) -> None:
    bad = [
        Sent("e8", "no JSON"),
        Sent("e9", '{"id": "another"}'),
        Sent("e10", '{"id":\n"e10"}'),
        Sent("", '{"id": ""}'),
    ]
    first, *wrong, last = writer.append(WORKSHOP, BENCH_1, [entry("e1"), *bad, entry("e2")], NINE)
    assert (first.ended, first.seq, last.ended, last.seq) == (Ended.NEW, 1, Ended.NEW, 2)
    assert [one.ended for one in wrong] == [Ended.REFUSED] * len(bad)
    assert all("not one JSON object on one line with this very id" in one.because for one in wrong)
    (nowhere,) = writer.append(WORKSHOP, "no such job", [entry("e3")], NINE)
    assert nowhere.because == "There is no such job in this workshop. Start the job first, or open the right one."


def test_an_id_of_another_job_is_had_there(writer: Writer) -> None:
    writer.append(WORKSHOP, BENCH_2, entries(2), NINE)
    (had,) = writer.append(WORKSHOP, BENCH_1, [entry("e2")], NINE)
    assert (had.ended, had.job, had.seq) == (Ended.HAD, BENCH_2, 2)


def test_eight_at_once_from_two_programs_on_one_job_lose_nothing(address: str) -> None:
    """The trap of ON CONFLICT without a target lost three in four here; so many are all there, in one chain."""
    writers = [Writer(address), Writer(address)]
    each = [[entry(f"w{who}-{nth}") for nth in range(200)] for who in range(8)]

    def tap(who: int) -> list[Ended]:
        mine = writers[who % 2]
        return [mine.append(WORKSHOP, BENCH_1, [one], NINE)[0].ended for one in each[who]]

    with ThreadPoolExecutor(8) as threads:
        ended = [one for many in threads.map(tap, range(8)) for one in many]
    assert ended == [Ended.NEW] * 1600
    log = writers[0].log(WORKSHOP, BENCH_1)
    assert [one.seq for one in log.after()] == list(range(1, 1601))
    assert log.check().ended is Chain.WHOLE
    assert writers[1].change(WORKSHOP) == 1600
    for one in writers:
        one.stop()


@pytest.mark.parametrize("table", ["entry", "store_machineversion", "store_machinestep", "store_classentry"])
@pytest.mark.parametrize("act", ["UPDATE {} SET {} = {}", "DELETE FROM {}", "TRUNCATE {} CASCADE"])
def test_what_is_kept_is_never_changed(address: str, table: str, act: str) -> None:
    import psycopg

    column = {
        "entry": "arrived",
        "store_machineversion": "name",
        "store_machinestep": "how",
        "store_classentry": "body",
    }[table]
    writer = Writer(address)
    writer.append(WORKSHOP, BENCH_1, entries(2), NINE)
    writer.stop()
    with closing(postgres.connect(address)) as connection:
        connection.execute(
            "INSERT INTO store_classentry (workshop_id, class_slug, seq, id, body) VALUES (%s, 'c', 1, 'i', '{}')",
            (WORKSHOP,),
        )
        connection.execute(
            "INSERT INTO store_machinestep (workshop_id, slug, number, sha256, at, by, how)"
            " SELECT workshop_id, slug, version, sha256, kept, '', 'kept' FROM store_machineversion",
        )
        before = connection.execute(f"SELECT * FROM {table}").fetchall()
        with pytest.raises(psycopg.errors.RaiseException, match="never changed"):
            connection.execute(act.format(table, column, column))
        assert connection.execute(f"SELECT * FROM {table}").fetchall() == before


def test_a_role_that_owns_nothing_adds_entries_and_can_do_no_more(address: str) -> None:
    import psycopg
    from psycopg.conninfo import make_conninfo

    with closing(postgres.connect(address)) as owner:
        owner.execute("DROP ROLE IF EXISTS bench_app")
        owner.execute("CREATE ROLE bench_app LOGIN")
        for statement in postgres.ROLE:
            owner.execute(statement.format(role="bench_app"))
        as_app = make_conninfo(address, user="bench_app")
        writer = Writer(as_app)
        assert writer.append(WORKSHOP, BENCH_1, entries(1), NINE)[0].ended is Ended.NEW
        writer.stop()
        with closing(postgres.connect(as_app)) as app:
            for act in (
                "UPDATE entry SET arrived = ''",
                "DELETE FROM entry",
                "TRUNCATE entry",
                "ALTER TABLE entry DISABLE TRIGGER ALL",
                "DROP TABLE entry",
            ):
                with pytest.raises(psycopg.errors.InsufficientPrivilege):
                    app.execute(act)
        owner.execute("DROP OWNED BY bench_app")
        owner.execute("DROP ROLE bench_app")


def test_what_changed_behind_the_triggers_is_seen_by_the_chain(address: str) -> None:
    writer = Writer(address)
    writer.append(WORKSHOP, BENCH_1, entries(3), NINE)
    with closing(postgres.connect(address)) as owner:
        owner.execute("ALTER TABLE entry DISABLE TRIGGER ALL")
        owner.execute("UPDATE entry SET body = replace(body, 'Bench 1', 'Bench 2') WHERE seq = 2")
    found = writer.log(WORKSHOP, BENCH_1).check()
    assert (found.ended, found.at) == (Chain.BROKEN, 2)
    writer.stop()


def test_moving_up_from_a_file_keeps_the_chain(writer: Writer, tmp_path) -> None:  # type: ignore[no-untyped-def]
    lines = LinesLog(tmp_path / "bench.jsonl")
    lines.append(entries(20), NINE)
    log = writer.log(WORKSHOP, BENCH_1)
    log.append(as_sent(lines.after()), NINE)
    assert log.head() == lines.head()


def test_a_server_that_is_away_is_said_and_what_was_handed_in_is_not_called_kept(address: str) -> None:
    with pytest.raises(Refused, match="The database does not answer"):
        postgres.connect(address.replace("dbname=", "dbname=no_such_"))
    writer = Writer(address)
    with closing(postgres.connect(address)) as other:
        mine = other.execute("SELECT pg_backend_pid()").fetchone()
        assert mine
        other.execute(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> %s AND datname = current_database()",
            mine,
        )
    with pytest.raises(NotKept):
        writer.append(WORKSHOP, BENCH_1, entries(1), NINE)
    assert writer.append(WORKSHOP, BENCH_1, entries(1), NINE)[0].ended is Ended.NEW
    writer.stop()
