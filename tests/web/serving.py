"""A workshop being served by a program of its own, as a person starts it."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path


def free_port() -> int:
    """A port nobody listens on."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


def answers(port: int) -> bool:
    """Whether anybody listens on this port."""
    with socket.socket() as tried:
        tried.settimeout(1)
        return tried.connect_ex(("127.0.0.1", port)) == 0


class Served:
    """`fingertight serve` on a folder, started and stopped."""

    def __init__(self, home: Path, port: int | None = None) -> None:
        self.home, self.port = home, port or free_port()
        command = [sys.executable, "-m", "fingertight", "serve", "--port", str(self.port), "--home", str(home)]
        pipe = subprocess.PIPE
        self.program = subprocess.Popen(command, stdout=pipe, stderr=pipe, text=True, start_new_session=True)
        self.address = f"http://localhost:{self.port}"
        for _ in range(300):
            if answers(self.port) or self.program.poll() is not None:
                return
            time.sleep(0.1)
        raise AssertionError("nothing is served after 30 s")

    def stop(self) -> str:
        """Ctrl-C; what it said."""
        if self.program.poll() is None:
            self.program.send_signal(signal.SIGINT)
        said, wrong = self.program.communicate(timeout=30)
        return said + wrong

    def dies(self) -> None:
        """kill -9 of the program itself, not of its worker."""
        os.kill(self.program.pid, signal.SIGKILL)
        self.program.communicate(timeout=30)

    def is_gone_within(self, seconds: float) -> bool:
        """Whether the port refuses before so long."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            if not answers(self.port):
                return True
            time.sleep(0.05)
        return False
