"""What a job takes in minutes and money, what other methods would take, and when one overtakes another.

Minutes are of one person, floats; money is whole cents, so that every view of it adds up to the cent.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from storyrod.model.detail import Details
from storyrod.model.machining import WorkPlan
from storyrod.model.sheet import CuttingPlan
from storyrod.model.workshop import Money


class Stage(StrEnum):
    """The parts of the work, in the order in which they are told."""

    CUT = "cutting sheets"
    EDGE = "edging"
    MARK = "marking out"
    MACHINE = "machining joints"
    FIT = "fitting connectors"
    ASSEMBLE = "assembling"
    BACK = "back"
    DRAWERS = "drawer boxes"
    FITTINGS = "runners, hinges and fronts"


JOINERY = (Stage.MARK, Stage.MACHINE, Stage.FIT, Stage.ASSEMBLE)
"""What a joining method changes: machining and assembly of the carcass, without sawing, edging, drawers and fronts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Minutes:
    """Minutes with their spread: one time in ten it is less than `low`, one in ten more than `high`."""

    low: float
    usual: float
    high: float

    def times(self, count: float) -> Minutes:
        """Return the minutes of doing it `count` times: one maker is quick or slow at all of them alike."""
        return Minutes(low=self.low * count, usual=self.usual * count, high=self.high * count)

    def __str__(self) -> str:
        return f"{self.usual:.0f} min ({self.low:.0f} to {self.high:.0f})"


