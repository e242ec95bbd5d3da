"""The server at real sockets: strangers are few and short, what is too much is told, and no terminal is flooded."""

from __future__ import annotations

import asyncio
import contextlib
import errno
import logging
import socket
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from http.client import HTTPConnection

import pytest
import uvicorn
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from storyrod.adapters.web import serving
from storyrod.adapters.web._app import _http_error, _ours, _went_away
from storyrod.adapters.web._doors import Connection, Doors
from storyrod.adapters.web._guard import MOST_BYTES, Gate, Guard
from storyrod.adapters.web._quiet import Seldom, on_trouble, quieten
from storyrod.adapters.web._settings import local_hosts


@dataclass(slots=True)
class Real:
    """A server at a port of its own, with short patience."""

    port: int
    doors: Doors
    held: list[socket.socket] = field(default_factory=list)

    def ask(self, method: str = "GET", body: object = None, **headers: str) -> tuple[int, str]:
        line = HTTPConnection("127.0.0.1", self.port, timeout=120)
        try:
            line.request(method, "/static/x", body, {k.replace("_", "-"): v for k, v in headers.items()})  # type: ignore[arg-type]
            answer = line.getresponse()
            return answer.status, answer.read().decode()
        finally:
            line.close()

    def open(self, words: bytes = b"") -> socket.socket:
        line = socket.create_connection(("127.0.0.1", self.port), timeout=120)
        line.sendall(words)
        self.held.append(line)
        return line


async def _tells(request: Request) -> Response:
    body = await request.body()
    return PlainTextResponse(f"{len(body)} from {request.client.host if request.client else ''}")


MUCH = 30_000_000
"""More than the system keeps for a line that is not read."""


async def _tells_much(_: Request) -> Response:
    return Response(b"x" * MUCH)


@pytest.fixture(scope="module")
def real() -> Iterator[Real]:
    doors = Doors(most=8, of_one=4, header_s=0.5, unread_s=1.0)
    sock = serving.listen(None)
    port = sock.getsockname()[1]
    app = Starlette(
        routes=[Route("/static/x", _tells, methods=["GET", "POST"]), Route("/static/much", _tells_much)],
        exception_handlers={HTTPException: _http_error, ClientDisconnect: _went_away, Exception: _ours},
    )
    quieten()
    config = serving.config_of(Guard(app, Gate(hosts=local_hosts(port))), lifespan="off", doors=doors)
    server = uvicorn.Server(config)
    thread = threading.Thread(target=lambda: asyncio.run(server.serve(sockets=[sock])), daemon=True)
    thread.start()
    opened = Real(port, doors)
    yield opened
    for line in opened.held:
        line.close()
    server.should_exit = True
    thread.join(timeout=120)


@pytest.mark.parametrize("size", [MOST_BYTES + 1, 12_000_000])
def test_what_is_too_large_is_told_and_not_cut_off(real: Real, size: int) -> None:
    status, words = real.ask("POST", b" " * size, connection="close")

    assert status == 413
    assert "More than 4 MB were sent" in words


def test_so_it_is_where_the_length_is_not_said(real: Real) -> None:
    pieces = (b" " * 500_000 for _ in range(16))
    status, words = real.ask("POST", pieces, accept="application/json", connection="close")

    assert status == 413
    assert "More than 4 MB" in words


def test_a_caller_is_where_the_line_leads_whatever_it_says(real: Real) -> None:
    assert real.ask(x_forwarded_for="198.51.100.9", forwarded="for=198.51.100.9")[1] == "0 from 127.0.0.1"


def test_idle_lines_shut_nobody_out_and_are_few(real: Real) -> None:
    for _ in range(60):
        real.open()

    assert real.ask()[0] == 200
    assert real.doors.strangers <= real.doors.of_one


@pytest.mark.parametrize("words", [b"", b"GET /static/x HTTP/1.1\r\nHost: "])
def test_who_never_says_what_it_wants_is_let_go(real: Real, words: bytes) -> None:
    assert real.open(words).recv(10) == b""


def test_who_takes_nothing_is_let_go(real: Real) -> None:
    line = real.open(f"GET /static/much HTTP/1.1\r\nHost: 127.0.0.1:{real.port}\r\n\r\n".encode())
    line.recv(1)
    came = real.doors.last
    deadline = time.monotonic() + 120
    while came is not None and came.is_open() and time.monotonic() < deadline:
        time.sleep(0.05)

    assert came is not None
    assert not came.is_open()
    count = 0
    with contextlib.suppress(ConnectionError):
        while part := line.recv(1_000_000):
            count += len(part)
    assert count < MUCH


