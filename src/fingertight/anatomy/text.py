"""The text of a machine file before it has a meaning: decoded, kept within measure, its syntax mistakes as sentences.

tomllib says what is wrong first; with that line out of the way it says what is wrong next, so all are seen at once.
"""

import re
import tomllib
from typing import NamedTuple

from fingertight.anatomy.mistakes import Mistake

MOST_BYTES = 2_000_000
_MOST_SAID = 100_000
_DEEPEST = 12
_LONGEST_NUMBER = 400
# Strings and comments are stepped over, in one pass whatever stands in the text: what is matched is never tried again.
_TOKEN = re.compile(
    r'"""(?:[^"\\]++|\\.|"(?!""))*+(?:""")?|\'\'\'(?:[^\']++|\'(?!\'\'))*+(?:\'\'\')?'
    r'|"(?:[^"\\\n]++|\\.)*+"?|\'[^\'\n]*+\'?|#[^\n]*+|(?P<long>[0-9_]{400,}+)'
    r"|(?P<open>[\[{])|(?P<shut>[\]}])|(?P<dot>\.)|(?P<said>[=,])|(?P<end>\n)",
    re.DOTALL,
)
_PLACE = re.compile(r"(.*) \(at (?:line ([0-9]+), column ([0-9]+)|end of document)\)\Z", re.DOTALL)
_TRIES = 40
_MOST_AGAIN = 400_000  # characters read again, in all, to find further syntax mistakes


class Unreadable(Exception):
    """The file cannot be read at all; `mistake` says why."""

    def __init__(self, code: str, text: str, mend: str, line: int = 1, column: int = 1) -> None:
        super().__init__(text)
        self.mistake = Mistake(line, column, "file", code, text, mend)


def decoded(text: str | bytes, name: str = "") -> str:
    """The text of a file, without byte-order mark and with plain line ends.

    >>> decoded(b"\\xef\\xbb\\xbfformat = 1\\r\\n")
    'format = 1\\n'

    Raises Unreadable for UTF-16, for what is not UTF-8, and for more than 2 MB.
    """
    who = f"“{name}”" if name else "The file"
    if len(text) > MOST_BYTES:
        raise Unreadable("too-big", f"{who} is larger than 2 MB; no machine file is.", "Is it the right file?")
    if isinstance(text, bytes):
        return _from_bytes(text, who)
    if any("\ud800" <= letter <= "\udfff" for letter in text):
        raise Unreadable("not-utf8", f"{who} has half a letter in it (a lone surrogate).", "Save it again as UTF-8.")
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def _from_bytes(written: bytes, who: str) -> str:
    if written[:2] in {b"\xff\xfe", b"\xfe\xff"} or b"\0" in written[:200]:
        raise Unreadable("not-utf8", f"{who} is UTF-16 text or no text at all.", "Save it again as UTF-8.")
    try:
        return written.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = written.count(b"\n", 0, error.start) + 1
        column = error.start - written.rfind(b"\n", 0, error.start)
        said = f"{who} is not UTF-8: line {line} has a byte that is no letter."
        raise Unreadable("not-utf8", said, "Save it again as UTF-8.", line, column) from None


def too_much(text: str) -> None:
    """Is there more in it, or deeper, than any machine has? Asked before the text is parsed, in one pass.

    Raises Unreadable for deep nesting, long dotted keys, numbers of hundreds of digits, and more than 100,000 values.
    """
    depth = dots = said = 0
    for token in _TOKEN.finditer(text):
        kind = token.lastgroup
        if kind is None:
            continue
        if kind == "open":
            depth, said = depth + 1, said + 1
        elif kind == "shut":
            depth, dots = max(0, depth - 1), 0
        elif kind == "dot":
            dots += 1
        else:
            dots, said = 0, said + (kind == "said")
        if depth > _DEEPEST or dots > _DEEPEST:
            what = "brackets are nested" if depth > _DEEPEST else "a key is dotted"
            _refuse(text, token.start(), "too-deep", f"Here {what} more than {_DEEPEST} deep; no machine needs that.")
        if kind == "long":
            _refuse(text, token.start(), "too-big", f"Here stands a number of more than {_LONGEST_NUMBER} digits.")
        if said > _MOST_SAID:
            _refuse(
                text, token.start(), "too-big", f"The file says more than {_MOST_SAID:,} things; no machine file does."
            )


def _refuse(text: str, start: int, code: str, said: str) -> None:
    line, column = text.count("\n", 0, start) + 1, start - text.rfind("\n", 0, start)
    raise Unreadable(code, said, "Is it the right file? Take this out.", line, column)


class _Said(NamedTuple):
    """What a person is told instead of tomllib's message; {key} is what stands on that line before =."""

    code: str
    text: str
    mend: str


