"""A class's names out of what a teacher has: pasted lines, a spreadsheet's CSV, or the users file of open rostering.

Only first names are kept, and a mark to tell two of them apart. Who is left out is said by line, never by name.
"""

import codecs
import csv
import re
import unicodedata
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

MOST_STUDENTS: Final = 60
"""So many students a class has at most."""
LONGEST_NAME: Final = 40
"""What is longer than this is no name [characters]."""
MOST_CHARACTERS: Final = 1_000_000
"""The users file of a big school is smaller [characters]."""


def _known(headings: str) -> frozenset[str]:
    return frozenset(headings.split())


# How the columns are called; compared without capitals, spaces, hyphens and underlines.
GIVEN: Final = _known(
    "givenname given firstname first forename forenames vorname rufname prénom prenom nombre nombres voornaam "
    "förnamn fornavn fornamn"
)
FAMILY: Final = _known(
    "familyname family lastname last surname nachname familienname nomdefamille apellido apellidos cognome achternaam "
    "efternamn efternavn etternavn etternamn"
)
FULL: Final = _known(
    "name names fullname student students studentname pupil pupils pupilname nom nome naam namn navn schüler"
)
# The users file of OneRoster 1.1 (CSV binding), and what else stands beside names in a list.
OTHER: Final = _known(
    "sourcedid status datelastmodified enableduser orgsourcedids role username userids middlename identifier email sms "
    "phone agentsourcedids grades password mail class group id no nr number grade year klasse classe gruppe"
)
ROSTER_MARK: Final = "sourcedid"
"""The first column of every file of that standard."""
_ROLES: Final = ("administrator", "aide", "guardian", "parent", "proctor", "relative", "teacher")


class NotARoster(ValueError):
    """No class can be read from this; the sentence says where, what, and how to mend it."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One student: first name, the mark that tells them from others of that name, and the line they stood in."""

    name: str
    mark: str
    line: int


