"""The commands, a family a file.

machine   check, moves, replay: what a machine file and a log say
difference  what changed from one machine file to another
orders/   order, layout: the best order, the shortest way in, what lies on the bench
papers/   labels, torques, measured, wheel, tape: what is written as PDF
sums      thread, identify, spanner, torque, wrench, pattern: what is asked without any machine
bolts     bolt, tray: whose bolt is this, for one machine
film      chapters: a film's chapters from its log, or a log from its captions
schema    JSON Schema of every file and every --json answer
workshop/ serve, people, classes, backup, restore: the owner at the machine
"""
