"""A job's text and the plan worked out from it: kept as long as neither the job nor its workshop changes."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final

from storyrod.adapters.web._tidying import TIDYING
from storyrod.faults import Caution, Fault, JobError

if TYPE_CHECKING:
    from storyrod.adapters.files import JobFile
    from storyrod.adapters.log import BenchLog
    from storyrod.model.detail import Details
    from storyrod.model.sheet import CuttingPlan
    from storyrod.planning import Plan

SOON_S: Final = 2.0
"""So long a page that can do without the plan waits for it: the brief and the text, by which a job is mended."""

MOST_KEPT: Final = 24
"""Plans kept at once: those of a few jobs with their last changes."""


@dataclass(slots=True, kw_only=True)
class Worked:
    """One text of a job, with its plan where it can be built.

    Attributes:
        name: the job file's name without its ending, as addresses and the log know the job.
        text: the job file as it is written.
        version: a fingerprint of the text, by which a page tells that it has seen it.
        read: the job file as read; None where it has faults.
        plan: the plan; None where the file has faults. Ask it through `ask`.
        faults: why it cannot be built as written, as far as building it tells at once; `checked` tells all.
        waits: whether it is still being worked out: there is no plan yet, and no fault is known but those of the file.
    """

    name: str
    text: str
    version: str
    read: JobFile | None
    plan: Plan | None
    faults: tuple[Fault, ...]
    waits: bool = False
    busy: threading.RLock = field(default_factory=threading.RLock, repr=False)
    _checked: tuple[Fault, ...] | None = field(default=None, repr=False)
    _cautions: tuple[Caution, ...] | None = field(default=None, repr=False)

    def checked(self) -> tuple[Fault, ...]:
        """Return every fault: those of building, of the order of assembly, of sheets, and what the checkers found."""
        if self.faults or self.plan is None:
            return self.faults
        with self.busy:
            if self._checked is None:
                found = (*_located(self, lambda plan: plan.faults), *_located(self, _of_sheets))
                self._cautions = _cautions_of(self.plan) if not found else ()
                self._checked = tuple(dict.fromkeys(found))
            return self._checked

    @property
    def is_checked(self) -> bool:
        """Whether all of it was looked at."""
        return self._checked is not None

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions known so far: those of the whole plan once `checked` was asked for."""
        return self._cautions or ()

    @property
    def drawn(self) -> Details | None:
        """The panels with their cuts, where they are worked out: no one waits for it, whoever asks the plan."""
        return self.plan.sketch if self.plan is not None and self.plan.knows("sketch") else None

    @property
    def title(self) -> str:
        """Its title, as far as the file can be read; the file's name where it has none."""
        if self.read is not None:
            return self.read.job.title
        from storyrod.adapters.files.editing import parsed

        try:
            title = parsed(self.text).get("title")
        except ValueError:
            return self.name
        return title.strip() if isinstance(title, str) and title.strip() else self.name

    @property
    def known(self) -> tuple[Fault, ...]:
        """The faults known so far: those of `checked` once it was asked for."""
        return self._checked if self._checked is not None else self.faults

    def ask[T](self, what: Callable[[Plan], T]) -> T:
        """Return what the plan says; what is known comes at once, whatever else is being worked out.

        Raises:
            JobError: the job cannot be built so far, with the lines of its fields.
        """
        if self.plan is None or self.read is None:
            raise JobError(*self.faults)
        try:
            return what(self.plan)
        except JobError as error:
            raise self.read.located(error) from None

    def show_sheets(self, found: CuttingPlan) -> None:
        """Show another layout of the sheets from now on; who asked before goes on with the one they were told."""
        if self.plan is not None:
            self.plan = self.plan.with_sheets(found)


type _Key = tuple[str, str, str]
"""A job's name, the fingerprint of its files, and what its plan takes from the rack."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is to be worked out."""

    name: str
    text: str
    version: str
    read: JobFile
    log: BenchLog | None


@dataclass(slots=True)
class _Begun:
    """What is being worked out, and what came of it."""

    ended: threading.Event = field(default_factory=threading.Event)
    worked: Worked | None = None
    error: BaseException | None = None


