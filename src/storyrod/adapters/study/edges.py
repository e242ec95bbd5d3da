"""Sizes near those of a job at which a sheet, a runner length, a hinge, a connector, a jig or a second person comes in.

From each size of each case it is looked at some sizes on either side, and between two neighbours that differ the edge
is found by halving, down to the finest step. Each size looked at is planned whole, so that its price is the plan's own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.adapters.files import JobFile
from storyrod.adapters.files.studying import resized
from storyrod.adapters.study._rows import Shared
from storyrod.faults import JobError, raise_if_any
from storyrod.measure.length import MM_PER_INCH
from storyrod.model.account import show_money
from storyrod.model.job import Job
from storyrod.telling.turns import Counts, changes, counts_of, only_connectors

FINEST_MM: Final = 0.5
"""The finest step in a metric job; in an inch job it is a thirty-second of an inch."""

STRIDE: Final = 20
"""So many finest steps lie between the sizes that are looked at first: 10 mm, or five eighths of an inch."""

STRIDES: Final = 6
"""So many strides are looked at on either side."""

MOST_PLANS: Final = 400
"""No more sizes are looked at in all, however many cases a job has."""

MOST_PARTS: Final = 3000
"""No more parts are planned in all, each size counting all parts of its job: a room takes seconds for each size."""

TRIFLE_SHARE: Final = 0.005
"""A step in the price below this share of it is a trifle."""

_TURNS: Final = {"width": ("narrower", "wider"), "height": ("lower", "higher"), "depth": ("shallower", "deeper")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """A size near the job's own from which on something is different.

    Attributes:
        case: its code, and `size` which of its sizes.
        mm: the first size at which it is so, and `own` the job's.
        changes: what is then more or fewer than just before it, in words.
        saves_cents: what that size costs the customer less than the job's own; negative where it costs more.
        is_trifle: whether only a few connectors come in or fall away, and hardly any money with them.
        words: all of it in a sentence.
    """

    case: str
    size: str
    mm: float
    own: float
    changes: tuple[str, ...]
    saves_cents: int
    is_trifle: bool
    words: str


def finest_of(job: Job) -> float:
    """Return the finest step of a job's sizes (mm)."""
    return MM_PER_INCH / 32 if job.lengths.is_inch else FINEST_MM


@dataclass(frozen=True, slots=True)
class _Seen:
    """What one size comes to; no counts where it cannot be made."""

    counts: Counts | None
    cents: int = 0


@dataclass(frozen=True, slots=True)
class _Line:
    """One size of one case: what is seen at so many finest steps from the job's own."""

    case: int
    size: str
    own: float
    step: float
    seen: dict[int, _Seen]


