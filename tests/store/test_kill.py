"""The program is killed in the middle of its taps: every tap that was answered is there."""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from fingertight.store.log import rows
from fingertight.store.writer import Writer
from tests.store import tapping
from tests.store.cast import BENCH_1, WORKSHOP

ROUNDS = 4


def test_every_tap_answered_before_kill_9_is_there(database: Path) -> None:
    answered: set[str] = set()
    chance = random.Random(9)
    for round_ in range(ROUNDS):
        command = [sys.executable, tapping.__file__, str(database), str(WORKSHOP), BENCH_1, str(round_)]
        with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as child:
            assert child.stdout
            assert child.stderr
            first = child.stdout.readline()
            time.sleep(chance.uniform(0.02, 0.3))
            child.kill()
            said = (first + child.stdout.read()).decode()
            assert child.stderr.read() == b""
        assert child.returncode == -signal.SIGKILL
        answered |= {line.strip() for line in said.splitlines(keepends=True) if line.endswith("\n")}

        writer = Writer(database)
        kept = [one.id for one in writer.log(WORKSHOP, BENCH_1).after()]
        with writer.reading() as connection:
            assert rows.damage(connection) == rows.faults(connection) == ()
        writer.stop()
        assert answered <= set(kept)
        # At most one tap of each of the four tablets can have been kept and not answered.
        assert len(kept) - len(answered) <= 4 * (round_ + 1)
    assert len(answered) > 20 * ROUNDS
