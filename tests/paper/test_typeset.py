"""What a PDF of ours promises to readers, printers and archives."""

import ctypes
import os
import subprocess
import sys

import pypdfium2
import pypdfium2.raw as pdfium

from fingertight.paper.labels import label_pdf, ruler_pdf
from fingertight.paper.sheets import SHEETS
from fingertight.paper.typeset import at_its_own_size
from tests.paper.cast import MACHINE, labels_of

SCRIPT = """
import hashlib
from fingertight.paper.labels import label_pdf, ruler_pdf
from fingertight.paper.sheets import SHEETS
from tests.paper.cast import labels_of
print(hashlib.sha256(label_pdf(labels_of(30), SHEETS["a4-3x7"]) + ruler_pdf(SHEETS["a4-3x7"])).hexdigest())
"""


def test_the_same_labels_give_the_same_bytes_in_another_process_on_another_day() -> None:
    prints = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "SOURCE_DATE_EPOCH": epoch, "LANG": "C"},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed, zone, epoch in (("1", "UTC", "1"), ("2", "Asia/Tokyo", "2000000000"))
    }
    assert len(prints) == 1


def test_a_pdf_is_tagged_titled_in_a_language_and_says_it_is_accessible() -> None:
    for pdf, title in (
        (label_pdf(labels_of(3), SHEETS["a4-card"]), f"Bag labels: {MACHINE}"),
        (ruler_pdf(SHEETS["a4-3x7"]), "Ruler page for sheet a4-3x7"),
    ):
        document = pypdfium2.PdfDocument(pdf)
        assert document.get_metadata_dict()["Title"] == title
        assert pdfium.FPDFCatalog_IsTagged(document)
        language = (ctypes.c_ushort * 8)()
        pdfium.FPDFCatalog_GetLanguage(document, language, 16)
        assert bytes(language).decode("utf-16-le").rstrip("\0") == "en"
        assert b"<pdfuaid:part>1</pdfuaid:part>" in pdf


def test_the_print_dialogue_is_asked_not_to_shrink_the_page() -> None:
    for pdf in (label_pdf(labels_of(3), SHEETS["a4-3x7"]), ruler_pdf(SHEETS["letter-card"])):
        assert not pdfium.FPDF_VIEWERREF_GetPrintScaling(pypdfium2.PdfDocument(pdf))
        table = int(pdf[pdf.rfind(b"startxref\n") + 10 :].split()[0])
        assert pdf[table:].startswith(b"xref\n")


def test_a_pdf_laid_out_in_another_way_is_left_as_it_is() -> None:
    for pdf in (b"", b"%PDF-1.7 nothing here", b"/Type/Catalog xref\nstartxref\n3", b"/ViewerPreferences<<>>"):
        assert at_its_own_size(pdf) == pdf


def test_every_font_on_the_page_came_with_the_program() -> None:
    document = pypdfium2.PdfDocument(label_pdf(labels_of(6), SHEETS["a4-3x7"]))
    fonts = set()
    for drawing in document[0].get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=9):
        name = ctypes.create_string_buffer(200)
        pdfium.FPDFFont_GetBaseFontName(pdfium.FPDFTextObj_GetFont(drawing), name, 200)
        fonts.add(name.value.decode().partition("+")[2])
    assert fonts == {"DejaVuSansCondensed", "DejaVuSansCondensed-Bold"}
