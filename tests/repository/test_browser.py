"""`make test` finds a browser, or installs one, and says which."""

import pytest

from tools import browser


@pytest.fixture
def bare_machine(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    """A machine without any browser and without a package manager that would bring one."""
    monkeypatch.delenv("FINGERTIGHT_BROWSER", raising=False)
    monkeypatch.setattr(browser.shutil, "which", lambda _: None)
    return monkeypatch


def test_the_browser_of_this_machine_comes_first(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delenv("FINGERTIGHT_BROWSER", raising=False)
    monkeypatch.setattr(
        browser.shutil, "which", lambda name: "there/google-chrome" if name == "google-chrome" else None
    )
    assert browser.main() == 0
    assert capsys.readouterr().out == "Browser for the tests: there/google-chrome, which was here already.\n"


def test_a_browser_can_be_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FINGERTIGHT_BROWSER", "my-browser")
    monkeypatch.setattr(browser.shutil, "which", lambda name: f"there/{name}")
    assert browser.existing() == "there/my-browser"


def test_the_package_manager_comes_before_playwright(
    bare_machine: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    bare_machine.setattr(browser, "from_packages", lambda: "there/chromium")
    assert browser.main() == 0
    assert capsys.readouterr().out == "Browser for the tests: there/chromium, installed just now with apt-get.\n"


@pytest.mark.parametrize(
    ("installed", "status", "said"),
    [
        (True, 0, "Browser for the tests: Playwright's own Chromium, installed just now.\n"),
        (False, 1, "No browser could be installed. Install Chromium, or name one in FINGERTIGHT_BROWSER.\n"),
    ],
)
def test_playwright_is_the_last_resort_and_its_failure_is_said(
    bare_machine: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], installed: bool, status: int, said: str
) -> None:
    bare_machine.setattr(browser, "from_playwright", lambda: installed)
    assert browser.main() == status
    assert "".join(capsys.readouterr()) == said
