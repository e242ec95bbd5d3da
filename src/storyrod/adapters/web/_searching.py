"""A longer search for a layout of the sheets, in a thread of its own; it can be watched, and stopped at any time."""

from __future__ import annotations

import copy
import logging
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from starlette.requests import HTTPConnection

from storyrod.adapters.packing import PackingEngine
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError
from storyrod.model.account import show_money
from storyrod.model.saw_list import SheetProgress
from storyrod.model.sheet import BoardPlan, CuttingPlan
from storyrod.planning import Plan

_LOG = logging.getLogger("storyrod.page")

LEAST_S: Final = 1.0
MOST_S: Final = 600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """How a search stands: a share of its time, what was found so far, and in the end what came of it."""

    limit_s: float
    share: float
    is_done: bool
    said: str
    faults: tuple[Fault, ...] = ()


class Search:
    """One search for one version of a job."""

    def __init__(self, worked: Worked, limit_s: float, tell: Callable[[], None]) -> None:
        if worked.plan is None:
            raise ValueError("a file that cannot be read has no sheets")
        self.worked = worked
        self.limit_s = limit_s
        self._tell = tell
        # A plan of our own, so that the page need not wait for us.
        self._before: CuttingPlan = worked.ask(lambda plan: plan.sheets)
        self._plan: Plan = worked.ask(copy.copy)
        self._began = time.monotonic()
        self._stopped = threading.Event()
        self._progress: dict[str, SheetProgress] = {}
        self._said = ""
        self._faults: tuple[Fault, ...] = ()
        self._done = threading.Event()

    @property
    def is_done(self) -> bool:
        """Whether it has come to its end."""
        return self._done.is_set()

    def start(self) -> None:
        """Begin."""
        threading.Thread(target=self._run, name="sheets", daemon=True).start()

    def stop(self) -> None:
        """End it soon; the best found so far is kept."""
        self._stopped.set()

    def seen(self) -> Seen:
        """Return how it stands."""
        share = 1.0 if self.is_done else min((time.monotonic() - self._began) / self.limit_s, 0.99)
        said = self._said or self._so_far()
        return Seen(limit_s=self.limit_s, share=share, is_done=self.is_done, said=said, faults=self._faults)

    def _so_far(self) -> str:
        found = sum(p.sheets for p in self._progress.values())
        boards = {b.board for b in self._before.boards}
        if set(self._progress) != boards:
            return f"{len(self._progress)} of {len(boards)} boards looked at so far."
        told = f"{found} sheet{'s' if found != 1 else ''} so far"
        if any(b.weights != "cents" for b in self._before.boards):
            return f"{told}."
        best, bound = (sum(getattr(p, name) for p in self._progress.values()) for name in ("best", "bound"))
        return f"{told}, for {show_money(best)}; no plan can cost less than {show_money(bound)}."

    def _clock(self) -> float:
        """Return the time; where the search was stopped, a time at which all of it is used up."""
        return time.monotonic() + (2 * MOST_S if self._stopped.is_set() else 0.0)

    def _note(self, progress: SheetProgress) -> None:
        self._progress = self._progress | {progress.board: progress}
        self._tell()

    def _run(self) -> None:
        try:
            found = self._plan.with_sheets_laid_out(self.limit_s, PackingEngine(), self._note, clock=self._clock).sheets
            better = best_of(self._before, found)
            self.worked.show_sheets(better)
            self._said = words_of(self._before, better)
        except JobError as error:
            self._faults = error.faults
        except Exception:  # noqa: BLE001  # a thread of ours; told on the page, and where it happened on the terminal
            _LOG.exception("while searching for sheets")
            self._said = "This is a mistake in storyrod, not in your job; the layout is as it was."
        finally:
            self._done.set()
            self._tell()


def best_of(before: CuttingPlan, found: CuttingPlan) -> CuttingPlan:
    """Return the better layout of each board; a longer search may end with a worse one."""
    old = {b.board: b for b in before.boards}
    boards = tuple(min(old[b.board], b, key=_cost) for b in found.boards)
    return replace(found, boards=boards) if boards != before.boards else before


def _cost(board: BoardPlan) -> tuple[float, float, float]:
    figures = board.figures
    paid = figures.cents if board.weights == "cents" else figures.sheets_m2
    return (paid, figures.settings, -figures.kept_m2)


def words_of(before: CuttingPlan, after: CuttingPlan) -> str:
    """Return what a search changed, in a sentence."""
    fewer = len(before.sheets) - len(after.sheets)
    saved = before.cents - after.cents
    settings = sum(b.figures.settings for b in before.boards) - sum(b.figures.settings for b in after.boards)
    told = []
    if fewer > 0:
        told.append(f"{fewer} sheet{'s' if fewer > 1 else ''} fewer")
    if saved > 0:
        told.append(f"{show_money(saved)} saved")
    if settings > 0:
        told.append("the fence or rail is set less often")
    if told:
        return f"Found: {', '.join(told)}."
    if after is before or all(a is b for a, b in zip(before.boards, after.boards, strict=True)):
        return "Nothing better was found; the layout is as it was."
    return "Found: a layout as cheap, with more worth keeping left over."


class Searches:
    """The app's searches: one runs at a time, and the last of each job version is remembered."""

    def __init__(self) -> None:
        self._of: dict[tuple[str, str], Search] = {}
        self._lock = threading.Lock()

    def start(self, worked: Worked, limit_s: float, tell: Callable[[], None]) -> Search:
        """Begin a search; one that runs is stopped first."""
        search = Search(worked, limit_s, tell)
        with self._lock:
            for other in self._of.values():
                other.stop()
            self._of = {key: s for key, s in self._of.items() if not s.is_done} | {_key(worked): search}
        search.start()
        return search

    def of(self, worked: Worked) -> Search | None:
        """Return the search of a job as it stands, the one that runs or the last one; None where there was none."""
        search = self._of.get(_key(worked))
        return search if search is not None and search.worked is worked else None


def _key(worked: Worked) -> tuple[str, str]:
    return (worked.name, worked.version)


_MAKING: Final = threading.Lock()


def searches_of(request: HTTPConnection) -> Searches:
    """Return the app's searches."""
    state = request.app.state
    with _MAKING:
        if not hasattr(state, "searches"):
            state.searches = Searches()
        searches = state.searches
    assert isinstance(searches, Searches)  # noqa: S101  # put there just now
    return searches
