"""Chapters as files other programs read back the same, and captions read in whatever form they come."""

import io
from contextlib import suppress
from itertools import pairwise
from pathlib import Path

import av
import pysubs2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.cards.film.chapters import ChapterCard, ChaptersCard
from fingertight.lesson.film.captions.words import Cue
from fingertight.paper.film.captions import NotCaptions, read_captions
from fingertight.paper.film.written import ffmetadata, vtt_time, webvtt


def card_of(*chapters: tuple[str, int, int], machine: str = "Invented pump") -> ChaptersCard:
    """Chapters by title, and where each starts and ends [ms]."""
    return ChaptersCard(
        chapters=tuple(
            ChapterCard("part", None, "off", title, starts / 1000, ends / 1000, "", "")
            for title, starts, ends in chapters
        ),
        says=(),
        file=None,
        machine=machine,
    )


NASTY = card_of(
    ("Fan shroud off", 0, 41_001),
    ("Lid <b>& “seal”</b> --> off", 41_001, 3_600_000),
    ("key=value; #3 \\ Ölwanne\nnext line", 3_600_000, 90_000_000),
    machine="Pump; size #2 = \\large",
)
TITLES = ["Fan shroud off", "Lid <b>& “seal”</b> --> off", "key=value; #3 \\ Ölwanne next line"]


def read_by_ffmpeg(text: str) -> list[tuple[str, int, int]]:
    """Titles and times [ms] as FFmpeg's own reader of metadata files has them."""
    with av.open(io.BytesIO(text.encode()), format="ffmetadata") as film:
        return [
            (
                one["metadata"]["title"],
                round(one["start"] * one["time_base"] * 1000),
                round(one["end"] * one["time_base"] * 1000),
            )
            for one in film.chapters()
        ]


def test_the_whole_webvtt_file_as_it_is_written() -> None:
    assert webvtt(card_of(("Lid & seal off", 0, 41_001), ("Rod off", 41_001, 3_723_050))) == (
        "WEBVTT\n\n00:00:00.000 --> 00:00:41.001\nLid &amp; seal off\n\n00:00:41.001 --> 01:02:03.050\nRod off\n"
    )


def test_another_reader_of_webvtt_finds_the_same_chapters() -> None:
    read = pysubs2.SSAFile.from_string(webvtt(NASTY), format_="vtt")
    assert [(one.start, one.end) for one in read] == [(0, 41_001), (41_001, 3_600_000), (3_600_000, 90_000_000)]
    assert [one.plaintext for one in read] == [
        "Fan shroud off",
        "Lid &lt;b&gt;&amp; “seal”&lt;/b&gt; --&gt; off",
        "key=value; #3 \\ Ölwanne next line",
    ]


def test_ffmpeg_reads_the_same_chapters_whatever_stands_in_a_name() -> None:
    assert read_by_ffmpeg(ffmetadata(NASTY)) == [
        (TITLES[0], 0, 41_001),
        (TITLES[1], 41_001, 3_600_000),
        (TITLES[2], 3_600_000, 90_000_000),
    ]
    with av.open(io.BytesIO(ffmetadata(NASTY).encode()), format="ffmetadata") as film:
        assert film.metadata["title"] == "Pump; size #2 = \\large"


# A surrogate is no text; what stands at the ends of a line is not part of a name.
TITLE = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S")), min_size=1, max_size=40)
TIMES = st.lists(st.integers(0, 359_999_999), min_size=2, max_size=9, unique=True).map(sorted)


@given(TIMES, st.data())
@settings(deadline=None, max_examples=40)
def test_any_title_and_any_time_comes_back_to_the_millisecond(times: list[int], data: st.DataObject) -> None:
    chapters = [(data.draw(TITLE), starts, ends) for starts, ends in pairwise(times)]
    # FFmpeg's reader joins a line that ends in a backslash to the next, escaped or not, so a space is put after it.
    assert read_by_ffmpeg(ffmetadata(card_of(*chapters))) == [
        (f"{title} " if title.endswith("\\") else title, *times) for title, *times in chapters
    ]
    read = pysubs2.SSAFile.from_string(webvtt(card_of(*chapters)), format_="vtt")
    assert [(one.start, one.end) for one in read] == [one[1:] for one in chapters]


@given(st.integers(0, 359_999_999))
def test_a_time_is_written_to_the_millisecond(ms: int) -> None:
    hours, minutes, seconds = vtt_time(ms / 1000).split(":")
    assert int(hours) * 3_600_000 + int(minutes) * 60_000 + round(float(seconds) * 1000) == ms


VTT = """WEBVTT - a title
Kind: captions

STYLE
::cue { color: red }

NOTE
not for people: 00:00 --> here

1
00:01.000 --> 00:04.000 align:start position:10%
<v Tilda>Now the <i>fan shroud</i> &amp; the coil
second line

00:00:05.500 --> 00:00:07.000
<00:00:05.600><c>each</c><00:00:06.000><c> word timed</c>

00:00:07.000 --> 00:00:08.000
each word timed
and rolling on
"""
SRT = """1
00:00:01,000 --> 00:00:02,500
<b>Undo</b> the {\\an8}nut

2
00:00:03,250 --> 00:00:04,000
Größe fünf
"""
READ_VTT = (
    Cue(1.0, 4.0, "Now the fan shroud & the coil second line"),
    Cue(5.5, 7.0, "each word timed"),
    Cue(7.0, 8.0, "and rolling on"),
)
READ_SRT = (Cue(1.0, 2.5, "Undo the nut"), Cue(3.25, 4.0, "Größe fünf"))


