"""The buying list: everything a job takes, with size, count, spares, packs and money; what is here and what is not.

Papers, page, CSV and plan.json are all made from the rows here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from storyrod.faults import raise_if_any
from storyrod.model.account import Account, Unpriced, show_money
from storyrod.model.buying import BuyKind, ToBuy
from storyrod.planning import Plan
from storyrod.telling.blocks import TICK, Block, Heading, Table, Words, right, table, wide

NO_PRICE: Final = "price not known"
HERE: Final = "here"

_TITLES: Final = {
    BuyKind.SHEETS: "Sheets",
    BuyKind.EDGING: "Edging",
    BuyKind.CONNECTORS: "Connectors and screws for joints",
    BuyKind.FITTINGS: "Runners, hinges, pins and their screws",
    BuyKind.HANDLES: "Handles",
    BuyKind.WALL: "Fixing to the wall",
    BuyKind.GLUE: "Glue",
    BuyKind.FINISH: "Finish",
    BuyKind.JIGS: "Board for jigs",
    BuyKind.CUTTERS: "Drills and cutters",
    BuyKind.TOOLS: "Tools",
}

_SINGULAR: Final = {"pieces": "piece", "pairs": "pair", "sheets": "sheet", "tins": "tin"}


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyRow:
    """One thing on the list, in words.

    Attributes:
        name: what a shop is asked for, with its size.
        uses: how much the work takes, with its unit; `spare` what is added, or "".
        buy: how much is bought, in packs as they are sold; "" where there is enough here.
        money: what is paid for it, `NO_PRICE`, or `HERE`.
    """

    line: ToBuy
    name: str
    uses: str
    spare: str
    buy: str
    money: str

    @property
    def is_here(self) -> bool:
        """Whether there is enough of it in the workshop."""
        return self.line.is_here

    @property
    def is_sheets(self) -> bool:
        """Whether these are sheets, which are bought as they are used."""
        return self.line.kind is BuyKind.SHEETS

    @property
    def is_priced(self) -> bool:
        """Whether it is known what is paid for it."""
        return self.line.cents is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyGroup:
    """Things of one kind."""

    kind: BuyKind
    title: str
    rows: tuple[BuyRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingList:
    """Everything that is bought for a job.

    Attributes:
        groups: for this job; `kept` what is paid once and stays in the workshop.
        pay: what is paid for the groups, `at least` where something of them has no price; `kept_pay` is of `kept`.
        used: what of it goes into this job: what its cost holds.
        lacks: what has no price and goes into the job.
    """

    groups: tuple[BuyGroup, ...]
    kept: tuple[BuyGroup, ...]
    pay: str
    kept_pay: str
    used: str
    lacks: tuple[Unpriced, ...]
    currency: str

    @property
    def rows(self) -> tuple[BuyRow, ...]:
        """Every row, those of this job first."""
        return tuple(r for g in (*self.groups, *self.kept) for r in g.rows)


def buying_list(plan: Plan) -> BuyingList:
    """Return the buying list of a plan; nothing that a card, a joint or a step uses is missing from it.

    Raises:
        JobError: the job cannot be built, or the list does not hold what the work uses, found by a checker of its own.
    """
    raise_if_any(plan.buying_faults)
    return buying_of(plan.account)


def buying_of(told: Account) -> BuyingList:
    """Return the buying list of an account."""
    currency = told.terms.currency
    of_job = tuple(b for b in told.to_buy if not b.kind.is_kept)
    kept = tuple(b for b in told.to_buy if b.kind.is_kept)
    lacks = tuple(m for m in told.not_sold if m.field != "money.rate_per_hour")
    return BuyingList(
        groups=tuple(_groups(of_job)),
        kept=tuple(_groups(kept)),
        pay=_sum(of_job, told.pay_cents, currency),
        kept_pay=_sum(kept, told.kept_cents, currency) if kept else "",
        used=_sum(of_job, told.cash_cents, currency),
        lacks=lacks,
        currency=currency,
    )


def _sum(lines: tuple[ToBuy, ...], cents: int, currency: str) -> str:
    least = "at least " if any(b.cents is None for b in lines) else ""
    return f"{least}{show_money(cents, currency)}"


def _groups(lines: tuple[ToBuy, ...]) -> Iterator[BuyGroup]:
    order = list(BuyKind)
    for kind, own in groupby(sorted(lines, key=lambda b: order.index(b.kind)), key=lambda b: b.kind):
        yield BuyGroup(kind=kind, title=_TITLES[kind], rows=tuple(map(row_of, own)))


def row_of(line: ToBuy) -> BuyRow:
    """Return a thing that is bought, in words."""
    paid = NO_PRICE if line.cents is None else show_money(line.cents)
    return BuyRow(
        line=line,
        name=_name(line),
        uses=amount_words(line.uses, line.unit),
        spare=f"{_number(line.spare)} spare" if line.spare else "",
        buy="" if line.is_here else _packs(line),
        money=HERE if line.is_here else paid,
    )


def _name(line: ToBuy) -> str:
    whole = f"{line.name}, {line.size}" if line.size else line.name
    return f"offcut {line.item}: {whole}" if line.kind is BuyKind.SHEETS and line.is_here else whole


def _packs(line: ToBuy) -> str:
    """Return how much is bought: whole packs of what comes in packs, else the amount itself."""
    if line.unit == "l":
        return f"{line.packs} {'tin' if line.packs == 1 else 'tins'} of {line.pack:g} l"
    if line.pack <= 1:
        return amount_words(line.bought, line.unit)
    if line.kind is BuyKind.EDGING:
        return f"{line.packs} {'roll' if line.packs == 1 else 'rolls'} of {amount_words(line.pack, line.unit)}"
    size = _number(line.pack) if line.unit == "pieces" else amount_words(line.pack, line.unit)
    return f"{line.packs} {'pack' if line.packs == 1 else 'packs'} of {size}"


def amount_words(amount: float, unit: str) -> str:
    """Return an amount with its unit, in the singular where it is one: `1 sheet`, `13.4 m`; pieces are not said."""
    number = _number(amount)
    if unit == "pieces":
        return number
    return f"{number} {_SINGULAR.get(unit, unit) if number == '1' else unit}"


def _number(amount: float) -> str:
    if abs(amount - round(amount)) < 1e-6:
        return f"{amount:,.0f}"
    return f"{amount:.1f}" if amount >= 0.6 else f"{amount:.2f}"


def missing_words(told: BuyingList) -> str:
    """Return the sentence that names what of the list has no price; "" where all of it has one."""
    names = list(dict.fromkeys(r.name for g in told.groups for r in g.rows if not r.is_priced))
    if not names:
        return ""
    *most, last = names
    listed = f"{', '.join(most)} and {last}" if most else last
    return f"No price is set for {listed}: the total leaves {'it' if len(names) == 1 else 'them'} out."


def buying_blocks(told: BuyingList) -> Iterator[Block]:
    """Yield the list as a paper lays it out: kind by kind, with boxes to tick for what is here and what is bought."""
    yield _table(told.groups, told.currency)
    yield Words(text=f"To pay: {told.pay}.", strong=True)
    without = missing_words(told)
    if without:
        yield Words(text=without)
    if told.kept:
        yield Heading(text="Bought once, for the workshop")
        yield _table(told.kept, told.currency)
        yield Words(text=f"To pay: {told.kept_pay}.", strong=True)


def _table(groups: tuple[BuyGroup, ...], currency: str) -> Table:
    money = right(currency or "money")
    columns = (wide("what", 2.4), right("used"), right("spare"), wide("buy"), money, "have it", "bought")
    rows: list[tuple[str, ...]] = []
    heads: list[tuple[int, str]] = []
    for group in groups:
        heads.append((len(rows), group.title))
        rows += [_cells(r) for r in group.rows]
    return table(columns, rows, groups=tuple(heads))


def _cells(row: BuyRow) -> tuple[str, ...]:
    here, bought = (HERE, "") if row.is_here else (TICK, TICK)
    money = "" if row.is_here else row.money
    return (row.name, row.uses, row.spare.removesuffix(" spare"), row.buy, money, here, bought)
