"""One small machine file, as a person writes it, and a way to spoil it."""

from fingertight.anatomy import read

HAND_PUMP = """\
format = 1                      # line 1

[machine]
name = "Hand pump"
rests = ["upright", "on its side"]

[[instrument]]
id = "caliper"
resolution = 0.02

[[instrument]]
id = "thermometer"
resolution = 1
unit = "°C"

[[part]]
id = "barrel"
stays = true

[[part]]
id = "cover"
rests = "on its side"
minutes = 6
with = [{ name = "gasket", single_use = true }]
ask = [{ question = "Lip inwards?", answers = ["yes", "no"], right = "yes" }]

  [[part.held_by]]
  thread = "M6"
  length = 28
  head = "hex"
  count = 4
  at = [[0, 0], [40, 0], [40, 40], [0, 40]]
  torque = 10
  pattern = "given"
  order = [1, 3, 2, 4]
  passes = [0.5, 1.0]

[[part]]
id = "piston"
behind = ["cover"]
ways = [["rod"], ["valve", "spring"]]

[[part]]
id = "rod"
behind = ["cover"]

[[part]]
id = "valve"
places = ["inlet", "outlet"]
fit_after = ["piston"]

[[part]]
id = "spring"
count = 2

[[check]]
id = "bore"
part = "barrel"
bare = ["piston"]
instrument = "caliper"
new = [40.0, 40.05]
max = 40.2

[[check]]
id = "skirt"
part = "piston"
instrument = "caliper"
min = 39.8

[[check]]
id = "clearance"
gap = { outer = "bore", inner = "skirt" }
max = 0.3

[[setting]]
id = "stroke"
after = ["rod"]
before = ["cover"]
range = [79.5, 80.5]

[[sign]]
id = "spring-seated"
stage = "rebuild"
before = ["cover"]
"""


def with_this(old: str, new: str) -> str:
    """The file with one passage written otherwise; the passage must be there once."""
    assert HAND_PUMP.count(old) == 1, f"{old!r} stands {HAND_PUMP.count(old)} times in the file"
    return HAND_PUMP.replace(old, new)


def mistakes_with(old: str, new: str) -> list[tuple[str, str, str]]:
    """What is said of the file with one passage written otherwise: place and code, text, mend. There is no anatomy."""
    reading = read(with_this(old, new))
    assert reading.anatomy is None
    return [(f"{one.line}:{one.column} {one.where} {one.code}", one.text, one.mend) for one in reading.mistakes]
