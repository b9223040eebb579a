"""How the example logs are made: an honest job worked out from the machine, then mistakes planted into it.

drafts.py         entries before they have a time and an id; finding, adding and changing them
clock.py          lessons with their dates; times and ids that are the same at every run
machines.py       what was read, set and borrowed on each example machine
course.py         an honest job from first lesson to finish
pump_plants.py    the mistakes planted into the pump engine's log
small_plants.py   those of the vice and the winch
"""
