"""An honest pair of students: they do what the page shows, in the order it shows it, and leave nothing out."""

from importlib.resources import files

from fingertight.anatomy.model import Anatomy
from fingertight.anatomy.read import read
from tests.web.tablet import Form, Tablet

MOST_PRESSES = 1000


def machine(slug: str) -> Anatomy:
    """An example machine."""
    anatomy = read(files("fingertight.examples").joinpath(f"{slug}.toml").read_text("utf-8")).anatomy
    assert anatomy is not None
    return anatomy


def start(tablet: Tablet, slug: str, **typed: object) -> str:
    """Start a job on one, and return the address of its bench."""
    tablet.opens(f"/start/{slug}")
    tablet.presses("Start at this bench", bench="Bench 1", **typed)
    assert tablet.answer.status_code == 200, tablet.page.text
    return tablet.path


def strip(tablet: Tablet, bench: str) -> None:
    """Take off all there is, signing and noting first."""
    tablet.opens(f"{bench}/strip")
    for _ in range(MOST_PRESSES):
        if not _one_step(tablet, ("I looked, and I sign", "Note it", "Off"), {}):
            return
    raise AssertionError("the strip has no end")


def rebuild(tablet: Tablet, bench: str, anatomy: Anatomy) -> None:
    """Put all back: new ones here, set and signed first, every question answered right, every pass done at once."""
    tablet.opens(f"{bench}/rebuild")
    for _ in range(MOST_PRESSES):
        right = _right_answers(tablet, anatomy)
        if not _one_step(tablet, ("Done", "It is set", "I looked, and I sign", "is here", "On"), right):
            return
    raise AssertionError("the rebuild has no end")


def _one_step(tablet: Tablet, wanted: tuple[str, ...], right: dict[str, dict[str, str]]) -> bool:
    """Press the first of these buttons that is there; False when none is."""
    for word in wanted:
        for form in tablet.page.forms:
            for button in form.buttons:
                if button.startswith(word) or (word == "is here" and button.endswith(word)):
                    _press(tablet, form, right)
                    return True
    return False


def _press(tablet: Tablet, form: Form, right: dict[str, dict[str, str]]) -> None:
    typed = {name: "as it was before" for name in ("photo", "wiring") if name in form.fields}
    typed |= right.get(form.fields.get("setting", ""), {})
    if form.fields["kind"] == "on":
        typed |= right.get(form.fields["part"], {})
    page = tablet.sends(form, typed)
    assert "Not written" not in page.text, page.text[:500]


def _right_answers(tablet: Tablet, anatomy: Anatomy) -> dict[str, dict[str, str]]:
    """For each part its right answers, for each setting a value in the middle of its range."""
    right = {part.id: {f"answer-{number}": ask.right for number, ask in enumerate(part.ask)} for part in anatomy.parts}
    for setting in anatomy.settings:
        if setting.range:
            right[setting.id] = {"value": f"{sum(setting.range) / 2:.4f}"}
        else:
            right[setting.id] = {"answer": setting.right}
    return right
