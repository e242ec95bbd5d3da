"""Kill a study's workers and the study itself at random moments, and hold the rows against an undisturbed run.

    python -m benchmarks.study.kills --kills 50 --seed 1

Each round starts the command over two embedded workers, waits a random while (every fourth time from the start, else
from its first new piece on), and kills a worker and then all, or the whole command with the scheduler in it at once. In
the end it is left to finish. Needs the extra `study`.
"""

from __future__ import annotations

import argparse
import contextlib
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import psutil

from tests.unit.study.shared import JOB

STUDY = """
job = "pegs.toml"
[[vary]]
field = "cases[0].width"
from = 300
to = 700
step = 0.5
"""


def command(study: Path, out: Path, workers: int) -> list[str]:
    """Return the words that work the study out."""
    return [sys.executable, "-m", "storyrod", "study", str(study), "--out", str(out), "--workers", str(workers)]


def pieces_in(out: Path) -> int:
    """Return how many pieces of rows are there."""
    return len(list(out.glob("pieces-*/*.json")))


def wait(out: Path, running: subprocess.Popen[bytes], chance: random.Random, *, at_once: bool) -> None:
    """Wait a random while, from now on or from the next piece on."""
    there = pieces_in(out)
    while not at_once and running.poll() is None and pieces_in(out) == there:
        time.sleep(0.05)
    time.sleep(chance.uniform(0.0, 12.0 if at_once else 4.0))


def end(process: psutil.Process) -> None:
    """Kill a process; one that is gone already is none."""
    with contextlib.suppress(psutil.NoSuchProcess):
        process.kill()


def kill_one(words: list[str], out: Path, chance: random.Random, *, at_once: bool, worker: bool) -> tuple[str, bool]:
    """Start the study, kill it or one of its workers after a while, and return what; and whether it was done before."""
    running = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    wait(out, running, chance, at_once=at_once)
    try:
        own = psutil.Process(running.pid)
        children = [c for c in own.children(recursive=True) if "resource_tracker" not in " ".join(c.cmdline())]
    except psutil.NoSuchProcess:
        return "nothing", True
    if worker and children:
        end(chance.choice(children))
        time.sleep(chance.uniform(1.0, 4.0))
    gone = running.poll() is not None
    running.kill()
    running.wait()
    for child in children:
        end(child)
    return ("worker, then all" if worker else "all"), gone


def main() -> None:
    """Kill, go on, finish, and compare."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    chance = random.Random(asked.seed)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "pegs.toml").write_text(JOB, encoding="utf-8")
        study = folder / "study.toml"
        study.write_text(STUDY, encoding="utf-8")
        for n in range(asked.kills):
            words, out = command(study, folder / "out", 2), folder / "out"
            what, gone = kill_one(words, out, chance, at_once=n % 4 == 0, worker=n % 3 == 0)
            done = pieces_in(out)
            print(f"{n + 1}: killed {what}; {done} pieces are there{', it had finished' if gone else ''}", flush=True)
        subprocess.run(command(study, folder / "out", 2), check=True, stdout=subprocess.DEVNULL)
        subprocess.run(command(study, folder / "alone", 1), check=True, stdout=subprocess.DEVNULL)
        same = (folder / "out" / "rows.csv").read_bytes() == (folder / "alone" / "rows.csv").read_bytes()
        rows = (folder / "alone" / "rows.csv").read_text(encoding="utf-8").count("\n") - 1
        print(f"{asked.kills} kills, {rows} rows: {'the same' if same else 'NOT the same'} as undisturbed on one core")
        sys.exit(0 if same else 1)


if __name__ == "__main__":
    main()
