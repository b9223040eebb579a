"""Photos of parts, by what is in them: the same picture is kept once, and can be taken away for good."""

import hashlib
from collections.abc import Sequence
from datetime import UTC, datetime

from fingertight.store.models import Workshop
from fingertight.store.school.tables import Photo


def keep_photo(workshop: Workshop, whole: bytes, small: bytes, by: str) -> str:
    """Keep a picture, whole and small; its id, the same for the same picture."""
    found = hashlib.sha256(whole).hexdigest()
    Photo.objects.get_or_create(
        workshop=workshop,
        id=found,
        defaults={"whole": whole, "small": small, "by": by, "kept": datetime.now(UTC)},
    )
    return found


def photo_at(workshop: Workshop, photo: str, *, small: bool = False) -> bytes | None:
    """The JPEG, or None where there is none or it was taken away."""
    column = "small" if small else "whole"
    row = Photo.objects.filter(workshop=workshop, id=photo, gone=None).values_list(column, flat=True).first()
    return None if row is None else bytes(row)


def still_there(workshop: Workshop, photos: Sequence[str]) -> list[str]:
    """Those of these that were not taken away, in their order."""
    there = set(Photo.objects.filter(workshop=workshop, id__in=photos, gone=None).values_list("id", flat=True))
    return [photo for photo in photos if photo in there]


def take_away(workshop: Workshop, photo: str) -> bool:
    """Empty a picture for good, somebody is on it, say; that it was there stays. Whether it was there until now."""
    there = Photo.objects.filter(workshop=workshop, id=photo, gone=None)
    return there.update(whole=b"", small=b"", gone=datetime.now(UTC)) > 0
