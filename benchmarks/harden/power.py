"""Power cuts while a plan or a job file is written: what was not yet safe on the disk is dropped, names are kept.

`python3 run.py harden power [--cuts N]`. As `kills`, and then every file that was written and not synced is emptied:
the worst that a disk may do which keeps the order of names and no more. A folder must hold one whole plan, a job file
one whole text. What SQLite syncs is its own, and is not seen from here.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Final

from benchmarks._timing import show_table
from benchmarks.harden.kills import CALLS, KILLED, _Dying, found_in, killed_at, plans, whole
from storyrod.adapters.files import _write
from storyrod.adapters.files.editing import exchanged
from storyrod.adapters.output._write import write_plan

TEXTS: Final = (b"title = 'before'\n" * 300, b"title = 'after, and longer'\n" * 400)


def dropped(root: Path, before: set[int], safe: dict[str, int]) -> None:
    """Empty every file that is new and was not safe on the disk, or cut it to what was."""
    for path in root.rglob("*"):
        about = path.lstat()
        if path.is_file() and about.st_ino not in before:
            with path.open("r+b") as file:
                file.truncate(min(about.st_size, safe.get(str(about.st_ino), 0)))


def numbers(root: Path) -> set[int]:
    """Return the numbers of the files that are there."""
    return {p.lstat().st_ino for p in root.rglob("*") if p.is_file()}


def cut_plans() -> Iterator[tuple[str, bool]]:
    """Yield what each cut left of a plan's folder, and whether the writing had come to its end."""
    old, new = plans()
    step = 1
    while True:
        with tempfile.TemporaryDirectory() as top:
            root, told = Path(top, "root"), Path(top, "told")
            write_plan(old, root / "out")
            before = numbers(root)
            ended = not killed_at(step, new, root / "out", on_disk=told)
            dropped(root, before, json.loads(told.read_text(encoding="ascii")))
            found = found_in(root / "out")
        left = "the older plan, whole" if found == whole(old) else "no whole plan"
        yield "the newer plan, whole" if found == whole(new) else left, ended
        step = 1 if ended else step + 1


def cut_texts() -> Iterator[tuple[str, bool]]:
    """Yield what each cut left of a job file."""
    step = 1
    while True:
        with tempfile.TemporaryDirectory() as top:
            root, told = Path(top, "root"), Path(top, "told")
            root.mkdir()
            job = root / "job.toml"
            job.write_bytes(TEXTS[0])
            before = numbers(root)
            child = os.fork()
            if child == 0:
                dying = _Dying(step, told)
                for name in CALLS:
                    setattr(os, name, dying.watched(getattr(os, name), is_sync=name == "fsync"))
                setattr(_write, "exchanged", dying.watched(exchanged))  # noqa: B010  # no name that it gives away
                _write.write_over(job, TEXTS[1], lambda found: found == TEXTS[0])
                dying.end(0)
            ended = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != KILLED
            dropped(root, before, json.loads(told.read_text(encoding="ascii")))
            found = job.read_bytes() if job.is_file() else b""
        left = "the older text, whole" if found == TEXTS[0] else "no whole text"
        yield "the newer text, whole" if found == TEXTS[1] else left, ended
        step = 1 if ended else step + 1


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where something was not whole."""
    parser = argparse.ArgumentParser(prog="run.py harden power", description=__doc__)
    parser.add_argument("--cuts", type=int, default=200, metavar="N")
    arguments = parser.parse_args(argv)
    if not hasattr(os, "fork"):
        print("Cuts are made by a fork, which this system has not.")
        return 2
    counts: Counter[tuple[str, str]] = Counter()
    kinds: tuple[Callable[[], Iterator[tuple[str, bool]]], ...] = (cut_plans, cut_texts)
    for kind in kinds:
        for _, (left, ended) in zip(range(arguments.cuts // len(kinds)), kind(), strict=False):
            counts[left, "after its end" if ended else "in the midst"] += 1
    failed = sum(
        n for (left, when), n in counts.items() if left.startswith("no ") or ("older" in left and "after" in when)
    )
    rows = [[left, when, n] for (left, when), n in sorted(counts.items())]
    show_table(f"{sum(counts.values())} power cuts", ("left", "when", "cuts"), rows)
    print(f"{failed:>8}  failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
