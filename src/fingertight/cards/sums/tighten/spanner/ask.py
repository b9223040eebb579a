"""What is asked about a spanner: a thread, a width, or one spanner on one head; and which card answers it."""

import re

from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.tighten.spanner.fit import FitCard, fit_card
from fingertight.cards.sums.tighten.spanner.heads import HeadCard, HeadsCard, head_card
from fingertight.quantity import NotUnderstood
from fingertight.tighten.spanners.choose import key_in, keys_in, spanner_on, spanners_on
from fingertight.tighten.spanners.heads import (
    PRACTICE,
    NoSuchHead,
    NoSuchSpanner,
    head_named,
    spanner_for,
    spanners_for,
)
from fingertight.tighten.spanners.widths import NoSuchWidth, width_named
from fingertight.tighten.threads.names import NoSuchThread, Thread, thread_named

_ON = "Head it is to go on"
_THREAD = re.compile(r"\s*[MmGg]\s*[0-9]|\s*#|.*[0-9]\s*-\s*[0-9]+(?!.*/)|.*(?:un[cf]|bsw|whit)", re.IGNORECASE)
_SAID_BESIDE = re.compile(r"\s*(?:spanner|wrench|head|jaws?|ring|a/?f|key|socket)\s*\Z", re.IGNORECASE)


def _compute(typed: Typed) -> HeadsCard | FitCard:
    what, head, on = typed.text("what"), typed.text("head"), typed.text("on")
    if not on:
        if _THREAD.match(what):
            return _heads(what, head)
        if head:
            raise NotUnderstood(
                "Head: it belongs to a thread, and this is a width; write for example M8 --head flange."
            )
        width, is_key = _width("Thread or spanner", what)
        return _fit("Thread or spanner", None, width, is_key, *_bare(what))
    if _THREAD.match(what):
        raise NotUnderstood(
            "Thread or spanner: with a head beside it, name the spanner by its size, for example 13 mm."
        )
    tool, is_key = _width("Thread or spanner", what)
    notes = _bare(what)
    if _THREAD.match(on):
        driver, note = _driver(on, head or "hex")
        flats, is_key = driver.removesuffix(" key"), driver.endswith(" key")
        notes = notes if head else (*notes, note)
    elif head:
        raise NotUnderstood("Head: it belongs to a thread, and this is a width; leave it out.")
    else:
        flats, on_is_key = _width(_ON, on)
        is_key = is_key or on_is_key or bool(re.search(r"socket\s*\Z", on, re.IGNORECASE))
    return _fit(_ON, tool, flats, is_key, *notes)


def _width(label: str, text: str) -> tuple[str, bool]:
    """The width by its name, and whether it was called a key."""
    is_key = bool(re.search(r"key\s*\Z", text, re.IGNORECASE))
    if not any(letter.isdigit() for letter in text):
        raise NotUnderstood(
            f"{label}: “{text}” is neither a thread nor a width; write for example M8, 1/4-20 or 13 mm."
        )
    try:
        return width_named(_SAID_BESIDE.sub("", text))[0], is_key
    except NotUnderstood as slip:
        raise NotUnderstood(f"{label}: {slip}") from None


def _bare(text: str) -> tuple[str, ...]:
    """What to add when a fraction stood alone: it might have been meant as a thread."""
    if not re.fullmatch(r"\s*[0-9 ]*[0-9]/[0-9]+\s*", text):
        return ()
    return (
        f"“{text.strip()}” alone is read as a spanner of {text.strip()} in. A thread has its pitch beside it: 1/4-20.",
    )


def _thread(text: str) -> Thread:
    return thread_named(f"{text.strip()[:1].upper()}{text.strip()[1:]}")


def _driver(thread: str, head: str) -> tuple[str, str]:
    """What turns this thread under this head, and that there are other heads."""
    try:
        known = _thread(thread)
        driver = spanner_for(known, head)
        width_named(driver.removesuffix(" key"))
    except (NoSuchThread, NoSuchHead, NoSuchSpanner) as missing:
        raise NotUnderstood(f"{_ON}: {missing}") from None
    except NotUnderstood:
        raise NotUnderstood(f"{_ON}: {known.name} under the head “{head}” has no width across flats.") from None
    return driver, f"{known.name} is met under other heads too: ask with the thread alone, or name its head."


def _heads(thread: str, head: str) -> HeadsCard | FitCard:
    """The heads of a thread, or the one that was named, with its spanner."""
    try:
        known = _thread(thread)
    except NoSuchThread as missing:
        return HeadsCard(thread, (), str(missing), missing.nearest)
    heads = tuple(head_card(one) for one in spanners_for(known))
    if not head:
        if heads:
            return HeadsCard(known.name, heads)
        why = "a pipe thread has no head" if known.series == "G" else "measure it across the flats"
        return HeadsCard(known.name, (), f"No table here has a head for {known.name}: {why}.")
    try:
        style, driver = head_named(head), spanner_for(known, head)
    except NoSuchHead as missing:
        raise NotUnderstood(f"Head: {missing}") from None
    except NoSuchSpanner as missing:
        return HeadsCard(known.name, heads, str(missing))
    if style.driver is not None:
        return HeadsCard(known.name, (HeadCard(style.name, driver or "fingers", 0.0, PRACTICE, ""),))
    one = next(one for one in heads if one.head == style.name)
    where = one.usual if one.source == PRACTICE else "; ".join(filter(None, (one.source, one.usual)))
    note = f"{known.name} under the head “{one.head}” ({where}) is {driver.removesuffix(' key')} across the flats."
    try:
        return _fit("Head", None, driver.removesuffix(" key"), driver.endswith(" key"), note)
    except NotUnderstood:  # a head with its width, but no limits for its spanner: Whitworth
        return HeadsCard(known.name, (one,))


def _fit(label: str, tool: str | None, width: str, is_key: bool, *notes: str) -> FitCard:
    """The tool asked for (the right one when none was) on this width, with the usual sets beside it."""
    try:
        near = keys_in(width) if is_key else spanners_on(width)
        asked = near[0] if tool is None else key_in(tool, width) if is_key else spanner_on(tool, width)
    except NoSuchWidth as missing:
        raise NotUnderstood(f"{label}: {missing}") from None
    if tool and asked.tool.name == asked.right.name:
        notes = (f"Yes: {asked.tool.name} is the right one.", *notes)
    return fit_card(asked, near, is_key, notes)


SUM = Sum(
    name="spanner",
    title="Spanner",
    question="which spanner a thread or a head wants, and whether another one may be used",
    fields=(
        Field("what", "Thread or spanner", example="M8", must=True, first=True,
              about="a thread (M8, 1/4-20) or a width across flats (13 mm, 1/2 in, 5 mm key)"),
        Field("head", "Head", example="hex flange small",
              about="the head on that thread: hex, hex flange small, hex nut, socket"),
        Field("on", _ON, example="13 mm",
              about="the head that the spanner is to go on: a width, or a thread"),
    ),
    compute=_compute,
    card=HeadsCard | FitCard,
    example='"1/2 in" --on "13 mm"',
)  # fmt: skip
