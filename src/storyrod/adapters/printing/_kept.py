"""Papers that were set in type before: one asked for again, of the same plan, is read and not made anew.

They lie in a folder of their own that may be deleted at any time: `storyrod` in the user's folder for such things
(`XDG_CACHE_HOME`, on Linux `~/.cache`), or the one that `STORYROD_CACHE` names; where that is set and empty, none is
kept.
A paper's name is the digest of all that it is made from: job, workshop, layout of the sheets, what was asked of it, and
storyrod's own files. What cannot be read whole counts as not there; what cannot be written is not kept. Neither is a
fault.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sys
import tempfile
from collections.abc import Callable
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Final

import storyrod
from storyrod.planning import Plan
from storyrod.telling.purposes import Wishes

FOLDER: Final = "STORYROD_CACHE"
MOST_KEPT: Final = 64
"""Papers that are kept, the last used ones: some 30 MB. A rule of thumb, unsourced."""

_DIGEST: Final = hashlib.sha256().digest_size


def kept_or_made(plan: Plan, file: str, wishes: Wishes, make: Callable[[], bytes]) -> bytes:
    """Return a paper as it was made before of the very same, else make it and keep it."""
    found = kept(plan, file, wishes)
    if found is None:
        found = make()
        _keep(_name(plan, file, wishes), found)
    return found


def kept(plan: Plan, file: str, wishes: Wishes) -> bytes | None:
    """Return a paper that was made before of the very same; None where there is none that is whole."""
    folder = _folder()
    if folder is None:
        return None
    path = folder / _name(plan, file, wishes)
    try:
        told = path.read_bytes()
    except OSError:
        return None
    digest, paper = told[:_DIGEST], told[_DIGEST:]
    if hashlib.sha256(paper).digest() != digest:
        return None
    with contextlib.suppress(OSError):
        os.utime(path)  # used last: let go last
    return paper


def _keep(name: str, paper: bytes) -> None:
    """Write a paper aside, then put it in its place: nobody reads half of one."""
    folder = _folder()
    if folder is None:
        return
    with contextlib.suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, aside = tempfile.mkstemp(dir=folder, prefix="new-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(hashlib.sha256(paper).digest() + paper)
            Path(aside).replace(folder / name)
        finally:
            Path(aside).unlink(missing_ok=True)
        _let_go(folder)


def _let_go(folder: Path) -> None:
    """Delete what was not used for longest, beyond what is kept."""
    times = []
    for path in folder.iterdir():
        with contextlib.suppress(OSError):  # another run may have let it go by now
            times.append((path.stat().st_mtime, path))
    for _, path in sorted(times)[:-MOST_KEPT]:
        path.unlink(missing_ok=True)


def _folder() -> Path | None:
    named = os.environ.get(FOLDER)
    if named is not None:
        return Path(named) if named else None
    home = Path.home()
    usual = {"win32": home / "AppData" / "Local", "darwin": home / "Library" / "Caches"}.get(sys.platform)
    return Path(os.environ.get("XDG_CACHE_HOME") or usual or home / ".cache") / "storyrod"


def _name(plan: Plan, file: str, wishes: Wishes) -> str:
    """Return the name of a paper: what it is made from, in a digest."""
    made_from = (our_own(), file, wishes, plan.version, plan.job, plan.workshop, plan.sheets)
    return hashlib.sha256(repr(made_from).encode()).hexdigest() + ".paper"


@cache
def our_own() -> str:
    """Return what tells this storyrod and its typesetter from any other: a change to either makes all papers anew."""
    root = Path(storyrod.__file__).parent
    files = sorted(p for p in root.rglob("*") if p.is_file() and "__pycache__" not in p.parts)
    told = hashlib.sha256()
    for path in files:
        state = path.stat()
        told.update(f"{path.relative_to(root).as_posix()} {state.st_size} {state.st_mtime_ns}\n".encode())
    with contextlib.suppress(PackageNotFoundError):
        told.update(version("typst").encode())
    return told.hexdigest()
