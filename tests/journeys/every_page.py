"""Every page of the demo workshop by name, for what is held against all of them."""

import pytest
from playwright.sync_api import Page

from tests.journeys.people import Student, machine_file

WIDTHS = (1024, 768, 390)
HEIGHT = 800
CLASS = "/class/demo-class-invented"
RECORDING = "/record/pump-to-read"
PAGES = {
    "front": "/",
    "start": "/start/pump-engine",
    "strip": "/bench/pump-engine-2/strip",
    "measure": "/bench/pump-engine-2/measure",
    "rebuild": "/bench/pump-engine-2/rebuild",
    "finish, refused": "/bench/pump-engine-2/finish",
    "part": "/part/pump-engine-2/flywheel",
    "log": "/log/pump-engine-2",
    "machine": "/machine/pump-engine",
    "a machine to read in": "/machine/new",
    "tightening screen": "/tighten/pump-engine-1/side-cover/0?pass=0&done=2,5",
    "whose bolt": "/loose/pump-engine-2?bolts=6+x+M6x28+hex+flange%0A3+M6x20%0A1%2F4-20",
    "sums": "/sums",
    "thread": "/sums/thread?thread=M6",
    "identify": "/sums/identify?reading=6.3+mm,+about+20+to+the+inch",
    "spanner": "/sums/spanner?what=7/16+in&on=10+mm",
    "torque": "/sums/torque?thread=M8&grade=8.8&torque=40&into=aluminium&engaged=12",
    "wrench": "/sums/wrench?torque=30&arm=300&extension=75",
    "pattern": "/sums/pattern?layout=rows+2x5&order=1,2,3,4,5,6,7,8,9,10&torque=26",
    "a size": "/measure/pump-engine-2/chain-length",
    "a size that waits": "/measure/pump-engine-2/bore",
    "a size with readings": "/measure/pump-engine-1/bore",
    "exercises": "/exercise",
    "an exercise": "/exercise/micrometer-0.01?seed=7",
    "an exercise, told": "/exercise/vernier-0.02?seed=7&read=3.5",
    "exercise record": "/exercise/record",
    "is it worn": "/sums/measure?readings=68.16&max=68.165&new=68.000+68.015&error=0.005",
    "instrument": "/sums/instrument?instrument=micrometer-0.01&reading=17.38",
    "study": "/sums/study?readings=1+A+2.01+2.02%0A1+B+2.03+2.04%0A2+A+2.11+2.12%0A2+B+2.13+2.15",
    "dead centre": "/sums/tdc?first=31+before&second=37+after&stroke=45&rod=84",
    "valve timing": "/sums/timing?inlet-opens=15&inlet-closes=45&exhaust-opens=70&exhaust-closes=10",
    "compression": "/sums/compression?bore=68&stroke=45&chamber=21.5",
    "ring gap": "/sums/ring-gap?gaps=0.35+0.33+0.31&new=0.2+0.4&max=1",
    "degree wheel": "/paper/wheel",
    "wall": "/wall",
    "count over all benches": "/wall/count",
    "the best order": "/machine/bench-vice/order",
    "the shortest way in": "/machine/bench-vice/order?to=nut",
    "an order of one's own": "/machine/bench-vice/own?move=screw&to=1",
    "reached in a time": "/machine/bench-vice/within?minutes=6",
    "a recording": RECORDING,
    "its questions": f"{RECORDING}/questions",
    "its film": f"{RECORDING}/film",
    "what was in the way": f"{RECORDING}/ticks",
    "what benches took apart": f"{RECORDING}/strips",
    "a part in a form": "/machine/pump-engine/part/exhaust",
    "its versions": "/machine/pump-engine/versions",
    "common assemblies": "/machine/pump-engine/library",
    "one of them": "/machine/pump-engine/library/recoil-starter",
    "a machine begun from them": "/machine/new/library",
    "record a machine": "/record",
    "lay out the bench": "/machine/pump-engine/layout",
    "set up a class": "/class/new",
    "class": CLASS,
    "lesson": f"{CLASS}/lesson",
    "shared tools": "/tools",
    "shared tools at a bench": "/tools/pump-engine-2",
    "a student": "/student/{person}",
    "who teaches here": "/people",
    "code": "/join",
    "name": "/join/{code}",
    "number": "/join/{code}?as={person}",
    "sign in to teach": "/teach",
    "a link that is worth nothing": "/teach/no-link",
    "own number": "/number",
    "sign out": "/leave",
    "error": "/no/such/page",
}


@pytest.fixture
def everything_open(page: Page) -> Page:
    """A window on the demo workshop, where Finish was pressed too early at the bench that is half stripped."""
    page.goto(PAGES["finish, refused"])
    student = Student(page, machine_file("pump-engine"))
    if not student.open_flags():
        assert "not right yet" in student.says_finished()
    page.goto(f"{CLASS}/lesson")
    code = page.locator(".join-code").inner_text()
    person = page.locator("input[name=person]").first.get_attribute("value") or ""
    PAGES.update({name: where.format(code=code, person=person) for name, where in PAGES.items()})
    page.goto(RECORDING)
    if page.locator("#now").count() == 0:
        page.goto("/record")
        page.fill("#name", "Pump to read")
        page.get_by_role("button", name="Begin", exact=True).click()
        for name in ("Guard", "Fan", "Exhaust"):
            page.fill("#name", name)
            page.get_by_role("button", name="It is off", exact=True).click()
        page.get_by_role("button", name="Make the mark").click()
    return page
