"""A machine is changed in forms: no file is seen.

sheets.py   the forms, as data: which keys, in which groups, under which labels
fields.py   one box: how a value is shown in it, how what was typed is read
form.py     the boxes as they are shown
place.py    what a form is about, and the edits of the text it comes to
attempt.py  a change tried on the text: what changed in words, or what is wrong beside which box, and what mends it
lists.py    what a part or a machine lists; who names what is to be taken out
page.py     the page of one form
"""
