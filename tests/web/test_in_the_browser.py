"""The pages in a real browser: sizes, targets, axe, two windows, a lost connection."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from tests.web.serving import Served

if TYPE_CHECKING:
    from playwright.sync_api import APIResponse, Browser, Page, Route

PAGES = [
    "/",
    "/start/pump-engine",
    "/bench/pump-engine-1/strip",
    "/bench/pump-engine-2/strip",
    "/bench/pump-engine-2/measure",
    "/bench/pump-engine-2/rebuild",
    "/bench/pump-engine-2/finish",
    "/part/pump-engine-2/side-cover",
    "/part/pump-engine-2/exhaust",
    "/log/pump-engine-2",
    "/machine/pump-engine",
    "/machine/new",
    "/machine/pump-engine/film",
    "/films",
    "/machine/pump-engine/part/side-cover",
    "/machine/pump-engine/part/side-cover/more",
    "/machine/pump-engine/part/side-cover/fasteners/1",
    "/machine/pump-engine/change",
    "/machine/pump-engine/change/check/bore",
    "/machine/pump-engine/add/setting",
    "/machine/pump-engine/out/part/piston",
    "/nothing",
]
SMALLEST_PX, AT_THE_BENCH_PX, MAIN_ACT_PX = 44, 56, 72

# Everything a finger is meant for, and how large it is; links within a sentence are read, not aimed at.
TARGETS = """() => [...document.querySelectorAll("button, a.button, a.pill, summary, select, textarea, input")]
  .filter(one => one.checkVisibility() && !["file", "hidden"].includes(one.type))
  .map(one => { const box = (one.closest("label") ?? one).getBoundingClientRect();
                return [one.tagName + " " + (one.textContent || one.name).trim(), box.width, box.height]; })"""
OPEN_ALL = "document.querySelectorAll('details').forEach(one => { one.removeAttribute('name'); one.open = true; })"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The demo workshop, served."""
    served = Served(tmp_path_factory.mktemp("workshop"))
    yield served
    served.stop()


