"""Which shim brings an end float back, and how likely the float then is where it belongs."""

from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.measure.typed import sizes_of
from fingertight.cards.sums.measure.words import RULES, chance_words
from fingertight.cards.sums.measure.workshop.judge import (
    Judged,
    in_unit,
    judge,
    judged_section,
    one_size,
    said,
    tool_fields,
    tool_of,
    unfit,
)
from fingertight.measure.budget import reading_budget
from fingertight.measure.fits.shims import Shimmed, shims_for
from fingertight.measure.fits.wear import END_PLAY_OVER_MM, GENERAL_RULE, most_end_play
from fingertight.measure.verdict import Word
from fingertight.quantity import NotUnderstood

MOST_SHIMS = 30


@dataclass(frozen=True)
class ShimCard(SumCard):
    """The float as it was read and with the shims [mm]; more_mm: what goes in besides what is in (below 0: what comes
    out); shims_mm: which. `none_fits`: no shim there is brings it into the range."""

    float_mm: float
    in_mm: float
    wanted_mm: tuple[float, float]
    shims_mm: tuple[float, ...]
    more_mm: float
    now: Judged
    then: Judged
    none_fits: bool
    wants_mm: float
    unit: str

    @property
    def is_no(self) -> bool:
        """No shim fits."""
        return self.none_fits

    @property
    def answer(self) -> Answer:
        """Which shim, what it leaves, how likely that is right."""
        unit = self.unit
        names = " + ".join(in_unit(one, unit) for one in self.shims_mm) or "none"
        least, most = (in_unit(end, unit) for end in self.wanted_mm)
        instead = f" instead of {in_unit(self.in_mm, unit)}" if self.in_mm else ""
        if self.none_fits:
            lead = [
                f"None of these brings it to {least} to {most}: {names} comes nearest, {said(self.then, unit)}.",
                self._wants(),
            ]
        elif not self.more_mm:
            lead = [f"Leave it as it is: {said(self.now, unit)} lies within {least} to {most}."]
        else:
            lead = [f"Shim: {names}{instead}. It leaves {said(self.then, unit)}, within {least} to {most}."]
        lead += unfit(self.then, unit)
        if self.then.chance_good is not None:
            lead.append(f"The chance that it then lies in the range: {chance_words(self.then.chance_good)}.")
        return Answer(
            title=f"Shim: {'none fits' if self.none_fits else names}",
            lead=tuple(lead),
            sections=(
                judged_section([self.now, self.then], unit, "The float", ("in range", "out of range")),
                Section(
                    "Shims",
                    (("in now", in_unit(self.in_mm, unit)), ("for the middle", in_unit(max(self.wants_mm, 0.0), unit))),
                ),
            ),
            notes=(
                self._general_rule(),
                "Push the shaft hard to and fro, wipe shims and faces: a hair of dirt is 0.05 mm.",
                "The cover at its torque, its gasket of the right thickness: both are part of the float.",
            ),
            sources=(*RULES, "the middle of the range is aimed at: common practice, no source"),
        )

    def _general_rule(self) -> str:
        allowed = in_unit(most_end_play(self.wanted_mm, END_PLAY_OVER_MM), self.unit)
        return f"A general rule would bear up to {allowed} before it is worn ({GENERAL_RULE}); the maker’s limit first."

    def _wants(self) -> str:
        """What would bring it to the middle: a shim that is not there, or more float than there is without any."""
        if self.wants_mm > 0:
            return f"A shim of {in_unit(self.wants_mm, self.unit)} would leave the middle of the range."
        return (
            f"Shims only take float away: {in_unit(-self.wants_mm, self.unit)} more of it is wanted; look for dirt or "
            "a part not home, and ask the maker’s book."
        )


def _compute(typed: Typed) -> ShimCard:
    unit = typed.unit("unit")
    readings = sizes_of(typed, "float", "End float", unit)
    if not readings:
        raise NotUnderstood("End float: nothing was typed; write for example 0.47.")
    wanted = sizes_of(typed, "wanted", "Wanted", unit) or sizes_of(typed, "new", "Wanted", unit)
    if len(wanted) != 2 or wanted[0] >= wanted[1]:
        raise NotUnderstood("Wanted: the least and the most are asked for; write for example 0.05 0.25.")
    shims = sizes_of(typed, "shims", "Shims", unit)
    if not shims or any(one <= 0 for one in shims):
        raise NotUnderstood("Shims: write how thick those are that there are, for example 0.10 0.15 0.20 0.30.")
    if len(shims) > MOST_SHIMS:
        raise NotUnderstood(f"Shims: {len(shims)} are more than anybody has; write up to {MOST_SHIMS}.")
    size, is_in = sum(readings) / len(readings), one_size(typed, "in", "Shim that is in", unit) or 0.0
    budget = reading_budget(tool_of(typed), [readings], len(readings))
    best = shims_for(size + is_in, shims, (wanted[0], wanted[1]))
    # As it stands it is right already: nobody opens a case for a nearer middle.
    now = judge("now", size, budget, *wanted)
    if now.verdict == Word.GOOD.value:
        best = Shimmed((is_in,) if is_in else (), size)
    left = round(best.left, 9)
    then = judge("with the shim", left, budget, *wanted)
    return ShimCard(
        float_mm=round(size, 9),
        in_mm=is_in,
        wanted_mm=(wanted[0], wanted[1]),
        shims_mm=best.shims,
        more_mm=round(sum(best.shims) - is_in, 9),
        now=now,
        then=then,
        none_fits=not wanted[0] <= left <= wanted[1],
        wants_mm=round(size + is_in - sum(wanted) / 2, 6),
        unit=unit,
    )


SUM = Sum(
    name="shim",
    title="End float and shim",
    question="which shim brings an end float back to where it belongs, and how sure that is",
    fields=(
        Field("float", "End float", "text", "read once or more, hard one way, then the other", "0.47", must=True,
              first=True),
        Field("wanted", "Wanted", "text", "the least and the most it should be", "0.05 0.25"),
        Field("new", "New", "text", "the same, as a machine’s file says it", "0.05 0.25"),
        Field("shims", "Shims there are", "text", "how thick each is", "0.10 0.15 0.20 0.30", must=True),
        Field("in", "Shim that is in", "text", "where one is in already, with the float read over it", "0.20"),
        *tool_fields(),
    ),
    compute=_compute,
    card=ShimCard,
    example='0.47 --wanted "0.05 0.25" --shims "0.10 0.15 0.20 0.30" --error 0.012',
)  # fmt: skip
