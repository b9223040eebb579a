"""A teacher looks for the best order, drags one about, and sees the way in: in Chromium."""

from playwright.sync_api import Page, expect

VICE = "/machine/bench-vice"


def dragged(page: Page, part: str, before: str, *, drop: bool = True) -> None:
    """Pick a card up and bring it over the left half of another."""
    held, goal = page.locator(f"#p-{part}").bounding_box(), page.locator(f"#p-{before}").bounding_box()
    assert held is not None
    assert goal is not None
    page.mouse.move(held["x"] + 30, held["y"] + held["height"] / 3)
    page.mouse.down()
    page.mouse.move(goal["x"] + goal["width"] / 2, goal["y"] + 20, steps=6)
    page.mouse.move(goal["x"] + 12, goal["y"] + 20, steps=6)
    if drop:
        page.mouse.up()


def order(page: Page) -> list[str]:
    """The parts as they stand."""
    return [
        str(one) for one in page.locator("#own-order > li").evaluate_all("(all) => all.map((one) => one.dataset.part)")
    ]


def test_a_card_is_dragged_to_another_place_and_the_cost_is_said_while_it_is_in_the_hand(page: Page) -> None:
    page.set_viewport_size({"width": 1024, "height": 1200})
    page.goto(f"{VICE}/own")
    before = order(page)
    dragged(page, "dust-plate", "tommy-bar", drop=False)
    expect(page.locator("#own-why")).to_have_text("It may go here.")
    assert page.locator("#own-cost").inner_text() == "23.75"
    page.mouse.up()
    page.wait_for_url("**move=dust-plate&to=1*")
    assert order(page) == ["dust-plate", *(part for part in before if part != "dust-plate")]


def test_a_card_that_cannot_go_there_springs_back_and_says_why(page: Page) -> None:
    page.set_viewport_size({"width": 1024, "height": 1200})
    page.goto(f"{VICE}/own")
    before = order(page)
    dragged(page, "screw", "tommy-bar", drop=False)
    expect(page.locator("#own-why")).to_contain_text("Screw cannot come off as number 1.")
    page.mouse.up()
    expect(page.locator("#own-why")).to_contain_text("Sprung back.")
    assert order(page) == before


def test_the_way_in_is_lit_and_its_proof_comes_without_a_press(page: Page) -> None:
    page.goto(f"{VICE}/order?to=nut")
    expect(page.get_by_role("status").first).to_contain_text("No order costs less.")
    assert page.locator(".sector-free").count() == 2
    page.get_by_role("link", name="Lay out the bench").click()
    expect(page.locator("h2").first).to_have_text("The way to Nut of the screw and back")


def test_the_pump_engine_s_order_is_proven_while_the_page_is_open(page: Page) -> None:
    page.goto("/machine/pump-engine/order")
    expect(page.get_by_role("status").first).to_contain_text("No order costs less.", timeout=60_000)
    assert "45 changes of spanner, 3 turns of the machine" in page.locator(".next-step .lead").inner_text()
