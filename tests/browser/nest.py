"""Servers born quickly: one process has read all of storyrod, and each server is a fork of it.

To begin Python and read every module takes longer than most tests of the page. A server from here is still a process
of its own, that is killed and limited like any other; `test_journey` starts one by the command that a maker types.
"""

from __future__ import annotations

import atexit
import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final, TextIO

CAN_FORK: Final = hasattr(os, "fork") and hasattr(socket, "send_fds")


@dataclass(kw_only=True)
class Born:
    """A server that was forked, as much like one that was started as the tests ask."""

    pid: int
    stdout: TextIO

    def send_signal(self, number: int) -> None:
        """Send it a signal; one that has ended already gets none."""
        with contextlib.suppress(ProcessLookupError):
            os.kill(self.pid, number)

    def wait(self, timeout: float) -> None:
        """Wait until it has ended.

        Raises:
            TimeoutError: it has not after so many seconds.
        """
        end = time.monotonic() + timeout
        while True:
            try:
                os.kill(self.pid, 0)
            except ProcessLookupError:
                return
            if time.monotonic() > end:
                raise TimeoutError(f"process {self.pid} does not end")
            time.sleep(0.01)


def born(words: Sequence[str], env: Mapping[str, str], before: str = "") -> Born:
    """Return a process that does what `storyrod` does by these words, having run `before`."""
    _, ours = _nest()
    reading, writing = os.pipe()
    told = json.dumps({"words": list(words), "env": dict(env), "before": before}).encode()
    socket.send_fds(ours, [len(told).to_bytes(4, "big") + told], [writing])
    os.close(writing)
    return Born(pid=int.from_bytes(ours.recv(4), "big"), stdout=os.fdopen(reading, encoding="utf-8"))


@cache
def _nest() -> tuple[subprocess.Popen[bytes], socket.socket]:
    """Start the process that the servers are forked from; it ends with this one, whose end of the line is then shut."""
    ours, its = socket.socketpair()
    line = "import sys; from tests.browser.nest import hatch; hatch(int(sys.argv[1]))"
    process = subprocess.Popen([sys.executable, "-c", line, str(its.fileno())], pass_fds=[its.fileno()])
    its.close()
    atexit.register(_end, process, ours)
    return process, ours


def _end(process: subprocess.Popen[bytes], line: socket.socket) -> None:
    line.close()
    process.wait()


def hatch(number: int) -> None:
    """Fork a server for each message that comes by the socket of this number."""
    import storyrod.adapters.cli
    import storyrod.adapters.web.serving  # noqa: F401

    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # who has ended is gone at once
    line = socket.socket(fileno=number)
    while True:
        head, files, _, _ = socket.recv_fds(line, 4, 1)
        if not head:
            return
        size, told = int.from_bytes(head, "big"), b""
        while len(told) < size:
            told += line.recv(size - len(told))
        pid = os.fork()
        if pid == 0:
            line.close()
            _be(json.loads(told), files[0])
        os.close(files[0])
        line.sendall(pid.to_bytes(4, "big"))


def _be(told: dict[str, object], out: int) -> None:
    """Be the server, and never come back."""
    from storyrod.adapters.cli import main

    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    os.dup2(out, 1)
    os.close(out)
    sys.stdout = os.fdopen(1, "w", encoding="utf-8", closefd=False)
    env, words = told["env"], told["words"]
    assert isinstance(env, dict)
    assert isinstance(words, list)
    os.environ.clear()
    os.environ.update(env)
    exec(str(told["before"]), {})
    status = 1
    try:
        status = main(words)
    finally:
        sys.stdout.flush()
        os._exit(status)
