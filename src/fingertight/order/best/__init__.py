"""The best order and the shortest way in, each with its proof, or with how near it surely is.

problem.py  the question in bare numbers: sets of parts as bits, a rebuild as a strip turned round
bounds.py   what no order can go below
states.py   the steps from one state to the next; what costs nothing is taken along
search.py   beam, stretches solved anew, and the search that ends in a proof
ways.py     sets of parts that free others, cheapest first
orders.py   the questions: everything off, everything on, the way to some parts
"""
