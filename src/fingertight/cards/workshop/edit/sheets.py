"""The forms of a machine, as data: which keys of which table stand on one page, in which group, under which label."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from pydantic import BaseModel

from fingertight.anatomy import model
from fingertight.cards.workshop.edit.fields import Field


@dataclass(frozen=True, slots=True)
class Group:
    """Boxes that belong together; the first group of a form is open, the others open when they are tapped."""

    title: str
    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One form. shape: the table of the model it fills; one: what a person calls one of these; add: the button."""

    shape: type[BaseModel]
    one: str
    add: str
    groups: tuple[Group, ...]

    @property
    def fields(self) -> tuple[Field, ...]:
        """All its boxes in their order."""
        return tuple(field for group in self.groups for field in group.fields)


_NAME = Field("name", "What it is called", must=True)
PART = Sheet(
    model.Part,
    "part",
    "Add a part",
    (
        Group("What must come off before it?", (Field("behind", "Off before it", "ticks", offers="parts"),)),
        Group(
            "About it",
            (
                _NAME,
                Field("stays", "It never comes off", "tick"),
                Field("minutes", "Usual minutes to take it off", "number", most=600),
                Field("tools", "Tools beyond the spanners, commas between", "commas"),
                Field("cautions", "What can hurt somebody or the part, a line each", "lines"),
                Field("care", "How it is kept while off"),
                Field("fit", "How it goes back"),
            ),
        ),
    ),
)
MORE = Sheet(
    model.Part,
    "part",
    "",
    (
        Group(
            "At the bench",
            (
                Field("rests", "How the machine lies for it", "choice", offers="rests"),
                Field("people", "Hands needed", "whole", "people, when one is not enough"),
                Field("minutes_on", "Usual minutes to fit it", "number", "when that takes longer or shorter", most=600),
                Field("record", "To be noted before it comes off", "ticks"),
            ),
        ),
        Group("On before it goes back on", (Field("fit_after", "Must be on first", "ticks", offers="parts"),)),
        Group(
            "How many there are",
            (
                Field("count", "How many alike, moved together", "whole"),
                Field("places", "Or matched pieces: the place of each, a line each", "lines"),
            ),
        ),
        Group(
            "Renewed, and what it is made of",
            (
                Field("single_use", "Never refit it: a new one each time", "tick"),
                Field("spare", "What to order instead"),
                Field("material", "Made of", "choice", "for how it grows when warm"),
                Field("expansion", "How it grows, 10⁻⁶ per °C", "number", "where it is known better"),
            ),
        ),
    ),
)
FASTENERS = Sheet(
    model.FastenerSet,
    "set of fasteners",
    "Add fasteners",
    (
        Group(
            "What they are",
            (
                Field("thread", "Size of the thread", about="as in M6, M6x0.75, 1/4-20 UNC"),
                Field("kind", "Or held without one", "choice", "a circlip, a press fit"),
                Field("length", "Length, mm", "number", "under the head"),
                Field("count", "How many", "whole"),
                Field("head", "Head", "choice", offers="heads"),
            ),
        ),
        Group(
            "How tight",
            (
                Field("torque", "Torque, N·m", "number"),
                Field("torque_source", "Where the torque comes from"),
                Field("surface", "Fitted", "choice"),
                Field(
                    "pattern",
                    "Turn by turn",
                    "choice",
                    words={
                        "across": "across: the next one lies opposite",
                        "around": "around: one after the other",
                        "given": "in an order of its own",
                    },
                ),
                Field("order", "That order", "wholes", "numbers of the positions, spaces between: 2 4 1 3"),
                Field("passes", "Rounds, percent of the torque", "percents", "spaces between: 40 70 100"),
            ),
        ),
        Group(
            "More about them",
            (
                Field("grade", "Grade", about="as it stands on the head: 8.8"),
                Field("spanner", "Spanner", about="only where it is not the usual one for thread and head: 17 mm"),
                Field("left_hand", "Left-hand: it comes off clockwise", "tick"),
                Field("grip", "What they clamp, mm", "number", "from the head to the first thread, washers with it"),
                Field("depth", "Depth of the hole, mm", "number", "as far as its thread can be used"),
                Field("into", "The hole is cut in", "choice"),
                Field("note", "A remark for the card"),
            ),
        ),
    ),
)
SMALL = Sheet(
    model.SmallThing,
    "small thing",
    "Add a small thing",
    (
        Group(
            "What lies in the bag with it",
            (
                _NAME,
                Field("count", "How many", "whole"),
                Field("single_use", "Never refit it: a new one each time", "tick"),
                Field("spare", "What to order instead"),
            ),
        ),
    ),
)
QUESTION = Sheet(
    model.Question,
    "question",
    "Add a question",
    (
        Group(
            "Asked when it is fitted",
            (
                Field("question", "The question", must=True),
                Field("answers", "The answers, a line each", "lines", must=True),
                Field("right", "The right one", must=True),
            ),
        ),
    ),
)


class _Way(BaseModel):
    """One way out of a part: all of these must be off."""

    way: tuple[str, ...] = ()


