"""What all views share: the shelf of jobs, the plans, the bench log, and the pages that are open."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Final
from urllib.parse import urlencode

from starlette.requests import HTTPConnection

from storyrod.adapters.web._absences import Absences
from storyrod.adapters.web._beside import BesideShelf
from storyrod.adapters.web._lately import Lately
from storyrod.adapters.web._live import Live
from storyrod.adapters.web._network import Network
from storyrod.adapters.web._settings import Settings
from storyrod.adapters.web._shelf import Shelf
from storyrod.adapters.web._ticks import TickBook
from storyrod.adapters.web._worked import Workbook, Worked
from storyrod.faults import JobError

if TYPE_CHECKING:
    from storyrod.adapters.log import BenchLog

MOST_DRAWN: Final = 12
"""Each is a whole plan."""


class Desk:
    """One for the whole app; `desk_of` finds it from a request."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.shelf = Shelf(settings.jobs, settings.home)
        self.absences = Absences(self.shelf)
        self.beside = BesideShelf(self.shelf)
        self.workbook = Workbook()
        self.live = Live()
        self.network = Network()
        self.ticks = TickBook(self)
        self.shares: Callable[[Worked], Mapping[str, float]] = self.ticks.shares
        """How much of each stage of a job is ticked (0 to 1, by the stage's key)."""
        self.shown: dict[str, str] = {}
        """The version of each job that a page was last given, so that a change made before the first look is seen."""
        self._told_workshops: dict[str, str] = {}
        self._telling = threading.Lock()
        self.drawn = Lately[Worked](MOST_DRAWN)
        """The last text of each job that could be drawn, to be shown while the one after it cannot."""
        self.made: deque[str] = deque(maxlen=1000)
        """The ids of the last changes made: one whose answer was lost is sent again, and is not made twice."""
        self.day_jobs: tuple[str, ...] = ()
        """The jobs whose days were planned last: what comes next at the bench may be another one's."""
        self._log: BenchLog | None = None
        self._lock = threading.Lock()

    def job(self, name: str) -> Worked:
        """Return a job as its file stands on disk now, worked out.

        Raises:
            JobError: there is no such job, or its file cannot be read as text.
        """
        return self.workbook.work_out(name, self.shelf.text(name), self.settings.jobs, self._rack_log())

    def job_soon(self, name: str) -> Worked:
        """Return the same, or a job that still `waits` for its plan: nothing that mends a job waits for it to be built.

        Raises:
            JobError: as `job`.
        """
        return self.workbook.soon(name, self.shelf.text(name), self.settings.jobs, self._rack_log())

    def is_news(self, name: str, version: str) -> bool:
        """Return whether a job's pages are still to be told of this version of its workshop's file, and note it.

        Who changed it here and who watches the disk both ask, each in a thread of its own: one of them is told yes.
        """
        with self._telling:
            if self._told_workshops.get(name) == version:
                return False
            self._told_workshops[name] = version
            return True

    def title(self, name: str) -> str:
        """Return a job's title; its name where the file has none, or cannot be read.

        Raises:
            JobError: there is no such job.
        """
        self.shelf.path(name)
        return next((e.title for e in self.shelf.entries() if e.name == name), name)

    def day_query(self, name: str) -> str:
        """Return the address's words for the day's work that a job is part of: of those planned last, or its own."""
        known = self.shelf.names()
        jobs = self.day_jobs if name in self.day_jobs and all(j in known for j in self.day_jobs) else (name,)
        return urlencode([("job", j) for j in jobs])

    def set_log_aside(self, name: str, title: str, why: str) -> None:
        """Have the log keep a job's ticks, minutes and offcuts under another name, so that no later job has them.

        Scripts, and sheets that are confirmed as cut, know a job by its title. Where another job here has the same
        title, whose those are cannot be told, and they stay.
        """
        self.ticks.renamed(name, _aside(name, why))
        if title != name and not self._shares_title(name, title):
            self.ticks.renamed(title, _aside(title, why))

    def bring_log_back(self, name: str, old: str, title: str, why: str) -> None:
        """Give back to a job, by its name, what was set aside when it was called `old`."""
        self.ticks.renamed(_aside(old, why), name)
        if title != old and not self._shares_title(name, title):
            self.ticks.renamed(_aside(title, why), title)

    def _shares_title(self, name: str, title: str) -> bool:
        return any(e.title == title and e.name != name for e in self.shelf.entries())

    def _rack_log(self) -> BenchLog | None:
        """Return the log for its rack; None where there is none yet, or where it cannot be read: its view tells."""
        if self._log is None and not self.settings.log.exists():
            return None
        try:
            log = self.log()
            log.rack_book()
        except JobError:
            return None
        return log

    def log(self) -> BenchLog:
        """Return the bench log, opened when first asked for.

        Raises:
            JobError: the log is damaged, or in a place that cannot be written to; it is left as it is.
        """
        from storyrod.adapters.log import open_log

        with self._lock:
            if self._log is None:
                self.settings.home.mkdir(parents=True, exist_ok=True)
                self._log = open_log(self.settings.log)
            return self._log

    def close(self) -> None:
        """Let go of the log."""
        with self._lock:
            if self._log is not None:
                self._log.close()
                self._log = None


def _aside(name: str, why: str) -> str:
    return f"{name} ({why})"


def desk_of(request: HTTPConnection) -> Desk:
    """Return the app's desk."""
    desk = request.app.state.desk
    assert isinstance(desk, Desk)  # noqa: S101  # put there when the app was made
    return desk
