"""A stop-watch as a `with` block, for notebooks and scripts."""

from __future__ import annotations

from types import TracebackType
from typing import Self

from storyrod.adapters.log._log import BenchLog
from storyrod.adapters.log._types import Span


class StopWatch:
    """Times one act: `with StopWatch(log, job, "drill a hole") as watch: ...; watch.count = 12`."""

    def __init__(self, log: BenchLog, job: str, act: str, *, method: str = "") -> None:
        self._log, self._job, self._act, self._method = log, job, act, method
        self._uid = ""
        self.count = 1.0
        self.span: Span | None = None

    def __enter__(self) -> Self:
        self._uid = self._log.start(self._job, self._act, method=self._method)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        note = "" if error is None else "broken off"
        self.span = self._log.stop(self._uid, count=self.count, note=note)
