"""Ports for servers that tests start: one that was killed must find its own again, whatever else runs beside it."""

from __future__ import annotations

import random
import socket


def free_port() -> int:
    """Return a free port that is neither among the page's own first ones nor one that a system gives out by itself."""
    chance = random.SystemRandom()
    while True:
        port = chance.randrange(20_000, 30_000)
        with socket.socket() as tried:
            try:
                tried.bind(("127.0.0.1", port))
            except OSError:
                continue
            return port
