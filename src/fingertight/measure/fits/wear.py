"""How much wear a general rule allows where the maker gives no limit."""

JOURNAL_ROUND_PER_DIAMETER = 0.0004
END_PLAY_OVER_MM = 0.127
"""0.005 in over the high limit of new."""
GENERAL_RULE = "US Army TM 10-3930-647-14&P, general wear limits for engine parts"


def wear_by_length(per_length: float, length: float) -> float:
    """How much may a size be out where a rule allows so much for each length? per_length · length.

    per_length: the share, the same in inch per inch as in mm per mm: `JOURNAL_ROUND_PER_DIAMETER` of a journal's
    diameter; the same rule has 0.0005 of the piston's travel for taper. length, returned: [one unit].

    >>> round(wear_by_length(JOURNAL_ROUND_PER_DIAMETER, 30.0), 4), round(wear_by_length(0.0005, 54.0), 4)
    (0.012, 0.027)

    It is a rule for large engines in general; the maker's limit comes first. Source: `GENERAL_RULE`.
    Raises ValueError for a length that is not more than 0.
    """
    if length <= 0:
        raise ValueError("a length is more than 0")
    return per_length * length


def most_end_play(new: tuple[float, float], over: float) -> float:
    """Which end play is the most allowed where so much over the high limit of new may be used up? [one unit]

    >>> round(most_end_play((0.003, 0.005), 0.005), 4)
    0.01

    Range and source: as `wear_by_length`. Raises ValueError where new is turned round.
    """
    if new[0] > new[1]:
        raise ValueError("new runs from the smaller to the larger")
    return new[1] + over
