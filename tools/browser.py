"""Find a browser for the tests, or install one, and say plainly which.

An existing Chromium or Chrome comes first, then the package manager's, then Playwright's own.
"""

import os
import shutil
import subprocess
import sys

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def existing() -> str | None:
    """The browser that is here already: the one FINGERTIGHT_BROWSER names, else the first of NAMES on the path."""
    named = os.environ.get("FINGERTIGHT_BROWSER")
    if named:
        return shutil.which(named)
    return next(filter(None, map(shutil.which, NAMES)), None)


def from_packages() -> str | None:
    """Chromium from Debian's packages, where this is root on a machine with apt-get."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return None
    print("No browser is here: installing Chromium with apt-get.", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "update", "-qq"],
        ["apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium", "fonts-dejavu-core"],
    ):
        if subprocess.run(command, env=quiet, stdout=subprocess.DEVNULL, check=False).returncode:
            print(f"`{' '.join(command)}` did not work.", flush=True)
            return None
    return existing()


def from_playwright() -> bool:
    """Whether Playwright could install its own Chromium."""
    print("Installing the Chromium that Playwright brings.", flush=True)
    return subprocess.run([sys.executable, "-m", "playwright", "install", "chromium"], check=False).returncode == 0


def main() -> int:
    """Exit status 0 when the tests have a browser."""
    found = existing()
    if found:
        print(f"Browser for the tests: {found}, which was here already.")
        return 0
    found = from_packages()
    if found:
        print(f"Browser for the tests: {found}, installed just now with apt-get.")
        return 0
    if from_playwright():
        print("Browser for the tests: Playwright's own Chromium, installed just now.")
        return 0
    print("No browser could be installed. Install Chromium, or name one in FINGERTIGHT_BROWSER.", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
