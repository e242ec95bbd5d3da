"""Write a plan's files aside, then switch to them: a folder holds one whole plan, the older or the newer.

Where the system can exchange two folders in one step, that is the switch. Elsewhere the files are replaced one by one,
`plan.json` last; the list of contents tells meanwhile that the plan is not whole, and the next run finishes it.

Files of an older plan that the newer one no longer has are taken away, but only those that storyrod wrote and nobody
has changed since; whatever else lies in the folder stays. A file of the maker's own that stands in the way of one of
the plan's is kept under another name.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from storyrod.adapters.files.editing import exchanged, keep_folder
from storyrod.adapters.output._contents import LAST, MANIFEST, Contents, digest_of
from storyrod.adapters.output._left import clear_left, hold
from storyrod.adapters.output._place import carry_back, carry_over, put_in_place
from storyrod.faults import Fault, JobError

__all__ = ["LAST", "MANIFEST", "OutFile", "Progress", "Written", "write_plan"]

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was written where: paths relative to the folder, in order.

    Attributes:
        removed: files of an older plan that were taken away.
        yours: files of the maker's own that stood in the way, with the names under which they were kept.
    """

    folder: Path
    files: tuple[str, ...]
    removed: tuple[str, ...]
    yours: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OutFile:
    """One file to be written: its path in the folder and how its bytes are made."""

    name: str
    make: Callable[[], bytes]


@dataclass(slots=True, kw_only=True)
class Switch:
    """A plan on its way into its folder."""

    folder: Path
    aside: Path
    old: Contents
    new: dict[str, str]
    removed: list[str] = field(default_factory=list)
    yours: list[tuple[str, str]] = field(default_factory=list)


def write_plan(files: Iterable[OutFile], folder: Path, progress: Progress = lambda _: None) -> Written:
    """Make every file aside, then switch to them.

    Raises:
        JobError: the folder cannot be written, or the disk is full; the older files are as they were.
    """
    folder = folder.resolve()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        clear_left(folder)
        place = folder.parent if _may_be_exchanged(folder) else folder
        aside = Path(tempfile.mkdtemp(prefix=f".storyrod-{folder.name}-", dir=place))
    except OSError as error:
        raise _told(error, folder) from None
    with hold(aside):
        try:
            digests = {f.name: _write_one(f, aside, progress) for f in files}
            switch = Switch(folder=folder, aside=aside, old=Contents.of(folder), new=digests)
            _switch(switch)
        except OSError as error:
            raise _told(error, folder) from None
        finally:
            shutil.rmtree(aside, ignore_errors=True)
    return Written(folder=folder, files=tuple(digests), removed=tuple(switch.removed), yours=tuple(switch.yours))


def _may_be_exchanged(folder: Path) -> bool:
    """Return whether the folder as a whole may be another: none in which someone works, and one we may rename."""
    try:
        if Path.cwd().is_relative_to(folder):
            return False
    except OSError:  # where we work is gone: then it is not here
        pass
    return not folder.is_mount() and os.access(folder.parent, os.W_OK | os.X_OK)


def _switch(switch: Switch) -> None:
    whole = Contents(files={name: {digest} for name, digest in switch.new.items()})
    (switch.aside / MANIFEST).write_text(whole.text(), encoding="utf-8")
    if switch.aside.parent != switch.folder and _exchange(switch):
        return
    put_in_place(switch.folder, switch.aside, switch.old, switch.new, switch.removed, switch.yours)


def _exchange(switch: Switch) -> bool:
    """Exchange the folders, with all that is the maker's own carried over; return whether that could be done."""
    carried = carry_over(switch.folder, switch.aside, switch.old, switch.new)
    if carried is None:
        return False
    switch.aside.chmod(switch.folder.stat().st_mode & 0o7777)
    for folder, _, _ in os.walk(switch.aside):
        keep_folder(Path(folder))
    if not exchanged(switch.aside, switch.folder):
        carried.undo(switch.aside)
        return False
    keep_folder(switch.folder.parent)
    carry_back(switch.aside, switch.folder, carried)  # what came while we were about it
    switch.removed += carried.removed
    switch.yours += carried.yours
    return True


def _write_one(file: OutFile, aside: Path, progress: Progress) -> str:
    progress(file.name)
    data = file.make()
    path = aside / file.name
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as out:  # two files of one name are a mistake of ours, and never one file
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    return digest_of(data)


def _told(error: OSError, folder: Path) -> JobError:
    reasons = {
        28: ("disk-full", "no room left on the disk", "Free some room and plan again; the older files are untouched."),
        122: ("disk-full", "your share of the disk is used up", "Free some room and plan again."),
    }
    fallback = (
        "output-folder",
        (error.strerror or str(error)) + (f" ({error.filename})" if error.filename else ""),
        "Choose another folder with --out, or make this one writable; the older files are untouched.",
    )
    code, found, do = reasons.get(error.errno or 0, fallback)
    where = str(folder)
    return JobError(
        Fault(code=code, field=f"--out {where}", found=found, allowed="a folder that can be written", do=do)
    )
