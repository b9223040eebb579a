"""Ids made here sort by time and are version 7 by RFC 9562."""

from uuid import UUID

import pytest

from fingertight.store.ids import uuid7

# RFC 9562 (May 2024), appendix A.6: unix_ts_ms 0x017F22E279B0, ver 7, rand_a 0xCC3, var 0b10,
# rand_b 0b01, 0x8C4DC0C0C07398F.
APPENDIX_A6_MS = 0x017F22E279B0
APPENDIX_A6 = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


@pytest.mark.parametrize("spoilt_bits", ["0CC318C4DC0C0C07398F", "FCC3D8C4DC0C0C07398F", "7CC398C4DC0C0C07398F"])
def test_the_example_of_the_standard_comes_out_whatever_stood_at_version_and_variant(spoilt_bits: str) -> None:
    assert uuid7(APPENDIX_A6_MS, bytes.fromhex(spoilt_bits)) == APPENDIX_A6


@pytest.mark.parametrize("random", [bytes(10), b"\xff" * 10])
def test_version_variant_and_time_can_be_read_back(random: bytes) -> None:
    made = UUID(uuid7(1_772_697_600_123, random))
    assert (made.version, made.variant) == (7, "specified in RFC 4122")
    assert made.int >> 80 == 1_772_697_600_123


def test_ids_sort_by_when_they_were_made() -> None:
    ids = [uuid7(ms, b"\xff" * 10) for ms in (0, 1, 999, 1_772_697_600_000, (1 << 48) - 1)]
    assert ids == sorted(ids)


@pytest.mark.parametrize(("unix_ms", "random"), [(-1, bytes(10)), (1 << 48, bytes(10)), (0, bytes(9)), (0, bytes(11))])
def test_what_does_not_fit_an_id_is_refused(unix_ms: int, random: bytes) -> None:
    with pytest.raises(ValueError, match=r"48 bits|10 random bytes"):
        uuid7(unix_ms, random)
