"""Recording on pages without JavaScript: parts said, amended, taken back; the log of it is only added to."""

import json
import sqlite3
from io import BytesIO
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from fingertight.anatomy.read import read
from fingertight.store.models import MachineVersion
from fingertight.store.school.tables import RecordedEntry
from tests.web.tablet import Tablet


@pytest.fixture
def recording(tablet: Tablet) -> Tablet:
    """A tablet at a recording that has just begun."""
    tablet.opens("/record")
    tablet.presses("Begin", name="Hand pump")
    assert tablet.path == "/record/hand-pump"
    return tablet


def kinds() -> list[str]:
    """What stands in the log."""
    return [json.loads(one.body)["kind"] for one in RecordedEntry.objects.order_by("seq")]


def test_the_front_page_leads_there_and_a_machine_without_a_name_is_not_begun(tablet: Tablet) -> None:
    assert tablet.opens("/").links["Record a machine"] == "/record"
    tablet.opens("/record")
    page = tablet.presses("Begin", name="   ")
    assert "Not begun. The machine has no name." in page.text


def test_a_part_is_said_amended_and_taken_back_and_every_entry_is_kept(recording: Tablet) -> None:
    fields = {"name": "Cover", "what-0": "M6", "length-0": "1.1 in", "count-0": "6", "small": "2 dowels, key"}
    page = recording.presses("It is off", **fields)
    assert "1. Cover 6 × M6x27.94, 2 × dowels, 1 × key" in page.text
    recording.presses("Amend it", name="Side cover", **{"length-0": "28"})
    assert "1. Side cover 6 × M6x28" in recording.page.text
    recording.presses("Take it back: Side cover")
    assert "Taken back: Side cover. The recording keeps every entry." in recording.page.text
    assert kinds() == ["off", "amend", "back"]


def test_a_form_sent_twice_counts_once(recording: Tablet) -> None:
    form = recording.form("It is off")
    for _ in range(2):
        recording.sends(form, {"name": "Cover", "act": "off"})
    assert kinds() == ["off"]


@pytest.mark.parametrize(
    ("button", "typed", "sentence"),
    [
        ("It is off", {"name": " "}, "The part has no name."),
        ("It is off", {"name": "Lid", "what-0": "big one"}, "“big one” is no thread and none of circlip"),
        ("It is off", {"name": "Lid", "length-0": "3 kg"}, "kg"),
        ("It is off", {"name": "Lid", "count-0": "none"}, "“none” is not a number"),
        ("It is off", {"name": "Lid", "count-0": "0.5"}, "“0.5” is no number of pieces."),
        ("It is off", {"name": "Lid", "count-0": "900"}, "900 is no number of pieces from 1 to 200."),
        ("Make the mark", {"second": "later"}, "“later” is not a number"),
        ("Make the mark", {"second": "99:00:00"}, "is no place in a film"),
    ],
)
def test_what_cannot_be_is_said_and_what_was_typed_stays(
    recording: Tablet, button: str, typed: dict[str, str], sentence: str
) -> None:
    page = recording.presses(button, **typed)
    assert recording.answer.status_code == 422
    assert sentence in page.text
    assert kinds() == []
    if typed.get("name", " ").strip():
        assert recording.form("It is off").fields["name"] == typed["name"]


def test_chapters_follow_from_one_mark(recording: Tablet) -> None:
    recording.presses("Make the mark", second="1:15")
    page = recording.presses("It is off", name="Cover")
    assert "film 1:15" in page.text
    assert "A film cut anew needs only a new mark." in page.text


def test_the_chapters_are_files_for_a_browser_and_for_ffmpeg(recording: Tablet) -> None:
    recording.presses("It is off", name="Guard")
    assert "No mark was made" in recording.opens("/record/hand-pump/film").text
    assert recording.client.get("/record/hand-pump/chapters.vtt").content == b"WEBVTT\n"
    recording.opens("/record/hand-pump")
    recording.presses("Make the mark", second="1:00")
    recording.presses("It is off", name="Fan <left>")
    vtt = recording.client.get("/record/hand-pump/chapters.vtt").content.decode()
    assert vtt.startswith("WEBVTT\n\n00:00:")
    assert "Fan &lt;left&gt; off" in vtt
    assert b"[CHAPTER]\nTIMEBASE=1/1000\n" in recording.client.get("/record/hand-pump/chapters.txt").content
    assert recording.client.get("/record/hand-pump/chapters.doc").status_code == 404


