"""A machine's page: its picture, its text with every mistake at its line, its labels; and what goes in and out."""

import re
from importlib.resources import files
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest
from django.test import Client

from tests.web.tablet import Tablet

GOOD = 'format = 1\n[machine]\nname = "Box"\n[[part]]\nid = "lid"\n[[part]]\nid = "case"\nstays = true\n'
BAD = 'format = 1\n[machine]\nname = "Box"\n[[part]]\nid = "lid"\nbehnd = ["hinge"]\n[[part]]\nid = "lid"\n'


def _drawn(pdf: bytes) -> bytes:
    """The first page of a PDF as points."""
    return bytes(pypdfium2.PdfDocument(pdf)[0].render(scale=2).buffer)


def _named(content: bytes, name: str) -> BytesIO:
    file = BytesIO(content)
    file.name = name
    return file


def test_a_machine_shows_how_deep_each_part_lies(tablet: Tablet) -> None:
    page = tablet.opens("/machine/bench-vice")
    assert "Bench vice, 100 mm jaws" in page.text
    assert "rounds deep. Outside comes off first." in page.text
    assert "behind Slide with the moving jaw" in page.text or "way out" in page.text


def test_all_mistakes_are_listed_with_their_lines_and_the_text_is_kept(tablet: Tablet) -> None:
    tablet.opens("/machine/new")
    page = tablet.presses("Check it and keep it", anatomy=BAD)
    assert tablet.answer.status_code == 422
    assert "Line 6:" in page.text
    assert "Write behind." in page.text
    assert "Line 8:" in page.text
    assert "Nothing was kept: mend the mistakes, then press again." in page.text
    assert "behnd = [&quot;hinge&quot;]" in tablet.answer.content.decode()
    assert "Box" not in tablet.opens("/").text


MENDED = {
    "a misspelt key": ("behnd = []", "behind = []"),
    "one bracket for two": ("[sign]", "[[sign]]"),
    "a part that is nearly named so": ('fit_after = ["casse"]', 'fit_after = ["case"]'),
    "a range turned round": ("range = [0.6, 0.3]", "range = [0.3, 0.6]"),
    "a number in quotes": ('minutes = "6"', "minutes = 6"),
    "a list that is one word": ('tools = "mallet"', 'tools = ["mallet"]'),
    "a bolt with its length": ('held_by = [{ thread = "M6x28" }]', 'held_by = [{ thread = "M6", length = 28 }]'),
}
FURTHER = {
    "one bracket for two": 'id = "safe"\nstage = "strip"\nbefore = ["lid"]\n',
}


@pytest.mark.parametrize("mistake", MENDED)
def test_a_mistake_with_a_mechanical_mend_is_mended_in_the_box_by_one_press(tablet: Tablet, mistake: str) -> None:
    wrong, right = MENDED[mistake]
    setting = '[[setting]]\nid = "gap"\n' if "range" in wrong else ""
    text = f"{GOOD}# the last\n{setting}{wrong}  # as it was\n{FURTHER.get(mistake, '')}"
    if not (setting or mistake in FURTHER):
        text = GOOD.replace('id = "lid"\n', f'id = "lid"\n{wrong}  # as it was\n')
    tablet.opens("/machine/new")
    page = tablet.presses("Check it and keep it", anatomy=text)
    assert tablet.answer.status_code == 422
    (pressed,) = re.findall(r'form="its-text" name="mend" value="([^"]+)"', tablet.answer.content.decode())
    assert "Mend it" in page.text
    page = tablet.sends(tablet.form("Check it"), {"anatomy": text, "mend": pressed})
    assert tablet.answer.status_code == 200
    assert "No mistakes. Not kept yet." in page.text
    assert tablet.form("Check it").written["anatomy"] == text.replace(wrong, right)
    tablet.presses("Check it and keep it", anatomy=tablet.form("Check it").written["anatomy"])
    assert tablet.path == "/machine/box"


def test_a_mend_of_a_mistake_that_is_gone_says_so_and_the_text_stays(tablet: Tablet) -> None:
    tablet.opens("/machine/new")
    page = tablet.presses("Check it", anatomy=BAD)
    for pressed in ("0/0123456789ab", "x", "9/", "²/x"):
        page = tablet.sends(tablet.form("Check it"), {"anatomy": BAD, "mend": pressed})
        assert tablet.answer.status_code == 422
        assert "That mistake stands there no more." in page.text
        assert tablet.form("Check it").written["anatomy"] == BAD


def test_a_good_text_is_kept_and_a_changed_one_is_its_second_version(tablet: Tablet) -> None:
    tablet.opens("/machine/new")
    page = tablet.presses("Check it", anatomy=GOOD)
    assert "No mistakes. Not kept yet." in page.text
    page = tablet.presses("Check it and keep it", anatomy=GOOD)
    assert tablet.path == "/machine/box"
    assert "Version 1." in page.text
    page = tablet.presses("Check it and keep it", anatomy=GOOD + "# a remark\n")
    assert "Version 2." in page.text
    assert tablet.client.get("/machine/box/anatomy.toml").content.decode() == GOOD + "# a remark\n"


