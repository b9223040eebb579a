"""The project's own files, as the repository tests read them."""

from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
KEPT_IN = ("src", "tests", "tools", "bench", "examples", "docs", ".ci")
NOT_OURS = ("__pycache__", ".egg-info", ".pyc", "_cache/")


def files(*suffixes: str, within: tuple[str, ...] = KEPT_IN) -> list[Path]:
    """Every file in these folders with one of these endings (any, if none); by default the root too."""
    found = [path for folder in within for path in (ROOT / folder).rglob("*")]
    if within == KEPT_IN:
        found += [path for path in ROOT.iterdir() if not path.name.startswith(".")]
    return sorted(
        path for path in found if path.is_file() and _ours(path) and (not suffixes or path.suffix in suffixes)
    )


def texts(*suffixes: str, within: tuple[str, ...] = KEPT_IN) -> Iterator[tuple[str, str]]:
    """Name from the root and text of each of those files that is text."""
    for path in files(*suffixes, within=within):
        try:
            yield str(path.relative_to(ROOT)), path.read_text("utf-8")
        except UnicodeDecodeError:  # a font, a picture
            continue


def _ours(path: Path) -> bool:
    return not any(mark in str(path.relative_to(ROOT)) for mark in NOT_OURS)
