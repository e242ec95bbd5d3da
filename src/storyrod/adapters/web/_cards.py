"""What the list of jobs says of each: its picture, size and state, kept as long as its text does not change."""

from __future__ import annotations

import datetime as dt
import threading
import time
from collections import OrderedDict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from markupsafe import Markup

from storyrod.adapters.web._brief_drawing import cases_of
from storyrod.adapters.web._cautions_shown import cautions_at
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._render import drawn
from storyrod.adapters.web._shelf import JobEntry
from storyrod.adapters.web._stages import STAGES
from storyrod.adapters.web._waits import waits_of
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.measure.writing import METRIC

if TYPE_CHECKING:
    from storyrod.drawing import Shown as Look
    from storyrod.model.job import Case

MOST_KEPT: Final = 200
AT_ONCE_S: Final = 0.5
"""How long the list may take to look at jobs; the rest are looked at once it is shown."""

PICTURE: Final = (44.0, 34.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A job in the list.

    Attributes:
        state: `sound` once all of it was checked and nothing is open, `cautions`, `unchecked`, `faults`, `unreadable`,
            or `unseen` while it was not looked at.
        words: the state in words.
        first: the first thing to mend, with its line.
        changed: when it was last changed, in words.
    """

    name: str
    title: str
    changed: str
    state: str = "unseen"
    words: str = ""
    size: str = ""
    first: str = ""
    picture: Markup | None = None


class Cards:
    """Looks at jobs and keeps what it saw."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str], tuple[str, str, str, str, Markup | None]] = OrderedDict()
        self._lock = threading.Lock()

    def all(self, desk: Desk) -> tuple[Card, ...]:
        """Return the cards of all jobs, the one changed last first; those for which time runs out are not looked at."""
        end = time.monotonic() + AT_ONCE_S
        return tuple(self.of(desk, entry, look=time.monotonic() < end) for entry in desk.shelf.entries())

    def of(self, desk: Desk, entry: JobEntry, *, look: bool = True) -> Card:
        """Return one job's card."""
        plain = Card(name=entry.name, title=entry.title, changed=when(entry.changed))
        if not look:
            return plain
        try:
            worked = desk.job(entry.name)
        except JobError as error:
            words = f"Found {error.faults[0].found}."
            return Card(
                name=plain.name, title=plain.title, changed=plain.changed, state="unreadable", words="unreadable",
                first=words,
            )  # fmt: skip
        state, words, size, first, picture = self._seen(worked)
        return Card(
            name=plain.name,
            title=plain.title,
            changed=plain.changed,
            state=state,
            words=words,
            size=size,
            first=first,
            picture=picture,
        )

    def _seen(self, worked: Worked) -> tuple[str, str, str, str, Markup | None]:
        key = (worked.name, worked.read.digest if worked.read is not None else worked.version)
        with self._lock:
            known = self._kept.get(key)
        if known is None:
            known = _look(worked)
            with self._lock:
                self._kept[key] = known
                while len(self._kept) > MOST_KEPT:
                    self._kept.popitem(last=False)
        if known[0] == "unchecked":  # it may have been checked since
            return (*_standing(worked), *known[2:])
        return known


def _look(worked: Worked) -> tuple[str, str, str, str, Markup | None]:
    cases = cases_of(worked)
    faults = worked.faults
    first = ""
    if faults:
        wait = waits_of(worked)[0]
        first = f"{wait.place}{f' ({wait.where})' if wait.where else ''}: {wait.words}"
    if faults and any(f.code in {"file-toml", "file-encoding", "file-size"} for f in faults):
        return "unreadable", "unreadable", "", first, None
    size = sizes_of(tuple(c.built.case for c in cases), worked) if cases else ""
    picture = None
    if cases:
        from storyrod.drawing import case_view

        picture = drawn(case_view(cases[0], look_of(worked), room=PICTURE), f"p-{worked.version}")
    state, words = ("faults", counted(len(faults), "fault")) if faults else ("unchecked", "not checked yet")
    return state, words, size, first, picture


def _standing(worked: Worked) -> tuple[str, str]:
    """Return how a job without faults of building stands: what is open, or that it can be built."""
    if not worked.is_checked:
        return "unchecked", "not checked yet"
    if worked.known:
        return "faults", counted(len(worked.known), "fault")
    number = sum(len(cautions_at(worked, stage.key)) for stage in STAGES)
    return ("cautions", f"can be built, {counted(number, 'caution')}") if number else ("sound", "can be built")


def counted(number: int, what: str) -> str:
    """Return a number with its noun: `1 fault`, `3 faults`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def look_of(worked: Worked) -> Look:
    """Return how the cases of a job are drawn on a card and on its first page."""
    from storyrod.drawing import Figures, Shown

    if worked.plan is None:
        return Shown(hatched=False)
    job = worked.plan.job
    return Shown(boards=tuple(b.code for b in job.boards), hatched=False, figures=Figures.of_job(job))


def sizes_of(cases: tuple[Case, ...], worked: Worked) -> str:
    """Return the outside of the first case in the job's unit, and how many more there are."""
    lengths = worked.plan.job.lengths if worked.plan is not None else METRIC
    case = cases[0]
    size = lengths.told_seen_size(case.width, case.height, case.depth)
    number = sum(c.count for c in cases)
    if number == 1:
        return size
    return f"{size}, {number} alike" if len(cases) == 1 else f"{size}, and {number - case.count} more"


def when(changed: float) -> str:
    """Return when a file was changed, in words, as the clock on the wall has it."""
    then = dt.datetime.fromtimestamp(changed, dt.UTC).astimezone()
    days = (dt.datetime.now(dt.UTC).astimezone().date() - then.date()).days
    if days == 0:
        return f"today {then:%H:%M}"
    return f"yesterday {then:%H:%M}" if days == 1 else f"{then.day} {then:%B %Y}"
