"""Source: a maker's pages on 32 mm drilling, in a trade knowledge base.

Where: its text (page not noted): half a gap, 1.5 mm, of reveal at the carcass's outside, and a full overlay on both
sides.
"""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.measure.space import Axis
from storyrod.model.job import Fronts
from storyrod.model.panel import Role
from tests.builders import case, door, job, workshop


def test_fronts_leave_half_of_their_gap_at_the_outside() -> None:
    assert Fronts().reveal == Fronts().gap / 2 == 1.5


@pytest.mark.parametrize("reveal", [0.0, 1.5, 3.0])
def test_full_overlay_leaves_the_reveal_on_every_side(reveal: float) -> None:
    of = build(job(case(inside=door(), fronts=Fronts(reveal=reveal))), workshop()).cases[0]

    front = next(p for p in of.panels if p.role is Role.DOOR)
    assert front.box.span(Axis.X) == (reveal, 600 - reveal)
    assert front.box.span(Axis.Z) == (reveal, 720 - reveal)
