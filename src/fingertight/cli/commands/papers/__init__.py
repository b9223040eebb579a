"""Papers that need no machine, as commands.

wheel  wheel, tape: a degree wheel and a timing tape, as PDF
"""
