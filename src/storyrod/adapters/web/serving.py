"""Starting the page: a free port, the server, the browser; and a second listener where it is opened to the network."""

from __future__ import annotations

import asyncio
import contextlib
import os
import socket
import threading
import webbrowser
from collections.abc import Generator
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Literal

import uvicorn
from starlette.types import ASGIApp

from storyrod.adapters.web import Settings
from storyrod.adapters.web._app import bare_app
from storyrod.adapters.web._certificate import Certificate
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._doors import Doors
from storyrod.adapters.web._guard import Gate, Guard
from storyrod.adapters.web._key import Key
from storyrod.adapters.web._quiet import on_trouble, quieten
from storyrod.adapters.web._settings import local_hosts
from storyrod.adapters.web._tidying import TIDYING
from storyrod.faults import Fault, JobError

USUAL_PORT = 8021
LOCAL = "127.0.0.1"
HANDLES = 4096


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
            sock.listen()  # Two that begin at once can both bind a port, but only one listens at it.
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


def serve(  # keyword-only, all with a plain meaning
    *,
    jobs: Path,
    home: Path,
    first: str,
    port: int | None,
    browser: bool,
    network: bool = False,
    certificate: Certificate | None = None,
) -> None:
    """Serve the page until it is stopped; `first` is the address's path that the browser opens.

    With `network` it is opened to this machine's network from the start, as the bench view does at a button; with a
    `certificate` that way is encrypted.
    """
    sock = listen(port)
    taken = sock.getsockname()[1]
    settings = Settings(jobs=jobs, home=home, hosts=local_hosts(taken))
    app = bare_app(settings)
    desk: Desk = app.state.desk
    desk.network.attach(app, start_listener, port=taken)
    desk.network.certificate = certificate
    key = Key(home, taken)
    address = f"http://{LOCAL}:{taken}{key.address(first)}"
    print(f"The page is at {address}\nJobs are in {jobs}; the bench log is in {home}. Ctrl+C stops it.", flush=True)  # noqa: T201
    quieten()
    more_handles()
    TIDYING.begin()
    server = _Main(config_of(Guard(app, Gate(hosts=settings.hosts, key=key)), lifespan="on"), desk if network else None)
    with opened(home / f"open-{taken}.html", address, wanted=browser), contextlib.suppress(KeyboardInterrupt):
        server.run(sockets=[sock])


@contextlib.contextmanager
def opened(leading: Path, address: str, *, wanted: bool) -> Generator[None]:
    """Open an address in the browser by a file that leads there: a word of a command is seen by the whole machine."""
    if not wanted:
        yield
        return
    try:
        leading.unlink(missing_ok=True)
        handle = os.open(leading, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(f'<!doctype html><meta charset="utf-8"><meta http-equiv="refresh" content="0; url={address}">\n')
    except OSError:
        print("The browser is not opened: open the address yourself.", flush=True)  # noqa: T201
        yield
        return
    opening = threading.Timer(0.3, _open, [leading.resolve().as_uri()])
    opening.daemon = True
    opening.start()
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            leading.unlink()


def more_handles() -> None:
    """Have as many files and connections as this program may, up to some thousands: some systems begin with 256."""
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource

        now, most = resource.getrlimit(resource.RLIMIT_NOFILE)
        wanted = HANDLES if most == resource.RLIM_INFINITY else min(HANDLES, most)
        if now < wanted:
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, most))


def config_of(app: ASGIApp, *, lifespan: Literal["on", "off"], doors: Doors | None = None) -> uvicorn.Config:
    """Return how an app is served, at either gate."""
    return uvicorn.Config(
        app,
        http=(doors or Doors()).protocol(),
        backlog=100,  # so many are taken in at one go; with 256 handles in all, that must leave some
        log_level="warning",
        ws="websockets-sansio",
        ws_max_size=100_000,  # a page says nothing over its socket
        proxy_headers=False,  # nobody stands between: what a caller says of where it comes from is its own word
        lifespan=lifespan,
        timeout_graceful_shutdown=3,
    )


class _Main(uvicorn.Server):
    """The server of this machine itself; opens the page to the network once it is there, where that was asked for."""

    def __init__(self, config: uvicorn.Config, to_network: Desk | None) -> None:
        super().__init__(config)
        self._to_network = to_network

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop at the first interrupt; another while it stops would break off with a traceback."""
        if not self.should_exit:
            super().handle_exit(sig, frame)

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then open the way in from the network, and say how."""
        asyncio.get_running_loop().set_exception_handler(on_trouble)
        await super().startup(sockets=sockets)
        if self._to_network is None:
            return
        network = self._to_network.network
        try:
            await network.open()
        except JobError as error:
            print("\n".join(str(f) for f in error.faults), flush=True)  # noqa: T201
            return
        half = len(network.code) // 2
        print(  # noqa: T201
            f"It is open to the network at {', '.join(network.addresses)}\n"
            f"Access code: {network.code[:half]} {network.code[half:]}",
            flush=True,
        )


class Beside(uvicorn.Server):
    """A server beside the main one, on the same loop: it leaves the signals to that one."""

    def __init__(self, config: uvicorn.Config) -> None:
        super().__init__(config)
        self.listens = asyncio.Event()

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, and tell that it listens."""
        await super().startup(sockets=sockets)
        self.listens.set()

    @contextlib.contextmanager
    def capture_signals(self) -> Generator[None]:
        """Capture none."""
        yield


@dataclass(slots=True)
class _Listening:
    server: uvicorn.Server
    task: asyncio.Task[None]

    async def stop(self) -> None:
        """Take no more; let go of who is there."""
        self.server.should_exit = True
        with contextlib.suppress(asyncio.CancelledError):
            await self.task


async def start_listener(
    app: ASGIApp, sockets: list[socket.socket], certificate: Certificate | None = None
) -> _Listening:
    """Serve an app at sockets too, on the loop that runs; the page's own beginning and end are the main server's."""
    config = config_of(app, lifespan="off")
    if certificate is not None:
        config.ssl_certfile, config.ssl_keyfile = str(certificate.file), str(certificate.key)
    config.timeout_graceful_shutdown = 1
    server = Beside(config)
    task = asyncio.create_task(server.serve(sockets=sockets))
    listens = asyncio.create_task(server.listens.wait())
    await asyncio.wait({task, listens}, return_when=asyncio.FIRST_COMPLETED)
    listens.cancel()
    return _Listening(server, task)


def _open(address: str) -> None:
    with contextlib.suppress(Exception):
        webbrowser.open(address)
