"""A page as a picture, drawn by another library than made it: what is dark where, which codes and words are read."""

import math
import random
from dataclasses import dataclass

import pypdfium2
import zxingcpp

DARK = 128
# Used engine oil lets through about half the light (a guess, no source): white 255 becomes 140, black stays black.
OIL = bytes(value * 140 // 255 for value in range(256))
INK = bytes(256)


@dataclass(frozen=True)
class Picture:
    """Grey values 0 to 255, row by row, and how many of them a millimetre has."""

    rows: tuple[bytes, ...]
    per_mm: float

    @property
    def width(self) -> int:
        return len(self.rows[0])

    def cut(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> "Picture":
        """The part of the picture that lies in this rectangle, whole squares only."""
        left, top = math.ceil(x_mm * self.per_mm), math.ceil(y_mm * self.per_mm)
        right, bottom = math.floor((x_mm + width_mm) * self.per_mm), math.floor((y_mm + height_mm) * self.per_mm)
        assert 0 <= left < right <= self.width, "no picture is left"
        assert 0 <= top < bottom <= len(self.rows), "no picture is left"
        return Picture(tuple(row[left:right] for row in self.rows[top:bottom]), self.per_mm)

    def is_blank(self) -> bool:
        """Whether nothing dark is in it."""
        return all(min(row, default=255) >= DARK for row in self.rows)

    def dark_box_mm(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of what is dark [mm]."""
        columns = [min(column) < DARK for column in zip(*self.rows, strict=True)]
        lines = [min(row) < DARK for row in self.rows]
        ends = (columns.index(True), lines.index(True), _last(columns) + 1, _last(lines) + 1)
        left, top, right, bottom = (end / self.per_mm for end in ends)
        return left, top, right, bottom

    def codes(self) -> list[str]:
        """Every code a scanner finds, as often as it finds it."""
        return [found.text for found in self.found()]

    def found(self) -> list[zxingcpp.Barcode]:
        """Every code a scanner finds, with its corners."""
        values = memoryview(b"".join(self.rows)).cast("B", (len(self.rows), self.width))
        return zxingcpp.read_barcodes(values, formats=zxingcpp.BarcodeFormat.QRCode)

    def stained(self, share: float, drops: int, through: bytes, chance: random.Random) -> "Picture":
        """The same with round stains that cover this share of it in all, anywhere on it."""
        rows = [bytearray(row) for row in self.rows]
        radius = math.sqrt(share * len(rows) * self.width / drops / math.pi)
        for _ in range(drops):
            x, y = chance.uniform(0, self.width), chance.uniform(0, len(rows))
            for line in range(max(0, int(y - radius)), min(len(rows), int(y + radius) + 1)):
                half = math.sqrt(max(0.0, radius**2 - (line - y) ** 2))
                left, right = max(0, int(x - half)), max(0, int(x + half))
                rows[line][left:right] = rows[line][left:right].translate(through)
        return Picture(tuple(bytes(row) for row in rows), self.per_mm)


def _last(truths: list[bool]) -> int:
    return len(truths) - 1 - truths[::-1].index(True)


def drawn(pdf: bytes, dpi: int = 150) -> list[Picture]:
    """Every page as a picture."""
    pictures = []
    for page in pypdfium2.PdfDocument(pdf):
        bitmap = page.render(scale=dpi / 72, grayscale=True)
        values = bytes(bitmap.buffer)
        starts = range(0, bitmap.height * bitmap.stride, bitmap.stride)
        pictures.append(Picture(tuple(values[start : start + bitmap.width] for start in starts), dpi / 25.4))
    return pictures


def said(pdf: bytes) -> str:
    """The words of all pages, every gap a single space."""
    words = "\n".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))
    return " ".join(words.split())
