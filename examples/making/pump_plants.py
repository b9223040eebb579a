"""The mistakes planted into the pump engine's log: at least one of every kind of flag.

Each is what a bench really does. Most are seen and mended, one is set aside by the instructor, three stay open:
the connecting rod against the arrow, the rocker cover on its old gasket, the exhaust nuts without their last round.
"""

from making.drafts import Draft, Drafts, student, teacher


def pump_mistakes(drafts: Drafts) -> None:
    """Plant them all."""
    for plant in (
        _fuel_hose_off_before_the_sign,
        _wire_off_before_its_map,
        _flywheel_off_before_the_fan,
        _two_push_rods_in_one_bag,
        _bolt_in_the_wrong_bag,
        _collet_half_lost,
        _end_float_read_with_the_hub_on,
        _ring_expander_not_brought_back,
        _digits_turned_round,
        _turn_of_the_thimble_missed,
        _worn_ring_fitted,
        _undecided_plate_fitted,
        _rod_the_wrong_way_round,
        _piston_question_left_out,
        _follower_in_the_others_place,
        _cover_on_before_the_timing_sign,
        _case_on_before_the_shroud,
        _washer_the_wrong_way_round,
        _side_cover_tightened_round_the_circle,
        _head_tightened_in_pound_feet,
        _lash_too_wide_and_an_old_gasket,
        _exhaust_left_at_half_torque,
    ):
        plant(drafts)


# -- strip ---------------------------------------------------------------------------------------------------------


def _fuel_hose_off_before_the_sign(drafts: Drafts) -> None:
    off = drafts.plant(drafts.find("off", part="fuel-hose"), "unsigned")
    _move_signing_after(drafts, "made-safe", off)


def _move_signing_after(drafts: Drafts, sign: str, draft: Draft) -> None:
    """The hand goes up, the instructor signs, the hand goes down: all three too late."""
    first = drafts.place(drafts.find("sign", sign=sign)) - 1
    signing = drafts[first : first + 3]
    for each in signing:
        drafts.take_out(each)
    drafts.after(draft, *signing)


def _wire_off_before_its_map(drafts: Drafts) -> None:
    drawn = next(draft for draft in drafts if draft.says("note", part="kill-wire") and "wiring" in draft.fields)
    drafts.take_out(drawn)
    drafts.plant(drafts.find("off", part="kill-wire"), "unrecorded")
    drafts.after(drafts.find("off", part="fan-shroud"), drawn)


def _flywheel_off_before_the_fan(drafts: Drafts) -> None:
    fan, flywheel = drafts.find("off", part="fan"), drafts.find("off", part="flywheel")
    drafts.take_out(fan)
    drafts.after(drafts.plant(flywheel, "out-of-turn"), fan)


def _two_push_rods_in_one_bag(drafts: Drafts) -> None:
    shared = drafts.find("off", part="push-rod", place="inlet").fields["bag"]
    second = drafts.plant(drafts.find("off", part="push-rod", place="exhaust"), "clash", bag=shared)
    drafts.find("on", part="push-rod", place="exhaust").fields["bag"] = shared
    reason = "Both in one bag, each tied with a tag of its place; seen."
    drafts.after(second, teacher("aside", entry=second, flag="clash", reason=reason, minutes=2))


def _bolt_in_the_wrong_bag(drafts: Drafts) -> None:
    right = drafts.find("off", part="fan-shroud").fields["bag"]
    wrong = drafts.find("off", part="head-shroud").fields["bag"]
    count = next(draft for draft in drafts if draft.kind == "count" and right in (draft.fields.get("bags") or {}))
    count.fields["bags"][right] = {"M6x12": 4}
    del count.fields["bags"][wrong]
    drafts.plant(count, "short")
    beside = student("count", by="s-08", bags={wrong: {"M6x12": 3}}, minutes=3)
    again = student("count", by="s-08", bags={right: {"M6x12": 5}, wrong: {"M6x12": 2}}, minutes=2)
    drafts.after(count, drafts.plant(beside, "over"), again)


def _collet_half_lost(drafts: Drafts) -> None:
    off = drafts.find("off", part="keeper", place="exhaust")
    bag = off.fields["bag"]
    lost = student("lost", part="keeper", count=1, bag=bag, **{"item": "collet half"})
    found = student("found", by="s-08", part="keeper", count=1, bag=bag, minutes=4, **{"item": "collet half"})
    note = student("note", by="s-08", part="keeper", text="It was in the tray of bench 3.")
    drafts.after(off, drafts.plant(lost, "short"), found, note)


def _end_float_read_with_the_hub_on(drafts: Drafts) -> None:
    right = drafts.find("reading", check="crank-end-float")
    early = Draft("reading", "s-07", {**right.fields, "values": [{"value": 0.18}]}, 3)
    drafts.before(drafts.find("off", part="clutch-hub"), drafts.plant(early, "odd-reading"))


def _ring_expander_not_brought_back(drafts: Drafts) -> None:
    off = drafts.find("off", part="ring-second")
    brought = next(d for d in drafts[drafts.place(off) :] if d.says("tool", tool="ring expander", way="in"))
    drafts.take_out(brought)
    count = next(d for d in drafts[drafts.place(off) :] if d.kind == "count")
    del count.fields["tools"]["ring expander"]
    drafts.plant(count, "tool-out")
    next_lesson = next(d for d in drafts[drafts.place(count) :] if d.lesson > count.lesson)
    drafts.before(next_lesson, brought)


# -- measure -------------------------------------------------------------------------------------------------------


