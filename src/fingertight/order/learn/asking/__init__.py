"""What to ask: a question at a time, or all that is in the way of one part at once.

question.py  the next question, the one that settles most
ticks.py     what must be off before one part, ticked; what that says as answers
"""
