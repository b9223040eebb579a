"""Whatever is read, nothing is raised: there is an anatomy, or there are mistakes with places in the text."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.anatomy import CODES, Reading, read
from tests.anatomy.hand_pump import HAND_PUMP

LINES = HAND_PUMP.splitlines()
ODD = [
    "=",
    "[",
    "]",
    '"',
    "{",
    "}",
    ",",
    ".",
    "#",
    "\n",
    "'",
    '"""',
    "\\",
    "-",
    "nan",
    "true",
    "1e999",
    "[[part]]",
    "é",
    "\x00",
]


def is_sound(reading: Reading, text: str) -> None:
    """Either an anatomy or mistakes; each mistake has a code of the table, two sentences, and a place in the text."""
    assert (reading.anatomy is None) == bool(reading.mistakes)
    lines = text.count("\n") + 1
    for mistake in reading.mistakes:
        assert mistake.code in CODES
        assert mistake.text
        assert mistake.mend
        assert 1 <= mistake.line <= lines
        assert mistake.column >= 1


@given(st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(written: bytes) -> None:
    is_sound(read(written), written.decode("latin-1"))


@given(st.text(max_size=400))
def test_any_text_is_read_or_refused(text: str) -> None:
    is_sound(read(text), text)


@given(st.lists(st.sampled_from([*ODD, "a", "id", "part", " = ", "1", "machine"]), max_size=40).map("".join))
def test_any_heap_of_toml_signs_is_read_or_refused(text: str) -> None:
    is_sound(read(text), text)


@settings(deadline=None)
@given(st.data())
def test_a_file_with_lines_lost_doubled_or_moved_is_read_or_told_what_is_wrong(drawn: st.DataObject) -> None:
    lines = list(LINES)
    for _ in range(drawn.draw(st.integers(1, 4))):
        index = drawn.draw(st.integers(0, len(lines) - 1))
        match drawn.draw(st.sampled_from(["lost", "doubled", "moved"])):
            case "lost":
                del lines[index]
            case "doubled":
                lines.insert(index, lines[index])
            case _:
                lines.insert(drawn.draw(st.integers(0, len(lines) - 1)), lines.pop(index))
    text = "\n".join(lines)
    is_sound(read(text), text)


@settings(deadline=None)
@given(st.data())
def test_a_file_with_letters_lost_or_mistyped_is_read_or_told_what_is_wrong(drawn: st.DataObject) -> None:
    text = HAND_PUMP
    for _ in range(drawn.draw(st.integers(1, 5))):
        start = drawn.draw(st.integers(0, len(text) - 1))
        lost = drawn.draw(st.integers(0, 3))
        text = text[:start] + drawn.draw(st.sampled_from(["", *ODD])) + text[start + lost :]
    is_sound(read(text), text)


VALUES = st.recursive(
    st.booleans() | st.integers(-(2**70), 2**70) | st.floats() | st.sampled_from(["", "cover", "M6", "mm", "given"]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["id", "name", "at"]), inner, max_size=2)
    ),
    max_leaves=6,
)


def as_toml(value: object) -> str:
    """A value as it stands in a TOML file."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {as_toml(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(as_toml(one) for one in value) + "]"
    return f'"{value}"' if isinstance(value, str) else repr(value)


@settings(deadline=None)
@given(st.sampled_from([line for line in LINES if "=" in line]), VALUES)
def test_any_value_under_any_key_is_read_or_told_what_is_wrong(line: str, value: object) -> None:
    text = HAND_PUMP.replace(line, f"{line.split('=', maxsplit=1)[0]}= {as_toml(value)}")
    is_sound(read(text), text)
