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

UNTHREADED = ("circlip", "press fit", "taper", "clip", "plug-in")
COUNTED_KINDS = ("circlip", "clip")


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
        return self.name or self.id.replace("-", " ").capitalize()


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


class Instrument(_Named):
    """What sizes are measured with."""

    resolution: Positive = Field(description="smallest step that can be read")
    error: NotNegative = Field(0.0, description="largest error allowed (limits, taken as rectangular)")
    count: Count = Field(1, description="how many the workshop has")
    unit: UnitName = Field("mm", description="unit of resolution and error")


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


class Sign(_Named):
    """A sign-off: the instructor looked and signed."""

    stage: Literal["strip", "rebuild"] = Field(description="strip or rebuild")
    before: tuple[Id, ...] = Field(description="may not go on (strip: come off) until it is signed", min_length=1)


class Anatomy(_Said):
    """What a machine is made of, what holds it together and what stands in whose way (format 1)."""

    format: Literal[1] = Field(description="the format of this file: 1")
    machine: MachineTable = Field(description="the machine as a whole")
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
