"""By how many teeth a camshaft is out: the answer, as numbers for programs and as a page for people."""

from dataclasses import dataclass

from fingertight.cards.card import Card
from fingertight.cards.sums.answer import Answer, Curve, Section, SumCard
from fingertight.cards.sums.setting.timing.words import BY_HAND, RUBS, deg
from fingertight.quantity import unsure_by
from fingertight.setting.timing.angles import said_from_nearest, said_from_top
from fingertight.setting.timing.teeth import SOUND_DEG

VALVES, DOTS, COUNTED = "valves", "dots", "teeth counted at the dots"
LIKELY, SURE = 0.5, 0.95
CONTRADICT = 3.0
"""How many standard uncertainties one event may lie from what all of them say together."""
LENGTH_DEG = 6.0
"""A valve open so much longer or shorter than stated has another fault than teeth: common practice, no source."""


@dataclass(frozen=True)
class EventCard(Card):
    """One event: what is stated, what was found, and by how much it is later (minus: earlier), in crank degrees.

    after_deg: where it will be once the camshaft is moved by whole teeth. Places are degrees after the top dead centre
    between exhaust and inlet; null where they were not typed.
    """

    name: str
    stated_deg: float | None
    found_deg: float | None
    later_deg: float | None
    after_deg: float | None