NO_TIME = Minutes(low=0.0, usual=0.0, high=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkItem:
    """Something done `count` times a copy: the ledger's own input, whatever stage it came from.

    Attributes:
        act: what is done. Items with one act share its time, so their uncertainty is the same uncertainty.
        count: how often in one copy (or metres, where the act is told per metre).
        copies: of the case in the batch; 1 for what is done once for the whole batch.
        each: minutes for doing it once.
        case: the case's code, or "" for what the whole batch shares.
        panel: id of the panel worked on, "" where it is none alone.
        set_up: id of the set-up it belongs to, "" for none.
        setting: whether it sets the tool up, which a batch shares, and is not done to a piece.
        hands_on: false for waiting, as in clamps, which takes no labour.
    """

    act: str
    stage: Stage
    each: Minutes
    count: float = 1.0
    copies: int = 1
    case: str = ""
    panel: str = ""
    joint: str = ""
    method: str = ""
    set_up: str = ""
    setting: bool = False
    hands_on: bool = True

    @property
    def times(self) -> float:
        """How often it is done in the batch."""
        return self.count * self.copies

    @property
    def usual_min(self) -> float:
        """Usual minutes of the batch."""
        return self.each.usual * self.times


@dataclass(frozen=True, slots=True, kw_only=True)
class MinutesOf:
    """The minutes of one stage, set-up, panel or case."""

    id: str
    name: str
    minutes: Minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """All that is to be done for a batch.

    Attributes:
        items: in the order of the stages.
        copies: how many of each case, as (code, count).
        source: where operations and set-ups come from, in words.
        jigs: names of the jigs that must be made first; `joint_jigs` how many of them serve carcass joints.
        jig_min: minutes to make them, once for all.
        jig_m2: board for them.
        tools: codes of the tools that are used.
        set_up_names: what each set-up is, by its id.
        panel_names: what each panel is called, by its id.
    """

    items: tuple[WorkItem, ...]
    copies: tuple[tuple[str, int], ...]
    source: str
    jigs: tuple[str, ...] = ()
    joint_jigs: int = 0
    jig_min: float = 0.0
    jig_m2: float = 0.0
    tools: tuple[str, ...] = ()
    set_up_names: tuple[tuple[str, str], ...] = ()
    panel_names: tuple[tuple[str, str], ...] = ()

    @property
    def carcasses(self) -> int:
        """How many carcasses the batch has."""
        return sum(n for _, n in self.copies)

    @property
    def set_ups(self) -> tuple[str, ...]:
        """Ids of the set-ups, each once, in order."""
        return tuple(dict.fromkeys(i.set_up for i in self.items if i.set_up))

    def of(self, *stages: Stage) -> tuple[WorkItem, ...]:
        """Return the items of some stages."""
        return tuple(i for i in self.items if i.stage in stages)


def total_minutes(items: Iterable[WorkItem], *, waiting: bool = False) -> Minutes:
    """Return the labour of some items, or with `waiting` the time spent in clamps.

    A maker quick at an act is quick at it every time, so one act's spread adds up plainly; different acts are taken
    as independent, so their spreads add up by the root of the sum of squares, upward and downward apart.
    """
    counts: dict[tuple[str, Minutes], float] = {}
    for item in items:
        if item.hands_on is not waiting:
            key = (item.act, item.each)
            counts[key] = counts.get(key, 0.0) + item.times
    usual = math.fsum(m.usual * n for (_, m), n in counts.items())
    down, up = _by_act(counts, lambda m: m.usual - m.low), _by_act(counts, lambda m: m.high - m.usual)
    return Minutes(low=max(usual - down, 0.0), usual=usual, high=usual + up)


def _by_act(counts: dict[tuple[str, Minutes], float], reach: Callable[[Minutes], float]) -> float:
    by_act: dict[str, float] = {}
    for (act, minutes), n in counts.items():
        by_act[act] = by_act.get(act, 0.0) + reach(minutes) * n
    return math.hypot(*by_act.values())


class LearningModel(StrEnum):
    """Which of the two learning curves is meant: they differ."""

    UNIT = "unit (Crawford)"
    AVERAGE = "cumulative average (Wright)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Learning:
    """A maker new to a method: each doubling of carcasses made takes `rate` of the minutes before.

    Attributes:
        rate: 0.8 means that the twentieth carcass takes 80 % of what the tenth took.
        done: carcasses made by this method already.
        standard_at: the carcass at which the workshop's standard times are reached; no quicker after it.
    """

    rate: float
    done: int = 0
    standard_at: int = 20
    model: LearningModel = LearningModel.UNIT


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """The figures money is reckoned with; the workshop's own unless a what-if changes them.

    Attributes:
        allowance_share: added to all labour for sweeping, fetching and interruptions.
        spare_share: of connectors, bought beyond what the joints take.
        scrap_share: of a tool's price that it still fetches after `write_off_years`.
    """

    rate_cents_per_h: int = 0
    overhead_share: float = 0.0
    margin_share: float = 0.0
    carcasses_per_year: float = 0.0
    interest_per_year: float = 0.0
    write_off_years: float = Money().write_off_years
    currency: str = ""
    allowance_share: float = 0.0
    spare_share: float = 0.05
    scrap_share: float = 0.0
    learning: Learning | None = None


class CostKind(StrEnum):
    """What money goes into; the first seven are the maker's cost, then what is added for the price."""

    SHEETS = "sheets"
    EDGING = "edging"
    CONNECTORS = "connectors"
    HARDWARE = "hardware"
    GLUE = "glue"
    LABOUR = "labour"
    TOOLS = "tools and jigs written off"
    OVERHEAD = "overhead"
    MARGIN = "margin"


@dataclass(frozen=True, slots=True, kw_only=True)
class CostLine:
    """One line of the cost sheet.

    Attributes:
        quantity, unit: how much of it.
        basis: how the money was reckoned, in words.
        by_case: its cents for each case (all copies of it), in the account's order; they add up to `cents`.
    """

    kind: CostKind
    what: str
    quantity: float
    unit: str
    basis: str
    cents: int
    by_case: tuple[int, ...]

    @property
    def unit_word(self) -> str:
        """The unit as it is said with the quantity: `1 carcass`, `2 carcasses`, `1 piece`."""
        if self.quantity != 1:
            return self.unit
        return self.unit.removesuffix("es") if self.unit.endswith("sses") else self.unit.removesuffix("s")


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBuy:
    """What must be bought, in whole packs: `need` with spare, less what lies in the drawer."""

    item: str
    need: int
    on_hand: int
    pack: int
    packs: int
    cents: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseAccount:
    """One case of the batch: `cost_cents` and `price_cents` are of all its copies, `each_price_cents` of one."""

    case: str
    name: str
    count: int
    minutes: Minutes
    alone_min: float
    cost_cents: int
    each_price_cents: int
    price_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchFigure:
    """Minutes a carcass when `size` times the job is made in one go: set-ups are shared, learning counts."""

    size: int
    carcasses: int
    setting_min: float
    work_min: float

    @property
    def each_min(self) -> float:
        """Minutes a carcass."""
        return (self.setting_min + self.work_min) / self.carcasses


def joined_words(words: Sequence[str]) -> str:
    """Return words as a list in a sentence: `a, b and c`."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


class UnpricedKind(StrEnum):
    """Of what kind something is that has no price."""

    SHEETS = "sheets"
    EDGING = "edging"
    ITEM = "item"
    LABOUR = "labour"
    TOOL = "tool"


@dataclass(frozen=True, slots=True, kw_only=True)
class Unpriced:
    """Something that the job takes and that no price is known of, so that no sum holds it.

    Attributes:
        code: of the board, edging or tool, or the item's name in the workshop's prices; empty for labour.
        amount: how much of it, in `unit`; None where it is not known either.
    """

    kind: UnpricedKind
    name: str
    code: str = ""
    amount: float | None = None
    unit: str = ""

    @property
    def words(self) -> str:
        """How much of what: `2 sheets of birch plywood 18`, `585 minutes of work`."""
        if self.kind is UnpricedKind.LABOUR:
            return f"{self.amount or 0:.0f} minutes of work"
        if self.amount is None:
            return self.name
        number = f"{self.amount:.0f}" if abs(self.amount - round(self.amount)) < 1e-9 else f"{self.amount:.1f}"
        unit = self.unit[:-1] if number == "1" and self.unit.endswith("s") else self.unit
        return f"{number} {unit} of {self.name}" if unit else f"{number} \u00d7 {self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What a job takes, and what it is sold for.

    Attributes:
        lines: everything the maker pays or forgoes, margin last; each adds up over the cases.
        cases: in the job's order.
        minutes: labour of the whole batch, allowance and learning counted.
        clamp_min: longest waiting in clamps, which takes no labour.
        outlay_cents: tools not owned yet and jigs to be made, paid once.
        missing: what has no price, so that the sums leave it out.
    """

    terms: Terms
    work: Work
    lines: tuple[CostLine, ...]
    cases: tuple[CaseAccount, ...]
    minutes: Minutes
    clamp_min: float
    by_stage: tuple[MinutesOf, ...]
    by_set_up: tuple[MinutesOf, ...]
    by_panel: tuple[MinutesOf, ...]
    batches: tuple[BatchFigure, ...]
    to_buy: tuple[ToBuy, ...]
    outlay_cents: int
    outlay: tuple[tuple[str, int], ...] = ()
    missing: tuple[Unpriced, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def unpriced(self) -> tuple[str, ...]:
        """The names of what is bought and has no price."""
        return tuple(dict.fromkeys(m.name for m in self.missing if m.kind is not UnpricedKind.LABOUR))

    @property
    def at_least(self) -> bool:
        """Whether the sums leave something out, so that they are the least that it can come to."""
        return bool(self.missing)

    @property
    def missing_words(self) -> str:
        """The sentence that names what the sums leave out; empty where they hold everything."""
        if not self.missing:
            return ""
        return f"No price is set for {joined_words([m.words for m in self.missing])}. These sums leave them out."

    @property
    def not_sold(self) -> tuple[Unpriced, ...]:
        """What a customer would get for nothing: boards, fittings and hours without a price (tools are the maker's)."""
        return tuple(m for m in self.missing if m.kind is not UnpricedKind.TOOL)

    @property
    def cost_cents(self) -> int:
        """The maker's cost of the batch."""
        return sum(line.cents for line in self.lines if line.kind is not CostKind.MARGIN)

    @property
    def price_cents(self) -> int:
        """What the customer pays for the batch."""
        return sum(line.cents for line in self.lines)

    @property
    def cash_cents(self) -> int:
        """What is paid out for the job: materials, without labour, writing off and overhead."""
        return sum(line.cents for line in self.lines if line.kind in MATERIALS)

    def cents_of(self, kind: CostKind) -> int:
        """Return the cents of one kind."""
        return sum(line.cents for line in self.lines if line.kind is kind)


MATERIALS = (CostKind.SHEETS, CostKind.EDGING, CostKind.CONNECTORS, CostKind.HARDWARE, CostKind.GLUE)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOut:
    """What the other stages say of a job, as far as the ledger reads it; what is not worked out is None."""

    details: Details
    run: WorkPlan | None = None
    sheets: CuttingPlan | None = None


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """One stop-watch span: `minutes` in all for doing `act` `count` times; `id` names it in the log."""

    act: str
    minutes: float
    count: float = 1.0
    method: str = ""
    id: str = ""
    keep: bool = False

    @property
    def each_min(self) -> float:
        """Minutes for doing it once."""
        return self.minutes / self.count


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A timing that looks unlike the others, and why; it stays in the log and is told."""

    timing: Timing
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LearnedTime:
    """What the bench has taught of one act.

    Attributes:
        before: the standard time it started from.
        now: the standard time with the timings weighed in.
        used: how many timings were used; `set_aside` those that look like something else.
        mean_low, mean_high: where the long-run mean lies, 9 times in 10; None with fewer than two timings.
        more_needed: further timings until the mean is known to +-10 %; None where that can not be told yet.
    """

    act: str
    method: str
    before: Minutes
    now: Minutes
    used: int
    set_aside: tuple[SetAside, ...]
    mean_low: float | None
    mean_high: float | None
    more_needed: int | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedCurve:
    """A learning curve fitted to timings: minutes of the nth are `first_min * n ** log2(rate)` (unit model)."""

    rate: float
    rate_low: float | None
    rate_high: float | None
    first_min: float
    points: int
    text: str = field(default="")


def share_out(cents: int, weights: Iterable[float]) -> tuple[int, ...]:
    """Return whole cents that add up to `cents`, as near to `weights` as can be (largest remainders first).

    Equal remainders go to the earlier one. Where all weights are 0 the shares are equal.
    """
    exact = [Fraction(w) for w in weights]
    if not exact:
        return ()
    if any(w < 0 for w in exact):
        raise ValueError("shares can not be negative")
    whole = sum(exact, Fraction(0))
    if whole == 0:
        exact, whole = [Fraction(1)] * len(exact), Fraction(len(exact))
    sign = -1 if cents < 0 else 1
    wanted = [abs(cents) * w / whole for w in exact]
    shares = [int(w) for w in wanted]
    missing = abs(cents) - sum(shares)
    order = sorted(range(len(exact)), key=lambda i: (-(wanted[i] - shares[i]), i))
    for i in order[:missing]:
        shares[i] += 1
    return tuple(sign * s for s in shares)


def whole_cents(amount: float | Fraction) -> int:
    """Return an amount in whole cents, halves upward."""
    return math.floor(Fraction(amount) + Fraction(1, 2))


def show_money(cents: float, currency: str = "") -> str:
    """Return an amount as it is written: `1,234.50 EUR`; the currency is a label."""
    whole = whole_cents(Fraction(cents))
    sign = "-" if whole < 0 else ""
    units, rest = divmod(abs(whole), 100)
    return f"{sign}{units:,}.{rest:02d}{f' {currency}' if currency else ''}"


def about(count: float) -> str:
    """Return a number of carcasses, rounded up to two figures; nobody plans beyond a hundred thousand."""
    if count > 99_999:
        return "more than 100,000"
    whole = math.ceil(count - 1e-9)
    if whole >= 100:
        step = 10 ** (len(str(whole)) - 2)
        whole = -(-whole // step) * step
    return f"{whole:,}"
