"""What an anatomy says, as frozen values: the one model behind the reader, the writer, the schema and every room above.

The shapes are pydantic's; what needs two places of the file to be seen wrong is in `rules/`.
Every key carries its meaning (`description`), so that docs and JSON Schema are made from here.
"""

from functools import cached_property
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StrictBool, StrictInt, StrictStr

from fingertight.quantity import UNITS, plain

Text = StrictStr
Name = Annotated[StrictStr, Field(min_length=1, max_length=200)]
Id = Annotated[StrictStr, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=80)]
Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Positive = Annotated[float, Field(strict=True, gt=0, allow_inf_nan=False)]
NotNegative = Annotated[float, Field(strict=True, ge=0, allow_inf_nan=False)]
Count = Annotated[StrictInt, Field(ge=1, le=10_000)]
UnitName = Annotated[StrictStr, Field(json_schema_extra={"enum": list(UNITS)})]
Pair = tuple[Number, Number]

Material = Literal["steel", "stainless steel", "cast iron", "aluminium", "brass", "bronze"]
SumName = Literal[
    "clearance", "shim", "runout", "bore", "feeler", "coil", "ring-gap", "tdc", "piston", "timing", "teeth",
    "rim", "compression", "cranking", "leakdown", "clutch", "ratio", "chain", "oil",
]  # fmt: skip
"""The sums that work a size or a setting out; the pages fill them in with what `engine` says."""

UNTHREADED = ("circlip", "press fit", "taper", "clip", "plug-in")
COUNTED_KINDS = ("circlip", "clip")


def title_of(name: str, said: str = "") -> str:
    """What people call a table: the name it says, else one made from its id.

    >>> title_of("spark-plug"), title_of("spark-plug", "Plug")
    ('Spark plug', 'Plug')
    """
    return said or name.replace("-", " ").capitalize()


