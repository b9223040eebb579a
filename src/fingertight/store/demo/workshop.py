"""The demo workshop: the example machines, and a class in the middle of its second lesson. All of it is invented."""

import json
import secrets
from datetime import datetime, timedelta
from importlib.resources import files
from typing import Any

from fingertight.anatomy.read import read
from fingertight.store.demo.benches import Bench, start
from fingertight.store.ids import uuid7
from fingertight.store.kept import keep_machine
from fingertight.store.models import MachineVersion, Workshop
from fingertight.store.school.classes import Wanted, give_code, make_class, seat
from fingertight.store.school.people import keep_person, new_code
from fingertight.store.school.tables import ClassEntry, SchoolClass, SharedTool

NAME = "Demo workshop (invented)"
CLASS = "Demo class (invented)"
SHOWN_ON = "pump-engine"
LESSONS, LESSON_MIN = 8, 90
SINCE = timedelta(minutes=40)
"""How long the second lesson has gone on."""
STUDENTS = ("Ada", "Bo", "Cleo", "Dov", "Eli", "Fay", "Gus", "Hana")
TEACHER = "Tilda"
SHARES = {"Bench 4": 0.0, "Bench 7": 0.5, "Bench 11": 0.25, "Bench 14": 0.8}
"""How much of each bench's machine is in bags."""
TOOLS = {"torque wrench": 2, "ring expander": 1, "bore gauge": 1}


def make_demo(now: datetime) -> bool:
    """Make the demo workshop in an empty database. False when there is a workshop already: then nothing changes."""
    if Workshop.objects.exists():
        return False
    workshop = Workshop.objects.create(name=NAME)
    for file in sorted(files("fingertight.examples").iterdir(), key=lambda file: file.name):
        if file.name.endswith(".toml"):
            text = file.read_text("utf-8")
            anatomy = read(text).anatomy
            if anatomy is not None:
                keep_machine(workshop, file.name.removesuffix(".toml"), anatomy.machine.name, text, now)
    for name, many in TOOLS.items():
        SharedTool.objects.create(workshop=workshop, name=name, many=many)
    _class(MachineVersion.objects.get(workshop=workshop, slug=SHOWN_ON), now)
    return True


def _class(version: MachineVersion, now: datetime) -> None:
    """The class, its people, what its benches did in a lesson and a half, and its own log."""
    workshop = version.workshop
    teacher = keep_person(workshop, TEACHER, "", "instructor").id
    students = [keep_person(workshop, name, "", "student") for name in STUDENTS]
    lessons = (now - timedelta(days=7), now - SINCE)
    jobs = {}
    for nth, (name, share) in enumerate(SHARES.items()):
        pair = (students[2 * nth].id, students[2 * nth + 1].id)
        bench = Bench(name, share, pair, teacher, lessons, now, _besides(name, pair, lessons, now))
        jobs[name] = start(version, bench).id
    wanted = Wanted(CLASS, tuple(jobs), LESSONS, LESSON_MIN)
    made = make_class(version, wanted, tuple(jobs.values()))
    for nth, person in enumerate(students):
        seat(made, person, list(SHARES)[nth // 2])
    _diary(made, teacher, students[1].id, lessons, now)
    give_code(made, new_code(6))


def _besides(
    name: str, pair: tuple[str, str], lessons: tuple[datetime, ...], now: datetime
) -> tuple[tuple[datetime, dict[str, Any]], ...]:
    """A hand that is up, and tools: one that nobody brought back last week."""
    by = {"by": pair[0], "as": "student"}
    if name == "Bench 11":
        return ((now - timedelta(minutes=12), {"kind": "tool", "tool": "ring expander", "way": "out", **by}),)
    if name == "Bench 14":
        return (
            (lessons[0] + timedelta(minutes=50), {"kind": "tool", "tool": "bore gauge", "way": "out", **by}),
            (now - timedelta(minutes=6), {"kind": "help", "state": "asked", **by}),
        )
    return ()


def _diary(made: SchoolClass, teacher: str, away: str, lessons: tuple[datetime, ...], now: datetime) -> None:
    """Two lessons: the first closed with a tool missing, the second open, one student away, a bench that waits."""
    said: list[tuple[datetime, dict[str, Any]]] = [
        (lessons[0], {"kind": "open", "minutes": LESSON_MIN, "by": teacher}),
        (
            lessons[0] + timedelta(minutes=88),
            {
                "kind": "close",
                "short": 1,
                "word": "The bore gauge is not in its case: look at bench 14 first.",
                "by": teacher,
            },
        ),
        (lessons[1], {"kind": "open", "minutes": LESSON_MIN, "by": teacher}),
        (lessons[1] + timedelta(minutes=2), {"kind": "away", "person": away, "by": teacher}),
        (
            now - timedelta(minutes=4),
            {"kind": "ask", "tool": "ring expander", "bench": "Bench 14", "by": teacher},
        ),
    ]
    for seq, (at, entry) in enumerate(said, 1):
        name = uuid7(int(at.timestamp() * 1000), secrets.token_bytes(10))
        whole = {"id": name, **entry, "at": at.isoformat(timespec="seconds")}
        body = json.dumps(whole, ensure_ascii=False)
        ClassEntry.objects.create(workshop=made.workshop, class_slug=made.slug, seq=seq, id=name, body=body)
