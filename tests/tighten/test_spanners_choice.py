"""Which spanner may be used on which head: the answers that the trade and a public page know must come out."""

import pytest

from fingertight.quantity import NotUnderstood
from fingertight.tighten.spanners.choose import (
    ENOUGH_BITE,
    INCH_KEYS,
    INCH_SET,
    METRIC_KEYS,
    METRIC_SET,
    SAME_MM,
    Verdict,
    key_in,
    keys_in,
    on_thread,
    spanner_on,
    spanners_on,
)
from fingertight.tighten.spanners.widths import NoSuchWidth, head_width, heads_measuring, jaw_width, width_named
from fingertight.tighten.threads.names import thread_named

PAGE = "Wikipedia, Width across flats"
PRACTICE = "common practice, no source"
# Spanner, head, what is known of the pair, and from where.
KNOWN = [
    ("19 mm", "3/4 in", {Verdict.FITS, Verdict.TIGHT}, f"close enough to interchange: {PAGE}"),
    ("3/4 in", "19 mm", {Verdict.FITS, Verdict.TIGHT}, f"close enough to interchange: {PAGE}"),
    ("8 mm", "5/16 in", {Verdict.FITS, Verdict.TIGHT}, f"close enough to interchange: {PAGE}"),
    ("5/16 in", "8 mm", {Verdict.FITS, Verdict.TIGHT}, f"close enough to interchange: {PAGE}"),
    ("4 mm", "5/32 in", {Verdict.FITS, Verdict.TIGHT}, f"close enough to interchange: {PAGE}"),
    ("5/32 in", "4 mm", {Verdict.FITS, Verdict.TIGHT}, f"close enough to interchange: {PAGE}"),
    ("13 mm", "1/2 in", {Verdict.LOOSE}, f"rounds a head of 1/2 in: {PAGE}"),
    ("1/2 in", "13 mm", {Verdict.NOT_ON}, "12.7 mm is less than 13"),
    ("7/16 in", "11 mm", {Verdict.LOOSE}, "11.11 mm: a tenth of a millimetre too wide"),
    ("11 mm", "7/16 in", {Verdict.TIGHT}, "11 mm is a tenth less than 11.11: some go on, some do not"),
    ("14 mm", "9/16 in", {Verdict.TIGHT, Verdict.NOT_ON}, "14 mm is 0.29 less than 14.29"),
    ("9/16 in", "14 mm", {Verdict.LOOSE}, "14.29 mm: 0.29 too wide"),
    ("11/16 in", "17 mm", {Verdict.LOOSE}, "17.46 mm: 0.46 too wide"),
    ("13/16 in", "21 mm", {Verdict.NOT_ON}, "20.64 mm is less than 21"),
    ("10 mm", "3/8 in", {Verdict.NEVER}, "9.53 mm and 10 mm are no pair: " + PRACTICE),
    ("12 mm", "11 mm", {Verdict.NEVER}, "one size larger: " + PRACTICE),
    ("14 mm", "13 mm", {Verdict.NEVER}, "one size larger: " + PRACTICE),
    ("22 mm", "21 mm", {Verdict.NEVER}, "one size larger: " + PRACTICE),
    ("10 mm", "13 mm", {Verdict.NOT_ON}, "three sizes smaller"),
]


@pytest.mark.parametrize(("spanner", "head", "known", "reason"), KNOWN, ids=[f"{k[0]} on {k[1]}" for k in KNOWN])
def test_what_is_known_of_a_pair_comes_out(spanner: str, head: str, known: set[Verdict], reason: str) -> None:
    assert spanner_on(spanner, head).verdict in known, reason


@pytest.mark.parametrize("spanner", ["3/8 in", "7/16 in"])
@pytest.mark.parametrize("head", ["8 mm", "10 mm", "12 mm", "13 mm", "14 mm", "17 mm"])
def test_three_eighths_and_seven_sixteenths_are_refused_on_every_metric_head(spanner: str, head: str) -> None:
    # The trade's rule (common practice, no source): 9.53 mm and 11.11 mm match no metric head.
    assert spanner_on(spanner, head).verdict in {Verdict.NEVER, Verdict.NOT_ON}


