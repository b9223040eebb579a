"""Lessons with their dates; from them each entry's time and id, the same at every run."""

import hashlib
from collections.abc import Sequence
from datetime import date, datetime, timedelta, timezone
from typing import Any
from uuid import UUID

from making.drafts import TEACHER, Drafts

PHONE_SLOW_S = 95
"""How far the clock of the phone with which pictures are taken is behind the server's."""
_SUMMER = date(2026, 3, 29)


def _begins(day: str, hour: str) -> datetime:
    zone = timezone(timedelta(hours=2 if date.fromisoformat(day) >= _SUMMER else 1))
    return datetime.fromisoformat(f"{day}T{hour}").replace(tzinfo=zone)


def _uuid7(moment: datetime, seed: str) -> str:
    """A UUIDv7 (RFC 9562, 5.7) whose random bits come from the seed instead."""
    chance = int.from_bytes(hashlib.sha256(seed.encode()).digest()[:10], "big")
    stamp = int(moment.timestamp() * 1000)
    bits = stamp << 80 | 7 << 76 | (chance >> 64 & 0xFFF) << 64 | 2 << 62 | chance & (1 << 62) - 1
    return str(UUID(int=bits))


def stamped(drafts: Drafts, log: str, lessons: Sequence[str], hour: str) -> list[dict[str, Any]]:
    """The entries with time and id, in the order in which they arrived."""
    said: list[dict[str, Any]] = []
    ids: dict[int, str] = {}
    moment, lesson = _begins(lessons[0], hour), 0
    for number, draft in enumerate(drafts):
        if draft.lesson != lesson:
            lesson = draft.lesson
            moment = _begins(lessons[lesson], hour)
        moment += timedelta(seconds=max(2, round(draft.minutes * 60) + (number * 37 % 17) - 8))
        by_phone = draft.kind == "note" and "photo" in draft.fields
        at = moment - timedelta(seconds=PHONE_SLOW_S) if by_phone else moment
        ids[id(draft)] = _uuid7(at, f"{log} {number}")
        entry = {
            "id": ids[id(draft)],
            "kind": draft.kind,
            "at": at.isoformat(),
            "by": draft.by,
            "as": "instructor" if draft.by == TEACHER else "student",
            **({"skew_s": PHONE_SLOW_S} if by_phone else {}),
            **{name: ids[id(value)] if name == "entry" else value for name, value in draft.fields.items()},
        }
        said.append(entry)
    return _arrived(drafts, said)


def _arrived(drafts: Drafts, said: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Some come late, some twice."""
    order = sorted(range(len(said)), key=lambda number: (number + drafts[number].late_by, drafts[number].late_by))
    arrived: list[dict[str, Any]] = []
    for number in order:
        arrived += [said[number]] * (2 if drafts[number].twice else 1)
    return arrived
