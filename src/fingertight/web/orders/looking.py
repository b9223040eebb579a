"""A search in a process of its own: `fingertight order --as-found`, heard line by line while the page is open."""

import json
import subprocess
import sys
import threading
from collections import OrderedDict
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any

MOST_AT_ONCE = 2
MOST_KEPT = 200
LOOK_S = 60


@dataclass
class Looking:
    """One search. answer: the last it said; done: it will say no more; stopped: somebody had enough."""

    text: str
    asked: tuple[str, ...]
    answer: dict[str, Any] | None = None
    done: bool = False
    stopped: bool = False
    heard: int = 0
    _process: subprocess.Popen[bytes] | None = field(default=None, repr=False)

    def begin(self) -> None:
        """Start the process and listen to it."""
        command = [sys.executable, "-m", "fingertight", "order", "-", *self.asked, "--limit", str(LOOK_S)]
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        threading.Thread(target=self._listen, args=(self._process,), daemon=True).start()

    def _listen(self, process: subprocess.Popen[bytes]) -> None:
        if process.stdin is None or process.stdout is None:
            raise RuntimeError("the pipes were asked for")
        try:
            with process, suppress(OSError, ValueError):  # it was stopped: what it had said stands
                process.stdin.write(self.text.encode())
                process.stdin.close()
                for line in process.stdout:
                    self.answer, self.heard = json.loads(line), self.heard + 1
        finally:
            self.done, self.heard = True, self.heard + 1

    def stop(self) -> None:
        """End it; the last answer stays."""
        self.stopped = True
        if self._process is not None and not self.done:
            self._process.terminate()


_kept: OrderedDict[str, Looking] = OrderedDict()
_lock = threading.Lock()


def looked_for(text: str, asked: tuple[str, ...]) -> Looking:
    """The search for this question about this machine file: begun when it is first asked, then kept.

    No more than a few run at once; another one begins when it is asked again after one has ended.
    """
    key = sha256("\0".join((text, *asked)).encode()).hexdigest()
    with _lock:
        found = _kept.get(key)
        if found is None:
            found = Looking(text, asked)
            if sum(not one.done for one in _kept.values()) >= MOST_AT_ONCE:
                return found
            found.begin()
            _kept[key] = found
        _kept.move_to_end(key)
        while len(_kept) > MOST_KEPT:
            _, old = _kept.popitem(last=False)
            old.stop()
        return found


def end_all() -> None:
    """Stop every search and forget what was found."""
    with _lock:
        for one in _kept.values():
            one.stop()
        _kept.clear()
