"""Who blocks whom, learned from strips as they were recorded and a few questions: no anatomy is needed to begin.

heard.py     strips, answers, and what speaks against something else
evidence.py  strips as numbers: who was on when a part came off
pairs.py     what follows about pairs of parts, by logic alone
ways.py      sets one of which must be off
learned.py   what is known, likely or free; lists for an anatomy
hearing.py   strips and answers put together, and what cannot be
asking/      the next question, or all that may be in the way of one part
"""

from fingertight.order.learn.asking.question import Question, next_question
from fingertight.order.learn.asking.ticks import AtOnce, Ticks, combinations, next_at_once, told
from fingertight.order.learn.heard import Answer, Contradiction, Strip
from fingertight.order.learn.hearing import heard, learn, saw
from fingertight.order.learn.learned import Learned, Pair, Stand
from fingertight.order.learn.ways import MOST_COMBINATIONS

__all__ = [
    "MOST_COMBINATIONS",
    "Answer",
    "AtOnce",
    "Contradiction",
    "Learned",
    "Pair",
    "Question",
    "Stand",
    "Strip",
    "Ticks",
    "combinations",
    "heard",
    "learn",
    "next_at_once",
    "next_question",
    "saw",
    "told",
]
