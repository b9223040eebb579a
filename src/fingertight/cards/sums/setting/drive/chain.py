"""A chain: its sizes by name, its length for a centre distance and back, and whether it is worn."""

import math
from dataclasses import dataclass

from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.measure.verdict import Word, judged
from fingertight.quantity import NotUnderstood, converted, plain, read_quantity
from fingertight.setting.drive.chain import (
    Chain,
    centre_mm,
    chain_named,
    chains,
    even_links,
    longer_by,
    pitch_circle_mm,
    pitches,
    worn_at,
    wrapped_deg,
)
from fingertight.uncertainty.standard import of_limits

LEAST_WRAP_DEG = 120
_PITCHES = (4.0, 80.0)
CLIP = (
    "Spark lead off. A spring clip flies: hand over it, eye protection; its closed end leads the way the chain runs. "
    "Fingers off chain and wheels while anything turns."
)


@dataclass(frozen=True)
class ChainCard(SumCard):
    """A chain. name: "" for a bare pitch; pitch circles of both wheels; pitches: how long it must be for the centre
    distance; links: those that were typed, or the even number not shorter; taut_mm: the centre distance at which they
    are just taut, and fewer_taut_mm for two less. longer_by: how much longer than new the measured piece is, per cent,
    with its expanded uncertainty; worn_at: per cent at which it is worn out.
    """

    name: str
    also: str
    pitch_mm: float
    roller_mm: float | None
    width_mm: float | None
    small: int | None
    large: int | None
    small_circle_mm: float | None
    large_circle_mm: float | None
    wanted_mm: float | None
    pitches: float | None
    links: int | None
    taut_mm: float | None
    fewer_links: int | None
    fewer_taut_mm: float | None
    wrapped_deg: float | None
    common_factor: int | None
    measured_mm: float | None
    over: int | None
    longer_by: float | None
    unsure: float | None
    worn_at: float | None
    verdict: Word | None

    @property
    def is_no(self) -> bool:
        """It is worn out."""
        return self.verdict is Word.WORN

    @property
    def answer(self) -> Answer:
        """What it is, how long, whether worn."""
        return Answer(
            title=f"{f'Chain {self.name}' if self.name else 'Chain'}, pitch {_mm(self.pitch_mm, 3)}",
            lead=(*self._worn(), *self._length(), *self._is()),
            sections=tuple(self._sections()),
            cautions=(CLIP,),
            notes=tuple(self._notes()),
            sources=(
                "sizes: ISO 606, DIN 8187 and ANSI names; some from memory, as the table says",
                "length: textbooks of machine design, checked against published examples",
                "worn at: two chain makers’ pages; 2 % in a case is common practice, no source",
            ),
        )

    def _is(self) -> list[str]:
        if self.roller_mm is None or self.width_mm is None:
            near = [chain.name for chain in chains() if math.isclose(chain.pitch_mm, self.pitch_mm, abs_tol=0.02)]
            return [f"Chains of this pitch: {', '.join(near)}; roller and width tell them apart."] if near else []
        also = f", also called {self.also}" if self.also else ""
        return [
            f"{self.name}{also}: {_mm(self.pitch_mm, 3)} from pin to pin, rollers {_mm(self.roller_mm)}, "
            f"{_mm(self.width_mm)} between the inner plates."
        ]

    def _length(self) -> list[str]:
        if self.links is None:
            return []
        said = []
        if self.pitches is not None and self.wanted_mm is not None and self.taut_mm is not None:
            said.append(
                f"For {_mm(self.wanted_mm)} between the shafts it must be {plain(round(self.pitches, 2))} pitches "
                f"long: {self.links} links are just taut at {_mm(self.taut_mm)}"
                + (f", {self.fewer_links} at {_mm(self.fewer_taut_mm)}." if self.fewer_taut_mm is not None else ".")
            )
        elif self.taut_mm is not None:
            said.append(f"{self.links} links are just taut at {_mm(self.taut_mm)} between the shafts.")
        if self.links % 2:
            said.append("An odd number wants a cranked link, the weakest of all: take one more or less.")
        return said

    def _worn(self) -> list[str]:
        if self.longer_by is None or self.unsure is None or self.worn_at is None or self.verdict is None:
            return []
        said = (
            f"{_mm(self.measured_mm or 0)} over {self.over} pitches is {plain(round(self.longer_by, 2))} ± "
            f"{plain(round(self.unsure, 2))} % longer than new; worn out at {plain(round(self.worn_at, 2))} %"
        )
        if self.longer_by < -self.unsure:
            return [f"{said}. It cannot be shorter than new: count the pitches again, pin to pin, and pull it taut."]
        return [
            {
                Word.GOOD: f"Good: {said}.",
                Word.WORN: f"Worn: {said}. Renew the wheels with it: worn teeth eat a new chain.",
                Word.CLOSE: f"Too close to call: {said}. Measure over more pitches.",
            }[self.verdict]
        ]

    def _sections(self) -> list[Section]:
        rows = []
        if self.small and self.large and self.small_circle_mm and self.large_circle_mm:
            rows.append((f"pitch circle of {self.small} teeth", _mm(self.small_circle_mm)))
            rows.append((f"pitch circle of {self.large} teeth", _mm(self.large_circle_mm)))
            rows.append(("ratio", f"{plain(round(self.large / self.small, 4))} : 1"))
        if self.wrapped_deg is not None:
            rows.append(("wrapped round the smaller", f"{round(self.wrapped_deg)}°"))
        if self.common_factor is not None and self.links is not None:
            rows.append(
                ("wear", "every link meets every tooth of both wheels")
                if self.common_factor == 1
                else ("wear", f"links and teeth have a factor of {self.common_factor} in common: the same ones meet")
            )
        if self.worn_at is not None:
            ten = self.pitch_mm * 10
            rows.append(("10 pitches, new", _mm(ten)))
            rows.append(("10 pitches, worn out", _mm(ten * (1 + self.worn_at / 100))))
        return [Section("Sizes", tuple(rows))] if rows else []

    def _notes(self) -> list[str]:
        said = []
        if self.wrapped_deg is not None and self.wrapped_deg < LEAST_WRAP_DEG:
            said.append(f"Less than {LEAST_WRAP_DEG}° round the smaller wheel: it may jump teeth (common practice).")
        if self.taut_mm is not None:
            said.append(
                "Just taut is too tight to run: it wants slack, 1 to 2 % of the distance up and down in the middle "
                "(common practice, no source; makers’ data first)."
            )
        if self.longer_by is None:
            said.append("To see wear, pull the chain taut and measure from pin to pin over ten pitches or more.")
        return said


