"""Good, worn, too close to call; round and straight: the sums alone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingertight.measure.shape import out_of_round, taper
from fingertight.measure.verdict import Word, judged, sternest


@pytest.mark.parametrize(
    ("value", "word"),
    [(68.157, "good"), (68.158, "too close to call"), (68.173, "too close to call"), (68.174, "worn")],
)
def test_a_bore_near_its_limit_is_called_only_beyond_the_uncertainty(value: float, word: str) -> None:
    verdict = judged(value, None, 68.165, 0.008)
    assert verdict.word.value == word
    assert verdict.margin == pytest.approx(68.165 - value)
    assert verdict.uncertainty == 0.008


def test_without_uncertainty_a_size_on_its_limit_is_good_and_beyond_it_worn() -> None:
    assert judged(68.165, None, 68.165).word is Word.GOOD
    assert judged(68.166, None, 68.165).word is Word.WORN
    assert judged(67.9, 67.9, None).word is Word.GOOD
    assert judged(67.899, 67.9, None).word is Word.WORN


def test_a_remainder_of_subtraction_is_no_wear() -> None:
    assert 0.3 - 0.1 > 0.2 - 1e-16
    assert judged(68.17 - 68.05, None, 0.12).word is Word.GOOD


def test_of_two_limits_the_nearer_one_counts() -> None:
    verdict = judged(9.0, 8.5, 12.0)
    assert verdict.margin == pytest.approx(0.5)


def test_there_is_no_verdict_without_a_limit() -> None:
    with pytest.raises(ValueError, match="no limit"):
        judged(1.0, None, None)


@given(st.floats(-1e3, 1e3), st.floats(0, 10), st.floats(-1e3, 1e3))
def test_more_uncertainty_never_makes_a_verdict_surer(value: float, uncertainty: float, limit: float) -> None:
    sure, unsure = judged(value, None, limit), judged(value, None, limit, uncertainty)
    assert unsure.word in (sure.word, Word.CLOSE)


@given(st.lists(st.tuples(st.floats(-10, 10), st.floats(0, 3)), min_size=1))
def test_of_several_verdicts_the_sternest_is_worn_before_close_before_good(sizes: list[tuple[float, float]]) -> None:
    verdicts = [judged(value, None, 0.0, uncertainty) for value, uncertainty in sizes]
    words = {verdict.word for verdict in verdicts}
    expected = next(word for word in (Word.WORN, Word.CLOSE, Word.GOOD) if word in words)
    assert sternest(verdicts).word is expected


BORE = [
    ("top", "along", 68.052), ("top", "across", 68.071),
    ("middle", "along", 68.040), ("middle", "across", 68.055),
    ("bottom", "along", 68.020), ("bottom", "across", 68.022),
]  # fmt: skip


def test_out_of_round_is_at_one_height_and_taper_in_one_direction() -> None:
    # By hand: top 0.019, middle 0.015, bottom 0.002; along 0.032, across 0.049.
    assert out_of_round(BORE) == pytest.approx(0.019)
    assert taper(BORE) == pytest.approx(0.049)


def test_one_direction_says_nothing_of_round_and_one_height_nothing_of_straight() -> None:
    assert out_of_round([("top", "along", 1.0), ("bottom", "along", 2.0)]) is None
    assert taper([("top", "along", 1.0), ("top", "across", 2.0)]) is None
    assert out_of_round([]) is None


def test_repeats_of_one_spot_count_with_their_mean_and_say_nothing_of_shape_alone() -> None:
    assert out_of_round([("top", "along", 68.00), ("top", "along", 68.10)]) is None
    repeated = [("top", "along", 68.00), ("top", "along", 68.02), ("top", "across", 68.05)]
    assert out_of_round(repeated) == pytest.approx(0.04)
