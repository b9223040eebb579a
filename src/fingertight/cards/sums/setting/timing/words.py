"""What the sums about timing share: the fields of a crank, readings of angles, and how degrees are written."""

from collections.abc import Callable

from fingertight.cards.sums.answer import Section
from fingertight.cards.sums.asked import Field, Typed
from fingertight.quantity import NotUnderstood, plain, shown, unsure_by
from fingertight.setting.timing.crank import Crank
from fingertight.uncertainty.budget import Budget

BY_HAND = "Spark lead off and earthed. Turn the crank by hand only, never with the starter, and slowly up to a stop."
RUBS = "A valve that is out may meet the piston: turn by hand, and stop at the first hard feel."
_USUAL_ROD = (1.3, 2.5)
"""How many strokes long a rod mostly is: common practice, no source."""

STROKE = Field("stroke", "Stroke", "size", "how far the piston goes from top to bottom", "45 mm",
               unit="mm", above=0, least=10, most=2000)  # fmt: skip
ROD = Field("rod", "Rod", "size", "length of the rod from hole to hole, middle to middle", "84 mm",
            unit="mm", above=0, least=10, most=5000)  # fmt: skip
WHEEL = Field("wheel", "Step of the wheel", "size", "the smallest step read off the degree wheel", "1",
              usual="1", unit="deg", above=0, most=10)  # fmt: skip
DIAL = Field("dial", "Step of the dial", "size", "the smallest step of the dial", "0.01 mm",
             usual="0.01 mm", unit="mm", above=0, least=0.0001, most=1)  # fmt: skip
OFFSET = Field(
    "offset",
    "Offset",
    "size",
    "how far the piston pin travels beside the crank’s middle, on the side where the crankpin goes down; minus on "
    "the other",
    "0.5 mm",
    unit="mm",
)


def crank_of(typed: Typed) -> Crank | None:
    """The crank that was typed, or None where neither stroke nor rod was.

    Raises NotUnderstood when one of them is missing, and for a crank that cannot turn.
    """
    stroke_mm, rod_mm, offset_mm = typed.size("stroke"), typed.size("rod"), typed.size("offset") or 0.0
    if stroke_mm is None and rod_mm is None:
        if typed.has("offset"):
            raise NotUnderstood("Offset: it is worked out with stroke and rod; write those too.")
        return None
    if stroke_mm is None or rod_mm is None:
        missing, other = ("Stroke", "rod") if stroke_mm is None else ("Rod", "stroke")
        raise NotUnderstood(f"{missing}: with the {other} it must be known; write for example "
                            f"{(STROKE if missing == 'Stroke' else ROD).example}.")  # fmt: skip
    try:
        return Crank(stroke_mm, rod_mm, offset_mm)
    except ValueError:
        pass
    if rod_mm <= stroke_mm / 2:
        raise NotUnderstood(
            f"Rod: {mm(rod_mm)} is no longer than half the stroke ({mm(stroke_mm / 2)}), so the crank could not turn; "
            "write its length from hole to hole, middle to middle."
        )
    raise NotUnderstood(
        f"Offset: {mm(abs(offset_mm))} and half the stroke are more than the rod is long, so the crank could not "
        "turn; an offset is mostly 0 to 2 mm."
    )


def unusual(crank: Crank) -> tuple[str, ...]:
    """A doubt about rod and stroke, where no engine at hand is likely to have them."""
    share = crank.rod_mm / crank.stroke_mm
    if _USUAL_ROD[0] <= share <= _USUAL_ROD[1]:
        return ()
    return (
        f"Is that right? This rod is {plain(round(share, 2))} strokes long; most are {plain(_USUAL_ROD[0])} to "
        f"{plain(_USUAL_ROD[1])} (common practice, no source).",
    )


def deg(value: float, decimals: int = 1) -> str:
    """An angle with no more digits than a wheel can be read to.

    >>> deg(34.0), deg(16.3636), deg(-3.04)
    ('34°', '16.4°', '-3°')
    """
    return f"{plain(round(value, decimals))}°"


def mm(value: float, step: float = 0.01) -> str:
    """A length as a dial shows it.

    >>> mm(2.0782), mm(54)
    ('2.08 mm', '54 mm')
    """
    return f"{plain(float(shown(value, step)))} mm"


def unsure(budget: Budget) -> str:
    """The expanded uncertainty of an angle, rounded up to a tenth.

    >>> from fingertight.uncertainty.budget import Line
    >>> unsure(Budget((Line("wheel", 0.29),)))
    '± 0.6°'
    """
    return f"± {unsure_by(budget.expanded, 0.1)}°"


def budget_section(heading: str, budget: Budget) -> Section:
    """The causes of an uncertainty line by line."""
    rows = [
        (line.source, f"± {shown(2 * line.part, 0.01)}°", f"{round(100 * budget.share(line))} %")
        for line in budget.lines
        if line.part
    ]
    together = ("together", f"± {shown(budget.expanded, 0.01)}°", "")
    return Section(heading, (*rows, together), ("cause", "adds (95 of 100 times)", "of the variance"))


def angles_in(text: str, label: str, said_as: str, read: Callable[[str], float]) -> tuple[float, ...]:
    """Several readings with “;” between, each read by `read`.

    Raises NotUnderstood with the label of their field, and for none, or more than anybody takes.
    """
    pieces = [piece for piece in text.split(";") if piece.strip()]
    if not pieces:
        raise NotUnderstood(f"{label}: nothing was typed; write for example {said_as}.")
    if len(pieces) > 30:
        raise NotUnderstood(f"{label}: {len(pieces)} readings are more than anybody takes; write up to 30.")
    found = []
    for piece in pieces:
        try:
            found.append(read(piece))
        except NotUnderstood as slip:
            raise NotUnderstood(f"{label}: {slip}") from None
    return tuple(found)
