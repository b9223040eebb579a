"""The commands, a family a file.

machine   check, order, moves, replay: what a machine file and a log say
papers/   labels, torques, measured, wheel, tape: what is written as PDF
sums      thread, identify, spanner, torque, wrench, pattern: what is asked without any machine
bolts     bolt, tray: whose bolt is this, for one machine
schema    JSON Schema of every file and every --json answer
workshop/ serve, people, classes, backup, restore: the owner at the machine
"""
