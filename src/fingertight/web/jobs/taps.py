"""A form sent from a page becomes an entry: only its shape is looked at here. What it means, the ledger says."""

import json
import re
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any, Final

from django.http import QueryDict

from fingertight.anatomy.model import Anatomy, Instrument
from fingertight.cards.bench.bags import Bags
from fingertight.cards.measure.page import field_of
from fingertight.cards.order.whole import no_way
from fingertight.ledger.entry import NotAnEntry, read_entry
from fingertight.ledger.plan import Plan
from fingertight.measure.slips import turn_of
from fingertight.measure.typed import Scale, Typed, as_read
from fingertight.order.whole import NoWay, way_to
from fingertight.quantity import UNITS, NotUnderstood, converted, in_house, read_number, read_quantity, unit_named
from fingertight.store.log.promise import Ended, NotKept, Receipt, Sent
from fingertight.store.models import Job
from fingertight.tighten.torque.wrench import LARGEST_NM
from fingertight.web.jobs.ledgers import ledger_of, log_of, plan_of
from fingertight.web.marks import new_id
from fingertight.web.people.signin import NotIn, instructor_by
from fingertight.web.people.who import Who

AN_ID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\Z")
LONGEST_TEXT = 1000
MOST_WANTED = 8
COLDEST_C, HOTTEST_C = -20, 150
Said = dict[str, Any]


class NotWritten(Exception):
    """Nothing was written; the message says what is wrong and how to mend it, `status` whose doing it is."""

    status = 422


class Mistyped(NotWritten):
    """What was typed is no entry."""


class SaidOtherwise(NotWritten):
    """The form was sent before, and said something else then."""

    status = 409


class Unkept(NotWritten):
    """The entry is right but could not be kept; sending it again is safe."""

    status = 503


class NotYours(NotWritten):
    """It is the instructor's to do, and no instructor said so."""

    status = 403


ONLY_INSTRUCTORS = {"sign", "decide", "aside"}


def press(job: Job, form: QueryDict, who: Who) -> Receipt:
    """Write the entry a form says into the job's log as said by whoever sends it; a form sent twice counts once.

    What only an instructor may say takes an instructor: the one who sends it, or one who types a number at the tablet
    of somebody else, who stays signed in there.

    Raises NotWritten: Mistyped when it cannot be understood, NotYours, SaidOtherwise when the same form (gone back to
    in the browser) said something else before, Unkept when it could not be kept.
    """
    plan, _ = plan_of(job.machine_sha256, job.machine_version.text)
    said = said_in(form, plan, who)
    if not who.teaches and _takes_an_instructor(job, said):
        said |= _said_by_instructor(job, form, who)
    log = log_of(job)
    try:
        receipt = log.append([Sent(said["id"], json.dumps(said, ensure_ascii=False))], now())[0]
    except NotKept as failed:
        raise Unkept(str(failed)) from None
    if receipt.ended is Ended.REFUSED:
        raise Mistyped(receipt.because)
    if receipt.ended is Ended.HAD and receipt.job == job.id:
        before = json.loads(log.after(receipt.seq - 1)[0].body)
        if _without_sender(before) != _without_sender(said):
            raise SaidOtherwise("This form was sent before and said something else, which stands. Load the page again.")
    return receipt


def _takes_an_instructor(job: Job, said: Said) -> bool:
    """Whether only an instructor may say this: a signature, a decision, or taking back what an instructor said.

    What nobody said yet may become an instructor's: its id stands in the form it will come with.
    """
    if said["kind"] != "undo":
        return said["kind"] in ONLY_INSTRUCTORS
    with ledger_of(job) as live:
        undone = next((entry for entry in live.ledger.entries if entry.id == said["entry"]), None)
    return undone is None or undone.said.get("as") == "instructor"