def test_webvtt_is_read_without_its_notes_styles_tags_and_repeats() -> None:
    read = read_captions(VTT.encode(), "film.vtt")
    assert (read.cues, read.kind, read.says) == (READ_VTT, "WebVTT", ())


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_srt_is_read_in_any_unicode(encoding: str, line_end: str) -> None:
    read = read_captions(SRT.replace("\n", line_end).encode(encoding), "film.srt")
    assert (read.cues, read.kind, read.says) == (READ_SRT, "SRT", ())


def test_windows_1252_is_read_and_said_with_a_line_to_look_at() -> None:
    read = read_captions(SRT.encode("cp1252"), "film.srt")
    assert read.cues == READ_SRT
    assert read.says == (
        "film.srt is not UTF-8; it was read as Windows-1252. See whether line 7 is right: “Größe fünf”.",
    )


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "film: these are no captions: no line has two times and an arrow between. Give a WebVTT or SRT file."),
        (b"\xff\xfe\x00", "film: this is neither UTF-8 nor UTF-16 text. Save it as UTF-8."),
        (b"1\n\x81\x8d", "film, line 2: this is text neither as UTF-8 nor as Windows-1252. Save it as UTF-8."),
        (
            b"1\n00:00:01,000 -> 00:00:02,000\nHello",
            "film, line 2: “00:00:01,000 -> 00:00:02,000” is no time as SRT has it. "
            "Write it as 00:01:02,500 --> 00:01:04,000.",
        ),
        (
            b"WEBVTT\n\n00:00:01,000 --> 00:00:02,000\nHello",
            "film, line 3: “00:00:01,000 --> 00:00:02,000” is no time as WebVTT has it. "
            "Write it as 00:01:02.500 --> 00:01:04.000.",
        ),
        (
            b"1\n00:00:09,000 --> 00:00:07,000\nHello",
            "film, line 2: “00:00:09,000 --> 00:00:07,000” ends before it begins. Put the later time second.",
        ),
    ],
)
def test_what_cannot_be_read_is_answered_with_where_what_and_how_to_mend(raw: bytes, said: str) -> None:
    with pytest.raises(NotCaptions) as refusal:
        read_captions(raw, "film")
    assert refusal.value.sentences == [said]


def test_more_captions_than_a_film_has_are_not_searched_for_hours() -> None:
    with pytest.raises(NotCaptions, match="film: 30001 captions are more than one film has"):
        read_captions(b"00:00:01,000 --> 00:00:02,000\nOne\n\n" * 30_001, "film")


def test_many_bad_lines_are_not_listed_without_end() -> None:
    raw = "\n\n".join(f"{number}\n00:00:0{number % 10},000 -> x\n00:0 --> y" for number in range(40)).encode()
    with pytest.raises(NotCaptions) as refusal:
        read_captions(raw, "film")
    assert len(refusal.value.sentences) == 11
    assert refusal.value.sentences[-1] == "film: 30 more lines cannot be read."


@pytest.mark.parametrize(
    "text",
    [
        "1\n00:00:01,000 --> 00:00:02,000\nOne\n2\n00:00:03,000 --> 00:00:04,000\nTwo\n",
        "00:00:01,000 --> 00:00:02,000\nOne\n\n00:00:03,000 --> 00:00:04,000\nTwo",
        "\n\n1\n0:00:01.000 --> 0:00:02.000 X1:40 X2:600\nOne\n\n\n7\n0:00:02,000 --> 0:00:03,000\n\n"
        "8\n0:00:03.000 --> 0:00:04.000\nTwo",
        "\nWEBVTT\n00:01.000 --> 00:02.000\nOne\n00:03.000 --> 00:04.000\nTwo",
    ],
    ids=["no empty lines", "no numbers", "loosely written, an empty one", "no empty lines in WebVTT"],
)
def test_captions_are_read_that_keep_to_their_form_only_roughly(text: str) -> None:
    cues = read_captions(text.encode(), "film").cues
    assert [(one.starts_s, one.ends_s, one.text.removesuffix(" 2")) for one in cues] == [(1, 2, "One"), (3, 4, "Two")]


@given(st.binary(max_size=200))
def test_no_bytes_bring_anything_but_captions_or_sentences(raw: bytes) -> None:
    for file in (raw, b"WEBVTT\n\n00:01.000 --> 00:02.000\n" + raw, b"1\n00:00:01,000 --> 00:00:02,000\n" + raw):
        with suppress(NotCaptions):
            assert all(one.starts_s < one.ends_s for one in read_captions(file, "film").cues)


def test_chapters_put_into_a_film_are_still_there_when_it_is_opened_again(tmp_path: Path) -> None:
    film = tmp_path / "film.mkv"
    with av.open(io.BytesIO(ffmetadata(NASTY).encode()), format="ffmetadata") as said, av.open(film, "w") as made:
        made.set_chapters(said.chapters())
        stream = made.add_stream("mpeg4", rate=1)
        stream.width = stream.height = 16
        for packet in stream.encode(av.VideoFrame(16, 16, "yuv420p")):
            made.mux(packet)
        for packet in stream.encode(None):
            made.mux(packet)
    with av.open(film) as read:
        assert [one["metadata"]["title"] for one in read.chapters()] == TITLES
        starts = [round(one["start"] * one["time_base"] * 1000) for one in read.chapters()]
        assert starts == [0, 41_001, 3_600_000]
