"""The one way from a card to a page: content as JSON to a typst template, out come the bytes of a PDF.

Content is handed over beside the template, never pasted into it, so what people typed prints as they typed it.
The same content gives the same bytes: fonts come with the program, and no clock is asked.
"""

import json
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, cast

from fingertight.paper.sheets import CannotPrint

if TYPE_CHECKING:
    import typst

_HERE = Path(__file__).parent
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]+")
_NO_LETTER = "could not be displayed"
_WHICH_LETTER = re.compile(rf'the text `"(.+?)"` {_NO_LETTER}')


def typeset(template: str, content: Mapping[str, object]) -> bytes:
    """What PDF does this template make of this content? Tagged, PDF/UA-1, to be printed at its own size.

    `template` names a file of this folder without its ending.
    Raises CannotPrint, naming the letters, when neither our font nor this machine's fonts have them.
    """
    import typst  # kept out of the start of commands that print nothing

    said = json.dumps(_printable(content), ensure_ascii=False, sort_keys=True)
    for own_only in (True, False):
        compiler = typst.Compiler(
            _HERE / f"{template}.typ", root=_HERE, font_paths=_fonts(own_only), sys_inputs={"content": said}
        )
        try:
            made = compiler.compile(format="pdf", pdf_standards="ua-1")
        except typst.TypstError as why:
            missing = _WHICH_LETTER.findall(why.diagnostic)
            if not missing:
                raise
        else:
            return at_its_own_size(cast(bytes, made))
    letters = ", ".join(f"“{letter}”" for letter in dict.fromkeys(missing))
    raise CannotPrint(
        f"No font on this machine has {letters}; install one that has it, or write the name in other letters."
    )


def at_its_own_size(pdf: bytes) -> bytes:
    """The same PDF, asking the print dialogue not to shrink it to the printer's margins, which typst cannot ask for.

    The wish (ISO 32000-1, table 150, PrintScaling) goes into the catalogue, which typst writes as the last object;
    so only the place of the table behind it moves. A PDF laid out otherwise comes back as it was.
    """
    catalogue = pdf.rfind(b"/Type/Catalog")
    wishes = pdf.find(b"/ViewerPreferences<<", catalogue) + len(b"/ViewerPreferences<<")
    table = pdf.rfind(b"xref\n", 0, pdf.rfind(b"startxref"))
    if not 0 < catalogue < wishes < table or pdf.find(b" obj\n", wishes, table) >= 0:
        return pdf
    wish = b"/PrintScaling/None"
    tail = re.sub(rb"(startxref\n)\d+", rb"\g<1>%d" % (table + len(wish)), pdf[wishes:])
    return pdf[:wishes] + wish + tail


@cache
def _fonts(own_only: bool) -> "typst.Fonts":
    """Our fonts (and typst's), or this machine's too."""
    import typst

    return typst.Fonts(include_system_fonts=not own_only, font_paths=[_HERE / "fonts"])


def _printable(content: object) -> object:
    """The content with a space for every character that steers a printer instead of being printed."""
    match content:
        case str():
            return _CONTROL.sub(" ", content)
        case Mapping():
            return {name: _printable(value) for name, value in content.items()}
        case list() | tuple():
            return [_printable(value) for value in content]
        case _:
            return content
