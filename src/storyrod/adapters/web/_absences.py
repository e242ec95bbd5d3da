"""Job files that were gone for a while: one of the same name that comes back may be another job.

The bench log knows a job by its file's name. A job that is deleted or renamed on the page takes its ticks with it; one
whose file is deleted by hand leaves them behind, for whatever gets that name next. So the page notes which files are
gone, and asks, once there is a file of that name again with a text that the job never had.
"""

from __future__ import annotations

import json
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.editing import plain_bytes, write_text_safely
from storyrod.adapters.web._worked import version_of
from storyrod.faults import JobError

if TYPE_CHECKING:
    from storyrod.adapters.web._shelf import Shelf

GONE_S: Final = 3.0
"""So long must a file be missing: an editor that writes a file anew takes less."""


class Absences:
    """Which job files of a shelf are there, which are gone, and about which is to be asked."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._missing: dict[str, float] = {}
        self._lock = threading.Lock()
        self._known: set[str] | None = None
        self._gone: dict[str, list[str]] = {}
        self._asked: set[str] = set()

    @property
    def _file(self) -> Path:
        return self._shelf.kept / "absences.json"

    def look(self, now: float) -> None:
        """Look at the folder; `now` are seconds of a clock that never goes back."""
        with self._lock:
            known, before = self._read(), self._told()
            here = set(self._shelf.names())
            for name in known - here:
                if now - self._missing.setdefault(name, now) >= GONE_S:
                    self._gone[name] = list(self._shelf.versions(name))
                    known.discard(name)
            for name in here:
                self._missing.pop(name, None)
                if name in self._gone and self._is_another(name, self._gone.pop(name)):
                    self._asked.add(name)
            known |= here
            self._asked &= known
            if self._told() != before:
                self._file.parent.mkdir(parents=True, exist_ok=True)
                write_text_safely(self._file, json.dumps(self._told()), over_unreadable=True)

    def asks(self, name: str) -> bool:
        """Return whether a job is to be asked about: its file was gone, and came back as another."""
        with self._lock:
            self._read()
            return name in self._asked

    def forget(self, *names: str) -> None:
        """Ask no more about jobs, and do not miss them: they were answered for, deleted or renamed on the page."""
        with self._lock:
            known = self._read()
            for name in names:
                known.discard(name)
                self._asked.discard(name)
                self._gone.pop(name, None)
                self._missing.pop(name, None)
            if self._file.exists():
                write_text_safely(self._file, json.dumps(self._told()), over_unreadable=True)

    def _is_another(self, name: str, versions: list[str]) -> bool:
        try:
            text = plain_bytes(self._shelf.path(name)).decode("utf-8")
        except (JobError, OSError, UnicodeDecodeError):
            return True
        return version_of(text) not in versions

    def _told(self) -> dict[str, Any]:
        return {"known": sorted(self._known or ()), "gone": self._gone, "asked": sorted(self._asked)}

    def _read(self) -> set[str]:
        if self._known is None:
            try:
                told = json.loads(self._file.read_text(encoding="utf-8"))
                self._known = {str(n) for n in told["known"]}
                self._gone = {str(n): [str(v) for v in versions] for n, versions in told["gone"].items()}
                self._asked = {str(n) for n in told["asked"]}
            except (OSError, ValueError, KeyError, TypeError, AttributeError):
                self._known, self._gone, self._asked = set(), {}, set()
        return self._known
