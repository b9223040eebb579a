"""The adjusting screw of a rocker: how far it is turned for a gap at the valve."""


def turn_deg(change_mm: float, pitch_mm: float, ratio: float = 1.0) -> float:
    """How far is the screw turned to change the gap by so much? 360° · change / (pitch · ratio).

    change_mm: of the gap at the valve [mm], minus: smaller. pitch_mm: of the screw’s thread [mm], above 0. ratio: how
    far the valve’s end of the rocker goes for the screw’s end; 1 where the screw itself bears on the valve. Returns
    degrees, minus: the screw is turned in where that closes the gap.

    >>> round(turn_deg(0.05, 0.75), 1), round(turn_deg(0.05, 0.75, 1.5), 1)
    (24.0, 16.0)

    Source: the pitch of a thread is how far it goes in one turn; checked against a workshop page on adjusters with 26
    threads to the inch. Raises ValueError for a pitch or a ratio that is none.
    """
    if not (pitch_mm > 0 and ratio > 0):
        raise ValueError("pitch and ratio are above 0")
    return 360 * change_mm / (pitch_mm * ratio)


def change_mm(turned_deg: float, pitch_mm: float, ratio: float = 1.0) -> float:
    """How much does the gap change when the screw is turned so far [mm]?

    >>> change_mm(90, 1.0)
    0.25

    Source: as `turn_deg`.
    """
    return turned_deg / 360 * pitch_mm * ratio
