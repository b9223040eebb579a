"""A mark lines two clocks up: the film's, which starts at 0, and the log's, which knows the day."""

import re
from dataclasses import dataclass
from datetime import UTC, datetime

from fingertight.ledger.entry import corrected_time
from fingertight.ledger.replay import Ledger

LONGEST_FILM_S = 360_000
"""A hundred hours: nobody films longer, and a time beyond is a slip."""
_TIME = re.compile(r"(?:(\d{1,3}):)?(?:(\d{1,5}):)?(\d{1,6}(?:[.,]\d{1,3})?)(?:\s*s)?", re.ASCII)
_STEADY = 0.01


class NotLinedUp(ValueError):
    """A time or a mark cannot be; the message says what and how to mend it."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One moment by both clocks: in the film [s from its start] and in the log [s since 1970]."""

    film_s: float
    log_s: float


@dataclass(frozen=True, slots=True)
class Clock:
    """When is it in the film?

    film = film₁ + (log − log₁) × rate. With one mark the rate is 1; with two, rate = (film₂ − film₁) / (log₂ − log₁).

    >>> clock = Clock.of(Mark(10.0, 1_000.0), Mark(110.5, 1_100.0))
    >>> round(clock.film_s(1_050.0), 3), round(clock.log_s(60.25), 3)
    (60.25, 1050.0)

    Two marks are for a film that runs off against the log, or was filmed at another pace. They cannot mend a film that
    was cut between them: then one of the pieces has the wrong times.
    """

    first: Mark
    rate: float = 1.0

    @classmethod
    def of(cls, first: Mark, second: Mark | None = None) -> "Clock":
        """The clock of one mark, or of two.

        Raises NotLinedUp when two marks say that time runs backwards or stands still.
        """
        if second is None:
            return cls(first)
        film, log = second.film_s - first.film_s, second.log_s - first.log_s
        if film * log <= 0:
            raise NotLinedUp(
                f"The marks {film_words(first.film_s)} and {film_words(second.film_s)} of the film are not in the "
                "order of the log. Take two different moments, the earlier of the film with the earlier of the log."
            )
        return cls(first, film / log)

    def film_s(self, log_s: float) -> float:
        """The moment of the film [s from its start; below 0 before it]."""
        return self.first.film_s + (log_s - self.first.log_s) * self.rate

    def log_s(self, film_s: float) -> float:
        """The moment of the log [s since 1970]."""
        return self.first.log_s + (film_s - self.first.film_s) / self.rate

    @property
    def says(self) -> str:
        """What a person should know of two marks; nothing where film and log run alike within 1 %."""
        if abs(self.rate - 1) <= _STEADY:
            return ""
        return (
            f"By the two marks the film runs {self.rate:.3g} times as fast as the log. If it was cut between them, the "
            "chapters there are wrong: use one mark, and a film for each piece."
        )


def film_time(typed: str) -> float:
    """Which moment of the film is meant [s]? Seconds, or minutes and hours with colons; point or comma.

    >>> film_time("1:02:03.5"), film_time("12:34"), film_time("90")
    (3723.5, 754.0, 90.0)

    Raises NotLinedUp with a sentence.
    """
    found = _TIME.fullmatch(typed.strip())
    if not found:
        raise NotLinedUp(f"“{typed}” is no time of a film; write it as 12:34, 1:02:03.5 or, in seconds, 754.")
    hours, minutes, seconds = found[1], found[2], float(found[3].replace(",", "."))
    if hours is not None and minutes is None:
        hours, minutes = None, hours
    if minutes is not None and (seconds >= 60 or (hours is not None and int(minutes) >= 60)):
        raise NotLinedUp(f"“{typed}” has 60 or more minutes or seconds after a colon; write it as 1:02:03.5.")
    total = int(hours or 0) * 3600 + int(minutes or 0) * 60 + seconds
    if total >= LONGEST_FILM_S:
        raise NotLinedUp(f"“{typed}” is a hundred hours into the film or more; write it as 12:34 or 1:02:03.5.")
    return round(total, 3)


def film_words(film_s: float) -> str:
    """The moment as people read it, to the second.

    >>> film_words(3723.5), film_words(754), film_words(-5)
    ('1:02:03', '12:34', '−0:05')
    """
    whole = int(abs(film_s))
    sign = "−" if film_s < 0 and whole else ""
    minutes, seconds = divmod(whole, 60)
    if minutes < 60:
        return f"{sign}{minutes}:{seconds:02}"
    return f"{sign}{minutes // 60}:{minutes % 60:02}:{seconds:02}"


def at_words(log_s: float) -> str:
    """A moment of the log as its entries write it: RFC 3339, to the millisecond, in UTC.

    >>> at_words(1772697630.25)
    '2026-03-05T08:00:30.250+00:00'
    """
    return datetime.fromtimestamp(round(log_s, 3), UTC).isoformat(timespec="milliseconds")


def read_mark(typed: str, ledger: Ledger | None) -> Mark:
    """The mark that is meant by FILM=LOG. FILM is a time of the film. LOG is a time with its offset, or a move.

    A move is a part, a part with its place (`follower/inlet`), or with `on:` before it for the rebuild. So a film that
    was cut anew needs one look: when is that part off?

    >>> read_mark("0:42=2026-03-05T09:00:00+01:00", None)
    Mark(film_s=42.0, log_s=1772697600.0)

    Raises NotLinedUp with a sentence.
    """
    film, equals, log = typed.partition("=")
    if not equals or not log.strip():
        raise NotLinedUp(f"“{typed}” is no mark; write FILM=LOG, for example 0:42=2026-03-05T09:00:00+01:00.")
    film_s, log = film_time(film), log.strip()
    if log[:4].isdigit() and "-" in log[4:5]:
        try:
            return Mark(film_s, corrected_time(log))
        except (ValueError, OverflowError):
            raise NotLinedUp(f"“{log}” is not a time with its offset; write it as 2026-03-05T09:00:00+01:00.") from None
    if ledger is None:
        raise NotLinedUp(f"“{log}” is not a time with its offset; write it as 2026-03-05T09:00:00+01:00.")
    return Mark(film_s, _move_in(ledger, log))


def _move_in(ledger: Ledger, typed: str) -> float:
    """When that move was done, the last time it was [s since 1970]."""
    kind, _, named = typed.rpartition(":")
    kind = kind or "off"
    part, _, place = named.partition("/")
    known = ledger.plan.parts
    if part not in known or kind not in ("off", "on"):
        raise NotLinedUp(
            f"“{typed}” is neither a time nor a move; write 2026-03-05T09:00:00+01:00, a part by its id, or on:PART"
            f"{ledger.plan.nearest(part, known) or '.'}"
        )
    struck = ledger.struck()
    times = [
        entry.when
        for entry in ledger.entries
        if entry.kind == kind
        and entry.said["part"] == part
        and entry.id not in struck
        and (not place or entry.said.get("place") == place)
    ]
    if not times:
        name = known[part].piece_name(place or None)
        raise NotLinedUp(f"In this log {name} never {'comes off' if kind == 'off' else 'goes on'}. Name another move.")
    return times[-1]
