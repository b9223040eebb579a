"""A sum is asked and answered on a phone, by taps, in inches and with a comma."""

from playwright.sync_api import Browser, expect

from tests.journeys.served import Served


def test_a_phone_asks_for_a_thread_and_reads_the_answer_without_scrolling_sideways(
    browser: Browser, served: Served
) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(f"{served.address}/sums")
    page.get_by_role("link", name="Torque wrench").tap()
    page.get_by_label("Torque wanted", exact=True).fill("22,5")
    page.get_by_label("Unit of Torque wanted").select_option("lb·ft")
    page.get_by_role("button", name="Work it out").tap()
    # 22.5 lbf·ft = 30.51 N·m: NIST SP 811, appendix B.8.
    expect(page.get_by_role("status")).to_contain_text("Set the wrench to 22.5 lb·ft.")
    expect(page.get_by_role("main")).to_contain_text("30.5")
    assert page.evaluate("document.documentElement.scrollWidth") == 390
    context.close()
