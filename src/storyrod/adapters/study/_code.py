"""Which code works rows out: rows of one and of another may differ, so they are never put into one table."""

from __future__ import annotations

import hashlib
import platform
from functools import cache
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parents[2]


@cache
def code_digest() -> str:
    """Return a short digest of the package as it is installed here: its code and its data."""
    sha = hashlib.sha256()
    for path in sorted(p for kind in ("*.py", "*.toml") for p in _PACKAGE.rglob(kind)):
        sha.update(path.relative_to(_PACKAGE).as_posix().encode() + b"\0")
        sha.update(path.read_bytes().replace(b"\r\n", b"\n"))
    return sha.hexdigest()[:12]


def version_words() -> str:
    """Return what a worker must have the same of: storyrod, by its digest, and Python."""
    major, minor, _ = platform.python_version_tuple()
    return f"storyrod {code_digest()} on Python {major}.{minor}"
