"""Every route and socket of the page, found in the app itself, asked from the wrong side: how many were let through.

`python3 run.py harden doors`. At the local gate without the key of a start, at the network's without the code, with a
token of a way in that was closed since, and with all of them from a foreign name (Host), a foreign page (Origin), with
more than 4 MB, and while strangers hold lines open and send slowly. What a stranger may see (styles, the page that asks
for the code) is counted apart.
"""

from __future__ import annotations

import argparse
import asyncio
import base64
import contextlib
import os
import re
import shutil
import socket
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from starlette.routing import Mount, Route, WebSocketRoute

from benchmarks._timing import show_table
from benchmarks.harden._served import HERE, Answer, Served, ask, served
from storyrod.adapters.web._guard import MOST_BYTES, code_cookie

ROOT: Final = Path(__file__).resolve().parent.parent.parent
JOB: Final = "first-box"
SAMPLES: Final = {
    "job": JOB,
    "token": "1a2b3c",
    "group": "saw",
    "case": "A",
    "name": "plan.json",
    "path": "page.css",
    "paper": "buying-list.pdf",
    "photo": f"{'0' * 16}.png",
}
FREE: Final = ("/static/", "/enter")
SLOW: Final = 50
DEAF: Final = 20
TOLD: Final = 10_000
"""Sockets that never read, and how many words of 1 kB are told to each: far more than a line takes in by itself."""
HELD_UP_S: Final = 1.0

type Asked = tuple[str, str]
"""A method (`SOCKET` for a socket) and an address."""


def table_of(routes: Sequence[Any], before: str = "") -> Iterator[Asked]:
    """Yield every method and address that the app knows, with a good value in each changing part."""
    for route in routes:
        if isinstance(route, Mount):
            yield from table_of(route.routes, before + route.path)
            if not route.routes:
                yield "GET", f"{before}{route.path}/page.css"
        elif isinstance(route, WebSocketRoute):
            yield "SOCKET", _address(before + route.path)
        elif isinstance(route, Route):
            for method in sorted((route.methods or set()) - {"HEAD"}):
                yield method, _address(before + route.path)


def _address(path: str) -> str:
    return re.sub(r"\{([^}:]+)(:[^}]*)?\}", lambda m: SAMPLES[m[1]], path)


def try_one(port: int, asked: Asked, headers: dict[str, str], *, body: bytes | None = None) -> Answer:
    """Ask once; a socket by its handshake."""
    method, path = asked
    if method == "SOCKET":
        shake = {"Upgrade": "websocket", "Connection": "Upgrade", "Sec-WebSocket-Version": "13"}
        return ask(port, "GET", path, headers=shake | {"Sec-WebSocket-Key": "c3Rvcnlyb2Rzb2NrZXQxMg=="} | headers)
    sent = body if body is not None else b"{}" if method == "POST" else None
    kind = {"Content-Type": "application/json"} if sent is not None else {}
    return ask(port, method, path, body=sent, headers=kind | headers)


def is_let_through(answer: Answer) -> bool:
    """Return whether an answer is more than a word that turns away."""
    led_to_enter = answer.status == 303 and answer.headers.get("location") == "/enter"
    return answer.status not in {401, 403, 408, 413, 421} and not led_to_enter


def attacks(page: Served) -> Iterator[tuple[str, int, dict[str, str], Callable[[Asked], bool], bytes | None]]:
    """Yield each kind of attack: its name, the port, what is sent along, of which routes it is one, and the body."""

    def every(asked: Asked) -> bool:
        return not asked[1].startswith(FREE)

    def changing(asked: Asked) -> bool:
        return asked[0] in {"POST", "SOCKET"}

    def sent(asked: Asked) -> bool:
        return asked[0] == "POST"

    def whole(_: Asked) -> bool:
        return True

    owner, tablet, much = page.owner, page.tablet(), b" " * (MOST_BYTES + 1)
    yield "local: no key", page.port, {}, every, None
    yield "local: a cookie made up", page.port, {"Cookie": f"{page.key.cookie}=9999999999.{'0' * 64}"}, every, None
    yield "local: foreign Host, with the key", page.port, owner | {"Host": "evil.example"}, whole, None
    yield "local: foreign Host at our port", page.port, owner | {"Host": f"evil.example:{page.port}"}, whole, None
    yield "local: foreign Origin, with the key", page.port, owner | {"Origin": "http://evil.example"}, changing, None
    yield "local: Origin null, with the key", page.port, owner | {"Origin": "null"}, changing, None
    yield "local: another port's page", page.port, owner | {"Origin": f"http://{HERE}:1"}, changing, None
    yield "local: more than 4 MB, with the key", page.port, owner, sent, much
    yield "network: no code", page.over, {}, every, None
    yield "network: the owner's cookie", page.over, owner, every, None
    yield (
        "network: the code as cookie",
        page.over,
        {"Cookie": f"{code_cookie(str(page.over))}={page.network.code}"},
        every,
        None,
    )
    yield "network: foreign Host, with a token", page.over, tablet | {"Host": "evil.example"}, whole, None
    yield "network: foreign Origin, with a token", page.over, tablet | {"Origin": "http://evil.example"}, changing, None
    yield "network: more than 4 MB, with a token", page.over, tablet, sent, much


