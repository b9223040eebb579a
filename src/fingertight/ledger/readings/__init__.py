"""What readings are worth, before they are judged: asked by folds/judged.py and by what is shown.

questioned.py  which cannot be right, and which look like a slip; their flags
sized.py       repeats, temperature and instruments: readings become sizes, each with its budget
"""