@dataclass(frozen=True, slots=True)
class Roster:
    """The students in the order they stood, and a sentence for each line that was left out."""

    students: tuple[Listed, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Person:
    """A name as it was read; `longest`: the longest piece of it as it stood [characters]."""

    given: str
    family: str
    longest: int


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of the table: the line it begins in, its cells as they stood, and what stands between them."""

    line: int
    cells: tuple[str, ...]
    between: str


_Reader = Callable[[_Row], _Person | str]
"""A row becomes a person, or the reason why not."""


def read_roster(sent: bytes | str, taken: Collection[tuple[str, str]] = ()) -> Roster:
    """Who is in this class?

    sent: names a line ("Ann Berg", "Berg, Ann", "Ann"), or a table with comma, semicolon or tab, with or without a line
    of headings; bytes in UTF-8, UTF-16 or Windows-1252. taken: names and marks there are already. Without headings,
    two columns are first name and family name, but with a comma and a space after it the family name stands first, as
    people write it. The mark is the family name's first letter; where name and mark are taken, the next free number
    is added. Of the users file of OneRoster 1.1 (sourcedId first), only students that are enabled and not deleted
    are taken.
    Raises NotARoster when it is no text, has control characters, no name, or more than `MOST_STUDENTS` names.

    >>> roster = read_roster("Ann Berg\\nBecker, Ann\\nTom\\n4711")
    >>> [(student.name, student.mark) for student in roster.students]
    [('Ann', 'B'), ('Ann', 'B2'), ('Tom', '')]
    >>> roster.left_out
    ('Line 4 was left out: only digits stand there; write a first name.',)
    """
    text = _text_of(sent)
    used = {(name.casefold(), mark.casefold()) for name, mark in taken}
    students: list[Listed] = []
    left_out: list[str] = []
    rows = _rows(text)
    read = _reader_of(rows[0]) if rows else None
    for row in rows[1:] if read else rows:
        found = (read or _without_headings)(row)
        if isinstance(found, _Person) and found.longest > LONGEST_NAME:
            found = f"its name has more than {LONGEST_NAME} characters; shorten it"
        if isinstance(found, str):
            left_out.append(f"Line {row.line} was left out: {found}.")
            continue
        if len(students) == MOST_STUDENTS:
            raise NotARoster(
                f"Line {row.line} has one name too many: a class has at most {MOST_STUDENTS}; "
                "paste only this class’s lines."
            )
        mark = _free_mark(found.given, mark_of(found.family), used)
        used.add((found.given.casefold(), mark.casefold()))
        students.append(Listed(found.given, mark, row.line))
    if not students:
        raise NotARoster(_no_names(rows, left_out))
    return Roster(tuple(students), tuple(left_out))


def mark_of(family: str) -> str:
    """The first letter of a family name, a capital; small words before it (van, de la) do not count.

    >>> mark_of("Berg"), mark_of("van der Meer"), mark_of("")
    ('B', 'M', '')
    """
    words = family.split()
    chief = next((word for word in words if word[0].isupper()), words[0] if words else "")
    return next((letter.upper()[0] for letter in chief if letter.isalpha()), "")


def _free_mark(name: str, mark: str, used: set[tuple[str, str]]) -> str:
    number, free = 1, mark
    while (name.casefold(), free.casefold()) in used:
        number += 1
        free = f"{mark}{number}"
    return free


def _no_names(rows: Sequence[_Row], left_out: Sequence[str]) -> str:
    if left_out:
        where, _, reason = left_out[0].rstrip(".").partition(": ")
        others = ", and no other is better" if len(left_out) > 1 else ""
        return f"{where} ({reason}){others}: write one name a line, like “Ann Berg”."
    where = f"Line {rows[0].line} has headings and nothing below" if rows else "There is nothing in it"
    return f"{where}: write one name a line, like “Ann Berg”."


# -- bytes become text ---------------------------------------------------------------------------------------------


def _text_of(sent: bytes | str) -> str:
    text = sent if isinstance(sent, str) else _decoded(sent)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if len(text) > MOST_CHARACTERS:
        raise NotARoster(f"It has over {MOST_CHARACTERS:,} characters: paste only this class’s lines.")
    for number, line in enumerate(text.split("\n"), 1):
        for letter in line:
            if _is_control(letter):
                raise NotARoster(
                    f"Line {number} has a control character (U+{ord(letter):04X}) in it: "
                    "save the list as CSV UTF-8, or paste the names."
                )
    return unicodedata.normalize("NFC", text)


def _decoded(sent: bytes) -> str:
    if sent.startswith(b"PK\x03\x04"):
        raise NotARoster("This is a packed file, a workbook or an archive: unpack it or save it as CSV, and send that.")
    try:
        return sent.decode(_encoding_of(sent))
    except UnicodeDecodeError:
        raise NotARoster(
            "The file is not text in UTF-8, UTF-16 or Windows-1252: save it as CSV UTF-8, or paste the names."
        ) from None


def _encoding_of(sent: bytes) -> str:
    if sent.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    if b"\x00" in sent:
        # Without a mark at its beginning: Latin letters have their zero byte last (little end first) or first.
        return "utf-16-le" if sent[1::2].count(0) >= sent[::2].count(0) else "utf-16-be"
    try:
        sent.decode("utf-8")
    except UnicodeDecodeError:
        return "windows-1252"
    return "utf-8"


def _is_control(letter: str) -> bool:
    """Control characters, ends of line that no editor shows, halves of letters, and what turns the writing round."""
    if unicodedata.category(letter) in {"Cc", "Cs", "Zl", "Zp"}:
        return letter not in "\t\n"
    return "\u202a" <= letter <= "\u202e" or "\u2066" <= letter <= "\u2069"


# -- text becomes rows ---------------------------------------------------------------------------------------------


def _rows(text: str) -> list[_Row]:
    """The rows that are not empty, with the line each begins in."""
    lines = text.split("\n")
    said = re.fullmatch(r"sep=([,;\t])", lines[0].strip(" "), re.IGNORECASE)  # Excel's own first line
    between = said[1] if said else _between(lines)
    # What is only said in the first line is emptied, so that all others keep their number.
    kept = ["", *lines[1:]] if said else lines
    table = csv.reader([f"{line}\n" for line in kept], delimiter=between, strict=True)
    rows, begins = [], 1
    try:
        for cells in table:
            if any(cell.strip() for cell in cells):
                rows.append(_Row(begins, tuple(cells), between))
            begins = table.line_num + 1
    except csv.Error:
        raise NotARoster(
            f"Line {begins} has a quotation mark that is not closed in its place: close it or take it out."
        ) from None
    return rows


def _between(lines: Sequence[str]) -> str:
    """What stands between the columns: a tab or semicolon where half the lines have one, else a comma."""
    bare = [re.sub(r'"[^"]*"', "", line) for line in lines if line.strip()]
    return next((mark for mark in "\t;" if 2 * sum(mark in line for line in bare) >= max(1, len(bare))), ",")


# -- rows become people --------------------------------------------------------------------------------------------


def _reader_of(first: _Row) -> _Reader | None:
    """How to read the rows below, where the first row is headings; None where it is a name already.

    Raises NotARoster for headings of which none is a name.
    """
    headings = [re.sub(r"[\s_-]", "", cell).casefold() for cell in first.cells]
    columns = {heading: number for number, heading in reversed(list(enumerate(headings))) if heading}
    given, family, full = (_column(columns, known) for known in (GIVEN, FAMILY, FULL))
    if given is None and full is None:
        if family is not None or ROSTER_MARK in columns or (columns and columns.keys() <= OTHER):
            raise NotARoster(
                f"Line {first.line} has headings, but none for first names: "
                "call that column “first name” (in rostering files it is givenName, in the users file)."
            )
        return None
    if len(first.cells) == 1 and full is not None:
        return _without_headings  # only a title over the names, which may be written “Berg, Ann”
    if given is None and family is not None:
        given = full

    def read(row: _Row) -> _Person | str:
        if ROSTER_MARK in columns and (reason := _not_taken(columns, row)):
            return reason
        if any(cell.strip() for cell in row.cells[len(headings) :]):
            return "it has more columns than there are headings; put what has commas in it between quotation marks"
        cells = [_cell(row, number) for number in (given, family, full)]
        if given is None:
            return _written(cells[2]) or _why_none(row)
        if not _words(cells[0]):
            return "no first name stands in its column; write one there"
        surname = cells[1] if family is not None or full is None else _family_in(cells[2])
        return _in_columns(cells[0], surname)

    return read


def _column(columns: Mapping[str, int], known: Collection[str]) -> int | None:
    return min((number for heading, number in columns.items() if heading in known), default=None)


def _cell(row: _Row, number: int | None) -> str:
    return row.cells[number].strip() if number is not None and number < len(row.cells) else ""


def _not_taken(columns: Mapping[str, int], row: _Row) -> str:
    """Why a row of the users file is not of this class; "" where it is."""
    said = {name: _cell(row, columns.get(name)).casefold() for name in ("role", "enableduser", "status")}
    if "role" in columns and said["role"] != "student":
        is_ = f"is {said['role']}, not" if said["role"] in _ROLES else "is not"
        return f"its role {is_} student"
    if said["enableduser"] == "false":
        return "its user is not enabled"
    return "it is marked as to be deleted" if said["status"] == "tobedeleted" else ""


def _without_headings(row: _Row) -> _Person | str:
    cells = [cell for cell in row.cells if _words(cell)]
    if not cells:
        return _why_none(row)
    if len(cells) > 2:
        return "more than two names stand there; write one name a line, or headings in line 1"
    if len(cells) == 1 or "," in cells[0]:
        return _written(cells[0]) or _why_none(row)
    first, second = cells
    # “Berg, Ann” as people write it; “Ann,Berg”, “Ann;Berg” as tables have it.
    as_written = row.between == "," and second[0] == " " and not second.lstrip().startswith('"')
    return _in_columns(second, first) if as_written else _in_columns(first, second)


def _in_columns(given: str, family: str) -> _Person:
    longest = max(len(" ".join(_words(cell))) for cell in (given, family))
    return _Person(_words(given)[0], " ".join(_words(family)), longest)


def _written(cell: str) -> _Person | None:
    """A whole name in one place: “Ann Berg”, “Berg, Ann”; None where there is none."""
    family, comma, given = cell.partition(",")
    if comma and _words(given):
        return _in_columns(given, family)
    words = _words(cell)
    return _Person(words[0], words[-1] if len(words) > 1 else "", len(" ".join(words))) if words else None


def _family_in(cell: str) -> str:
    """The family name in a column called “name” that stands beside one for first names."""
    before, comma, _ = cell.partition(",")
    return before if comma else (_words(cell) or [""])[-1]


def _words(cell: str) -> list[str]:
    """The words of a name; none where something stands there that no name has.

    What is in brackets, numbers, bullets and addresses are left out, as in “3. Ann Berg (9b) <ann@example.org>”.
    """
    words: list[str] = []
    for each in re.sub(r"^\s*\d+\s*[.):]|\([^)]*\)|<[^>]*>", " ", cell).split():
        word = each.strip(".,;:\"“”„'*•#")
        if not word or word in {"-", "–", "—", "·"} or word.isdigit() or "@" in word:
            continue
        if any(letter.isdigit() for letter in word) and words:
            continue  # a class after the name; before it, it might be the first name with a slip in it
        if not _is_word(word):
            return []
        words.append(word)
    return words


def _is_word(word: str) -> bool:
    """Letters with their accents, and what stands between them: Anne-Marie, O’Neil, J.R."""
    return word[0].isalpha() and all(
        letter in "-'’ʼ‘.·\u200c\u200d" or unicodedata.category(letter)[0] in "LM" for letter in word
    )


def _why_none(row: _Row) -> str:
    said = " ".join(row.cells)
    if "@" in said:
        return "an e-mail address stands there; write a first name"
    if any(letter.isdigit() for letter in said) and not any(letter.isalpha() for letter in said):
        return "only digits stand there; write a first name"
    return "there is no name in it; write a first name, in letters"
