"""A train of gears and chains: how fast the last shaft turns and which way, its torque, which teeth meet again."""

import re
from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Section, SumCard
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.quantity import NotUnderstood, plain, read_number
from fingertight.setting.drive.gears import Kind, Stage, Train, hunts, meet_again

EXAMPLE = "18:36 chain, 15:60"
MOST_STAGES, MOST_TEETH = 8, 1000
MESH = ("gears", "ring gear")
"""Where teeth meet teeth; a chain lies between its wheels."""
_KINDS: dict[str, Kind] = {
    "gear": "gears", "gears": "gears", "ring": "ring gear", "ring gear": "ring gear", "internal": "ring gear",
    "annulus": "ring gear", "chain": "chain", "sprockets": "chain", "belt": "belt", "toothed belt": "belt",
    "pulleys": "belt",
}  # fmt: skip
_STAGE = re.compile(r"\s*([0-9]+(?:\s*[:/]\s*[0-9]+)+)\s*([A-Za-z][A-Za-z ]*?)?\s*\Z")


@dataclass(frozen=True)
class StageSaid(Card):
    """One stage: its wheels’ teeth, driver first; its ratio; how fast its last wheel turns, minus: the other way than
    the first shaft. meet_again: turns of the driver until the same two teeth meet again, of the first two wheels, and
    hunts: every tooth meets every other; null for chain and belt."""

    teeth: tuple[int, ...]
    kind: str
    ratio: float
    per_min: float | None
    hunts: bool | None
    meet_again: int | None


@dataclass(frozen=True)
class RatioCard(SumCard):
    """A train: turns of the first shaft for one of the last; whether that turns the other way; its speed, and its
    torque without loss, at least and at most. keeps: which share of the torque arrives, at least and at most.
    """

    ratio: float
    reverses: bool
    first_per_min: float | None
    last_per_min: float | None
    first_nm: float | None
    ideal_nm: float | None
    least_nm: float | None
    most_nm: float | None
    keeps: tuple[float, float]
    stages: tuple[StageSaid, ...]

    @property
    def answer(self) -> Answer:
        """The ratio, speed and torque, then each stage."""
        rows = tuple(
            (
                ":".join(str(teeth) for teeth in stage.teeth),
                stage.kind,
                plain(round(stage.ratio, 4)),
                _speed(stage.per_min) if stage.per_min is not None else "",
                _wear(stage),
            )
            for stage in self.stages
        )
        return Answer(
            title=f"Ratio {plain(round(self.ratio, 4))} : 1",
            lead=tuple(self._lead()),
            sections=(Section("Stages", rows, ("teeth", "by", "ratio", "its last wheel", "wear")),),
            cautions=("Guard on before anything turns; fingers off chain and gears, by hand too.",),
            notes=(
                "A pair whose teeth have no common factor wears evenly; of the others always the same teeth meet: mark "
                "how they stood and put them back so.",
            ),
            sources=(
                "ratio: driven by drivers; checked against published exercises",
                "what each stage keeps: common practice, no source",
            ),
        )

    def _lead(self) -> list[str]:
        way = "the other way than the first" if self.reverses else "the same way as the first"
        slower = self.ratio >= 1
        one, other = ("first", "last") if slower else ("last", "first")
        by = self.ratio if slower else 1 / self.ratio
        said = [
            f"The {one} shaft turns {plain(round(by, 4))} times for one turn of the {other}; the last turns {way}."
            if abs(by - 1) > 1e-9
            else f"First and last shaft turn equally fast; the last turns {way}."
        ]
        if self.last_per_min is not None and self.first_per_min is not None:
            said.append(f"{plain(self.first_per_min)} 1/min become {plain(round(abs(self.last_per_min), 1))} 1/min.")
        if self.first_nm is not None and self.least_nm is not None and self.most_nm is not None:
            said.append(
                f"{_nm(self.first_nm)} become {_nm(self.least_nm)} to {_nm(self.most_nm)}: "
                f"{_percent(self.keeps)} of the torque arrive ({_nm(self.ideal_nm or 0)} without loss)."
            )
        return said


def _wear(stage: StageSaid) -> str:
    if stage.meet_again is None:
        return "by its links: see chain" if stage.kind == "chain" else ""
    if stage.hunts:
        return "every tooth meets every other"
    return f"the same teeth meet every {_turns(stage.meet_again)}"


def _percent(keeps: tuple[float, float]) -> str:
    low, high = (round(100 * share, 1) for share in keeps)
    return f"{plain(low)} %" if low == high else f"{plain(low)} to {plain(high)} %"


def _turns(number: int) -> str:
    return "turn of the driver" if number == 1 else f"{number} turns of the driver"


def _speed(per_min: float) -> str:
    return f"{plain(round(abs(per_min), 1))} 1/min{', backwards' if per_min < 0 else ''}"


def _nm(torque: float) -> str:
    return f"{plain(round(torque, 1 if abs(torque) < 100 else 0) + 0.0)} N·m"


