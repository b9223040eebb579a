"""A machine recorded by doing: somebody strips it and says what comes off; the rest follows from that.

recording.py  the log of a recording, folded: parts in the order they came off, the mark of the film, the answers
filmed.py     what it says of its film: the file, captions, moves put by hand
asked.py      what a recording and its answers teach
sketched.py   fasteners tapped on a sketch
strips.py     strips out of any bench log
pictures.py   photos, made small
drawn.py      what was recorded and learned becomes a machine file
"""
