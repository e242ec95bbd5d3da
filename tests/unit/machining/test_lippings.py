"""Lipping with solid wood: its minutes in the run, what is said where it stands proud, and how wide it is bought."""

from __future__ import annotations

from functools import cache

from storyrod.adapters.files import packaged_workshop
from storyrod.model.buying import BuyKind
from storyrod.model.machining import Operation, WorkStage
from storyrod.planning import Plan
from tests import builders


@cache
def lipped(*, solid: bool = True, proud: float = 1.5) -> Plan:
    """A case 600 wide in boards of 18, its front edges lipped 12 thick."""
    strip = builders.edging(thickness=12.0, solid=solid, proud=proud, name="oak lipping")
    made = builders.job(builders.case(), boards=(builders.board(edging="tape"),), edgings=(strip,))
    return Plan(made, packaged_workshop())


def edged(plan: Plan, name: str) -> Operation:
    return next(
        o for s in plan.machining.set_ups if s.stage is WorkStage.EDGE for o in s.operations if o.panel_name == name
    )


def test_a_lipping_that_stands_proud_is_planed_flush() -> None:
    assert edged(lipped(), "top").what == "face edge; 1.5 mm proud of each face, plane it flush once the glue has set"
    assert edged(lipped(proud=0.0), "top").what == "face edge"
    assert edged(lipped(solid=False), "top").what == "face edge"  # a tape has nothing to plane


def test_the_run_counts_the_minutes_of_lipping() -> None:
    """A top of 564 at 8 minutes a metre, where a tape takes 4."""
    assert round(edged(lipped(), "top").cut_min, 3) == 4.512
    assert round(edged(lipped(solid=False), "top").cut_min, 3) == 2.256


def test_it_is_bought_so_much_wider() -> None:
    sizes = [
        next(b.size for b in plan.account.to_buy if b.kind is BuyKind.EDGING)
        for plan in (lipped(), lipped(proud=0.0), lipped(solid=False))
    ]

    assert sizes == ["at least 21 mm wide", "at least 18 mm wide", "wider than 18 mm"]
