"""What a fitting asks for: right answers, new stock, the settings and the sign-offs in their place."""

from fingertight.anatomy.model import Setting, Sign
from fingertight.ledger.asked import due
from fingertight.ledger.entry import Entry
from fingertight.ledger.plan import PartPlan, listed
from fingertight.ledger.state import Slot, State
from fingertight.quantity import converted, plain


def taken_off(state: State, entry: Entry, plan: PartPlan, slot: Slot) -> None:
    """A piece comes off: what was set or signed for it no longer counts, and some of it must have been recorded."""
    state.fitted.pop(slot, None)
    for number in plan.torqued:
        state.passes.pop((slot, number), None)
        state.early.pop((slot, number), None)
    for setting in plan.disturbs:
        state.disturbed[setting] = None
    for sign in due.signs_before_off(state, plan.id):
        _raise_unsigned(state, entry, plan, sign, "came off")
    missing = " and ".join(due.notes_before_off(state, plan.id))
    if missing:
        text = f"{plan.title} came off before its {missing} {'were' if ' and ' in missing else 'was'} noted."
        mend = f"Note the {missing} of {plan.title} now, from a bench that still has it or from the demonstration."
        state.flags.raise_(("unrecorded", plan.id), plan.id, entry.id, text, mend)


def went_on(state: State, entry: Entry, plan: PartPlan, slot: Slot) -> None:
    """A piece goes on: ask its questions, use up new stock, and look whether what belongs before it is done."""
    state.fitted[slot] = None
    for number in plan.torqued:
        state.passes.pop((slot, number), None)
        state.early.pop((slot, number), None)
    _judge_answers(state, entry, plan, slot)
    _use_stock(state, entry, plan, slot)
    for setting in due.settings_before(state, plan.id):
        _raise_unset(state, entry, plan.id, setting, f"{plan.title} went on")
    for sign in due.signs_before_on(state, plan.id):
        _raise_unsigned(state, entry, plan, sign, "went on")


def answered_again(state: State, entry: Entry, plan: PartPlan, slot: Slot) -> None:
    """`on` for a part that is on: only its answers are new."""
    if entry.said.get("answers"):
        _judge_answers(state, entry, plan, slot)


def _judge_answers(state: State, entry: Entry, plan: PartPlan, slot: Slot) -> None:
    if not plan.questions:
        return
    cause = ("wrong-way", plan.id, slot[1])
    answers = entry.said.get("answers") or []
    given = [*answers, *[None] * len(plan.questions)]
    wrong = [(ask, answer) for ask, answer in zip(plan.questions, given, strict=False) if not _same(answer, ask.right)]
    if not wrong:
        state.flags.mend(*cause)
        return
    ask, answer = wrong[0]
    said = f"was answered “{answer}”" if answer else "was not answered"
    text = f"{plan.piece_name(slot[1])}: “{ask.question}” {said}; right is “{ask.right}”."
    mend = f"Look at {plan.piece_name(slot[1])}, turn it the right way, and answer again."
    state.flags.raise_(cause, plan.id, entry.id, text, mend, place=slot[1])


def _same(answer: str | None, right: str) -> bool:
    return answer is not None and answer.strip().casefold() == right.strip().casefold()


def _use_stock(state: State, entry: Entry, plan: PartPlan, slot: Slot) -> None:
    short: list[str | None] = []
    for small_thing, needed in plan.single_use:
        key = (plan.id, small_thing)
        there = state.stock.get(key, 0)
        state.stock[key] = max(0, there - needed)
        if there < needed:
            short.append(small_thing)
    if short:
        name = plan.piece_name(slot[1])
        things = listed([f"a used {each}" for each in short if each])
        used = f" with {things}" if things and None not in short else f" used, with {things}" if things else " used"
        fresh = listed([f"a new {each or 'one'}" for each in short])
        text = f"{name} went on{used}; {'it is' if len(short) == 1 else 'each is'} for one use only."
        mend = f"Take {name} off again and fit {'it with ' if None not in short else ''}{fresh}."
        state.flags.raise_(("spent", plan.id, slot[1]), plan.id, entry.id, text, mend, place=slot[1])


def set_(state: State, entry: Entry) -> None:
    """Something was adjusted. It counts when what comes before is on, and what comes after is not yet."""
    said = entry.said
    setting = state.plan.anatomy.setting_by_id[said["setting"]]
    state.set_to[setting.id] = said["answer"] if setting.range is None else said["value"]
    in_time = all(state.is_wholly_on(part) for part in setting.after) and not any(
        state.moves.is_on(part) for part in setting.before
    )
    if not in_time:
        return
    if _within(setting, said.get("value"), said.get("unit"), said.get("answer")):
        state.disturbed.pop(setting.id, None)
        state.flags.mend("unset", setting.id)
    else:
        # What was right before is not right any more.
        state.disturbed[setting.id] = None


def _within(setting: Setting, value: float | None, unit: str | None, answer: str | None) -> bool:
    if setting.range is None:
        return _same(answer, setting.right)
    size = converted(value or 0.0, unit or setting.unit, setting.unit)
    grain = 1e-9 * max(1.0, abs(size))
    return setting.range[0] - grain <= size <= setting.range[1] + grain


def _raise_unset(state: State, entry: Entry, part: str | None, setting: Setting, when: str) -> None:
    if setting.range is None:
        wanted = f"answer “{setting.question}” with “{setting.right}”"
    else:
        wanted = f"set it between {plain(setting.range[0])} and {plain(setting.range[1])} {setting.unit}"
    covers = part is not None and part in setting.before and state.moves.is_on(part)
    first = f"Take {state.plan.parts[part].title} off again and " if part and covers else ""
    mend = f"{first}{wanted}."
    text = f"{when}, but {setting.title} has not been set right since it was disturbed."
    state.flags.raise_(("unset", setting.id), part, entry.id, text, mend[0].upper() + mend[1:])


def sign(state: State, entry: Entry) -> None:
    """The instructor signed."""
    if not entry.by_instructor:
        return
    name = entry.said["sign"]
    state.signed[name] = state.clock
    for part in state.plan.anatomy.sign_by_id[name].before:
        state.flags.mend("unsigned", part, name)


def _raise_unsigned(state: State, entry: Entry, plan: PartPlan, sign: Sign, moved: str) -> None:
    text = f"{plan.title} {moved} before “{sign.title}” was signed."
    mend = "Ask the instructor to look and sign."
    state.flags.raise_(("unsigned", plan.id, sign.id), plan.id, entry.id, text, mend)


def finish(state: State, entry: Entry) -> None:
    """The job is said to be done: what was never set again?"""
    for name in state.disturbed:
        setting = state.plan.anatomy.setting_by_id[name]
        concerned = next(iter([*setting.before, *setting.after]), None)
        _raise_unset(state, entry, concerned, setting, "The job was finished")
