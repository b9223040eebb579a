"""Whether a gauge is fit for a limit: its share of the tolerance, classes of part it tells apart, wrong verdicts."""

from enum import StrEnum

from fingertight.measure.verdict import chance_good, risks

GOOD_UP_TO, MAY_DO_UP_TO = 0.10, 0.30
CLASSES_WANTED = 5


class Fit(StrEnum):
    """Whether the gauge will do."""

    GOOD = "good"
    MAY_DO = "may do"
    NOT = "not fit"


def fit(share: float) -> Fit:
    """Is a gauge fit that takes up this share, 0 to 1 and more, of the tolerance or of all that varies?

    >>> fit(0.08).value, fit(0.3).value, fit(0.31).value
    ('good', 'may do', 'not fit')

    Source: AIAG Measurement Systems Analysis, 4th ed., chapter II, section D: under 10 %, 10 to 30 %, over 30 %.
    """
    grain = 1e-12
    if share <= GOOD_UP_TO + grain:
        return Fit.GOOD
    return Fit.MAY_DO if share <= MAY_DO_UP_TO + grain else Fit.NOT


def share_of_tolerance(gauge: float, tolerance: float) -> float:
    """Which share of the tolerance do gauge and hands take up? 6 · gauge / tolerance.

    gauge: standard deviation of a reading; tolerance: from the smallest size allowed to the largest; both in one unit.

    >>> round(share_of_tolerance(0.004, 0.1), 2)
    0.24

    Source: AIAG Measurement Systems Analysis, 4th ed., chapter III, section B (six standard deviations).
    Raises ValueError for no tolerance.
    """
    if tolerance <= 0:
        raise ValueError("a tolerance has a width")
    return 6 * gauge / tolerance


def classes(part: float, gauge: float) -> int | None:
    """How many classes of part can the gauge tell apart? 1.41 · part / gauge, cut down to a whole number, 1 at least.

    part, gauge: standard deviations in one unit. None where the gauge does not scatter at all. 5 are wanted.

    >>> classes(1.10456, 0.30575), classes(0.0, 0.1)
    (5, 1)

    Source: AIAG Measurement Systems Analysis, 4th ed., chapter III, section B (number of distinct categories).
    """
    return max(int(1.41 * part / gauge), 1) if gauge > 0 else None


def wrong_verdicts(
    mean: float, part: float, gauge: float, smallest: float | None, largest: float | None
) -> float | None:
    """How likely is it that one reading of anybody judges a part wrongly, good for worn or worn for good? 0 to 1.

    Parts are spread normally as those that were studied, about their mean with their standard deviation; where there
    was one part only (part 0) it is that one, its size the mean of all readings. gauge: standard deviation of a reading
    by anybody; all in one unit. None where nothing scatters, or there is no limit.

    >>> round(wrong_verdicts(68.160, 0.0, 0.004, None, 68.165), 3)
    0.106

    Source: JCGM 106:2012, 9.5 (producer's and consumer's risk together), and 7.4 for one part.
    """
    if gauge <= 0 or (smallest is None and largest is None):
        return None
    if part > 1e-6 * gauge:
        over = risks(largest, (mean, part), gauge, smallest=smallest)
        return over.passed_though_worn + over.refused_though_good
    inside = chance_good(mean, smallest, largest, gauge)
    good = (smallest is None or mean >= smallest) and (largest is None or mean <= largest)
    return 1 - inside if good else inside
