"""What a teacher pastes or sends becomes first names and marks; everybody here is invented."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fingertight.lesson.roster import LONGEST_NAME, MOST_STUDENTS, NotARoster, Roster, mark_of, read_roster

HEADER = (
    "sourcedId,status,dateLastModified,enabledUser,orgSourcedIds,role,username,userIds,givenName,familyName,"
    "middleName,identifier,email,sms,phone,agentSourcedIds,grades,password"
)
LETTERS = [chr(ord("A") + number // 26) + chr(ord("a") + number % 26) for number in range(26 * 3)]


def names(roster: Roster) -> list[str]:
    return [f"{student.name} {student.mark}".rstrip() for student in roster.students]


def why_not(sent: bytes | str) -> str:
    with pytest.raises(NotARoster) as refused:
        read_roster(sent)
    return str(refused.value)


def read_or_refused(sent: bytes | str) -> Roster | str:
    try:
        return read_roster(sent)
    except NotARoster as refused:
        return str(refused)


def user(given: str, family: str, role: str = "student", enabled: str = "true", status: str = "active") -> str:
    return f"u1,{status},,{enabled},s1,{role},login,,{given},{family},Middle,4711,a@example.org,,0170,,9,secret"


@pytest.mark.parametrize(
    "sent",
    [
        "Ann Berg\nTom Hill",
        "Berg, Ann\nHill, Tom",
        "1. Ann Berg\n2. Tom Hill",
        "1.Ann Berg\n2.Tom Hill",
        "• Ann Berg (9b)\n• Tom Hill <tom@example.org>",
        "Ann,Berg\nTom,Hill",
        "Ann;Berg\r\nTom;Hill\r\n",
        "Ann\tBerg\rTom\tHill",
        "Ann\t Berg\nTom\t Hill",
        "Berg, Ann;Engines\nHill, Tom;Engines",
        "Name,Role\nAnn Berg,leader\nTom Hill,",
        "sourcedId,givenName,familyName\nu1,Ann,Berg\nu2,Tom,Hill",
        "12;Ann;Berg;ann@example.org\n13;Tom;Hill;tom@example.org",
        '"Ann","Berg"\n"Tom", "Hill"',
        '"Berg, Ann";9b\n"Hill, Tom";9b',
        "First name,Last name\nAnn,Berg\nTom,Hill",
        "Surname;Class;Given name\nBerg;9b;Ann\nHill;9b;Tom",
        "Vorname;Name\nAnn;Berg\nTom;Hill",
        "Nome;Cognome\nAnn;Berg\nTom;Hill",
        "Name\nBerg, Ann\nTom Hill",
        "sep=;\nName;Mail\nAnn Berg;ann@example.org\nTom Hill;",
    ],
)
def test_whatever_a_teacher_has_gives_the_same_two_students(sent: str) -> None:
    roster = read_roster(sent)
    assert names(roster) == ["Ann B", "Tom H"]
    assert roster.left_out == ()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "windows-1252"])
def test_a_file_is_read_in_each_encoding_that_spreadsheets_write(encoding: str) -> None:
    roster = read_roster("Vorname;Nachname\r\nJörg;Öhler\r\nZoë;Berg\r\n".encode(encoding))
    assert names(roster) == ["Jörg Ö", "Zoë B"]


def test_the_first_name_alone_has_no_mark() -> None:
    assert names(read_roster("Ann\n\n  \nTom\n")) == ["Ann", "Tom"]


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    roster = read_roster('First name;Note\n\nAnn;"two\nlines"\nTom;\n4711;')
    assert [student.line for student in roster.students] == [3, 5]
    assert roster.left_out == ("Line 6 was left out: no first name stands in its column; write one there.",)


def test_of_several_first_names_the_first_is_kept_and_small_words_make_no_mark() -> None:
    assert names(read_roster("Anna Maria Berg\nvan der Meer, Jan Piet\nAnne-Marie O’Neil")) == [
        "Anna B",
        "Jan M",
        "Anne-Marie O",
    ]


def test_two_of_one_name_and_mark_are_told_apart_by_the_next_free_number() -> None:
    assert names(read_roster("Ann Berg\nAnn Becker\nann boll\nTom\nTom\nTom")) == [
        "Ann B",
        "Ann B2",
        "ann B3",
        "Tom",
        "Tom 2",
        "Tom 3",
    ]


def test_one_name_written_with_two_sorts_of_accent_is_one_name() -> None:
    assert names(read_roster("Zo\u00eb Berg\nZoe\u0308 Boll")) == ["Zo\u00eb B", "Zo\u00eb B2"]


def test_who_is_there_already_keeps_name_mark_and_number() -> None:
    taken = {("Ann", "B"), ("Ann", "B3"), ("Tom", "")}
    assert names(read_roster("Ann Berg\nAnn Boll\nTom", taken)) == ["Ann B2", "Ann B4", "Tom 2"]


def test_the_users_file_of_open_rostering_gives_its_enabled_students() -> None:
    rows = [
        HEADER,
        user("Ann", "Berg"),
        user("Eva", "Stone", role="teacher"),
        user("Tom", "Hill", enabled="false"),
        user("Max", "Wood", status="tobedeleted"),
        user("Ida", "Moor", role="robot"),
        user("Pia", "Lake", role="Student", enabled="TRUE", status=""),
    ]
    roster = read_roster("\n".join(rows).encode("utf-8-sig"))
    assert names(roster) == ["Ann B", "Pia L"]
    assert roster.left_out == (
        "Line 3 was left out: its role is teacher, not student.",
        "Line 4 was left out: its user is not enabled.",
        "Line 5 was left out: it is marked as to be deleted.",
        "Line 6 was left out: its role is not student.",
    )


def test_nothing_but_first_name_and_mark_is_kept_of_a_users_file() -> None:
    kept = repr(read_roster(f"{HEADER}\n{user('Ann', 'Berg')}\n{user('Eva', 'Stone', role='teacher')}"))
    told = ("Berg", "Stone", "Eva", "Middle", "4711", "example", "0170", "secret")
    assert not [word for word in told if word in kept]


def test_another_file_of_open_rostering_is_refused_with_the_one_to_send() -> None:
    assert why_not("sourcedId,status,dateLastModified,title\nc1,active,,Engines") == (
        "Line 1 has headings, but none for first names: call that column “first name” "
        "(in rostering files it is givenName, in the users file)."
    )


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("4711", "only digits stand there; write a first name"),
        ("30.09.2011", "only digits stand there; write a first name"),
        ("ann@example.org", "an e-mail address stands there; write a first name"),
        ("A" + "n" * LONGEST_NAME, "its name has more than 40 characters; shorten it"),
        ("Please bring your safety glasses to the next lesson", "its name has more than 40 characters; shorten it"),
        ("Berg,Ann,Engines", "more than two names stand there; write one name a line, or headings in line 1"),
        ("=1+2|cmd", "there is no name in it; write a first name, in letters"),
        ("Ann2 Berg", "there is no name in it; write a first name, in letters"),
    ],
)
def test_a_line_that_is_no_name_is_left_out_and_its_line_is_named(line: str, reason: str) -> None:
    roster = read_roster(f"Ann\n{line}\nTom")
    assert names(roster) == ["Ann", "Tom"]
    assert roster.left_out == (f"Line 2 was left out: {reason}.",)


def test_a_name_of_forty_characters_is_a_name() -> None:
    assert names(read_roster("A" + "n" * (LONGEST_NAME - 1))) == ["A" + "n" * 39]


def test_a_row_with_a_comma_too_many_is_left_out_and_not_read_in_the_wrong_column() -> None:
    roster = read_roster('Name,Class\n"Berg, Ann",9b\nHill, Tom,9b')
    assert names(roster) == ["Ann B"]
    assert roster.left_out == (
        "Line 3 was left out: it has more columns than there are headings; "
        "put what has commas in it between quotation marks.",
    )


def test_sixty_are_a_class_and_the_sixty_first_line_is_named() -> None:
    full = "\n".join(LETTERS[:MOST_STUDENTS])
    assert len(read_roster(full).students) == MOST_STUDENTS
    assert len(read_roster(f"{full}\n4711").students) == MOST_STUDENTS
    assert why_not("\n".join(LETTERS)) == (
        "Line 61 has one name too many: a class has at most 60; paste only this class’s lines."
    )


def test_no_name_at_all_is_refused() -> None:
    assert why_not(" \n\t\n") == "There is nothing in it: write one name a line, like “Ann Berg”."
    assert why_not("First name;Last name\n") == (
        "Line 1 has headings and nothing below: write one name a line, like “Ann Berg”."
    )
    assert why_not("4711\nann@example.org") == (
        "Line 1 was left out (only digits stand there; write a first name), and no other is better: "
        "write one name a line, like “Ann Berg”."
    )


@pytest.mark.parametrize("letter", ["\x00", "\x07", "\x1b", "\x85", "\u2028", "\u202e", "\ud800"])
def test_control_characters_are_refused_with_their_line(letter: str) -> None:
    assert why_not(f"Ann\nTo{letter}m") == (
        f"Line 2 has a control character (U+{ord(letter):04X}) in it: save the list as CSV UTF-8, or paste the names."
    )


def test_a_workbook_and_bytes_that_are_no_text_are_refused_with_the_way_out() -> None:
    assert "save it as CSV" in why_not(b"PK\x03\x04\x14\x00\x06\x00")
    assert "save it as CSV UTF-8" in why_not(b"Ann \x81 Berg")


def test_a_quotation_mark_that_is_never_closed_is_refused_with_its_line() -> None:
    assert why_not('Ann\n"Tom\nIda') == (
        "Line 2 has a quotation mark that is not closed in its place: close it or take it out."
    )


def test_a_text_without_end_is_refused() -> None:
    assert why_not("Ann\n" * 250_001) == "It has over 1,000,000 characters: paste only this class’s lines."


@settings(deadline=None, max_examples=300)
@given(st.one_of(st.text(), st.text(alphabet='AbÄ 9@.,;\t"\n()-')))
@example("Berg,")
@example('"",;\n"Ann"')
def test_any_text_is_read_or_refused_and_keeps_no_digit_and_no_address(sent: str) -> None:
    roster = read_or_refused(sent)
    if isinstance(roster, str):
        assert roster.endswith(".")
        return
    assert 1 <= len(roster.students) <= MOST_STUDENTS
    assert len({(each.name.casefold(), each.mark.casefold()) for each in roster.students}) == len(roster.students)
    for each in roster.students:
        assert len(each.name) <= LONGEST_NAME
        assert not [letter for letter in each.name if letter.isdigit() or letter in '@,;" ']
        assert each.mark.lstrip("0123456789") == "" or each.mark[0].isalpha()
        assert 1 <= each.line <= sent.count("\n") + sent.count("\r") + 1


@settings(deadline=None)
@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(sent: bytes) -> None:
    roster = read_or_refused(sent)
    assert roster.endswith(".") if isinstance(roster, str) else roster.students


@settings(deadline=None)
@given(st.lists(st.sampled_from(LETTERS), min_size=1, max_size=20), st.sampled_from([",", ";", "\t"]))
def test_columns_give_what_pasted_lines_give(given_names: list[str], between: str) -> None:
    pasted = "\n".join(f"{name} Berg" for name in given_names)
    columns = "\n".join(f"{name}{between}Berg" for name in given_names)
    assert names(read_roster(columns)) == names(read_roster(pasted))


def test_a_mark_is_one_capital_letter() -> None:
    assert [mark_of(family) for family in ("berg", "’t Hart", "de la Cruz", "ßen", "—", " ")] == [
        "B",
        "H",
        "C",
        "S",
        "",
        "",
    ]
