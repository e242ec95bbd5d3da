"""Weights and centres of mass of panels and cases, from measured sizes and the boards' densities.

Fittings, screws, glue and edging of another density are left out; edging counts as board.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from storyrod.measure.space import Point
from storyrod.model.feature import AngledPocket, Feature
from storyrod.model.job import Board, Job
from storyrod.model.panel import Panel
from storyrod.model.removal import volume

_M3_PER_MM3 = 1e-9


@dataclass(frozen=True, slots=True)
class Weight:
    """A mass in kg and the point in the case frame where it may be thought to hang."""

    mass_kg: float
    centre: Point


def panel_mass_kg(panel: Panel, board: Board, features: Iterable[Feature] = ()) -> float:
    """Return the mass of a panel in kg, less the volume of those `features` that are on it.

    Angled pockets, whose ends leave the board at a slope, are not taken off: less than 5 g each.
    """
    cut = sum(volume(f) for f in features if f.panel == panel.id and not isinstance(f.shape, AngledPocket))
    return (panel.volume - cut) * _M3_PER_MM3 * board.density_kg_m3


def panel_weight(panel: Panel, board: Board, features: Iterable[Feature] = ()) -> Weight:
    """Return a panel's mass and the middle of its box, where its mass is taken to be.

    What holes and grooves do to the place of the centre is left out: under 1 mm for usual panels.
    """
    return Weight(panel_mass_kg(panel, board, features), panel.box.centre)


def together(weights: Iterable[Weight]) -> Weight:
    """Return the mass and the centre of mass of several; nothing at all weighs 0 kg at the origin."""
    parts = tuple(weights)
    total = sum(w.mass_kg for w in parts)
    if total <= 0:
        return Weight(0.0, Point(0.0, 0.0, 0.0))

    def middle(axis_values: Iterable[tuple[float, float]]) -> float:
        return sum(m * a for m, a in axis_values) / total

    return Weight(
        total,
        Point(
            middle((w.mass_kg, w.centre.x) for w in parts),
            middle((w.mass_kg, w.centre.y) for w in parts),
            middle((w.mass_kg, w.centre.z) for w in parts),
        ),
    )


def case_weight(panels: Iterable[Panel], job: Job, features: Iterable[Feature] = ()) -> Weight:
    """Return the mass and the centre of mass of a case's panels, less all their `features`."""
    boards = {b.code: b for b in job.boards}
    by_panel: dict[str, list[Feature]] = {}
    for feature in features:
        by_panel.setdefault(feature.panel, []).append(feature)
    return together(panel_weight(p, boards[p.board], by_panel.get(p.id, ())) for p in panels)
