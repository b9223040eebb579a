"""Gaps: what a leaf or a card between two faces proves, and what a gap says of a bore.

leaves.py    the leaves there are, and which of them, alone or laid on each other, make a gap
said.py      a reading as a mechanic says it: “0.15 goes, 0.20 does not”
go_no_go.py  between which sizes the gap lies, its verdict, and which leaves would prove a range
rocker.py    how far the adjusting screw is turned for a gap
coil.py      cards as a gauge, and what the run-out of the rim does to the gap of a coil
rings.py     gaps of a piston ring as a measure of its bore
"""
