"""The buying list as a paper of its own, to be taken to the shop."""

from __future__ import annotations

from storyrod.adapters.packet._blocks import Block, Section, packet_of
from storyrod.adapters.packet._typeset import typeset
from storyrod.faults import raise_if_any
from storyrod.planning import Plan
from storyrod.telling.blocks import Words
from storyrod.telling.buying import buying_blocks, buying_list


def buying_section(plan: Plan) -> Section:
    """Return everything that is bought for a job, with boxes to tick.

    Raises:
        JobError: the list lacks something that the work uses.
    """
    told = buying_list(plan)
    intro = (
        "Everything the job takes, spares included. Tick what you have in the workshop, then what you buy. Amounts "
        "are for the whole job."
    )
    blocks: list[Block] = [Words(text=intro), *buying_blocks(told)]
    return Section(title=f"Buying list: {plan.job.title}", head="buying list", blocks=tuple(blocks))


def make_buying_list(plan: Plan, *, date: str = "") -> bytes:
    """Return the buying list as PDF.

    Raises:
        JobError: the plan has faults, or was not proven; or the list lacks something that the work uses.
    """
    raise_if_any(plan.faults)
    return typeset(packet_of(plan, (buying_section(plan),), date=date, foot=""))