def test_a_body_that_never_comes_is_told(real: Real, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("storyrod.adapters.web._guard.BODY_S", 0.3)
    head = f"POST /static/x HTTP/1.1\r\nHost: 127.0.0.1:{real.port}\r\nAccept: application/json\r\n"
    line = real.open(f"{head}Content-Length: 100\r\n\r\n{{".encode())

    assert line.recv(1000).startswith(b"HTTP/1.1 408 ")


def test_a_caller_that_goes_away_is_no_mistake_of_ours(real: Real, caplog: pytest.LogCaptureFixture) -> None:
    head = f"POST /static/x HTTP/1.1\r\nHost: 127.0.0.1:{real.port}\r\nContent-Length: 100\r\n\r\n{{"
    with caplog.at_level(logging.WARNING):
        for _ in range(5):
            real.open(head.encode()).close()
        deadline = time.monotonic() + 120
        while real.doors.strangers and time.monotonic() < deadline:
            time.sleep(0.02)
        assert real.ask()[0] == 200

    assert caplog.text == ""


# Doors by themselves ----------------------------------------------------------------------------------------------


def came(doors: Doors, closed: list[str], name: str, address: str = "198.51.100.7") -> Connection:
    new = Connection(address, lambda: closed.append(name), lambda: name not in closed)
    doors.came(new)
    return new


def test_the_stranger_that_came_first_goes_and_whoever_is_known_stays() -> None:
    doors, closed = Doors(most=3, of_one=2), list[str]()
    came(doors, closed, "known").known = True
    for name in ("a", "b", "c"):
        came(doors, closed, name)
    assert closed == ["a"]  # two of one address
    came(doors, closed, "d", "198.51.100.8")
    came(doors, closed, "e", "198.51.100.9")

    assert closed == ["a", "b"]  # three in all
    assert doors.strangers == 3


# What the terminal is told ----------------------------------------------------------------------------------------


def test_lines_without_end_are_told_seldom_and_counted() -> None:
    now = [0.0]
    seldom = Seldom(most=3, each_s=60, clock=lambda: now[0])

    def told() -> str | None:
        record = logging.LogRecord("x", logging.WARNING, "", 1, "at %s", ("here",), None)
        return record.getMessage() if seldom.filter(record) else None

    assert [told() for _ in range(1000)] == ["at here"] * 3 + [None] * 997
    now[0] = 61
    assert told() == "at here (997 lines before were left out)"
    assert told() == "at here"


def test_a_socket_that_was_turned_away_is_no_error(real: Real, caplog: pytest.LogCaptureFixture) -> None:
    shake = {"Upgrade": "websocket", "Connection": "Upgrade", "Sec-WebSocket-Version": "13", "Origin": "http://evil"}
    line = HTTPConnection("127.0.0.1", real.port, timeout=120)
    line.request("GET", "/job/x/live", headers=shake | {"Sec-WebSocket-Key": "c3Rvcnlyb2Rzb2NrZXQxMg=="})
    answer = line.getresponse()

    assert (answer.status, answer.read()) == (403, b"This was sent from another site's page, and nothing was done.")
    line.close()
    assert real.ask()[0] == 200
    assert caplog.text == ""


def test_out_of_handles_is_told_in_a_line(caplog: pytest.LogCaptureFixture) -> None:
    loop = asyncio.new_event_loop()
    try:
        on_trouble(loop, {"message": "accept", "exception": OSError(errno.EMFILE, "Too many open files")})
        on_trouble(loop, {"message": "gone", "exception": ConnectionResetError()})
    finally:
        loop.close()

    (record,) = caplog.records
    assert "Close some pages" in record.getMessage()
    assert record.exc_info is None


class Line:
    """A line of which so many bytes wait to be sent, from look to look."""

    def __init__(self, *waits: int, closing_after: int = 99) -> None:
        self.waits, self.closing_after = list(waits), closing_after
        self.looks, self.aborted = 0, False

    def get_write_buffer_size(self) -> int:
        self.looks += 1
        return self.waits[min(self.looks, len(self.waits)) - 1]

    def is_closing(self) -> bool:
        return self.looks > self.closing_after

    def abort(self) -> None:
        self.aborted = True


@pytest.mark.parametrize(
    ("line", "looks", "let_go"),
    [
        (Line(0, 0, 0, 0), 6, False),  # kept open between requests
        (Line(0, 500, 400, 400), 4, True),
        (Line(500, 400, 500, 400, 500, 400), 6, False),  # read slowly, and written on
        (Line(500, 400, 0, closing_after=1), 3, False),  # closed once all is taken
        (Line(500, 500, closing_after=0), 2, True),  # would wait for ever to be closed
    ],
)
def test_a_line_over_which_nothing_goes_is_let_go(line: Line, looks: int, let_go: bool) -> None:
    waiting: list[tuple[Callable[..., None], tuple[object, ...]]] = []

    class Loop:
        def call_later(self, _: float, then: Callable[..., None], *given: object) -> None:
            waiting.append((then, given))

    spoken = object.__new__(Doors().protocol())
    spoken.loop = Loop()  # type: ignore[assignment]
    spoken._watch(line, 0)  # type: ignore[attr-defined]
    while waiting and line.looks < looks:
        then, given = waiting.pop()
        then(*given)

    assert line.aborted is let_go
    assert line.looks == looks
