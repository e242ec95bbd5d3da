"""Papers in the making, each in a thread of its own: the tab that asked shows how far it is, and can stop it."""

from __future__ import annotations

import copy
import logging
import threading
from collections import OrderedDict
from typing import TYPE_CHECKING, Final

from starlette.requests import HTTPConnection

from storyrod.adapters.printing import ALL, Order, StoppedError, Texts, made_apart, plan_downloads
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError, raise_if_any

if TYPE_CHECKING:
    from storyrod.planning import Plan
    from storyrod.telling.purposes import Wishes

_LOG = logging.getLogger("storyrod.page")

MOST_KEPT: Final = 4
"""What was made last and may still be fetched: an archive is kept nowhere else."""

_CHECKED_BY: Final = (
    ("assembly", "Checking the order of assembly."),
    ("proof", "Checking every joint."),
    ("sheets", "Laying out the sheets."),
    ("machining", "Working out the set-ups."),
    ("soundness", "Checking whether it will stand."),
)
"""The stages that take long, in the order in which they are worked out, each with what is said meanwhile."""


class Making:
    """One paper, or all files in one archive, being made.

    Attributes:
        plan: the plan it is made from.
        data: the file, once it is there.
        faults: why it cannot be made.
        trouble: what went wrong on our side, in words.
    """

    def __init__(self, worked: Worked, name: str, texts: Texts, wishes: Wishes) -> None:
        self._worked, self._name, self._texts, self._wishes = worked, name, texts, wishes
        self.plan = worked.plan
        self.data: bytes | None = None
        self.faults: tuple[Fault, ...] = ()
        self.trouble = ""
        self._is_checked = False
        self._parts = (0, 0)
        self._order = Order(self._hear)
        self._thread = threading.Thread(target=self._run, name="making", daemon=True)
        self._thread.start()

    @property
    def is_done(self) -> bool:
        """Whether it is made, or will not be."""
        return not self._thread.is_alive()

    @property
    def is_stopped(self) -> bool:
        """Whether whoever asked for it wants it no more."""
        return self._order.is_stopped

    def stop(self) -> None:
        """Make it no further."""
        self._order.stop()

    def wait(self, seconds: float) -> None:
        """Wait for its end, but no longer than this."""
        self._thread.join(seconds)

    @property
    def said(self) -> str:
        """How far it is, in words."""
        done, of = self._parts
        if of:
            return f"{done} of {of} {'files' if self._name == ALL else 'parts'} made."
        return "Making it." if self._is_checked else checking_words(self._worked)

    @property
    def parts(self) -> tuple[int, int]:
        """How many of its parts are made, and of how many; of none as long as that is not known."""
        return self._parts

    def _hear(self, done: int, of: int) -> None:
        self._parts = (done, of)

    def _run(self) -> None:
        try:
            raise_if_any(self._worked.checked())
            self._is_checked = True
            self.data = made(self._worked, self._name, self._texts, self._wishes, self._order)
        except StoppedError:
            pass
        except JobError as error:
            self.faults = error.faults
        except Exception:  # noqa: BLE001  # a thread of ours; told on the page, and where it happened on the terminal
            _LOG.exception("while making %s", self._name)
            self.trouble = "This is a mistake in storyrod, not in your job; your files are as they were."


def checking_words(worked: Worked) -> str:
    """Return which stage of a plan is being worked out."""
    plan = worked.plan
    if plan is None:
        return "Working out the job."
    return next((words for name, words in _CHECKED_BY if not plan.knows(name)), "Checking the plan.")


def made(worked: Worked, name: str, texts: Texts, wishes: Wishes, order: Order) -> bytes:
    """Return what is set in type, or all in one archive: as it was made of the very same before, or made now.

    Raises:
        JobError: it cannot be made of this plan.
        StoppedError: the order was stopped.
    """
    if name != ALL:
        file = worked.ask(lambda plan: next((f for f in plan_downloads(plan, wishes) if f.name == name), None))
        if file is None:
            raise JobError(*worked.ask(lambda plan: why_not(plan, name)))
        before = worked.ask(lambda _: file.kept() if file.kept else None)
        if before is not None:
            return before
    return made_apart(_snapshot(worked), name, texts, wishes, order)


def why_not(plan: Plan, name: str) -> tuple[Fault, ...]:
    """Return why a paper of this name is not among the files, if it is one."""
    from storyrod.adapters.packet import prints_of
    from storyrod.telling.purposes import Purpose, Wishes

    return tuple(f for one, why in prints_of(plan, tuple(Purpose), Wishes()) if one.file == name for f in why)


def _snapshot(worked: Worked) -> Plan:
    """Return the plan with all that is worked out so far, to be sent to another process."""
    return worked.ask(copy.copy)


class Makings:
    """What is in the making, and what was made last."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str], Making] = OrderedDict()
        self._lock = threading.Lock()

    def of(self, worked: Worked, name: str, asked: str) -> Making | None:
        """Return the making of a file as an address asks for it, of the plan as it is now; None if there is none."""
        with self._lock:
            found = self._kept.get((worked.name, f"{name}?{asked}"))
        return found if found is not None and found.plan is worked.plan else None

    def begin(self, worked: Worked, name: str, asked: str, texts: Texts, wishes: Wishes) -> Making:
        """Return the making of a file, begun where it is not on its way or made; one that was stopped begins anew."""
        known = self.of(worked, name, asked)
        if known is not None and not known.is_stopped and (known.data is not None or not known.is_done):
            return known
        fresh = Making(worked, name, texts, wishes)
        with self._lock:
            self._kept[(worked.name, f"{name}?{asked}")] = fresh
            self._kept.move_to_end((worked.name, f"{name}?{asked}"))
            while len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)[1].stop()
        return fresh


_ASKING: Final = threading.Lock()


def makings_of(request: HTTPConnection) -> Makings:
    """Return the app's papers in the making."""
    state = request.app.state
    with _ASKING:
        if not hasattr(state, "makings"):
            state.makings = Makings()
        makings = state.makings
    assert isinstance(makings, Makings)  # noqa: S101  # put there just now
    return makings
