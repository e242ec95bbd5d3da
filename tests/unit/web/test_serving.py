"""Choosing a port: two pages that are started at the same moment."""

from __future__ import annotations

import os
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from storyrod.adapters.web import serving
from storyrod.adapters.web.serving import listen
from storyrod.faults import JobError


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