def test_a_machine_is_made_and_made_anew_with_more_answers(recording: Tablet) -> None:
    for name in ("Guard", "Fan", "Exhaust"):
        recording.presses("It is off", name=name)
    recording.opens("/record/hand-pump/questions")
    assert "Could the fan have come off with the guard still on?" in recording.page.text
    recording.presses("Make the machine of what is known")
    assert recording.path == "/machine/hand-pump"
    recording.opens("/record/hand-pump/questions")
    recording.presses("Yes, it could")
    recording.presses("Make the machine of what is known")
    texts = [one.text for one in MachineVersion.objects.filter(slug="hand-pump").order_by("version")]
    assert len(texts) == 2
    assert texts[0].count("behind") == 2
    assert (
        texts[1].count("behind") < 2
        or 'behind = ["guard"]' not in texts[1].partition('id = "fan"')[2].partition("[[part]]")[0]
    )
    assert kinds() == ["off", "off", "off", "made", "answer", "made"]


def test_what_somebody_wrote_into_the_machine_stays_when_more_is_answered(recording: Tablet) -> None:
    for name in ("Guard", "Fan", "Exhaust"):
        recording.presses("It is off", name=name)
    recording.opens("/record/hand-pump/questions")
    recording.presses("Make the machine of what is known")
    for minutes in ("4", "5"):
        recording.opens("/machine/hand-pump/part/fan")
        recording.presses("Change it", minutes=minutes)
        recording.opens("/record/hand-pump/questions")
        recording.presses("Yes, it could")
        recording.presses("Make the machine of what is known")
        assert recording.path == "/machine/hand-pump"
        text = MachineVersion.objects.filter(slug="hand-pump").latest("version").text
        assert f"minutes = {minutes}" in text
    assert "behind" not in text.partition('id = "fan"')[2].partition("[[part]]")[0]


def picture() -> SimpleUploadedFile:
    """A photo as a tablet sends it."""
    out = BytesIO()
    Image.new("RGB", (1200, 900), "green").save(out, "JPEG")
    return SimpleUploadedFile("photo.jpg", out.getvalue(), "image/jpeg")


def sent(recording: Tablet, **typed: object) -> dict[str, object]:
    """The form of the next part, as a browser sends it."""
    form = recording.form("It is off")
    return {**form.fields, **typed, "act": "off"}


def test_a_part_has_a_photo_first_and_a_name_later(recording: Tablet) -> None:
    answer = recording.client.post("/record/hand-pump", sent(recording, name="", photo=picture()))
    assert answer.status_code == 303
    page = recording.opens("/record/hand-pump")
    assert "1. Part 1, see its photo" in page.text
    photo = json.loads(RecordedEntry.objects.get().body)["photos"][0]
    for address in (f"/photo/{photo}.jpg", f"/photo/{photo}-small.jpg"):
        picture_sent = recording.client.get(address)
        assert (picture_sent.status_code, picture_sent["Content-Type"]) == (200, "image/jpeg")
    assert recording.client.get(f"/photo/{'0' * 64}.jpg").status_code == 404
    recording.presses("Amend it", name="Cover", photos=photo)
    assert "1. Cover" in recording.page.text
    assert json.loads(RecordedEntry.objects.order_by("seq").last().body)["photos"] == [photo]


def test_photos_of_the_demonstration_and_of_the_bench_stand_on_the_page_of_the_part(recording: Tablet) -> None:
    recording.client.post("/record/hand-pump", sent(recording, name="Guard", photo=picture()))
    recording.opens("/record/hand-pump/questions")
    recording.presses("Make the machine of what is known")
    recording.opens("/start/hand-pump")
    recording.presses("Start at this bench", bench="Bench 4")
    page = recording.opens("/part/hand-pump-1/guard")
    assert "How it looks" in page.text
    assert recording.answer.content.count(b"-small.jpg") == 1
    form = recording.form("Keep the photo")
    out = BytesIO()
    Image.new("RGB", (400, 300), "blue").save(out, "PNG")
    mine = SimpleUploadedFile("scratch.png", out.getvalue(), "image/png")
    recording.client.post("/part/hand-pump-1/guard", {**form.fields, "photo": mine})
    page = recording.opens("/part/hand-pump-1/guard")
    assert recording.answer.content.count(b"-small.jpg") == 2
    assert "Noted of Guard: a photo." in page.text
    recording.presses("Take away photo 2")
    assert recording.path == "/part/hand-pump-1/guard"
    assert recording.answer.content.count(b"-small.jpg") == 1
    photo = json.loads(RecordedEntry.objects.order_by("seq")[0].body)["photos"][0]
    assert recording.client.get(f"/photo/{photo}.jpg").status_code == 200
    assert recording.client.post(f"/photo/{photo}.jpg", {"back": "https://elsewhere.example/"})["Location"] == "/"
    assert recording.client.get(f"/photo/{photo}.jpg").status_code == 404
    assert recording.client.post(f"/photo/{photo}.jpg").status_code == 404
    wrong = SimpleUploadedFile("scratch.png", b"no picture", "image/png")
    answer = recording.client.post("/part/hand-pump-1/guard", {**form.fields, "id": "", "photo": wrong})
    assert answer.status_code == 422
    assert "This is no photo that can be shown." in answer.content.decode()


