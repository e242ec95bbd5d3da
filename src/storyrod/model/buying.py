"""What must be bought for a job: each thing with what it is used for, its spares, its packs and its money.

Amounts are in the thing's own unit (pieces, pairs, metres, square metres, grams); money is whole cents.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class BuyKind(StrEnum):
    """What a bought thing is, in the order in which a buying list tells them."""

    SHEETS = "sheets"
    EDGING = "edging"
    CONNECTORS = "connectors"
    FITTINGS = "fittings"
    HANDLES = "handles"
    WALL = "wall fixings"
    GLUE = "glue"
    FINISH = "finish"
    JIGS = "board for jigs"
    CUTTERS = "drills and cutters"
    TOOLS = "tools"

    @property
    def is_kept(self) -> bool:
        """Whether it is paid once and stays in the workshop, so that it is no part of what this job costs."""
        return self in {BuyKind.JIGS, BuyKind.CUTTERS, BuyKind.TOOLS}


BRACKET_SCREW_MM: Final = 4.0
"""A small wall bracket takes screws of this diameter (mm): common practice, no source."""

DRILL_AS_GOOD: Final = 0.06
"""A drill that differs by less than this (mm) from the one asked for will do: common practice, no source."""

HANDLE: Final = "handle"
BRACKET: Final = "wall bracket"
WALL_SCREW: Final = "wall plug and screw"
HANGING_SCREW: Final = "hanging screw"
HANGING_PLUG: Final = "hanging plug and screw"
CLEAT_SCREW: Final = "stop screw of a cleat"
GLUE: Final = "glue"
FINISH: Final = "finish"
JIG_BOARD: Final = "jig board, m2"
"""What these are called among a workshop's prices."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToBuy:
    """One thing that the job takes: bought in whole packs, less what is here already.

    Attributes:
        item: by which its price is kept: an item of the workshop's prices, the code of a board's sheet size, of an
            edging, a runner, a hinge, a clothes rail or a tool.
        name: what a shop is asked for; `size` its size in words, or "".
        uses: what the work uses up; `spare` what is bought beyond it.
        on_hand: what is here already, as far as the workshop says.
        pack: how much is in a pack; 0 for what is sold by measure, to the last bit.
        packs: how many are bought.
        cents: what is paid for them; None where there is no price.
        used_cents: what of it this job takes: its share of the packs; None where there is no price.
        where: what it is for, in words.
        loose: a note that stands for a size that only the maker can tell, or "".
    """

    kind: BuyKind
    item: str
    name: str
    size: str = ""
    uses: float
    spare: float = 0.0
    unit: str = "pieces"
    on_hand: float = 0.0
    pack: float = 1.0
    packs: int = 0
    cents: int | None = None
    used_cents: int | None = None
    where: str = ""
    loose: str = ""

    @property
    def need(self) -> float:
        """What the work uses up, and the spares."""
        return self.uses + self.spare

    @property
    def bought(self) -> float:
        """How much is bought: whole packs, or what is needed to the last bit."""
        return self.packs * self.pack if self.pack else max(self.need - self.on_hand, 0.0)

    @property
    def is_here(self) -> bool:
        """Whether there is enough of it here already."""
        return self.bought <= 0


def bought_cents(lines: tuple[ToBuy, ...], *, kept: bool | None = None) -> int:
    """Return what is paid for the lines as far as their prices are known; of things kept, or of the rest, if said."""
    return sum(b.cents or 0 for b in lines if kept is None or b.kind.is_kept is kept)
