"""Kills of the server under ticking tablets: nothing acknowledged is lost, nothing is kept twice, nothing is refused.

`python3 run.py harden ticks [--kills N] [--tablets T]`. Each tablet sends a tick until it is acknowledged, then the
next, as the bench does. The server is killed without warning again and again; in some rounds another program holds the
log for a while, in some the disk takes no more (files of the server are limited in size), in some the log can be read
and not written. At the end every acknowledged tick must stand in the log once. Ended by hand (Ctrl+C), it tells what
was tried until then.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import random
import re
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from benchmarks._timing import show_table
from benchmarks.harden._served import HERE, ask
from storyrod.adapters.web._key import Key

ROOT: Final = Path(__file__).resolve().parent.parent.parent
JOB: Final = "first-box"
KINDS: Final = ("killed", "killed, the log held by another", "killed, the disk full", "killed, the log read-only")
AS_ANYONE: Final = ("setpriv", "--bounding-set=-dac_override", "--inh-caps=-dac_override", "--")
"""A server of root's is bound to the rights of files by this, as anyone's is: else root may write to any."""

BEGIN: Final = "from storyrod.adapters.cli import main\nraise SystemExit(main())"
NURSERY: Final = """
import os, resource, signal, sys
from storyrod.adapters.cli import main
from storyrod.adapters.web import first_visit, serving
signal.signal(signal.SIGCHLD, signal.SIG_IGN)
for line in sys.stdin:
    port, most_bytes = line.split()
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGCHLD, signal.SIG_DFL)
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        if int(most_bytes):
            resource.setrlimit(resource.RLIMIT_FSIZE, (int(most_bytes), int(most_bytes)))
        main(["open", "--no-browser", "--port", port])
        print("it ended by itself", flush=True)
        os._exit(1)
    print(child, flush=True)
"""
"""Servers are born of one process that has read all modules already: a start is short, so there can be many."""


@dataclass(slots=True, kw_only=True)
class Shop:
    """The server, and what its tablets know."""

    home: Path
    port: int
    nursery: subprocess.Popen[str] | None = None
    process: subprocess.Popen[str] | None = None
    pid: int = 0
    acknowledged: list[str] = field(default_factory=list)
    answers: Counter[str] = field(default_factory=Counter)
    ends: threading.Event = field(default_factory=threading.Event)
    taken_read_only: int = 0
    """Ticks that were acknowledged in a round whose log could not be written: there must be none."""

    @property
    def log(self) -> Path:
        """The bench log's file."""
        return self.home / "bench-log.sqlite"

    @property
    def headers(self) -> dict[str, str]:
        """What a browser sends that was let in."""
        return {"Cookie": Key(self.home, self.port).given().split(";")[0], "Content-Type": "application/json"}

    def start(self, *, most_bytes: int = 0, read_only: bool = False) -> None:
        """Start the server, at the same port as before; with `most_bytes` no file of it grows beyond."""
        env = {**os.environ, "STORYROD_HOME": str(self.home)}
        if read_only:
            bound = AS_ANYONE if os.geteuid() == 0 else ()
            words = [*bound, sys.executable, "-c", BEGIN, "open", "--no-browser", "--port", str(self.port)]
            self.process = _started(words, env)
            self.pid = self.process.pid
            self._wait_for(self.process)
            return
        if self.nursery is None:
            self.nursery = _started([sys.executable, "-c", NURSERY], env)
        assert self.nursery.stdin is not None
        assert self.nursery.stdout is not None
        self.nursery.stdin.write(f"{self.port} {most_bytes}\n")
        self.nursery.stdin.flush()
        self._wait_for(self.nursery)

    def _wait_for(self, process: subprocess.Popen[str]) -> None:
        """Read on until the server has told its address, and its number has been told."""
        assert process.stdout is not None
        serves = False
        while not (serves and self.pid):
            line = process.stdout.readline()
            serves = serves or "http" in line
            self.pid = int(line) if line.strip().isdecimal() else self.pid
            if not line or line.startswith("it ended"):
                raise RuntimeError(f"the page does not start at port {self.port}: it is taken by something else")

    def kill(self) -> None:
        """End it without warning."""
        if not self.pid:
            return
        os.kill(self.pid, signal.SIGKILL)
        if self.process is not None:
            self.process.communicate(timeout=60)
        for _ in range(6000):
            try:
                os.kill(self.pid, 0)
            except ProcessLookupError:
                break
            time.sleep(0.01)
        self.pid, self.process = 0, None

    def end(self) -> None:
        """End it, and what servers are born of."""
        self.kill()
        if self.nursery is not None:
            self.nursery.communicate(timeout=60)

    def things(self) -> tuple[str, list[str]]:
        """Return the version of the plan, and what can be ticked in it."""
        for _ in range(600):
            try:
                told = ask(self.port, "GET", f"/job/{JOB}/bench", headers=self.headers).body.decode()
            except OSError:
                time.sleep(0.05)
                continue
            found = re.search(r'id="bench-data">(.*?)</script>', told)
            if found is not None:
                data = json.loads(found[1])
                return str(data["plan"]), list(data["things"])
        raise RuntimeError("the bench does not answer")


def _started(words: Sequence[str], env: dict[str, str]) -> subprocess.Popen[str]:
    pipe = subprocess.PIPE
    return subprocess.Popen(words, env=env, stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL, text=True)