class EdgeSearch:
    """The edges near a job's sizes; `work` yields after each size that it has looked at, and keeps what it found.

    Attributes:
        edges: found so far, by case and size, the nearest first.
        looked: how many sizes were planned, and `in_all` about how many there will be.
        whole: whether every size of every case was looked at; else `most` or `MOST_PARTS` ended it.
        at_least: whether something of the job has no price, so that all sums leave it out.
    """

    def __init__(self, job: JobFile, most: int = MOST_PLANS) -> None:
        self._job = job
        self._shared = Shared(job.workshop)
        self._most = most
        self.at_least = False
        self.edges: list[Edge] = []
        self.looked = 0
        self.whole = True
        self.in_all = min(len(job.job.cases) * len(_TURNS) * (2 * STRIDES + 4), most)

    def work(self) -> Iterator[None]:
        """Look at sizes.

        Raises:
            JobError: the job itself cannot be made.
        """
        step = finest_of(self._job.job)
        base = self._base()
        for n, case in enumerate(self._job.job.cases):
            for size in _TURNS:
                line = _Line(n, size, getattr(case, size), step, {0: base})
                for way in (-1, 1):
                    yield from self._along(line, way)
                self.edges += sorted(self._edges_of(line), key=lambda e: abs(e.mm - e.own))

    def _base(self) -> _Seen:
        plan = self._shared.plan(self._job.job)
        raise_if_any(plan.faults)
        plan = self._shared.laid_out(plan)
        self.at_least = plan.account.at_least
        self._most = min(self._most, MOST_PARTS // max(len(plan.parts), 1))
        self.in_all = min(self.in_all, self._most)
        return _Seen(counts_of(plan), plan.account.price_cents)

    def _along(self, line: _Line, way: int) -> Iterator[None]:
        """Look at strides one way from the job's own size, and halve where two neighbours differ."""
        before = 0
        for stride in range(1, STRIDES + 1):
            at = way * stride * STRIDE
            if line.own + at * line.step <= 0:
                return
            yield from self._look(line, at)
            if at not in line.seen:
                return
            yield from self._halve(line, before, at)
            if line.seen[at].counts is None:
                return
            before = at

    def _halve(self, line: _Line, one: int, other: int) -> Iterator[None]:
        if abs(one - other) <= 1 or one not in line.seen or other not in line.seen:
            return
        if line.seen[one].counts == line.seen[other].counts:
            return
        middle = (one + other) // 2
        yield from self._look(line, middle)
        yield from self._halve(line, one, middle)
        yield from self._halve(line, middle, other)

    def _look(self, line: _Line, at: int) -> Iterator[None]:
        if self.looked >= self._most:
            self.whole = False
            return
        self.looked += 1
        line.seen[at] = self._seen(line, at)
        yield

    def _seen(self, line: _Line, at: int) -> _Seen:
        try:
            plan = self._shared.plan(resized(self._job, line.case, line.size, line.own + at * line.step))
            raise_if_any(plan.faults)
            plan = self._shared.laid_out(plan)
            return _Seen(counts_of(plan), plan.account.price_cents)
        except JobError:
            return _Seen(None)

    def _edges_of(self, line: _Line) -> Iterator[Edge]:
        """Yield the edges of one size: neighbours a finest step apart that differ."""
        for at, seen in line.seen.items():
            nearer = line.seen.get(at - (1 if at > 0 else -1)) if at else None
            if nearer is None or nearer.counts is None or seen.counts is None or nearer.counts == seen.counts:
                continue
            yield self._edge(line, at, nearer.counts, seen.counts, is_small=_is_small(seen.cents, nearer.cents))

    def _edge(self, line: _Line, at: int, before: Counts, after: Counts, *, is_small: bool) -> Edge:
        changed, saves = changes(before, after), line.seen[0].cents - line.seen[at].cents
        lengths, currency = self._job.job.lengths, self._job.job.currency
        mm, case = line.own + at * line.step, self._job.job.cases[line.case]
        turn = _TURNS[line.size][at > 0]
        money = show_money(abs(saves), currency)
        costs = f"saves {money}" if saves > 0 else f"costs {money} more" if saves < 0 else "costs the same"
        far = f"{case.code} {lengths.told(abs(at) * line.step)} {turn} ({line.size} {lengths.told(mm)})"
        return Edge(
            case=case.code,
            size=line.size,
            mm=mm,
            own=line.own,
            changes=changed,
            saves_cents=saves,
            is_trifle=is_small and only_connectors(before, after),
            words=f"{far} {costs}. From there on: {', '.join(changed)}.",
        )


def _is_small(one: int, other: int) -> bool:
    return abs(one - other) < TRIFLE_SHARE * max(one, other)


def edges_of(job: JobFile, tell: Callable[[int, int], None] = lambda _looked, _in_all: None) -> EdgeSearch:
    """Return the edges near a job's sizes, all looked for.

    Raises:
        JobError: the job itself cannot be made.
    """
    search = EdgeSearch(job)
    for _ in search.work():
        tell(search.looked, max(search.in_all, search.looked))
    return search