def test_19_mm_and_three_quarters_differ_by_a_twentieth_which_both_standards_allow() -> None:
    fit = spanner_on("3/4 in", "19 mm")
    assert fit.tool.nominal_mm - fit.fastener.nominal_mm == pytest.approx(0.05)
    # ISO 691 lets a 19 mm jaw be up to 0.36 mm wider than its name, ASME a 3/4 in one up to 0.0125 in (0.32 mm).
    assert jaw_width("19 mm").most_mm == pytest.approx(19.36)
    assert fit.tool.most_mm == pytest.approx(19.37, abs=0.005)
    assert fit.worst.deg == pytest.approx(fit.right_worst.deg, abs=0.1)


@pytest.mark.parametrize(
    "name", [name for name in (*METRIC_SET, *INCH_SET) if name not in {"1 in", "1 1/16 in", "1 1/4 in"}]
)
def test_the_right_spanner_always_fits_and_catches_something_at_its_worst(name: str) -> None:
    fit = spanner_on(name, name)
    assert (fit.verdict, fit.bite_of_right) == (Verdict.FITS, 1)
    assert fit.worst.bite_mm > 0
    assert fit.room_mm > 0


@pytest.mark.parametrize("name", [*METRIC_KEYS, *INCH_KEYS])
def test_the_right_key_always_goes_in_and_catches_something_at_its_worst(name: str) -> None:
    fit = key_in(name, name)
    assert (fit.verdict, fit.bite_of_right) == (Verdict.FITS, 1)
    assert fit.worst.bite_mm > 0
    assert fit.room_mm >= 0


@pytest.mark.parametrize("head", ["10 mm", "13 mm", "1/2 in", "19 mm", "3/4 in", "24 mm"])
def test_a_verdict_says_what_its_figures_say(head: str) -> None:
    for fit in spanners_on(head):
        slacker_mm = fit.tool.most_mm - fit.right.most_mm
        if fit.verdict.is_right:
            assert slacker_mm <= SAME_MM
            assert fit.worst.deg - fit.right_worst.deg < 0.5
        if fit.verdict is Verdict.LOOSE:
            assert slacker_mm > SAME_MM
            assert fit.bite_of_right >= ENOUGH_BITE
        if fit.verdict is Verdict.NEVER:
            assert fit.bite_of_right < ENOUGH_BITE
        if fit.verdict is Verdict.NOT_ON:
            assert fit.tool.most_mm < head_width(head).most_mm


def test_the_right_spanner_stands_first_and_the_worst_last() -> None:
    names = [fit.tool.name for fit in spanners_on("1/2 in")]
    assert names[:2] == ["1/2 in", "13 mm"]
    order = list(Verdict)
    verdicts = [order.index(fit.verdict) for fit in spanners_on("1/2 in")[1:]]
    assert verdicts == sorted(verdicts)


@pytest.mark.parametrize(
    ("key", "socket", "known"),
    [
        # Common practice, no source: inch keys round metric sockets, but for a few that nearly agree.
        ("3/16 in", "5 mm", {Verdict.NEVER}),
        ("5 mm", "3/16 in", {Verdict.NOT_ON}),
        ("6 mm", "1/4 in", {Verdict.NEVER}),
        ("1/4 in", "6 mm", {Verdict.NOT_ON}),
        ("3/8 in", "10 mm", {Verdict.NEVER}),
        ("3/32 in", "2.5 mm", {Verdict.NEVER}),
        ("5/64 in", "2 mm", {Verdict.FITS, Verdict.TIGHT}),
        ("5/32 in", "4 mm", {Verdict.FITS, Verdict.TIGHT, Verdict.LOOSE}),
        ("4 mm", "5/32 in", {Verdict.FITS, Verdict.TIGHT}),
        ("5/16 in", "8 mm", {Verdict.FITS, Verdict.TIGHT, Verdict.LOOSE}),
        ("3/4 in", "19 mm", {Verdict.FITS, Verdict.TIGHT}),
    ],
)
def test_a_key_is_judged_as_a_spanner_turned_inside_out(key: str, socket: str, known: set[Verdict]) -> None:
    assert key_in(key, socket).verdict in known