@pytest.fixture
def page(browser: "Browser", served: Served) -> "Iterator[Page]":
    """A window of its own on it; nothing may be said on the console, nothing may fail, nothing come from elsewhere."""
    context = browser.new_context(base_url=served.address, viewport={"width": 1024, "height": 768})
    page = context.new_page()
    wrong: list[str] = []
    page.on("console", lambda said: wrong.append(said.text) if "ERR_CONNECTION" not in said.text else None)
    page.on("pageerror", lambda fault: wrong.append(str(fault)))
    page.on("request", lambda asked: wrong.append(asked.url) if not asked.url.startswith(served.address) else None)
    yield page
    context.close()
    # A browser notes every refusal on its console; the refusals themselves are meant.
    assert [said for said in wrong if not said.startswith("Failed to load resource")] == []


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("width", [360, 600, 768, 1024, 1920])
def test_nothing_scrolls_sideways(page: "Page", path: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    page.goto(path)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("path", PAGES)
def test_every_target_is_large_enough_for_a_thumb(page: "Page", path: str) -> None:
    page.set_viewport_size({"width": 768, "height": 1024})
    page.goto(path)
    page.evaluate(OPEN_ALL)
    small = [target for target in page.evaluate(TARGETS) if min(target[1:]) < SMALLEST_PX]
    assert small == []


def test_what_is_tapped_at_the_bench_is_larger_and_the_main_act_largest(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/rebuild")
    acts = page.locator("button.go:visible").all()
    assert acts
    assert all((act.bounding_box() or {"height": 0})["height"] >= MAIN_ACT_PX for act in acts)
    for one in page.locator("main .move > summary:visible, main .act .button:visible, nav .pill:visible").all():
        assert (one.bounding_box() or {"height": 0})["height"] >= AT_THE_BENCH_PX


@pytest.mark.parametrize(("width", "most_px"), [(1024, 80), (768, 150), (390, 150)])
def test_the_stages_take_one_row_on_a_tablet_and_two_on_what_is_narrower(
    page: "Page", width: int, most_px: int
) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    page.goto("/bench/pump-engine-2/strip")
    assert (page.locator("header.top").bounding_box() or {"height": 1e9})["height"] <= most_px


def test_text_at_the_bench_is_at_least_eighteen_pixels(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/rebuild")
    for words in (".move > summary", ".facts dd", "main button.go", ".warnbox"):
        size = page.locator(words).first.evaluate("one => parseFloat(getComputedStyle(one).fontSize)")
        assert size >= 18, words


@pytest.mark.parametrize("path", PAGES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(page: "Page", path: str, scheme: str) -> None:
    from axe_playwright_python.sync_playwright import Axe

    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
    page.goto(path)
    page.evaluate(OPEN_ALL)
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("path", PAGES)
def test_each_page_has_one_heading_and_every_field_its_label(page: "Page", path: str) -> None:
    page.goto(path)
    assert page.locator("h1").count() == 1
    unlabelled = """() => [...document.querySelectorAll("input:not([type=hidden]), select, textarea")]
      .filter(one => !one.labels?.length).map(one => one.name)"""
    assert page.evaluate(unlabelled) == []


def test_the_mark_before_what_is_due_is_not_read_out(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/rebuild")
    due = page.locator("h3.due").first.inner_text()
    nodes = page.context.new_cdp_session(page).send("Accessibility.getFullAXTree")["nodes"]
    read_out = [one["name"]["value"] for one in nodes if one.get("role", {}).get("value") == "heading"]
    assert due in read_out


def test_the_row_of_bags_is_reached_and_moved_by_key(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/strip")
    row = page.locator(".bags")
    row.focus()
    assert row.evaluate("one => one === document.activeElement")
    before = row.evaluate("one => one.scrollLeft")
    for _ in range(5):
        page.keyboard.press("ArrowLeft")
    page.wait_for_timeout(400)
    assert row.evaluate("one => one.scrollLeft") < before


def test_on_strip_the_newest_bag_is_in_view_and_on_rebuild_the_first_to_go_on(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/strip")
    in_view = """one => { const box = one.getBoundingClientRect(); return box.left >= 0 && box.right <= innerWidth; }"""
    assert page.locator(".bag").last.evaluate(in_view)
    newest = page.locator(".bag").last.inner_text()
    page.goto("/bench/pump-engine-2/rebuild")
    assert page.locator(".bag").first.evaluate(in_view)
    assert page.locator(".bag b").first.inner_text() == newest.split("\n")[0]


def test_a_finger_on_the_ring_picture_goes_to_that_part(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/strip")
    page.locator("[data-goes='/part/pump-engine-2/side-cover'] text").click()
    page.wait_for_url("**/part/pump-engine-2/side-cover")
    assert "Why not yet?" in page.locator("main").inner_text()


def test_two_windows_on_one_bench_see_each_others_taps_within_two_seconds(page: "Page", served: Served) -> None:
    page.goto("/bench/pump-engine-1/strip")
    other = page.context.new_page()
    other.goto("/bench/pump-engine-1/strip")
    other.locator("button.go:visible").first.click()
    other.get_by_text("came off into bag").first.wait_for()
    page.bring_to_front()
    page.get_by_text("came off into bag 1.").first.wait_for(timeout=2500)
    page.get_by_role("button", name="Undo that").click()
    page.get_by_text("Undone:").first.wait_for()
    other.bring_to_front()
    other.get_by_text("Undone:").first.wait_for(timeout=2500)


def test_what_is_typed_and_opened_survives_the_other_windows_tap(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/rebuild")
    field = page.locator("input[name=value]").first
    field.fill("0.7")
    page.locator("#waits > summary").click()
    other = page.context.new_page()
    other.goto("/bench/pump-engine-2/rebuild")
    other.get_by_role("button", name="Ask for help").click()
    other.get_by_role("button", name="Hand is up").wait_for()
    page.bring_to_front()
    page.get_by_role("button", name="Hand is up").wait_for(timeout=2500)
    assert field.input_value() == "0.7"
    assert page.locator("#waits").evaluate("one => one.open")
    page.get_by_role("button", name="Hand is up").click()
    page.get_by_role("button", name="Ask for help").wait_for()


def test_a_double_tap_counts_once(page: "Page") -> None:
    page.goto("/bench/pump-engine-1/strip")
    page.locator("button.go:visible").first.dblclick()
    page.get_by_text("came off into bag").first.wait_for()
    page.goto("/log/pump-engine-1")
    newest = page.locator(".log li").first.inner_text()
    assert "Spark plug lead came off" in newest
    page.goto("/bench/pump-engine-1/strip")
    page.get_by_role("button", name="Undo that").click()
    page.get_by_text("Undone:").first.wait_for()


def _vice_at(page: "Page", bench: str) -> str:
    page.goto("/start/bench-vice")
    page.get_by_label("Bench", exact=True).fill(bench)
    page.get_by_role("button", name="Start at this bench").click()
    page.get_by_role("heading", name="Can come off now").wait_for()
    return page.url


def test_a_slow_look_does_not_draw_over_what_was_pressed_since(page: "Page") -> None:
    _vice_at(page, "Bench slow")
    held: list[tuple[Route, APIResponse]] = []

    def hold(route: "Route") -> None:
        if route.request.method == "POST":
            route.continue_()
        else:
            headers = {name: said for name, said in route.request.headers.items() if name != "if-none-match"}
            held.append((route, route.fetch(headers=headers)))

    page.route("**/bench/**", hold)
    page.wait_for_timeout(2500)
    assert held
    assert held[0][1].status == 200
    page.locator("button.go:visible").first.click()
    page.get_by_text("came off into bag").first.wait_for()
    for route, answer in held:
        route.fulfill(response=answer)
    page.wait_for_timeout(300)
    assert page.get_by_text("came off into bag").count() == 1
    page.unroute_all(behavior="ignoreErrors")


def test_a_press_while_another_is_on_its_way_is_sent_after_it(page: "Page") -> None:
    _vice_at(page, "Bench fast")
    posts: list[Route] = []

    def hold_the_first(route: "Route") -> None:
        if route.request.method == "POST":
            posts.append(route)
        if posts != [route]:
            route.continue_()

    page.route("**/bench/**", hold_the_first)
    page.locator("button.go:visible").first.click()
    page.get_by_role("button", name="Ask for help").click()
    page.wait_for_timeout(200)
    assert len(posts) == 1
    posts[0].continue_()
    page.get_by_role("button", name="Hand is up").wait_for()
    page.unroute_all(behavior="ignoreErrors")
    page.get_by_role("link", name="Log", exact=True).click()
    entries = page.locator(".log li")
    assert "Help was asked for." in entries.nth(0).inner_text()
    assert "came off into bag" in entries.nth(1).inner_text()


def test_bad_typing_comes_back_as_typed_with_a_sentence(page: "Page") -> None:
    page.goto("/bench/pump-engine-2/rebuild")
    page.locator("input[name=value]").first.fill("about right")
    page.get_by_role("button", name="It is set").first.click()
    page.get_by_text("“about right” is not a number").first.wait_for()
    assert page.locator("input[name=value]").first.input_value() == "about right"
    assert page.locator("#problem").count() == 1
    box = page.locator("#problem").bounding_box() or {"y": -1, "height": 0}
    assert 0 <= box["y"] <= 768 - box["height"]


def test_a_lost_connection_has_its_own_honest_sentence_and_is_found_again(
    browser: "Browser", tmp_path_factory: pytest.TempPathFactory
) -> None:
    served = Served(tmp_path_factory.mktemp("lost"))
    page = browser.new_page()
    page.goto(f"{served.address}/bench/pump-engine-1/strip")
    served.stop()
    assert served.is_gone_within(2)
    page.locator("button.go:visible").first.click()
    page.get_by_text("The server does not answer.").wait_for()
    again = Served(served.home, served.port)
    page.get_by_text("The server does not answer.").wait_for(state="hidden", timeout=5000)
    page.locator("button.go:visible").first.click()
    page.get_by_text("came off into bag 1.").first.wait_for()
    page.close()
    again.stop()
