"""Sheets that list something, each a card laid out for its template in the folder above.

tightening  `tightening_pdf`: every torque of a machine, for the wall
measured    `measured_pdf`: readings, verdicts and the order list of a job
handover    `handover_pdf`: where each bench stopped
"""
