"""The wall in the browser: every bench on it, told apart, and asked for again only when something changed."""

from tests.web.honest import start
from tests.web.tablet import Tablet


def test_every_bench_is_on_the_wall_one_tap_from_the_front_page(tablet: Tablet) -> None:
    page = tablet.opens("/")
    assert page.links["All benches on the wall"] == "/wall"
    page = tablet.opens("/wall")
    assert "Bench 4" in page.text
    assert "Bench 7" in page.text
    assert "Ready to strip." in page.text


def test_a_hand_that_goes_up_is_on_the_wall_with_its_bench(tablet: Tablet) -> None:
    bench = start(tablet, "bench-vice")
    tablet.opens(bench)
    tablet.presses("Ask for help")
    page = tablet.opens("/wall?class=all")
    assert "asks for help 0 min" in page.text
    assert " for you" in page.text


def test_the_wall_is_sent_again_only_when_something_happened(tablet: Tablet) -> None:
    first = tablet.client.get("/wall?class=all")
    again = tablet.client.get("/wall?class=all", headers={"If-None-Match": first["ETag"]})
    bench = start(tablet, "bench-vice")
    after = tablet.client.get("/wall?class=all", headers={"If-None-Match": first["ETag"], "X-Fragment": "live"})
    # A minute may turn between two questions; then the first is sent anew too.
    assert again.status_code == 304 or again["ETag"] != first["ETag"]
    assert after.status_code == 200
    assert "<html" not in after.content.decode()
    assert bench.rsplit("/", 1)[1] in after.content.decode()


def test_the_hand_over_sheet_is_printed_from_the_wall(tablet: Tablet) -> None:
    page = tablet.opens("/wall")
    answer = tablet.client.get(page.links["Print the hand-over sheet"])
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


def test_the_count_over_all_benches_leads_to_the_one_that_has_not_counted(tablet: Tablet) -> None:
    page = tablet.opens("/wall/count")
    assert "Not counted yet." in page.text
    assert "/bench/pump-engine-2/finish" in tablet.answer.content.decode()
