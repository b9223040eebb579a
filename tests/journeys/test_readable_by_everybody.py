"""Every page scrolls no way but down, and has targets that a gloved finger hits."""

from playwright.sync_api import Page

from tests.journeys.every_page import HEIGHT, PAGES, WIDTHS, everything_open

__all__ = ["everything_open"]

# 560 and 899 are the last widths of two layouts (look.css).
NARROW_TO_WIDE = (360, 390, 480, 560, 600, 768, 899, 900, 1024, 1280, 1600, 1920)
# WCAG 2.2, 2.5.5 (AAA): 44 by 44 CSS pixels, a link in a sentence excepted. For what is pressed at the bench
# in gloves, 56 px, no source: our own.
LEAST_PX = 44
LEAST_AT_THE_BENCH_PX = 56

TARGETS = (
    "a, button, summary, select, textarea, input:not([type=hidden], [type=checkbox], [type=radio]), label:has(input)"
)
SMALL = """([targets, wide, high]) => [...document.querySelectorAll(targets)].filter((one) => {
    const box = one.getBoundingClientRect();
    if (!box.width || !one.checkVisibility() || one.matches("svg a, .skip")) return false;
    if (one.matches("a") && getComputedStyle(one).display === "inline") return false;
    return box.height < high - 0.5 || box.width < wide - 0.5;
}).map((one) => {
    const box = one.getBoundingClientRect();
    return `${one.textContent.trim().slice(0, 40)}: ${Math.round(box.width)} by ${Math.round(box.height)}`;
})"""


def test_no_page_scrolls_sideways_at_any_width(everything_open: Page) -> None:
    page = everything_open
    wider = []
    for name, address in PAGES.items():
        page.goto(address)
        for width in NARROW_TO_WIDE:
            page.set_viewport_size({"width": width, "height": HEIGHT})
            needed = page.evaluate("document.documentElement.scrollWidth")
            if needed > width:
                wider.append(f"{name} needs {needed} px at {width} px")
    assert wider == []


def test_every_target_is_large_enough_for_a_finger(everything_open: Page) -> None:
    page = everything_open
    small = []
    for name, address in PAGES.items():
        page.goto(address)
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": HEIGHT})
            small += [f"{name} at {width} px: {one}" for one in page.evaluate(SMALL, [TARGETS, LEAST_PX, LEAST_PX])]
    assert small == []


def test_names_in_the_ring_picture_are_as_large_as_their_sectors_have_room_for(everything_open: Page) -> None:
    page = everything_open
    page.goto(PAGES["strip"])
    sizes = page.evaluate(
        "[...document.querySelectorAll('.rings text')].map((t) => [t.getAttribute('font-size'), "
        "getComputedStyle(t).fontSize])"
    )
    assert len(sizes) > 20
    assert all(f"{float(meant):g}px" == drawn for meant, drawn in sizes)


def test_what_is_pressed_at_the_bench_is_larger_still(everything_open: Page) -> None:
    page = everything_open
    small = []
    for name in ("strip", "measure", "rebuild", "finish, refused"):
        page.goto(PAGES[name])
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": HEIGHT})
            asked = [TARGETS, LEAST_PX, LEAST_AT_THE_BENCH_PX]
            small += [f"{name} at {width} px: {one}" for one in page.evaluate(SMALL, asked)]
    assert small == []