@dataclass(frozen=True)
class TeethCard(SumCard):
    """By how many teeth the camshaft is late (plus) or early (minus), and how likely each number is.

    later_deg: how much later it is than stated [crank deg], U expanded (k = 2). teeth: the likeliest number, null where
    no whole tooth explains it. chances: by number of teeth, and “none”. by: what it was found from. by_lash: only from
    an opening or a closing. whole_turn: only a turn of the crank is between. contradicts: the events do not tell of one
    shift. longer_deg: how much longer than stated a valve is open, by its name. overlap_…: where both valves are known.
    """

    crank_teeth: int
    cam_teeth: int
    tooth_deg: float
    tooth_cam_deg: float
    later_deg: float
    u_deg: float
    teeth: int | None
    chances: dict[str, float]
    by: str
    by_lash: bool
    whole_turn: bool
    contradicts: bool
    longer_deg: dict[str, float]
    events: tuple[EventCard, ...]
    overlap_stated_deg: float | None
    overlap_found_deg: float | None

    @property
    def is_no(self) -> bool:
        """Whether the camshaft is not where it belongs, or nothing explains where it is."""
        return self.teeth != 0 or self.whole_turn

    @property
    def counted(self) -> bool:
        """Whether the teeth were counted at the dots, so that nothing is unsure."""
        return self.by == COUNTED

    @property
    def chance(self) -> float:
        """How likely the answer is."""
        return self.chances["none" if self.teeth is None else f"{self.teeth:+d}"]

    @property
    def answer(self) -> Answer:
        """The teeth and which way, how sure, what it does to the valves."""
        return Answer(
            title=f"Camshaft against crank: {self._how_many()}",
            lead=tuple(self._lead()),
            sections=tuple(self._sections()),
            cautions=(BY_HAND, RUBS),
            notes=tuple(self._notes()),
            sources=(
                "a tooth: 360° by the teeth of the crank wheel; checked against a published drive of 24 and 48",
                "chances: Bayes’ rule; every number of teeth alike beforehand, 1 in 10 for no whole tooth (common "
                "practice, no source)",
            ),
            curves=() if self.counted or self.whole_turn else (self._bars(),),
        )

    def _how_many(self) -> str:
        if self.whole_turn:
            return "a whole turn"
        if self.teeth is None:
            return "not by teeth"
        return _teeth(self.teeth)

    def _lead(self) -> list[str]:
        if self.whole_turn:
            return [
                "The camshaft is where it belongs, but for a whole turn of the crank: the other top dead centre was "
                "taken.",
                "Turn the crank once round and look again; move nothing.",
            ]
        said = [] if self.counted else [self._measured()]
        if self.teeth is None and self.by == DOTS:
            said.append(
                f"No whole tooth explains that: one tooth is {deg(self.tooth_deg)} of the crank. Measure along the "
                "pitch circle of the cam wheel, with the crank at its mark, or count the teeth between the dots."
            )
            return said
        if self.teeth is None:
            said.append(
                f"No whole tooth explains that: one tooth is {deg(self.tooth_deg)} of the crank. Look for a sheared "
                "or wrong key, a worn chain, a wheel whose zero is off (tdc), or figures of another lift."
            )
            return said
        sure = "" if self.counted else f" ({_percent(self.chance)})"
        if self.teeth == 0:
            said.append(f"The camshaft sits on the right tooth{sure}.")
        else:
            said.append(f"The camshaft is {_teeth(self.teeth)}{sure}.")
            way = "forward, the way it runs," if self.teeth > 0 else "back, against the way it runs,"
            many = abs(self.teeth)
            said.append(
                f"Turn the cam wheel {way} by {many} {'tooth' if many == 1 else 'teeth'} against chain, belt or gear; "
                "the crank stays."
            )
        if not self.counted and self.chance < SURE:
            said.append(
                "That is not sure: find top dead centre and the lobe centre again, with a finer wheel if there is one."
            )
        return said

    def _measured(self) -> str:
        sure = f"± {unsure_by(self.u_deg, 0.1)}°"
        if abs(self.later_deg) < 0.05:
            return f"It is as stated ({sure})."
        way = "later" if self.later_deg > 0 else "earlier"
        return f"It is {deg(abs(self.later_deg))} {way} than stated ({sure}), in degrees of the crank."

    def _sections(self) -> list[Section]:
        wheels = Section(
            "One tooth",
            (
                ("crank wheel", f"{self.crank_teeth} teeth"),
                ("cam wheel", f"{self.cam_teeth} teeth"),
                ("one tooth", f"{deg(self.tooth_deg, 2)} of the crank, {deg(self.tooth_cam_deg, 2)} of the camshaft"),
            ),
        )
        return [*([self._valves()] if self.events else []), wheels]

    def _valves(self) -> Section:
        moves = bool(self.teeth)
        rows = []
        for one in self.events:
            words = said_from_top if one.name.endswith("centre") else said_from_nearest
            places = (one.stated_deg, one.found_deg, one.after_deg)
            cells = [words(at) if at is not None else "" for at in places]
            rows.append((one.name, *cells[: 3 if moves else 2]))
        if self.overlap_stated_deg is not None and self.overlap_found_deg is not None:
            row = ["overlap", deg(self.overlap_stated_deg), deg(self.overlap_found_deg)]
            rows.append((*row, deg(self.overlap_found_deg)) if moves else tuple(row))
        columns = ("", "stated", "as it is", "once it is moved")
        return Section("The valves", tuple(rows), columns if moves else columns[:3])

    def _notes(self) -> list[str]:
        said = []
        if self.cam_teeth != 2 * self.crank_teeth:
            said.append(
                f"The cam wheel’s {self.cam_teeth} teeth are not twice the {self.crank_teeth} of the crank wheel, and "
                "a four-stroke’s camshaft turns once for two turns of the crank: count again, unless there is a wheel "
                "between."
            )
        if self.contradicts:
            said.append(
                "The events contradict each other: they do not tell of one shift. Look at the lash first, then at the "
                "lift they were taken at."
            )
        said += [_length(name, longer) for name, longer in self.longer_deg.items() if abs(longer) > LENGTH_DEG]
        if self.teeth:
            late = self.teeth > 0
            said.append(
                "Both valves of this camshaft move together: they open and close "
                f"{deg(abs(self.teeth) * self.tooth_deg)} too {'late' if late else 'early'}, so the "
                f"{'exhaust' if late else 'inlet'} stands open when the piston comes up to its top."
            )
        if self.by == VALVES:
            said.append(
                f"A sound engine is taken to lie within ± {deg(SOUND_DEG)} of its figures (common practice, no source)."
            )
            if self.by_lash:
                said.append(
                    "Only an opening or a closing was compared, and the lash moves those too: compare a lobe centre "
                    "as well."
                )
        return said

    def _bars(self) -> Curve:
        names = [*(name for name in self.chances if name != "none"), "none"]
        words = [f"{_teeth(int(name))}" if name != "none" else "no whole tooth" for name in names]
        return Curve("How likely", tuple(words), tuple(self.chances[name] for name in names))


def _length(name: str, longer_deg: float) -> str:
    """Why a valve is open longer or shorter than stated."""
    more = longer_deg > 0
    why = "too little lash, or another lift" if more else "too much lash, a worn lobe, or another lift"
    return (
        f"The {name} is open {deg(abs(longer_deg))} {'longer' if more else 'shorter'} than stated: teeth do not do "
        f"that, but {why} does."
    )


def _teeth(number: int) -> str:
    """A number of teeth in words.

    >>> _teeth(1), _teeth(-2), _teeth(0)
    ('1 tooth late', '2 teeth early', 'right')
    """
    if not number:
        return "right"
    many = abs(number)
    return f"{many} {'tooth' if many == 1 else 'teeth'} {'late' if number > 0 else 'early'}"


def _percent(chance: float) -> str:
    """A chance that is never certain.

    >>> _percent(0.973), _percent(0.9999), _percent(0.4)
    ('97 %', 'over 99 %', '40 %')
    """
    return "over 99 %" if chance > 0.99 else f"{round(100 * chance)} %"
