"""fingertight: strip it, measure it, build it back; nothing lost, nothing left over.

Say once what the machine is (the anatomy), keep every entry ever made (the log), compute the rest.
The rooms and the stairs between them are drawn in docs/map.md.
"""

__version__ = "0.1.0"