class Workbook:
    """Works jobs out and keeps the last few plans."""

    def __init__(self) -> None:
        self._kept: OrderedDict[_Key, Worked] = OrderedDict()
        self._begun: dict[_Key, _Begun] = {}
        self._lock = threading.Lock()

    def work_out(self, name: str, text: str, folder: Path, log: BenchLog | None = None) -> Worked:
        """Return a job's text with its plan, from those kept where neither it nor its workshop file changed.

        With a bench log, the offcuts on its rack are in stock; a rack that changed is planned with anew.
        """
        return self.soon(name, text, folder, log, wait_s=None)

    def soon(
        self, name: str, text: str, folder: Path, log: BenchLog | None = None, *, wait_s: float | None = SOON_S
    ) -> Worked:
        """Return the same, but after so many seconds what is known by then: a job that `waits`, and goes on.

        What is being worked out already is waited for, and not begun a second time.
        """
        from storyrod.adapters.files import job_from_text

        version = version_of(text)
        try:
            path = folder / f"{name}.toml"
            read = job_from_text(text, name=path.name, folder=folder, path=path, inside=True)
        except JobError as error:
            return Worked(name=name, text=text, version=version, read=None, plan=None, faults=error.faults)
        key = (name, read.digest, _rack_mark(log))
        with self._lock:
            known = self._kept.get(key)
            if known is not None:
                self._kept.move_to_end(key)
                return known
            begun = self._begun.get(key)
            if begun is None:
                begun = self._begun[key] = _Begun()
                work = threading.Thread(
                    target=self._work, args=(key, begun, _Asked(name, text, version, read, log)), daemon=True
                )
                work.start()
        if not begun.ended.wait(wait_s):
            return Worked(name=name, text=text, version=version, read=None, plan=None, faults=(), waits=True)
        if begun.error is not None:
            raise begun.error
        assert begun.worked is not None  # noqa: S101  # ended without an error
        return begun.worked

    def _work(self, key: _Key, begun: _Begun, asked: _Asked) -> None:
        try:
            worked = _worked(asked, self._before(asked.name))
            _look_over(worked)
            begun.worked = worked
        except BaseException as error:  # noqa: BLE001  # whoever asked is told, in a thread of its own
            begun.error = error
        with self._lock:
            del self._begun[key]
            if begun.worked is not None:
                self._kept[key] = begun.worked
                while len(self._kept) > MOST_KEPT:
                    self._kept.popitem(last=False)
        TIDYING.worked()
        begun.ended.set()

    def _before(self, name: str) -> Plan | None:
        """Return the plan last worked out of a job that could be built."""
        with self._lock:
            found = (w for k, w in reversed(self._kept.items()) if k[0] == name and not w.faults)
            worked = next(found, None)
        return worked.plan if worked is not None else None


def version_of(text: str) -> str:
    """Return a fingerprint of a text."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _rack_mark(log: BenchLog | None) -> str:
    """Return what changes with the rack of a log, or with whose pieces they were; nothing where none ever lay on it."""
    book = log.rack_book() if log is not None else ()
    return f"{len(book)} {book[-1].uid} {sorted({e.job for e in book})}" if book else ""


def _worked(asked: _Asked, before: Plan | None) -> Worked:
    """Return the job with its plan, which takes over from an earlier one what the edit has not changed."""
    from storyrod.planning import Plan

    read, workshop = asked.read, asked.read.workshop
    if asked.log is not None and asked.log.rack_book():
        from storyrod.adapters.log import plan_with_rack

        workshop = plan_with_rack(read.job, workshop, asked.log).workshop
    plan = Plan(read.job, workshop, before)
    return Worked(name=asked.name, text=asked.text, version=asked.version, read=read, plan=plan, faults=())


def _look_over(worked: Worked) -> None:
    """Build the job as far as it is drawn; keep what cannot be built."""

    def built(plan: Plan) -> tuple[Fault, ...]:
        plan.sketch  # noqa: B018  # worked out when first asked for
        return ()

    worked.faults = _located(worked, built)


def _of_sheets(plan: Plan) -> tuple[Fault, ...]:
    """Tell what cannot be cut from the sheets there are, without laying them out."""
    from storyrod.sheets import faults_of_fit

    boards = {s.board for s in plan.stock}
    return tuple(faults_of_fit([p for p in plan.parts if p.board in boards], plan.stock, plan.cut_rules))


def _cautions_of(plan: Plan) -> tuple[Caution, ...]:
    try:
        return plan.cautions
    except JobError:  # what stops it is among the faults
        return ()


def _located(worked: Worked, found: Callable[[Plan], tuple[Fault, ...]]) -> tuple[Fault, ...]:
    """Return the faults that are found, or that stop the finding, with the lines of their fields."""
    assert worked.plan is not None and worked.read is not None  # noqa: S101, PT018  # asked only of what was read
    try:
        faults = found(worked.plan)
    except JobError as error:
        faults = error.faults
    return worked.read.located(JobError(*faults)).faults if faults else ()
