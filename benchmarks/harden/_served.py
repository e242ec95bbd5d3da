"""The whole page at real sockets, in a thread: at its local gate, and at the one for the network when that is open."""

from __future__ import annotations

import asyncio
import http.client
import threading
from collections.abc import Coroutine, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from storyrod.adapters.web import Settings, serving
from storyrod.adapters.web._app import bare_app
from storyrod.adapters.web._guard import Gate, Guard, code_cookie
from storyrod.adapters.web._key import Key
from storyrod.adapters.web._live import Live
from storyrod.adapters.web._network import Network
from storyrod.adapters.web._quiet import on_trouble, quieten
from storyrod.adapters.web._settings import local_hosts

HERE = "127.0.0.1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What was answered."""

    status: int
    body: bytes
    headers: dict[str, str]


@dataclass(slots=True, kw_only=True)
class Served:
    """A page that is served."""

    port: int
    key: Key
    network: Network
    live: Live
    loop: asyncio.AbstractEventLoop
    routes: list[Any]

    @property
    def owner(self) -> dict[str, str]:
        """What the browser of the owner sends along."""
        return {"Cookie": self.key.given().split(";")[0]}

    @property
    def over(self) -> int:
        """The port of the network's gate."""
        return int(self.network.addresses[0].rsplit(":", 1)[1])

    def tablet(self) -> dict[str, str]:
        """What a tablet sends along that gave the code."""
        return {"Cookie": f"{code_cookie(self.network.addresses[0])}={self.network.enter(self.network.code, HERE)}"}

    def run(self, work: Coroutine[Any, Any, Any]) -> None:
        """Do something on the server's loop, and wait for it."""
        asyncio.run_coroutine_threadsafe(work, self.loop).result(60)


def ask(  # keyword-only, all with a plain meaning
    port: int, method: str, path: str, *, body: bytes | None = None, headers: dict[str, str] | None = None
) -> Answer:
    """Ask a server on this machine for something, over a line of its own."""
    line = http.client.HTTPConnection(HERE, port, timeout=300)
    try:
        line.request(method, path, body, headers or {})
        answer = line.getresponse()
        return Answer(status=answer.status, body=answer.read(), headers=dict(answer.getheaders()))
    finally:
        line.close()


@contextmanager
def served(jobs: Path, home: Path) -> Iterator[Served]:
    """Serve a folder of jobs until the block is left."""
    sock = serving.listen(None)
    port = sock.getsockname()[1]
    settings = Settings(jobs=jobs, home=home, hosts=local_hosts(port), polling_s=60.0)
    app, key = bare_app(settings), Key(home, port)
    network: Network = app.state.desk.network
    network.attach(app, serving.start_listener, port=port + 1, find=lambda: (HERE,))
    server = serving.Beside(serving.config_of(Guard(app, Gate(hosts=settings.hosts, key=key)), lifespan="on"))
    quieten()
    begun: list[asyncio.AbstractEventLoop] = []
    ready = threading.Event()

    async def serve() -> None:
        begun.append(asyncio.get_running_loop())
        begun[0].set_exception_handler(on_trouble)
        ready.set()
        await server.serve(sockets=[sock])

    thread = threading.Thread(target=asyncio.run, args=(serve(),), daemon=True)
    thread.start()
    ready.wait(60)
    page = Served(port=port, key=key, network=network, live=app.state.desk.live, loop=begun[0], routes=list(app.routes))
    try:
        yield page
    finally:
        page.run(network.close())
        server.should_exit = True
        thread.join(60)
