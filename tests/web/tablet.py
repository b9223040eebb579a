"""A tablet without a screen and without JavaScript: it opens pages, reads sentences and presses buttons."""

from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any

from django.http import HttpResponse
from django.test import Client

VOID = {"input", "br", "link", "meta", "path", "circle", "rect"}


@dataclass
class Form:
    """A form as it stands on the page: where it goes, what it sends untouched, its buttons and what they add."""

    action: str
    method: str
    fields: dict[str, str] = field(default_factory=dict)
    choices: dict[str, list[str]] = field(default_factory=dict)
    buttons: dict[str, dict[str, str]] = field(default_factory=dict)
    ticked: dict[str, list[str]] = field(default_factory=dict)
    written: dict[str, str] = field(default_factory=dict)

    @property
    def untouched(self) -> dict[str, Any]:
        """All that a browser sends when nothing was touched: what is ticked and what stands in text areas too."""
        return {**self.fields, **self.ticked, **self.written}


class Page(HTMLParser):
    """What a person reads on a page, and the forms on it."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.forms: list[Form] = []
        self.links: dict[str, str] = {}
        self.texts: list[str] = []
        self._button: dict[str, str] | None = None
        self._link = ""
        self._said = ""
        self._select = ""
        self._unnamed = False
        self._area = ""
        self.feed(html)

    @property
    def text(self) -> str:
        """All the words on the page, single spaces between them."""
        return " ".join(" ".join(self.texts).split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Forms, fields, buttons and links are noted."""
        said = {name: value or "" for name, value in attrs}
        form = self.forms[-1] if self.forms else None
        if tag == "form":
            self.forms.append(Form(said.get("action", ""), said.get("method", "get")))
        elif tag in {"input", "textarea"} and form and said.get("name"):
            if said.get("type") in {"radio", "checkbox"}:
                form.choices.setdefault(said["name"], []).append(said.get("value", "on"))
                if "checked" in said:
                    form.ticked.setdefault(said["name"], []).append(said.get("value", "on"))
            else:
                form.fields[said["name"]] = said.get("value", "")
            if tag == "textarea":
                self._area, self._said = said["name"], ""
        elif tag == "select" and form:
            self._select = said["name"]
        elif tag == "option" and form and (self._select not in form.fields or "selected" in said):
            form.fields[self._select] = said.get("value", "")
            self._unnamed = "value" not in said
        elif tag == "button":
            self._button, self._said = ({said["name"]: said["value"]} if "name" in said else {}), ""
        elif tag == "a":
            self._link, self._said = said.get("href", ""), ""

    def handle_data(self, data: str) -> None:
        """Words are read; those of a button or a link are kept for it."""
        self.texts.append(data)
        self._said += data
        if self._unnamed and self.forms:  # an option without a value is worth its words
            self.forms[-1].fields[self._select] = data
            self._unnamed = False

    def handle_endtag(self, tag: str) -> None:
        """The words of a button or a link are complete."""
        if tag == "button" and self._button is not None and self.forms:
            self.forms[-1].buttons[" ".join(self._said.split())] = self._button
            self._button = None
        elif tag == "textarea" and self._area and self.forms:
            self.forms[-1].written[self._area] = self._said.removeprefix("\n")
            self._area = ""
        elif tag == "a" and self._link:
            self.links[" ".join(self._said.split())] = self._link
            self._link = ""


class Tablet:
    """Somebody at a bench."""

    def __init__(self) -> None:
        self.client = Client(SERVER_NAME="localhost")
        self.path = ""
        self.answer: Any = None
        self.page = Page("")

    def opens(self, path: str, **headers: str) -> Page:
        """Go to a page and read it."""
        self.path = path
        return self._reads(self.client.get(path, headers=headers))

    def presses(self, button: str, part: str = "", **typed: Any) -> Page:
        """Press a button, in the form about this part where one is named, with these fields filled in."""
        form = self.form(button, part)
        return self.sends(form, {**form.buttons[button], **typed})

    def sends(self, form: Form, typed: dict[str, Any]) -> Page:
        """Send a form with these fields filled in."""
        answer = self.client.post(form.action or self.path, {**form.fields, **typed})
        if answer.status_code == 303:
            return self.opens(answer["Location"])
        return self._reads(answer)

    def form(self, button: str, part: str = "") -> Form:
        """The first form with this button (about this part)."""
        for form in self.page.forms:
            if button in form.buttons and part in ("", form.fields.get("part")):
                return form
        raise AssertionError(
            f"no button “{button}” {part} on {self.path}: {[list(f.buttons) for f in self.page.forms]}"
        )

    def form_of(self, kind: str, part: str) -> Form:
        """The form that says this kind of entry of this part."""
        for form in self.page.forms:
            if form.fields.get("kind") == kind and form.fields.get("part") == part:
                return form
        raise AssertionError(f"no form says {kind} of {part} on {self.path}")

    def buttons(self) -> list[str]:
        """Every button on the page."""
        return [button for form in self.page.forms for button in form.buttons]

    def _reads(self, answer: HttpResponse) -> Page:
        self.answer = answer
        self.page = Page(answer.content.decode() if "html" in answer["Content-Type"] else "")
        return self.page
