"""Source: beam tables, cantilever with a load short of its free end.

Where: any table of cantilevers, from memory: load F at a from the fixed end of a cantilever L long: its end drops
by F a^2 (3 L - a) / (6 E I); F a is its moment at the fixed end, and 6 F a / (b t^2) the stress there.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import BoardKind, Worktop
from storyrod.model.worktop import Overhang, Side
from storyrod.planning import Plan
from tests.builders import board, boards, case, job


def overhang(reach: float, thick: float) -> Overhang:
    """Return the front overhang of a worktop of MDF, E 2200, on a case 800 x 850 x 500."""
    top = board("mdf", thick, kind=BoardKind.MDF, density_kg_m3=750.0, stiffness_n_mm2=2200.0)
    made = case(width=800.0, height=850.0, depth=500.0, worktop=Worktop(front=reach, board="mdf"))
    plan = Plan(job(made, boards=(*boards(), top)), packaged_workshop())
    return next(o for o in plan.soundness.cases[0].overhangs if o.side is Side.FRONT)


@pytest.mark.parametrize(
    ("reach", "thick", "drop", "stress"),
    [
        # b 400 + 150 = 550, I 550 x 18^3 / 12 = 267 300: 750 x 100^2 x (450 - 100) / (6 x 2200 x 267 300)
        (150.0, 18.0, 0.744, 2.525),
        # b 400 + 250 = 650, I 650 x 22^3 / 12 = 576 767: 750 x 200^2 x (750 - 200) / (6 x 2200 x 576 767)
        (250.0, 22.0, 2.167, 2.861),
    ],
)
def test_the_edge_of_an_overhang_goes_down_as_a_cantilever_s_end(
    reach: float, thick: float, drop: float, stress: float
) -> None:
    """Somebody of 750 N sits 50 in from its edge."""
    found = overhang(reach, thick)

    assert (found.force_n, found.at) == (750, reach - 50)
    assert found.sag == pytest.approx(drop, abs=0.001)
    assert found.stress_n_mm2 == pytest.approx(stress, abs=0.001)
