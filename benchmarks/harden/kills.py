"""Kills while a plan is written, aimed at every change of the disk: the folder holds one whole plan, older or newer.

`python3 run.py harden kills [--kills N]`. The files are those of two real plans of an example. A child writes the one
over the other, and is ended before or after its n-th change of the disk, for every n in turn until the writing comes
to its end. The next run must clear whatever the killed one left.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final, NoReturn, cast

from benchmarks._timing import show_table
from storyrod.adapters.files import job_from_text
from storyrod.adapters.files.editing import exchanged
from storyrod.adapters.output import _write
from storyrod.adapters.output._contents import MANIFEST
from storyrod.adapters.output._write import OutFile, write_plan
from storyrod.adapters.printing._plan_files import plan_files
from storyrod.planning import Plan

EXAMPLES: Final = Path(__file__).resolve().parent.parent.parent / "examples"
KILLED: Final = 9
CALLS: Final = ("replace", "rename", "link", "fsync", "unlink", "rmdir", "chmod", "mkdir")


def plans() -> list[list[OutFile]]:
    """Return the files of two plans, made beforehand: what is set in type is left out."""
    text = (EXAMPLES / "first-box.toml").read_text(encoding="utf-8")
    made = []
    for words in (text, text.replace("width = 400", "width = 420")):
        read = job_from_text(words, name="job.toml", folder=EXAMPLES)
        files = (f for f in plan_files(Plan(read.job, read.workshop)) if not f.name.endswith(".pdf"))
        made.append([OutFile(name=f.name, make=_already(f.make())) for f in files])
    return made


def _already(data: bytes) -> Callable[[], bytes]:
    return lambda: data


def whole(files: Sequence[OutFile]) -> dict[str, str]:
    """Return what a folder of these files holds, by digests."""
    return {f.name: hashlib.sha256(f.make()).hexdigest() for f in files}


def found_in(folder: Path) -> dict[str, str]:
    """Return what a folder holds, its list of contents left out."""
    paths = {p.relative_to(folder).as_posix(): p for p in folder.rglob("*") if p.is_file()}
    return {n: hashlib.sha256(p.read_bytes()).hexdigest() for n, p in paths.items() if n != MANIFEST}


def killed_at(step: int, files: Sequence[OutFile], folder: Path, *, on_disk: Path | None = None) -> bool:
    """Write files into a folder in a child that dies at a step; return whether it did, and did not come to its end.

    With `on_disk` the child writes into that file, as it ends, which files and folders were safe on the disk: the
    number of each, with its length then.
    """
    child = os.fork()
    if child == 0:
        dying = _Dying(step, on_disk)
        for name in CALLS:
            setattr(os, name, dying.watched(getattr(os, name), is_sync=name == "fsync"))
        setattr(_write, "exchanged", dying.watched(exchanged))  # noqa: B010  # no name that it gives away
        write_plan(files, folder)
        dying.end(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == KILLED


class _Dying:
    """Counts changes of the disk, and ends the process before or after one of them."""

    def __init__(self, step: int, on_disk: Path | None) -> None:
        self.left = step
        self.on_disk = on_disk
        self.safe: dict[int, int] = {}

    def watched[**P, R](self, real: Callable[P, R], *, is_sync: bool = False) -> Callable[P, R]:
        def call(*given: P.args, **named: P.kwargs) -> R:
            self._step()
            result = real(*given, **named)
            if is_sync:
                about = os.fstat(cast("int", given[0]))
                self.safe[about.st_ino] = about.st_size
            self._step()
            return result

        return call

    def _step(self) -> None:
        self.left -= 1
        if self.left == 0:
            self.end(KILLED)

    def end(self, code: int) -> NoReturn:
        if self.on_disk is not None:
            self.on_disk.write_text(json.dumps(self.safe), encoding="ascii")
        os._exit(code)


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where a folder was not whole."""
    parser = argparse.ArgumentParser(prog="run.py harden kills", description=__doc__)
    parser.add_argument("--kills", type=int, default=200, metavar="N")
    arguments = parser.parse_args(argv)
    if not hasattr(os, "fork"):
        print("Kills are made by a fork, which this system has not.")
        return 2
    old, new = plans()
    counts: Counter[str] = Counter()
    failed: list[str] = []
    step, done = 1, 0
    while done < arguments.kills:
        with tempfile.TemporaryDirectory() as root:
            folder = Path(root, "out")
            write_plan(old, folder)
            ended = not killed_at(step, new, folder)
            found = found_in(folder)
            how = "the older plan, whole" if found == whole(old) else "the newer plan, whole"
            if found not in (whole(old), whole(new)):
                how = "no whole plan"
                failed.append(f"step {step}: {sorted(set(found.items()) ^ set(whole(new).items()))[:3]}")
            write_plan(new, folder)
            if found_in(folder) != whole(new) or [p.name for p in Path(root).iterdir()] != ["out"]:
                failed.append(f"step {step}: the next run left something behind")
        if ended:
            counts["came to its end"] += 1
            step = 1
            continue
        counts[how] += 1
        step, done = step + 1, done + 1
    show_table(f"{done} kills while a plan of {len(new)} files is written", ("left", "kills"), sorted(counts.items()))
    print(f"{len(failed):>8}  failed")
    print("\n".join(f"          {f}" for f in failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
