"""A room full of tablets: presses at once are each kept once, and every page shows a state that was."""

import re
import threading
from pathlib import Path

from tests.web.tablet import Tablet

TABLETS, PRESSES = 12, 15


def test_presses_of_many_tablets_at_once_are_each_kept_once(workshop: Path) -> None:
    from django.db import connections

    refused: list[int] = []

    def works(name: int) -> None:
        tablet = Tablet()
        tablet.opens("/part/pump-engine-2/exhaust")
        form = next(form for form in tablet.page.forms if "text" in form.fields)
        for number in range(PRESSES):
            said = {**form.fields, "text": f"tablet {name}, press {number}", "id": _id(name, number)}
            answers = [tablet.client.post("/part/pump-engine-2/exhaust", said).status_code for _ in range(2)]
            refused.extend(status for status in answers if status != 303)
            if not tablet.client.get("/bench/pump-engine-2/rebuild").content.startswith(b"<!doctype html>"):
                refused.append(0)
        connections.close_all()

    at_work = [threading.Thread(target=works, args=(name,)) for name in range(TABLETS)]
    for one in at_work:
        one.start()
    for one in at_work:
        one.join()
    assert refused == []
    log = Tablet().client.get("/log/pump-engine-2/log.jsonl").content.decode()
    kept = re.findall(r"tablet \d+, press \d+", log)
    assert len(kept) == len(set(kept)) == TABLETS * PRESSES


def _id(name: int, number: int) -> str:
    return f"01900000-0000-7000-8000-{name:06x}{number:06x}"


def test_two_jobs_do_not_wait_for_each_others_ledger(tablet: Tablet) -> None:
    from fingertight.web.jobs.ledgers import ledger_of
    from fingertight.web.jobs.workshop import job_at

    with ledger_of(job_at("pump-engine-1")), ledger_of(job_at("pump-engine-2")) as other:
        assert other.seq > 0
