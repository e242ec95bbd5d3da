"""A price list of a range as a paper that a customer can be given."""

from __future__ import annotations

from storyrod.adapters.packet._blocks import Block, Section, packet_of
from storyrod.adapters.packet._typeset import typeset
from storyrod.planning import Plan
from storyrod.telling.blocks import Words, right, table
from storyrod.telling.price_list import PriceList


def make_price_list(plan: Plan, told: PriceList) -> bytes:
    """Return a price list as PDF; the plan is that of the job it is made from."""
    columns = tuple(right(head) for head in told.heads)
    blocks: tuple[Block, ...] = (table(columns, told.rows), *(Words(text=words) for words in told.sentences))
    section = Section(title=told.title, head="price list", blocks=blocks)
    return typeset(packet_of(plan, (section,), mark="price list", foot=told.maker))
