"""The same job by somebody careless: ten mistakes that a bench really makes, each on the page until it is mended."""

from typing import Any

from playwright.sync_api import Page

from tests.journeys.people import Student, machine_file


class Careless(Student):
    """Honest about what was done, but not careful: makes ten mistakes of ten kinds."""

    def notes(self, part: str, label: str) -> bool:
        return not label.startswith("Where each wire goes")

    def answer(self, part: str, question: str) -> str:
        return "against it" if part == "Connecting rod" else super().answer(part, question)

    def renews(self, part: str) -> bool:
        return part != "Rocker cover"

    def tightens(self, part: str, turn: str) -> bool:
        return not (part == "Exhaust" and "pass 2 of 2" in turn)

    def torque(self, part: str, turn: str) -> tuple[str, str] | None:
        return ("26", "lb·ft") if part == "Cylinder head" and "pass 3 of 3" in turn else None

    def signs(self, sign: str) -> bool:
        return not sign.startswith("Big end")

    def set_to(self, setting: dict[str, Any]) -> str:
        return "0.30" if setting["name"] == "Exhaust valve lash" else super().set_to(setting)

    def reads(self, check: dict[str, Any], label: str) -> str:
        if check["name"] == "Top ring, end gap":
            return "1.12"
        if "bottom, across the crank" in label:
            return "680.08"
        return super().reads(check, label)

    def borrows(self, tool: str) -> None:
        """Takes a shared tool; this one never brings it back."""
        self.goes_to("Finish")
        self.page.get_by_label("Which tool").fill(tool)
        self.press(self.page.get_by_role("button", name="Borrowed"))


# In the order they are made; each with what its flag says, and how it is mended.
PLANTED = (
    (
        "Stop switch and kill wire came off before its wiring was noted.",
        "Note the wiring of Stop switch and kill wire now",
    ),
    (
        "Cylinder bore (bottom, across the crank): 680.08 mm cannot be right beside 68 to 68.015 mm when new.",
        "Is the decimal mark in its place? Then it is 68.008 mm. Read again.",
    ),
    (
        "Connecting rod: “Which way does the mark on the rod face?” was answered “against it”; "
        "right is “as the arrow on the piston”.",
        "turn it the right way, and answer again.",
    ),
    ("Top ring went on, but Top ring, end gap is worn.", "Renew Top ring, or let the instructor decide."),
    (
        "Camshaft went on before “Big end: marks together, torque seen, crank turns by hand” was signed.",
        "Ask the instructor to look and sign.",
    ),
    ("Cylinder head: pass 3 of M8x60 was 26 lb·ft, but 26 N·m belongs there", "again with 26 N·m."),
    ("Exhaust: 2 × M8 had 1 of 2 passes when Heat shield went on over it.", "the full torque is 22 N·m."),
    ("Rocker cover went on with a used rocker cover gasket", "fit it with a new rocker cover gasket."),
    (
        "Rocker cover went on, but Exhaust valve lash has not been set right since it was disturbed.",
        "set it between 0.18 and 0.22 mm.",
    ),
    ("lywheel puller is still out: the job was finished without it.", "lywheel puller"),
)


def test_ten_planted_mistakes_are_each_flagged_and_finish_is_refused_with_the_list(page: Page) -> None:
    student = Careless(page, machine_file("pump-engine"))
    student.starts("Bench 22")
    student.begins()
    student.strips()
    student.borrows("flywheel puller")
    student.goes_to("Measure")
    student.measures("Cylinder bore")
    student.measures("Top ring, end gap")
    student.goes_to("Rebuild")
    student.rebuilds()
    _all_flagged(student, PLANTED[:-1])

    assert student.says_finished().startswith("10 things are not right yet.")
    _all_flagged(student, PLANTED)
    _three_mended(student)
    assert student.says_finished().startswith("7 things are not right yet.")


def _all_flagged(student: Student, planted: tuple[tuple[str, str], ...]) -> None:
    """Each planted mistake has one open flag with its sentence and its mend, and there is no other."""
    flags = student.open_flags()
    for said, mend in planted:
        those = [flag for flag in flags if said in flag and mend in flag.partition("To mend it: ")[2]]
        assert len(those) == 1, (said, flags)
    assert len(flags) == len(planted), flags


def _three_mended(student: Student) -> None:
    """The tool comes back, the last pass is done, and the instructor lets one flag stand, with a reason."""
    page = student.page
    page.get_by_label("Which tool").fill("flywheel puller")
    student.press(page.get_by_role("button", name="Brought back"))
    student.card("Exhaust")
    student.press(page.get_by_role("button", name="Done: pass 2 of 2"))
    noted = page.locator("li.flag", has_text="its wiring was noted")
    noted.locator("summary").click()
    noted.get_by_role("textbox").fill("Copied from the wiring of Bench 7; seen")
    student.press(noted.get_by_role("button", name="Set it aside"))
