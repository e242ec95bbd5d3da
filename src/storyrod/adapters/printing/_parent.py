"""Our end: has a child set things in type, since the typesetter's memory creeps and its work takes long.

Starting a child and loading what it needs takes longer than setting labels: one is kept for the papers that are asked
for next, until it has made `MOST_MADE` or nobody has asked for `IDLE_S`. Questions go to its standard input, its output
says how far it is and then the answer. Both ends are ours, on one machine, and nothing else is read.
"""

from __future__ import annotations

import atexit
import contextlib
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from storyrod.adapters.printing._downloads import Texts, made_of
from storyrod.adapters.printing._frames import read_frame, write_frame
from storyrod.faults import Fault, JobError
from storyrod.model.as_built import Slip
from storyrod.model.rescue import Way
from storyrod.planning import Plan
from storyrod.telling.purposes import Tell, Wishes, unheard

MOST_S: Final = 300.0
MOST_MADE: Final = 8
IDLE_S: Final = 300.0

type _Make = Callable[[Tell], bytes]
type _Child = subprocess.Popen[bytes]


class StoppedError(Exception):
    """Whoever wanted a paper wants it no more."""


class Order:
    """One paper as it is asked for: who wants it hears how far it is, and may stop it from another thread."""

    def __init__(self, heard: Tell = unheard) -> None:
        self.heard = heard
        self.is_stopped = False
        self._child: _Child | None = None
        self._lock = threading.Lock()

    def stop(self) -> None:
        """Stop it: the child that works for it is ended, or it is not begun."""
        with self._lock:
            self.is_stopped = True
            if self._child is not None:
                self._child.kill()

    def given_to(self, child: _Child) -> None:
        """Say which child works for it.

        Raises:
            StoppedError: it was stopped before.
        """
        with self._lock:
            if self.is_stopped:
                raise StoppedError
            self._child = child

    def is_made(self) -> None:
        """Say that no child works for it any more."""
        with self._lock:
            self._child = None


class Press:
    """The child, which does one thing at a time, and who waits for it."""

    def __init__(self) -> None:
        self._busy = threading.Lock()
        self._child: _Child | None = None
        self._made = 0
        self._idle: threading.Timer | None = None

    def make_ready(self) -> None:
        """Have a child load what it needs, unless one is there."""
        if self._busy.acquire(blocking=False):
            try:
                self._alive()
                self._wait_for_more()
            finally:
                self._busy.release()

    def close(self) -> None:
        """End the child."""
        with self._busy:
            self._end()

    def make(self, what: _Make, order: Order) -> bytes:
        """Return what is asked for, made by the child.

        Raises:
            JobError: the plan says why it cannot be made, or the child was ended.
            StoppedError: the order was stopped.
        """
        with self._busy:
            child = self._alive()
            order.given_to(child)
            too_long = threading.Event()

            def end_it() -> None:
                too_long.set()
                child.kill()

            limit = threading.Timer(MOST_S, end_it)
            limit.daemon = True
            limit.start()
            try:
                answer = _answered(child, what, order)
            except (EOFError, OSError):
                self._end()
                raise _why_none(order, too_long=too_long.is_set()) from None
            finally:
                limit.cancel()
                order.is_made()
            self._made += 1
            if self._made >= MOST_MADE:
                self._end()
            self._wait_for_more()
        if isinstance(answer, bytes):
            return answer
        raise JobError(*answer)

    def _alive(self) -> _Child:
        if self._child is None or self._child.poll() is not None:
            self._end()
            self._child = subprocess.Popen(
                [sys.executable, "-m", "storyrod.adapters.printing._child"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
            )
            self._made = 0
        return self._child

    def _end(self) -> None:
        child, self._child = self._child, None
        if child is None:
            return
        child.kill()
        for stream in (child.stdin, child.stdout):
            if stream is not None:
                with contextlib.suppress(OSError):  # what is left unread on a broken pipe
                    stream.close()
        child.wait()

    def _wait_for_more(self) -> None:
        if self._idle is not None:
            self._idle.cancel()
        self._idle = threading.Timer(IDLE_S, self._let_go)
        self._idle.daemon = True
        self._idle.start()

    def _let_go(self) -> None:
        if self._busy.acquire(blocking=False):
            try:
                self._end()
            finally:
                self._busy.release()


def _answered(child: _Child, what: _Make, order: Order) -> bytes | tuple[Fault, ...]:
    assert child.stdin is not None and child.stdout is not None  # noqa: S101, PT018  # both are pipes
    write_frame(child.stdin, what)  # type: ignore[arg-type]  # a pipe is written to as any stream
    while True:
        match read_frame(child.stdout):  # type: ignore[arg-type]  # and read from
            case (int(done), int(of)):
                order.heard(done, of)
            case answer:
                return answer  # type: ignore[no-any-return]  # our own child writes nothing else


def _why_none(order: Order, *, too_long: bool) -> Exception:
    if order.is_stopped:
        return StoppedError()
    return JobError(
        _broken(f"no answer after {MOST_S:.0f} seconds" if too_long else "the process that prints was ended")
    )


PRESS: Final = Press()
atexit.register(PRESS.close)


def make_ready() -> None:
    """Have all that papers are made with loaded, so that the first one is not waited for longer than it takes."""
    PRESS.make_ready()


def made_apart(plan: Plan, name: str, texts: Texts, wishes: Wishes, order: Order | None = None) -> bytes:
    """Return a printed file, or everything in one archive, made in a child process; one at a time.

    Raises:
        JobError: the plan says why it cannot be made, or the child was ended.
        StoppedError: the order was stopped.
    """
    return PRESS.make(partial(_named, plan, name, texts, wishes), order or Order())


def _named(plan: Plan, name: str, texts: Texts, wishes: Wishes, tell: Tell) -> bytes:
    return made_of(plan, name, texts, wishes, tell)


def rescue_sheet_apart(plan: Plan, way: Way, slips: Sequence[Slip], *, date: str) -> bytes:
    """Return the rescue sheet of a way out, made in a child process like every other paper.

    Raises:
        JobError: the child was ended.
    """
    return PRESS.make(partial(_rescue_sheet, plan, way, slips, date), Order())


def _rescue_sheet(plan: Plan, way: Way, slips: Sequence[Slip], date: str, _tell: Tell) -> bytes:
    from storyrod.adapters.packet import make_rescue_sheet

    return make_rescue_sheet(plan, way, slips, date=date)


def _broken(found: str) -> Fault:
    return Fault(
        code="print-child",
        field="",
        found=found,
        allowed="a machine with room to print",
        do="Try it again; if it stays so, print fewer parts, or use `storyrod plan`.",
    )