def _mm(size: float, decimals: int = 2) -> str:
    return f"{plain(round(size, decimals))} mm"


def _compute(typed: Typed) -> ChainCard:
    named, pitch = _chain(typed)
    teeth = _teeth(typed)
    wanted, links = typed.size("centre"), typed.whole("links")
    needed, links, taut = _length(pitch, teeth, wanted, links)
    fewer = _fewer(pitch, teeth, links) if needed is not None else None
    measured, over = typed.size("measured"), typed.whole("over")
    longer, unsure, limit = _wear(typed, pitch, teeth)
    small, large = (min(teeth), max(teeth)) if teeth else (None, None)
    return ChainCard(
        name=named.name if named else "",
        also=named.also if named else "",
        pitch_mm=pitch,
        roller_mm=named.roller_mm if named else None,
        width_mm=named.width_mm if named else None,
        small=small,
        large=large,
        small_circle_mm=pitch_circle_mm(small, pitch) if small else None,
        large_circle_mm=pitch_circle_mm(large, pitch) if large else None,
        wanted_mm=wanted,
        pitches=needed,
        links=links,
        taut_mm=taut,
        fewer_links=links - 2 if fewer is not None and links else None,
        fewer_taut_mm=fewer,
        wrapped_deg=wrapped_deg(taut, pitch, teeth) if teeth and taut else None,
        common_factor=max(math.gcd(links, wheel) for wheel in teeth) if teeth and links else None,
        measured_mm=measured,
        over=over,
        longer_by=longer,
        unsure=unsure,
        worn_at=limit,
        verdict=judged(longer, None, limit, unsure).word
        if longer is not None and limit and unsure is not None
        else None,
    )


def _chain(typed: Typed) -> tuple[Chain | None, float]:
    """The chain that was named, or the pitch that was typed [mm]."""
    said = typed.text("chain")
    if not said:
        raise NotUnderstood("Chain: nothing was typed; write its name, for example 08B or 420, or its pitch, 12.7 mm.")
    if found := chain_named(said):
        return found, found.pitch_mm
    try:
        value, unit = read_quantity(said, "mm")
        pitch = converted(value, unit, "mm")
    except NotUnderstood:
        names = ", ".join(name for chain in chains() for name in (chain.name, chain.also) if name)
        raise NotUnderstood(
            f"Chain: there is no “{said}” in the table ({names}); write its pitch, for example 12.7 mm."
        ) from None
    if not _PITCHES[0] <= pitch <= _PITCHES[1]:
        raise NotUnderstood(
            f"Chain: “{said}” is no name in the table and no pitch of {plain(_PITCHES[0])} to {plain(_PITCHES[1])} mm; "
            "write for example 08B, or 12.7 mm."
        )
    return None, pitch


