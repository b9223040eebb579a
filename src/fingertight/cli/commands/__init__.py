"""The commands, a family a file.

machine   check, order, moves, replay: what a machine file and a log say
labels    bag labels as PDF
torques   the tightening sheet of a machine, on the screen or as PDF
papers/   wheel, tape: what is printed without any machine
sums      thread, identify, spanner, torque, wrench, pattern: what is asked without any machine
bolts     bolt, tray: whose bolt is this, for one machine
schema    JSON Schema of every file and every --json answer
serve     the web app on this machine
"""
