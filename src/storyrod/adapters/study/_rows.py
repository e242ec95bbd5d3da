"""From variants to rows: each by the real plan, sharing with those before it what comes of the same inputs.

What is shared never changes a figure: a stage is taken over where all that it reads is equal, a layout where parts,
stock and saw are. So rows are the same in whatever order, and by however many workers, they are worked out.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.adapters.files.studying import Variants, as_written
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.job import Job
from storyrod.model.sheet import CutRules, CuttingPlan, Part, StockSheet
from storyrod.model.study import Cell, Column, Kind, Row
from storyrod.model.workshop import Workshop
from storyrod.planning import Plan
from storyrod.sheets import Searched
from storyrod.telling.figures import columns_of, figures_of, not_kept, rank_of, too_many_sheets

_NOT_KEPT: Final = Column(name="not kept", kind=Kind.TEXT)
_FAULT: Final = Column(name="fault", kind=Kind.TEXT)

LAYOUTS: Final = 200
"""So many layouts are kept for parts that come again: some hundred kilobytes each for a room."""

type _Cut = tuple[tuple[Part, ...], tuple[StockSheet, ...], CutRules]


def columns_in(variants: Variants) -> tuple[Column, ...]:
    """Return the columns of a study: what varies, what is asked, what is not kept, and the fault."""
    varied = tuple(Column(name=v.field, kind=Kind.NUMBER if v.is_number else Kind.TEXT) for v in variants.varied)
    return (*varied, *columns_of(variants.study.ask), _NOT_KEPT, _FAULT)


class Shared:
    """Plans of jobs that are much alike, made one after the other: what comes of the same inputs is taken over."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop
        self._before: Plan | None = None
        self._layouts: OrderedDict[_Cut, CuttingPlan] = OrderedDict()

        self._searched = Searched()

    def plan(self, job: Job) -> Plan:
        """Return the plan of a job; its sheets are laid out by `laid_out`."""
        self._before = Plan(job, self.workshop, self._before)
        self._before.searched = self._searched
        return self._before

    def laid_out(self, plan: Plan) -> Plan:
        """Return the plan with its sheets as far as money and counts go, which is all that is asked of them here.

        Raises:
            JobError: as `Plan.sheets`.
        """
        cut = (plan.parts, plan.stock, plan.cut_rules)
        known = self._layouts.get(cut)
        if known is None:
            known = self._layouts[cut] = plan.sheets_counted
            if len(self._layouts) > LAYOUTS:
                self._layouts.popitem(last=False)
            return plan.with_sheets(known)
        self._layouts.move_to_end(cut)
        return plan.with_sheets(known)

    @property
    def layouts(self) -> int:
        """How many layouts were searched for and are kept."""
        return len(self._layouts)


class Sharing:
    """The variants of one study worked out one after the other."""

    def __init__(self, variants: Variants, say: Callable[[Sequence[Fault]], str] | None = None) -> None:
        self.variants = variants
        self._say = say or _words
        self.shared = Shared(variants.workshop)

    def row(self, number: int) -> Row:
        """Return the row of a variant; one that cannot be built is a row with its faults."""
        varied = tuple(_written(v) for v in self.variants.values(number))
        study = self.variants.study
        empty = (None,) * len(columns_of(study.ask))
        try:
            plan = self.shared.plan(self.variants.job(number))
            raise_if_any(plan.faults)
            beyond = too_many_sheets(plan, study.only)
            if beyond:
                return Row(number=number, cells=(*varied, *empty, beyond, ""), rank=None)
            plan = self.shared.laid_out(plan)
            figures, against = figures_of(plan, study.ask), not_kept(plan, study.only)
            rank = None if against else rank_of(plan, study.least)
            return Row(number=number, cells=(*varied, *figures, against, ""), rank=rank)
        except JobError as error:
            return Row(number=number, cells=(*varied, *empty, "", self._say(error.faults)), rank=None)


def _written(value: object) -> Cell:
    if value is None or (isinstance(value, str | int | float) and not isinstance(value, bool)):
        return value
    return as_written(value)


def _words(faults: Sequence[Fault]) -> str:
    return "; ".join(dict.fromkeys(f"{f.field}: {f.found}; allowed: {f.allowed}" for f in faults))
