"""More answers change only what they are about; what somebody wrote into the file meanwhile stays, comments and all."""

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from fingertight.anatomy.told.carried import carried
from fingertight.anatomy.write import rewritten

MADE = """format = 1
[machine]
name = "Hand pump"
[[part]]
id = "guard"
[[part]]
id = "fan"
behind = ["guard"]
[[part]]
id = "exhaust"
behind = ["fan"]
"""
MINE = """format = 1
[machine]
name = "Hand pump"  # ours
[[part]]
id = "guard"
cautions = ["Sharp edge."]  # felt it
[[part]]
id = "fan"
behind = ["guard"]
minutes = 4
[[part]]
id = "exhaust"  # rusty
behind = ["fan"]
"""


def anatomy(text: str) -> Anatomy:
    """As it reads."""
    found = read(text).anatomy
    assert found is not None
    return found


def carried_into(text: str, after: str) -> str:
    """The text with what is new in `after`."""
    return rewritten(text, carried(anatomy(MADE), anatomy(after), anatomy(text)))


def test_a_blocker_that_fell_away_falls_away_and_everything_else_stays() -> None:
    assert carried_into(MINE, MADE.replace('behind = ["fan"]\n', "")) == MINE.replace('behind = ["fan"]\n', "")


def test_a_new_part_comes_and_one_that_somebody_took_out_stays_out() -> None:
    after = MADE + '[[part]]\nid = "coil"\nbehind = ["guard"]\nheld_by = [{thread = "M6", count = 2}]\n'
    text = carried_into(MINE.partition('[[part]]\nid = "exhaust"')[0], after)
    said = anatomy(text)
    assert [part.id for part in said.parts] == ["guard", "fan", "coil"]
    assert said.part_by_id["coil"].held_by[0].how_many == 2
    assert "# felt it" in text


def test_a_key_that_both_changed_is_as_it_is_said_now() -> None:
    text = carried_into(
        MINE.replace("minutes = 4", 'minutes = 4\ncare = "Dry."'),
        MADE.replace('"fan"\n', '"fan"\ncare = "Oiled."\n', 1),
    )
    assert anatomy(text).part_by_id["fan"].care == "Oiled."


def test_nothing_new_changes_nothing() -> None:
    assert carried(anatomy(MADE), anatomy(MADE), anatomy(MINE)) == ()
