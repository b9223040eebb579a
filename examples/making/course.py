"""An honest job: the machine stripped, counted, measured, renewed where it must be, built back, set and finished."""

from typing import Any

from making.drafts import STUDENTS, TEACHER, Draft, Drafts
from making.machines import Machine, after_reading

from fingertight.anatomy.model import Anatomy, Check, Part, Setting, Sign
from fingertight.order import Moves, Rules
from fingertight.quantity import plain

_WRENCH = "torque wrench"


class Course:
    """One bench, lesson after lesson. Both students write; the one with the clean hands takes the pictures."""

    def __init__(self, anatomy: Anatomy, machine: Machine) -> None:
        self.anatomy, self.machine = anatomy, machine
        self.moves = Moves(Rules.of(anatomy))
        self.drafts = Drafts()
        self.lesson, self.used_min, self.last_bag = 0, 0.0, 0
        self.bags: dict[tuple[str, str | None], str] = {}
        self.came_off: list[str] = []
        self.to_count: dict[str, dict[str, int]] = {}
        self.borrowed: dict[str, bool] = {}
        self.measured: set[str] = set()
        self.signed: set[str] = set()
        self.was_set: set[str] = set()

    def whole(self) -> Drafts:
        """Every entry of the job."""
        for part in self.machine.absent:
            self._say("absent", part=part)
            self.moves.lacks(part)
        while free := self.moves.may_come_off():
            self._strip(next(part for part in self.anatomy.parts if part.id in free))
        self._end_lesson_if_it_is_late()
        for check in self.anatomy.checks:
            self._measure(check)
        self._renew_what_is_for_one_use()
        while waiting := [part for part in reversed(self.came_off) if self.moves.is_off(part)]:
            self._rebuild(self.anatomy.part_by_id[next(p for p in waiting if p in self.moves.may_go_on())])
        self._count({bag: dict.fromkeys(holds, 0) for bag, holds in self.to_count.items() if holds})
        self._say("finish")
        return self.drafts

    # -- writing -------------------------------------------------------------------------------------------------

    def _say(self, kind: str, *, by: str = STUDENTS[0], minutes: float = 0.5, **fields: Any) -> Draft:
        draft = Draft(kind, by, {name: value for name, value in fields.items() if value is not None}, minutes)
        return self._keep(draft)

    def _keep(self, draft: Draft) -> Draft:
        draft.lesson = self.lesson
        self.used_min += draft.minutes
        self.drafts.append(draft)
        return draft

    def _end_lesson(self) -> None:
        self._count(self.to_count)
        self.to_count = {}
        self.lesson, self.used_min = self.lesson + 1, 0.0

    def _end_lesson_if_it_is_late(self) -> None:
        """Between two stages: nobody begins a new one in the last third of a lesson."""
        if self.used_min > self.machine.lesson_min * 0.6:
            self._end_lesson()

    def _count(self, bags: dict[str, dict[str, int]]) -> None:
        """The count before going home: everything borrowed is back first."""
        for tool, out in self.borrowed.items():
            if out:
                self._say("tool", tool=tool, way="in")
        tools = dict.fromkeys(self.borrowed, 1) or None
        self.borrowed = {}
        full = {bag: holds for bag, holds in bags.items() if holds} or None
        if full or tools:
            self._say("count", by=STUDENTS[1], minutes=5, bags=full, tools=tools)

    def _borrow(self, tools: tuple[str, ...]) -> tuple[str, ...]:
        out = tuple(tool for tool in tools if not self.borrowed.get(tool))
        for tool in out:
            self._say("tool", tool=tool, way="out")
            self.borrowed[tool] = True
        return out

    def _bring_back(self, tools: tuple[str, ...]) -> None:
        for tool in tools:
            self._say("tool", tool=tool, way="in")
            self.borrowed[tool] = False

    # -- strip ---------------------------------------------------------------------------------------------------

    def _strip(self, part: Part) -> None:
        self._sign([sign for sign in self.anatomy.signs if sign.stage == "strip" and part.id in sign.before])
        self._record(part)
        tools = self._borrow(tuple(tool for tool in part.tools if tool in self.machine.shared))
        for place in part.places or (None,):
            self.last_bag += 1
            bag = self.bags[part.id, place] = str(self.last_bag)
            counted = {s.counted_as: s.how_many * part.count for s in part.held_by if s.counted_as} or None
            minutes = part.minutes or 1
            self._say("off", minutes=minutes, part=part.id, place=place, bag=bag, counts=counted)
            self.to_count[bag] = part.bag_holds
        self._bring_back(tools)
        self.moves.took(part.id)
        self.came_off.append(part.id)
        for check in self.anatomy.checks:
            stays_on = check.part and self.moves.is_on(check.part) and not self.anatomy.part_by_id[check.part].stays
            if stays_on and check.bare and all(not self.moves.is_on(bare) for bare in check.bare):
                self._measure(check)
        if self.used_min > self.machine.lesson_min and self.moves.may_come_off():
            self._end_lesson()

    def _record(self, part: Part) -> None:
        if not part.record:
            return
        taken = {"photo": f"{self.machine.file}-{part.id}.jpg", "wiring": self.machine.notes.get(part.id)}
        for what in part.record:
            self._say("note", by=STUDENTS[1], part=part.id, **{what: taken[what]})

    def _sign(self, signs: list[Sign]) -> None:
        for sign in signs:
            if sign.id not in self.signed:
                self._say("help", state="asked", minutes=1)
                self._say("sign", by=TEACHER, minutes=4, sign=sign.id)
                self._say("help", by=TEACHER, state="given", minutes=0.2)
                self.signed.add(sign.id)

    # -- measure -------------------------------------------------------------------------------------------------

    def _measure(self, check: Check) -> None:
        if check.gap or check.id in self.measured:
            return
        self.measured.add(check.id)
        spots = [(at, across) for at in check.at or (None,) for across in check.across or (None,)]
        read = self.machine.readings[check.id]
        values = [
            {name: said for name, said in (("at", at), ("across", across), ("value", value)) if said is not None}
            for (at, across), value in zip(spots, read, strict=True)
        ]
        typed = plain(read[0]).replace(".", ",") if check.id in self.machine.typed_with_comma else None
        by = STUDENTS[len(self.measured) % 2]
        self._say(
            "reading", by=by, minutes=2 + len(read), check=check.id, values=values, unit=check.unit,
            instrument=check.instrument, typed=typed,
        )  # fmt: skip
        for draft in after_reading(check.id):
            self._keep(draft)

    # -- rebuild -------------------------------------------------------------------------------------------------

    def _renew_what_is_for_one_use(self) -> None:
        self._end_lesson_if_it_is_late()
        for part in self.anatomy.parts:
            if part.id in self.machine.absent:
                continue
            if part.single_use:
                self._say("renew", by=STUDENTS[1], part=part.id, count=part.count, minutes=0.3)
            for thing in part.with_:
                if thing.single_use:
                    self._say("renew", by=STUDENTS[1], part=part.id, item=thing.name, count=thing.count * part.count)

    def _rebuild(self, part: Part) -> None:
        self._set([s for s in self.anatomy.settings if part.id in s.before])
        self._sign([sign for sign in self.anatomy.signs if sign.stage == "rebuild" and part.id in sign.before])
        tools = self._borrow(tuple(tool for tool in part.tools if tool in self.machine.shared_again))
        minutes = part.minutes_on if part.minutes_on is not None else part.minutes or 1
        answers = [ask.right for ask in part.ask] or None
        for place in part.places or (None,):
            bag = self.bags[part.id, place]
            self._say("on", minutes=minutes, part=part.id, place=place, bag=bag, answers=answers)
            self.to_count[bag] = part.bag_holds
        self.moves.put(part.id)
        ready = [s for s in self.anatomy.settings if all(not self.moves.is_off(each) for each in s.after)]
        self._set([setting for setting in ready if setting.id in self.machine.at_once])
        for place in part.places or (None,):
            self._tighten(part, place)
        self._set([setting for setting in ready if not setting.before])
        self._bring_back(tools)
        if self.used_min > self.machine.lesson_min and any(self.moves.is_off(other) for other in self.came_off):
            self.to_count = {bag: dict.fromkeys(holds, 0) for bag, holds in self.to_count.items()}
            self._end_lesson()

    def _set(self, settings: list[Setting]) -> None:
        for setting in settings:
            if setting.id in self.was_set:
                continue
            self.was_set.add(setting.id)
            said = self.machine.settings[setting.id]
            size = {"value": said, "unit": setting.unit} if setting.range else {"answer": said}
            self._say("set", by=STUDENTS[1], minutes=3, setting=setting.id, **size)

    def _tighten(self, part: Part, place: str | None) -> None:
        order = (self.machine.in_order or {}).get(part.id)
        for number, fasteners in enumerate(part.held_by):
            if fasteners.torque is None:
                continue
            self._borrow((_WRENCH,))
            for nth, share in enumerate(fasteners.passes):
                torque = round(fasteners.torque * share, 1)
                self._say(
                    "tighten", minutes=1, part=part.id, place=place, set=number, torque=torque, unit="N·m",
                    order=list(order) if order else None, **{"pass": nth},
                )  # fmt: skip
