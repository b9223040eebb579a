"""Whatever is typed into a field of these sums, the answer is a card that can be shown, or a sentence with its mend."""

import contextlib
import json

import pytest

from fingertight.cards.sums.every import sum_named
from fingertight.cli.answers import answer_page
from fingertight.quantity import NotUnderstood

GOOD: dict[str, dict[str, str]] = {
    "feeler": {"reading": "0.15 goes, 0.20 does not", "range": "0.13 to 0.17", "gap": "0.15", "leaves": "metric",
               "leaf-error": "0.002", "pitch": "0.75", "ratio": "1.4"},
    "coil": {"pack": "3", "cards": "10", "layers": "1", "range": "0.2 to 0.6", "runout": "0.05", "play": "0.02",
             "error": "0.02"},
    "ring-gap": {"gaps": "0.45; 0.38", "depths": "10; 90", "new": "0.25 to 0.4", "max": "1", "step": "0.05",
                 "taper-max": "0.05", "wanted": "0.5", "measured-in": "68", "bore": "68.1"},
    "compression": {"bore": "68", "stroke": "45", "chamber": "21.5", "gasket": "1.2", "gasket-bore": "70",
                    "deck": "0.3", "crown": "-1", "cylinders": "2", "wanted": "9", "mill": "0.1", "face": "38",
                    "bore-error": "0.02",
                    "length-error": "0.05", "oil-error": "0.2"},
    "cranking": {"ratio": "8.6", "closes": "42", "stroke": "45", "rod": "84", "offset": "0.5", "altitude": "1200 m",
                 "speed": "400", "measured": "9", "wet": "10"},
    "leakdown": {"cylinder": "4.2", "supply": "5.5", "limit": "25", "error": "0.07"},
    "clutch": {"shoes": "4", "mass": "60", "radius": "30", "drum": "80", "spring": "40", "rate": "8", "travel": "1",
               "friction": "0.3", "runs": "dry", "speed": "3000", "torque": "12", "idle": "1400", "wear": "0.5"},
    "ratio": {"stages": "18:36 chain, 15:60", "speed": "3600", "torque": "8", "efficiency": "85 to 95"},
    "chain": {"chain": "08B", "small": "18", "large": "36", "centre": "120", "links": "48", "measured": "130",
              "over": "10", "limit": "3", "error": "0.1"},
    "oil": {"sumps": "engine: full 600, stays 40, marks 150, stands half", "grade": "10W-40", "edition": "2015",
            "show": "l"},
}  # fmt: skip
TYPED = (
    "", "0", "-1", "-0", "1e999", "nan", "∞", "M6", "x" * 300, "1,2,3", "'; --", "9" * 30, "\x00", "0.0000001", "1/3",
    "1/0", "½", ";", "+", "± 1", "5 to 1", "1 to 5", "10 mm", "10 thou", "3 bar", "3 kg", "99999", "full 1 2", "a:b:c",
    "18:36:18", "fill at", "goes", "not", "٣",
)  # fmt: skip


@pytest.mark.parametrize("name", GOOD)
def test_every_field_is_among_the_good_ones(name: str) -> None:
    fields = {field.name for field in sum_named(name).fields}
    assert set(GOOD[name]) <= fields
    assert fields - set(GOOD[name]) <= {"decompressor", "barometer", "fixed", "ring-spring"} | {"gap"}
    assert answer_page(sum_named(name).ask(GOOD[name]))


@pytest.mark.parametrize("name", GOOD)
def test_junk_in_one_field_is_a_sentence_or_a_card_that_can_be_shown(name: str) -> None:
    asked, refused = sum_named(name), []
    for field in asked.fields:
        for typed in TYPED:
            try:
                card = asked.ask({**GOOD[name], field.name: typed})
            except NotUnderstood as slip:
                refused.append(str(slip))
                continue
            page = answer_page(card)
            assert not {"nan", "inf", "None"} & set(page.split()), (name, field.name, typed)
            json.dumps(card.as_json(), allow_nan=False)
    assert refused
    for said in refused:
        assert len(said) > 20
        assert said[0].isupper()
        assert said.rstrip().endswith((".", "?")), said


@pytest.mark.parametrize("name", GOOD)
def test_a_number_alone_in_every_field_of_a_sum_breaks_nothing(name: str) -> None:
    asked = sum_named(name)
    for field in asked.fields:
        for typed in ("1", "2", "50"):
            with contextlib.suppress(NotUnderstood):
                answer_page(asked.ask({field.name: typed}))
