"""One line of a job's log, as it was sent, and when it counts.

The kinds and their fields are the table in `kinds.py`; here a JSON object becomes an `Entry`, or a list of sentences.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, NamedTuple


class Entry(NamedTuple):
    """One entry. `said` is the whole object as sent, unknown fields kept; `when` is the corrected time [s since 1970]."""

    id: str
    kind: str
    when: float
    said: Mapping[str, Any]

    @property
    def by(self) -> str:
        """Who wrote it."""
        return str(self.said.get("by", ""))

    @property
    def by_instructor(self) -> bool:
        """Whether it was written as an instructor."""
        return self.said.get("as") == "instructor"


def corrected_time(at: str, skew_s: float = 0.0) -> float:
    """When it happened by the server's clock [s since 1970]: the device's time plus the skew measured at delivery.

    >>> corrected_time("2026-03-05T09:00:00+01:00", 30)
    1772697630.0

    Raises ValueError when the time is not RFC 3339 with an offset.
    """
    moment = datetime.fromisoformat(at)
    if moment.tzinfo is None:
        raise ValueError(at)
    return moment.timestamp() + skew_s