class _Said(BaseModel):
    """A table of the file: no other keys than these, and nothing changes once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True, ignored_types=(cached_property,))


class _Named(_Said):
    """A table with an id of its own and a name for people."""

    id: Id = Field(description="short name for files: a-z, 0-9, -")
    name: Name = Field("", description="name for people (default: from id)", validate_default=False)

    @cached_property
    def title(self) -> str:
        """The name for people."""
        return title_of(self.id, self.name)


class Question(_Said):
    """Asked when the part is fitted."""

    question: Name = Field(description="what is asked")
    answers: tuple[Name, ...] = Field(description="the answers to choose from", min_length=2)
    right: Name = Field(description="the one right answer")


class SmallThing(_Said):
    """A small thing kept in the same bag as its part."""

    name: Name = Field(description="what it is called, also in counts")
    count: Count = Field(1, description="how many")
    single_use: StrictBool = Field(False, description="never refit: renew it")
    spare: Text = Field("", description="what to order instead")


class FastenerSet(_Said):
    """Like fasteners that hold one part, with their positions."""

    thread: Name | None = Field(None, description="ISO or inch designation: M6, M6x0.75, 1/4-20 UNC")
    kind: Literal["circlip", "press fit", "taper", "clip", "plug-in"] | None = Field(
        None, description="what has no thread"
    )
    length: Positive | None = Field(None, description="length under the head [mm]")
    grip: NotNegative | None = Field(None, description="what it clamps, from head to first thread [mm]")
    depth: Positive | None = Field(None, description="usable thread in its hole [mm]")
    into: Literal["steel", "cast iron", "aluminium"] | None = Field(None, description="what its thread is cut in")
    head: Name | None = Field(None, description="head style: hex, hex flange, socket, …")
    spanner: Name | None = Field(None, description="names the driver and overrides what follows from thread and head")
    grade: Text = Field("", description="property class or grade")
    count: Count | None = Field(None, description="how many (default: as many as positions, else 1)")
    at: tuple[Pair, ...] = Field((), description="positions x, y [mm]")
    torque: Positive | None = Field(None, description="full tightening torque [N·m]")
    torque_source: Text = Field("", description="where the torque comes from")
    surface: Literal["dry", "oiled", "thread lock"] | None = Field(None, description="state of the thread")
    pattern: Literal["across", "around", "given"] | None = Field(None, description="sequence in a round")
    order: tuple[StrictInt, ...] = Field((), description="positions from 1, for pattern given")
    passes: tuple[Positive, ...] = Field((1.0,), description="shares of the torque, a round each", min_length=1)
    left_hand: StrictBool = Field(False, description="left-hand thread")
    note: Text = Field("", description="a remark for the card")

    @cached_property
    def how_many(self) -> int:
        """How many fasteners there are in the set."""
        return self.count or len(self.at) or 1

    @cached_property
    def counted_as(self) -> str | None:
        """The name of one of these in counts (M6x28, circlip), or None for what is not counted."""
        if self.thread is None:
            return self.kind if self.kind in COUNTED_KINDS else None
        return f"{self.thread}x{plain(self.length)}" if self.length else self.thread


class Part(_Named):
    """What goes into one bag: the thing, its fasteners, its small things."""

    count: Count = Field(1, description="identical pieces, which move as one")
    places: tuple[Name, ...] = Field((), description="matched pieces, each goes back to its own place")
    stays: StrictBool = Field(False, description="never comes off")
    behind: tuple[Id, ...] = Field((), description="all of these must be off for it to come off")
    ways: tuple[tuple[Id, ...], ...] = Field((), description="besides behind: one of these sets must be wholly off")
    fit_after: tuple[Id, ...] = Field((), description="rebuild only: these must be on before it goes on")
    held_by: tuple[FastenerSet, ...] = Field((), description="fastener sets that hold it")
    with_: tuple[SmallThing, ...] = Field((), alias="with", description="small things kept in the same bag")
    single_use: StrictBool = Field(False, description="never refit: renew it")
    spare: Text = Field("", description="what to order instead")
    rests: Name | None = Field(None, description="how the machine lies for it; any: does not care")
    tools: tuple[Name, ...] = Field((), description="tools beyond the spanners")
    people: Count = Field(1, description="hands needed")
    minutes: NotNegative | None = Field(None, description="usual time to take it off [min]")
    minutes_on: NotNegative | None = Field(None, description="usual time to fit it [min] (default: the same)")
    record: tuple[Literal["photo", "wiring"], ...] = Field((), description="what must be noted before it comes off")
    care: Text = Field("", description="how it is kept while off")
    fit: Text = Field("", description="how it goes back")
    cautions: tuple[Name, ...] = Field((), description="what can hurt someone or the part")
    ask: tuple[Question, ...] = Field((), description="asked when it is fitted")
    material: Material | None = Field(None, description="what it is made of, for how it grows when warm")
    expansion: Positive | None = Field(None, description="how it grows, where known better [10⁻⁶ per °C]")

    @cached_property
    def bag_holds(self) -> dict[str, int]:
        """What can be counted in the bag of one piece: fasteners and small things, by their names in counts."""
        holds: dict[str, int] = {}
        for fasteners in self.held_by:
            if fasteners.counted_as:
                holds[fasteners.counted_as] = holds.get(fasteners.counted_as, 0) + fasteners.how_many * self.count
        for thing in self.with_:
            holds[thing.name] = holds.get(thing.name, 0) + thing.count * self.count
        return holds


class MachineTable(_Said):
    """The machine as a whole."""

    name: Name = Field(description="what the machine is called")
    about: Text = Field("", description="what kind of machine it is")
    source: Text = Field("", description="where the figures come from")
    rests: tuple[Name, ...] = Field((), description="ways it can lie on the bench; the first is how it starts")


class Engine(_Said):
    """What the settings of an engine are worked out from."""

    bore: Positive | None = Field(None, description="cylinder bore [mm]")
    stroke: Positive | None = Field(None, description="stroke of the piston [mm]")
    rod: Positive | None = Field(None, description="length of the rod, pin to pin [mm]")
    chamber: Positive | None = Field(None, description="all the room above the piston at top dead centre [ml]")
    strokes: Literal[2, 4] = Field(4, description="strokes of one working cycle")
    flywheel: Positive | None = Field(None, description="outside diameter of the flywheel [mm]")
    crank_teeth: Count | None = Field(None, description="teeth of the wheel on the crank that drives the camshaft")
    cam_teeth: Count | None = Field(None, description="teeth of the wheel on the camshaft")
    at_lift: NotNegative = Field(0.0, description="lift of the valve at which its events are stated [mm]")
    inlet: Pair | None = Field(None, description="inlet opens before top, closes after bottom dead centre [deg]")
    exhaust: Pair | None = Field(None, description="exhaust opens before bottom, closes after top dead centre [deg]")
    drive: tuple[tuple[Count, Count], ...] = Field((), description="driving and driven teeth, a pair for each stage")


class Instrument(_Named):
    """What sizes are measured with."""

    resolution: Positive = Field(description="smallest step that can be read")
    error: NotNegative = Field(0.0, description="largest error allowed (limits, taken as rectangular)")
    count: Count = Field(1, description="how many the workshop has")
    unit: UnitName = Field("mm", description="unit of resolution and error")
    kind: Literal["vernier", "micrometer", "dial", "bore gauge", "feeler", "rule"] | None = Field(
        None, description="what kind it is, for its picture and its usual slips"
    )
    range: Pair | None = Field(None, description="smallest and largest it can show")
    leaves: tuple[Positive, ...] = Field((), description="thickness of each leaf, for feelers")
    material: Material = Field("steel", description="what it is made of, for how it grows when warm")


class Gap(_Said):
    """A gap between two measured sizes."""

    outer: Id = Field(description="check of the outer size; its largest counts")
    inner: Id = Field(description="check of the inner size; its smallest counts")


class Check(_Named):
    """A size to be measured."""

    part: Id | None = Field(None, description="measured on this part")
    bare: tuple[Id, ...] = Field((), description="once these are off")
    of: Text = Field("", description="what is measured, in words")
    at: tuple[Name, ...] = Field((), description="heights or places")
    across: tuple[Name, ...] = Field((), description="directions")
    instrument: Id | None = Field(None, description="what it is measured with")
    unit: UnitName = Field("mm", description="unit of the limits and readings")
    new: Pair | None = Field(None, description="smallest and largest when new")
    max: Number | None = Field(None, description="past this it is worn out")
    min: Number | None = Field(None, description="below this it is worn out")
    out_of_round_max: Positive | None = Field(None, description="at one height, largest less smallest")
    taper_max: Positive | None = Field(None, description="in one direction, largest less smallest")
    gap: Gap | None = Field(None, description="instead of readings: largest outer less smallest inner")
    repeat: Count | None = Field(None, description="how often each spot is read; then the mean counts")
    shape: Literal["bore", "shaft", "face", "length", "ring", "float"] | None = Field(
        None, description="what is drawn to show where the instrument goes"
    )
    shims: tuple[Positive, ...] = Field((), description="shims there are, one of which brings it back to new")
    sum: SumName | None = Field(None, description="the sum that works it out")


class Setting(_Named):
    """Something adjusted: lash, gap, oil level; a range, or a question with one right answer."""

    after: tuple[Id, ...] = Field((), description="these are on")
    before: tuple[Id, ...] = Field((), description="these are not yet on")
    range: Pair | None = Field(None, description="smallest and largest allowed")
    unit: UnitName = Field("mm", description="unit of the range")
    instrument: Id | None = Field(None, description="what it is set with")
    how: Text = Field("", description="how it is done")
    question: Text = Field("", description="instead of a range: what is asked")
    answers: tuple[Name, ...] = Field((), description="the answers to choose from")
    right: Text = Field("", description="the one right answer")
    sum: SumName | None = Field(None, description="the sum that works it out")


class Sign(_Named):
    """A sign-off: the instructor looked and signed."""

    stage: Literal["strip", "rebuild"] = Field(description="strip or rebuild")
    before: tuple[Id, ...] = Field(description="may not go on (strip: come off) until it is signed", min_length=1)


class Anatomy(_Said):
    """What a machine is made of, what holds it together and what stands in whose way (format 1)."""

    format: Literal[1] = Field(description="the format of this file: 1")
    machine: MachineTable = Field(description="the machine as a whole")
    engine: Engine | None = Field(None, description="what the settings of an engine are worked out from")
    instruments: tuple[Instrument, ...] = Field((), alias="instrument", description="what sizes are measured with")
    parts: tuple[Part, ...] = Field(alias="part", description="a part is what goes into one bag", min_length=1)
    checks: tuple[Check, ...] = Field((), alias="check", description="sizes to be measured")
    settings: tuple[Setting, ...] = Field((), alias="setting", description="what is adjusted")
    signs: tuple[Sign, ...] = Field((), alias="sign", description="what the instructor signs off")

    @cached_property
    def part_by_id(self) -> dict[str, Part]:
        """Each part under its id."""
        return {part.id: part for part in self.parts}

    @cached_property
    def check_by_id(self) -> dict[str, Check]:
        """Each check under its id."""
        return {check.id: check for check in self.checks}

    @cached_property
    def setting_by_id(self) -> dict[str, Setting]:
        """Each setting under its id."""
        return {setting.id: setting for setting in self.settings}

    @cached_property
    def sign_by_id(self) -> dict[str, Sign]:
        """Each sign-off under its id."""
        return {sign.id: sign for sign in self.signs}

    @cached_property
    def instrument_by_id(self) -> dict[str, Instrument]:
        """Each instrument under its id."""
        return {instrument.id: instrument for instrument in self.instruments}