def _digits_turned_round(drafts: Drafts) -> None:
    bore = drafts.find("reading", check="bore")
    spot = {"at": "top", "across": "across the crank"}
    values = [{**each, "value": 86.06} if {**each, **spot} == each else each for each in bore.fields["values"]]
    drafts.plant(bore, "odd-reading", values=values, typed="86.06")
    again = [{**spot, "value": 68.06}]
    drafts.after(bore, student("reading", by="s-08", check="bore", values=again, unit="mm", instrument="bore-gauge"))


def _turn_of_the_thimble_missed(drafts: Drafts) -> None:
    skirt = drafts.find("reading", check="piston-skirt")
    values = [{**skirt.fields["values"][0], "value": 67.46}]
    drafts.plant(skirt, "likely-slip", values=values, typed="67,46")
    again = [{**values[0], "value": 67.96}]
    right = student("reading", by="s-08", check="piston-skirt", values=again, unit="mm", instrument="micrometer-75")
    drafts.after(skirt, right)


# -- rebuild -------------------------------------------------------------------------------------------------------


def _worn_ring_fitted(drafts: Drafts) -> None:
    renewed = drafts.find("renew", part="ring-top")
    again = drafts.find("reading", check="ring-gap-top", nth=1)
    for each in (renewed, again):
        drafts.take_out(each)
    right = drafts.find("on", part="ring-top")
    bag = right.fields["bag"]
    worn = Draft("on", "s-07", dict(right.fields), 1)
    taken = student("off", part="ring-top", bag=bag, minutes=1)
    drafts.before(right, drafts.plant(worn, "worn"), taken, renewed, again)


def _undecided_plate_fitted(drafts: Drafts) -> None:
    decided = drafts.find("decide", check="friction-inner")
    drafts.take_out(decided)
    drafts.after(drafts.plant(drafts.find("on", part="friction-plate-inner"), "worn"), decided)


def _rod_the_wrong_way_round(drafts: Drafts) -> None:
    drafts.plant(drafts.find("on", part="connecting-rod"), "wrong-way", answers=["against it"])


def _piston_question_left_out(drafts: Drafts) -> None:
    on = drafts.find("on", part="piston")
    both = on.fields["answers"]
    drafts.plant(on, "wrong-way", answers=both[:1])
    drafts.after(on, student("on", by="s-08", part="piston", answers=both))


def _follower_in_the_others_place(drafts: Drafts) -> None:
    inlet = drafts.find("on", part="follower", place="inlet")
    exhaust = drafts.find("on", part="follower", place="exhaust")
    swapped = student("on", part="follower", place="inlet", bag=exhaust.fields["bag"], minutes=1)
    taken = student("off", part="follower", place="inlet", bag=exhaust.fields["bag"])
    drafts.before(inlet, drafts.plant(swapped, "wrong-place"), taken)


def _cover_on_before_the_timing_sign(drafts: Drafts) -> None:
    _move_signing_after(drafts, "timing", drafts.plant(drafts.find("on", part="side-cover"), "unsigned"))


def _case_on_before_the_shroud(drafts: Drafts) -> None:
    right = drafts.find("on", part="clutch-case")
    early = Draft("on", "s-07", dict(right.fields), 4)
    taken = student("off", part="clutch-case", bag=right.fields["bag"], minutes=4)
    new = student("renew", by="s-08", part="clutch-case", count=1, **{"item": "clutch case gasket"})
    drafts.before(drafts.find("on", part="inner-shroud"), drafts.plant(early, "shut-in"), taken, new)


def _washer_the_wrong_way_round(drafts: Drafts) -> None:
    on = drafts.find("on", part="thrust-washer")
    right = on.fields["answers"]
    drafts.plant(on, "wrong-way", answers=["the bolt head"])
    drafts.after(on, student("on", part="thrust-washer", answers=right, minutes=2))


def _side_cover_tightened_round_the_circle(drafts: Drafts) -> None:
    first = drafts.find("tighten", part="side-cover", **{"pass": 0})
    again = Draft("tighten", "s-07", {**first.fields, "order": [2, 5, 1, 4, 3, 6]}, 2)
    drafts.plant(first, "wrong-order", order=[1, 2, 3, 4, 5, 6])
    note = teacher("note", part="side-cover", text="Slackened again; the gasket had not moved.", minutes=2)
    drafts.after(first, note, again)


def _head_tightened_in_pound_feet(drafts: Drafts) -> None:
    last = drafts.find("tighten", part="head", **{"pass": 2})
    again = Draft("tighten", "s-07", dict(last.fields), 2)
    drafts.plant(last, "wrong-torque", unit="lb·ft")
    note = teacher("note", part="head", text="Slackened half a turn, bolts and threads looked at: sound.", minutes=4)
    drafts.after(last, note, again)


def _lash_too_wide_and_an_old_gasket(drafts: Drafts) -> None:
    right = drafts.find("set", setting="lash-exhaust")
    right.fields["value"] = 0.30
    on = drafts.plant(drafts.find("on", part="rocker-cover"), "unset")
    passes = [draft for draft in drafts if draft.says("tighten", part="rocker-cover")]
    fields = {name: value for name, value in on.fields.items() if name != "planted"}
    again = drafts.plant(Draft("on", "s-07", fields, 2), "spent")
    drafts.after(
        passes[-1],
        teacher("sign", sign="made-safe", minutes=2),
        student("off", part="rocker-cover", bag=on.fields["bag"], minutes=2),
        student("set", by="s-08", setting="lash-exhaust", value=0.20, unit="mm", minutes=3),
        again,
        *(Draft("tighten", "s-07", dict(each.fields), 1) for each in passes),
    )


def _exhaust_left_at_half_torque(drafts: Drafts) -> None:
    drafts.take_out(drafts.find("tighten", part="exhaust", **{"pass": 1}))
    drafts.plant(drafts.find("on", part="heat-shield"), "loose")
