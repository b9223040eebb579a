"""The front page: every bench at a glance, every machine, and what is asked when a job starts."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.page import STAGES, JobName, stage_of
from fingertight.cards.bench.words import counted
from fingertight.cards.card import Card
from fingertight.cards.lesson.classes import ClassLine
from fingertight.cards.order.aim import aim_card
from fingertight.ledger.plan import listed
from fingertight.ledger.replay import Ledger


@dataclass(frozen=True)
class JobLine(Card):
    """One bench: which machine, how far, and what wants somebody."""

    job: JobName
    stage: str
    sentence: str
    open_flags: int
    help_asked: bool
    finished: bool


@dataclass(frozen=True)
class MachineLine(Card):
    """One machine of the workshop."""

    slug: str
    name: str
    about: str
    sentence: str


@dataclass(frozen=True)
class FrontCard(Card):
    """The workshop. put_away: classes whose term is over."""

    workshop: str
    classes: tuple[ClassLine, ...]
    put_away: tuple[ClassLine, ...]
    jobs: tuple[JobLine, ...]
    machines: tuple[MachineLine, ...]


@dataclass(frozen=True)
class PartTick(Card):
    """One part of the machine, to be ticked when this very one lacks it, or has it off already."""

    part: str
    title: str
    absent: bool
    off: bool


@dataclass(frozen=True)
class StartCard(Card):
    """What is asked before a job starts; what was typed is kept."""

    machine: str
    name: str
    bench: str
    which: str
    parts: tuple[PartTick, ...]
    wanted: str


def job_line(job: JobName, ledger: Ledger) -> JobLine:
    """How far is this bench?"""
    state = ledger.state
    off = len(state.moves.off())
    moving = sum(not part.stays and not state.moves.is_absent(part.id) for part in state.plan.anatomy.parts)
    flags = len(state.flags.open())
    stage = "Finished" if state.finished else STAGES[stage_of(ledger)]
    aim = aim_card(state)
    sentence = (
        f"{stage}, only to {aim.wanted}: {counted(off, 'part')} off"
        if aim
        else f"{stage}: {off} of {counted(moving, 'part')} off"
        if ledger.entries
        else f"Ready to strip: {counted(moving, 'part')}"
    )
    return JobLine(job, stage, sentence, flags, state.help_asked is not None, state.finished)


def machine_line(slug: str, anatomy: Anatomy, version: int, jobs: int) -> MachineLine:
    """Which machine is this?"""
    versions = f", version {version}" if version > 1 else ""
    sentence = f"{counted(len(anatomy.parts), 'part')}{versions}; {counted(jobs, 'job')} here"
    return MachineLine(slug, anatomy.machine.name, anatomy.machine.about, sentence)


def start_card(
    machine: str,
    anatomy: Anatomy,
    typed: tuple[str, str],
    absent: Collection[str] = (),
    off: Collection[str] = (),
    *,
    wanted: Sequence[str] = (),
) -> StartCard:
    """What is asked before a job on this machine starts? typed: bench, and which one of its kind it is; wanted: the
    parts it is to get at, none for all of it."""
    parts: Sequence[PartTick] = [
        PartTick(part.id, part.title, part.id in absent, part.id in off) for part in anatomy.parts if not part.stays
    ]
    aim = listed(anatomy.part_by_id[part].title for part in wanted)
    return StartCard(machine, anatomy.machine.name, *typed, tuple(parts), aim)
