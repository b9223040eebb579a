"""Which films stand in the workshop's folder, under which name, and whether another has room."""

import shutil
from pathlib import Path
from typing import Final, NamedTuple

TYPES: Final = {
    ".mp4": "video/mp4",
    ".m4v": "video/mp4",
    ".mov": "video/quicktime",
    ".webm": "video/webm",
    ".mkv": "video/x-matroska",
    ".ogv": "video/ogg",
}
"""The endings of films, each with its type."""
LONGEST_NAME: Final = 100
RESERVE_BYTES: Final = 1024**3
"""So much stays free on the disk for the workshop itself: entries come first."""


class Film(NamedTuple):
    """A film as it lies in the folder. changed_ns: when it was last written [ns since 1970]."""

    name: str
    path: Path
    size: int
    changed_ns: int

    @property
    def type(self) -> str:
        """What a browser calls such a film."""
        return TYPES[self.path.suffix.lower()]


def films(folder: Path) -> list[Film]:
    """The films in this folder, by name: files with the ending of a film. Hidden, empty and linked ones are none."""
    try:
        entries = list(folder.iterdir())
    except OSError:
        return []
    found = [_film(path) for path in entries if is_film_name(path.name)]
    return sorted((film for film in found if film), key=lambda film: film.name.casefold())


def film_named(folder: Path, name: str) -> Film | None:
    """The film of this name, as the folder itself lists it: a name that leads elsewhere is none."""
    return _film(folder / name) if is_film_name(name) else None


def is_film_name(name: str) -> bool:
    """Whether a film may have this name: a plain file name with the ending of a film.

    >>> is_film_name("Pump engine.mp4"), is_film_name("../secret-key"), is_film_name(".half.mp4"), is_film_name("a.txt")
    (True, False, False, False)
    """
    plain = name.isprintable() and not any(mark in name for mark in '/\\:*?"<>|') and not name.startswith(".")
    return plain and 0 < len(name.encode()) <= 255 and Path(name).suffix.lower() in TYPES


def _film(path: Path) -> Film | None:
    try:
        said = path.lstat()
    except (OSError, ValueError):
        return None
    is_file = (said.st_mode & 0o170000) == 0o100000
    return Film(path.name, path, said.st_size, said.st_mtime_ns) if is_file and said.st_size else None


def free_bytes(folder: Path) -> int:
    """How much room another film has, with the reserve left free; below 0 when that is already used [bytes]."""
    there = next((one for one in (folder, *folder.parents) if one.exists()), folder)
    return shutil.disk_usage(there).free - RESERVE_BYTES
