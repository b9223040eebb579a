"""The measuring itself is studied: the same parts, read several times by several people or with several instruments.

table.py   lines or CSV become one table of part, person and readings
lines.py   how a line is parted into fields, and what a header's words mean
anova.py   analysis of variance, one-way and two-way with interaction; variances of parts, people, repeats
ranges.py  the same by averages and ranges, with their constants
apart.py   whose mean or whose scatter stands apart from the others'
fit.py     whether the gauge is fit for a limit: its share of the tolerance, classes of part, wrong verdicts
"""
