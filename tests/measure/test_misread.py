"""A misreading is told by the slip that explains it."""

import pytest

from fingertight.measure.scales.kinds import KINDS
from fingertight.measure.scales.misread import Misread, setting_for, told


@pytest.mark.parametrize(
    ("name", "set_to", "read", "slip"),
    [
        ("micrometer-0.01", 17.88, 17.38, Misread.TURN),
        ("micrometer-0.01", 17.88, 17.87, Misread.LINE),
        ("micrometer-0.001", 17.386, 17.38, Misread.TENTH),
        ("vernier-0.02", 34.62, 34.31, Misread.VERNIER),
        ("vernier-0.02", 34.62, 33.62, Misread.MARK),
        ("dial-0.01", 2.34, 1.34, Misread.TURN),
        ("bore-gauge-0.01", 0.06, -0.06, Misread.SIGN),
        ("vernier-0.05", 34.65, 3.465, Misread.TENFOLD),
        ("vernier-inch", 2.437, 61.8998, Misread.UNIT),
        ("dial-0.01", 2.34, 2.43, Misread.TURNED),
        ("dial-0.01", 2.34, 2.34, Misread.NONE),
        ("dial-0.01", 2.34, 7.81, Misread.FAR),
    ],
)
def test_a_misreading_is_told_by_its_slip(name: str, set_to: float, read: float, slip: Misread) -> None:
    assert told(read, set_to, KINDS[name]).slip is slip


@pytest.mark.parametrize("name", KINDS)
def test_a_setting_follows_from_its_seed_and_stands_on_a_step(name: str) -> None:
    scales = KINDS[name]
    settings = [setting_for(seed, scales) for seed in range(200)]
    assert settings == [setting_for(seed, scales) for seed in range(200)]
    assert len(set(settings)) > 30
    for set_to in settings:
        assert scales.range[0] <= set_to <= scales.range[1]
        assert abs(set_to / scales.step - round(set_to / scales.step)) < 1e-6
        assert told(set_to, set_to, scales).slip is Misread.NONE