def test_a_photo_is_not_lost_by_what_is_wrong_beside_it(recording: Tablet) -> None:
    answer = recording.client.post(
        "/record/hand-pump", sent(recording, name="Lid", photo=picture(), **{"count-0": "x"})
    )
    assert answer.status_code == 422
    assert b'name="photos" value="' in answer.content
    wrong = SimpleUploadedFile("photo.jpg", b"no picture", "image/jpeg")
    answer = recording.client.post("/record/hand-pump", sent(recording, name="Lid", photo=wrong))
    assert answer.status_code == 422
    assert "This is no photo that can be shown." in answer.content.decode()
    assert kinds() == []


def test_fasteners_tapped_on_a_sketch_stand_in_the_file_where_they_sit(recording: Tablet) -> None:
    sketch = {"what-0": "M6", "sketch-0": "-20,10;20,10;0,-10", "apart-0": "80 mm", "count-0": "3"}
    recording.presses("It is off", name="Cover", **sketch)
    recording.presses("It is off", name="Lid", **{"what-0": "M5", "sketch-0": "0,0;1,1"})
    recording.opens("/record/hand-pump/questions")
    recording.presses("Make the machine of what is known")
    text = MachineVersion.objects.get(slug="hand-pump").text
    assert "at = [[-40, 20], [40, 20], [0, -20]]" in text
    assert text.partition('id = "lid"')[2].count("at =") == 0
    assert "count = 2" in text.partition('id = "lid"')[2]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"sketch-0": "1,2;3,4", "count-0": "3"}, "2 fasteners were tapped on the sketch, and 3 typed."),
        ({"sketch-0": "1,2;1,2", "apart-0": "40"}, "no distance between the first two"),
        ({"sketch-0": "1,2;3", "count-0": "2"}, "The sketch was not understood."),
        ({"sketch-0": "1,2;inf,2", "apart-0": "40"}, "Two fasteners or more are wanted on the sketch."),
        ({"sketch-0": "1,2;3,4", "apart-0": "0"}, "no distance between the first two"),
    ],
)
def test_a_sketch_that_cannot_be_is_said(recording: Tablet, typed: dict[str, str], sentence: str) -> None:
    page = recording.presses("It is off", name="Cover", **typed)
    assert sentence in page.text
    assert kinds() == []


def test_ticks_settle_a_part_at_once(recording: Tablet) -> None:
    for name in ("Guard", "Fan", "Exhaust"):
        recording.presses("It is off", name=name)
    page = recording.opens("/record/hand-pump/ticks")
    assert "Fan: what had to be off before it? Guard" in page.text
    recording.presses("Only these; none if nothing is ticked", ticked="Guard")
    assert "Exhaust: what had to be off before it? Fan Guard" in recording.page.text
    recording.presses("Only these; none if nothing is ticked")
    assert "Every part was looked at" in recording.page.text
    recording.opens("/record/hand-pump/questions")
    assert "Nothing is left to ask" in recording.page.text
    recording.presses("Make the machine of what is known")
    anatomy = read(MachineVersion.objects.get(slug="hand-pump").text).anatomy
    assert anatomy is not None
    assert {part.id: part.behind for part in anatomy.parts} == {"guard": (), "fan": ("guard",), "exhaust": ()}
    strange = {"part": "Fan", "ticked": ["Lid"], "said": "only"}
    assert recording.client.post("/record/hand-pump/ticks", strange).status_code == 422