def test_the_keys_beside_a_socket_begin_with_the_right_one() -> None:
    assert [(fit.tool.name, fit.verdict) for fit in keys_in("5 mm")] == [
        ("5 mm", Verdict.FITS),
        ("3/16 in", Verdict.NEVER),
    ]


def test_a_thread_has_several_heads_and_a_tool_is_judged_under_each() -> None:
    under = {one.head.head: one.verdict for one in on_thread("13 mm", thread_named("M8"))}
    # ISO 4014 and EN 1665: 13 mm; EN 1662: 10 mm; small engines: 12 mm (common practice, no source).
    assert under["hex"] is under["hex flange"] is Verdict.FITS
    assert under["hex flange small"] is under["hex small"] is Verdict.NEVER
    assert "socket" not in under
    assert {one.head.head for one in on_thread("5 mm key", thread_named("M6"))} == {
        "socket",
        "button socket",
        "countersunk socket",
        "set screw",
    }
    assert on_thread("13 mm", thread_named("G1/4")) == ()


@pytest.mark.parametrize(
    ("tool", "verdict"),
    [
        # BS 1083: 0.438 to 0.445 in across the flats of 1/4 BSW, 11.13 to 11.30 mm.
        ("0.445 in", Verdict.FITS),
        ("7/16 in", Verdict.UNJUDGED),
        ("11 mm", Verdict.NOT_ON),
        ("12 mm", Verdict.NEVER),
        ("1/2 in", Verdict.NEVER),
        ("10 mm", Verdict.NOT_ON),
    ],
)
def test_on_a_whitworth_head_only_its_own_spanner_is_said_to_fit(tool: str, verdict: Verdict) -> None:
    heads = {one.head.head: one for one in on_thread(tool, thread_named("1/4 BSW"))}
    assert (heads["hex"].verdict, heads["hex"].fit) == (verdict, None)


def test_what_comes_near_an_old_whitworth_head_without_limits_is_not_judged() -> None:
    heads = {one.head.head: one.verdict for one in on_thread("28 mm", thread_named("5/8 BSW"))}
    assert heads["hex old Whitworth"] is Verdict.UNJUDGED


@pytest.mark.parametrize(
    ("measured_mm", "heads"), [(12.85, ["13 mm"]), (12.55, ["1/2 in"]), (18.8, ["19 mm", "3/4 in"]), (13.4, [])]
)
def test_a_measured_head_is_called_by_the_names_it_may_have(measured_mm: float, heads: list[str]) -> None:
    named = [head.name for head in heads_measuring(measured_mm) if "/" in head.name or head.name.endswith("mm")]
    assert named == heads


@pytest.mark.parametrize(
    ("ask", "said"),
    [
        ("12.85 mm", "No spanner is called 12.85 mm. A head that measures so much is 13 mm (12.73 to 13.00 mm)."),
        ("13.5 mm", "No spanner is called 13.5 mm. The nearest are 13 mm and 14 mm."),
        ("2 mm", "No spanner is called 2 mm: they begin at 3.2 mm. For a hexagon key write 2 mm key."),
        ("5000 mm", "No spanner is called 5000 mm. Is the unit right?"),
        ("0.445 in", "No table here has the limits of a spanner for 0.445 in: it is marked with its thread."),
    ],
)
def test_a_width_that_no_spanner_has_is_answered_with_what_there_is(ask: str, said: str) -> None:
    with pytest.raises(NoSuchWidth) as refused:
        jaw_width(ask)
    assert str(refused.value) == said


@pytest.mark.parametrize("wrong", ["", "0", "-13", "nan", "abc", "13 kg", "1/0", "13 °C", "T30", "1,2,3 mm"])
def test_what_is_no_width_is_refused_with_a_sentence(wrong: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        width_named(wrong)
    assert str(refused.value).endswith(".")
    assert "68.02" not in str(refused.value), "an example that is no width"


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("13", "13 mm"),
        ("13,0", "13 mm"),
        ("13mm", "13 mm"),
        ("1/2", "1/2 in"),
        ('1/2"', "1/2 in"),
        ("1 1/8", "1 1/8 in"),
    ],
)
def test_a_width_is_understood_as_it_is_written_at_the_bench(typed: str, name: str) -> None:
    assert width_named(typed)[0] == name
