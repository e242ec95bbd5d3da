"""Ticks from 20 tablets at once against a real server: how many a second, and how soon the others see them.

The peer in the same run is a bare echo app on the same web stack, which neither keeps anything nor tells anyone; and
bare writes of SQLite with the log's own safety, one a commit, which no keeping of ticks one by one can beat.
"""

from __future__ import annotations

import asyncio
import http.client
import json
import os
import re
import shutil
import socket
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
import uuid
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from websockets.asyncio.client import connect

from benchmarks._needs import ROOT
from benchmarks._timing import show_table
from storyrod.adapters.web._key import Key

TABLETS = 20
EACH = 25
JOB = "percussion-chest"
LET_IN: dict[str, str] = {}
"""What a tablet sends along so that it is let in."""

ECHO = """
import sys, uvicorn
from starlette.applications import Starlette
from starlette.responses import JSONResponse
from starlette.routing import Route
async def echo(request):
    return JSONResponse(await request.json())
app = Starlette(routes=[Route("/ticks", echo, methods=["POST"])])
uvicorn.run(app, port=int(sys.argv[1]), log_level="warning")
"""


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def serving(words: list[str], port: int, home: Path) -> Iterator[None]:
    """Run a server until the block is left."""
    surroundings = {**os.environ, "STORYROD_HOME": str(home)}
    process = subprocess.Popen([sys.executable, *words], env=surroundings, stdout=subprocess.DEVNULL)
    try:
        for _ in range(300):
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.05)
        yield
    finally:
        process.terminate()
        process.wait(timeout=20)


def ask(connection: http.client.HTTPConnection, path: str, body: dict[str, Any]) -> dict[str, Any]:
    connection.request("POST", path, json.dumps(body), {"Content-Type": "application/json", **LET_IN})
    answer = connection.getresponse()
    told = answer.read()
    assert answer.status == 200, told[:300]
    found: dict[str, Any] = json.loads(told)
    return found


def tablet(port: int, path: str, bodies: list[dict[str, Any]], made: dict[str, float]) -> list[float]:
    """Send ticks one after the other on one line; return how long each answer took, and note when each was sent."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    taken, since = [], 0
    for body in bodies:
        began = time.perf_counter()
        made[body["ticks"][0]["thing"]] = began
        since = int(ask(connection, path, {**body, "since": since}).get("seq", 0))
        taken.append((time.perf_counter() - began) * 1000)
    connection.close()
    return taken


def things(port: int) -> tuple[str, list[str]]:
    """Return the version of the plan, and what can be ticked in it."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=120)
    connection.request("GET", f"/job/{JOB}/bench", headers=LET_IN)
    told = connection.getresponse().read().decode()
    found = re.search(r'id="bench-data">(.*?)</script>', told)
    assert found is not None
    data = json.loads(found[1])
    return str(data["plan"]), list(data["things"])


def bodies_of(version: str, names: list[str]) -> list[list[dict[str, Any]]]:
    """Return what each tablet sends: every tick of another copy's name, so that each is a word of its own."""
    said: list[list[dict[str, Any]]] = []
    for n in range(TABLETS):
        mine = [names[(n * EACH + k) % len(names)] for k in range(EACH)]
        ticks = [{"uid": uuid.uuid4().hex, "thing": t, "copy": 1, "done": True, "version": version} for t in mine]
        said.append([{"who": f"tablet {n}", "ticks": [t]} for t in ticks])
    return said


async def listen(port: int, wanted: int, heard: list[float], made: dict[str, float]) -> None:
    """Hear every tick on one tablet; note how long after its sending each was heard."""
    seq = 0
    async with connect(f"ws://127.0.0.1:{port}/job/{JOB}/live", max_size=None, additional_headers=LET_IN) as line:
        while seq < wanted:
            word = json.loads(await line.recv())
            if word.get("kind") != "tick":
                continue
            seq = max(seq, int(word["seq"]))
            now = time.perf_counter()
            heard += [(now - made[w[0]]) * 1000 for w in word["words"] if w[0] in made]


