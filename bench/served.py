"""A workshop being served for a measurement: `fingertight serve` as a program of its own, on a folder of its own."""

import os
import signal
import socket
import subprocess
import sys
import time
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from types import TracebackType

PATIENCE_S = 60.0


class Served:
    """The program and the one way in: `with Served(folder) as served`; afterwards nothing of it runs."""

    def __init__(self, home: Path, environment: dict[str, str] | None = None) -> None:
        self.home, self.environment = home, environment
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = int(free.getsockname()[1])

    def __enter__(self) -> "Served":
        command = [sys.executable, "-m", "fingertight", "serve", "--port", str(self.port), "--home", str(self.home)]
        self._process = subprocess.Popen(
            command, env=self.environment, stdout=subprocess.DEVNULL, start_new_session=True
        )
        until = time.monotonic() + PATIENCE_S
        while not self._answers():
            if self._process.poll() is not None or time.monotonic() > until:
                raise RuntimeError("the server did not start")
            time.sleep(0.05)
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        os.killpg(self._process.pid, signal.SIGTERM)
        try:
            self._process.wait(PATIENCE_S)
        finally:
            if self._answers():
                os.killpg(self._process.pid, signal.SIGKILL)

    def get(self, path: str, **headers: str) -> HTTPResponse:
        """One page; its text is in `body`."""
        return self.ask("GET", path, None, headers)

    def ask(self, way: str, path: str, form: str | None, headers: dict[str, str]) -> HTTPResponse:
        """One request, with a form where there is one; the answer's text is in `body`."""
        connection = HTTPConnection("localhost", self.port, timeout=PATIENCE_S)
        if form is not None:
            headers = {**headers, "Content-Type": "application/x-www-form-urlencoded"}
        connection.request(way, path, form, headers)
        answer = connection.getresponse()
        self.raw = answer.read()
        self.body = self.raw.decode("utf-8", "replace")
        connection.close()
        return answer

    def _answers(self) -> bool:
        try:
            socket.create_connection(("127.0.0.1", self.port), timeout=1).close()
        except OSError:
            return False
        return True
