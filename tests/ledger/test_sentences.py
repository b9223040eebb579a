"""Every sentence a student reads, read aloud: what is wrong, and how to mend it."""

from fingertight.ledger import FLAG_KINDS
from tests.ledger.bench import Bench

ENGINE = """
[[instrument]]
id = "gauge"
resolution = 0.01
[[part]]
id = "guard"
[[part]]
id = "cover"
behind = ["guard"]
record = ["photo", "wiring"]
with = [{ name = "gasket", single_use = true }, { name = "dowel", count = 2 }]
ask = [{ question = "Lip inwards?", answers = ["yes", "no"], right = "yes" }]
  [[part.held_by]]
  thread = "M6"
  length = 28
  count = 6
  torque = 10.0
  passes = [0.4, 1.0]
[[part]]
id = "seal"
single_use = true
record = ["photo"]
[[part]]
id = "fan"
[[part]]
id = "foot"
places = ["left", "right"]
[[check]]
id = "bore"
part = "guard"
new = [68.0, 68.015]
max = 68.165
[[check]]
id = "groove"
part = "guard"
instrument = "gauge"
max = 2.0
[[setting]]
id = "lash"
after = ["fan"]
range = [0.13, 0.17]
[[sign]]
id = "timing"
name = "Timing marks in line"
stage = "rebuild"
before = ["fan"]
"""


def said(bench: Bench) -> dict[str, tuple[str, str]]:
    """Sentence and mend of everything open, under its kind."""
    return {flag.kind: (flag.text, flag.mend) for flag in bench.ledger.state.flags if flag.open}


def test_what_is_said_of_a_cover_that_comes_off_wrongly() -> None:
    bench = Bench(ENGINE)
    bench.off("cover", "14", counts={"M6x28": 5, "dowel": 3})
    bench.tighten("cover", 4)
    assert said(bench) == {
        "out-of-turn": (
            "Cover came off though Guard is still on.",
            "Put Cover back, or take off what is in its way as well; look for damage where it was forced.",
        ),
        "unrecorded": (
            "Cover came off before its photo and wiring were noted.",
            "Note the photo and wiring of Cover now, from a bench that still has it or from the demonstration.",
        ),
        "short": (
            "Bag 14 of Cover holds 5 of 6 × M6x28.",
            "Look for it under the bench and in the bags beside; count bag 14 again, or say found or renewed.",
        ),
        "over": (
            "Bag 14 of Cover holds 3 × dowel, but 2 came off into it.",
            "Find out which part the rest belongs to, put it in its bag, and count bag 14 again.",
        ),
        "clash": ("Cover was tightened, but it lies in bag 14.", "Undo the wrong entry, or log that it went on."),
    }


def test_what_is_said_of_a_cover_that_goes_on_wrongly() -> None:
    bench = Bench(ENGINE)
    bench.off("guard", "13")
    bench.say("note", part="cover", photo="p", wiring="w")
    bench.off("cover", "14")
    bench.on("cover", "15")
    bench.tighten("cover", 8)
    assert said(bench) == {
        "wrong-place": (
            "Cover went on out of bag 15, but it lies in bag 14.",
            "Take it off again, look what it is, and fit what lies in bag 14.",
        ),
        "wrong-way": (
            "Cover: “Lip inwards?” was not answered; right is “yes”.",
            "Look at Cover, turn it the right way, and answer again.",
        ),
        "spent": (
            "Cover went on with a used gasket; it is for one use only.",
            "Take Cover off again and fit it with a new gasket.",
        ),
        "wrong-torque": (
            "Cover: pass 1 of M6x28 was 8 N·m, but 4 N·m belongs there.",
            "Slacken them, look at bolt and thread, and do pass 1 of M6x28 on Cover again with 4 N·m, "
            "then the passes after it.",
        ),
    }
    bench.on("guard", "13")
    assert said(bench)["loose"] == (
        "Cover: 6 × M6x28 had 1 of 2 passes when Guard went on over it.",
        "Do the last pass of 6 × M6x28 on Cover; the full torque is 10 N·m.",
    )


def test_what_is_said_of_a_guard_fitted_too_early_and_worn() -> None:
    bench = Bench(ENGINE)
    bench.off("guard", "13")
    bench.say("note", part="cover", photo="p", wiring="w")
    bench.off("cover", "14")
    bench.reads("bore", 68.2)
    bench.reads("groove", 2.0)
    bench.on("guard", "13")
    assert [flag.text for flag in bench.ledger.state.flags] == [
        "Guard went on before Cover, which cannot go back now (bag 14).",
        "Guard went on, but Bore is worn.",
        "Guard went on, but Groove is too close to call.",
    ]
    assert [flag.mend for flag in bench.ledger.state.flags] == [
        "Take Guard off again and fit Cover first.",
        "Renew Guard, or let the instructor decide.",
        "Take better readings, or let the instructor decide.",
    ]


def test_what_is_said_of_used_lost_and_unset_things() -> None:
    bench = Bench(ENGINE)
    bench.off("seal", "1")
    bench.on("seal", "1")
    bench.off("fan", "2")
    bench.on("fan", "2")
    bench.say("lost", part="seal")
    bench.say("lost", part="foot", count=2)
    assert [(flag.text, flag.mend) for flag in bench.ledger.state.flags] == [
        (
            "Seal came off before its photo was noted.",
            "Note the photo of Seal now, from a bench that still has it or from the demonstration.",
        ),
        ("Seal went on used; it is for one use only.", "Take Seal off again and fit a new one."),
        ("Fan went on before “Timing marks in line” was signed.", "Ask the instructor to look and sign."),
        ("Seal is missing.", "Look for it under the bench and in the bags beside; say found or renewed."),
        ("2 × Foot are missing.", "Look for it under the bench and in the bags beside; say found or renewed."),
    ]


def test_what_is_said_at_the_finish() -> None:
    bench = Bench(ENGINE)
    bench.off("fan", "2")
    bench.signs("timing")
    bench.on("fan", "2")
    bench.off("foot", "21", place="left")
    bench.off("foot", "22", place="right")
    bench.say("tool", tool="torque wrench", way="out")
    bench.finish()
    assert [(flag.text, flag.mend) for flag in bench.ledger.state.flags] == [
        (
            "Foot (left and right) is left over in bags 21 and 22: the job was finished without it.",
            "Fit Foot, or say that this machine lacks it.",
        ),
        (
            "Torque wrench is still out: the job was finished without it.",
            "Find torque wrench, bring it back and say so, or count again with it.",
        ),
        (
            "The job was finished, but Lash has not been set right since it was disturbed.",
            "Set it between 0.13 and 0.17 mm.",
        ),
    ]


def test_every_kind_of_flag_says_when_it_is_raised_and_how_it_is_mended() -> None:
    assert list(FLAG_KINDS) == [
        "out-of-turn", "shut-in", "short", "over", "wrong-way", "wrong-place", "spent", "worn", "loose", "wrong-torque",
        "wrong-order", "unset", "unsigned", "unrecorded", "odd-reading", "likely-slip", "clash", "tool-out",
    ]  # fmt: skip
    assert all(kind.raised and kind.mended for kind in FLAG_KINDS.values())
