"""Learning from strips: questions beside asking one by one, on machines without ways; and the wait for the next one."""

from collections.abc import Iterator
from time import process_time

from rows import Row

from fingertight.order.learn import Learned, heard, learn, next_question
from tests.order.learn.workshop import Machine, assembled, honest, necessary, one_by_one, strips_of

STRIPS = 10
MACHINES = {40: 10, 80: 3}
SINGLY = "one by one, the nearest first, leaving out what follows"
MADE = {False: "by chance", True: "by habit"}


def rows() -> Iterator[Row]:
    """The rows of this family."""
    slowest = 0.0
    for parts, machines in MACHINES.items():
        for habit in (False, True):
            blockers = all_asked = singly = 0
            for seed in range(machines):
                machine = assembled(seed, parts)
                learned = learn(strips_of(machine, STRIPS, seed, habit=habit))
                asked, wait = _asked_out(learned, machine)
                blockers, all_asked = blockers + asked.count("blockers"), all_asked + len(asked)
                singly += one_by_one(learned, machine)[1]
                slowest = max(slowest, wait)
            what = f"questions to settle {parts} parts after {STRIPS} strips {MADE[habit]}, mean of {machines} machines"
            said = f"{blockers / machines:.0f} against {singly / machines:.0f}"
            yield Row(what, SINGLY, blockers / singly, "at most", 0.6, note=said)
            said = f"{all_asked / machines:.0f}"
            what = "the same, and making sure that no part has ways"
            # No goal: whoever asks one by one never finds out about ways, so the two do not do the same work.
            yield Row(what, SINGLY, all_asked / singly, "at most", None, note=said)
    yield Row(
        f"the next question at {max(MACHINES)} parts, the slowest of all", "–", slowest * 1000, "at most", 50, "ms"
    )


def _asked_out(learned: Learned, machine: Machine) -> tuple[list[str], float]:
    """What each question was about, until nothing is left, and the longest that one was worked out [s of work]."""
    about, slowest = [], 0.0
    while True:
        start = process_time()
        question = next_question(learned)
        slowest = max(slowest, process_time() - start)
        if question is None:
            break
        about.append(question.about)
        learned = heard(learned, honest(machine, question))
    assert learned.candidates() == necessary(machine)
    return about, slowest
