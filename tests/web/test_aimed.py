"""A job that only wants the cam followers: what is in their way comes off, and goes back on; the rest stays."""

import json
import re

from fingertight.store.models import Job
from fingertight.web.jobs.ledgers import log_of
from tests.web.tablet import Tablet

WAY_IN = "/machine/pump-engine/order?to=follower"


def started(tablet: Tablet) -> str:
    """A job to get at the cam followers, begun from the way in; its address."""
    tablet.opens(WAY_IN)
    form = next(form for form in tablet.page.forms if form.action == "/start/pump-engine")
    way = re.findall(r'name="way" value="([^"]+)"', tablet.answer.content.decode())
    page = tablet.opens(f"/start/pump-engine?to=follower&{'&'.join(f'way={part}' for part in way)}")
    assert form.fields["to"] == "follower"
    assert "Only to get at: Cam follower" in page.text
    tablet.presses("Start at this bench", bench="Bench 9", way=way)
    assert tablet.path.startswith("/bench/pump-engine-")
    return tablet.path


def entries(address: str) -> list[dict[str, object]]:
    """What stands in the log of the job there."""
    job = Job.objects.get(slug=address.split("/")[2])
    return [json.loads(one.body) for one in log_of(job).after()]


def waiting(text: str) -> int:
    """How many parts wait, as the page says."""
    return int(re.findall(r"Not yet, and why: (\d+)", text)[0])


def test_it_shows_only_what_is_in_the_way_and_builds_back_what_it_took(tablet: Tablet) -> None:
    address = started(tablet)
    (aim,) = entries(address)
    way = list(aim["way"])
    assert (aim["kind"], aim["parts"]) == ("aim", ["follower"])
    assert way[-1] == "follower"
    assert len(way) < 40
    for number, part in enumerate(way):
        page = tablet.opens(address)
        assert f"Only to get at: Cam follower Off for it: {number} of {len(way)} parts. Next: " in page.text
        while any(form.fields.get("kind") == "off" and form.fields["part"] == part for form in tablet.page.forms):
            tablet.sends(tablet.form_of("off", part), {})  # a piece of it
            tablet.opens(address)
    page = tablet.opens(address)
    assert "You are there. " in page.text
    assert "Nothing more has to come off." in page.text
    page = tablet.opens(f"{address}/rebuild")
    assert "Can go on now" in page.text or "Build back" in page.text
    offered = [form.fields["part"] for form in page.forms if form.fields.get("kind") == "on"]
    assert set(offered) <= set(way)
    assert "follower" in offered


def test_everything_after_all_and_only_this_one_from_the_page_of_a_part(tablet: Tablet) -> None:
    address = "/bench/pump-engine-1"
    all_of_it = waiting(tablet.opens(address).text)
    tablet.opens("/part/pump-engine-1/follower")
    tablet.presses("Only get at this one, on this bench")
    page = tablet.opens(address)
    assert "Only to get at: Cam follower" in page.text
    assert waiting(page.text) < all_of_it / 2
    while tablet.page.text.count("May come off too, and need not") == 0:
        tablet.sends(next(form for form in tablet.page.forms if form.fields.get("kind") == "off"), {})
        tablet.opens(address)
    need_not = tablet.page.text.partition("May come off too, and need not")[2]
    assert "Off — bag" in need_not
    assert "Strip, only to Cam follower: " in tablet.opens("/").text
    assert "Only Cam follower: " in tablet.opens("/log/pump-engine-1").text
    tablet.opens(address)
    tablet.presses("All of it after all")
    assert "Only to get at" not in tablet.opens(address).text
    assert "All of it after all." in tablet.opens("/log/pump-engine-1").text


def test_what_never_comes_off_or_is_no_part_cannot_be_wanted(tablet: Tablet) -> None:
    said = {"kind": "aim", "to": "crankcase", "id": ""}
    answer = tablet.client.post("/part/pump-engine-1/follower", said)
    assert answer.status_code == 422
    assert "never comes off" in answer.content.decode()
    answer = tablet.client.post("/part/pump-engine-1/follower", {**said, "to": "no-such"})
    assert "none of this machine" in answer.content.decode()
    nonsense = {"kind": "aim", "to": "follower", "way": ["follower"], "id": ""}
    assert tablet.client.post("/part/pump-engine-1/follower", nonsense).status_code == 303
    last = entries("/bench/pump-engine-1/")[-1]
    assert len(last["way"]) > 1, "a way that does not lead there is not taken"
