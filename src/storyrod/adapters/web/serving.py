"""Starting the page: a free port, the server, the browser."""

from __future__ import annotations

import contextlib
import socket
import threading
import webbrowser
from pathlib import Path

import uvicorn

from storyrod.adapters.web import Settings, make_app
from storyrod.adapters.web._settings import local_hosts
from storyrod.faults import Fault, JobError

USUAL_PORT = 8021
LOCAL = "127.0.0.1"


def listen(port: int | None) -> socket.socket:
    """Return a socket of this machine only, at `port`, or at the usual one or the next that is free.

    Raises:
        JobError: the port that was asked for is in use.
    """
    for candidate in [port] if port is not None else [*range(USUAL_PORT, USUAL_PORT + 20), 0]:
        sock = socket.socket()
        try:
            sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            sock.bind((LOCAL, candidate))
        except OSError:
            sock.close()
            continue
        return sock
    raise JobError(
        Fault(
            code="port-taken",
            field="--port",
            found=f"port {port}, which is in use or not allowed",
            allowed="a free port",
            do="Leave --port out, or name another; the page may be open already.",
        )
    )


def serve(*, jobs: Path, home: Path, first: str, port: int | None, browser: bool) -> None:
    """Serve the page until it is stopped; `first` is the address's path that the browser opens."""
    sock = listen(port)
    taken = sock.getsockname()[1]
    settings = Settings(jobs=jobs, home=home, hosts=local_hosts(taken))
    address = f"http://{LOCAL}:{taken}{first}"
    print(f"The page is at {address}\nJobs are in {jobs}; the bench log is in {home}. Ctrl+C stops it.", flush=True)  # noqa: T201
    if browser:
        opening = threading.Timer(0.3, _open, [address])
        opening.daemon = True
        opening.start()
    config = uvicorn.Config(make_app(settings), log_level="warning", ws="websockets-sansio", lifespan="on")
    server = uvicorn.Server(config)
    with contextlib.suppress(KeyboardInterrupt):
        server.run(sockets=[sock])


def _open(address: str) -> None:
    with contextlib.suppress(Exception):
        webbrowser.open(address)
