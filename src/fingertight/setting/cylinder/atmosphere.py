"""The standard atmosphere: the pressure of the air at an altitude."""

SEA_LEVEL_BAR = 1.01325
_LAPSE_K_M, _SEA_K, _EXPONENT, _EARTH_M = 0.0065, 288.15, 5.255876, 6_356_766.0
LOWEST_M, HIGHEST_M = -430.0, 6000.0
"""Where an engine may be cranked: from the shore of the lowest sea to above the highest roads."""


def pressure_bar(altitude_m: float) -> float:
    """The pressure of the standard atmosphere at this altitude [bar].

    p = 1.01325 · (1 − 0.0065 h / 288.15)^5.255876, h = r z / (r + z) for z metres above the sea, r the earth’s radius.

    >>> round(pressure_bar(0), 5), round(pressure_bar(1000), 4), round(pressure_bar(3048) / 0.0689476, 3)
    (1.01325, 0.8988, 10.108)

    The weather moves it by ± 3 % (common practice, no source). Source: ICAO Doc 7488, U.S. Standard Atmosphere 1976, up
    to 11 000 m; checked against their tables. Raises ValueError beyond the altitudes of roads.
    """
    if not LOWEST_M <= altitude_m <= HIGHEST_M:
        raise ValueError("nobody cranks an engine there")
    level_m = _EARTH_M * altitude_m / (_EARTH_M + altitude_m)
    return float(SEA_LEVEL_BAR * (1 - _LAPSE_K_M * level_m / _SEA_K) ** _EXPONENT)