WAY = Sheet(
    _Way,
    "way out",
    "Add a way out",
    (Group("One way out: all of these off", (Field("way", "Off for this way", "ticks", offers="parts", must=True),)),),
)
INSTRUMENT = Sheet(
    model.Instrument,
    "instrument",
    "Add an instrument",
    (
        Group(
            "What it is",
            (
                _NAME,
                Field("kind", "Kind", "choice", "for its picture and its usual slips"),
                Field("unit", "It reads in", "choice", offers="units"),
                Field("resolution", "Smallest step that can be read", "number", must=True),
                Field("error", "Largest error its maker allows", "number"),
                Field("count", "How many the workshop has", "whole"),
            ),
        ),
        Group(
            "What it can show",
            (
                Field("range", "It shows", "pair"),
                Field("leaves", "Leaves of a feeler", "numbers", "thicknesses, spaces between"),
                Field("material", "Made of", "choice", "for how it grows when warm"),
            ),
        ),
    ),
)
_SUM = Field("sum", "The sum that works it out", "choice")
CHECK = Sheet(
    model.Check,
    "size",
    "Add a size",
    (
        Group(
            "What is measured",
            (
                _NAME,
                Field("part", "On which part", "choice", offers="parts"),
                Field("of", "What is measured there, in words"),
                Field("instrument", "Measured with", "choice", offers="instruments"),
                Field("unit", "Limits and readings are in", "choice", offers="units"),
                Field("new", "When new", "pair"),
                Field("max", "Worn out above", "number"),
                Field("min", "Worn out below", "number"),
            ),
        ),
        Group(
            "Where it is read",
            (
                Field("at", "Heights or places, a line each", "lines"),
                Field("across", "Directions, a line each", "lines"),
                Field("repeat", "How often each spot is read", "whole", "then the mean counts"),
                Field("out_of_round_max", "Out of round, at most", "number", "largest less smallest at one height"),
                Field("taper_max", "Taper, at most", "number", "largest less smallest in one direction"),
            ),
        ),
        Group("Off before it can be measured", (Field("bare", "These are off", "ticks", offers="parts"),)),
        Group(
            "More about it",
            (
                Field("gap", "Or a gap between two sizes", "gap", "nothing is read then", offers="checks"),
                Field("shape", "Drawn as", "choice"),
                Field("shims", "Shims there are", "numbers", "thicknesses, spaces between"),
                _SUM,
            ),
        ),
    ),
)
SETTING = Sheet(
    model.Setting,
    "setting",
    "Add a setting",
    (
        Group(
            "What is set",
            (
                _NAME,
                Field("range", "Allowed", "pair"),
                Field("unit", "That is in", "choice", offers="units"),
                Field("instrument", "Set with", "choice", offers="instruments"),
                Field("how", "How it is done"),
            ),
        ),
        Group("On when it is set", (Field("after", "These are on", "ticks", offers="parts"),)),
        Group("Not yet on when it is set", (Field("before", "These are not yet on", "ticks", offers="parts"),)),
        Group(
            "A question instead of figures, and its sum",
            (
                Field("question", "The question"),
                Field("answers", "Its answers, a line each", "lines"),
                Field("right", "The right one"),
                _SUM,
            ),
        ),
    ),
)
SIGN = Sheet(
    model.Sign,
    "sign-off",
    "Add a sign-off",
    (
        Group(
            "What the instructor looks at and signs",
            (
                _NAME,
                Field(
                    "stage",
                    "When",
                    "choice",
                    must=True,
                    words={"strip": "when it is stripped", "rebuild": "when it is rebuilt"},
                ),
            ),
        ),
        Group(
            "What waits for the signature",
            (Field("before", "These may not move before it", "ticks", offers="parts", must=True),),
        ),
    ),
)
MACHINE = Sheet(
    model.MachineTable,
    "machine",
    "",
    (
        Group(
            "The machine as a whole",
            (
                _NAME,
                Field("about", "What kind of machine it is"),
                Field("source", "Where the figures come from"),
                Field("rests", "Ways it can lie, a line each", "lines", "it starts as the first says"),
            ),
        ),
    ),
)
ENGINE = Sheet(
    model.Engine,
    "engine",
    "",
    (
        Group(
            "Crank and cylinder",
            (
                Field("strokes", "Strokes of a cycle", "choice"),
                Field("bore", "Bore, mm", "number"),
                Field("stroke", "Stroke, mm", "number"),
                Field("rod", "Rod, pin to pin, mm", "number"),
                Field("chamber", "Room above the piston at top dead centre, ml", "number"),
                Field("flywheel", "Flywheel, outside diameter, mm", "number"),
            ),
        ),
        Group(
            "Valves and drive",
            (
                Field("crank_teeth", "Teeth on the crank", "whole"),
                Field("cam_teeth", "Teeth on the camshaft", "whole"),
                Field("at_lift", "Events are stated at a lift of, mm", "number"),
                Field(
                    "inlet", "Inlet, degrees", "pair", words={"from": "opens before top", "to": "closes after bottom"}
                ),
                Field(
                    "exhaust",
                    "Exhaust, degrees",
                    "pair",
                    words={"from": "opens before bottom", "to": "closes after top"},
                ),
                Field("drive", "Drive: driving and driven teeth, a line each stage", "pairs"),
            ),
        ),
    ),
)

Listed = Literal["fasteners", "bag", "questions", "ways"]
IN_A_PART: dict[str, tuple[str, Sheet]] = {
    "fasteners": ("held_by", FASTENERS),
    "bag": ("with", SMALL),
    "questions": ("ask", QUESTION),
    "ways": ("ways", WAY),
}
"""The lists of a part, by the word in their address: the key, and the form of one entry."""

OF_A_MACHINE: dict[str, Sheet] = {"check": CHECK, "setting": SETTING, "sign": SIGN, "instrument": INSTRUMENT}
"""What a machine lists besides its parts, by the name of the table."""

ALONE: dict[str, Sheet] = {"machine": MACHINE, "engine": ENGINE}


LABELS: Mapping[str, str] = {
    field.key: field.label
    for sheet in (ENGINE, MACHINE, INSTRUMENT, SETTING, CHECK, FASTENERS, MORE, PART)
    for field in sheet.fields
}
