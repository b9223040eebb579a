"""Invented narrations, and what they truly speak of: a NOTE before a caption names the move that is spoken of there.

The notes are comments of WebVTT; the reader of captions never sees them.
"""

import random
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from fingertight.anatomy import read
from fingertight.anatomy.model import Anatomy
from fingertight.lesson.film.captions.found import Found
from fingertight.lesson.film.captions.words import Cue
from fingertight.paper.film.captions import read_captions

ROOT = Path(__file__).resolve().parents[3]
EARLY_S, LATE_S = 3.0, 15.0
_TRUTH = re.compile(r"NOTE ((?:off|on) [^\n]+)\n\n(\S+) --> (\S+)")


class Narrated(NamedTuple):
    """A machine, the captions of a film about it, and for each move when its words begin and end [s]."""

    anatomy: Anatomy
    cues: tuple[Cue, ...]
    truth: dict[tuple[str, str], tuple[float, float]]


def machine(name: str) -> Anatomy:
    anatomy = read((ROOT / "examples" / f"{name}.toml").read_text("utf-8")).anatomy
    assert anatomy
    return anatomy


def narrated(name: str, folder: Path) -> Narrated:
    raw = (folder / f"{name}.vtt").read_bytes()
    truth = {}
    for moves, starts, ends in _TRUTH.findall(raw.decode()):
        for kind, part in (move.split() for move in moves.split("; ")):
            truth[part, kind] = (_seconds(starts), _seconds(ends))
    return Narrated(machine(name.removesuffix("-second")), read_captions(raw, name).cues, truth)


def right(found: Found, truth: dict[tuple[str, str], tuple[float, float]]) -> list[tuple[str, str]]:
    """The proposals that name a true move where it is spoken of: from 3 s before its first caption to 15 s after."""
    good = []
    for one in found.proposals:
        starts_s, ends_s = truth.get((one.part, one.kind), (1e9, 1e9))
        if starts_s - EARLY_S <= one.said_s <= ends_s + LATE_S:
            good.append((one.part, one.kind))
    return good


def misheard(cues: Sequence[Cue], share: float, seed: int) -> list[Cue]:
    """The captions of a machine that hears badly: such a share of the words is lost, or has a wrong letter."""
    chance = random.Random(seed)
    return [replace(cue, text=" ".join(_heard(word, share, chance) for word in cue.text.split())) for cue in cues]


def _heard(word: str, share: float, chance: random.Random) -> str:
    if chance.random() >= share:
        return word
    if chance.random() < 0.5 or len(word) < 3:
        return ""
    place = chance.randrange(1, len(word) - 1)
    return word[:place] + chance.choice("aeiourst") + word[place + 1 :]


def _seconds(written: str) -> float:
    hours, minutes, seconds = written.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(seconds)
