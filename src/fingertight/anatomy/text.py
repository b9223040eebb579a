"""The text of a machine file before it has a meaning: decoded, kept within measure, its syntax mistakes as sentences.

tomllib says what is wrong first; with that line out of the way it says what is wrong next, so that all are seen at once.
"""

import re
import tomllib
from typing import NamedTuple

from fingertight.anatomy.mistakes import Mistake

MOST_BYTES = 2_000_000
_MOST_SAID = 100_000
_DEEPEST = 12
_LONGEST_NUMBER = 400
# Strings and comments are stepped over; each of these runs in one pass whatever stands in the text (possessive, never again).
_TOKEN = re.compile(
    r'"""(?:[^"\\]++|\\.|"(?!""))*+(?:""")?|\'\'\'(?:[^\']++|\'(?!\'\'))*+(?:\'\'\')?'
    r'|"(?:[^"\\\n]++|\\.)*+"?|\'[^\'\n]*+\'?|#[^\n]*+|(?P<long>[0-9_]{400,}+)|(?P<open>[\[{])|(?P<shut>[\]}])|(?P<dot>\.)|(?P<said>[=,\n])',
    re.DOTALL,
)
_PLACE = re.compile(r"(.*) \(at (?:line ([0-9]+), column ([0-9]+)|end of document)\)\Z", re.DOTALL)
_LARGE = 200_000
_TRIES = 40


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
        mend = "Is it the right file? A machine of 80 parts needs about 60 kB."
        raise Unreadable("too-big", f"{who} is larger than 2 MB; no machine file is that large.", mend)
    if isinstance(text, bytes):
        if text[:2] in {b"\xff\xfe", b"\xfe\xff"} or b"\0" in text[:200]:
            raise Unreadable("not-utf8", f"{who} is UTF-16 text or no text at all.", "Save it again as UTF-8.")
        try:
            text = text.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            before = text[: error.start]
            line, column = before.count(b"\n") + 1, len(before) - before.rfind(b"\n")
            said = f"{who} is not UTF-8: line {line} has a byte that is no letter."
            raise Unreadable("not-utf8", said, "Save it again as UTF-8.", line, column) from None
    elif any("\ud800" <= letter <= "\udfff" for letter in text):
        raise Unreadable("not-utf8", f"{who} has half a letter in it (a lone surrogate).", "Save it again as UTF-8.")
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


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
            dots, said = 0, said + 1
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
    """What tomllib says, and what a person is told instead."""

    begins: str
    code: str
    text: str
    mend: str
    runs_on: bool = False


_QUOTE = 'Close it with the same quote it began with; write \\" for a quote inside.'
_SYNTAX = (
    _Said("Expected '='", "syntax", "A key stands here without = and a value after it.", "Write key = value."),
    _Said(
        "Expected newline or end", "syntax", "There is more on this line than one value.",
        "Write one key = value a line; numbers with a point and without a unit, texts in quotes.",
    ),
    _Said(
        "Invalid value", "syntax", "After = stands nothing that is a value.",
        "Write texts in quotes, numbers with a point, true or false, lists in [ ].",
    ),
    _Said("Illegal character '\\n'", "syntax", "A text is not closed before the end of the line.", _QUOTE),
    _Said("Unterminated string", "syntax", "A text is not closed.", _QUOTE, True),
    _Said("Expected \"'\"", "syntax", "A text is not closed.", _QUOTE, True),
    _Said("Unescaped '\\\\'", "syntax", "A text has a \\ that begins nothing known.", "Write \\\\ for \\, or put the text in single quotes."),
    _Said("Invalid hex value", "syntax", "A text has a \\u without its four digits.", "Write \\\\ for \\, or put the text in single quotes."),
    _Said("Escaped character", "syntax", "A text has a \\u that is no letter.", "Write the letter itself."),
    _Said("Cannot overwrite a value", "same-key", "The same key stands twice in one table.", "Take one of the two out."),
    _Said("Duplicate inline table key", "same-key", "The same key stands twice in one { }.", "Take one of the two out."),
    _Said(
        "Cannot declare", "same-key", "The same table stands twice.",
        "Write what belongs to it under one header; for one of several write [[ ]].",
    ),
    _Said("Cannot mutate", "same-key", "A table or list that is written in full elsewhere is added to.", "Write it in one place."),
    _Said("Cannot redefine", "same-key", "A table or list that is written in full elsewhere is added to.", "Write it in one place."),
    _Said("Unclosed array", "syntax", "A list is not closed before this place.", "Close it with ], and write a comma between entries.", True),
    _Said("Unclosed inline table", "syntax", "A { is not closed on its line.", "Close it with } on the same line, with a comma between keys.", True),
    _Said("Expected ']", "syntax", "A header is not closed.", "Write [machine] or [[part]], alone on its line."),
    _Said("Invalid initial character", "syntax", "Here a key should begin.", "Write a key of letters, digits, _ and -."),
    _Said("Invalid statement", "syntax", "This line is neither key = value nor a header.", "Write key = value, [[part]], or # before a remark."),
    _Said("Invalid date", "syntax", "This is no date that exists.", "Put it in quotes if it is a text."),
    _Said("Illegal character", "syntax", "A character stands here that no text file should have.", "Write the line again."),
    _Said("Found invalid character", "syntax", "A character stands here that no text file should have.", "Write the line again."),
)  # fmt: skip


def syntax_mistakes(text: str) -> list[Mistake]:
    """Every place where the text is not TOML, a line at a time, each as a sentence.

    >>> [one.line for one in syntax_mistakes('a = six\\nb = 1\\nc = "x')]
    [1, 3]
    """
    lines = text.split("\n")
    found: list[Mistake] = []
    for number in range(_TRIES if len(text) < _LARGE else 1):
        try:
            tomllib.loads("\n".join(lines))
        except ValueError as error:
            said, line, column = _understood(str(error), lines)
            # A list left open makes every line after it look wrong: it is the last thing that can be said.
            if found and (said.runs_on or line <= found[-1].line):
                break
            found.append(Mistake(line, column, "file", said.code, said.text, said.mend))
            if said.runs_on:
                break
            lines[line - 1] = f"[left-out-{number}]" if lines[line - 1].lstrip().startswith("[") else ""
        else:
            break
    return found


def _understood(message: str, lines: list[str]) -> tuple[_Said, int, int]:
    placed = _PLACE.match(message)
    what, line, column = placed.groups() if placed else (message, None, None)
    if line is None:
        line, column = len(lines), len(lines[-1]) + 1
    fallback = _Said("", "syntax", f"This is not TOML: {what[:80]}.", "Write the line again.")
    said = next((said for said in _SYNTAX if what.startswith(said.begins)), fallback)
    return said, int(line), int(column)
