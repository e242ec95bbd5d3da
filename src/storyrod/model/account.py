"""What a job takes in minutes and money, what other methods would take, and when one overtakes another.

Minutes are of one person, floats; money is whole cents, so that every view of it adds up to the cent.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from storyrod.model.buying import ToBuy, bought_cents
from storyrod.model.learning import Learning
from storyrod.model.work import Minutes, MinutesOf, Stage, Work, work_words
from storyrod.model.workshop import Money

JOINERY = (Stage.MARK, Stage.MACHINE, Stage.FIT, Stage.ASSEMBLE)
"""What a joining method changes: machining and assembly of the carcass, without sawing, edging, drawers and fronts."""


NO_TIME = Minutes(low=0.0, usual=0.0, high=0.0)


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
    """What money goes into: the maker's cost, and last what is added for the price."""

    SHEETS = "sheets"
    EDGING = "edging"
    CONNECTORS = "connectors"
    HARDWARE = "hardware"
    GLUE = "glue"
    FINISH = "finish"
    LABOUR = "labour"
    TOOLS = "tools and jigs written off"
    OVERHEAD = "overhead"
    ROUNDING = "rounding"
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
        field: where its price is written: in the job file for boards and edgings, else in the workshop file.
        amount: how much of it, in `unit`; None where it is not known either.
    """

    kind: UnpricedKind
    name: str
    code: str = ""
    field: str = ""
    amount: float | None = None
    unit: str = ""

    @property
    def is_of_job(self) -> bool:
        """Whether its price stands in the job file; else it is the workshop's."""
        return self.field.split(".")[0] in {"boards", "edgings", "finish"}

    @property
    def words(self) -> str:
        """How much of what: `2 sheets of birch plywood 18`, `9 hours 45 minutes of work`."""
        if self.kind is UnpricedKind.LABOUR:
            return f"{work_words(self.amount or 0)} of work"
        if self.amount is None:
            return self.name
        number = f"{self.amount:,.0f}" if abs(self.amount - round(self.amount)) < 1e-9 else f"{self.amount:.1f}"
        unit = self.unit[:-1] if number == "1" and self.unit.endswith("s") else self.unit
        return f"{number} {unit} of {self.name}" if unit else f"{number} \u00d7 {self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class NoisySpell:
    """How long a tool cuts in the whole batch (minutes), and how loud it is at the ear (dB(A))."""

    tool: str
    level_db: float
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DailyNoise:
    """What the cutting of a batch comes to at the ear, done in one day (dB(A) over eight hours).

    Attributes:
        spells: the loudest tool first.
        not_known: names of the tools that cut too, and whose level the workshop does not state.
    """

    spells: tuple[NoisySpell, ...]
    level_db: float
    not_known: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What a job takes, and what it is sold for.

    Attributes:
        lines: everything the maker pays or forgoes, margin last; each adds up over the cases.
        cases: in the job's order.
        minutes: labour of the whole batch, allowance and learning counted.
        clamp_min: longest waiting in clamps, which takes no labour.
        outlay_cents: tools not owned yet and jigs to be made, paid once.
        to_buy: everything that is bought, for this job and to be kept.
        missing: what has no price, so that the sums leave it out.
        noise: what the cutting comes to at the ear; None where no tool's level is stated.
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
    noise: DailyNoise | None = None

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

    def money_words(self, cents: int, *, of: Iterable[UnpricedKind] | None = None) -> str:
        """Return a sum as it stands in a headline: one that leaves something of these kinds out is `at least`."""
        kinds = frozenset(UnpricedKind) if of is None else frozenset(of)
        least = "at least " if any(m.kind in kinds for m in self.missing) else ""
        return f"{least}{show_money(cents, self.terms.currency)}"

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
        """What of all that is bought goes into this job: materials, without labour, writing off and overhead."""
        return sum(line.cents for line in self.lines if line.kind in MATERIALS)

    @property
    def pay_cents(self) -> int:
        """What is paid in the shop for the materials: whole packs and sheets, less what is here."""
        return bought_cents(self.to_buy, kept=False)

    @property
    def kept_cents(self) -> int:
        """What is paid once for drills, tools and board for jigs, which stay in the workshop."""
        return bought_cents(self.to_buy, kept=True)

    @property
    def pay_lacks(self) -> bool:
        """Whether something of the materials has no price, so that more than `pay_cents` is paid."""
        return any(b.cents is None for b in self.to_buy if not b.kind.is_kept)

    @property
    def is_labour_counted(self) -> bool:
        """Whether an hour has a price, or there is no work at all."""
        return all(m.kind is not UnpricedKind.LABOUR for m in self.missing)

    def cents_of(self, kind: CostKind) -> int:
        """Return the cents of one kind."""
        return sum(line.cents for line in self.lines if line.kind is kind)


MATERIALS = (CostKind.SHEETS, CostKind.EDGING, CostKind.CONNECTORS, CostKind.HARDWARE, CostKind.GLUE, CostKind.FINISH)


def share_out(cents: int, weights: Iterable[float]) -> tuple[int, ...]:
    """Return whole cents that add up to `cents`, as near to `weights` as can be (largest remainders first).

    Equal remainders go to the earlier one. Where all weights are 0 the shares are equal.
    """
    exact = [Fraction(w) for w in weights]
    if not exact:
        return ()
    if any(w < 0 for w in exact):
        raise ValueError("shares cannot be negative")
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
