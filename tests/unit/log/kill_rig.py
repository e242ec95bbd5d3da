"""Kills a ticking process again and again, and looks each time whether anything acknowledged was lost.

Run as a program, since it forks: `kill_rig.py FOLDER KILLS SEED`. Prints one line when all is well, else what was lost.
"""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import sys
import time
from pathlib import Path

from storyrod.adapters.log import open_log
from storyrod.telling.things import Thing

THINGS = 40


def tick_away(database: Path, out: int, round_number: int) -> None:
    """Tick until killed; tell each tick only once it was acknowledged."""
    with open_log(database) as log:
        n = 0
        while True:
            name = f"{round_number}-{n}"
            if n % 5 == 4:
                uid = log.start("job", name)
                log.stop(uid, count=2)
            else:
                thing = Thing(id=name, name=f"mark {n % THINGS}", content="as marked")
                log.tick("job", "v1", thing, copy=1 + n % 3)
            os.write(out, f"{name}\n".encode())
            n += 1


def one_round(database: Path, round_number: int, after: int, wait_s: float) -> list[str]:
    """Kill a ticking child `wait_s` after its `after`th tick was acknowledged; return all that it acknowledged."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        tick_away(database, writer, round_number)
    os.close(writer)
    told = b""
    while told.count(b"\n") < after and (part := os.read(reader, 65536)):
        told += part
    time.sleep(wait_s)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while part := os.read(reader, 65536):
        told += part
    os.close(reader)
    return told.decode().split()


def lost(database: Path, acknowledged: list[str]) -> list[str]:
    """Return what was acknowledged and is not there, having opened the log as anybody would."""
    with open_log(database) as log:
        there = {t.thing.id for t in log.ticks("job")} | {s.act for s in log.spans() if s.minutes is not None}
    return [name for name in acknowledged if name not in there]


def main(folder: Path, kills: int, seed: int) -> int:
    """Kill so often, and return 0 when nothing was lost."""
    chance = random.Random(seed)
    database = folder / "bench.db"
    acknowledged: list[str] = []
    for n in range(kills):
        # Every other one by time alone: while the file is made or opened. The rest in the midst of work, at any moment
        # within a commit or two.
        after = 0 if n % 2 == 0 else chance.randint(1, 20)
        acknowledged += one_round(database, n, after, chance.random() * (0.08 if after == 0 else 0.01))
        missing = lost(database, acknowledged)
        if missing:
            sys.stdout.write(f"lost after kill {n + 1}: {missing[:5]}\n")
            return 1
    check = sqlite3.connect(database).execute("PRAGMA integrity_check").fetchall()
    sys.stdout.write(f"{kills} kills, {len(acknowledged)} acknowledged, none lost, {check[0][0]}\n")
    return 0 if check == [("ok",)] and acknowledged else 1


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])))
