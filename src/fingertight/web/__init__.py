"""A person's hands in a browser: look at the shape of what was sent, ask, render a card. No sums, no rules.

settings.py  Django's settings: one workshop folder        urls.py     the whole site on one screen
wsgi.py      what granian serves                           guards.py   what every answer says, what none may bring
marks.py     template tags: a form's hidden fields         jobs/       between the pages and the store
pages/       the views                                     templates/  pages and fragments, drawings as SVG
static/      the look, and the module that keeps an open page live
"""
