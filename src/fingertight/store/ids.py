"""The id of an entry made here: for a form sent without scripts, where no device could make it."""

from uuid import UUID


def uuid7(unix_ms: int, random: bytes) -> str:
    """Which id does an entry made at this moment [ms since 1970] get, with these ten random bytes?

    UUID version 7: 48 bits of time, then 74 random bits, so that ids sort by when they were made.

    >>> uuid7(0x017F22E279B0, bytes.fromhex("7CC398C4DC0C0C07398F"))
    '017f22e2-79b0-7cc3-98c4-dc0c0c07398f'

    Raises ValueError when the time does not fit 48 bits or there are not ten bytes.
    Source: RFC 9562 (May 2024), section 5.7; the example is its appendix A.6.
    """
    if not 0 <= unix_ms < 1 << 48:
        raise ValueError(f"{unix_ms} ms does not fit the 48 bits of time in an id.")
    if len(random) != 10:
        raise ValueError(f"An id needs 10 random bytes, not {len(random)}.")
    version, variant = 0x70 | random[0] & 0x0F, 0x80 | random[2] & 0x3F
    return str(UUID(bytes=unix_ms.to_bytes(6) + bytes([version, random[1], variant]) + random[3:]))
