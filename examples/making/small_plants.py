"""Slips that honest benches make and take back, and the mistakes planted into the logs of the vice and the winch."""

from making.drafts import Draft, Drafts, student, teacher


def honest_slips(machine: str, drafts: Drafts) -> None:
    """A tap on the wrong part taken back at once, a late picture, an entry delivered twice: no mistakes."""
    if machine == "bench-vice":
        drafts.find("off", part="spring").twice = True
    if machine == "hand-winch":
        drafts.find("note", part="shift-lever").late_by = 2
        _tapped_and_taken_back(drafts, "pawl", "pawl-spring", place="upper")
    if machine == "pump-engine":
        drafts.find("note", part="kill-wire").late_by = 3
        drafts.find("off", part="head").twice = True
        _tapped_and_taken_back(drafts, "exhaust", "heat-shield")


def _tapped_and_taken_back(drafts: Drafts, wrong: str, meant: str, **place: str) -> None:
    bag = drafts.find("off", part=meant, **place).fields["bag"]
    tap = student("off", part=wrong, bag=bag, minutes=0.2, **place)
    undo = student("undo", entry=tap, minutes=0.1)
    drafts.before(drafts.find("off", part=meant, **place), tap, undo)


# -- bench vice ----------------------------------------------------------------------------------------------------


def vice_mistakes(drafts: Drafts) -> None:
    """Five: two mended, one set aside, two open at the end."""
    _screw_missing_at_the_count(drafts)
    _plate_upside_down(drafts)
    over = drafts.plant(drafts.find("tighten", part="body", **{"pass": 1}), "wrong-torque", torque=70.0)
    reason = "70 N·m is still sound for this bolt and this base; leave it."
    drafts.after(over, teacher("aside", entry=over, flag="wrong-torque", reason=reason, minutes=2))
    drafts.take_out(drafts.find("renew", part="collar"))
    drafts.plant(drafts.find("on", part="collar"), "spent")
    drafts.take_out(drafts.find("set", setting="swivel"))
    drafts.plant(drafts.find("finish"), "unset")


def _screw_missing_at_the_count(drafts: Drafts) -> None:
    count = drafts.find("count")
    bag = drafts.find("off", part="jaw-plate", place="moving jaw").fields["bag"]
    count.fields["bags"][bag] = {"M6x16": 1}
    drafts.plant(count, "short")
    drafts.after(count, student("found", part="jaw-plate", count=1, bag=bag, minutes=3, **{"item": "M6x16"}))


def _plate_upside_down(drafts: Drafts) -> None:
    on = drafts.find("on", part="jaw-plate", place="fixed jaw")
    right = on.fields["answers"]
    drafts.plant(on, "wrong-way", answers=["the plain edge"])
    drafts.after(on, student("on", part="jaw-plate", place="fixed jaw", answers=right, minutes=2))


# -- hand winch ----------------------------------------------------------------------------------------------------


def winch_mistakes(drafts: Drafts) -> None:
    """Nine: six mended, one set aside, two open at the end."""
    _lever_off_without_its_photo(drafts)
    _gear_dropped_with_the_fork_in_it(drafts)
    _circlip_missing_at_the_count(drafts)
    _worn_pawl_springs_fitted(drafts)
    _bushes_swapped(drafts)
    _ring_gear_left_at_half_torque(drafts)
    on = drafts.plant(drafts.find("on", part="handle"), "wrong-way", answers=["clockwise"])
    drafts.after(on, student("on", by="s-08", part="handle", answers=["anticlockwise"], minutes=2))
    drafts.plant(drafts.find("tighten", part="gear-guard"), "wrong-torque", unit="lb·ft")
    drafts.take_out(drafts.find("set", setting="grease"))
    drafts.plant(drafts.find("on", part="rope"), "unset")


def _gear_dropped_with_the_fork_in_it(drafts: Drafts) -> None:
    """The shaft is drawn, and the gear falls out with the fork still in its groove."""
    fork = drafts.find("off", part="shift-fork")
    drafts.take_out(fork)
    drafts.after(drafts.plant(drafts.find("off", part="sliding-gear"), "out-of-turn"), fork)


def _lever_off_without_its_photo(drafts: Drafts) -> None:
    """Nobody took the picture; the instructor lets it stand."""
    drafts.take_out(drafts.find("note", part="shift-lever"))
    lever = drafts.plant(drafts.find("off", part="shift-lever"), "unrecorded")
    reason = "The lever and its boss carry a centre-punch mark each; that will do."
    drafts.after(lever, teacher("aside", entry=lever, flag="unrecorded", reason=reason, minutes=2))


def _circlip_missing_at_the_count(drafts: Drafts) -> None:
    bag = drafts.find("off", part="drive-retainer").fields["bag"]
    count = next(draft for draft in drafts if draft.kind == "count" and bag in (draft.fields.get("bags") or {}))
    count.fields["bags"][bag] = {"circlip": 0, "thrust washer 20x28x1.5": 1}
    drafts.plant(count, "short")
    next_lesson = next(draft for draft in drafts[drafts.place(count) :] if draft.lesson > count.lesson)
    drafts.before(next_lesson, student("renew", part="drive-retainer", count=1, **{"item": "circlip"}))


def _worn_pawl_springs_fitted(drafts: Drafts) -> None:
    renewed = drafts.find("renew", part="pawl-spring")
    again = drafts.find("reading", check="pawl-spring-length", nth=1)
    for each in (renewed, again):
        drafts.take_out(each)
    right = drafts.find("on", part="pawl-spring", place="upper")
    worn = Draft("on", "s-07", dict(right.fields), 2)
    taken = student("off", part="pawl-spring", place="upper", bag=right.fields["bag"], minutes=2)
    drafts.before(right, drafts.plant(worn, "worn"), taken, renewed, again)


def _bushes_swapped(drafts: Drafts) -> None:
    left = drafts.find("on", part="drum-bush", place="left")
    other = drafts.find("on", part="drum-bush", place="right").fields["bag"]
    swapped = student("on", part="drum-bush", place="left", bag=other, minutes=5)
    taken = student("off", part="drum-bush", place="left", bag=other, minutes=5)
    drafts.before(left, drafts.plant(swapped, "wrong-place"), taken)


def _ring_gear_left_at_half_torque(drafts: Drafts) -> None:
    last = drafts.find("tighten", part="ring-gear", **{"pass": 1})
    drafts.take_out(last)
    drafts.after(drafts.plant(drafts.find("on", part="drum"), "loose"), last)
