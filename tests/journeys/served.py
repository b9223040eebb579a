"""A workshop served for a test: `fingertight serve` as its own process group on a free port, and no orphan after."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from types import TracebackType

PATIENCE_S = 60.0


class Served:
    """The program, serving the workshop of one folder. Used with `with`: afterwards its port refuses."""

    def __init__(self, home: Path) -> None:
        self.home = home
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = int(free.getsockname()[1])
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Where a browser finds it."""
        return f"http://localhost:{self.port}"

    def start(self) -> None:
        """Serve, and wait until a connection is taken."""
        assert self.refuses(), f"port {self.port} is taken by somebody else: nothing here would test this program"
        command = [sys.executable, "-m", "fingertight", "serve", "--port", str(self.port), "--home", str(self.home)]
        self._process = subprocess.Popen(command, stdout=subprocess.DEVNULL, start_new_session=True)
        until = time.monotonic() + PATIENCE_S
        while self.refuses():
            assert self._process.poll() is None, "the server ended before it served anything"
            assert time.monotonic() < until, f"nothing is served after {PATIENCE_S:.0f} s"
            time.sleep(0.05)

    def kill(self, how: signal.Signals = signal.SIGKILL) -> None:
        """End the whole process group: the worker goes on serving when only its parent is killed."""
        if self._process is None:
            return
        os.killpg(self._process.pid, how)
        self._process.wait(PATIENCE_S)
        self._process = None
        until = time.monotonic() + PATIENCE_S
        while not self.refuses():
            assert time.monotonic() < until, f"something still serves on port {self.port}"
            time.sleep(0.05)

    def refuses(self) -> bool:
        """Whether nobody listens on the port."""
        try:
            socket.create_connection(("127.0.0.1", self.port), timeout=1).close()
        except ConnectionRefusedError:
            return True
        return False

    def __enter__(self) -> "Served":
        self.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        self.kill(signal.SIGTERM)
        assert self.refuses()
