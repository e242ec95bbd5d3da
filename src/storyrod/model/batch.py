"""A batch: several jobs made together, each with its own file; what they share, and who pays what of it.

Money is whole cents, minutes are of one person. A job's *mark* stands before the codes of its cases, `2-A`, so that no
panel of one job is called like a panel of another.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.account import CostKind
from storyrod.model.buying import ToBuy
from storyrod.model.job import Job
from storyrod.model.written import Text, Told

MOST_JOBS: Final = 40
"""More are too many for one bench: more than that is a slip of the pen."""


class PaidBy(StrEnum):
    """By what the jobs share what their sheets cost together."""

    AREA = "area"
    ALONE = "cost alone"


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchEntry:
    """One job of the batch."""

    job: Annotated[
        str, Text(1, 300), Told("Name of the job file, as seen from the batch file.", example="score-shelves.toml")
    ]
    mark: Annotated[
        str,
        Text(0, 4),
        Told(
            "Letters or figures that stand before the marks of its parts while it is made with others, as in `2-A1`; "
            "its number in the list unless set."
        ),
    ] = ""
    own_sheets: Annotated[
        bool, Told("Whether its parts are cut from sheets of their own, which no other job shares.")
    ] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchFile:
    """A batch file: which jobs are made together, and how they pay."""

    title: Annotated[str, Text(0, 100), Told("What the batch is called; its file's name unless set.")] = ""
    jobs: Annotated[tuple[BatchEntry, ...], Told("The jobs, each in a `[[jobs]]` table; two or more.")] = ()
    workshop: Annotated[
        str,
        Text(0, 300),
        Told("Name of the workshop file in which all are made; the one that the jobs name unless set."),
    ] = ""
    paid_by: Annotated[
        PaidBy,
        Told(
            "How the jobs share what sheets cost: by the `area` of their parts, offcuts and waste in the same measure; "
            "or by what each would have paid alone (`cost alone`), so that none pays more than that."
        ),
    ] = PaidBy.AREA


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One job of a batch, as its file has it.

    Attributes:
        mark: stands before the codes of its cases.
        name: its file's name without ending.
        own_sheets: whether it shares no sheet.
    """

    mark: str
    name: str
    job: Job
    own_sheets: bool = False

    @property
    def marked(self) -> Job:
        """The job with its mark before the code of every case."""
        return replace(
            self.job,
            cases=tuple(replace(c, code=f"{self.mark}-{c.code}") for c in self.job.cases),
            overrides=tuple(replace(o, case=f"{self.mark}-{o.case}") for o in self.job.overrides),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchBoard:
    """One kind of board in a batch: who cuts it, on whose sheets, and who pays what.

    Attributes:
        name: what the jobs call it.
        marks: the jobs that have parts of it, in their order.
        codes: for each of these the code by which the batch lays its parts out: the same code, the same sheets.
        sheets, cents: bought for all of them together; cents None where a size has no price.
        alone_sheets, alone_cents: for each of these, if it were cut by itself, one job after another.
        shares: what each pays of `cents`; they add up to it.
        alone_known: whether it can be cut job by job at all.
    """

    name: str
    marks: tuple[str, ...]
    codes: tuple[str, ...]
    sheets: int
    cents: int | None
    alone_sheets: tuple[int, ...]
    alone_cents: tuple[int | None, ...]
    shares: tuple[int | None, ...]
    alone_known: bool = True

    @property
    def is_shared(self) -> bool:
        """Whether parts of two jobs are cut from the same sheets."""
        return len(set(self.codes)) < len(self.codes)


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedCost:
    """One thing that is bought and used up, and what each job pays of it; `by_job` adds up to `cents`."""

    kind: CostKind
    what: str
    cents: int
    by_job: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """Where a bought thing goes: so much of it, all copies, in one place of one case.

    Attributes:
        case: the case's code in the batch.
        about: the joint's or panel's id, or "".
        words: the place, as the papers of its job name it.
    """

    case: str
    about: str
    words: str
    amount: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoughtTogether:
    """One line of the buying list of a batch, with all that it is for."""

    line: ToBuy
    supplier: str
    traces: tuple[Trace, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchRun:
    """Minutes at the bench from the saw to the last set-up, together and one job after the other.

    Attributes:
        alone_min: of each job by itself, in their order.
        changes_min, alone_changes_min: of that changing tools and settings, with trial joints.
        set_ups, alone_set_ups: how many set-ups cut.
        jigs, alone_jigs: how many jigs are to be made.
        bound_min: no order of the merged set-ups changes in less.
        is_best: whether that is proven of the order found.
    """

    minutes: float
    alone_min: tuple[float, ...]
    changes_min: float
    alone_changes_min: float
    set_ups: int
    alone_set_ups: int
    jigs: int
    alone_jigs: int
    bound_min: float
    is_best: bool

    @property
    def saves_min(self) -> float:
        """Minutes saved against one job after the other; below 0 where that would be quicker."""
        return sum(self.alone_min) - self.minutes
