"""The quotation as a paper that a customer can be sent."""

from __future__ import annotations

from collections.abc import Iterator

from storyrod.adapters.packet._blocks import Block, Row, Section, packet_of
from storyrod.adapters.packet._typeset import typeset
from storyrod.faults import raise_if_any
from storyrod.planning import Plan
from storyrod.telling.blocks import Heading, Picture, Words, right, table, wide
from storyrod.telling.quotation import Quotation, quotation_faults, quotation_of


def make_quotation(plan: Plan, *, date: str = "", quote_without: bool = False) -> bytes:
    """Return the customer's quotation alone, as PDF.

    With `quote_without`, what has no price is left out, and the paper says so.

    Raises:
        JobError: a board, a fitting or the hours have no price, and `quote_without` does not allow it.
    """
    if not quote_without:
        raise_if_any(quotation_faults(plan.account))
    told = quotation_of(plan, date=date)
    mark = f"No. {told.number}"
    return typeset(packet_of(plan, (quotation_section(told),), date=date, mark=mark, foot=told.maker))


def quotation_section(told: Quotation) -> Section:
    """Return the customer's page."""
    columns = (right("pieces"), wide("what", 3.0), right("each"), right(told.currency or "price"))
    rows = [(str(x.count), x.what, x.each, x.price) for x in told.lines]
    rows += [("", name, "", money) for name, money in told.sums]
    blocks: list[Block] = [
        Row(cells=(tuple(_who(told)), tuple(_which(told))), shares=(1.4, 1.0)),
        Heading(text=told.title),
        *(Words(text=paragraph) for paragraph in told.description),
        Picture(drawing=told.picture, notes=False),
        table(columns, rows),
        *_strong(told.without),
        *(Words(text=words) for words in (told.tax,) if words),
        table(("made of", wide("")), told.materials),
        Words(text=told.sizes, quiet=True),
        Words(text=told.holds),
        *(Words(text=paragraph) for paragraph in told.terms),
        Words(text="Accepted, with date and name:"),
        Words(text="_" * 40),
    ]
    return Section(title="Quotation", head="quotation", blocks=tuple(blocks))


def _strong(text: str) -> Iterator[Block]:
    if text:
        yield Words(text=text, strong=True)


def _who(told: Quotation) -> Iterator[Block]:
    if told.maker:
        yield Words(text=told.maker, strong=True)
    for line in told.address:
        yield Words(text=line)


def _which(told: Quotation) -> Iterator[Block]:
    yield Words(text=f"No. {told.number}", strong=True)
    if told.date:
        yield Words(text=told.date)
    if told.customer:
        yield Words(text=f"For {told.customer}", strong=True)
    for line in told.customer_address:
        yield Words(text=line)
