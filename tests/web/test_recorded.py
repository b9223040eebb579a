"""Recording on pages without JavaScript: parts said, amended, taken back; the log of it is only added to."""

import json
import sqlite3
from pathlib import Path

import pytest

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
    assert kinds() == ["off", "off", "off", "answer"]


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
