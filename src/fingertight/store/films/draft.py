"""A film on its way in: written piece by piece to a hidden file, which gets its name only once it is whole."""

import os
import re
import tempfile
import time
import unicodedata
from pathlib import Path
from typing import Final

from fingertight.store.films.folder import LONGEST_NAME, TYPES, Film, film_named, is_film_name
from fingertight.store.log.promise import Refused

BEGINNING: Final = ".on-its-way-"
OLD_S: Final = 24 * 3600
_KNOWN: Final = " ".join(sorted(ending[1:] for ending in TYPES))


class Draft:
    """A film that is not whole yet. It is gone once closed, unless it was kept."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        _clear(folder)
        self.folder, self.size = folder, 0
        number, name = tempfile.mkstemp(prefix=BEGINNING, dir=folder)
        self.path = Path(name)
        self._file = os.fdopen(number, "wb")

    def write(self, piece: bytes) -> None:
        """The next piece. Raises OSError where the disk takes no more."""
        self._file.write(piece)
        self.size += len(piece)

    def keep(self, typed: str) -> Film:
        """The film, whole on the disk, under the name its sender gave it, cleaned; a name that is taken gets a number.

        Raises Refused with a sentence where it is empty, or no film.
        """
        if not self.size:
            raise Refused(f"{typed} is empty. Send the film itself.")
        name = clean_name(typed)
        self._file.flush()
        os.fsync(self._file.fileno())
        self._file.close()
        with self.path.open("rb") as begun:
            if not looks_like_a_film(begun.read(16)):
                raise Refused(
                    f"{typed} is named like a film but does not begin like one. Make it MP4 or WebM, which browsers "
                    "play, and send it again."
                )
        target = _reserved(self.folder, name)
        self.path.replace(target)  # whole at once: nobody ever sees a part of it under its name
        found = film_named(self.folder, target.name)
        if found is None:
            raise Refused(f"{target.name} is gone again from the folder. Look who else works there.")
        return found

    def close(self) -> None:
        """Nothing stays of what was not kept."""
        self._file.close()
        self.path.unlink(missing_ok=True)

    def __del__(self) -> None:
        if hasattr(self, "_file"):
            self.close()


def clean_name(typed: str) -> str:
    """A name for the folder, from what a browser calls the file: letters, figures, space, dot, line, underline.

    >>> clean_name("C:\\\\films\\\\Pump engine (2).MP4"), clean_name("../../secret.mp4"), clean_name("Öl.webm")
    ('Pump engine 2.mp4', 'secret.mp4', 'Öl.webm')

    Raises Refused where it has not the ending of a film.
    """
    last = re.split(r"[/\\]", unicodedata.normalize("NFC", typed))[-1]
    stem, dot, ending = last.rpartition(".")
    ending = f"{dot}{ending.strip().lower()}"
    if ending not in TYPES:
        raise Refused(f"“{last[:60]}” has not the name of a film: it ends in none of {_KNOWN}. Choose the film itself.")
    plain = re.sub(r"\s+", " ", re.sub(r"[^\w .-]", " ", stem)).strip(" .-_")
    name = f"{plain[:LONGEST_NAME] or 'film'}{ending}"
    while not is_film_name(name):  # too long in bytes
        plain = plain[:-1]
        name = f"{plain or 'film'}{ending}"
    return name


def looks_like_a_film(begins: bytes) -> bool:
    """Whether a file begins as MP4, QuickTime, WebM, Matroska or Ogg does.

    >>> looks_like_a_film(b"\\x00\\x00\\x00 ftypisom"), looks_like_a_film(b"PK\\x03\\x04 a zip")
    (True, False)

    Source: ISO/IEC 14496-12 (file type box), Apple QuickTime File Format (atoms), RFC 8794 (EBML header), RFC 3533
    (Ogg capture pattern).
    """
    is_box = begins[4:8] in {b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip"}
    return is_box or begins.startswith((b"\x1a\x45\xdf\xa3", b"OggS"))


def _reserved(folder: Path, name: str) -> Path:
    """A free name, taken by an empty file, which is no film yet."""
    stem, ending = Path(name).stem, Path(name).suffix
    for number in range(1, 1000):
        path = folder / (name if number == 1 else f"{stem}-{number}{ending}")
        try:
            path.touch(0o600, exist_ok=False)
        except FileExistsError:
            continue
        return path
    raise Refused(f"There are a thousand films called {stem} already. Give this one another name.")


def _clear(folder: Path) -> None:
    """What a killed server left half is taken away a day later."""
    for path in folder.glob(f"{BEGINNING}*"):
        try:
            if time.time() - path.stat().st_mtime > OLD_S:
                path.unlink()
        except OSError:
            continue
