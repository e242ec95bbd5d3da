"""The job files of a folder, with every earlier text of each, so that nothing a maker wrote is ever lost.

The files are the same that the command line reads. Each text that a job had is kept in the page's own folder:
undo and redo walk along them, a change made on disk by hand is taken in as one more, and a deleted job is only set
aside. Two pages that change one job at once do not overwrite each other: a change names the text that it was made on.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import shutil
import time
import unicodedata
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from storyrod.adapters.files.editing import (
    FolderLock,
    lock_of,
    plain_bytes,
    write_bytes_safely,
    write_over,
    write_text_safely,
)
from storyrod.adapters.web._beside import NOTES, folder_beside
from storyrod.adapters.web._folder import files_of, made, tables_in
from storyrod.adapters.web._worked import version_of
from storyrod.faults import Fault, JobError

MOST_LETTERS: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class JobEntry:
    """A job in the list: its file's name without ending, its title, and when it was last changed (seconds, UTC)."""

    name: str
    title: str
    changed: float
    readable: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """Where a job stands among its texts: how many steps can be undone and done again."""

    back: int
    forward: int


class StaleError(Exception):
    """A change was made on a text that has been changed meanwhile; nothing was written."""


class Shelf:
    """Reads and writes the job files of one folder."""

    def __init__(self, folder: Path, home: Path) -> None:
        self.folder = folder
        self.kept = home / "earlier" / hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:12]
        self._lock: FolderLock = lock_of(folder, self.kept / "lock")

    # The list -----------------------------------------------------------------------------------------------------

    def names(self) -> tuple[str, ...]:
        """Return the names of all job files, as the alphabet has them."""
        try:
            return tuple(sorted((p.stem for p in files_of(self.folder) if not _is_workshop(p)), key=str.casefold))
        except OSError:
            return ()

    def entries(self) -> tuple[JobEntry, ...]:
        """Return all jobs, the one changed last first."""
        return tuple(sorted((self._entry(n) for n in self.names()), key=lambda e: -e.changed))

    def _entry(self, name: str) -> JobEntry:
        path = self.path(name)
        changed = path.stat().st_mtime if path.exists() else 0.0
        tables = tables_in(path)
        if tables is None:
            return JobEntry(name=name, title=name, changed=changed, readable=False)
        title = tables.get("title")
        return JobEntry(name=name, title=title if isinstance(title, str) and title.strip() else name, changed=changed)

    def path(self, name: str) -> Path:
        """Return the path of a job file of this folder.

        Raises:
            JobError: there is no job of that name; a name is only ever looked up, never made into a path.
        """
        for path in files_of(self.folder):
            if path.stem == name:
                return path
        raise missing(name)

    # Texts --------------------------------------------------------------------------------------------------------

    def text(self, name: str) -> str:
        """Return a job's text as it is on disk now; one changed by hand is taken in among the earlier texts.

        Raises:
            JobError: there is no such job, or its file cannot be read as text.
        """
        with self._lock:  # read inside it: a text read before another was written must not be taken in after it
            path = self.path(name)
            try:
                text = plain_bytes(path).decode("utf-8")
            except (OSError, UnicodeDecodeError):
                raise JobError(
                    Fault(
                        code="file-unreadable",
                        field="",
                        found=f'a file "{path.name}" that cannot be read as text',
                        allowed="a text file in UTF-8",
                        do="Fix it in an editor; it is left as it is.",
                        file=path.name,
                    )
                ) from None
            with contextlib.suppress(JobError):  # a disk that is full hides no job; it is taken in when there is room
                self._take_in(name, text)
            return text

    def text_as_can_be(self, name: str) -> tuple[str, bool]:
        """Return a job's text, and whether it is all there: a file that is no UTF-8 is read as far as it can be.

        Raises:
            JobError: there is no such job, or its file cannot be read at all.
        """
        try:
            return self.text(name), True
        except JobError:
            try:
                data = plain_bytes(self.path(name))
            except OSError:
                data = b""
            if not data:
                raise
            self._of(name).mkdir(parents=True, exist_ok=True)
            aside = self._of(name) / f"{hashlib.sha256(data).hexdigest()[:16]}.bytes"
            if not aside.exists():
                aside.write_bytes(data)
            return data.decode("cp1252", "replace"), False

    def mend(self, name: str, text: str, *, base: str) -> None:
        """Write a job's text in the place of a file that could not be read, shown as the version `base`.

        Raises:
            StaleError: the file is another by now; nothing was written.
            JobError: there is no such job, or it cannot be written; nothing was changed.
        """
        with self._lock:
            shown, _ = self.text_as_can_be(name)
            if version_of(shown) != base:
                raise StaleError
            self._replace(name, text, plain_bytes(self.path(name)))

    def save(self, name: str, text: str, *, base: str) -> None:
        """Write a job's new text, made on the text of the version `base`.

        Raises:
            StaleError: the job has another text by now; nothing was written.
            JobError: there is no such job, or it cannot be written; nothing was changed.
        """
        with self._lock:
            now = self.text(name)
            if version_of(now) != base:
                raise StaleError
            self._take_in(name, now)  # what is written over is kept first
            self._replace(name, text, now.encode())

    def _replace(self, name: str, text: str, before: bytes) -> None:
        """Put a text in the place of what was read of the file: kept first, so that a full disk changes nothing.

        Raises:
            StaleError: an editor has written the file in this very moment; it was left so.
            JobError: it cannot be written.
        """
        self._keep_text(name, text)
        if not write_over(self.path(name), text.encode(), lambda found: found == before):
            raise StaleError
        with contextlib.suppress(JobError):  # the job is written: it is taken in when it is read again
            self._take_in(name, text)

    # Undo and redo ------------------------------------------------------------------------------------------------

    def history(self, name: str) -> History:
        """Return how many steps can be undone and done again."""
        with self._lock:
            state = self._state(name)
            return History(back=state["at"], forward=len(state["line"]) - 1 - state["at"])

    def step(self, name: str, by: int) -> str:
        """Go one text back (-1) or forward (+1); return the text that the job has then, as it was at either end.

        Where an editor has written the file in this very moment, its text is the one after, and stays.

        Raises:
            JobError: it cannot be written; nothing was changed.
        """
        with self._lock:
            now = self.text(name)
            self._take_in(name, now)  # kept before anything is written over it
            state = self._state(name)
            at = state["at"] + (1 if by > 0 else -1)
            if not 0 <= at < len(state["line"]):
                return now
            text = self._earlier(name, state["line"][at])
            self._keep_state(name, {"line": state["line"], "at": at})
            try:
                stepped = write_over(self.path(name), text.encode(), lambda found: found == now.encode())
            except JobError:
                self._keep_state(name, state)
                raise
            return text if stepped else self.text(name)

    def earlier(self, name: str, most: int) -> Iterator[str]:
        """Yield the texts before the one where a job stands, the nearest first."""
        with self._lock:
            state = self._state(name)
            line = state["line"][: state["at"]]
        for version in reversed(line[-most:]):
            with contextlib.suppress(OSError, UnicodeDecodeError):
                yield self._earlier(name, version)

    def versions(self, name: str) -> tuple[str, ...]:
        """Return the fingerprints of the texts along which a job can be undone and done again, the oldest first."""
        with self._lock:
            return tuple(self._state(name)["line"])

    def begin_anew(self, name: str, token: str) -> None:
        """Have a job begin with its text as it is now; its earlier texts were another's, and are kept apart."""
        with self._lock:
            self._put_by(name, token)
            self.text(name)

    def text_of(self, name: str, version: str) -> str | None:
        """Return an earlier text of a job by its fingerprint; None where it never had it."""
        with self._lock:
            if not re.fullmatch(r"[0-9a-f]{16}", version):
                return None
            try:
                return self._earlier(name, version)
            except (OSError, UnicodeDecodeError):
                return None

    def _take_in(self, name: str, text: str) -> None:
        """Add a text after the one where the job stands; those that were undone stay kept, out of the line."""
        state = self._state(name)
        version = version_of(text)
        line, at = state["line"], state["at"]
        if line and line[at] == version:
            return
        self._keep_text(name, text)
        self._keep_state(name, {"line": [*line[: at + 1], version], "at": at + 1 if line else 0})

    def _keep_text(self, name: str, text: str) -> None:
        kept = self._of(name) / f"{version_of(text)}.toml"
        if not kept.exists():
            made(kept.parent, "earlier texts")
            write_text_safely(kept, text, over_unreadable=True)

    def _earlier(self, name: str, version: str) -> str:
        return (self._of(name) / f"{version}.toml").read_bytes().decode("utf-8")

    def _of(self, name: str) -> Path:
        """Return where earlier texts lie; the folder's name is a digest, for a job may be called anything."""
        return self.kept / hashlib.sha256(name.encode("utf-8", "surrogatepass")).hexdigest()[:16]

    def _state(self, name: str) -> dict[str, Any]:
        try:
            state = json.loads((self._of(name) / "line.json").read_text(encoding="utf-8"))
            line, at = [str(v) for v in state["line"]], int(state["at"])
        except (OSError, ValueError, KeyError, TypeError):
            return {"line": [], "at": 0}
        return {"line": line, "at": min(max(at, 0), max(len(line) - 1, 0))}

    def _keep_state(self, name: str, state: dict[str, Any]) -> None:
        made(self._of(name), "earlier texts")
        write_text_safely(self._of(name) / "line.json", json.dumps(state), over_unreadable=True)

    # New, copied, renamed, deleted --------------------------------------------------------------------------------

    def add(self, title: str, text: str, taken: Collection[str] = ()) -> str:
        """Write a new job; return its name, made from its title, free, and none of those `taken` elsewhere."""
        with self._lock:
            self.folder.mkdir(parents=True, exist_ok=True)
            name = self._free(title, taken)
            self._put_by(name, f"{time.time_ns():x}")  # of a job of that name whose file was deleted by hand
            write_text_safely(self.folder / f"{name}.toml", text)
            self._take_in(name, text)
            return name

    def copy(self, name: str, title: str, taken: Collection[str] = ()) -> str:
        """Copy a file that cannot be read as it stands; return the copy's name."""
        with self._lock:
            new = self._free(title, taken)
            write_bytes_safely(self.folder / f"{new}.toml", self.path(name).read_bytes())
            return new

    def _put_by(self, name: str, token: str) -> None:
        """Put the earlier texts of a job where `bring_back` finds them, so that another of its name has none."""
        if self._of(name).exists():
            (self.kept / "deleted").mkdir(parents=True, exist_ok=True)
            self._of(name).rename(self.kept / "deleted" / f"{token}.earlier")

    def rename(self, name: str, title: str, taken: Collection[str] = ()) -> str:
        """Give a job's file a new name, made from a title; return it. Its earlier texts go with it."""
        with self._lock:
            path = self.path(name)
            if file_name(title) == name:
                return name
            new = self._free(title, taken)
            path.rename(self.folder / f"{new}.toml")
            _move(folder_beside(path), folder_beside(self.folder / f"{new}.toml"))
            old = self._of(name)
            if old.exists() and not self._of(new).exists():
                old.rename(self._of(new))
            return new

    def delete(self, name: str) -> str:
        """Set a job aside; return the token by which `bring_back` finds it."""
        with self._lock:
            path = self.path(name)
            with contextlib.suppress(JobError):
                self.text(name)
            aside = self.kept / "deleted"
            aside.mkdir(parents=True, exist_ok=True)
            token = f"{time.time_ns():x}"
            target = aside / f"{token}.toml"
            (aside / f"{token}.json").write_text(json.dumps({"name": name}), encoding="utf-8")
            write_bytes_safely(target, path.read_bytes())
            path.unlink()
            _move(folder_beside(path), target.with_suffix(NOTES))
            self._put_by(name, token)
            return token

    def bring_back(self, token: str) -> str:
        """Put a deleted job back into the folder; return its name.

        Raises:
            JobError: nothing was deleted under that token, or it is back already.
        """
        with self._lock:
            aside = self.kept / "deleted" / f"{token}.toml"
            if not re.fullmatch(r"[0-9a-f]{1,20}", token) or not aside.exists():
                raise JobError(
                    Fault(
                        code="job-missing",
                        field="",
                        found="nothing that was deleted under this name",
                        allowed="a job deleted before",
                        do="It may be back already: look in the list.",
                    )
                )
            told = json.loads(aside.with_suffix(".json").read_text(encoding="utf-8"))
            name = str(told["name"])
            path = self.folder / f"{name}.toml"
            if path.exists() or folder_beside(path).exists():
                name = self._free(name)
            aside.replace(self.folder / f"{name}.toml")
            _move(aside.with_suffix(NOTES), folder_beside(self.folder / f"{name}.toml"))
            aside.with_suffix(".json").unlink()
            earlier = aside.with_suffix(".earlier")
            if earlier.exists() and not self._of(name).exists():
                earlier.rename(self._of(name))
            return name

    def deleted(self) -> tuple[tuple[str, str], ...]:
        """Return what was deleted and can be brought back, as (token, name), the last first."""
        found = []
        for path in (self.kept / "deleted").glob("*.json"):
            with contextlib.suppress(OSError, ValueError, KeyError, TypeError):
                told = json.loads(path.read_text(encoding="utf-8"))
                found.append((path.stem, str(told["name"])))
        return tuple(sorted(found, reverse=True))

    def _free(self, title: str, elsewhere: Collection[str] = ()) -> str:
        taken = {p.stem.casefold() for p in self.folder.glob("*.toml")} | {n.casefold() for n in elsewhere}
        taken |= {p.stem.casefold() for p in self.folder.glob(f"*{NOTES}")}  # another job's, whose file is gone
        stem = file_name(title)
        name, number = stem, 2
        while name.casefold() in taken:
            name, number = f"{stem}-{number}", number + 1
        return name


def _move(folder: Path, to: Path) -> None:
    """Move what lies beside a job along with it, also to another disk; where it cannot be moved, it stays."""
    if folder.is_dir() and not folder.is_symlink() and not to.exists():
        with contextlib.suppress(OSError):
            shutil.move(folder, to)


def missing(name: str) -> JobError:
    """Return the refusal of a job that is not there."""
    return JobError(
        Fault(
            code="job-missing",
            field="",
            found=f'no job "{name[:MOST_LETTERS]}"',
            allowed="a job of the list",
            do="It may have been deleted or renamed: look in the list.",
        )
    )


def file_name(title: str) -> str:
    """Return a title as a plain file name: small letters, figures and hyphens, the same on every system."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    words = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:MOST_LETTERS].strip("-")
    if words in {"", "workshop", "con", "prn", "aux", "nul"} or re.fullmatch(r"(com|lpt)\d", words):
        return f"job-{words}".strip("-")
    return words


def _is_workshop(path: Path) -> bool:
    """Return whether a file is a workshop's: it has no cases. One that cannot be read is shown, to be mended."""
    tables = tables_in(path)
    if tables is None:
        return path.stem == "workshop"
    return "cases" not in tables and "workshop" in path.stem