def _said_by_instructor(job: Job, form: Mapping[str, str], who: Who) -> Said:
    """By whom and as what it is said, when an instructor types a number here; and at whose bench it was shown."""
    number = (form.get("number") or "").strip()
    if not number:
        raise NotYours("An instructor does this. Ask for one: they choose their name and type their number here.")
    try:
        person = instructor_by(job.workshop, form.get("instructor") or "", number)
    except NotIn as wrong:
        raise NotYours(str(wrong)) from None
    return {"by": person.id, "as": "instructor", "shown_by": who.id}


def _without_sender(said: Said) -> Said:
    """What an entry says, whenever and through whosever hands the form came."""
    return {name: value for name, value in said.items() if name not in {"at", "by", "as", "shown_by"}}


def said_in(form: QueryDict, plan: Plan, who: Who) -> Said:
    """The entry a form says, as it will be kept.

    Raises Mistyped with every sentence there is about it.
    """
    kind = form.get("kind", "")
    if kind not in FORMS:
        raise Mistyped("This form says nothing the log knows. Load the page again.")
    try:
        fields = FORMS[kind](form, plan.anatomy)
        said = {**signed(kind, who, form.get("id", "")), **fields}
        read_entry(said, plan)
    except (NotUnderstood, NotAnEntry) as wrong:
        raise Mistyped(str(wrong)) from None
    return said


def opening(plan: Plan, bags: Bags, absent: list[str], off: list[str], who: Who) -> list[Said]:
    """The first entries of a job on a machine that lacks some parts, or is partly stripped already.

    Raises Mistyped when a part is ticked as both, or is none of this machine's.
    """
    both = [plan.parts[part].title for part in absent if part in off and part in plan.parts]
    if both:
        raise Mistyped(f"{both[0]} is ticked twice: either this machine does not have it, or it is off. Tick one.")
    if any(part not in plan.parts for part in [*absent, *off]):
        raise Mistyped("A part that was ticked is none of this machine's. Load the page again.")
    pieces = sorted((slot for slot in bags if slot[0] in off), key=lambda slot: int(bags[slot]))
    said = [signed("absent", who) | {"part": part} for part in absent]
    for part, place in pieces:
        said.append(signed("off", who) | {"part": part, "bag": bags[part, place]} | ({"place": place} if place else {}))
    return said


def aimed(anatomy: Anatomy, wanted: list[str], way: list[str]) -> Said:
    """What an aim says besides who and when. Raises Mistyped for parts the machine has not, or nothing leads to."""
    wanted = list(dict.fromkeys(wanted))
    if any(part not in anatomy.part_by_id for part in (*wanted, *way)):
        raise Mistyped("A part that was chosen is none of this machine's. Load the page again.")
    if len(wanted) > MOST_WANTED:
        raise Mistyped(f"{len(wanted)} parts are wanted; choose {MOST_WANTED} at most, or strip all of it.")
    try:
        return {"parts": wanted, "way": list(way_to(anatomy, wanted, way))}
    except NoWay as none:
        raise Mistyped(no_way(anatomy, none)) from None


def signed(kind: str, who: Who, id_: str = "") -> Said:
    """What every entry says: id, kind, when, by whom and as what."""
    name = id_ if AN_ID.match(id_) else new_id()
    return {"id": name, "kind": kind, "at": now(), "by": who.id, "as": who.signs_as}


def now() -> str:
    """This moment with this machine's offset (RFC 3339)."""
    return datetime.now(UTC).astimezone().isoformat(timespec="milliseconds")


def _texts(*names: str) -> Callable[[QueryDict, Anatomy], Said]:
    """A form of plain texts: what is filled in is said."""

    def said(form: QueryDict, anatomy: Anatomy) -> Said:
        return {name: text[:LONGEST_TEXT] for name in names if (text := form.get(name, "").strip())}

    return said


