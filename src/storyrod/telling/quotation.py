"""The quotation: what a customer can be sent, and what keeps it from being sent.

It holds who makes it, for whom, what it is, of what, and the price; nothing of how the price came about.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.drawing import Drawing, Figures, case_view
from storyrod.drawing import Shown as Look
from storyrod.faults import Fault
from storyrod.model.account import Account, Unpriced, UnpricedKind, joined_words, show_money, whole_cents
from storyrod.model.carcass import BuiltCase
from storyrod.model.quoting import TaxKind
from storyrod.planning import Plan
from storyrod.telling.shown import Shown

PICTURE_ROOM: Final = (110.0, 80.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedLine:
    """One thing that is sold: how many, what it is, the price of one and of all."""

    count: int
    what: str
    each: str
    price: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Quotation:
    """A quotation in words.

    Attributes:
        maker, address: of who makes it; `address` line by line.
        lines: what is sold; `sums` the lines below them: the price, the tax, both together.
        without: what the price leaves out, in a sentence; "" where it leaves out nothing.
        tax: what is to be said of tax, in a sentence; "" where the sums say it.
        materials: what it is made of and finished with, by name.
        holds: for how long it holds.
        terms: the maker's own words, paragraph by paragraph.
    """

    maker: str
    address: tuple[str, ...]
    number: str
    date: str
    holds: str
    customer: str
    customer_address: tuple[str, ...]
    title: str
    description: tuple[str, ...]
    picture: Drawing
    lines: tuple[QuotedLine, ...]
    sums: tuple[tuple[str, str], ...]
    without: str
    tax: str
    materials: tuple[tuple[str, str], ...]
    sizes: str
    terms: tuple[str, ...]
    currency: str


def quotation_of(plan: Plan, *, date: str = "") -> Quotation:
    """Return the quotation of a plan, whatever has no price; `quotation_faults` tells whether it can be sent."""
    told, job, own = plan.account, plan.job, plan.workshop.quotation
    shown, currency = Shown.of(job), told.terms.currency
    lines = tuple(
        QuotedLine(
            count=c.count,
            what=_described(built, shown),
            each=show_money(c.each_price_cents),
            price=show_money(c.price_cents),
        )
        for c, built in zip(told.cases, plan.carcass.cases, strict=True)
    )
    days = own.valid_days
    return Quotation(
        maker=job.maker or own.maker,
        address=_lines(own.address),
        number=job.number or f"Q-{plan.version}",
        date=date,
        holds=f"This quotation is valid for {days} {'day' if days == 1 else 'days'} from its date.",
        customer=job.customer,
        customer_address=_lines(job.customer_address),
        title=job.title,
        description=_lines(job.description),
        picture=_picture(plan),
        lines=lines,
        sums=tuple(_sums(plan, told)),
        without=_without(told),
        tax=_tax_words(plan),
        materials=tuple(_materials(plan)),
        sizes="Sizes are outside width, height and depth.",
        terms=_lines(own.terms),
        currency=currency,
    )


def quotation_faults(told: Account) -> tuple[Fault, ...]:
    """Return why there can be no quotation: a fault for each board, fitting and hour without a price."""
    return tuple(_no_price(m) for m in told.not_sold)


def _no_price(missing: Unpriced) -> Fault:
    where = "in the job file" if missing.is_of_job else "in the workshop file"
    what = {
        UnpricedKind.SHEETS: "the price of a sheet next to its size",
        UnpricedKind.EDGING: "what a metre costs",
        UnpricedKind.LABOUR: "what an hour of your time costs",
    }.get(missing.kind, "what it costs")
    return Fault(
        code="no-price",
        field=missing.field,
        found=f"no price for {missing.words}",
        allowed="a price",
        do=f"Write {what} {where}.",
    )


def _lines(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def _sums(plan: Plan, told: Account) -> Iterator[tuple[str, str]]:
    own, net = plan.workshop.quotation, told.price_cents
    if own.tax is not TaxKind.ADDED:
        yield "In all", show_money(net)
        return
    tax = whole_cents(net * own.tax_rate)
    yield f"In all, without {own.tax_name}", show_money(net)
    yield f"{own.tax_name}, {100 * own.tax_rate:g} %", show_money(tax)
    yield f"To pay, with {own.tax_name}", show_money(net + tax)


def _tax_words(plan: Plan) -> str:
    own = plan.workshop.quotation
    match own.tax:
        case TaxKind.ADDED:
            return ""
        case TaxKind.LEFT_OUT:
            return f"The price is without {own.tax_name}."
        case TaxKind.NONE:
            return f"No {own.tax_name} is charged."


def prices_are_words(plan: Plan) -> str:
    """Return how the prices of a list stand to tax, in a sentence."""
    own = plan.workshop.quotation
    if own.tax is TaxKind.ADDED:
        return f"Prices are without {own.tax_name}; {100 * own.tax_rate:g} % is added."
    return f"Prices are without {own.tax_name}." if own.tax is TaxKind.LEFT_OUT else _tax_words(plan)


def _without(told: Account) -> str:
    """Return what the price does not hold, in a customer's words: no minutes, no kind of connector."""
    kinds = {m.kind for m in told.not_sold}
    parts = [m.name for m in told.not_sold if m.kind in {UnpricedKind.SHEETS, UnpricedKind.EDGING}]
    handles = any(m.field == "prices.handle" for m in told.not_sold)
    if handles:
        parts.append("handles")
    parts += [m.name for m in told.not_sold if m.field == "finish.price"]
    if any(m.kind is UnpricedKind.ITEM and m.field not in {"prices.handle", "finish.price"} for m in told.not_sold):
        parts.append("some fittings")
    if UnpricedKind.LABOUR in kinds:
        parts.append("the work itself")
    return f"This price is without {joined_words(parts)}." if parts else ""


