"""How deep each part lies, against taking everything free round by round."""

import pytest

from fingertight.order.layers import layers
from fingertight.order.moves import Moves
from fingertight.order.rules import Rules
from tests.order.machines import tangled


@pytest.mark.parametrize("seed", range(300))
def test_a_layer_is_what_is_free_once_all_layers_outside_it_are_off(seed: int) -> None:
    rules = Rules(tangled(seed).values())
    now, found = Moves(rules), layers(rules)
    for layer in found:
        free = now.may_come_off()
        if not free:  # the last: what stays, or can never come off
            assert layer == found[-1]
            assert layer == now.on()
            return
        assert layer == free
        for part in layer:
            now.took(part)
    assert now.on() == []
