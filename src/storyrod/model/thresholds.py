"""From where on something is told of soundness, and what is reckoned with."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.job import Use

_USE: Final = Use()
"""What a job says of its use where it says nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thresholds:
    """From where on something is told, and what is reckoned with; `THRESHOLD_SOURCES` says where each comes from.

    Attributes:
        sag_limit: a plank may sag by its span over this in the long run.
        stress_share: share of the board's bending strength that may be used.
        lasting_share: share of a load that is taken to lie there for good, for creep.
        top_kg_dm2: load on a case's top, up to `top_reach` above the floor.
        tip_margin: steadying moment over tipping moment below which a case is to be fixed to a wall.
        child_kg: hung on the front of an open drawer.
        fill_kg_m3: what drawers are filled with in the tipping test.
        pull_n: outward pull at a hand hold, not above `pull_height`.
        block: height of the block that stands for a carpet, under the rear edge.
        anchor_above: a case higher than this, than twice its depth, or with drawers, is always to be fixed.
        fixing_n: no wall fixing is asked to hold less than this.
        push_n: sideways push at the top that racking is reckoned with.
        lean: lean over the case's height under that push which is told, as height over this.
        step_shows: a step from which on a finger feels it.
        step_chance: chance of such a step from which on a joint is told.
        front_gap: least gap that an inset front must keep in damp weather.
        one_person_kg: what one person lifts; None takes the workshop's own.
        lengths: how what is told writes lengths.
    """

    sag_limit: float = _USE.sag_limit
    stress_share: float = 1 / 3
    lasting_share: float = 0.8
    top_kg_dm2: float = _USE.loads.top_kg_dm2
    top_reach: float = 1400.0
    tip_margin: float = _USE.tip_margin
    child_kg: float = _USE.child_kg
    fill_kg_m3: float = _USE.loads.drawers_kg_m3
    pull_n: float = _USE.pull_n
    pull_height: float = 1422.0
    block: float = 10.9
    anchor_above: float = _USE.fix_above
    fixing_n: float = 200.0
    push_n: float = 89.0
    lean: float = 200.0
    step_shows: float = _USE.step_shows
    step_chance: float = 0.2
    front_gap: float = _USE.front_gap
    one_person_kg: float | None = None
    lengths: LengthWriter = field(default=METRIC, repr=False)


THRESHOLD_SOURCES: Final[dict[str, str]] = {
    "sag_limit": "L/240 is visible: the board trade's span tables",
    "stress_share": "common practice, no source",
    "lasting_share": "psi 2 of stored goods, EN 1990, from memory",
    "top_kg_dm2": "shelf load, domestic light, from memory",
    "top_reach": "common practice, no source: higher tops are hardly loaded",
    "tip_margin": "common practice, no source",
    "child_kg": "60 lb class of ASTM F2057-23, as a test laboratory explains it",
    "fill_kg_m3": "8.5 lb/ft3: Clothing Storage Units business guidance, US Consumer Product Safety Commission",
    "pull_n": "10 lbf, ASTM F2057-23, from memory",
    "pull_height": "56 in, ASTM F2057-23, from memory",
    "block": "0.43 in, ASTM F2057-23, as a test laboratory explains it",
    "anchor_above": "common practice, no source",
    "fixing_n": "wall anchors in tests of EN 14749, about 200 N, from memory, uncertain",
    "push_n": "20 lbf sideways at the top, office storage: an Indian standards reference site, unconfirmed",
    "lean": "common practice, no source",
    "step_shows": "common practice, no source",
    "step_chance": "common practice, no source",
    "front_gap": "common practice, no source",
    "one_person_kg": "the workshop's own `handling`",
}


GRAVITY: Final = 9.80665
"""Standard acceleration of free fall, m/s² (CGPM 1901)."""
