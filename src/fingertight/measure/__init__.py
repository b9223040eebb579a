"""From readings to a verdict, on plain numbers; no machine is known here.

odd.py      which readings cannot be right
shape.py    out-of-round and taper from readings at heights and in directions
verdict.py  good, worn or too close to call, against limits and with the uncertainty
"""
