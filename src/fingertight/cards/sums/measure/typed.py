"""What is typed into a sum about measuring: readings and limits of one spot, and the instruments there are."""

from fingertight.cards.sums.asked import Typed
from fingertight.measure.typed import Scale, as_read
from fingertight.quantity import NotUnderstood, converted, plain, read_quantity

Limit = float | None

_LIMITS = (("min", "Worn below"), ("max", "Worn past"))
_TOOL = "Write each with its step and its error in mm, for example micrometer 0.001 0.003."


def sizes_of(typed: Typed, name: str, label: str, unit: str) -> tuple[float, ...]:
    """The sizes typed into one box [mm]. Raises NotUnderstood with the box's label."""
    text = typed.text(name)
    if not text:
        return ()
    try:
        read = as_read(text, Scale(unit))
        return tuple(round(converted(value, read.unit, "mm"), 9) for value in read.values)
    except NotUnderstood as slip:
        raise NotUnderstood(f"{label}: {slip}") from None


def limits_of(typed: Typed, unit: str) -> tuple[Limit, Limit, tuple[float, float] | None]:
    """The smallest and the largest size, and the two when new [mm]; None where nothing was typed.

    Raises NotUnderstood when they cannot all be right, or when there are none at all.
    """
    new = _new(sizes_of(typed, "new", "New", unit))
    smallest, largest = (_one(sizes_of(typed, name, label, unit), label) for name, label in _LIMITS)
    if smallest is not None and largest is not None and smallest > largest:
        raise NotUnderstood(
            f"The limits are turned round: worn below {plain(smallest)} and past {plain(largest)} mm; write the "
            "smaller as Worn below."
        )
    if smallest is None and largest is None and new is None:
        raise NotUnderstood(
            "There is no limit to judge by; write Worn past for what wears larger, Worn below for smaller."
        )
    if new and largest is not None and new[1] > largest:
        raise NotUnderstood(
            f"New ones go up to {plain(new[1])} mm, and past {plain(largest)} mm they are worn; "
            "for what wears smaller write Worn below."
        )
    if new and smallest is not None and new[0] < smallest:
        raise NotUnderstood(
            f"New ones go down to {plain(new[0])} mm, and below {plain(smallest)} mm they are worn; "
            "for what wears larger write Worn past."
        )
    return smallest, largest, new


def others_of(text: str) -> dict[str, tuple[float, float]]:
    """The other instruments there are, by name, each with its step and its error [mm].

    >>> others_of("micrometer 0.001 0.003; bore gauge 0.01 ± 0.005")
    {'micrometer': (0.001, 0.003), 'bore gauge': (0.01, 0.005)}

    Raises NotUnderstood for a name without both.
    """
    found = {}
    for each in filter(None, (piece.strip() for piece in text.split(";"))):
        words = each.replace("±", " ").split()
        try:
            if len(words) < 3:
                raise NotUnderstood(f"“{each}” is no name with a step and an error.")
            step, error = (converted(*read_quantity(word, "mm"), "mm") for word in words[-2:])
            if step <= 0 or error < 0:
                raise NotUnderstood(f"“{each}”: a step is more than 0, an error 0 or more.")
        except NotUnderstood as slip:
            raise NotUnderstood(f"Other instruments: {slip} {_TOOL}") from None
        found[" ".join(words[:-2])] = (step, error)
    return found


def _new(sizes: tuple[float, ...]) -> tuple[float, float] | None:
    if not sizes:
        return None
    if len(sizes) != 2:
        raise NotUnderstood("New: two sizes are wanted, the smallest and the largest; write for example 68.000 68.015.")
    if sizes[0] > sizes[1]:
        raise NotUnderstood(
            f"New: it runs from {plain(sizes[0])} down to {plain(sizes[1])} mm; write the smaller size first."
        )
    return sizes[0], sizes[1]


def _one(sizes: tuple[float, ...], label: str) -> Limit:
    if len(sizes) > 1:
        raise NotUnderstood(f"{label}: one size is wanted, not {len(sizes)}.")
    return sizes[0] if sizes else None
