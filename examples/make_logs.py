"""Writes the example logs anew: `python examples/make_logs.py [FOLDER]`, the same bytes at every run.

For each example machine an honest log, which raises no flag, and one with planted mistakes, which raises just those
that its entries name in the extra field `planted`. Both are replayed before anything is written.
People, dates and readings are invented.
"""

import json
import sys
import tomllib
from pathlib import Path
from typing import Any

from making.clock import stamped
from making.course import Course
from making.drafts import Drafts
from making.machines import MACHINES, Machine
from making.pump_plants import pump_mistakes
from making.small_plants import honest_slips, vice_mistakes, winch_mistakes

from fingertight.anatomy.model import Anatomy
from fingertight.ledger import Ledger, Plan, replay

HERE = Path(__file__).resolve().parent
PLANTS = {"bench-vice": vice_mistakes, "hand-winch": winch_mistakes, "pump-engine": pump_mistakes}


def honest(machine: Machine) -> Drafts:
    """The honest job, with the slips that honest people make and take back."""
    drafts = Course(anatomy_of(machine), machine).whole()
    honest_slips(machine.file, drafts)
    return drafts


def with_mistakes(machine: Machine) -> Drafts:
    """The same job with its mistakes."""
    drafts = Course(anatomy_of(machine), machine).whole()
    PLANTS[machine.file](drafts)
    return drafts


def anatomy_of(machine: Machine) -> Anatomy:
    """The machine as its file says."""
    return Anatomy.model_validate(tomllib.loads((HERE / f"{machine.file}.toml").read_text("utf-8")))


def not_as_planted(ledger: Ledger, said: list[dict[str, Any]]) -> list[str]:
    """Flags that nothing planted, and plants that raised nothing, as sentences."""
    planted = {(each["id"], each["planted"]) for each in said if "planted" in each}
    raised = {(flag.entry, flag.kind): flag.text for flag in ledger.state.flags}
    by_id = {each["id"]: each for each in said}
    return [
        *(f"{kind}: {raised[entry, kind]} {by_id[entry]}" for entry, kind in set(raised) - planted),
        *(f"{kind} was planted and not raised: {by_id[entry]}" for entry, kind in planted - set(raised)),
    ]


def main(folder: Path) -> int:
    """Make, replay and write every log; 1 when one is not as planted, and then nothing is written."""
    texts: dict[str, str] = {}
    wrong: list[str] = []
    for machine in MACHINES:
        plan = Plan(anatomy_of(machine))
        for name, drafts in ((machine.file, honest(machine)), (f"{machine.file}-mistakes", with_mistakes(machine))):
            said = stamped(drafts, name, machine.lessons, machine.hour)
            ledger = replay(plan, said)
            wrong += [f"{name}: {each}" for each in not_as_planted(ledger, said)]
            if name == machine.file and not ledger.state.finished:
                wrong.append(f"{name}: not finished")
            texts[name] = "".join(json.dumps(each, ensure_ascii=False) + "\n" for each in said)
    if wrong:
        print("\n".join(wrong), file=sys.stderr)
        return 1
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name}.jsonl").write_text(text, "utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE / "logs"))
