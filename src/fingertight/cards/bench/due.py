"""What is due now besides moves: passes of the wrench, settings, sign-offs."""

from collections.abc import Sequence
from dataclasses import dataclass

from fingertight.anatomy.model import Setting
from fingertight.cards.bench.moves import FLAT
from fingertight.cards.card import Card
from fingertight.cards.measure.linked import SumLink, sum_of_setting
from fingertight.cards.pictures.bolts import BoltPicture, bolt_picture
from fingertight.cards.sums.setting.gaps.words import stacked
from fingertight.ledger.asked.due import PassDue, passes_due, settings_due, signs_before_off, signs_before_on
from fingertight.ledger.plan import listed
from fingertight.ledger.state import State
from fingertight.quantity import UNITS, converted, plain
from fingertight.setting.gaps.go_no_go import proof

TORQUE_UNITS = tuple(unit.name for unit in UNITS.values() if unit.measures == "torque")


@dataclass(frozen=True)
class TightenCard(Card):
    """The next pass of one fastener set. `set` and `number` count from 0; `torque` belongs on the wrench [N·m]."""

    id: str
    part: str
    place: str
    set: int
    number: int
    title: str
    short: str
    sentence: str
    torque: str
    units: tuple[str, ...]
    picture: BoltPicture | None
    act: str


@dataclass(frozen=True)
class SettingCard(Card):
    """Something to adjust now: a size to type, or a question to answer. leaves: which feeler leaf must go, and which
    must not; "" where it is set with something else."""

    id: str
    title: str
    sentence: str
    leaves: str
    link: SumLink | None
    label: str
    question: str
    answers: tuple[str, ...]
    typed: str
    problem: str


@dataclass(frozen=True)
class SignCard(Card):
    """A sign-off the instructor is asked for now."""

    id: str
    title: str
    sentence: str


def tighten_cards(state: State) -> tuple[TightenCard, ...]:
    """Which passes are to be done now, the piece fitted first first?"""
    return tuple(_tighten_card(state, due) for due in passes_due(state))


def _tighten_card(state: State, due: PassDue) -> TightenCard:
    part, place = due.slot
    plan = state.plan.parts[part]
    fasteners = plan.sets[due.set]
    torque = plain(round(due.torque_nm, 2))
    what = f"{fasteners.how_many} × {fasteners.counted_as}" if fasteners.counted_as else "this set"
    turn = f"pass {due.number + 1} of {due.of}" if due.of > 1 else "one pass"
    order = ", in the numbered order" if len(fasteners.at) > 1 else ""
    source = f" ({fasteners.torque_source})" if fasteners.torque_source else ""
    surface = f" Threads {fasteners.surface}." if fasteners.surface else ""
    return TightenCard(
        id=FLAT.sub("-", f"tighten-{part}-{place or ''}-{due.set}".lower()),
        part=part,
        place=place or "",
        set=due.set,
        number=due.number,
        title=plan.piece_name(place),
        short=f"{what} · {turn} · {torque} N·m",
        sentence=f"Tighten {what} to {torque} N·m{order}: {turn}{source}.{surface}",
        torque=torque,
        units=TORQUE_UNITS,
        picture=bolt_picture((fasteners,), tightening=True),
        act=f"Done: {turn}",
    )


def setting_cards(state: State, typed: dict[str, str], problem: str) -> tuple[SettingCard, ...]:
    """What is to be set now? `typed` and `problem` are kept for the setting that was typed badly."""
    return tuple(
        _setting_card(state, setting, typed if typed.get("setting") == setting.id else {}, problem)
        for setting in settings_due(state)
    )


def _setting_card(state: State, setting: Setting, typed: dict[str, str], problem: str) -> SettingCard:
    said = [setting.how.rstrip(".")] if setting.how else []
    if setting.range:
        said.append(f"between {plain(setting.range[0])} and {plain(setting.range[1])} {setting.unit}")
    if setting.instrument:
        said.append(f"with {state.plan.anatomy.instrument_by_id[setting.instrument].title}")
    if setting.before:
        said.append(f"before {state.plan.titles(setting.before)}")
    was = state.set_to.get(setting.id)
    if was is not None:
        said.append(f"it was last set to {plain(was) if isinstance(was, float | int) else was}")
    sentence = "; ".join(said)
    return SettingCard(
        id=setting.id,
        title=setting.title,
        sentence=f"{sentence[0].upper()}{sentence[1:]}." if sentence else "",
        leaves=_leaves(state, setting),
        link=sum_of_setting(state.plan.anatomy, setting),
        label=f"Set to, {setting.unit}",
        question=setting.question,
        answers=setting.answers,
        typed=typed.get("value", ""),
        problem=problem if typed else "",
    )


def _leaves(state: State, setting: Setting) -> str:
    """Which leaf of the workshop's feelers must go and which must not, so that the setting is surely in its range?"""
    instrument = state.plan.anatomy.instrument_by_id.get(setting.instrument or "")
    if setting.range is None or instrument is None or not instrument.leaves:
        return ""
    least, most = (converted(end, setting.unit, "mm") for end in setting.range)
    leaves = [converted(leaf, instrument.unit, "mm") for leaf in instrument.leaves]
    found = proof(least, most, leaves, converted(instrument.error, instrument.unit, "mm"))
    if found.goes is None or found.stops is None or not found.proves:
        return "These leaves cannot prove both ends of the range: measure it another way, or ask the instructor."
    return f"Set right when {stacked(found.goes)} goes in with a light drag and {stacked(found.stops)} does not."


def sign_cards(state: State, coming_off: Sequence[str], going_on: Sequence[str]) -> tuple[SignCard, ...]:
    """Which sign-offs do the moves of now wait for, and which were missed?"""
    wanted: dict[str, list[str]] = {}
    asked = [(part, signs_before_off(state, part)) for part in coming_off]
    asked += [(part, signs_before_on(state, part)) for part in going_on]
    for part, signs in asked:
        for sign in signs:
            wanted.setdefault(sign.id, []).append(state.plan.parts[part].title)
    missed: dict[str, list[str]] = {}
    for _, flagged, sign_id in state.flags.standing("unsigned"):
        missed.setdefault(str(sign_id), []).append(state.plan.parts[str(flagged)].title)
    return tuple(
        SignCard(sign.id, sign.title, _sign_sentence(wanted.get(sign.id, []), missed.get(sign.id, [])))
        for sign in state.plan.anatomy.signs
        if sign.id in wanted or sign.id in missed
    )


def _sign_sentence(waiting: Sequence[str], missed: Sequence[str]) -> str:
    before = f"Before {listed(waiting)}: the instructor looks, and signs." if waiting else ""
    without = f"{listed(missed)} moved without it." if missed else ""
    return " ".join(said for said in (before, without) if said)
