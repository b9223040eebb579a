"""Template tags: the hidden fields of a form that writes an entry; pictures that are drawn once."""

import secrets
import time
from functools import lru_cache

from django import template
from django.template import Context
from django.template.loader import render_to_string
from django.utils.html import format_html
from django.utils.safestring import SafeString

from fingertight.cards.pictures.bolts import BoltPicture
from fingertight.cards.pictures.rings import Sector
from fingertight.store.ids import uuid7

register = template.Library()


def new_id() -> str:
    """An id for an entry to come, made when the form is shown: however often it is sent, it counts once."""
    return uuid7(time.time_ns() // 1_000_000, secrets.token_bytes(10))


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
