"""Choosing a port: two pages that are started at the same moment."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest

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
