"""Between the pages and the store.

workshop.py  jobs and machines by their addresses
ledgers.py   the ledger of each job, kept in memory and folded on
taps.py      a form sent from a page becomes an entry
"""
