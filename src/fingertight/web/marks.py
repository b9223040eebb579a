"""Template tags: the hidden fields of a form that writes an entry; pictures that are drawn once."""

import secrets
import time
from functools import lru_cache

from django import template
from django.template import Context
from django.template.loader import render_to_string
from django.utils.html import format_html
from django.utils.http import urlencode
from django.utils.safestring import SafeString, mark_safe

from fingertight.cards.pictures.bolts import BoltPicture
from fingertight.cards.pictures.drawing import Drawing, svg
from fingertight.cards.pictures.rings import Sector
from fingertight.cards.sums.answer import Curve
from fingertight.cards.tighten.turn import TurnCard
from fingertight.quantity import plain
from fingertight.store.ids import uuid7

register = template.Library()


def new_id() -> str:
    """An id for an entry to come, made when the form is shown: however often it is sent, it counts once."""
    return uuid7(time.time_ns() // 1_000_000, secrets.token_bytes(10))


@register.filter
def minutes(value: float) -> str:
    """Minutes as people write them, to a hundredth, without zeros at the end.

    >>> minutes(6.5), minutes(40.0), minutes(193.25)
    ('6.5', '40', '193.25')
    """
    return plain(round(value, 2))


@register.simple_tag(takes_context=True)
def tap(context: Context, kind: str) -> SafeString:
    """The hidden fields: the guard against foreign forms, the entry's id, its kind (none where a button says it)."""
    said = format_html('<input type="hidden" name="kind" value="{}">', kind) if kind else ""
    return format_html(
        '<input type="hidden" name="csrfmiddlewaretoken" value="{}"><input type="hidden" name="id" value="{}">{}',
        context["csrf_token"],
        new_id(),
        said,
    )


@register.simple_tag
@lru_cache(maxsize=8192)
def sector(drawn: Sector) -> SafeString:
    """One sector of the ring picture; a tap changes few of them, so those drawn before are kept."""
    return render_to_string("bench/sector.html", {"s": drawn})


@register.simple_tag
@lru_cache(maxsize=1024)
def bolts(drawn: BoltPicture) -> SafeString:
    """The picture of a part's fasteners, which is the same at every bench with such a machine."""
    return render_to_string("bench/bolts.html", {"picture": drawn})


@register.simple_tag
@lru_cache(maxsize=256)
def drawing(drawn: Drawing) -> SafeString:
    """A drawing; its words are escaped where it is made."""
    return mark_safe(svg(drawn))


@register.simple_tag
def carry(card: TurnCard, done: str) -> str:
    """The question part of a tightening screen's address, with these bolts tapped; the template escapes it."""
    said = {"pass": str(card.number), "place": card.place, "done": done}
    return urlencode({name: value for name, value in said.items() if value})


@register.simple_tag
def curve(drawn: Curve, beside: tuple[Curve, ...]) -> SafeString:
    """A bar for each step, on one scale with those beside it."""
    most = max(height for one in beside for height in one.heights) or 1.0
    bars = [
        (step, round(height * 100), round(height / most * 100))
        for step, height in zip(drawn.steps, drawn.heights, strict=True)
    ]
    return render_to_string("curve.html", {"name": drawn.name, "bars": bars})
