"""What the grade of an oil says: SAE J300 for engine oil, ISO 3448 for gear and hydraulic oil."""

import re
from dataclasses import dataclass

from fingertight.setting.tables import about, rows

EDITIONS = {"2015": "sae-j300-2015.csv", "1999": "sae-j300-1999.csv"}
LIGHT = ("0W", "5W", "10W")
_SAE = re.compile(r"(?:SAE)?([0-9]{1,2})(?:W-?([0-9]{1,2})|(W))?\Z")
_VG = re.compile(r"(?:ISO)?VG([0-9]{1,4})\Z")


@dataclass(frozen=True, slots=True)
class Grade:
    """One grade of SAE J300: viscosity at 100 °C [mm²/s], `below` not included; winter grades: at most so thick when
    cranked at a temperature [mPa·s, °C]; how thick at least at 150 °C under high shear [mPa·s], and how thick behind a
    light winter grade (0W, 5W, 10W) where that is less. None: not asked."""

    name: str
    least_100c: float
    below_100c: float | None
    high_shear: float | None
    cranking: float | None
    cranking_c: float | None
    pumping: float | None
    pumping_c: float | None
    high_shear_light: float | None = None

    def sheared(self, winter: str) -> float | None:
        """How thick at least at 150 °C under high shear, behind this winter grade [mPa·s].

        >>> sae("40").sheared("10W"), sae("40").sheared("")
        (3.5, 3.7)
        """
        light = self.high_shear_light is not None and winter in LIGHT
        return self.high_shear_light if light else self.high_shear


def sae(name: str, edition: str = "2015") -> Grade | None:
    """The grade of this name in an edition of SAE J300; None where it has none.

    >>> sae("20").least_100c, sae("20", "1999").least_100c, sae("16", "1999")
    (6.9, 5.6, None)

    Source: SAE J300, as its tables say. Raises KeyError for an edition there is not.
    """
    for row in rows(EDITIONS[edition]):
        if row["grade"] == name:
            figures = [float(row[column]) if row[column] else None for column in row if column != "grade"]
            cranking, cranking_c, pumping, pumping_c, least, below, shear, light = figures
            return Grade(name, least or 0.0, below, shear, cranking, cranking_c, pumping, pumping_c, light)
    return None


def iso_vg(number: str) -> tuple[float, float] | None:
    """Between which viscosities at 40 °C lies this class of ISO 3448 [mm²/s]?

    >>> iso_vg("46")
    (41.4, 50.6)
    """
    return next(
        ((float(row["least"]), float(row["most"])) for row in rows("iso-3448.csv") if row["grade"] == number), None
    )


@dataclass(frozen=True, slots=True)
class Oil:
    """An oil by its name: winter and summer grade of SAE, or a class of ISO; "" where it has none."""

    winter: str = ""
    summer: str = ""
    vg: str = ""


def oil_named(said: str) -> Oil | None:
    """What is meant by the name on a can?

    >>> oil_named("SAE 10W-40"), oil_named("sae 30"), oil_named("ISO VG 46")
    (Oil(winter='10W', summer='40', vg=''), Oil(winter='', summer='30', vg=''), Oil(winter='', summer='', vg='46'))
    """
    bare = re.sub(r"[\s/]", "", said).upper().replace("–", "-")
    if found := _VG.match(bare):
        return Oil(vg=found.group(1))
    if found := _SAE.match(bare):
        first, hot, winter = found.groups()
        if winter:
            return Oil(winter=f"{first}W")
        return Oil(winter=f"{first}W", summer=hot) if hot else Oil(summer=first)
    return None


def edition_of(edition: str) -> str:
    """When an edition of SAE J300 was published.

    >>> edition_of("1999")
    'December 1999'
    """
    return about(EDITIONS[edition])["edition"]
