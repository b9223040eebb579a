"""One job as one zip, to send, to keep, to open elsewhere: machine text, log and title, and back the same.

anatomy.toml  the exact text the job stands on
log.jsonl     the exact entries, in the order of arrival
job.json      title, bench, machine with the text's SHA-256, arrival times, and the head of the log's hash chain
The same job gives the same bytes: nothing is compressed and every file bears the same date.
"""

import io
import json
import struct
import zipfile
import zlib
from collections.abc import Mapping
from hashlib import sha256
from typing import Annotated, Literal, NamedTuple

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from fingertight.store.log.chain import head_of
from fingertight.store.log.lines import LARGEST_BYTES, read_lines
from fingertight.store.log.promise import Head, Kept, Refused, Sent
from fingertight.store.log.rows import checked_time

FORMAT = 1
ANATOMY, LOG, JOB = "anatomy.toml", "log.jsonl", "job.json"
PACKED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
SAME_DATE = (1980, 1, 1, 0, 0, 0)
UNREADABLE = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    OSError,
    NotImplementedError,
    RuntimeError,
    ValueError,
)


class JobArchive(NamedTuple):
    """A whole job. `started` and each entry's `arrived` are RFC 3339."""

    id: str
    title: str
    bench: str
    started: str
    machine: str
    machine_name: str
    anatomy: str
    log: tuple[Kept, ...]

    @property
    def head(self) -> Head:
        """The head of the log's hash chain: note it elsewhere, and the log can be held against it for ever."""
        return head_of(Sent(entry.id, entry.body) for entry in self.log)


Text = Annotated[str, Field(min_length=1, max_length=200)]
Time = Annotated[str, AfterValidator(checked_time)]
JobId = Annotated[str, Field(pattern="^[!-~]{1,200}$")]
MachineSlug = Annotated[str, Field(pattern="^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
Hash = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class _MachineTable(_Strict):
    slug: MachineSlug
    name: Text
    sha256: Hash


class _ChainTable(_Strict):
    entries: int
    head: Hash


class _JobFile(_Strict):
    """What job.json says."""

    format: Literal[1]
    id: JobId
    title: Annotated[str, Field(min_length=1, max_length=300)]
    bench: Annotated[str, Field(max_length=200)]
    started: Time
    machine: _MachineTable
    chain: _ChainTable
    arrived: list[Time | Literal[""]]


def write_archive(job: JobArchive) -> bytes:
    """The job as the bytes of a zip."""
    said = {
        "format": FORMAT,
        "id": job.id,
        "title": job.title,
        "bench": job.bench,
        "started": job.started,
        "machine": {"slug": job.machine, "name": job.machine_name, "sha256": sha256(job.anatomy.encode()).hexdigest()},
        "chain": {"entries": job.head.seq, "head": job.head.hash},
        "arrived": [entry.arrived for entry in job.log],
    }
    files = {
        ANATOMY: job.anatomy,
        LOG: "".join(f"{entry.body}\n" for entry in job.log),
        JOB: json.dumps(said, ensure_ascii=False, indent=1) + "\n",
    }
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for name, text in files.items():
            member = zipfile.ZipInfo(name, SAME_DATE)
            member.create_system, member.external_attr = 3, 0o644 << 16
            archive.writestr(member, text.encode())
    return packed.getvalue()


def read_archive(raw: bytes, name: str = "The file") -> JobArchive:
    """The job in the bytes of a zip, after everything in it was held against everything else.

    Raises Refused: not a zip, a file in it missing, unknown, doubled or not UTF-8, 50 MB or more when unpacked,
    half a line, a text that is not the one its hash was taken of, a log whose chain ends in another head.
    """
    files = _unpacked(raw, name)
    said = _job_file(files[JOB], name)
    anatomy = _decoded(files[ANATOMY], f"{name}, {ANATOMY}")
    if sha256(files[ANATOMY]).hexdigest() != said.machine.sha256:
        raise Refused(f"{name}: {ANATOMY} is not the text this job was exported with. {_AGAIN}")
    entries = read_lines(files[LOG], f"{name}, {LOG}")
    if head_of(entries) != (said.chain.entries, said.chain.head):
        raise Refused(
            f"{name}: {LOG} is not the log this job was exported with; its hash chain ends elsewhere. {_AGAIN}"
        )
    if len({entry.id for entry in entries}) != len(entries) or len(said.arrived) != len(entries):
        raise Refused(f"{name}: {LOG} has an entry twice, or not an arrival time for each. {_AGAIN}")
    log = tuple(
        Kept(seq, entry.id, entry.body, arrived)
        for seq, (entry, arrived) in enumerate(zip(entries, said.arrived, strict=True), start=1)
    )
    return JobArchive(said.id, said.title, said.bench, said.started, said.machine.slug, said.machine.name, anatomy, log)


_AGAIN = "Export the job again, and send the zip as it is."


def _unpacked(raw: bytes, name: str) -> Mapping[str, bytes]:
    """The files of the zip under their names: exactly the three there must be, none larger than it may be."""
    if len(raw) >= LARGEST_BYTES:
        raise Refused(f"{name} has {len(raw) / 1e6:.0f} MB; a job's zip is under {LARGEST_BYTES / 1e6:.0f} MB.")
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as archive:
            members = archive.infolist()
            _refuse_members(members, name)
            # Never more than it says it has: `read` without a size would unpack a bomb that lies about its size.
            return {member.filename: archive.open(member).read(member.file_size) for member in members}
    except Refused:
        raise
    except UNREADABLE:
        raise Refused(f"{name} is not a whole zip. {_AGAIN}") from None


def _refuse_members(members: list[zipfile.ZipInfo], name: str) -> None:
    """Raise Refused unless these are the files of a job; before any of them is unpacked."""
    names = [member.filename for member in members]
    unknown = next((member for member in names if member not in (ANATOMY, LOG, JOB)), None)
    if unknown is not None:
        raise Refused(f"{name} has a file {unknown!r}, which is no part of a job. {_AGAIN}")
    missing = [member for member in (ANATOMY, LOG, JOB) if member not in names]
    if missing:
        raise Refused(f"{name} has no {' and no '.join(missing)}. {_AGAIN}")
    if len(set(names)) != len(names):
        raise Refused(f"{name} has a file twice. {_AGAIN}")
    if any(member.flag_bits & 1 or member.compress_type not in PACKED for member in members):
        raise Refused(f"{name} is locked, or packed in an unusual way. {_AGAIN}")
    if sum(member.file_size for member in members) >= LARGEST_BYTES:
        raise Refused(f"{name} unpacks to {LARGEST_BYTES / 1e6:.0f} MB or more. No job is that large: leave it alone.")


def _job_file(raw: bytes, name: str) -> _JobFile:
    try:
        return _JobFile.model_validate_json(_decoded(raw, f"{name}, {JOB}"))
    except ValidationError as fault:
        first = fault.errors()[0]
        where = ".".join(map(str, first["loc"])) or "the whole"
        raise Refused(f"{name}, {JOB}: {where}: {first['msg']}. {_AGAIN}") from None


def _decoded(raw: bytes, where: str) -> str:
    try:
        return raw.decode()
    except UnicodeDecodeError:
        raise Refused(f"{where} is not UTF-8 text (perhaps UTF-16). {_AGAIN}") from None
