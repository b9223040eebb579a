"""What a class's pages show.

joining.py  who may join with this code: names, marks, benches
classes.py  a class: benches, people, what comes next; and the list of classes
lesson.py   one lesson: opened, run, counted, closed
tools.py    shared tools: free, out, who waits
student.py  what one person has done with their own hands
benches.py  the cards that stand on the benches
"""
