"""The anatomy seen from each part: what concerns it when it comes off, goes on or is shut in. Made once."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field

from fingertight.anatomy.model import Anatomy, Check, FastenerSet, Part, Question
from fingertight.order.rules import Rules
from fingertight.quantity import converted
from fingertight.uncertainty.standard import combined, expanded, of_limits, of_resolution


@dataclass(slots=True)
class PartPlan:
    """All that the ledger asks about one part, looked up once."""

    id: str
    title: str
    places: tuple[str | None, ...]
    holds: dict[str, int]
    small: tuple[str, ...]
    sets: tuple[FastenerSet, ...]
    torqued: tuple[int, ...]
    questions: tuple[Question, ...]
    single_use: tuple[tuple[str | None, int], ...]
    record: tuple[str, ...]
    fit_after: tuple[str, ...] = ()
    watched_by: list[str] = field(default_factory=list)
    measured_by: list[str] = field(default_factory=list)
    disturbs: list[str] = field(default_factory=list)
    wants_set: list[str] = field(default_factory=list)
    wants_sign_off: list[str] = field(default_factory=list)
    wants_sign_on: list[str] = field(default_factory=list)
    slots: tuple[tuple[str, str | None], ...] = ()

    def __post_init__(self) -> None:
        self.slots = tuple((self.id, place) for place in self.places)

    def piece_name(self, place: str | None) -> str:
        """What people call one piece.

        >>> PartPlan("f", "Follower", ("inlet",), {}, (), (), (), (), (), ()).piece_name("inlet")
        'Follower (inlet)'
        """
        return f"{self.title} ({place})" if place else self.title


class Plan:
    """The rules of the moves, and a `PartPlan` for each part."""

    def __init__(self, anatomy: Anatomy) -> None:
        self.anatomy = anatomy
        self.rules = Rules.of(anatomy)
        self.parts = {part.id: _part_plan(part) for part in anatomy.parts}
        self.gaps_on: dict[str, list[str]] = {}
        self._uncertainties: dict[tuple[str, ...], float] = {}
        for check in anatomy.checks:
            self._add_check(check)
        for setting in anatomy.settings:
            for part in setting.after or setting.before:
                self.parts[part].disturbs.append(setting.id)
            for part in setting.before:
                self.parts[part].wants_set.append(setting.id)
        for sign in anatomy.signs:
            for part in sign.before:
                plan = self.parts[part]
                (plan.wants_sign_off if sign.stage == "strip" else plan.wants_sign_on).append(sign.id)

    def _add_check(self, check: Check) -> None:
        sources = [check]
        if check.gap:
            sources = [self.anatomy.check_by_id[check.gap.outer], self.anatomy.check_by_id[check.gap.inner]]
            for source in sources:
                self.gaps_on.setdefault(source.id, []).append(check.id)
        for part in dict.fromkeys(part for source in sources for part in (source.part, *source.bare) if part):
            self.parts[part].watched_by.append(check.id)
        for part in dict.fromkeys(source.part for source in sources if source.part):
            self.parts[part].measured_by.append(check.id)

    def titles(self, parts: Iterable[str]) -> str:
        """Names for people, joined as in a sentence."""
        return listed([self.parts[part].title for part in parts])

    def nearest(self, typed: object, known: Iterable[str]) -> str:
        """A hint at the nearest known name, or nothing."""
        close = difflib.get_close_matches(str(typed), list(known), 1)
        return f"; did you mean {close[0]!r}?" if close else ""

    def standard_uncertainty(self, check: Check) -> float:
        """The standard uncertainty of a reading from its instrument's step and error [unit of the check]; 0 without.

        Source: GUM (JCGM 100:2008) 4.3.7 and F.2.2.1.
        """
        if check.instrument is None:
            return 0.0
        instrument = self.anatomy.instrument_by_id[check.instrument]
        standard = combined([of_resolution(instrument.resolution), of_limits(instrument.error)])
        return converted(standard, instrument.unit, check.unit)

    def uncertainty(self, *checks: Check) -> float:
        """The expanded uncertainty of a size, or of the difference of two sizes [unit of the first check]."""
        ids = tuple(check.id for check in checks)
        if ids not in self._uncertainties:
            each = [converted(self.standard_uncertainty(check), check.unit, checks[0].unit) for check in checks]
            self._uncertainties[ids] = expanded(combined(each))
        return self._uncertainties[ids]


def listed(names: Iterable[str], last: str = "and") -> str:
    """Names joined as in a sentence.

    >>> listed(["A"]), listed(["A", "B"]), listed(["A", "B", "C"], "or")
    ('A', 'A and B', 'A, B or C')
    """
    said = list(names)
    return f" {last} ".join([", ".join(said[:-1]), said[-1]]) if len(said) > 1 else "".join(said)


def _part_plan(part: Part) -> PartPlan:
    needs: list[tuple[str | None, int]] = [(None, part.count)] if part.single_use else []
    needs += [(thing.name, thing.count * part.count) for thing in part.with_ if thing.single_use]
    return PartPlan(
        id=part.id,
        title=part.title,
        places=part.places or (None,),
        holds=part.bag_holds,
        small=tuple(part.bag_holds),
        sets=part.held_by,
        torqued=tuple(number for number, fasteners in enumerate(part.held_by) if fasteners.torque is not None),
        questions=part.ask,
        single_use=tuple(needs),
        record=part.record,
        fit_after=part.fit_after,
    )
