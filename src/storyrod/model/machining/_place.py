"""Where one cut lies on its panel, wall by wall and end by end, and where the straight edge for it is clamped."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.feature import FeatureId
from storyrod.model.panel import Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlace:
    """The figures by which a channel or a notch is set out, or the straight edge for a line of cuts is clamped.

    Attributes:
        across_from: the panel's datum end or face edge, from which `walls`, `centre` and `straight_edge` are measured.
        walls: both walls of a channel, both sides of a notch; `None` for cuts that have none.
        along_from: from which `ends` are measured; `ends` where the cut begins and where it ends.
        stopped: whether it stops within the panel at the first and at the second end.
        straight_edge: where the straight edge lies against which the tool's base or fence runs; None without one.
        beyond: the surface toward which the straight edge lies, as seen from the cut.
        off_board: whether it hangs over the panel's edge, and wants an offcut of the same board under it.
        base_stops: where a stop for the tool's base lies at each stopped end.
    """

    feature: FeatureId
    across_from: Surface
    centre: float
    walls: tuple[float, float] | None = None
    along_from: Surface | None = None
    ends: tuple[float, float] | None = None
    stopped: tuple[bool, bool] = (False, False)
    straight_edge: float | None = None
    beyond: Surface | None = None
    off_board: bool = False
    base_stops: tuple[float | None, float | None] = (None, None)

    @property
    def by_eye(self) -> tuple[float, ...]:
        """Ends at which a tool against a straight edge stops by eye, since no block for its base can be clamped."""
        if self.straight_edge is None:
            return ()
        ends = zip(self.ends or (), self.stopped, self.base_stops, strict=False)
        return tuple(end for end, is_stopped, base in ends if is_stopped and base is None)
