"""A bench that speaks: it takes a machine's parts as text, writes real log entries, and says what is wrong."""

from typing import Any

from fingertight.anatomy import read
from fingertight.ledger import Flag, Ledger, Plan, replay, verdict_of

Said = dict[str, Any]


def plan_of(parts: str) -> Plan:
    """The plan of an invented machine with these parts, written as they stand in a machine file."""
    reading = read(f'format = 1\n[machine]\nname = "Invented for this test"\n{parts}')
    assert reading.anatomy, [f"line {mistake.line}: {mistake.text}" for mistake in reading.mistakes]
    return Plan(reading.anatomy)


def at(minute: float) -> str:
    """The time so many minutes after nine in the morning."""
    second = round(minute * 60)
    return f"2026-03-05T{9 + second // 3600:02}:{second // 60 % 60:02}:{second % 60:02}+01:00"


class Bench:
    """One job at one bench. Every word becomes an entry a minute after the one before, and its id is handed back."""

    def __init__(self, parts: str) -> None:
        self.plan = plan_of(parts)
        self.log: list[Said] = []
        self.ledger = Ledger(self.plan)

    def say(self, kind: str, *, teacher: bool = False, **fields: Any) -> str:
        """Write one entry of any kind."""
        number = len(self.log) + 1
        said: Said = {"id": f"e{number}", "kind": kind, "at": at(number), "by": "s-07", "as": "student", **fields}
        if teacher:
            said |= {"by": "t-01", "as": "instructor"}
        self.log.append(said)
        assert self.ledger.hear(said)
        return str(said["id"])

    def off(self, part: str, bag: str | None = None, **fields: Any) -> str:
        return self.say("off", part=part, **({"bag": bag} if bag else {}), **fields)

    def on(self, part: str, bag: str | None = None, **fields: Any) -> str:
        return self.say("on", part=part, **({"bag": bag} if bag else {}), **fields)

    def tighten(self, part: str, torque: float, which: int = 0, turn: int = 0, unit: str = "N·m", **fields: Any) -> str:
        return self.say("tighten", part=part, set=which, torque=torque, unit=unit, **{"pass": turn}, **fields)

    def reads(self, check: str, *values: float, unit: str = "mm", spots: tuple[Said, ...] = ()) -> str:
        taken = [{**(spots[place] if spots else {}), "value": value} for place, value in enumerate(values)]
        return self.say("reading", check=check, values=taken, unit=unit)

    def decides(self, check: str, verdict: str, teacher: bool = True) -> str:
        return self.say("decide", check=check, verdict=verdict, teacher=teacher)

    def sets(self, setting: str, value: float, unit: str = "mm") -> str:
        return self.say("set", setting=setting, value=value, unit=unit)

    def signs(self, sign: str, teacher: bool = True) -> str:
        return self.say("sign", sign=sign, teacher=teacher)

    def renews(self, part: str, item: str | None = None, count: int = 1) -> str:
        return self.say("renew", part=part, count=count, **({"item": item} if item else {}))

    def counts(self, bags: dict[str, dict[str, int]] | None = None, tools: dict[str, int] | None = None) -> str:
        said = {"bags": bags, "tools": tools}
        return self.say("count", **{name: counted for name, counted in said.items() if counted is not None})

    def undo(self, entry: str) -> str:
        return self.say("undo", entry=entry)

    def aside(self, entry: str, flag: str, teacher: bool = True) -> str:
        return self.say("aside", entry=entry, flag=flag, reason="Shown on purpose.", teacher=teacher)

    def finish(self) -> bool:
        """Say that the job is done, and hear whether it is."""
        self.say("finish")
        return self.ledger.state.finished

    def wrong(self) -> list[str]:
        """What is wrong now, as "kind part", in the order raised."""
        return [f"{flag.kind} {flag.part}" for flag in self.ledger.state.flags if flag.open]

    def ever_wrong(self) -> list[str]:
        """All that was ever wrong, as "kind part status"."""
        return [f"{flag.kind} {flag.part} {flag.status}" for flag in self.ledger.state.flags]

    def flag(self, kind: str) -> Flag:
        """The one open flag of this kind."""
        [flag] = [flag for flag in self.ledger.state.flags if flag.open and flag.kind == kind]
        return flag

    def verdict(self, check: str) -> str | None:
        """The verdict on a check, or None while there is none."""
        found = verdict_of(self.ledger.state, check)
        return found.word.value if found else None


def picture(ledger: Ledger) -> dict[str, Any]:
    """Everything that can be asked of a ledger, to compare two of them."""
    state = ledger.state
    return {
        "lies": dict(state.lies),
        "bags": {bag: (sorted(map(str, held.pieces)), held.holds) for bag, held in state.bags.items() if held.pieces},
        "may come off": sorted(state.moves.may_come_off()),
        "may go on": sorted(state.moves.may_go_on()),
        "flags": [(flag.kind, flag.part, flag.entry, flag.text, flag.mend, flag.status) for flag in state.flags],
        "verdicts": {check.id: verdict_of(state, check.id) for check in ledger.plan.anatomy.checks},
        "stock": {thing: count for thing, count in state.stock.items() if count},
        "passes": (dict(state.passes), dict(state.early)),
        "finished": state.finished,
    }


def heard(plan: Plan, log: list[Said]) -> Ledger:
    """The ledger after hearing the entries one by one."""
    ledger = Ledger(plan)
    for said in log:
        ledger.hear(said)
    return ledger


__all__ = ["Bench", "Said", "at", "heard", "picture", "plan_of", "replay"]
