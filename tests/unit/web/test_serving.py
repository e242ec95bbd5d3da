"""Choosing a port: two pages that are started at the same moment."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from urllib.request import HTTPCookieProcessor, build_opener

import pytest

from storyrod.adapters.web import serving
from storyrod.adapters.web.serving import listen
from storyrod.faults import JobError
from tests.ports import free_port


def test_pages_started_at_once_listen_at_ports_of_their_own() -> None:
    with ThreadPoolExecutor(8) as pool:
        opened = list(pool.map(lambda _: listen(None), range(8)))
    try:
        assert len({s.getsockname()[1] for s in opened}) == 8
        with pytest.raises(JobError, match="in use"):
            listen(opened[0].getsockname()[1])
    finally:
        for sock in opened:
            sock.close()


def test_no_command_that_the_machine_sees_has_the_key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The browser is given a file that only its owner reads, which leads to the address, and is gone at the end."""
    given: list[str] = []
    opened = threading.Event()

    def takes(address: str) -> None:
        given.append(address)
        opened.set()

    monkeypatch.setattr("webbrowser.open", takes)
    leading = tmp_path / "open.html"
    with serving.opened(leading, "http://127.0.0.1:8021/?key=secret", wanted=True):
        assert opened.wait(120)
        assert given == [leading.as_uri()]
        assert "url=http://127.0.0.1:8021/?key=secret" in leading.read_text(encoding="utf-8")
        assert os.name != "posix" or leading.stat().st_mode & 0o777 == 0o600
    assert not leading.exists()


def test_without_a_browser_nothing_is_written(tmp_path: Path) -> None:
    with serving.opened(tmp_path / "open.html", "http://127.0.0.1:8021/?key=secret", wanted=False):
        assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such interrupt for a single process.")
def test_an_impatient_second_interrupt_stops_it_as_quietly_as_one(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "storyrod", "open", "--no-browser", "--port", str(free_port())]
    environment = {**os.environ, "STORYROD_HOME": str(tmp_path)}
    process = subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )  # fmt: skip
    try:
        assert process.stdout is not None
        address = process.stdout.readline().split("The page is at ")[1].strip()
        assert build_opener(HTTPCookieProcessor()).open(address).status == 200  # it runs, and has begun its work
        process.send_signal(signal.SIGINT)
        time.sleep(0.01)
        process.send_signal(signal.SIGINT)
        told, _ = process.communicate()
    finally:
        process.kill()

    assert "Traceback" not in told
    assert process.returncode in {0, -signal.SIGINT}