def _materials(plan: Plan) -> Iterator[tuple[str, str]]:
    """Yield what it is made of: boards, edges, finish, and the kinds of runner and hinge."""
    cases, job = plan.details.cases, plan.job
    boards = dict.fromkeys(p.board for c in cases for p in c.panels)
    yield "boards", joined_words([job.board(code).name for code in boards])
    edged = dict.fromkeys(e.edging for c in cases for p in c.panels for e in p.edged)
    if edged:
        yield "edges", joined_words([job.edging(code).name for code in edged])
    shop, things = plan.workshop, [t.item for c in cases for t in c.built.hardware]
    for word, find in (("runners", shop.runner), ("hinges", shop.hinge)):
        named = dict.fromkeys(known.name for item in things if (known := find(item)) is not None)
        if named:
            yield word, joined_words(list(named))
    if job.finish is not None:
        coats = "" if job.finish.coats == 1 else f", {job.finish.coats} coats"
        yield "finish", f"{job.finish.name}{coats}"
    else:
        yield "finish", "as the boards come"


def _picture(plan: Plan) -> Drawing:
    """Return one picture: the first case as it stands."""
    look = Look(boards=tuple(b.code for b in plan.job.boards), figures=Figures.of_job(plan.job))
    return case_view(plan.details.cases[0], look, room=PICTURE_ROOM)


def _described(built: BuiltCase, shown: Shown) -> str:
    case = built.case
    size = shown.lengths.seen_size(case.width, case.height, case.depth)
    parts = [
        _many(len(built.drawers), "drawer"),
        _many(len(built.doors), "door"),
        _many(sum(o.loose_shelves for o in built.openings if not o.children), "loose shelf", "loose shelves"),
    ]
    inside = ", ".join(p for p in parts if p)
    return f"{case.name}, {size}" + (f", with {inside}" if inside else "")


def _many(count: int, one: str, many: str = "") -> str:
    return "" if count == 0 else f"{count} {one if count == 1 else many or one + 's'}"
