"""The drilled panel B8, which two references work out: each holds it against its own source."""

from __future__ import annotations

from storyrod.measure.space import PanelPoint
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.panel import Panel, Role, Surface
from tests.unit.proof import small


def flat(length: float, width: float, thickness: float) -> Panel:
    """Return a panel that lies flat, of these sizes."""
    return small.panel(Role.SHELF, "shelf 1", small.box((0, length), (0, width), (0, thickness)), small.FLAT)


HOLES = (
    *(((u, v), Hole(diameter=5, depth=18, through=True)) for u in (50.0, 550.0) for v in (50.0, 350.0)),
    *(((u, 22.5), Hole(diameter=35, depth=13)) for u in (100.0, 500.0)),
)

B8_EXACT_MM3 = 4_293_571.35  # 600 x 400 x 18 - 4 (pi/4) 5**2 18 - 2 (pi/4) 35**2 13


def machined() -> tuple[Panel, tuple[Feature, ...]]:
    """Return the panel of B8: 600 x 400 x 18 with four through holes of 5 mm and two cups 35 x 13."""
    panel = flat(600, 400, 18)
    features = tuple(
        Feature(id=FeatureId(f"f{n}"), panel=panel.id, surface=Surface.FACE, at=PanelPoint(u, v, 0), shape=shape)
        for n, ((u, v), shape) in enumerate(HOLES)
    )
    return panel, features