def _teeth(typed: Typed) -> tuple[int, int] | None:
    """The teeth of both wheels; None where neither was typed."""
    small, large = typed.whole("small"), typed.whole("large")
    if small is None and large is None:
        return None
    if small is None or large is None:
        raise NotUnderstood(f"{'Small wheel' if small is None else 'Large wheel'}: write the teeth of both wheels.")
    return small, large


def _length(
    pitch: float, teeth: tuple[int, int] | None, wanted: float | None, links: int | None
) -> tuple[float | None, int | None, float | None]:
    """Pitches needed for the distance wanted, links, and the distance at which they are taut."""
    if wanted is None and links is None:
        return None, None, None
    if teeth is None:
        raise NotUnderstood(
            "Small wheel: for a length the teeth of both wheels must be known; write for example 18 and 36."
        )
    needed = None
    if wanted is not None:
        try:
            needed = pitches(wanted, pitch, teeth)
        except ValueError:
            apart = sum(pitch_circle_mm(each, pitch) for each in teeth) / 2
            raise NotUnderstood(
                f"Centre distance: at {_mm(wanted)} the wheels would touch; their pitch circles want more than "
                f"{_mm(apart)}. Write it from shaft to shaft."
            ) from None
        if needed > 5000:
            raise NotUnderstood(f"Centre distance: {_mm(wanted)} want {round(needed)} links; is the unit right?")
    links = links if links is not None else even_links(needed or 0.0)
    try:
        return needed, links, centre_mm(links, pitch, teeth)
    except ValueError:
        raise NotUnderstood(
            f"Links: {links} are too few to go round {teeth[0]} and {teeth[1]} teeth; count them again, pin to pin."
        ) from None


def _fewer(pitch: float, teeth: tuple[int, int] | None, links: int | None) -> float | None:
    """The centre distance for two links less; None where they would not go round."""
    try:
        return centre_mm(links - 2, pitch, teeth) if teeth and links else None
    except ValueError:
        return None


def _wear(typed: Typed, pitch: float, teeth: tuple[int, int] | None) -> tuple[float | None, float | None, float | None]:
    """How much longer than new [%], with its expanded uncertainty, and at how much it is worn [%]."""
    measured, over, error = typed.size("measured"), typed.whole("over"), typed.must("error")
    limit = typed.number("limit")
    fixed = typed.tick("fixed")
    at = limit if limit is not None else 100 * worn_at(max(teeth) if teeth else 0, fixed=fixed)
    if (measured is None) != (over is None):
        missing = "Measured" if measured is None else "Over pitches"
        raise NotUnderstood(f"{missing}: write both, for example 130.8 mm over 10 pitches.")
    if measured is None or over is None:
        return None, None, at if teeth or limit is not None else None
    longer = 100 * longer_by(measured, over, pitch)
    if abs(longer) > 15:
        raise NotUnderstood(
            f"Measured: {over} pitches of this chain are {_mm(over * pitch)} when new, and {_mm(measured)} is no "
            "chain’s wear; count the pitches again, or is it another chain?"
        )
    return longer, 200 * of_limits(error) / (over * pitch), at


SUM = Sum(
    name="chain",
    title="Chain",
    question="a roller chain by its name: its sizes, its length for a centre distance and back, and whether it is worn",
    fields=(
        Field("chain", "Chain", "text", "its name, or its pitch", "08B", first=True),
        Field("small", "Small wheel", "whole", "its teeth", "18", least=5, most=500),
        Field("large", "Large wheel", "whole", "its teeth", "36", least=5, most=500),
        Field("centre", "Centre distance", "size", "from shaft to shaft", "120 mm", unit="mm", above=0, most=100_000),
        Field("links", "Links", "whole", "how many the chain has, counted pin to pin", "46", above=0, most=5000),
        Field("measured", "Measured", "size", "a taut piece, from pin to pin", "130.8 mm", unit="mm", above=0,
              most=100_000),
        Field("over", "Over pitches", "whole", "how many pitches that piece has", "10", above=0, most=1000),
        Field("limit", "Worn out at", "number", "per cent longer than new; 3 where nothing is said, less on large ones",
              "2", unit="%", above=0, most=10),
        Field("fixed", "Fixed centres", "tick", "the shafts cannot be moved apart to tighten it: worn out at 1.5 %"),
        Field("error", "Caliper is off by", "size", "at most, to either side", "0.05 mm", usual="0.1 mm", unit="mm",
              least=0, most=10),
    ),
    compute=_compute,
    card=ChainCard,
    example='08B --small 18 --large 36 --centre "120 mm"',
)  # fmt: skip
