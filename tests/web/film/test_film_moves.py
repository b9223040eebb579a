"""The moves of a film without JavaScript: proposed from captions, typed right, kept as a log that is only added to."""

import json
import random
import time
from pathlib import Path

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile

from fingertight.store.school.tables import RecordedEntry, RecordedMachine
from fingertight.web.jobs.films import films_changed, films_folder
from tests.web.film.test_films import MP4
from tests.web.tablet import Page, Tablet

NARRATED = Path("examples/captions/pump-engine.vtt").read_bytes()
ADDRESS = "/machine/pump-engine/film"
KEEP = "Keep what is ticked or changed"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workshop's folder of this test's own, with a film in it."""
    monkeypatch.setattr(settings, "HOME", tmp_path)
    films_changed()
    films_folder().mkdir()
    (films_folder() / "older film.mp4").write_bytes(MP4)
    return tmp_path


def gives(tablet: Tablet, raw: bytes, name: str = "film.vtt") -> Page:
    """The captions of an older film are given."""
    tablet.opens(ADDRESS)
    form = tablet.form("Look for moves in them")
    return tablet.sends(form, {"act": "captions", "captions": SimpleUploadedFile(name, raw)})


def keeps(tablet: Tablet, ticks: list[str], **typed: str) -> Page:
    """The moves that are ticked, and times that are typed."""
    form = tablet.form(KEEP)
    return tablet.sends(
        form, {"act": "keep", "take": ticks, **{name.replace("_", "-"): at for name, at in typed.items()}}
    )


def ticks(tablet: Tablet) -> list[str]:
    """What can be ticked."""
    return tablet.form(KEEP).choices.get("take", [])


def log() -> list[dict[str, object]]:
    """The entries there are, without those of the demo."""
    return [json.loads(one.body) for one in RecordedEntry.objects.order_by("recording", "seq")]


def kinds() -> list[object]:
    """Their kinds."""
    return [one["kind"] for one in log()]


def test_captions_propose_moves_each_with_its_time_how_sure_and_the_words(tablet: Tablet) -> None:
    page = gives(tablet, NARRATED)
    assert tablet.answer.status_code == 200
    assert "No move is in the film’s log yet; the captions propose 38." in page.text
    assert "Spark plug lead off proposed, sure" in page.text
    assert "unsure: look at it" in page.text
    assert "No word says that it comes off." in page.text
    assert tablet.form(KEEP).fields["at-off-plug-lead"] == "0:24.1"
    assert kinds() == ["film", "captions"]


def test_what_is_ticked_becomes_the_log_of_the_film_and_the_benches_show_it(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    page = keeps(tablet, ticks(tablet))
    assert "38 moves in the film’s log." in page.text
    assert "Students see it at the benches once its file is chosen." in page.text
    assert "See it done" not in tablet.opens("/bench/pump-engine-1/strip").text
    tablet.opens(ADDRESS)
    page = tablet.presses("This is its film", name="older film.mp4")
    assert "Students see older film.mp4 from the cards of these moves." in page.text
    assert "See it done: Spark plug lead" in tablet.opens("/bench/pump-engine-1/strip").links
    assert kinds() == ["film", "captions", "seen", "file"]
    assert RecordedMachine.objects.get(machine="pump-engine").name.endswith(": a film")


def test_a_time_is_typed_right_and_only_what_was_changed_is_written(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    keeps(tablet, ["off-plug-lead", "off-fuel-hose"])
    page = keeps(tablet, [], at_off_plug_lead="0:31,5")
    assert "Spark plug lead off kept" in page.text
    assert tablet.form(KEEP).fields["at-off-plug-lead"] == "0:31.5"
    assert log()[-1]["moves"] == [{"part": "plug-lead", "name": "Spark plug lead", "way": "off", "second": 31.5}]
    assert kinds() == ["film", "captions", "seen", "seen"]


def test_what_is_no_move_is_proposed_no_more_and_can_be_added_again(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    form = tablet.form(KEEP)
    page = tablet.sends(form, {"not": "off-plug-lead"})
    assert "Not in the film: Spark plug lead off." in page.text
    assert "at-off-plug-lead" not in tablet.form(KEEP).fields
    form = tablet.form(KEEP)
    page = tablet.sends(form, {"act": "keep", "add_part": "plug-lead", "add_way": "off", "add_at": "0:25"})
    assert "Not in the film" not in page.text
    assert "1 move in the film’s log" in page.text
    assert tablet.form(KEEP).fields["at-off-plug-lead"] == "0:25"


def test_a_time_typed_beside_not_this_move_is_not_lost(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    form = tablet.form(KEEP)
    tablet.sends(form, {"not": "off-fuel-hose", "at-off-plug-lead": "0:20"})
    assert kinds()[-2:] == ["seen", "unseen"]
    assert tablet.form(KEEP).fields["at-off-plug-lead"] == "0:20"


def test_a_time_that_cannot_be_read_is_said_beside_it_and_nothing_typed_is_lost(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    form = tablet.form(KEEP)
    typed = {"act": "keep", "take": ["off-fuel-hose"], "at-off-plug-lead": "soon", "at-off-fuel-hose": "1:02"}
    page = tablet.sends(form, {**typed, "add_part": "exhaust", "add_at": "1:75"})
    assert tablet.answer.status_code == 422
    assert "A time cannot be read; nothing is kept yet." in page.text
    assert "“soon” is no time of a film; write it as 12:34" in page.text
    assert "“1:75” has 60 or more minutes or seconds after a colon" in page.text
    fields = tablet.form(KEEP).fields
    assert (fields["at-off-plug-lead"], fields["at-off-fuel-hose"], fields["add_at"]) == ("soon", "1:02", "1:75")
    assert fields["add_part"] == "exhaust"
    assert 'value="off-fuel-hose" checked' in tablet.answer.content.decode()
    assert kinds() == ["film", "captions"]


def test_a_move_against_the_machines_file_is_said_in_words(tablet: Tablet) -> None:
    tablet.opens(ADDRESS)
    gives(tablet, NARRATED)
    page = keeps(tablet, ["off-plug-lead", "off-fuel-hose", "off-fuel-tank"], at_off_fuel_hose="5:00")
    assert (
        "By the machine’s file Fuel hose with its tap (5:00) comes off before it, and here only after it." in page.text
    )


def test_a_form_sent_twice_counts_once(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    form = tablet.form(KEEP)
    for _ in range(2):
        tablet.sends(form, {"act": "keep", "take": ["off-plug-lead"]})
    assert kinds() == ["film", "captions", "seen"]


NOISE = random.Random(7).randbytes(5_000_000)
WELSH = (
    "WEBVTT\n\n00:00:01.000 --> 00:00:05.000\nYn gyntaf rydym yn tynnu'r clawr\n\n"
    "00:00:06.000 --> 00:00:09.000\nac wedyn y bibell\n"
)


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (b"", "empty"),
        (b" \n\n ", "film.vtt is empty."),
        (NOISE, "film.vtt has more than 2 MB: the captions of a film have less."),
        (NOISE[:1_900_000], "film.vtt"),
        (b"WEBVTT\n\n", "no line has two times and an arrow between"),
        (b"WEBVTT\n\n00:00:09.000 --> 00:00:05.000\nLid off\n", "ends before it begins. Put the later time second."),
        (b"WEBVTT\n\n0:9 --> 0:12\nLid off\n", "is no time as WebVTT has it."),
        (b"PK\x03\x04" + bytes(3000), "film.vtt"),
    ],
)
def test_what_are_no_captions_is_refused_with_a_sentence_and_nothing_is_begun(
    tablet: Tablet, raw: bytes, sentence: str
) -> None:
    began = time.monotonic()
    page = gives(tablet, raw)
    assert tablet.answer.status_code == 422
    assert sentence in page.text
    assert "Not kept." in page.text
    assert kinds() == []
    assert not RecordedMachine.objects.exists()
    assert time.monotonic() - began < 5


def test_captions_in_another_language_propose_nothing_and_that_is_said(tablet: Tablet) -> None:
    page = gives(tablet, WELSH.encode())
    assert "they seem to be in another language than the machine file. Translate one of them." in page.text
    assert "--also" not in page.text


def test_captions_in_an_old_encoding_are_read_and_that_is_said(tablet: Tablet) -> None:
    srt = "1\n00:00:01,000 --> 00:00:04,000\nThe spark plug lead comes off – first.\n"
    page = gives(tablet, srt.encode("cp1252"), "old.srt")
    assert "old.srt is not UTF-8; it was read as Windows-1252." in page.text
    assert "Spark plug lead off proposed" in page.text
    page = gives(tablet, srt.encode("utf-16"), "wide.srt")
    assert "Read: wide.srt , 1 captions." in page.text


def test_a_film_that_left_the_folder_is_said_to_be_gone(tablet: Tablet) -> None:
    tablet.opens(ADDRESS)
    tablet.presses("This is its film", name="older film.mp4")
    (films_folder() / "older film.mp4").unlink()
    assert "older film.mp4 is not in the folder any more. The benches show no film." in tablet.opens(ADDRESS).text
    (films_folder() / "other.mp4").write_bytes(MP4)
    tablet.opens(ADDRESS)
    page = tablet.presses("This is its film", name="../secret-key")
    assert "This film is not in the folder (any more)." in page.text


def test_a_film_cut_anew_is_lined_up_by_one_moment(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    keeps(tablet, ["off-plug-lead", "off-fuel-hose"], at_off_plug_lead="0:24", at_off_fuel_hose="1:00")
    page = tablet.presses("Line it up there", mark_part="plug-lead", second="later")
    assert "“later” is no time of a film" in page.text
    tablet.presses("Line it up there", mark_part="plug-lead", second="2:24")
    fields = tablet.form(KEEP).fields
    assert (fields["at-off-plug-lead"], fields["at-off-fuel-hose"]) == ("2:24", "3:00")


def test_a_machine_recorded_by_doing_shows_its_presses_and_they_are_dragged_right(tablet: Tablet) -> None:
    tablet.opens("/record")
    tablet.presses("Begin", name="Hand pump")
    for name in ("Guard", "Fan"):
        tablet.presses("It is off", name=name)
    tablet.opens("/record/hand-pump/questions")
    tablet.presses("Make the machine of what is known")
    page = tablet.opens("/machine/hand-pump/film")
    assert "No move is in the film’s log yet." in page.text
    tablet.presses("Line it up there", mark_part="guard", second="0:40")
    assert "Guard off pressed while it was recorded" in tablet.page.text
    form = tablet.form("Keep what was changed")
    assert form.fields["at-off-guard"] == "0:40"
    page = tablet.sends(form, {"act": "keep", "at-off-guard": "0:35"})
    assert "Guard off kept" in page.text
    tablet.presses("This is its film", name="older film.mp4")
    assert "2 moves in the film’s log. Students see older film.mp4" in tablet.page.text
    assert "2. Fan" in tablet.opens("/record/hand-pump").text


def test_another_film_of_the_machine_has_a_log_of_its_own(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    keeps(tablet, ["off-plug-lead"])
    page = tablet.presses("Begin with another film")
    assert "No move is in the film’s log yet." in page.text
    assert "1 other log of this machine" in page.text


def test_the_log_of_a_film_makes_no_poorer_machine_of_the_one_it_is_of(tablet: Tablet) -> None:
    gives(tablet, NARRATED)
    keeps(tablet, ["off-plug-lead", "off-fuel-hose"])
    of = RecordedMachine.objects.get(machine="pump-engine")
    tablet.opens(f"/record/{of.slug}/questions")
    page = tablet.presses("Make the machine of what is known")
    assert tablet.answer.status_code == 422
    assert "This is the log of a film" in page.text