def test_ticks_tell_ways_too(recording: Tablet) -> None:
    for name in ("Head", "Case", "Nut", "Piston"):
        recording.presses("It is off", name=name)
    recording.opens("/record/hand-pump/ticks")
    for _ in ("Case", "Nut"):
        recording.presses("Only these; none if nothing is ticked")
    assert "Piston: what had to be off before it?" in recording.page.text
    page = recording.presses("These, or else others", ticked=["Head"])
    assert "Piston: or else, what had to be off? One way: Head off." in page.text
    recording.presses("That is every way", ticked=["Case", "Nut"])
    assert "Every part was looked at" in recording.page.text
    recording.opens("/record/hand-pump/questions?ways=1")
    assert "Nothing is left to ask" in recording.page.text
    recording.presses("Make the machine of what is known")
    anatomy = read(MachineVersion.objects.get(slug="hand-pump").text).anatomy
    assert anatomy is not None
    piston = anatomy.part_by_id["piston"]
    assert (piston.behind, set(piston.ways)) == ((), {("head",), ("case", "nut")})
    many = [f"{name}\n" for name in ("Head", "Case", "Nut", "Piston")]
    own = {"part": "Piston", "ticked": ["Piston"], "set": many, "said": "only"}
    assert "A part is not in its own way." in recording.client.post("/record/hand-pump/ticks", own).content.decode()


def test_what_nobody_is_certain_of_is_not_asked_again_by_ticks(recording: Tablet) -> None:
    for name in ("Guard", "Fan"):
        recording.presses("It is off", name=name)
    recording.opens("/record/hand-pump/ticks")
    recording.presses("These for sure, of the rest I am not certain")
    assert "Every part was looked at" in recording.page.text


def test_what_a_bench_took_apart_teaches_too(recording: Tablet) -> None:
    for name in ("Guard", "Fan", "Exhaust"):
        recording.presses("It is off", name=name)
    assert "The machine is not made yet" in recording.opens("/record/hand-pump/strips").text
    recording.opens("/record/hand-pump/questions")
    recording.presses("Make the machine of what is known")
    assert "No bench took two parts off yet." in recording.opens("/record/hand-pump/strips").text
    recording.opens("/start/hand-pump")
    recording.presses("Start at this bench", bench="Bench 4")
    for part in ("fan", "guard"):  # the chain says guard first; this bench found that it need not be
        recording.opens("/bench/hand-pump-1")
        form = next(form for form in recording.page.forms if form.fields.get("kind") == "off")
        recording.sends(form, {"part": part})
    page = recording.opens("/record/hand-pump/strips")
    assert "Bench 4, " in page.text
    assert "2 parts off; settles 1 pair of parts" in page.text, page.text
    form = next(form for form in recording.page.forms if "job" in str(form.buttons))
    recording.sends(form, {"job": "hand-pump-1"})
    assert "2 parts off; added." in recording.page.text
    assert kinds()[-1] == "strip"
    assert recording.client.post("/record/hand-pump/strips", {"job": "hand-pump-1"}).status_code == 422
    form = next(form for form in recording.page.forms if "back" in str(form.buttons))
    recording.sends(form, {"back": next(iter(form.buttons.values()))["back"]})
    assert "2 parts off; settles 1 pair of parts" in recording.page.text
    form = next(form for form in recording.page.forms if "job" in str(form.buttons))
    recording.sends(form, {"job": "hand-pump-1"})
    recording.opens("/record/hand-pump/questions")
    assert "Could the fan have come off" not in recording.page.text
    assert "Could the exhaust have come off" in recording.page.text


def test_two_answers_that_cannot_both_be_true_are_shown_with_who_said_them(recording: Tablet) -> None:
    for name in ("Guard", "Fan"):
        recording.presses("It is off", name=name)
    recording.opens("/record/hand-pump/questions")
    form = next(form for form in recording.page.forms if "part" in form.fields)
    for said in ("no", "yes"):
        recording.sends(form, {"said": said, "id": ""})
    assert "This does not go together" in recording.page.text
    assert "Fan can come off with Guard on" in recording.page.text


def test_nothing_is_asked_of_nothing_and_no_machine_made(recording: Tablet) -> None:
    page = recording.opens("/record/hand-pump/questions")
    assert "Nothing came off yet" in page.text
    answer = recording.client.post("/record/hand-pump/questions", {"act": "make"})
    assert answer.status_code == 422
    assert recording.client.get("/record/no-such").status_code == 404


def test_the_log_of_a_recording_cannot_be_changed(recording: Tablet, workshop: Path | str) -> None:
    recording.presses("It is off", name="Guard")
    if not isinstance(workshop, Path):
        return
    with sqlite3.connect(workshop) as file:
        for statement in ("UPDATE store_recordedentry SET body = ''", "DELETE FROM store_recordedentry"):
            with pytest.raises(sqlite3.DatabaseError, match="A line of a recording is never changed"):
                file.execute(statement)
