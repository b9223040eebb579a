"""Sheets that list something, each a card laid out for its template in the folder above.

tightening  `tightening_pdf`: every torque of a machine, for the wall
measured    `measured_pdf`: readings, verdicts and the order list of a job
bench_cards `bench_cards_pdf`: the cards that stand on the benches of a class
handover    `handover_pdf`: where each bench stopped
"""