def stages_said(text: str) -> tuple[Stage, ...]:
    """The stages of a train as they are said: teeth with : between, the driver first, what links them behind.

    >>> [stage.teeth for stage in stages_said("18:36 chain, 15/60")]
    [(18, 36), (15, 60)]

    Raises NotUnderstood for what is no stage.
    """
    pieces = [piece for piece in re.split(r"[,;\n]|(?<=[0-9A-Za-z])\s+(?=[0-9]+\s*[:/])", text) if piece.strip()]
    if not pieces:
        raise NotUnderstood(f"nothing was typed; write the teeth of each stage, for example {EXAMPLE}.")
    if len(pieces) > MOST_STAGES:
        raise NotUnderstood(f"{len(pieces)} stages are more than are worked out here; write up to {MOST_STAGES}.")
    return tuple(_stage(piece.strip()) for piece in pieces)


def _stage(piece: str) -> Stage:
    found = _STAGE.match(piece)
    if found is None:
        raise NotUnderstood(f"“{piece[:30]}” is no stage; write the driver’s teeth first, for example {EXAMPLE}.")
    named = " ".join((found.group(2) or "gears").lower().split())
    if named not in _KINDS:
        raise NotUnderstood(f"“{piece[:30]}”: “{named}” links no wheels here; write gears, ring gear, chain or belt.")
    numbers = [int(number) if len(number) < 7 else MOST_TEETH + 1 for number in re.findall(r"[0-9]+", found.group(1))]
    if min(numbers) < 1 or max(numbers) > MOST_TEETH:
        raise NotUnderstood(f"“{piece[:30]}”: a wheel has 1 to {MOST_TEETH} teeth; write for example {EXAMPLE}.")
    kind = _KINDS[named]
    if kind != "gears" and len(numbers) > 2:
        raise NotUnderstood(
            f"“{piece[:30]}”: a {kind} links two wheels, and others it runs over change nothing; write the two that "
            "count."
        )
    if kind == "ring gear" and numbers[1] <= numbers[0]:
        raise NotUnderstood(
            f"“{piece[:30]}”: a ring gear has more teeth than the pinion inside it; write the pinion first, for "
            "example 15:60 ring gear."
        )
    return Stage(tuple(numbers), kind)


def _compute(typed: Typed) -> RatioCard:
    said = typed.text("stages")
    try:
        train = Train(stages_said(said))
    except NotUnderstood as slip:
        raise NotUnderstood(f"Stages: {slip}") from None
    speed, torque = typed.size("speed"), typed.size("torque")
    speeds = train.speeds(speed) if speed is not None else None
    keeps = _keeps(typed, train)
    return RatioCard(
        ratio=train.ratio,
        reverses=train.reverses,
        first_per_min=speed,
        last_per_min=speeds[-1] if speeds else None,
        first_nm=torque,
        ideal_nm=None if torque is None else train.torque_nm(torque),
        least_nm=None if torque is None else train.torque_nm(torque, keeps[0]),
        most_nm=None if torque is None else train.torque_nm(torque, keeps[1]),
        keeps=keeps,
        stages=tuple(
            StageSaid(
                teeth=stage.teeth,
                kind=stage.kind,
                ratio=stage.ratio,
                per_min=speeds[place] if speeds else None,
                hunts=hunts(stage.teeth) if stage.kind in MESH else None,
                meet_again=meet_again(stage.teeth[0], stage.teeth[1]) if stage.kind in MESH else None,
            )
            for place, stage in enumerate(train.stages, 1)
        ),
    )


def _keeps(typed: Typed, train: Train) -> tuple[float, float]:
    """Which share of the torque arrives, at least and at most: as usual, or the per cent that were typed for all."""
    if not typed.has("efficiency"):
        return train.keeps
    said = typed.text("efficiency")
    ends = [
        end
        for end in re.split(r"\s+to\s+|\s*[–—]\s*|(?<=[0-9])\s*-\s*(?=[0-9])", said.replace("%", " "))
        if end.strip()
    ]
    try:
        read = [read_number(end) / 100 for end in ends]
    except NotUnderstood as slip:
        raise NotUnderstood(f"Efficiency: {slip}") from None
    if not 1 <= len(read) <= 2 or not 0 < min(read) <= max(read) <= 1 or read != sorted(read):
        raise NotUnderstood(f"Efficiency: “{said}” is not 0 to 100 per cent; write for example 90, or 85 to 95.")
    return read[0], read[-1]


SUM = Sum(
    name="ratio",
    title="Drive ratio",
    question="how fast the last shaft of gears and chains turns and which way, with what torque, and which teeth meet "
    "again",
    fields=(
        Field("stages", "Stages", "text", "teeth with : between, the driver first; chain, belt or ring gear behind",
              EXAMPLE, must=True, first=True),
        Field("speed", "Speed", "size", "of the first shaft", "3600", unit="1/min", above=0, most=100_000),
        Field("torque", "Torque", "size", "of the first shaft", "8 N·m", unit="N·m", above=0, most=100_000),
        Field("efficiency", "Efficiency", "text", "per cent of the torque that arrives in all, or from to", "85 to 95"),
    ),
    compute=_compute,
    card=RatioCard,
    example='"18:36 chain" --speed 3600 --torque "8 N·m"',
    more="Idlers stand between: 20:60:10 turns the last wheel by the first, whatever the middle has.",
)  # fmt: skip