def _on(form: QueryDict, anatomy: Anatomy) -> Said:
    said = _texts("part", "place", "bag")(form, anatomy)
    part = anatomy.part_by_id.get(said.get("part", ""))
    if part and part.ask:
        said["answers"] = [form.get(f"answer-{number}") for number in range(len(part.ask))]
        missing = [ask.question for ask, answer in zip(part.ask, said["answers"], strict=True) if not answer]
        if missing:
            raise Mistyped(f"“{missing[0]}” is not answered yet. Look at the part, choose an answer, then press again.")
    return said


def _tighten(form: QueryDict, anatomy: Anatomy) -> Said:
    said = _texts("part", "place")(form, anatomy)
    torque, unit = read_quantity(form.get("torque", ""), form.get("unit", "N·m"))
    if not 0 < in_house(torque, unit) <= LARGEST_NM:
        raise Mistyped(f"“{form.get('torque', '')[:20]} {unit}” is no torque of a wrench. Type what its scale showed.")
    said |= {"set": _whole(form, "set"), "pass": _whole(form, "pass"), "torque": torque, "unit": unit}
    order = form.get("order", "").strip()
    if not order:
        return said
    positions = order.split(",")
    if not all(one.isascii() and one.isdigit() and len(one) < 5 for one in positions):
        raise Mistyped("The order that was tapped cannot be read. Load the page again.")
    return said | {"order": [int(one) for one in positions]}


def _reading(form: QueryDict, anatomy: Anatomy) -> Said:
    check = anatomy.check_by_id.get(form.get("check", ""))
    if check is None:
        raise Mistyped("This machine has no such size to measure. Load the page again.")
    instrument = anatomy.instrument_by_id.get(form.get("instrument", "")) or anatomy.instrument_by_id.get(
        check.instrument or ""
    )
    read: list[tuple[Said, str, Typed]] = []
    for row, at in enumerate(check.at or (None,)):
        for column, across in enumerate(check.across or (None,)):
            text = form.get(field_of(row, column), "").strip()
            if text:
                spot = {name: said for name, said in (("at", at), ("across", across)) if said is not None}
                read.append((spot, text, _read(text, _scale(check.unit, instrument), at, across)))
    if not read:
        raise Mistyped("No reading was typed. Read the instrument, type what it shows, then press again.")
    # One unit for the entry: that of the first; the text as typed stays beside it.
    unit = read[0][2].unit
    values = [
        {**spot, "value": round(converted(value, each.unit, unit), 9)}
        for spot, _, each in read
        for value in each.values
    ]
    said: Said = {"check": check.id, "values": values, "unit": unit, "typed": "; ".join(text for _, text, _ in read)}
    if degrees := form.get("temperature", "").strip():
        said["temperature"] = _temperature(degrees)
    return {**said, "instrument": instrument.id} if instrument else said


def _scale(unit: str, instrument: Instrument | None) -> Scale:
    """What a bare number is in: the instrument's unit, where it measures what is asked for."""
    if instrument is None or UNITS[instrument.unit].measures != unit_named(unit).measures:
        return Scale(unit)
    return Scale(instrument.unit, instrument.resolution, turn_of(instrument.kind, instrument.unit))


def _read(text: str, scale: Scale, at: str | None, across: str | None) -> Typed:
    try:
        read = as_read(text, scale)
        converted(1.0, read.unit, scale.unit)  # a size, whatever it was typed in
        return read
    except NotUnderstood as wrong:
        spot = ", ".join(name for name in (at, across) if name)
        raise Mistyped(f"{spot[:1].upper()}{spot[1:]}: {wrong}" if spot else str(wrong)) from None


def _temperature(text: str) -> float:
    try:
        degrees = converted(*read_quantity(text, "°C"), "°C")
    except NotUnderstood as wrong:
        raise Mistyped(f"Temperature: {wrong}") from None
    if not COLDEST_C <= degrees <= HOTTEST_C:
        raise Mistyped(f"Temperature: {text.strip()} is no workshop’s; write that of the part, for example 28 °C.")
    return round(degrees, 3)


