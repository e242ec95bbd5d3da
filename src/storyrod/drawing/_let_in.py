"""Which panel is let into which: where two boxes share room, the one that loses it is the one that is cut there."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from storyrod.measure.space import AXES, PANEL_AXES, Box, PanelPoint
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Channel
from storyrod.model.panel import Panel, PanelId
from storyrod.model.removal import Bar, removed

_SHARED = 0.01
_SLACK = 0.5  # a groove is a little wider and deeper than what goes into it


def let_in(case: DetailedCase) -> tuple[tuple[PanelId, PanelId], ...]:
    """Return the pairs of panels that share room, as (the one that is cut there, the one that is let in).

    Cut there is the panel with the groove, housing or rebate that holds the shared room; of two without one, which no
    job should have, the larger.
    """
    found = []
    for a, b in combinations(case.panels, 2):
        room = a.box.overlap(b.box)
        if room is not None and all(room.size(axis) > _SHARED for axis in AXES):
            cut_in_a, cut_in_b = _is_cut(case, a, room), _is_cut(case, b, room)
            takes_a = cut_in_a if cut_in_a is not cut_in_b else a.box.volume >= b.box.volume
            found.append((a.id, b.id) if takes_a else (b.id, a.id))
    return tuple(found)


def _is_cut(case: DetailedCase, panel: Panel, room: Box) -> bool:
    """Whether a channel of a panel holds the middle of a room."""
    middle = panel.frame.to_panel(room.centre)
    return any(_holds(bar, middle) for bar in _channels(case, panel))


def _channels(case: DetailedCase, panel: Panel) -> Iterator[Bar]:
    for feature in case.on(panel.id):
        if isinstance(feature.shape, Channel):
            for solid in removed(feature):
                if isinstance(solid, Bar):
                    yield solid


def _holds(bar: Bar, at: PanelPoint) -> bool:
    return all(bar.span(x)[0] - _SLACK <= at.along(x) <= bar.span(x)[1] + _SLACK for x in PANEL_AXES)
