"""Write a plan's files aside, then put them in place of the older ones.

A reader of the folder sees either the older plan or the newer one, file by file, and `plan.json` is replaced
last. Where one file can not be replaced (another program holds it open), those already replaced are put back.
Files of an older plan that the newer one no longer has are taken away, but only those that storyrod wrote and
nobody has changed since; whatever else lies in the folder stays.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from storyrod.faults import Fault, JobError

MANIFEST = "contents.json"
LAST = "plan.json"

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was written where: paths relative to the folder, in order."""

    folder: Path
    files: tuple[str, ...]
    removed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OutFile:
    """One file to be written: its path in the folder and how its bytes are made."""

    name: str
    make: Callable[[], bytes]


def write_plan(files: Iterable[OutFile], folder: Path, progress: Progress = lambda _: None) -> Written:
    """Make every file aside, then replace the older ones.

    Raises:
        JobError: the folder can not be written, or the disk is full; the older files are as they were.
    """
    folder = folder.absolute()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        aside = Path(tempfile.mkdtemp(prefix=".storyrod-", dir=folder))
    except OSError as error:
        raise _told(error, folder) from None
    try:
        digests = {f.name: _write_one(f, aside, progress) for f in files}
        manifest = json.dumps({"written by": "storyrod", "files": digests}, indent=1, ensure_ascii=False)
        (aside / MANIFEST).write_text(manifest, encoding="utf-8")
        old = _older(folder)
        _put_in_place(folder, aside, (*(n for n in digests if n != LAST), *(n for n in digests if n == LAST), MANIFEST))
        removed = tuple(_remove_stale(folder, old, digests))
    except OSError as error:
        raise _told(error, folder) from None
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    return Written(folder=folder, files=tuple(digests), removed=removed)


def _write_one(file: OutFile, aside: Path, progress: Progress) -> str:
    progress(file.name)
    data = file.make()
    path = aside / file.name
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    return hashlib.sha256(data).hexdigest()


def _put_in_place(folder: Path, aside: Path, names: Sequence[str]) -> None:
    """Put every new file in the place of the older one; where one can not be, put the older ones back."""
    kept = aside / ".older"
    for name in names:
        place = folder / name
        if place.is_dir():
            raise IsADirectoryError(errno.EISDIR, f"a folder stands in the place of {name}")
        place.parent.mkdir(parents=True, exist_ok=True)
        if place.exists():
            (kept / name).parent.mkdir(parents=True, exist_ok=True)
            _second_name(place, kept / name)
    placed: list[str] = []
    try:
        for name in names:
            os.replace(aside / name, folder / name)  # noqa: PTH105  # the same, and plainer beside its comment
            placed.append(name)
    except OSError:
        for name in placed:
            if (kept / name).exists():
                (kept / name).replace(folder / name)
            else:
                (folder / name).unlink()
        raise


def _second_name(place: Path, kept: Path) -> None:
    """Keep the file under a second name, or as a copy where the disk knows no second names."""
    try:
        kept.hardlink_to(place)
    except OSError:
        shutil.copy2(place, kept)


def _older(folder: Path) -> dict[str, str]:
    """Return what an older run of ours wrote here, nothing where its list is not there or not readable."""
    try:
        told = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        return {str(k): str(v) for k, v in told["files"].items()} if told.get("written by") == "storyrod" else {}
    except (OSError, ValueError, KeyError, AttributeError):
        return {}


def _remove_stale(folder: Path, old: dict[str, str], new: dict[str, str]) -> Iterable[str]:
    for name, digest in old.items():
        path = (folder / name).resolve()
        if name in new or not path.is_relative_to(folder.resolve()) or not path.is_file():
            continue
        if hashlib.sha256(path.read_bytes()).hexdigest() == digest:
            path.unlink()
            yield name


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