def _set(form: QueryDict, anatomy: Anatomy) -> Said:
    setting = anatomy.setting_by_id.get(form.get("setting", ""))
    if setting is None:
        raise Mistyped("This machine has no such setting. Load the page again.")
    if setting.range is None:
        return {"setting": setting.id, "answer": form.get("answer", "")}
    text, instrument = form.get("value", "").strip(), anatomy.instrument_by_id.get(setting.instrument or "")
    read = as_read(text, _scale(setting.unit, instrument))
    if len(read.values) > 1:
        raise Mistyped(f"“{text[:40]}” holds {len(read.values)} readings; write the one it is left at.")
    return {"setting": setting.id, "value": read.values[0], "unit": read.unit}


def _stock(form: QueryDict, anatomy: Anatomy) -> Said:
    return {**_texts("part", "item", "bag")(form, anatomy), "count": _whole(form, "count")}


def _off(form: QueryDict, anatomy: Anatomy) -> Said:
    said, counts = _texts("part", "place", "bag")(form, anatomy), _counts(form, "holds")
    if counts and not said.get("bag"):
        raise Mistyped("These were counted, but no bag is named. Type the bag they lie in, then press again.")
    return {**said, "counts": counts} if counts else said


def _count(form: QueryDict, anatomy: Anatomy) -> Said:
    bags: dict[str, dict[str, int]] = {}
    for field in form:
        where, _, rest = field.partition("/")
        bag, _, name = rest.partition("/")
        if where == "count" and name and form.get(field, "").strip():
            bags.setdefault(bag, {})[name] = _whole(form, field, f"Bag {bag}, {name}: ")
    tools = _counts(form, "tools")
    if not bags and not tools:
        raise Mistyped("Nothing was counted. Type how many there are of at least one thing, then press again.")
    left_out = [field for field in form if field.startswith("tools/") and not form.get(field, "").strip()]
    if left_out:  # a count of tools says that what it does not list is not there
        raise Mistyped(f"{left_out[0].removeprefix('tools/')} is not counted yet. Type 0 where none is there.")
    return {**({"bags": bags} if bags else {}), **({"tools": tools} if tools else {})}


def _counts(form: QueryDict, where: str) -> dict[str, int]:
    """The numbers that were typed, by name, in the fields that begin with `where`."""
    return {
        field.removeprefix(f"{where}/"): _whole(form, field, f"{field.removeprefix(f'{where}/')}: ")
        for field in form
        if field.startswith(f"{where}/") and form.get(field, "").strip()
    }


def _aim(form: QueryDict, anatomy: Anatomy) -> Said:
    """The parts that are wanted, and what comes off for them; none: everything comes off after all."""
    return aimed(anatomy, form.getlist("to"), form.getlist("way"))


def _nothing(form: QueryDict, anatomy: Anatomy) -> Said:
    return {}


def _whole(form: Mapping[str, str], field: str, where: str = "") -> int:
    try:
        number = read_number(form.get(field, ""))
    except NotUnderstood as wrong:
        raise Mistyped(f"{where}{wrong}") from None
    if number != int(number) or number < 0:
        raise Mistyped(f"{where}“{form.get(field, '')}” is not a whole number; write 0, 1, 2 …")
    return int(number)


FORMS: Final[dict[str, Callable[[QueryDict, Anatomy], Said]]] = {
    "off": _off,
    "on": _on,
    "tighten": _tighten,
    "reading": _reading,
    "decide": _texts("check", "verdict"),
    "set": _set,
    "sign": _texts("sign"),
    "renew": _stock,
    "lost": _stock,
    "found": _stock,
    "count": _count,
    "note": _texts("part", "text", "photo", "wiring"),
    "help": _texts("state"),
    "absent": _texts("part"),
    "tool": _texts("tool", "way"),
    "undo": _texts("entry"),
    "aside": _texts("entry", "flag", "reason"),
    "aim": _aim,
    "finish": _nothing,
}
