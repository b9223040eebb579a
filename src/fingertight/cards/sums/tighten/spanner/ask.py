"""What is asked about a spanner: a thread, a width, or one spanner on one head; and which card answers it."""

import re

from fingertight.cards.sums.answer import either
from fingertight.cards.sums.asked import Field, Sum, Typed
from fingertight.cards.sums.tighten.spanner.fit import FitCard, fit_card
from fingertight.cards.sums.tighten.spanner.heads import HeadCard, HeadsCard, head_card
from fingertight.cards.sums.tighten.spanner.on_thread import OnThreadCard, on_thread_card
from fingertight.quantity import NotUnderstood
from fingertight.tighten.spanners.choose import key_in, keys_in, on_thread, spanner_on, spanners_on
from fingertight.tighten.spanners.heads import (
    PRACTICE,
    HeadSpanner,
    NoSuchHead,
    NoSuchSpanner,
    head_named,
    is_whitworth,
    spanner_for,
    spanner_mark,
    spanners_for,
    whitworth_spanner,
)
from fingertight.tighten.spanners.widths import NoSuchWidth, width_named
from fingertight.tighten.threads.names import NoSuchThread, Thread, is_left_hand, named_elsewhere, thread_meant

_WHAT, _ON = "Thread or spanner", "Head it is to go on"
_THREAD = re.compile(r"\s*[MmGg]\s*[0-9]|\s*#|.*[0-9]\s*-\s*[0-9]+(?!.*/)|.*(?:un[cf]|bsw|whit)", re.IGNORECASE)
_SAID_BESIDE = re.compile(r"\s*(?:spanner|wrench|head|jaws?|ring|a/?f|key|socket)\s*\Z", re.IGNORECASE)
_SIX_LOBES = re.compile(r"\s*T\s?[0-9]{1,3}\b", re.IGNORECASE)
_LEFT_HAND = "A left-hand thread has the same heads; it tightens anticlockwise and loosens clockwise."
_WIDTH_HAS_NO_HEAD = "Head: it belongs to a thread, and this is a width"


def _compute(typed: Typed) -> HeadsCard | FitCard | OnThreadCard:
    what, head, on = typed.text("what"), typed.text("head"), typed.text("on")
    if on:
        return _on(what, on, head)
    if _is_thread(what):
        return _heads(what, head)
    if head:
        raise NotUnderstood(f"{_WIDTH_HAS_NO_HEAD}; write for example M8 --head flange.")
    width, is_key = _width(_WHAT, what)
    return _fit(_WHAT, None, width, is_key, *_bare(what))


def _is_thread(text: str) -> bool:
    """Whether a thread was typed, one that is there or one that is not."""
    try:
        thread_meant(text)
    except NoSuchThread:
        return bool(_THREAD.match(text)) or named_elsewhere(text) is not None
    return True


def _on(what: str, on: str, head: str) -> HeadsCard | FitCard | OnThreadCard:
    """One tool on a head, or on a thread under one of its heads or under all of them."""
    marked = whitworth_spanner(_SAID_BESIDE.sub("", what))
    if not marked and _is_thread(what):
        raise NotUnderstood(f"{_WHAT}: with a head beside it, name the spanner by its size, for example 13 mm.")
    tool, is_key = (marked, False) if marked else _width(_WHAT, what)
    notes = (f"{what.strip()} is {marked} across the flats.",) if marked else _bare(what)
    if _is_thread(on):
        return _on_thread(tool, is_key, on, head, notes)
    if head:
        raise NotUnderstood(f"{_WIDTH_HAS_NO_HEAD}; leave it out.")
    flats, on_is_key = _width(_ON, on)
    return _fit(_ON, tool, flats, is_key or on_is_key or bool(re.search(r"socket\s*\Z", on, re.IGNORECASE)), *notes)


def _on_thread(
    tool: str, is_key: bool, on: str, head: str, notes: tuple[str, ...]
) -> HeadsCard | FitCard | OnThreadCard:
    """One tool on a thread: under every head it is met under, or under the one that was named."""
    try:
        thread = thread_meant(on)
        driver = spanner_for(thread, head) if head else ""
    except (NoSuchThread, NoSuchHead, NoSuchSpanner) as missing:
        raise NotUnderstood(f"{_ON}: {missing}") from None
    notes = (*notes, *((_LEFT_HAND,) if is_left_hand(on) else ()))
    if not head:
        return _under_every_head(f"{tool} key" if is_key else tool, thread, notes)
    try:
        width_named(driver.removesuffix(" key"))
    except NotUnderstood:
        raise NotUnderstood(f"{_ON}: {thread.name} under the head “{head}” has no width across flats.") from None
    if is_key and not driver.endswith(" key"):
        raise NotUnderstood(
            f"Head: a key goes into a socket, and the head “{head}” has none; leave it out or write socket."
        )
    if is_whitworth(driver) or is_whitworth(tool):  # their spanners stand in no table of openings
        style = head_named(head).name
        return _under_every_head(tool, thread, notes, only=style)
    return _fit(_ON, tool, driver.removesuffix(" key"), driver.endswith(" key"), *notes)


