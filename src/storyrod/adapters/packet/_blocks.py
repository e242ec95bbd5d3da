"""What a packet is made of: sections of blocks, which the typesetter lays out; beside those that a page has, its own.

How they look is decided once, in `data/packet/packet.typ`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storyrod.drawing import Drawing
from storyrod.planning import Plan
from storyrod.telling import blocks


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Blocks side by side; `shares` of the width."""

    cells: tuple[tuple[Block, ...], ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Blocks one above another that are never parted by the end of a page; they must fit on one."""

    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiles:
    """A whole page, lying, that carries pieces of full-size strips one above another, or rows of them."""

    drawings: tuple[Drawing | tuple[Drawing, ...], ...]


Block = blocks.Block | Row | Together | Tiles


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One part of the packet; `head` goes into the page's head beside the job's title.

    A part begins on a new page, or where it `flows` below the part before it. One that flows stays whole on a page
    where it takes up no more than three tenths of it. `foot` are words of caution for the foot of each of its pages,
    `foot_high` mm high; parts that follow each other with the same foot share their pages.

    Parts of one `group` that follow each other share a line of the contents: there each is told by its `short` name. A
    part that is `lying` has its heading and words on the first of its pages of tiles.
    """

    title: str
    blocks: tuple[Block, ...]
    head: str = ""
    group: str = ""
    short: str = ""
    listed: bool = True
    lying: bool = False
    flows: bool = False
    foot: str = ""
    foot_high: float = 0.0
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packet:
    """A whole packet, ready for the typesetter.

    Attributes:
        mark: by which it is known, in the head of each page.
        foot: what the foot of each page says, beside the name of the `unit`.
    """

    title: str
    mark: str
    maker: str
    date: str
    paper: str
    sections: tuple[Section, ...]
    unit: str = ""
    foot: str = ""


AT_FULL_SIZE: Final = "Print at 100 % and check the bar on the rods."
AS_IT_IS: Final = "Print at 100 %."
"""For papers that hold nothing at full size: their figures are then as large as they are meant to be read."""


def packet_of(
    plan: Plan, sections: tuple[Section, ...], *, date: str = "", mark: str = "", foot: str = AT_FULL_SIZE
) -> Packet:
    """Return sections of a plan as a packet: with its title and version in the head, and its unit at the foot.

    Where nothing of it is at full size, `foot` says something else; `mark` stands in place of the plan's version.
    """
    return Packet(
        title=plan.job.title,
        mark=mark or f"plan {plan.version}",
        maker=plan.job.maker,
        date=date,
        paper=plan.job.paper.value,
        sections=sections,
        unit=plan.job.lengths.named,
        foot=foot,
    )
