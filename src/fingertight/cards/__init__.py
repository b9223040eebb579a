"""What a person is shown, as frozen dataclasses: pages, command line and paper read the same card.

card.py     what every card is: its numbers as JSON
workshop/   the front page, a machine, a log
bench/      a bench, its moves, bags, sizes and what is due; one part
tighten/    a set being tightened, the tightening sheet, whose bolt it is
film/       the chapters of a film, what its captions speak of
sums/       sums that need no machine
pictures/   rings, bolts and bars, as places and sizes
check.py, order.py, moves.py, replay.py, printed.py   what the commands of these names answer (printed: `labels`)
labels.py   a label for each bag
"""
