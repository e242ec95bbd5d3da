"""Sizes near a job's own at which something comes in, looked for behind the page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from starlette.requests import Request

from storyrod.adapters.files import JobFile
from storyrod.adapters.study.edges import STRIDE, STRIDES, Edge, EdgeSearch, finest_of
from storyrod.adapters.web._errands import Errand, errands_of
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError

MOST: Final = 150
"""So many sizes the page looks at: all of one or two cases."""


class EdgesNear(Errand):
    """Looks for the edges near a job's sizes, a size at a time."""

    def __init__(self, job: JobFile) -> None:
        super().__init__()
        self.job = job
        self.search = EdgeSearch(job, MOST)

    def work(self) -> Iterator[None]:
        """Look at one size after the other."""
        try:
            yield from self.search.work()
        except JobError as error:
            self.trouble = " ".join(str(f) for f in self.job.located(error).faults)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """The edges that save, or those that cost, in words."""

    head: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgesShown:
    """What the page shows of the sizes near."""

    working: bool
    trouble: str
    looked: int
    in_all: int
    whole: bool
    at_least: bool
    reach: str
    groups: tuple[Group, ...]


def edges_near(request: Request, worked: Worked) -> EdgesShown:
    """Return the edges near a job's sizes, as far as they are found; the first time they are asked for, it begins."""
    assert worked.read is not None  # noqa: S101  # asked only of jobs that were read
    assert worked.plan is not None  # noqa: S101
    job = replace(worked.read, workshop=worked.plan.workshop)  # with the rack, where it is cut from
    key = ("edges", worked.name, job.digest, worked.plan.version)
    errand = errands_of(request).ask(key, EdgesNear, lambda: EdgesNear(job))
    found = errand.search
    return EdgesShown(
        working=not errand.is_done,
        trouble=errand.trouble,
        looked=found.looked,
        in_all=max(found.in_all, found.looked),
        whole=found.whole,
        at_least=found.at_least,
        reach=job.job.lengths.told(STRIDE * STRIDES * finest_of(job.job)),
        groups=_groups([e for e in found.edges if not e.is_trifle]),
    )


def _groups(edges: Sequence[Edge]) -> tuple[Group, ...]:
    saving = sorted((e for e in edges if e.saves_cents > 0), key=lambda e: -e.saves_cents)
    others = sorted((e for e in edges if e.saves_cents <= 0), key=lambda e: e.saves_cents)
    told = (("What saves", saving), ("What costs more", others))
    return tuple(Group(head=head, words=tuple(e.words for e in some)) for head, some in told if some)
