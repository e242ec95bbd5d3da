"""Where the page finds what it shows, and who may reach it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Fixed when the page is started.

    Attributes:
        jobs: the folder whose job files are shown.
        home: the folder of the page's own things: the bench log, earlier texts of jobs, what was deleted.
        hosts: the names by which this machine may be asked for, with port; a request for another is turned away.
        polling_s: seconds between two looks at the disk for files changed by hand, while a page is open.
    """

    jobs: Path
    home: Path
    hosts: frozenset[str]
    polling_s: float = 1.0

    @property
    def log(self) -> Path:
        """The bench log's file."""
        return self.home / "bench-log.sqlite"

    @property
    def workshop(self) -> Path:
        """The workshop file that the page edits, beside the jobs that name it."""
        return self.jobs / "workshop.toml"


def local_hosts(port: int) -> frozenset[str]:
    """Return the names of this machine as seen from itself, at a port."""
    return frozenset(f"{name}:{port}" for name in ("127.0.0.1", "localhost", "[::1]"))
