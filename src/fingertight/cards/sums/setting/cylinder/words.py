"""What the sums about the cylinder share: pressures, volumes and ratios as they are written."""

from fingertight.quantity import converted, plain

MORE_PRESSURE = (
    "Cranking with the plug out sprays fuel: fuel shut, spark lead earthed, no flame near, the gauge held so that it "
    "cannot blow out."
)


def pressure(bar: float, unit: str = "bar") -> str:
    """A pressure with the digits a gauge has.

    >>> pressure(10.234), pressure(10.234, "psi"), pressure(10.234, "kPa")
    ('10.2 bar', '148 psi', '1023 kPa')
    """
    decimals = 1 if unit == "bar" else 0
    return f"{plain(round(converted(bar, 'bar', unit), decimals) + 0.0)} {unit}"


def pressures(bar: float) -> str:
    """The same in the units gauges have.

    >>> pressures(10.234)
    '10.2 bar, 1023 kPa, 148 psi'
    """
    return ", ".join(pressure(bar, unit) for unit in ("bar", "kPa", "psi"))


def band(low_bar: float, high_bar: float, unit: str = "bar") -> str:
    """From one pressure to another.

    >>> band(9.96, 12.34)
    '10 to 12.3 bar'
    """
    return f"{pressure(low_bar, unit).removesuffix(f' {unit}')} to {pressure(high_bar, unit)}"


def ml(volume: float, decimals: int = 1) -> str:
    """A volume as a burette shows it.

    >>> ml(163.43), ml(21.5)
    ('163.4 ml', '21.5 ml')
    """
    return f"{plain(round(volume, decimals) + 0.0)} ml"


def mm(length: float, decimals: int = 2) -> str:
    """A length as a caliper shows it.

    >>> mm(0.3021), mm(68)
    ('0.3 mm', '68 mm')
    """
    return f"{plain(round(length, decimals) + 0.0)} mm"


def ratio(value: float, decimals: int = 2) -> str:
    """A compression ratio.

    >>> ratio(8.601)
    '8.6 : 1'
    """
    return f"{plain(round(value, decimals))} : 1"
