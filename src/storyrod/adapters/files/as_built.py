"""The as-built file: what is, beside what was planned. It lies in the folder beside the job file, `NAME.notes`.

It is read as strictly as a job file and written as safely, one writer at a time; nothing in it plans the job anew.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from storyrod.adapters.files._job_text import fields_in, table_text
from storyrod.adapters.files._lock import lock_of
from storyrod.adapters.files._made import made
from storyrod.adapters.files._open import parse_toml, read_text
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._tables import FORMAT
from storyrod.adapters.files._told import lined, unit_in
from storyrod.adapters.files._values import write
from storyrod.adapters.files._write import write_text_safely
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit
from storyrod.model.as_built import AsBuilt

NAME: Final = "as-built.toml"

_HEAD: Final = "# What came out otherwise than planned. `storyrod rescue` writes it; the job file stays as it is.\n"


def as_built_path(job: Path) -> Path:
    """Return where the as-built file of a job file lies."""
    return job.with_name(f"{job.stem}.notes") / NAME


def read_as_built(job: Path) -> AsBuilt:
    """Return what was recorded beside a job file; nothing where nothing was.

    Raises:
        JobError: every fault of the file, each with its line.
    """
    path = as_built_path(job)
    if not path.exists():
        return AsBuilt()
    return as_built_from_text(read_text(path, "as-built"), name=NAME)


def as_built_from_text(text: str, *, name: str = NAME) -> AsBuilt:
    """Return what a text records.

    Raises:
        JobError: every fault of the text, each with its line.
    """
    raw = parse_toml(text, name=name, what="as-built")
    read = read_table(AsBuilt, raw, unit_in(raw))
    if read.faults or read.table is None:
        raise JobError(*lined(read.faults, text, name))
    return made(AsBuilt, read.table, "")


def as_built_text(facts: AsBuilt, unit: Unit) -> str:
    """Return the text of an as-built file that reads as `facts`; lengths are written in `unit`."""
    head = {"format": FORMAT, "units": unit.value, **fields_in(facts, unit)}
    parts = [_HEAD + "\n".join(f"{name} = {write(value)}" for name, value in head.items())]
    parts += [table_text("[slips]", fields_in(s, unit)) for s in facts.slips]
    parts += [table_text("[taken]", fields_in(t, unit)) for t in facts.taken]
    return "\n\n".join(parts) + "\n"


def change_as_built(job: Path, unit: Unit, change: Callable[[AsBuilt], AsBuilt]) -> AsBuilt:
    """Change what is recorded beside a job file, and return it; kept on the disk when this returns.

    Raises:
        JobError: what stands there cannot be understood, or cannot be written; it is then as it was.
    """
    path = as_built_path(job)
    with lock_of(job.parent, job.parent / ".storyrod.lock"):
        facts = change(read_as_built(job))
        try:
            path.parent.mkdir(exist_ok=True)
        except OSError as error:
            raise JobError(_no_folder(path.parent, error)) from None
        write_text_safely(path, as_built_text(facts, unit))
    return facts


def _no_folder(folder: Path, error: OSError) -> Fault:
    return Fault(
        code="write",
        field="",
        found=f'a folder "{folder}" that cannot be made ({error.strerror})',
        allowed="a place that can be written to",
        do="Free some space on that disk, or ask for permission to write there. Nothing was changed.",
    )


def undone(facts: AsBuilt) -> AsBuilt:
    """Return the facts without what was recorded last: a way that was taken, else a slip; it is kept, marked so.

    Raises:
        JobError: nothing is left to take back.
    """
    for n, way in reversed([*enumerate(facts.taken)]):
        if not way.taken_back:
            return replace(facts, taken=_with(facts.taken, n, replace(way, taken_back=True)))
    for n, slip in reversed([*enumerate(facts.slips)]):
        if not slip.taken_back:
            return replace(facts, slips=_with(facts.slips, n, replace(slip, taken_back=True)))
    raise JobError(_nothing("taken back", "a slip or a way that still counts"))


def redone(facts: AsBuilt) -> AsBuilt:
    """Return the facts with what was taken back last: a slip, else a way.

    Raises:
        JobError: nothing was taken back.
    """
    standing = [n for n, s in enumerate(facts.slips) if not s.taken_back]
    last = standing[-1] if standing else -1
    for n, slip in enumerate(facts.slips):
        if n > last and slip.taken_back:
            return replace(facts, slips=_with(facts.slips, n, replace(slip, taken_back=False)))
    for n, way in enumerate(facts.taken):
        if way.taken_back and all(not t.taken_back for t in facts.taken[:n]):
            return replace(facts, taken=_with(facts.taken, n, replace(way, taken_back=False)))
    raise JobError(_nothing("put back", "a slip or a way that was taken back, with nothing recorded since"))


def _with[T](items: tuple[T, ...], n: int, item: T) -> tuple[T, ...]:
    return (*items[:n], item, *items[n + 1 :])


def _nothing(what: str, allowed: str) -> Fault:
    return Fault(
        code="as-built-undo", field="", found=f"nothing to be {what}", allowed=allowed, do="Look at what is recorded."
    )
