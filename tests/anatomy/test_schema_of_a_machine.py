"""The JSON Schema of a machine file has the same keys and shapes as the reader, for it is made from the same model."""

import tomllib
from typing import Any

import jsonschema
import pytest

from fingertight.anatomy import anatomy_schema, read
from fingertight.anatomy.schema import TABLES, keys_of
from fingertight.quantity import UNITS
from tests.anatomy.hand_pump import HAND_PUMP, with_this

# The example of the description of the format, as it stands there. It names parts that it does not list.
EXAMPLE = """\
format = 1

[machine]
name   = "Garden pump engine, 163 cm³"
about  = "Single cylinder, four-stroke, air-cooled, overhead valves, pull start"
source = "Invented for the examples"        # where the figures below come from
rests  = ["upright", "cover up"]            # ways it can lie on the bench; the first is how it starts

[[instrument]]
id = "bore-gauge"
name = "Bore gauge, 0.01 mm dial"
resolution = 0.01      # smallest step that can be read
error = 0.005          # largest error its maker or calibration allows (limits, taken as rectangular)
count = 1              # how many the workshop has

[[part]]
id = "crankcase"
name = "Crankcase"
stays = true           # never comes off; others are fixed to it

[[part]]
id = "side-cover"
name = "Side cover"
behind = ["exhaust", "guard"]      # all of these come off before it, and go on after it
rests = "cover up"                 # how the machine must lie for it
minutes = 6                        # usual time to take off; minutes_on to fit (default the same)
tools = ["soft mallet"]            # beyond the spanners, which follow from the fasteners
care = "Face up on cloth"
fit = "Oil the seal lip; finger-tight all round before the first pass"
cautions = ["Do not lever between the machined faces"]
with = [{ name = "dowel", count = 2 }, { name = "side cover gasket", single_use = true }]
ask = [{ question = "Both dowels in?", answers = ["yes", "no"], right = "yes" }]

  [[part.held_by]]
  thread = "M6"        # ISO or inch designation: "M6", "M6x0.75", "1/4-20 UNC"
  length = 28
  head = "hex flange"
  grade = "8.8"
  count = 6
  at = [[-75, 60], [0, 74], [75, 60], [75, -60], [0, -74], [-75, -60]]
  torque = 10.0
  pattern = "across"   # "across" | "around" | "given" (then: order = [1, 3, …])
  passes = [0.4, 0.7, 1.0]

[[part]]
id = "follower"
name = "Cam follower"
places = ["inlet", "exhaust"]      # two pieces, each goes back to its own place
behind = ["camshaft"]
care = "Apart, in their own bags; faces must not touch"

[[part]]
id = "piston"
name = "Piston and rod"
ways = [["head", "rod-cap"], ["crankshaft"]]   # more than one way out: one whole set must be off

[[check]]
id = "bore"
name = "Cylinder bore"
part = "crankcase"                 # measured on this part …
bare = ["piston"]                  # … once these are off
of = "inside diameter"
at = ["top", "middle", "bottom"]
across = ["along the crank", "across the crank"]
instrument = "bore-gauge"
new = [68.000, 68.015]
max = 68.165                       # past this it is worn out (min for things that shrink)
out_of_round_max = 0.05
taper_max = 0.05

[[check]]
id = "piston-clearance"
name = "Piston clearance"
gap = { outer = "bore", inner = "piston-skirt" }   # largest outer less smallest inner
max = 0.12

[[setting]]
id = "lash-inlet"
name = "Inlet valve lash"
after = ["rockers"]                # these are on
before = ["rocker-cover"]          # these are not yet on
range = [0.13, 0.17]
instrument = "feeler"
how = "Cold, piston at top dead centre on the firing stroke"

[[sign]]
id = "timing"
name = "Timing marks in line"
stage = "rebuild"                  # "strip" | "rebuild"
before = ["side-cover"]            # nothing here may go on (strip: come off) until it is signed
"""


def is_valid(text: str) -> bool:
    checker = jsonschema.Draft202012Validator(anatomy_schema())
    return checker.is_valid(tomllib.loads(text))


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(anatomy_schema())


@pytest.mark.parametrize("text", [EXAMPLE, HAND_PUMP], ids=["the example of the format", "hand pump"])
def test_a_right_file_is_valid(text: str) -> None:
    assert is_valid(text)


def test_the_example_of_the_format_has_no_mistake_but_the_parts_it_does_not_list() -> None:
    found = {one.code for one in read(EXAMPLE).mistakes}
    assert found == {"unknown-part", "unknown-check", "unknown-instrument"}


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("format = 1", "format = 2"),
        ("minutes = 6", 'minutes = "6"'),
        ("minutes = 6", "minuts = 6"),
        ("count = 2", "count = 0"),
        ("stays = true", "stays = 1"),
        ('stage = "rebuild"', 'stage = "later"'),
        ("new = [40.0, 40.05]", "new = [40.0]"),
        ('id = "spring"', 'id = "Spring"'),
        ('unit = "°C"', 'unit = "Kelvin"'),
        ('name = "Hand pump"\n', ""),
        ("[machine]", "[[machine]]"),
    ],
)
def test_what_the_reader_refuses_for_its_shape_the_schema_refuses(right: str, wrong: str) -> None:
    text = with_this(right, wrong)
    assert not is_valid(text)
    assert read(text).mistakes


def test_every_key_says_what_it_means() -> None:
    schema: dict[str, Any] = anatomy_schema()
    tables = [schema, *schema["$defs"].values()]
    assert len(tables) == len(TABLES)
    for table in tables:
        assert table["additionalProperties"] is False
        assert all("description" in key for key in table["properties"].values()), table["title"]


def test_the_keys_of_a_part_are_those_of_the_file_not_of_the_program() -> None:
    assert {"with", "held_by", "behind"} <= set(keys_of(("part", 0)))
    assert {"part", "check", "sign"} <= set(keys_of(()))
    assert set(anatomy_schema()["$defs"]["Part"]["properties"]) == set(keys_of(("part", 0)))


def test_the_schema_lists_the_units_there_are() -> None:
    assert anatomy_schema()["$defs"]["Check"]["properties"]["unit"]["enum"] == list(UNITS)
