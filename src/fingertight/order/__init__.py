"""Whose turn it is: what may come off and go on, why not yet, and whole orders. No log is known here.

rules.py  the anatomy's `behind`, `ways`, `fit_after`, `stays` as counters and edges; one sweep
reach.py  what of the parts that are off could still be stripped, kept up to date
moves.py  what may come off and go on now, and why not yet
knots.py  rings of blockers, and what never comes off or goes back
cost.py   minutes, changes of spanner, turnings of the machine
whole.py  a whole strip, a whole rebuild, the way to one part
learn/    who blocks whom, learned from recorded strips and a few questions
"""

from fingertight.order.cost import Prices, cost_of, spanner_of, tools_of, work_of
from fingertight.order.knots import Knot, knots, knots_before
from fingertight.order.moves import InTheWay, Moves, NotYet, Step
from fingertight.order.rules import Rules, Stands
from fingertight.order.whole import WholeOrder, order_to, rebuild_order, strip_order

__all__ = [
    "InTheWay",
    "Knot",
    "Moves",
    "NotYet",
    "Prices",
    "Rules",
    "Stands",
    "Step",
    "WholeOrder",
    "cost_of",
    "knots",
    "knots_before",
    "order_to",
    "rebuild_order",
    "spanner_of",
    "strip_order",
    "tools_of",
    "work_of",
]