def test_two_machines_of_one_name_get_two_addresses(tablet: Tablet) -> None:
    for text in (GOOD, GOOD + "# another\n"):
        tablet.opens("/machine/new")
        tablet.presses("Check it and keep it", anatomy=text)
    assert tablet.path == "/machine/box-2"


def test_a_file_is_read_in_and_bad_files_get_a_sentence_each(tablet: Tablet) -> None:
    cases = {
        "utf-16.toml": (GOOD.encode("utf-16"), "UTF-16"),
        "half.toml": (b'format = 1\n[machine]\nname = "Bo', "Line 3:"),
        "ring.toml": (
            GOOD.encode() + b'[[part]]\nid = "a"\nbehind = ["b"]\n[[part]]\nid = "b"\nbehind = ["a"]\n',
            "way",
        ),
        "bomb.toml": (b"x = " + b"[" * 100_000, "Line 1:"),
    }
    for name, (content, sentence) in cases.items():
        tablet.opens("/machine/new")
        page = tablet.presses("Check it and keep it", upload=_named(content, name))
        assert tablet.answer.status_code == 422, name
        assert "Nothing was kept" in page.text, name
        assert sentence in page.text, name
    tablet.opens("/machine/new")
    tablet.presses("Check it and keep it", upload=_named(GOOD.encode(), "box.toml"))
    assert tablet.path == "/machine/box"


def test_labels_are_printed_and_bad_figures_get_a_sentence(tablet: Tablet) -> None:
    answer = tablet.client.get("/machine/bench-vice/labels.pdf")
    assert answer["Content-Type"] == "application/pdf"
    assert len(pypdfium2.PdfDocument(answer.content)) == 1
    ruler = tablet.client.get("/machine/bench-vice/labels.pdf?page=ruler&x=0,5")
    assert ruler.content.startswith(b"%PDF")
    for asked, sentence in (("sheet=a9", "a9"), ("x=far", "far"), ("start=99", "99"), ("start=one", "one")):
        page = tablet.opens(f"/machine/bench-vice/labels.pdf?{asked}")
        assert tablet.answer.status_code == 422
        assert sentence in page.text


def test_the_tightening_sheet_is_printed_and_a_machine_without_torques_is_told_so(tablet: Tablet) -> None:
    answer = tablet.client.get("/machine/pump-engine/tightening.pdf")
    assert answer["Content-Type"] == "application/pdf"
    first = pypdfium2.PdfDocument(answer.content)[0].get_textpage().get_text_range()
    assert "Tightening sheet: Pump engine" in first.replace("\n", " ")
    assert 'href="/machine/pump-engine/tightening.pdf"' in tablet.client.get("/machine/pump-engine").content.decode()
    tablet.opens("/machine/new")
    tablet.presses("Check it and keep it", upload=_named(GOOD.encode(), "box.toml"))
    page = tablet.opens("/machine/box/tightening.pdf")
    assert tablet.answer.status_code == 422
    assert "No fastener set of Box states a torque. Write torque (in N·m)" in page.text
    assert tablet.client.get("/machine/nothing/tightening.pdf").status_code == 404


def test_a_printer_is_measured_once_and_chosen_for_every_sheet(tablet: Tablet) -> None:
    tablet.opens("/machine/bench-vice")
    page = tablet.presses("Keep this printer", name="Office", x="0,5", y="-1", across="1.002")
    assert tablet.path == "/machine/bench-vice?printer=Office#labels"
    assert "Office: 0.5 mm right, -1 mm down, × 1.002 across, × 1 down" in page.text
    chosen = tablet.client.get("/machine/bench-vice/labels.pdf?page=ruler&printer=Office").content
    typed = tablet.client.get("/machine/bench-vice/labels.pdf?page=ruler&x=0.5&y=-1&across=1.002").content
    straight = tablet.client.get("/machine/bench-vice/labels.pdf?page=ruler").content
    assert _drawn(chosen) == _drawn(typed) != _drawn(straight)
    tablet.presses("Keep this printer", name="Office", x="0.7")
    page = tablet.opens("/machine/pump-engine")
    assert "Office: 0.7 mm right, 0 mm down" in page.text
    assert page.text.count("Office:") == 1


def test_a_printer_without_a_name_or_with_a_slip_is_not_kept_and_stays_as_typed(tablet: Tablet) -> None:
    tablet.opens("/machine/bench-vice")
    for typed, sentence in (
        ({"name": " "}, "The printer has no name."),
        ({"name": "Office", "x": "200"}, "A nudge of 200 mm in x moves labels off the sheet"),
        ({"name": "Office", "down": "far"}, "“far” is not a number"),
    ):
        page = tablet.presses("Keep this printer", **typed)
        assert tablet.answer.status_code == 422
        assert sentence in page.text
        fields = tablet.form("Keep this printer").fields
        assert {name: fields[name] for name in typed} == typed
    assert "Office:" not in tablet.opens("/machine/bench-vice").text
    page = tablet.opens("/machine/bench-vice/labels.pdf?printer=Office")
    assert "There is no printer “Office” here" in page.text


