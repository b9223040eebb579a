"""One thread writes all entries of a process. Callers hand in, wait, and are woken when theirs are on the disk.

The thread takes whatever has gathered into one transaction, so that thirty tablets share one sync of the disk.
"""

import atexit
import os
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, SimpleQueue

from fingertight.store.log import rows
from fingertight.store.log.promise import ChainCheck, Head, Kept, NotKept, Receipt, Refused, Sent

MOST_ROWS = 200  # what one transaction gathers before it is closed; one caller's entries stay together
LOOK_AGAIN_S = 1.0


class _HandedIn:
    """What one caller handed in, and how it ended."""

    def __init__(self, workshop: int, job: str, sent: Sequence[Sent], arrived: str) -> None:
        self.workshop, self.job, self.sent, self.arrived = workshop, job, sent, arrived
        self.done = threading.Event()
        self.receipts: tuple[Receipt, ...] = ()
        self.failed: NotKept | None = None

    def end(self, failed: NotKept | None = None) -> None:
        """Wake the caller."""
        self.failed = failed
        self.done.set()


class Writer:
    """The one that writes a workshop's database: one per database and process (`writer_of`), stopped at the end.

    Raises Refused when there is no such database.
    """

    def __init__(self, database: rows.Address) -> None:
        self.database = database
        self._handed_in: SimpleQueue[_HandedIn | None] = SimpleQueue()
        self._idle_readers: deque[rows.Session] = deque()
        self._stopping = False
        self._session = rows.open_session(database)
        self._thread = threading.Thread(target=self._write_until_stopped, name="entry writer", daemon=True)
        self._thread.start()

    def append(self, workshop: int, job: str, sent: Sequence[Sent], arrived: str) -> tuple[Receipt, ...]:
        """Keep entries of a job; returns once they are on the disk, with how each ended, in their order.

        Raises Refused when `arrived` is no time, and NotKept when nothing could be kept: the disk is full, another
        program holds the database for longer than it may, or the writer has stopped.
        """
        handed_in = _HandedIn(workshop, job, tuple(sent), rows.checked_time(arrived))
        if self._stopping:
            raise NotKept("The workshop is closing: nothing more is kept. Send the entry again once it is open.")
        self._handed_in.put(handed_in)
        while not handed_in.done.wait(LOOK_AGAIN_S):
            if not self._thread.is_alive() and not handed_in.done.is_set():
                raise _dead()
        if handed_in.failed:
            raise handed_in.failed
        return handed_in.receipts

    def log(self, workshop: int, job: str) -> "JobLog":
        """The log of one job, read and written through this writer."""
        return JobLog(self, workshop, job)

    def change(self, workshop: int) -> int:
        """A number that grows with every entry kept anywhere in the workshop."""
        with self.reading() as session:
            return rows.change(session, workshop)

    @contextmanager
    def reading(self) -> Iterator[rows.Session]:
        """A connection that may only read, lent to one thread at a time."""
        try:
            session: rows.Session | None = self._idle_readers.pop()
        except IndexError:
            session = None
        if session is None or not session.is_open:
            session = rows.open_session(self.database, only_read=True)
        try:
            yield session
        finally:
            self._idle_readers.append(session)

    def stop(self) -> None:
        """Keep what was handed in, then end. Handing in afterwards raises NotKept."""
        self._stopping = True
        self._handed_in.put(None)
        self._thread.join()
        while self._idle_readers:
            self._idle_readers.pop().close()

    def _write_until_stopped(self) -> None:
        stopping = False
        try:
            while not stopping:
                batch, stopping = self._gathered()
                if batch:
                    self._commit(batch)
        finally:
            # Ended by `stop`, or by a fault nobody foresaw (Python prints it): nobody may wait for it any more.
            self._stopping = True
            self._session.close()
            self._refuse_the_rest()

    def _gathered(self) -> tuple[list[_HandedIn], bool]:
        """Wait for one, then take what is there already; and whether the end was called for."""
        batch: list[_HandedIn] = []
        many = 0
        next_one = self._handed_in.get()
        while next_one is not None:
            batch.append(next_one)
            many += len(next_one.sent)
            if many >= MOST_ROWS:
                return batch, False
            try:
                next_one = self._handed_in.get_nowait()
            except Empty:
                return batch, False
        return batch, True

    def _commit(self, batch: Sequence[_HandedIn]) -> None:
        """Keep a batch in one transaction, then wake its callers. A fault of the database fails the batch alone."""
        failed: NotKept | None = _dead()
        try:
            if not self._session.is_open:
                self._session = rows.open_session(self.database)
            with _transaction(self._session):
                keeping = rows.Keeping(self._session)
                for one in batch:
                    one.receipts = tuple(keeping.keep(one.workshop, one.job, entry, one.arrived) for entry in one.sent)
            failed = None
        except self._session.FAULTS as fault:
            failed = NotKept(f'Nothing was kept: the database says "{fault}". Look at the disk, then send it again.')
        except Refused as away:
            failed = NotKept(f"Nothing was kept: {away} Then send it again.")
        finally:
            for one in batch:
                one.end(failed)

    def _refuse_the_rest(self) -> None:
        while True:
            try:
                left = self._handed_in.get_nowait()
            except Empty:
                return
            if left:
                left.end(_dead())


class JobLog:
    """The log of one job in the database: what `promise.Log` promises."""

    def __init__(self, writer: Writer, workshop: int, job: str) -> None:
        self._writer, self._workshop, self._job = writer, workshop, job

    def append(self, sent: Sequence[Sent], arrived: str) -> tuple[Receipt, ...]:
        """Keep what is new; see `promise.Log`."""
        return self._writer.append(self._workshop, self._job, sent, arrived)

    def after(self, seq: int = 0) -> tuple[Kept, ...]:
        """The entries after number `seq`."""
        with self._writer.reading() as session:
            return rows.after(session, self._workshop, self._job, seq)

    def head(self) -> Head:
        """How far this log goes."""
        with self._writer.reading() as session:
            return rows.head(session, self._workshop, self._job)

    def change(self) -> int:
        """A number that grows with every entry kept anywhere in the workshop."""
        return self._writer.change(self._workshop)

    def check(self, noted: Head | None = None) -> ChainCheck:
        """Follow the hash chain."""
        with self._writer.reading() as session:
            return rows.check(session, self._workshop, self._job, noted)


@contextmanager
def _transaction(session: rows.Session) -> Iterator[None]:
    session.begin()
    try:
        yield
        session.commit()
    except BaseException:
        session.roll_back()
        raise


def _dead() -> NotKept:
    return NotKept(
        "Nothing is kept any more: the writer of this workshop has ended. Start fingertight again, then send it again."
    )


_writers: dict[tuple[int, rows.Address], Writer] = {}
_one_at_a_time = threading.Lock()


def writer_of(database: rows.Address) -> Writer:
    """The writer of a database in this process: made at first asking, stopped when the process ends.

    Raises Refused when there is no such database.
    """
    with _one_at_a_time:
        key = (os.getpid(), database.absolute() if isinstance(database, Path) else database)
        if key not in _writers:
            _writers[key] = Writer(database)
            atexit.register(_writers[key].stop)
        return _writers[key]
