"""How sure a number is (GUM, JCGM 100:2008): from what is known of each cause to one uncertainty.

standard.py     limits, steps and scatter as standard uncertainties; combined and expanded
budget.py       the causes line by line, with sensitivities, degrees of freedom and correlations
coverage.py     coverage factors: normal and Student's t; the chance of lying beyond
together.py     any formula's result with its budget; what was read side by side
monte_carlo.py  the same by drawing at random (GUM Supplement 1), for any formula
fit.py          a straight line through readings, and how sure it is anywhere
"""
