"""The only room that keeps anything. No rules live here, and no words for a screen: only refusals are sentences.

school/      people, classes, the log of a class, shared tools
demo/        the demo workshop of a first start
log/         one job's entries: what every log promises, the hash chain, a JSON Lines file, the SQL of the entry table
writer.py    the one thread that writes entries to the database, and a job's log read and written through it
models.py    Django models: workshop, machines' texts by version, jobs, label printers
versions.py  which text is a machine's newest, step by step; going back
kept.py      keeps a machine's text, starts a job, takes a job out as an archive and in again
archive.py   one job as one zip, and back the same
backup.py    a whole workshop into one file, and back
ids.py       the id of an entry made here instead of by a device
"""
