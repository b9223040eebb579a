"""What stands around the benches.

front.py    every bench and machine; starting a job, reading one in
machine.py  a machine's picture, text, labels
wall.py     all benches at once, looked at again every two seconds
"""
