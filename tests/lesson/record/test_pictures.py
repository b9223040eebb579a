"""Photos become small JPEGs with nothing beside the picture; what is none is refused in a sentence."""

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image

from fingertight.lesson.record.pictures import NotAPhoto, made_small

ORIENTATION, MAKE, GPS = 0x0112, 0x010F, 0x8825


def picture(width: int, height: int, kind: str = "JPEG", exif: Image.Exif | None = None) -> bytes:
    """A red picture with a blue left edge."""
    made, out = Image.new("RGB", (width, height), "red"), BytesIO()
    made.paste("blue", (0, 0, width // 4, height))
    made.save(out, kind, **({"exif": exif} if exif else {}))
    return out.getvalue()


def opened(data: bytes) -> Image.Image:
    """As the browser would see it."""
    return Image.open(BytesIO(data))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_large_one_becomes_small_and_a_small_one_stays_its_size(kind: str) -> None:
    made = made_small(picture(4000, 3000, kind))
    assert opened(made.whole).size == (1600, 1200)
    assert opened(made.small).size == (320, 240)
    assert {opened(one).format for one in made} == {"JPEG"}
    assert opened(made_small(picture(200, 100, kind)).whole).size == (200, 100)


def test_it_is_turned_upright_and_says_nothing_of_where_it_was_taken() -> None:
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKE], exif[GPS] = 6, "a phone", {1: "N", 2: (48.0, 1.0, 2.0)}
    made = opened(made_small(picture(800, 600, exif=exif)).whole)
    assert made.size == (600, 800)  # Exif 2.32, tag 0x0112: 6 is a quarter turn, the left edge came up
    red, _, blue = made.getpixel((300, 20))
    assert blue > 200
    assert red < 60
    assert not made.getexif()
    assert b"a phone" not in made_small(picture(800, 600, exif=exif)).whole


def bomb() -> bytes:
    """A PNG of a few hundred bytes that says it has 900 million points."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 99)) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "no photo that can be shown"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "Choose a JPEG, PNG or WebP"),
        (picture(600, 400, "GIF"), "no photo that can be shown"),
        (picture(3000, 2000)[:9000], "damaged or not whole"),
        (bomb(), "more than 40 million points"),
    ],
    ids=["nothing", "svg", "gif", "half", "bomb"],
)
def test_what_is_no_photo_is_refused(data: bytes, sentence: str) -> None:
    with pytest.raises(NotAPhoto, match=sentence):
        made_small(data)