def _under_every_head(tool: str, thread: Thread, notes: tuple[str, ...], only: str = "") -> HeadsCard | OnThreadCard:
    try:
        found = tuple(one for one in on_thread(tool, thread) if only in {"", one.head.head})
    except NoSuchWidth as missing:
        raise NotUnderstood(f"{_WHAT}: {missing}") from None
    if not found:
        heads = tuple(head_card(one, thread) for one in spanners_for(thread))
        turned = "turned by a key" if tool.endswith(" key") else "turned by a spanner"
        why = f"No table here has a head for {thread.name} that is {turned}." if heads else _no_head(thread)
        return HeadsCard(thread.name, heads, why, notes=notes)
    if not tool.endswith(" key"):
        keys = [one for one in spanners_for(thread) if one.driver == f"{tool} key"]
        if keys:
            notes = (*notes, f"A key of {tool} goes into the head “{keys[0].head}” of {thread.name}: write {tool} key.")
    return on_thread_card(tool, thread, found, notes)


def _width(label: str, text: str) -> tuple[str, bool]:
    """The width by its name, and whether it was called a key."""
    is_key = bool(re.search(r"key\s*\Z", text, re.IGNORECASE))
    if _SIX_LOBES.match(text):
        raise NotUnderstood(
            f"{label}: “{text[:20]}” is a six-lobe driver, which no table here has; write for example M8 or 13 mm."
        )
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


def _heads(typed: str, head: str) -> HeadsCard | FitCard:
    """The heads of a thread, or the one that was named, with its spanner."""
    try:
        thread = thread_meant(typed)
    except NoSuchThread as missing:
        return HeadsCard(typed, (), str(missing), missing.nearest)
    met = spanners_for(thread)
    heads = tuple(head_card(one, thread) for one in met)
    notes = (_LEFT_HAND,) if is_left_hand(typed) else ()
    if not head:
        if heads:
            return HeadsCard(thread.name, heads, notes=notes)
        return HeadsCard(thread.name, (), _no_head(thread))
    try:
        style, driver = head_named(head), spanner_for(thread, head)
    except NoSuchHead as missing:
        raise NotUnderstood(f"Head: {missing}") from None
    except NoSuchSpanner as missing:
        return HeadsCard(thread.name, heads, str(missing))
    if style.driver is not None:
        mark = driver or "fingers"
        return HeadsCard(thread.name, (HeadCard(style.name, mark, mark, 0.0, PRACTICE, ""),), notes=notes)
    one = next(one for one in met if one.head == style.name)
    where = one.usual if one.source == PRACTICE else "; ".join(filter(None, (one.source, one.usual)))
    note = f"{thread.name} under the head “{one.head}” ({where}) is {driver.removesuffix(' key')} across the flats."
    others = _other_widths(thread, one, met)
    try:
        return _fit("Head", None, driver.removesuffix(" key"), driver.endswith(" key"), note, *others, *notes)
    except NotUnderstood:  # a head with its width, but no limits for its spanner: Whitworth
        return HeadsCard(thread.name, (head_card(one, thread),), notes=(*others, *notes))


def _no_head(thread: Thread) -> str:
    why = "a pipe thread has no head" if thread.series == "G" else "measure it across the flats"
    return f"No table here has a head for {thread.name}: {why}."


def _other_widths(thread: Thread, named: HeadSpanner, met: tuple[HeadSpanner, ...]) -> tuple[str, ...]:
    """That the thread is met with other widths too, and under which heads: the name of a head is easily mistaken."""
    is_key = named.driver.endswith(" key")
    by: dict[str, dict[str, list[str]]] = {}
    for one in met:
        if one.driver != named.driver and one.driver.endswith(" key") == is_key:
            where = f"; {one.usual}" if one.source == PRACTICE else ""
            by.setdefault(spanner_mark(one.driver, thread, one.source), {}).setdefault(where, []).append(one.head)
    if not by:
        return ()
    heads = {mark: "; ".join(f"{', '.join(names)}{where}" for where, names in of.items()) for mark, of in by.items()}
    widths = either([f"{mark.removesuffix(' key')} ({names})" for mark, names in heads.items()])
    return (f"Under other heads {thread.name} takes {widths}: measure it.",)


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
    card=HeadsCard | FitCard | OnThreadCard,
    example='"1/2 in" --on "13 mm"',
)  # fmt: skip
