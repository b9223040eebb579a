"""The flags of a job: each raised once while it stands, closed by its mend, set aside only by the instructor."""

from collections.abc import Hashable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from fingertight.ledger.kinds import FLAG_KINDS

Cause = tuple[Hashable, ...]


@dataclass(frozen=True, slots=True)
class Flag:
    """Something that is wrong: what, on which part, by which entry, in a sentence, with the mend."""

    kind: str
    part: str | None
    entry: str
    text: str
    mend: str
    status: Literal["open", "mended", "aside"] = "open"
    place: str | None = None

    @property
    def open(self) -> bool:
        """Whether it still waits for its mend."""
        return self.status == "open"

    @property
    def stops(self) -> bool:
        """Whether it breaks the engine or hurts someone at start-up."""
        return FLAG_KINDS[self.kind].stops


class Flags:
    """All flags ever raised, in that order. A *cause* is what a flag is about: the same cause stands only once."""

    def __init__(self) -> None:
        self._all: list[Flag] = []
        self._standing: dict[Cause, int] = {}
        self._asides: set[tuple[str, str]] = set()

    def __iter__(self) -> Iterator[Flag]:
        return iter(self._all)

    def __len__(self) -> int:
        return len(self._all)

    def open(self) -> list[Flag]:
        """What is still wrong, in the order raised; only what stands is looked at, not all that was ever mended."""
        return [flag for number in self._standing.values() if (flag := self._all[number]).open]

    def about(self, name: str) -> list[Flag]:
        """What is still wrong about something that a cause names: a part, a check, a setting."""
        found = [number for cause, number in self._standing.items() if name in cause]
        return [flag for number in found if (flag := self._all[number]).open]

    @property
    def any_standing(self) -> bool:
        """Whether anything stands at all, open or set aside."""
        return bool(self._standing)

    def stands(self, *cause: Hashable) -> bool:
        """Whether a flag of this cause is open, or set aside and not mended since."""
        return cause in self._standing

    def standing(self, kind: str, part: str | None = None) -> list[Cause]:
        """The causes of this kind that stand (of one part)."""
        return [
            cause
            for cause, number in self._standing.items()
            if cause[0] == kind and (part is None or self._all[number].part == part)
        ]

    def raise_(
        self, cause: Cause, part: str | None, entry: str, text: str, mend: str, *, place: str | None = None
    ) -> None:
        """Raise a flag of kind `cause[0]`, unless its cause stands already."""
        if cause in self._standing:
            return
        kind = str(cause[0])
        status: Literal["open", "aside"] = "aside" if (entry, kind) in self._asides else "open"
        self._standing[cause] = len(self._all)
        self._all.append(Flag(kind, part, entry, text, mend, status, place))

    def worsen(self, cause: Cause, text: str, mend: str) -> None:
        """What is wrong became worse: an open flag says so, in place of what it said."""
        number = self._standing.get(cause)
        if number is not None and self._all[number].open:
            self._all[number] = replace(self._all[number], text=text, mend=mend)

    def mend(self, *cause: Hashable) -> None:
        """What was wrong is right again."""
        number = self._standing.pop(cause, None)
        if number is not None and self._all[number].open:
            self._all[number] = replace(self._all[number], status="mended")

    def taken_off(self, part: str, place: str | None) -> None:
        """The part came off again: what was wrong with how it was fitted is no more."""
        for cause, number in list(self._standing.items()):
            flag = self._all[number]
            if flag.part == part and FLAG_KINDS[flag.kind].closes_off and flag.place in (None, place):
                self.mend(*cause)

    def set_aside(self, entry: str, kind: str) -> None:
        """The instructor lets the flags of this kind that the entry raised stand (or will, when it is raised)."""
        self._asides.add((entry, kind))
        for number, flag in enumerate(self._all):
            if flag.entry == entry and flag.kind == kind and flag.open:
                self._all[number] = replace(flag, status="aside")
