"""A job by one method and by another: what each costs, takes and asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from storyrod.model.account import Account, Terms
from storyrod.model.detail import Details
from storyrod.model.hung import Hanging
from storyrod.model.machining import WorkPlan
from storyrod.model.sheet import CuttingPlan
from storyrod.model.wall import WallFixing
from storyrod.model.work import Minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOut:
    """What the other stages say of a job, as far as the ledger reads it; what is not worked out is None."""

    details: Details
    run: WorkPlan | None = None
    sheets: CuttingPlan | None = None
    walls: Mapping[str, WallFixing | Hanging] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """The job by one method, as far as a comparison needs it; or why it does not fit.

    Attributes:
        method: code; `name` what a maker calls it.
        own: whether it is how the job has it.
        why_not: reasons why it does not fit; empty where it does.
        keeps: joints left to the job's own method, and why.
        account: what it takes, None where it does not fit.
        connectors: stations of the whole job; `parts` single parts to be fitted.
        step_mm: usual step at a joint (+-).
        not_owned: tools to be bought first.
    """

    method: str
    name: str
    own: bool = False
    why_not: tuple[str, ...] = ()
    keeps: tuple[str, ...] = ()
    account: Account | None = None
    connectors: int = 0
    parts: int = 0
    step_mm: float | None = None
    glue: bool = False
    clamps: bool = False
    undone: bool = False
    shows: str = ""
    strength_n: float | None = None
    strength_source: str = ""
    not_owned: tuple[str, ...] = ()

    @property
    def fits(self) -> bool:
        """Whether the job can be made by it."""
        return self.account is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class MethodRow:
    """One method side by side with the others; figures are for one carcass of the job's mix, None where none.

    Attributes:
        minutes: machining and assembly of the carcass, set-ups shared over the batch.
        each_cents: the maker's cost of a carcass without writing off: what each further one costs.
        cost_cents: the same with tools and jigs written off.
        outlay_cents: tools to be bought and jigs to be made first.
    """

    candidate: Candidate
    minutes: Minutes
    all_minutes: Minutes
    each_cents: float
    cost_cents: float
    outlay_cents: int
    set_ups: int
    jigs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BreakEven:
    """When the dearer of two methods (by outlay) has paid for itself.

    Attributes:
        cheap, dear: codes of the methods, by what must be laid out first.
        outlay_cents: how much more the dear one lays out.
        saves_cents, saves_min: what it saves a carcass, by usual figures; negative where it costs more.
        saves_low_cents, saves_high_cents: the same one time in ten less, one in ten more.
        at: carcasses until it has paid, by usual figures; None for never.
        low, high: the same one time in ten sooner, one in ten later; None for never.
        never_share: how often it never pays, when the times are drawn from their spread.
        per_year: carcasses a year from which it pays within the years of writing off, interest counted; None never.
        rate_cents_per_h: rate from which it pays at the workshop's own volume; None where no rate does.
        at_rates: for some hourly rates (cents), carcasses a year from which it pays; None never.
        text: the answer in words.
    """

    cheap: str
    dear: str
    outlay_cents: int
    saves_cents: float
    saves_min: float
    saves_low_cents: float
    saves_high_cents: float
    at: float | None
    low: float | None
    high: float | None
    never_share: float
    per_year: float | None
    rate_cents_per_h: float | None
    at_rates: tuple[tuple[int, float | None], ...]
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """The same job by every method that fits, cheapest first, and those that do not with the reason."""

    title: str
    terms: Terms
    rows: tuple[MethodRow, ...]
    misfits: tuple[Candidate, ...]
    break_evens: tuple[BreakEven, ...]
    notes: tuple[str, ...] = ()

    @property
    def own(self) -> MethodRow | None:
        """The row of the job as it is planned, or None."""
        return next((r for r in self.rows if r.candidate.own), None)

    def row(self, method: str) -> MethodRow | None:
        """Return the row of a method, or None where it does not fit."""
        return next((r for r in self.rows if r.candidate.method == method), None)

    def between(self, a: str, b: str) -> BreakEven | None:
        """Return the break-even of two methods, in either order."""
        return next((x for x in self.break_evens if {x.cheap, x.dear} == {a, b}), None)
