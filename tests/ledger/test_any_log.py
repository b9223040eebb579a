"""Laws that hold for any log: order of arrival, duplicates, undo, honest jobs, and entries full of nonsense."""

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from fingertight.ledger import ENTRY_KINDS, Ledger, NotAnEntry, read_entry
from tests.ledger.bench import Said, heard, picture, plan_of, replay
from tests.ledger.jobs import BAGS, ENGINE, PIECES, honest, logs
from tests.order.machines import Machine, strippable

PLAN = plan_of(ENGINE)


@settings(deadline=None, max_examples=60)
@given(logs(), st.randoms(use_true_random=False))
def test_late_early_and_twice_delivered_entries_give_the_same_picture(log: list[Said], chance: random.Random) -> None:
    arriving = log + [entry for entry in log if chance.random() < 0.3]
    chance.shuffle(arriving)
    in_order = picture(replay(PLAN, log))
    assert picture(heard(PLAN, log)) == in_order
    assert picture(heard(PLAN, arriving)) == in_order
    assert picture(replay(PLAN, arriving)) == in_order


@settings(deadline=None, max_examples=60)
@given(logs(), st.randoms(use_true_random=False))
def test_wrong_clocks_that_were_measured_change_nothing(log: list[Said], chance: random.Random) -> None:
    moved = []
    for entry in log:
        skew_min = chance.choice([0, 30, 45])
        hour, minute = 9, int(entry["at"][14:16]) - skew_min
        earlier = f"2026-03-05T{hour + minute // 60:02}:{minute % 60:02}:00+01:00"
        moved.append({**entry, "at": earlier, "skew_s": skew_min * 60})
    chance.shuffle(moved)
    assert picture(heard(PLAN, moved)) == picture(replay(PLAN, log))


@settings(deadline=None, max_examples=60)
@given(logs(), st.data())
def test_undoing_an_entry_is_as_if_it_had_never_been_written(log: list[Said], data: st.DataObject) -> None:
    if not log:
        return
    number = data.draw(st.integers(0, len(log) - 1))
    undo = {"id": "u", "kind": "undo", "at": "2026-03-05T12:00:00+01:00", "by": "t", "entry": f"e{number}"}
    without = [entry for entry in log if entry["id"] != f"e{number}"]
    assert picture(heard(PLAN, [*log, undo])) == picture(replay(PLAN, without))
    again = {**undo, "id": "v", "at": "2026-03-05T12:01:00+01:00", "entry": "u"}
    assert picture(heard(PLAN, [*log, undo, again])) == picture(replay(PLAN, log))


@settings(deadline=None, max_examples=60)
@given(logs())
def test_bags_pieces_and_moves_agree_whatever_is_said(log: list[Said]) -> None:
    state = heard(PLAN, log).state
    lying = {(bag, piece) for bag, held in state.bags.items() for piece in held.pieces}
    assert lying == {(bag, piece) for piece, bag in state.lies.items() if bag is not None}
    assert len(state.lies) == len(state.empty)
    for part in PLAN.parts:
        wholly_off = len(state.pieces_off(part)) == len(PLAN.parts[part].places)
        assert state.moves.is_off(part) == wholly_off
    assert state.finished <= (not state.lies)
    open_causes = [(flag.kind, flag.part, flag.text) for flag in state.flags if flag.open]
    assert len(open_causes) == len(set(open_causes))
    assert all(flag.text[-1] == flag.mend[-1] == "." and not flag.text[0].islower() for flag in state.flags)


@settings(deadline=None, max_examples=60)
@given(strippable(8, fit_after=True), st.integers(0, 10_000))
def test_an_honest_strip_and_rebuild_of_any_machine_raises_nothing(machine: Machine, seed: int) -> None:
    plan, log = honest(machine, seed)
    ledger = replay(plan, log)
    assert [(flag.kind, flag.text) for flag in ledger.state.flags] == []
    assert ledger.state.finished
    assert ledger.state.lies == {}


@settings(deadline=None, max_examples=60)
@given(strippable(6, fit_after=True), st.integers(0, 10_000))
def test_one_part_forgotten_in_an_honest_rebuild_is_found_at_the_finish(machine: Machine, seed: int) -> None:
    plan, log = honest(machine, seed)
    fitted = [entry for entry in log if entry["kind"] == "on"]
    forgotten = random.Random(seed).choice(fitted)
    ledger = replay(plan, [entry for entry in log if entry is not forgotten])
    assert not ledger.state.finished
    assert ("over", forgotten["part"]) in {(flag.kind, flag.part) for flag in ledger.state.flags if flag.open}


NONSENSE = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=4) | st.just(10**400) | st.just("cover")
    | st.sampled_from(["bore", "lash", "timing", "inlet", "mm", "N·m", "µm", "°C", "yes", "out", "good", "over", "e0"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["value", "at", "M6x28", "1"]), inner),
    max_leaves=5,
)  # fmt: skip


@st.composite
def nonsense(draw: st.DrawFn) -> Said:
    """An entry of a known kind in which any field may say anything."""
    kind = draw(st.sampled_from([*ENTRY_KINDS, draw(st.text(max_size=3))]))
    fields = [field.name for field in ENTRY_KINDS[kind].fields] if kind in ENTRY_KINDS else []
    said: Said = {"id": draw(st.sampled_from(["e0", "e1", "e2", "", 7])), "kind": kind, "by": "s"}
    said["at"] = draw(st.sampled_from(["2026-03-05T09:00:00Z", "2026-03-05T09:00:01Z", "2026-03-05", "never", None, 5]))
    for name in [*fields, "skew_s", "as"]:
        if draw(st.booleans()):
            said[name] = draw(NONSENSE)
    if "part" in fields and draw(st.booleans()):
        said |= draw(PIECES) | {"bag": draw(BAGS)}
    return said


@settings(deadline=None, max_examples=200)
@given(st.lists(nonsense(), max_size=6), NONSENSE)
def test_nonsense_is_refused_in_sentences_and_whatever_is_accepted_never_breaks_the_fold(
    log: list[Said], other: object
) -> None:
    ledger = Ledger(PLAN)
    for said in [*log, other, {"id": "f", "kind": "finish", "at": "2026-03-05T10:00:00Z"}]:
        before = len(ledger.entries)
        refused = _refusal(said)
        if refused is None:
            ledger.hear(said)
            continue
        assert refused
        assert all(sentence.endswith(".") for sentence in refused)
        assert len(ledger.entries) == before
    picture(ledger)


def _refusal(said: object) -> list[str] | None:
    try:
        read_entry(said, PLAN)
    except NotAnEntry as refused:
        return refused.sentences
    return None
