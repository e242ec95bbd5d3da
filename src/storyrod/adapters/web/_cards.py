"""What the list of jobs says of each: its picture, size and state, kept as long as its text does not change."""

from __future__ import annotations

import datetime as dt
import threading
import time
from collections import OrderedDict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final
from urllib.parse import quote

from markupsafe import Markup

from storyrod.adapters.web._brief_drawing import cases_of
from storyrod.adapters.web._cautions_shown import cautions_at
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._next_card import next_card
from storyrod.adapters.web._render import drawn
from storyrod.adapters.web._shelf import JobEntry
from storyrod.adapters.web._stages import STAGES
from storyrod.adapters.web._waits import waits_of
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web.first_visit import is_example
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
class Follow:
    """What is done next on a job: in words, and where."""

    words: str
    href: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """What was seen of one text of a job."""

    state: str
    words: str
    size: str = ""
    first: str = ""
    picture: Markup | None = None
    outside: tuple[str, str, str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A job in the list.

    Attributes:
        state: `sound` once all of it was checked and nothing is open, `cautions`, `unchecked`, `faults`, `unreadable`,
            or `unseen` while it was not looked at.
        words: the state in words.
        first: the first thing to mend, with its line.
        changed: when it was last changed, in words.
        follow: what is done next; None while the job was not looked at.
        outside: width, height and depth as the job file may say them, where there is one case: a copy may have others.
        is_example: whether it is the example that came with storyrod, unchanged.
    """

    name: str
    title: str
    changed: str
    state: str = "unseen"
    words: str = ""
    size: str = ""
    first: str = ""
    picture: Markup | None = None
    follow: Follow | None = None
    outside: tuple[str, str, str] | None = None
    is_example: bool = False


class Cards:
    """Looks at jobs and keeps what it saw."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str], _Seen] = OrderedDict()
        self._lock = threading.Lock()

    def all(self, desk: Desk, entries: Iterable[JobEntry]) -> tuple[Card, ...]:
        """Return the cards of these jobs; those for which time runs out are not looked at."""
        end = time.monotonic() + AT_ONCE_S
        return tuple(self.of(desk, entry, look=time.monotonic() < end) for entry in entries)

    def of(self, desk: Desk, entry: JobEntry, *, look: bool = True) -> Card:
        """Return one job's card."""
        plain = Card(name=entry.name, title=entry.title, changed=when(entry.changed))
        if not look:
            return plain
        try:
            worked = desk.job(entry.name)
        except JobError as error:
            return replace(plain, state="unreadable", words="unreadable", first=f"Found {error.faults[0].found}.")
        seen = self._seen(worked)
        return replace(
            plain,
            state=seen.state,
            words=seen.words,
            size=seen.size,
            first=seen.first,
            picture=seen.picture,
            follow=_follow(desk, worked, seen.state),
            outside=seen.outside,
            is_example=is_example(worked.text),
        )

    def _seen(self, worked: Worked) -> _Seen:
        key = (worked.name, worked.read.digest if worked.read is not None else worked.version)
        with self._lock:
            known = self._kept.get(key)
        if known is None:
            known = _look(worked)
            with self._lock:
                self._kept[key] = known
                while len(self._kept) > MOST_KEPT:
                    self._kept.popitem(last=False)
        if known.state == "unchecked":  # it may have been checked since
            state, words = _standing(worked)
            return replace(known, state=state, words=words)
        return known


def _look(worked: Worked) -> _Seen:
    cases = cases_of(worked)
    faults = worked.faults
    first = ""
    if faults:
        wait = waits_of(worked)[0]
        first = f"{wait.place}{f' ({wait.where})' if wait.where else ''}: {wait.words}"
    if faults and any(f.code in {"file-toml", "file-encoding", "file-size"} for f in faults):
        return _Seen(state="unreadable", words="unreadable", first=first)
    state, words = ("faults", counted(len(faults), "fault")) if faults else ("unchecked", "not checked yet")
    if not cases:
        return _Seen(state=state, words=words, first=first)
    from storyrod.drawing import case_view

    return _Seen(
        state=state,
        words=words,
        size=sizes_of(tuple(c.built.case for c in cases), worked),
        first=first,
        picture=drawn(case_view(cases[0], look_of(worked), room=PICTURE), f"p-{worked.version}"),
        outside=_outside(worked),
    )


def _outside(worked: Worked) -> tuple[str, str, str] | None:
    if worked.plan is None or len(worked.plan.job.cases) != 1:
        return None
    case, lengths = worked.plan.job.cases[0], worked.plan.job.lengths
    width, height, depth = (lengths.n(mm) for mm in (case.width, case.height, case.depth))
    return width, height, depth


def _follow(desk: Desk, worked: Worked, state: str) -> Follow | None:
    """Return what is done next on a job; the bench's cards are asked for only where they are worked out."""
    at = f"/job/{quote(worked.name)}"
    if state == "unreadable":
        return Follow(words="Fix it as text", href=f"{at}/text")
    if state == "faults":
        return Follow(words="Fix the faults" if len(worked.known) != 1 else "Fix the fault", href=f"{at}/brief")
    if state == "unchecked":
        return Follow(words="Check it", href=f"{at}/overview")
    try:
        following = next_card(desk, worked)
    except JobError:  # the bench itself says why
        return Follow(words="Open the bench", href=f"{at}/bench")
    if following.card is None:
        return Follow(words="All is ticked: see what it took", href=f"{at}/costs")
    if following.is_begun:
        ticked = f"{following.done} of {following.whole} ticked"
        return Follow(words=f"Go on with {following.card.id} ({ticked})", href=following.href)
    if state == "cautions":
        return Follow(words="Read the cautions, then begin", href=f"{at}/overview")
    return Follow(words=f"Begin with {following.card.id}", href=following.href)


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
    """Return the outside of the first case in the job's unit, how many of it are made, and how many others are."""
    case, *others = cases
    more = sum(c.count for c in others)
    size = size_of(case, worked) + (f", {case.count} off" if case.count > 1 else "")
    return f"{size}, and {more} other{'s' * (more != 1)}" if more else size


def size_of(case: Case, worked: Worked) -> str:
    """Return the outside of one case in the job's unit."""
    lengths = worked.plan.job.lengths if worked.plan is not None else METRIC
    return lengths.told_seen_size(case.width, case.height, case.depth)


def when(changed: float) -> str:
    """Return when a file was changed, in words, as the clock on the wall has it."""
    then = dt.datetime.fromtimestamp(changed, dt.UTC).astimezone()
    days = (dt.datetime.now(dt.UTC).astimezone().date() - then.date()).days
    if days == 0:
        return f"today {then:%H:%M}"
    return f"yesterday {then:%H:%M}" if days == 1 else f"{then.day} {then:%B %Y}"
