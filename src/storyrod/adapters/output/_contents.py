"""The list of contents: which files of a folder are a plan's, each with a fingerprint of its bytes."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field
from pathlib import Path

from storyrod.adapters.files.editing import plain_bytes

MANIFEST = "contents.json"
LAST = "plan.json"


def digest_of(data: bytes) -> str:
    """Return the fingerprint of a file's bytes."""
    return hashlib.sha256(data).hexdigest()


@dataclass(frozen=True, slots=True)
class Contents:
    """What storyrod wrote into a folder: the fingerprints that each file may have.

    Attributes:
        files: by name; two fingerprints where a plan was being switched: the older file's and the newer one's.
        whole: whether the files are of one plan.
    """

    files: dict[str, set[str]] = field(default_factory=dict)
    whole: bool = True

    @classmethod
    def of(cls, folder: Path) -> Contents:
        """Return what an older run wrote here; nothing where its list is not there, or cannot be read."""
        try:
            told = json.loads(plain_bytes(folder / MANIFEST).decode("utf-8"))
            if told.get("written by") != "storyrod":
                return cls()
            files = {str(k): {str(v)} for k, v in told["files"].items()}
            for name, digests in told.get("before", {}).items():
                files.setdefault(str(name), set()).update(str(d) for d in digests)
            return cls(files=files, whole=told.get("whole") is not False)
        except (OSError, ValueError, KeyError, AttributeError, TypeError, RecursionError):
            return cls()

    def text(self, before: dict[str, set[str]] | None = None) -> str:
        """Return the list as it is written; with what was there `before`, as of a plan that is not whole."""
        told: dict[str, object] = {"written by": "storyrod"}
        told["files"] = {name: min(digests) for name, digests in self.files.items()}
        if before is not None:
            told["whole"] = False
            told["before"] = {name: sorted(digests) for name, digests in before.items()}
        return json.dumps(told, indent=1, ensure_ascii=False)

    def wrote(self, folder: Path, name: str) -> bool:
        """Return whether a file of the folder is as storyrod wrote it."""
        return name in self.files and digest_in(folder / name) in self.files[name]


def digest_in(path: Path) -> str:
    """Return the fingerprint of a file; nothing where it is no plain file, or cannot be read."""
    if path.is_symlink() or not path.is_file():
        return ""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""
