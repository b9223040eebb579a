"""The ring picture with a way lit in it: what comes off on the way in, what may stay."""

from collections.abc import Sequence

from fingertight.anatomy.model import Anatomy
from fingertight.cards.bench.words import counted
from fingertight.cards.pictures.rings import RingPicture, ring_picture
from fingertight.order.layers import layers
from fingertight.order.rules import Rules


def way_picture(anatomy: Anatomy, order: Sequence[str], to: Sequence[str]) -> RingPicture:
    """How does a way lead in through the rings? Lit is what comes off; the rest may stay where it is."""
    lit = set(order)
    state = {part.id: "free" if part.id in lit else "stays" if part.stays else "on" for part in anatomy.parts}
    rest = sum(not part.stays for part in anatomy.parts) - len(lit)
    titles = {part.id: part.title for part in anatomy.parts}
    goals = " and ".join(titles[part] for part in to)
    sentence = f"{counted(len(lit), 'part')} on the way to {goals}; {counted(rest, 'part')} may stay."
    return ring_picture(layers(Rules.of(anatomy)), titles, state, sentence)
