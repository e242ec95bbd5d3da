"""Work that takes long, done behind the page: one piece at a time, and only as long as somebody asks for it.

A view asks for an errand by its key (job, version, what it is about) and shows what has been found so far; the page
asks again until it is done. An errand that nobody has asked for lately is left where it stands, and goes on when it is
asked for again: a page that was closed, or a job that was changed, costs nothing more.
"""

from __future__ import annotations

import logging
import threading
import time
from abc import ABC, abstractmethod
from collections import OrderedDict
from collections.abc import Callable, Iterator
from typing import Final

from starlette.requests import HTTPConnection

_LOG = logging.getLogger("storyrod.page")

WANTED_S: Final = 10.0
MOST_KEPT: Final = 12

type Key = tuple[str, ...]


class Errand(ABC):
    """One thing to be found out, step by step; `work` yields between steps, and keeps what it found on `self`.

    Attributes:
        is_done: whether all is found.
        trouble: what went wrong on our side, in words; the errand is then done as well.
    """

    def __init__(self) -> None:
        self.is_done = False
        self.trouble = ""

    @abstractmethod
    def work(self) -> Iterator[None]:
        """Do the work."""


class Errands:
    """Runs errands, that asked for last first."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._kept: OrderedDict[Key, tuple[Errand, Iterator[None]]] = OrderedDict()
        self._asked: dict[Key, float] = {}
        self._wake = threading.Condition()
        self._thread: threading.Thread | None = None

    def ask[E: Errand](self, key: Key, kind: type[E], make: Callable[[], E]) -> E:
        """Return the errand of a key, made and begun where it was not asked for before."""
        with self._wake:
            known = self._kept.get(key)
            if known is None:
                errand: Errand = make()
                self._kept[key] = (errand, errand.work())
                while len(self._kept) > MOST_KEPT:
                    gone, _ = self._kept.popitem(last=False)
                    self._asked.pop(gone, None)
            else:
                errand = known[0]
                self._kept.move_to_end(key)
            self._asked[key] = self._clock()
            if not errand.is_done:
                self._begin()
            self._wake.notify_all()
        if not isinstance(errand, kind):
            raise TypeError(f"{key} is no {kind.__name__}")
        return errand

    def _begin(self) -> None:
        if self._thread is None or not self._thread.is_alive():
            self._thread = threading.Thread(target=self._run, name="errands", daemon=True)
            self._thread.start()

    def _run(self) -> None:
        while True:
            with self._wake:
                chosen = self._next()
                if chosen is None:
                    if not self._wake.wait(timeout=WANTED_S) and self._next() is None:
                        self._thread = None
                        return
                    continue
            self._step(*chosen)

    def _next(self) -> tuple[Errand, Iterator[None]] | None:
        now = self._clock()
        wanted = [k for k, (e, _) in self._kept.items() if not e.is_done and now - self._asked[k] < WANTED_S]
        return self._kept[max(wanted, key=lambda k: self._asked[k])] if wanted else None

    @staticmethod
    def _step(errand: Errand, steps: Iterator[None]) -> None:
        try:
            next(steps)
        except StopIteration:
            errand.is_done = True
        except Exception:  # noqa: BLE001  # a thread of ours; told on the page, and where it happened on the terminal
            _LOG.exception("behind the page")
            errand.trouble = "This is a mistake in storyrod, not in your job; your files are as they were."
            errand.is_done = True


_MAKING = threading.Lock()


def errands_of(request: HTTPConnection) -> Errands:
    """Return the app's errands."""
    state = request.app.state
    with _MAKING:
        if not hasattr(state, "errands"):
            state.errands = Errands()
        errands = state.errands
    assert isinstance(errands, Errands)  # noqa: S101  # put there just now
    return errands
