"""Cards on paper, as PDF: the same card gives the same bytes, and what people typed prints as they typed it.

labels    `label_pdf` and `ruler_pdf`: bag labels, and the page that shows how far a printer prints beside them
lists/    tightening sheet, measuring sheet, hand-over sheet
film/     chapters as WebVTT and for ffmpeg; captions read
wheel     `wheel_pdf` and `tape_pdf`: a degree wheel, and a timing tape for a flywheel, at their true size
sheets    `SHEETS`, `sheet_named`, `Nudge`: where each label lies on its paper, and what a printer adds to it
codes     a short code as the outline of a QR code
typeset   content as JSON to a typst template, out comes a tagged PDF; every paper goes this way
*.typ     one template a paper; fonts/ the one font, with its licence

A paper is a card (made in `cards`), a function that lays its fields out for the template, and the template.
Refusals are `sheets.CannotPrint`, a sentence with what is wrong and how to mend it.
"""