def run(page: Served) -> tuple[list[list[object]], int]:
    """Try everything; return the table, and how much was let through or held up."""
    table = list(dict.fromkeys(table_of(page.routes)))
    page.run(page.network.open())
    rows, bad = [], 0
    for name, port, headers, concerns, body in attacks(page):
        tried = [a for a in table if concerns(a)]
        through = [a for a in tried if is_let_through(try_one(port, a, headers, body=body))]
        rows.append([name, len(tried), len(through)])
        bad += len(through)
        for method, path in through:
            print(f"  let through: {name}: {method} {path}")
    old = page.tablet()
    page.run(page.network.close())
    page.run(page.network.open())
    tried = [a for a in table if not a[1].startswith(FREE)]
    through = [a for a in tried if is_let_through(try_one(page.over, a, old))]
    rows.append(["network: a token of a way in closed since", len(tried), len(through)])
    bad += len(through) + _slow(page, rows) + _deaf(page, rows)
    return rows, bad


def _slow(page: Served, rows: list[list[object]]) -> int:
    """Hold lines open that send slowly; ask as the owner meanwhile, and ask for the slowest answer."""
    with contextlib.ExitStack() as held:
        lines: list[socket.socket] = []
        for n in range(SLOW):
            for port in (page.port, page.over):
                line = held.enter_context(contextlib.closing(socket.create_connection((HERE, port), timeout=60)))
                words = f"POST /job/{JOB}/bench/ticks HTTP/1.1\r\nHost: {HERE}:{port}\r\n"
                line.sendall((words if n % 2 else words + "Content-Length: 1000\r\n\r\n{").encode())
                lines.append(line)
        longest = 0.0
        for _ in range(20):
            for line in lines:
                with contextlib.suppress(OSError):
                    line.sendall(b"x")
            began = time.monotonic()
            answer = ask(page.port, "GET", f"/job/{JOB}/bench/words", headers=page.owner)
            longest = max(longest, time.monotonic() - began)
            if answer.status != 200:
                longest = float("inf")
            time.sleep(0.05)
    late = int(longest > HELD_UP_S)
    rows.append([f"held up by {2 * SLOW} slow lines: at most {longest:.2f} s", 20, late])
    return late


def _deaf(page: Served, rows: list[list[object]]) -> int:
    """Open sockets of the owner that never read, tell their job much, and see that each is let go, and soon."""
    words = [
        f"GET /job/{JOB}/live HTTP/1.1",
        f"Host: {HERE}:{page.port}",
        "Connection: Upgrade",
        "Upgrade: websocket",
        "Sec-WebSocket-Version: 13",
        f"Sec-WebSocket-Key: {base64.b64encode(os.urandom(16)).decode()}",
        f"Cookie: {page.owner['Cookie']}",
    ]

    async def tell() -> float:
        longest, last = 0.0, time.monotonic()
        for n in range(TOLD):
            page.live.tell(JOB, {"kind": "tried", "n": n, "words": "x" * 1000})
            if n % 50 == 0:
                await asyncio.sleep(0)
                longest, last = max(longest, time.monotonic() - last), time.monotonic()
        return longest

    with contextlib.ExitStack() as held:
        for _ in range(DEAF):
            line = held.enter_context(contextlib.closing(socket.create_connection((HERE, page.port), timeout=60)))
            line.sendall(("\r\n".join(words) + "\r\n\r\n").encode())
            line.recv(12)
        for _ in range(600):
            if page.live.count(JOB) >= DEAF:
                break
            time.sleep(0.05)
        heard = page.live.count(JOB)
        longest = asyncio.run_coroutine_threadsafe(tell(), page.loop).result(300)
        left = page.live.count(JOB) + (heard < DEAF) + (longest > HELD_UP_S)
    rows.append([f"sockets that never read, {TOLD} words told: held up {longest:.2f} s", DEAF, left])
    return left


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where anything was let through."""
    argparse.ArgumentParser(prog="run.py harden doors", description=__doc__).parse_args(argv)
    with tempfile.TemporaryDirectory() as folder:
        jobs, home = Path(folder, "jobs"), Path(folder, "home")
        jobs.mkdir()
        shutil.copy(ROOT / "examples" / f"{JOB}.toml", jobs)
        with served(jobs, home) as page:
            ask(page.port, "GET", f"/job/{JOB}/bench", headers=page.owner)  # planned once, before anything is timed
            before = {p.name: p.read_bytes() for p in jobs.iterdir()}
            rows, bad = run(page)
        bad += {p.name: p.read_bytes() for p in jobs.iterdir()} != before
    show_table("From the wrong side", ("attack", "tried", "let through"), rows)
    print(f"{bad:>8}  failed")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