def tablet(shop: Shop, who: str, version: str, things: Sequence[str]) -> None:
    """Tick until the end: each tick is sent again, by its own name, until it is acknowledged."""
    headers, n = shop.headers, 0
    while not shop.ends.is_set():
        uid, n = uuid.uuid4().hex, n + 1
        tick = {"uid": uid, "thing": things[n % len(things)], "copy": 1, "done": n % 2 == 1, "version": version}
        body = json.dumps({"who": who, "ticks": [tick], "since": 0}).encode()
        while not shop.ends.is_set():
            try:
                answer = ask(shop.port, "POST", f"/job/{JOB}/bench/ticks", body=body, headers=headers)
            except (OSError, http.client.HTTPException):
                shop.answers["no answer"] += 1
                time.sleep(0.25)
                continue
            shop.answers[str(answer.status)] += 1
            if answer.status == 200:
                shop.acknowledged.append(uid)
                break
            time.sleep(0.1)


def free_port() -> int:
    """Return a port that nobody listens at."""
    with socket.socket() as probe:  # none of the usual ones, which another page on this machine may take in between
        probe.bind((HERE, 0))
        return int(probe.getsockname()[1])


def held(log: Path, seconds: float) -> None:
    """Hold the log as another program that writes, for some time."""
    with sqlite3.connect(log, timeout=10, isolation_level=None) as connection:
        connection.execute("BEGIN IMMEDIATE")
        time.sleep(seconds)
        connection.execute("ROLLBACK")


@contextmanager
def only_read(log: Path) -> Iterator[None]:
    """Let a log be read and not written, by the rights of its files."""
    files = [p for p in log.parent.iterdir() if p.name.startswith(log.name)]
    for path in files:
        path.chmod(0o444)
    try:
        yield
    finally:
        for path in files:
            if path.exists():
                path.chmod(0o600)


def round_of(shop: Shop, kind: str, chance: random.Random) -> None:
    """Let the tablets tick for a while, in trouble or not, and kill the server."""
    full = shop.log.stat().st_size if kind == KINDS[2] and shop.log.exists() else 0
    read_only = kind == KINDS[3]
    with only_read(shop.log) if read_only else nullcontext():
        shop.start(most_bytes=full, read_only=read_only)
        before, began = len(shop.acknowledged), time.monotonic()
        while len(shop.acknowledged) < before + 5 and time.monotonic() - began < (3 if full or read_only else 60):
            time.sleep(0.01)
        if read_only:
            shop.taken_read_only += len(shop.acknowledged) - before
        if kind == KINDS[1]:
            held(shop.log, chance.uniform(0.1, 0.6))
        time.sleep(chance.uniform(0.0, 0.4))
        shop.kill()


def kept(shop: Shop) -> Counter[str]:
    """Return how often each tick stands in the log."""
    with sqlite3.connect(shop.log) as connection:
        found: list[Any] = connection.execute("SELECT uid FROM ticks").fetchall()
    return Counter(uid for (uid,) in found)


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where a tick was lost, doubled or refused."""
    parser = argparse.ArgumentParser(prog="run.py harden ticks", description=__doc__)
    parser.add_argument("--kills", type=int, default=60, metavar="N")
    parser.add_argument("--tablets", type=int, default=20, metavar="T")
    parser.add_argument("--seed", type=int, default=None, metavar="S")
    arguments = parser.parse_args(argv)
    seed = random.SystemRandom().randrange(10**6) if arguments.seed is None else arguments.seed
    print(f"seed {seed}", flush=True)
    chance, rounds = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory() as folder:
        shop = Shop(home=Path(folder), port=free_port())
        (shop.home / "jobs").mkdir()
        shutil.copy(ROOT / "examples" / f"{JOB}.toml", shop.home / "jobs")
        shop.start()
        version, things = shop.things()
        shop.kill()
        names = [f"tablet {n}" for n in range(arguments.tablets)]
        tablets = [threading.Thread(target=tablet, args=(shop, n, version, things), daemon=True) for n in names]
        for each in tablets:
            each.start()
        with suppress(KeyboardInterrupt):
            for n in range(arguments.kills):
                kind = KINDS[0] if n % 5 < 3 else KINDS[1 + n % 3]
                round_of(shop, kind, chance)
                rounds[kind] += 1
                if n % 20 == 19:
                    print(f"{n + 1} kills, {len(shop.acknowledged)} acknowledged", flush=True)
        shop.end()
        shop.ends.set()
        for each in tablets:
            each.join(60)
        found = kept(shop)
    lost = [uid for uid in shop.acknowledged if not found[uid]]
    twice = [uid for uid, n in found.items() if n > 1]
    refused = sum(n for status, n in shop.answers.items() if status in {"422", "404", "403", "401", "500"})
    show_table(f"{rounds.total()} kills under {arguments.tablets} tablets", ("round", "kills"), sorted(rounds.items()))
    show_table("What the tablets heard", ("answer", "times"), sorted(shop.answers.items()))
    print(f"{len(shop.acknowledged):>8}  acknowledged\n{len(lost):>8}  lost\n{len(twice):>8}  kept twice")
    print(f"{refused:>8}  refused, or answered as a mistake of ours")
    print(f"{shop.taken_read_only:>8}  acknowledged by a log that could not be written")
    failed = len(lost) + len(twice) + refused + shop.taken_read_only
    print(f"{failed:>8}  failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
