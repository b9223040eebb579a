"""What must not stand in the project: somebody's machine, somebody's registry, what was left lying about."""

import re

from tests.repository.source import ROOT, texts

# Brackets keep this file from finding itself.
MACHINE_PATHS = re.compile(r"(?<![\w.])/(?:wo[r]k|fa[r]m|ho[m]e/\w|ro[o]t/|Use[r]s/|tm[p]/\w)")
REGISTRY_HOSTS = re.compile(
    r"py[p]i\.org|python[h]osted|registry\.np[m]js|deb\.deb[i]an\.org|index-[u]rl|arti[f]actory", re.I
)
LEFTOVERS = re.compile(r"\b(?:FIX[M]E|HA[C]K|XX[X]|TO[D]O)\b")


def _lines_with(pattern: re.Pattern[str]) -> list[str]:
    return [
        f"{name}:{number} {line.strip()[:80]}"
        for name, text in texts()
        if name != "LICENSE"
        for number, line in enumerate(text.splitlines(), 1)
        if pattern.search(line)
    ]


def test_no_path_of_somebodys_machine_is_in_the_project() -> None:
    assert not _lines_with(MACHINE_PATHS)


def test_no_address_of_a_package_registry_is_in_the_project() -> None:
    assert not _lines_with(REGISTRY_HOSTS)


def test_nothing_is_left_half_done() -> None:
    assert not _lines_with(LEFTOVERS)


def test_the_licence_is_the_whole_apache_2_0_text() -> None:
    licence = (ROOT / "LICENSE").read_text("utf-8")
    assert "Version 2.0, January 2004" in licence
    assert "APPENDIX: How to apply the Apache License to your work." in licence
    assert licence.count("\n") > 200
