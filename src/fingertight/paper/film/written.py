"""A chapters card as WebVTT, which browsers list, and as a metadata file of ffmpeg, which puts chapters into a film."""

import re

from fingertight.cards.film.chapters import ChaptersCard

FORMATS = ("vtt", "ffmetadata")
_LINE_ENDS = re.compile(r"[\s\x00-\x1f\x7f\x85\u2028\u2029]+")
_TEXT = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})
_SPECIAL = str.maketrans({mark: f"\\{mark}" for mark in "=;#\\"})


def webvtt(card: ChaptersCard) -> str:
    """The chapters as a WebVTT file with chapter titles, a cue each.

    Titles stand on one line, and `&`, `<`, `>` as character references, so that nothing in a name is read as a tag or
    as the arrow of a time. In a browser `cue.getCueAsHTML().textContent` is the title; `cue.text` is what stands here.

    Source: W3C, WebVTT: The Web Video Text Tracks Format, 4.1 (file structure) and 4.2.3 (chapter title text).
    """
    blocks = ["WEBVTT"]
    for chapter in card.chapters:
        times = f"{vtt_time(chapter.starts_s)} --> {vtt_time(chapter.ends_s)}"
        blocks.append(f"{times}\n{_one_line(chapter.title).translate(_TEXT)}")
    return "\n\n".join(blocks) + "\n"


def ffmetadata(card: ChaptersCard) -> str:
    """The chapters as a metadata file of ffmpeg, in thousandths of a second.

    `=`, `;`, `#` and `\\` of a name are escaped with a backslash. `ffmpeg -i film.mp4 -i chapters.txt -map_metadata 1
    -map_chapters 1 -codec copy with-chapters.mp4` puts them into a film without touching its pictures.

    Source: FFmpeg, doc/metadata.texi.
    """
    lines = [";FFMETADATA1", f"title={_escaped(card.machine)}"]
    for chapter in card.chapters:
        lines += [
            "",
            "[CHAPTER]",
            "TIMEBASE=1/1000",
            f"START={_ms(chapter.starts_s)}",
            f"END={_ms(chapter.ends_s)}",
            f"title={_escaped(chapter.title)}",
        ]
    return "\n".join(lines) + "\n"


def vtt_time(film_s: float) -> str:
    """A moment of a film as WebVTT writes it [s → HH:MM:SS.mmm].

    >>> vtt_time(3723.0505)
    '01:02:03.050'
    """
    seconds, thousandths = divmod(_ms(film_s), 1000)
    return f"{seconds // 3600:02}:{seconds // 60 % 60:02}:{seconds % 60:02}.{thousandths:03}"


def _ms(film_s: float) -> int:
    return round(film_s * 1000)


def _escaped(title: str) -> str:
    """A value of ffmpeg's metadata. A backslash at the end of a line joins the next to it, escaped or not: a space."""
    escaped = _one_line(title).translate(_SPECIAL)
    return f"{escaped} " if escaped.endswith("\\") else escaped


def _one_line(title: str) -> str:
    return _LINE_ENDS.sub(" ", title).strip()