_TWICE = "Take one of the two out."
_ONE_PLACE = _Said("same-key", "“{key}” adds to what is written in full elsewhere.", "Write it in one place.")
_NOT_CLOSED = _Said(
    "syntax", "A text is not closed.", 'End it with the quote it began with; inside, write \\" for a quote.'
)
_BACKSLASH = _Said(
    "syntax", "A text has a \\ that begins nothing.", "Write \\\\ for \\, or put the text in single quotes."
)
_UNREADABLE = _Said("syntax", "A character stands here that no text file should have.", "Write the line again.")
_LIST = _Said("syntax", "A list is not closed before this place.", "Close it with ], with a comma between entries.")
# By how tomllib's message begins; the first that fits.
_SYNTAX = {
    "Expected '='": _Said("syntax", "A key stands here without = and a value.", "Write key = value."),
    "Expected newline or end": _Said(
        "syntax",
        "There is more on this line than one value.",
        "Write numbers with a point and without a unit, texts in quotes, one key = value a line.",
    ),
    "Invalid value": _Said(
        "syntax",
        "What stands here is no value.",
        "Write texts in quotes, numbers with a point, true or false, lists in [ ].",
    ),
    "Invalid statement": _Said(
        "syntax", "This line is neither key = value nor a header.", "Write key = value, [[part]], or # before a remark."
    ),
    "Illegal character '\\n'": _NOT_CLOSED,
    "Found invalid character '\\n'": _NOT_CLOSED,
    "Unterminated string": _NOT_CLOSED,
    "Expected \"'": _NOT_CLOSED,
    "Unescaped": _BACKSLASH,
    "Invalid hex value": _BACKSLASH,
    "Escaped character": _BACKSLASH,
    "Cannot overwrite a value": _Said("same-key", "“{key}” stands twice.", _TWICE),
    "Duplicate inline table key": _Said("same-key", "A key stands twice in one { }.", _TWICE),
    "Cannot declare": _Said("same-key", "“{key}” stands twice.", "Write what belongs to it under one header."),
    "Cannot mutate": _ONE_PLACE,
    "Cannot redefine": _ONE_PLACE,
    "Unclosed array": _LIST,
    "Unclosed inline table": _Said(
        "syntax", "A { is not closed on its line.", "Close it with } on the same line, with a comma between keys."
    ),
    "Expected ']": _Said("syntax", "A header is not closed.", "Write [machine] or [[part]], alone on its line."),
    "Invalid initial character": _Said(
        "syntax", "Here a key should begin.", "Write a key of letters, digits, _ and -."
    ),
    "Invalid date": _Said("syntax", "This is no date that exists.", "Put it in quotes if it is a text."),
    "Illegal character": _UNREADABLE,
    "Found invalid character": _UNREADABLE,
}
_KEY = re.compile(r"\s*\[{0,2}\s*([^=\]#]{0,60})")


def syntax_mistakes(text: str) -> list[Mistake]:
    """Every place where the text is not TOML, a line at a time, each as a sentence.

    >>> [one.line for one in syntax_mistakes('a = six\\nb = 1\\nc = "x')]
    [1, 3]
    """
    # The last line gets an end of its own, as the others have; a space keeps it apart from a lone carriage return.
    lines = f"{text}{' ' * text.endswith(chr(13))}\n".split("\n")
    found: list[Mistake] = []
    for number in range(min(_TRIES, 1 + _MOST_AGAIN // len(text)) if text else 0):
        try:
            tomllib.loads("\n".join(lines))
        except ValueError as error:
            mistake, runs_on = _understood(str(error), lines)
            # What is left open on another line makes all lines after it look wrong: nothing more can be said.
            if found and (runs_on or mistake.line <= found[-1].line):
                break
            found.append(mistake)
            if runs_on:
                break
            line = lines[mistake.line - 1]
            lines[mistake.line - 1] = f"[left-out-{number}]" if line.lstrip().startswith("[") else ""
        else:
            break
    return found


def _understood(message: str, lines: list[str]) -> tuple[Mistake, bool]:
    """The mistake tomllib speaks of, and whether it began on a line before."""
    placed = _PLACE.match(message)
    what, row, place = placed.groups() if placed else (message, None, None)
    line, column = (int(row), int(place)) if row and place else (len(lines) - 1, len(lines[-2]) + 1)
    begins = next((begins for begins in _SYNTAX if what.startswith(begins)), None)
    said = _SYNTAX[begins] if begins else _Said("syntax", f"This is not TOML: {what[:80]}.", "Write the line again.")
    opened_here = "[" in lines[line - 1][: column - 1] and "=" in lines[line - 1][: column - 1]
    runs_on = row is None or (said is _LIST and not opened_here)
    key = _KEY.match(lines[line - 1])
    text = said.text.replace("{key}", key[1].strip() if key else "")
    return Mistake(line, column, "file", said.code, text, said.mend), runs_on
