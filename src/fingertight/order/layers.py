"""How deep does each part lie: how many rounds of taking everything free must go before it can come off?"""

from fingertight.order.rules import Rules


def layers(rules: Rules) -> list[list[str]]:
    """The parts in rounds: the first can come off at once, each later round is freed by the rounds before it.

    Parts that stay, and whatever can never come off, make the last layer. Within a layer parts stand as in the anatomy.

    >>> from fingertight.order.rules import Stands
    >>> layers(Rules([Stands("shaft", ["cover"]), Stands("cover"), Stands("case", stays=True), Stands("cap")]))
    [['cover', 'cap'], ['shaft'], ['case']]
    """
    wait, left = rules.wait[:], rules.left[:]
    for part in rules.stays:
        wait[part] = -1
    clear = bytearray(len(wait))
    found: list[list[int]] = []
    freed = [part for part, count in enumerate(wait) if not count]
    while freed:
        found.append(sorted(freed))
        taken, freed = freed, []
        for part in taken:
            ways_cleared = []
            for way in rules.way_of[part]:
                left[way] -= 1
                if not left[way] and not clear[rules.owner[way]]:
                    clear[rules.owner[way]] = 1  # a second clear way frees nothing more
                    ways_cleared.append(rules.owner[way])
            for other in [*rules.frees[part], *ways_cleared]:
                wait[other] -= 1
                if not wait[other]:
                    freed.append(other)
    reached = {part for layer in found for part in layer}
    found.append([part for part in range(len(rules)) if part not in reached])
    return [[rules.ids[part] for part in layer] for layer in found if layer]
