"""Orders and what they need.

order    a whole strip or rebuild, the way to some parts, what can be reached in some minutes
learn    who blocks whom, from logs and answers
layout   what lies on the bench before anybody begins
"""
