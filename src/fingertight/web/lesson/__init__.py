"""What the pages of a class share.

courses.py   where each class stands: its log folded and remembered, written to and asked again
setup.py     a class is set up, copied, given more students, moved to a machine's new text
stands.py    every bench of a class with its ledger, people and tools
"""
