"""What a form of the page of a film says becomes entries of its recording; what cannot be is said field by field."""

from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, QueryDict

from fingertight.anatomy.model import Anatomy
from fingertight.lesson.film.clock import NotLinedUp, film_time
from fingertight.lesson.record.filmed import Seen, way_of
from fingertight.lesson.record.recording import NotRecorded, Recording
from fingertight.paper.film.captions import NotCaptions, read_captions
from fingertight.store.models import MachineVersion
from fingertight.store.school.recordings import begin_recording
from fingertight.store.school.tables import RecordedMachine
from fingertight.web.pages.record.kept import write

LARGEST_CAPTIONS = 2_000_000
LONGEST_NAME, MOST_SENTENCES = 100, 4


@dataclass
class Mistyped(Exception):
    """Nothing was kept; a sentence for the whole, and for each field that was typed wrong, by its move."""

    sentence: str
    fields: dict[str, str] = field(default_factory=dict)


Said = dict[str, Any]


def begun(version: MachineVersion, who: str) -> RecordedMachine:
    """The log of another film of this machine: its seconds count from the moment it is begun."""
    of = begin_recording(version.workshop, f"{version.name}: a film", version.slug)
    keep(of, who, "", [{"kind": "film", "second": 0.0}])
    return of


def keep(of: RecordedMachine, who: str, given: str, said: list[Said]) -> None:
    """These entries, in turn. given: the id the form carries, for the first. Raises Mistyped where one cannot be."""
    for number, one in enumerate(said):
        try:
            write(of, who, given if number == 0 else "", one)
        except NotRecorded as wrong:
            raise Mistyped(str(wrong)) from None


def captions_told(request: HttpRequest) -> list[Said]:
    """The captions that were sent. Raises Mistyped."""
    file: UploadedFile | None = request.FILES.get("captions")  # type: ignore[type-arg]
    if file is None:
        raise Mistyped("No file was chosen. Choose the captions, a WebVTT or SRT file, then press again.")
    name = (file.name or "captions")[:LONGEST_NAME]
    if (file.size or 0) > LARGEST_CAPTIONS:
        most = LARGEST_CAPTIONS // 1_000_000
        raise Mistyped(
            f"{name} has more than {most} MB: the captions of a film have less. Choose the WebVTT or SRT file."
        )
    raw = file.read()
    if not raw.strip():
        raise Mistyped(f"{name} is empty. Give the captions as a WebVTT or SRT file.")
    try:
        read = read_captions(raw, name)
    except NotCaptions as wrong:
        raise Mistyped(" ".join(wrong.sentences[:MOST_SENTENCES])) from None
    cues = [[cue.starts_s, cue.ends_s, cue.text] for cue in read.cues]
    return [{"kind": "captions", "name": name, "cues": cues, "says": list(read.says)}]


def mark_told(form: QueryDict, recording: Recording) -> list[Said]:
    """The film shows at this second that a part is off: every other move follows. Raises Mistyped."""
    part = next((one for one in recording.off if one.id == form.get("mark_part")), None)
    if part is None:
        raise Mistyped("Choose a part that came off in this recording.")
    try:
        second = film_time(form.get("second", ""))
    except NotLinedUp as wrong:
        raise Mistyped(str(wrong)) from None
    return [{"kind": "film", "second": second, "at": datetime.fromtimestamp(part.when, UTC).isoformat()}]


def moves_told(form: QueryDict, anatomy: Anatomy) -> list[Said]:
    """Times that were changed, proposals that were ticked, a move that was added, one that is none. Raises Mistyped."""
    titles = {part.id: part.title for part in anatomy.parts if not part.stays}
    typed = {key: form.get(f"at-{key}", "") for key in _changed(form)}
    added = f"{form.get('add_way', 'off')}-{form['add_part']}" if form.get("add_part") else ""
    if added:
        typed[added] = form.get("add_at", "")
    times: dict[Seen, float] = {}
    wrong: dict[str, str] = {}
    for key, time in typed.items():
        try:
            times[_move(key, titles)] = film_time(time)
        except NotLinedUp as fault:
            wrong["add" if key == added else key] = str(fault)
    if wrong:
        raise Mistyped("A time cannot be read; nothing is kept yet. What you typed stands in its field.", wrong)
    said: list[Said] = []
    if times:
        moves = [{"part": part, "name": titles[part], "way": way, "second": at} for (part, way), at in times.items()]
        said.append({"kind": "seen", "moves": moves})
    if form.get("not"):
        part, way = _move(form.get("not", ""), titles)
        said.append({"kind": "unseen", "part": part, "way": way})
    if not said:
        raise Mistyped("Nothing was changed: tick a proposal, drag or type a time, or add a move.")
    return said


def _changed(form: QueryDict) -> list[str]:
    """The moves whose time was changed, or whose tick was set when all were to be kept."""
    taken = set(form.getlist("take")) if form.get("act") == "keep" else set()

    def is_changed(key: str) -> bool:
        return form.get(f"at-{key}", "").strip() != form.get(f"was-{key}", "").strip()

    keys = [name.removeprefix("at-") for name in form if name.startswith("at-")]
    return [key for key in keys if key != form.get("not") and (key in taken or is_changed(key))]


def _move(key: str, titles: dict[str, str]) -> Seen:
    """The move a field is about. Raises Mistyped where the machine has no such part."""
    way, _, part = key.partition("-")
    if part not in titles or way not in ("off", "on"):
        raise Mistyped("A part of this form is no more in the machine’s file. Load the page again.")
    return part, way_of(way)