async def all_at_once(port: int, path: str, said: list[list[dict[str, Any]]], *, live: bool) -> dict[str, Any]:
    """Let every tablet tick while all of them listen; return seconds, answers' times and times until heard."""
    made: dict[str, float] = {}
    heard: list[float] = []
    wanted = sum(len(s) for s in said)
    listening = [asyncio.create_task(listen(port, wanted, heard, made)) for _ in said] if live else []
    await asyncio.sleep(1.0 if live else 0.0)
    began = time.perf_counter()
    loop = asyncio.get_running_loop()
    with ThreadPoolExecutor(TABLETS) as pool:
        sent = await asyncio.gather(*(loop.run_in_executor(pool, tablet, port, path, s, made) for s in said))
    seconds = time.perf_counter() - began
    if listening:
        await asyncio.wait_for(asyncio.gather(*listening), timeout=60)
    return {"seconds": seconds, "answers": [ms for one in sent for ms in one], "heard": heard}


def bare_writes(folder: Path, count: int) -> float:
    """Return the seconds of that many bare writes, each a commit of its own."""
    connection = sqlite3.connect(folder / "plain.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE ticks (uid TEXT UNIQUE, thing TEXT, done INTEGER)")
    began = time.perf_counter()
    for n in range(count):
        connection.execute("INSERT INTO ticks VALUES (?, ?, 1)", (uuid.uuid4().hex, f"cut {n}"))
    seconds = time.perf_counter() - began
    connection.close()
    return seconds


def percentile(values: list[float], share: float) -> float:
    return sorted(values)[min(int(len(values) * share), len(values) - 1)] if values else 0.0


def main() -> None:
    """Print ticks a second, and milliseconds until answered and until heard."""
    count = TABLETS * EACH
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        (home / "jobs").mkdir()
        shutil.copy(ROOT / "examples" / f"{JOB}.toml", home / "jobs")
        shutil.copy(ROOT / "examples" / "choir-workshop.toml", home / "jobs")
        port, echo_port = free_port(), free_port()
        (home / "echo.py").write_text(ECHO, encoding="utf-8")
        with (
            serving(["-m", "storyrod", "open", "--no-browser", "--port", str(port)], port, home),
            serving([str(home / "echo.py"), str(echo_port)], echo_port, home),
        ):
            LET_IN["Cookie"] = Key(home, port).given().split(";")[0]
            said = bodies_of(*things(port))
            echo = asyncio.run(all_at_once(echo_port, "/ticks", said, live=False))
            ours = asyncio.run(all_at_once(port, f"/job/{JOB}/bench/ticks", said, live=True))
            again = asyncio.run(all_at_once(port, f"/job/{JOB}/bench/ticks", said, live=False))
        kept = sqlite3.connect(home / "bench-log.sqlite").execute("SELECT COUNT(*) FROM ticks").fetchone()[0]
        assert kept == count, f"{kept} kept of {count}"
        plain = bare_writes(home, count)
    rows = [
        [what, count / r["seconds"], statistics.median(r["answers"]), percentile(r["answers"], 0.95)]
        for what, r in (
            (f"kept and told to {TABLETS} tablets", ours),
            ("sent again, kept once", again),
            ("peer: echo app", echo),
        )
    ]
    rows.append(["peer: bare writes, no network", count / plain, plain / count * 1000, 0.0])
    head = ("what", "ticks a second", "median ms", "95 in 100 ms")
    show_table(f"{TABLETS} tablets, {count} ticks, one a message", head, rows)
    heard = ours["heard"]
    seen = [[len(heard), statistics.median(heard), percentile(heard, 0.95), max(heard)]]
    show_table("From the tap to the other tablets", ("heard", "median ms", "95 in 100 ms", "slowest"), seen)
    to_echo, to_plain = ours["seconds"] / echo["seconds"], ours["seconds"] / plain
    print(f"of the echo app's time: {to_echo:.1f}; of bare writes: {to_plain:.1f}")


if __name__ == "__main__":
    main()
