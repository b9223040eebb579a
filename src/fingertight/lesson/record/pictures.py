"""Photos of parts: made small before they are kept, so that a term of them fits into the workshop's one file.

What a camera writes beside a picture (where it was, when, by which phone) is not kept.
"""

from io import BytesIO
from threading import Lock
from typing import NamedTuple

from PIL import Image, ImageOps, UnidentifiedImageError

LONGEST_SIDE, SMALL_SIDE = 1600, 320
MOST_PIXELS = 40_000_000
FORMATS = ("JPEG", "PNG", "WEBP")
QUALITY = 82
TOO_MANY = "This picture has more than 40 million points. Take it with a smaller setting."
_one_at_a_time = Lock()
"""A picture of 12 million points takes some 50 MB while it is made small: never two at once."""


class NotAPhoto(Exception):
    """This cannot be kept as a photo; the message says why and what to do."""


class Made(NamedTuple):
    """A picture as it is kept: JPEG, whole and small."""

    whole: bytes
    small: bytes


def made_small(sent: bytes) -> Made:
    """The picture upright, at most 1,600 points on its longer side (and 320), with nothing but its points.

    Raises NotAPhoto for what is no JPEG, PNG or WebP, is damaged, or has more than 40 million points.
    """
    with _one_at_a_time:
        try:
            with Image.open(BytesIO(sent), formats=FORMATS) as opened:
                if opened.width * opened.height > MOST_PIXELS:
                    raise NotAPhoto(TOO_MANY)
                opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
                upright = ImageOps.exif_transpose(opened).convert("RGB")
        except UnidentifiedImageError:
            raise NotAPhoto("This is no photo that can be shown. Choose a JPEG, PNG or WebP picture.") from None
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            raise NotAPhoto(TOO_MANY) from None
        except (OSError, ValueError, SyntaxError):
            raise NotAPhoto("This photo is damaged or not whole. Take it again.") from None
        return Made(*(_jpeg(upright, min(side, max(upright.size))) for side in (LONGEST_SIDE, SMALL_SIDE)))


def _jpeg(picture: Image.Image, side: int) -> bytes:
    out = BytesIO()
    ImageOps.contain(picture, (side, side)).save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()
