"""One line of a job's log, as it was sent, and when it counts.

The kinds and their fields are the table in `kinds.py`; here a JSON object becomes an `Entry`, or a list of sentences.
"""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any, NamedTuple

from fingertight.ledger.kinds import ENTRY_KINDS, FLAG_KINDS, Shape
from fingertight.ledger.plan import Plan
from fingertight.quantity import UNITS, NotUnderstood, converted, unit_named


class Entry(NamedTuple):
    """One entry. `said`: the whole object as sent, unknown fields kept; `when`: the corrected time [s since 1970]."""

    id: str
    kind: str
    when: float
    said: Mapping[str, Any]

    @property
    def by(self) -> str:
        """Who wrote it."""
        return str(self.said.get("by", ""))

    @property
    def by_instructor(self) -> bool:
        """Whether it was written as an instructor."""
        return self.said.get("as") == "instructor"


class NotAnEntry(ValueError):
    """The object is no entry of this machine's log; `sentences` say what is wrong and how to mend it."""

    def __init__(self, sentences: list[str]) -> None:
        super().__init__(" ".join(sentences))
        self.sentences = sentences


def corrected_time(at: str, skew_s: float = 0.0) -> float:
    """When it happened by the server's clock [s since 1970]: the device's time plus the skew measured at delivery.

    >>> corrected_time("2026-03-05T09:00:00+01:00", 30)
    1772697630.0

    Raises ValueError when the time is not RFC 3339 with an offset.
    """
    moment = datetime.fromisoformat(at)
    if moment.tzinfo is None:
        raise ValueError(at)
    return moment.timestamp() + skew_s


def read_entry(said: object, plan: Plan) -> Entry:
    """The entry a JSON object says, for the machine of this plan.

    Raises NotAnEntry with every mistake: no id, unknown kind, a field missing or of the wrong shape, an unknown part.
    """
    if not isinstance(said, dict):
        raise NotAnEntry(["An entry is a JSON object with id, kind, at and by."])
    kind = ENTRY_KINDS.get(str(said.get("kind")))
    if kind is None:
        raise NotAnEntry([_unknown_kind(said.get("kind"))])
    sentences = []
    when, skew_s = 0.0, said.get("skew_s") or 0.0
    if skew_s and (wrong := _is_number(skew_s, plan)):
        # A time that is no number could not be sorted among the others.
        sentences.append(f"`skew_s`: {wrong}")
        skew_s = 0.0
    try:
        when = corrected_time(said["at"], skew_s)
    except (KeyError, TypeError, ValueError, OverflowError):
        sentences.append("`at` is not a time with an offset; write it as 2026-03-05T09:00:00+01:00.")
    name = said.get("id")
    if not isinstance(name, str) or not name:
        sentences.append("`id` is missing; every entry has the id its device gave it.")
    for asked, must, check in _ASKED[kind.name]:
        value = said.get(asked)
        if value is not None:
            if wrong := check(value, plan):
                sentences.append(f"`{asked}`: {wrong}")
        elif must:
            sentences.append(f"`{asked}` is missing; an entry of kind {kind.name} says {must} there.")
    if not sentences:
        sentences = _together(kind.name, said, plan)
    if sentences:
        raise NotAnEntry(sentences)
    return Entry(said["id"], kind.name, when, said)


def _unknown_kind(kind: object) -> str:
    return f"There is no entry of kind {kind!r}; the kinds are {', '.join(ENTRY_KINDS)}."


# -- one field at a time: "" when all is well, else a sentence -------------------------------------------------------

_Checker = Callable[[Any, Plan], str]


def _is_text(value: Any, plan: Plan) -> str:
    return "" if isinstance(value, str) else "a text belongs here."


def _is_number(value: Any, plan: Plan) -> str:
    # Beyond 1e300 the next sum is infinite, and a whole number of that size is no float at all.
    good = isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) <= 1e300
    return "" if good else f"a number belongs here, not {value!r}."


def _is_temperature(value: Any, plan: Plan) -> str:
    if wrong := _is_number(value, plan):
        return wrong
    return "" if -20 <= value <= 150 else f"nobody measures at {value:g} °C; write the temperature of the part in °C."


def _is_count(value: Any, plan: Plan) -> str:
    good = isinstance(value, int) and not isinstance(value, bool) and value >= 0
    return "" if good else f"a whole number, 0 or more, belongs here, not {value!r}."


def _one_of(names: Callable[[Plan], Mapping[str, object]], word: str) -> _Checker:
    def check(value: Any, plan: Plan) -> str:
        known = names(plan)
        if isinstance(value, str) and value in known:
            return ""
        return f"this machine has no {word} {value!r}{plan.nearest(value, known)}."

    return check


def _is_counts(value: Any, plan: Plan) -> str:
    if isinstance(value, dict) and not any(_is_count(number, plan) for number in value.values()):
        return ""
    return 'counts are whole numbers by name, like {"M6x28": 6}.'


def _is_bags(value: Any, plan: Plan) -> str:
    if isinstance(value, dict) and not any(_is_counts(counts, plan) for counts in value.values()):
        return ""
    return 'counts stand under their bag, like {"14": {"M6x28": 6}}.'


def _is_texts(value: Any, plan: Plan) -> str:
    if isinstance(value, list) and all(each is None or isinstance(each, str) for each in value):
        return ""
    return "a list of texts belongs here."


def _are_parts(value: Any, plan: Plan) -> str:
    if not isinstance(value, list):
        return "a list of ids of parts belongs here."
    known = _one_of(lambda plan: plan.parts, "part")
    return next((said for each in value if (said := known(each, plan))), "")


