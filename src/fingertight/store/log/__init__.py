"""One job's log, only ever added to.

promise.py     what every log promises, and the values it answers with
chain.py       the hash chain: how tampering is seen
lines.py       a log as a JSON Lines file
statements.py  the entry table and every statement about it, as SQLite wants them
rows.py        a log as rows: connecting, keeping, reading, checking
"""
