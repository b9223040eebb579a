"""A log as a JSON Lines file: an entry a line, in the order of arrival. What the command line and an exported zip use.

The file holds the entries and nothing else, so arrival times are not kept, and the chain is computed from the text:
that a line was changed is only seen against a head noted elsewhere.
"""

import json
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from fingertight.store.log.chain import follow, head_of, linked
from fingertight.store.log.promise import ChainCheck, Ended, Head, Kept, NotKept, Receipt, Refused, Sent, read_entry

if sys.platform != "win32":
    import fcntl

LARGEST_BYTES = 50_000_000
MOST_SENTENCES = 20
UTF8_MARK = b"\xef\xbb\xbf"


def read_lines(raw: bytes, name: str) -> tuple[Sent, ...]:
    """Which entries stand in these bytes, in their order, known ids included? `name` is said in refusals.

    >>> [entry.id for entry in read_lines(b'{"id": "e1"}\\n{"id": "e2"}\\n', "fan.jsonl")]
    ['e1', 'e2']

    Blank lines, a UTF-8 mark at the start and Windows line ends are read past.
    Raises Refused with a sentence for each line that is not an entry, or one when the whole is not UTF-8 or too large.
    """
    if len(raw) >= LARGEST_BYTES:
        raise _too_large(name, len(raw))
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in raw:
        raise Refused(f"{name} is not UTF-8 text (perhaps UTF-16). {_MEND_UTF8}")
    entries: list[Sent] = []
    wrong: list[str] = []
    lines = raw.removeprefix(UTF8_MARK).split(b"\n")
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            entries.append(read_entry(line.removesuffix(b"\r").decode()))
        except (UnicodeDecodeError, Refused) as fault:
            because = str(fault) if isinstance(fault, Refused) else f"byte {fault.start + 1} is not UTF-8. {_MEND_UTF8}"
            wrong.append(f"{name}, line {number}: {_HALF if number == len(lines) and _is_half(line) else because}")
    if len(wrong) > MOST_SENTENCES:
        wrong[MOST_SENTENCES:] = [f"{name}: {len(wrong) - MOST_SENTENCES} more lines are not entries."]
    if wrong:
        raise Refused(*wrong)
    return tuple(entries)


_MEND_UTF8 = "Save the file as UTF-8 and try again."
_HALF = "The line ends in the middle of an entry. Delete it if nobody was told it was kept; else write its end."


def _is_half(line: bytes) -> bool:
    """Whether a line begins like an entry and is not whole."""
    try:
        json.loads(line)
    except (ValueError, RecursionError):
        return line.lstrip().startswith(b"{")
    return False


def first_of_each(entries: Sequence[Sent]) -> tuple[Sent, ...]:
    """The entries that count: of each id the first to arrive.

    >>> [entry.body for entry in first_of_each([Sent("e1", "first"), Sent("e1", "second")])]
    ['first']
    """
    first: dict[str, Sent] = {}
    for entry in entries:
        first.setdefault(entry.id, entry)
    return tuple(first.values())


class LinesLog:
    """One job's log as one file; what `promise.Log` promises. A file that is not there yet is an empty log."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def append(self, sent: Sequence[Sent], arrived: str) -> tuple[Receipt, ...]:
        """Keep what is new; see `promise.Log`. Raises Refused when the file as it stands cannot be read.

        `arrived` is not kept in a file. All new lines are written in one act and are on the disk once this returns.
        """
        with self._alone() as descriptor:
            kept = self._read()
            receipts, lines = _sorted_out(kept, sent, self._path.stem)
            _add(descriptor, lines)
            if not kept and lines and sys.platform != "win32":
                _sync_folder(self._path.parent)  # or a pulled plug may forget the new file's name
        return receipts

    def after(self, seq: int = 0) -> tuple[Kept, ...]:
        """The entries after number `seq`."""
        return tuple(Kept(at, entry.id, entry.body, "") for at, entry in enumerate(self._read(), start=1) if at > seq)

    def head(self) -> Head:
        """How far this log goes."""
        return head_of(self._read())

    def change(self) -> int:
        """The number of entries: a file is a workshop of its own."""
        return len(self._read())

    def check(self, noted: Head | None = None) -> ChainCheck:
        """Hold the file against a head noted elsewhere; without one, any file that can be read is whole."""
        return follow(linked(self._read()), noted)

    def _read(self) -> tuple[Sent, ...]:
        try:
            if self._path.stat().st_size >= LARGEST_BYTES:
                raise _too_large(self._path.name, self._path.stat().st_size)
            return first_of_each(read_lines(self._path.read_bytes(), self._path.name))
        except FileNotFoundError:
            return ()
        except OSError as fault:
            raise Refused(f"{self._path.name} cannot be read: {fault.strerror}.") from None

    @contextmanager
    def _alone(self) -> Iterator[int]:
        """The open file, to this program alone where the system can promise that (Windows: to this call of it)."""
        try:
            descriptor = os.open(self._path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o644)
        except OSError as fault:
            raise NotKept(f"{self._path.name} cannot be written: {fault.strerror}.") from None
        try:
            if sys.platform != "win32":
                fcntl.flock(descriptor, fcntl.LOCK_EX)
            yield descriptor
        finally:
            os.close(descriptor)


def _sorted_out(kept: Sequence[Sent], sent: Sequence[Sent], job: str) -> tuple[tuple[Receipt, ...], list[str]]:
    """How each entry ends, and the lines that are new."""
    seq_of = {entry.id: seq for seq, entry in enumerate(kept, start=1)}
    receipts: list[Receipt] = []
    lines: list[str] = []
    for entry in sent:
        try:
            fits = read_entry(entry.body).id == entry.id
            because = "" if fits else "The entry's text has another id than the one it was handed in with."
        except Refused as refused:
            because = str(refused)
        if because:
            receipts.append(Receipt(entry.id, Ended.REFUSED, job, because=because))
        elif entry.id in seq_of:
            receipts.append(Receipt(entry.id, Ended.HAD, job, seq_of[entry.id]))
        else:
            seq_of[entry.id] = len(seq_of) + 1
            lines.append(entry.body)
            receipts.append(Receipt(entry.id, Ended.NEW, job, seq_of[entry.id]))
    return tuple(receipts), lines


def _add(descriptor: int, lines: Sequence[str]) -> None:
    """Write all lines at the end of the file and wait for the disk; on a fault take back what was written of them."""
    if not lines:
        return
    size = os.fstat(descriptor).st_size
    open_end = size > 0 and _last_byte(descriptor, size) != b"\n"
    raw = ("\n" if open_end else "").encode() + "".join(f"{line}\n" for line in lines).encode()
    try:
        written = 0
        while written < len(raw):
            written += os.write(descriptor, raw[written:])
        os.fsync(descriptor)
    except OSError as fault:
        os.ftruncate(descriptor, size)
        raise NotKept(f"Nothing was kept: {fault.strerror}. Make room on the disk, then send it again.") from None


def _last_byte(descriptor: int, size: int) -> bytes:
    os.lseek(descriptor, size - 1, os.SEEK_SET)
    return os.read(descriptor, 1)


def _sync_folder(folder: Path) -> None:
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _too_large(name: str, size: int) -> Refused:
    said = f"{name} has {size / 1e6:.0f} MB; the log of a job is under {LARGEST_BYTES / 1e6:.0f} MB."
    return Refused(f"{said} Look whether it is the right file.")