def _is_values(value: Any, plan: Plan) -> str:
    good = isinstance(value, list) and value and all(isinstance(each, dict) for each in value)
    if not good or any(_is_number(each.get("value"), plan) for each in value):
        return 'readings are a list like [{"at": "top", "across": "along", "value": 68.02}], with numbers as values.'
    if any(not isinstance(each.get(key), (str, type(None))) for each in value for key in ("at", "across")):
        return "`at` and `across` of a reading are texts."
    return ""


def _is_count_list(value: Any, plan: Plan) -> str:
    good = isinstance(value, list) and not any(_is_count(each, plan) for each in value)
    return "" if good else "a list of position numbers belongs here."


def _is_unit(value: Any, plan: Plan) -> str:
    if not isinstance(value, str):
        return f"the name of a unit belongs here, not {value!r}."
    if value in UNITS:
        return ""
    try:
        unit_named(value)
    except NotUnderstood as mistake:
        return str(mistake)
    return ""


def _is_word(*words: str) -> _Checker:
    def check(value: Any, plan: Plan) -> str:
        return "" if value in words else f"{' or '.join(words)} belongs here, not {value!r}."

    return check


_CHECKS: dict[Shape, _Checker] = {
    Shape.TEXT: _is_text,
    Shape.NUMBER: _is_number,
    Shape.TEMPERATURE: _is_temperature,
    Shape.COUNT: _is_count,
    Shape.PART: _one_of(lambda plan: plan.parts, "part"),
    Shape.PARTS: _are_parts,
    Shape.PLACE: _is_text,
    Shape.CHECK: _one_of(lambda plan: plan.anatomy.check_by_id, "check"),
    Shape.SETTING: _one_of(lambda plan: plan.anatomy.setting_by_id, "setting"),
    Shape.SIGN: _one_of(lambda plan: plan.anatomy.sign_by_id, "sign-off"),
    Shape.ENTRY: _is_text,
    Shape.UNIT: _is_unit,
    Shape.COUNTS: _is_counts,
    Shape.BAGS: _is_bags,
    Shape.TEXTS: _is_texts,
    Shape.VALUES: _is_values,
    Shape.COUNT_LIST: _is_count_list,
    Shape.VERDICT: _is_word("good", "worn"),
    Shape.WAY: _is_word("out", "in"),
    Shape.HELP: _is_word("asked", "given"),
    Shape.FLAG: _is_word(*FLAG_KINDS),
}
# Looked up once: every entry of every replay asks for a few, and the hash of an enum is no quick one.
# Each field with what must be said there, "" where it may be left out, and its check.
_ASKED = {
    kind.name: tuple(
        (field.name, field.shape.value if field.must else "", _CHECKS[field.shape]) for field in kind.fields
    )
    for kind in ENTRY_KINDS.values()
}


# -- what only shows when the fields are seen together ---------------------------------------------------------------


def _together(kind: str, said: Mapping[str, Any], plan: Plan) -> list[str]:
    if kind in ("off", "on", "tighten"):
        sentence = _wrong_piece(said, plan)
        if not sentence and kind == "tighten":
            sentence = _wrong_set(said, plan)
        return [sentence] if sentence else []
    if kind in ("reading", "set"):
        sentence = _wrong_measure(kind, said, plan)
        return [sentence] if sentence else []
    if kind == "aside" and not said["reason"].strip():
        return ["`reason` is empty; say why the flag may stand."]
    if kind in ("renew", "lost", "found") and said.get("item") is not None:
        part = plan.parts[said["part"]]
        if said["item"] not in part.small:
            things = ", ".join(part.small) or "nothing that is counted"
            return [f"{part.title} has no {said['item']!r} in its bag; it has {things}."]
    return []


def _wrong_piece(said: Mapping[str, Any], plan: Plan) -> str:
    part = plan.parts[said["part"]]
    place = said.get("place")
    if place in part.places:
        return ""
    if part.places == (None,):
        return f"{part.title} has no places, but the entry names {place!r}; leave `place` out."
    return f"{part.title} goes to one of {', '.join(map(str, part.places))}; say which in `place`, not {place!r}."


def _wrong_set(said: Mapping[str, Any], plan: Plan) -> str:
    part = plan.parts[said["part"]]
    if said["set"] >= len(part.sets):
        return f"{part.title} has {len(part.sets)} fastener sets, counted from 0; there is no set {said['set']}."
    passes = part.sets[said["set"]].passes
    if said["pass"] >= len(passes):
        return (
            f"{part.title} set {said['set']} has {len(passes)} passes, counted from 0; there is no pass {said['pass']}."
        )
    return _wrong_unit(said["unit"], "N·m")


def _wrong_measure(kind: str, said: Mapping[str, Any], plan: Plan) -> str:
    if kind == "reading":
        check = plan.anatomy.check_by_id[said["check"]]
        if check.gap:
            return f"{check.title} is worked out from {check.gap.outer} and {check.gap.inner}; measure those."
        return _wrong_unit(said["unit"], check.unit)
    setting = plan.anatomy.setting_by_id[said["setting"]]
    if setting.range is None:
        return "" if said.get("answer") is not None else f"{setting.title} is a question; say the answer in `answer`."
    if said.get("value") is None:
        return f"{setting.title} is a size; say it in `value`, in {setting.unit}."
    return _wrong_unit(said.get("unit") or setting.unit, setting.unit)


def _wrong_unit(unit: str, wanted: str) -> str:
    if unit == wanted:
        return ""
    try:
        converted(1.0, unit, wanted)
    except NotUnderstood as mistake:
        return str(mistake)
    return ""
