"""Kills of the server and of the command while slips are recorded: nothing that was acknowledged is lost.

    python -m benchmarks.rescue.kills --kills 50 --commands 20

In each round slips are sent one after the other, and what takes them is killed without warning at a time by chance. The
file must be read whole after every kill, and have every slip that was acknowledged, once. Ends with status 1 where one
is missing, told twice, or the file cannot be read.
"""

from __future__ import annotations

import argparse
import http.client
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from http import HTTPStatus
from pathlib import Path
from random import Random
from typing import Final
from urllib.parse import urlencode

from benchmarks.harden._served import ask
from benchmarks.harden.ticks import ROOT, Shop
from storyrod.adapters.files.as_built import read_as_built
from storyrod.adapters.web import serving
from storyrod.faults import JobError

JOB: Final = "first-box"
PANEL: Final = "A1"
LENGTH: Final = 300
"""Of that panel, in mm: places of damage lie within."""

COMMAND: Final = """
import sys
from storyrod.adapters.cli import main
print("begun", flush=True)
for number in range(int(sys.argv[2]), 10000):
    place = f"{number % 290}.{number // 290:02d}"
    words = ["--panel", "A1", "--what", "damage", "--surface", "far edge", "--size", "3"]
    told = main(["rescue", sys.argv[1], *words, "--from-end", place, "--from-edge", "250", "--note", str(number)])
    print("acknowledged" if told == 0 else "refused", number, flush=True)
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Kill as often as is asked for; return 1 where anything was lost."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--commands", type=int, default=20)
    parser.add_argument("--longest", type=float, default=8.0, help="seconds until a command is killed, at the most")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(arguments)
    rng, wrong = Random(asked.seed), 0
    with tempfile.TemporaryDirectory() as folder:
        wrong += _server(Path(folder), asked.kills, rng)
    with tempfile.TemporaryDirectory() as folder:
        wrong += _command(Path(folder), asked.commands, asked.longest, rng)
    return 1 if wrong else 0


def _server(home: Path, kills: int, rng: Random) -> int:
    jobs = home / "jobs"
    jobs.mkdir()
    job = Path(shutil.copy(ROOT / "examples" / f"{JOB}.toml", jobs))
    sock = serving.listen(None)
    port = sock.getsockname()[1]
    sock.close()
    shop, acknowledged, answers = Shop(home=home, port=port), list[str](), Counter[str]()
    numbers, wrong = iter(range(100_000)), 0
    try:
        for _ in range(kills):
            shop.start()
            stop = threading.Event()
            sending = threading.Thread(target=_send, args=(shop, numbers, acknowledged, answers, stop))
            before = len(acknowledged)
            sending.start()
            while len(acknowledged) == before:  # the job is planned first
                time.sleep(0.01)
            time.sleep(rng.uniform(0.0, 0.5))
            shop.kill()
            stop.set()
            sending.join(60)
            wrong += _missing(job, acknowledged)
    finally:
        shop.end()
    print(f"{kills} kills of the server: {len(acknowledged)} slips acknowledged, {wrong} lost; {dict(answers)}")
    return wrong + (not acknowledged)


def _send(
    shop: Shop, numbers: Iterator[int], acknowledged: list[str], answers: Counter[str], stop: threading.Event
) -> None:
    headers = {**shop.headers, "Content-Type": "application/x-www-form-urlencoded"}
    while not stop.is_set():
        number = next(numbers)
        form = {
            "do": "record",
            "panel": PANEL,
            "what": "damage",
            "surface": "far edge",
            "from_end": f"{number % (LENGTH - 10)}.{number // (LENGTH - 10):02d}",
            "from_edge": "250",
            "size": "3",
            "note": str(number),
        }
        try:
            answer = ask(shop.port, "POST", f"/job/{JOB}/rescue", body=urlencode(form).encode(), headers=headers)
        except (OSError, http.client.HTTPException):
            answers["no answer"] += 1
            continue
        answers[str(answer.status)] += 1
        if answer.status == HTTPStatus.SEE_OTHER:
            acknowledged.append(str(number))


def _command(home: Path, kills: int, longest_s: float, rng: Random) -> int:
    job = Path(shutil.copy(ROOT / "examples" / f"{JOB}.toml", home))
    acknowledged, begun, wrong = list[str](), 0, 0
    for _ in range(kills):
        child = subprocess.Popen(
            [sys.executable, "-c", COMMAND, str(job), str(begun)], stdout=subprocess.PIPE, text=True
        )
        assert child.stdout is not None
        killing = threading.Timer(rng.uniform(0.0, longest_s), child.kill)
        for line in child.stdout:
            if line.startswith("begun"):
                killing.start()
            if line.startswith("acknowledged"):
                acknowledged.append(line.split()[1])
                begun = int(acknowledged[-1]) + 1
        child.wait(60)
        killing.cancel()
        begun += 1  # the one that was killed may stand there
        wrong += _missing(job, acknowledged)
    print(f"{kills} kills of the command: {len(acknowledged)} slips acknowledged, {wrong} lost")
    return wrong + (not acknowledged)


def _missing(job: Path, acknowledged: Sequence[str]) -> int:
    """Return how many acknowledged slips do not stand in the file once; all of them where it cannot be read."""
    try:
        kept = Counter(s.note for s in read_as_built(job).slips)
    except JobError as error:
        print(error)
        return len(acknowledged)
    return sum(kept[note] != 1 for note in acknowledged)


if __name__ == "__main__":
    sys.exit(main())
