"""Before it happens: where cuts fall when their panel lies the wrong way round, worked out from where they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf

from storyrod.measure.space import PANEL_AXES
from storyrod.model.feature import Feature
from storyrod.model.panel import Panel, Surface
from storyrod.model.rescue import Signs
from storyrod.rescue._limits import SIZE
from storyrod.rescue._pieces import blank
from storyrod.rescue._reading import flat_distance, same_kind, serves
from storyrod.rescue._turn import turned, ways_to_lie

AS_TWIN: Signs = (1, 1, -1)
"""Drilled like its mirrored twin: the same figures, in the other face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongWay:
    """One way in which a panel can lie wrong, and where its cuts then fall.

    Attributes:
        signs: how it is turned.
        off: how far beside a wanted cut of its kind the farthest one falls (mm); 0 where all of them serve.
        surface: the surface in which cuts then are although none of their kind belongs there; None where all have one.
        is_jig: whether the panel lies right and its jig is turned over, so that its stop meets the other end.
    """

    signs: Signs
    off: float
    surface: Surface | None = None
    is_jig: bool = False

    @property
    def is_right(self) -> bool:
        """Whether it makes no difference."""
        return self.off <= SIZE


def wrong_ways(panel: Panel, cuts: Sequence[Feature]) -> tuple[WrongWay, ...]:
    """Return what comes of cuts of a panel by every way of laying it wrong, those hardest to notice first.

    Nearest misses come first: a hole 7 mm beside its mate is noticed at the glue-up, one in the wrong face at once.
    """
    piece = blank(panel)
    ways = [s for s in ways_to_lie(piece, panel) if s != (1, 1, 1)]
    if panel.twin is not None:
        ways.append(AS_TWIN)
    found = (_fallen(panel, cuts, signs) for signs in ways)
    return tuple(sorted(found, key=lambda w: (w.is_right, w.off, w.signs)))


def jig_turned_over(panel: Panel, cuts: Sequence[Feature], stop: Surface) -> WrongWay:
    """Return what comes of cuts made by a jig that is turned over: measured from the end across from its stop."""
    u, v, w = (-1 if axis is stop.axis else 1 for axis in PANEL_AXES)
    return replace(_fallen(panel, cuts, (u, v, w)), is_jig=True)


def _fallen(panel: Panel, cuts: Sequence[Feature], signs: Signs) -> WrongWay:
    piece = blank(panel)
    far, surface = 0.0, None
    for cut in cuts:
        lies = turned(cut, piece, signs, panel)
        if any(serves(lies, one) for one in cuts):
            continue
        near = [flat_distance(lies, one) for one in cuts if one.surface is lies.surface and same_kind(lies, one)]
        far = max(far, min(near, default=inf))
        if not near:
            surface = lies.surface
    return WrongWay(signs=signs, off=far, surface=surface)