def test_a_printer_is_kept_only_from_a_page_of_this_workshop(workshop: Path) -> None:
    foreign = Client(SERVER_NAME="localhost", enforce_csrf_checks=True)
    assert foreign.post("/machine/bench-vice/printer", {"name": "Office"}).status_code == 403


def test_a_job_goes_out_as_a_zip_and_comes_back_the_same(tablet: Tablet) -> None:
    zipped = tablet.client.get("/log/pump-engine-2/job.zip").content
    page = tablet.opens("/")
    page = tablet.presses("Read it in", archive=_named(zipped, "job.zip"))
    assert tablet.answer.status_code == 422
    assert "This job is here already" in page.text
    page = tablet.presses("Read it in", archive=_named(zipped[:5000], "job.zip"))
    assert "job.zip is not a whole zip." in page.text


def test_a_job_comes_into_a_workshop_that_has_never_seen_it(tablet: Tablet) -> None:
    from fingertight.store.archive import JobArchive, read_archive, write_archive
    from fingertight.store.log.promise import Kept

    text = files("fingertight.examples").joinpath("bench-vice.toml").read_text("utf-8")
    body = (
        '{"id": "e-1", "kind": "off", "part": "tommy-bar", "bag": "7", "at": "2026-03-05T09:00:00+01:00", "by": "s-07"}'
    )
    at, name = "2026-03-05T08:00:00+00:00", "Bench vice, 100 mm jaws"
    vice = JobArchive("j-1", "Vice no. 9", "Bench 9", at, "bench-vice", name, text, (Kept(1, "e-1", body, at),))
    tablet.opens("/")
    page = tablet.presses("Read it in", archive=_named(write_archive(vice), "vice.zip"))
    assert "Bench 9" in page.text
    assert "Tommy bar came off into bag 7." in page.text
    slug = tablet.path.split("/")[2]
    assert read_archive(tablet.client.get(f"/log/{slug}/job.zip").content) == vice
    assert tablet.client.get(f"/log/{slug}/log.jsonl").content.decode() == body + "\n"


def test_a_zip_whose_log_names_unknown_parts_is_not_taken_in(tablet: Tablet) -> None:
    from fingertight.store.archive import JobArchive, write_archive
    from fingertight.store.log.promise import Kept

    at = "2026-03-05T09:00:00+01:00"
    body = f'{{"id": "e-1", "kind": "off", "part": "wing", "at": "{at}", "by": "s-07"}}'
    box = JobArchive("j-1", "Box no. 1", "Bench 9", at, "box", "Box", GOOD, (Kept(1, "e-1", body, at),))
    tablet.opens("/")
    page = tablet.presses("Read it in", archive=_named(write_archive(box), "box.zip"))
    assert "Entry 1 of the log:" in page.text
    assert "this machine has no part 'wing'" in page.text
    assert "Bench 9" not in tablet.opens("/").text


def test_a_job_begins_from_a_log_that_was_kept_elsewhere(tablet: Tablet) -> None:
    lines = (Path(__file__).parents[2] / "examples/logs/bench-vice.jsonl").read_text("utf-8")
    tablet.opens("/start/bench-vice")
    tablet.presses("Start at this bench", bench="Bench 2", log=_named(lines.encode(), "bench-vice.jsonl"))
    slug = tablet.path.split("/")[2]
    assert "Finished" in tablet.opens("/").text
    kept = tablet.client.get(f"/log/{slug}/log.jsonl").content.decode().splitlines()
    assert kept == list(dict.fromkeys(lines.splitlines()))


@pytest.mark.parametrize(
    ("log", "sentence"),
    [
        (b'{"id": "e1", "kind": "off"', "log.jsonl, line 1: The line ends in the middle of an entry."),
        (
            b'{"id": "e1", "kind": "off", "at": "2026-03-05T09:00:00Z", "by": "s-07", "part": "fan"}',
            "has no part 'fan'",
        ),
        ("{}".encode("utf-16"), "log.jsonl is not UTF-8 text"),
    ],
)
def test_a_log_that_cannot_be_read_starts_nothing_and_keeps_what_was_typed(
    tablet: Tablet, log: bytes, sentence: str
) -> None:
    tablet.opens("/start/bench-vice")
    page = tablet.presses("Start at this bench", bench="Bench 2", log=_named(log, "log.jsonl"))
    assert "Not started." in page.text
    assert sentence in page.text
    assert any(form.fields.get("bench") == "Bench 2" for form in page.forms)
    assert "Bench 2" not in tablet.opens("/").text
