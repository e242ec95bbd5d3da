"""Kills of the server under ticking tablets: nothing acknowledged is lost, nothing is kept twice, nothing is refused.

`python3 run.py harden ticks [--kills N] [--tablets T]`. Each tablet sends a tick until it is acknowledged, then the
next, as the bench does. The server is killed without warning again and again; in some rounds another program holds the
log for a while, in some the disk takes no more (files of the server are limited in size). At the end every acknowledged
tick must stand in the log once.
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
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from benchmarks._timing import show_table
from benchmarks.harden._served import HERE, ask
from storyrod.adapters.web._key import Key

ROOT: Final = Path(__file__).resolve().parent.parent.parent
JOB: Final = "first-box"
KINDS: Final = ("killed", "killed, the log held by another", "killed, the disk full")
FULL: Final = "import resource as r; r.setrlimit(r.RLIMIT_FSIZE, ({0}, {0}))\n"
BEGIN: Final = "from storyrod.adapters.cli import main\nraise SystemExit(main())"


@dataclass(slots=True, kw_only=True)
class Shop:
    """The server, and what its tablets know."""

    home: Path
    port: int
    process: subprocess.Popen[str] | None = None
    acknowledged: list[str] = field(default_factory=list)
    answers: Counter[str] = field(default_factory=Counter)
    ends: threading.Event = field(default_factory=threading.Event)

    @property
    def log(self) -> Path:
        """The bench log's file."""
        return self.home / "bench-log.sqlite"

    @property
    def headers(self) -> dict[str, str]:
        """What a browser sends that was let in."""
        return {"Cookie": Key(self.home, self.port).given().split(";")[0], "Content-Type": "application/json"}

    def start(self, *, most_bytes: int = 0) -> None:
        """Start the server, at the same port as before; with `most_bytes` no file of it grows beyond."""
        begin = FULL.format(most_bytes) if most_bytes else ""
        words = [sys.executable, "-c", begin + BEGIN, "open", "--no-browser"]
        words += ["--port", str(self.port)]
        env = {**os.environ, "STORYROD_HOME": str(self.home)}
        self.process = subprocess.Popen(words, env=env, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        assert self.process.stdout is not None
        if not self.process.stdout.readline():
            raise RuntimeError(f"the page does not start at port {self.port}: it is taken by something else")

    def kill(self) -> None:
        """End it without warning."""
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait(60)
            if self.process.stdout is not None:
                self.process.stdout.close()

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
                time.sleep(0.05)
                continue
            shop.answers[str(answer.status)] += 1
            if answer.status == 200:
                shop.acknowledged.append(uid)
                break
            time.sleep(0.1)


def _free_port() -> int:
    with socket.socket() as probe:  # none of the usual ones, which another page on this machine may take in between
        probe.bind((HERE, 0))
        return int(probe.getsockname()[1])


def held(log: Path, seconds: float) -> None:
    """Hold the log as another program that writes, for some time."""
    with sqlite3.connect(log, timeout=10, isolation_level=None) as connection:
        connection.execute("BEGIN IMMEDIATE")
        time.sleep(seconds)
        connection.execute("ROLLBACK")


def round_of(shop: Shop, kind: str, chance: random.Random) -> None:
    """Let the tablets tick for a while, in trouble or not, and kill the server."""
    full = shop.log.stat().st_size if kind == KINDS[2] and shop.log.exists() else 0
    shop.start(most_bytes=full)
    before, began = len(shop.acknowledged), time.monotonic()
    while len(shop.acknowledged) < before + 5 and time.monotonic() - began < (4 if full else 60):
        time.sleep(0.01)
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
        shop = Shop(home=Path(folder), port=_free_port())
        (shop.home / "jobs").mkdir()
        shutil.copy(ROOT / "examples" / f"{JOB}.toml", shop.home / "jobs")
        shop.start()
        version, things = shop.things()
        shop.kill()
        names = [f"tablet {n}" for n in range(arguments.tablets)]
        tablets = [threading.Thread(target=tablet, args=(shop, n, version, things), daemon=True) for n in names]
        for each in tablets:
            each.start()
        for n in range(arguments.kills):
            kind = KINDS[0] if n % 5 < 3 else KINDS[1 + n % 2]
            round_of(shop, kind, chance)
            rounds[kind] += 1
        shop.ends.set()
        for each in tablets:
            each.join(60)
        found = kept(shop)
    lost = [uid for uid in shop.acknowledged if not found[uid]]
    twice = [uid for uid, n in found.items() if n > 1]
    refused = sum(n for status, n in shop.answers.items() if status in {"422", "404", "403", "401", "500"})
    show_table(f"{arguments.kills} kills under {arguments.tablets} tablets", ("round", "kills"), sorted(rounds.items()))
    show_table("What the tablets heard", ("answer", "times"), sorted(shop.answers.items()))
    print(f"{len(shop.acknowledged):>8}  acknowledged\n{len(lost):>8}  lost\n{len(twice):>8}  kept twice")
    print(f"{refused:>8}  refused, or answered as a mistake of ours")
    print(f"{len(lost) + len(twice) + refused:>8}  failed")
    return 1 if lost or twice or refused else 0


if __name__ == "__main__":
    sys.exit(main())
