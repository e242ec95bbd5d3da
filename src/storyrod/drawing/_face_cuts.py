"""What is cut in each outer face of a panel, as lines in the plane of that face: for a view that can be turned.

The coordinates of a face are the two other axes of the case, in their order (x before y before z), from the lowest
corner of the panel's box. A view that turns then needs one matrix for each face and leaves these lines as they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.drawing._outlines import Outline, outlines_of, run_of
from storyrod.drawing._pens import Pen
from storyrod.drawing._types import Circle, Path, Place
from storyrod.measure.space import AXES, PANEL_AXES, Axis, Direction, PanelPoint
from storyrod.model.feature import Channel, CutOut, Feature, Hole
from storyrod.model.panel import Panel, Surface
from storyrod.model.removal import Bar, removed, surface_level

FaceLines = tuple[Path | Circle, ...]

_REACHES = 1e-6


def face_cuts(panel: Panel, features: Sequence[Feature]) -> dict[Direction, FaceLines]:
    """Return the closed lines of all cuts of a panel by the way in which their face looks.

    A cut that goes right through shows on both faces; a groove, housing or rebate also where it runs out at an end or
    edge. What lies out of sight below a lip is left out.
    """
    found: dict[Direction, list[Path | Circle]] = {}
    for feature in features:
        for surface, line in _lines(panel, feature):
            found.setdefault(_way(panel, surface), []).append(line)
    return {way: tuple(found[way]) for way in Direction if way in found}


def _lines(panel: Panel, feature: Feature) -> Iterator[tuple[Surface, Path | Circle]]:
    mouths = list(_mouths(panel, feature))
    for line in mouths:
        yield feature.surface, line
    if _goes_through(feature):
        for line in mouths[:1]:  # A countersink, told second, is on the side worked only.
            yield feature.surface.opposite, line
    if isinstance(feature.shape, Channel):
        for solid in removed(feature):
            if isinstance(solid, Bar):
                yield from _run_outs(panel, feature, solid)


def _goes_through(feature: Feature) -> bool:
    return isinstance(feature.shape, CutOut) or (isinstance(feature.shape, Hole) and feature.shape.through)


def _mouths(panel: Panel, feature: Feature) -> Iterator[Path | Circle]:
    run = run_of(feature)
    across = next(a for a in PANEL_AXES if a not in {feature.surface.axis, run})
    inward = 1 if feature.at.along(across) < panel.extent(across) / 2 else -1
    for line in outlines_of(feature, inward=inward):
        if line.closed and not line.below:
            yield _on_face(panel, feature, line)


def _on_face(panel: Panel, feature: Feature, line: Outline) -> Path | Circle:
    run = run_of(feature)
    across = next(a for a in PANEL_AXES if a not in {feature.surface.axis, run})

    def placed(point: Place) -> Place:
        return _flat(panel, feature.surface, feature.at.moved(run, point[0]).moved(across, point[1]))

    if line.radius is not None:
        return Circle(centre=placed(line.points[0]), radius=line.radius, pen=Pen.FEATURE)
    (x0, y0), (px, py), (qx, qy) = placed((0.0, 0.0)), placed((1.0, 0.0)), placed((0.0, 1.0))
    turn = 1.0 if (px - x0) * (qy - y0) > (py - y0) * (qx - x0) else -1.0
    bulges = tuple(b * turn for b in line.bulges)
    return Path(points=tuple(placed(p) for p in line.points), bulges=bulges, closed=True, pen=Pen.FEATURE)


def _run_outs(panel: Panel, feature: Feature, bar: Bar) -> Iterator[tuple[Surface, Path]]:
    """Where a channel breaks out at other surfaces than the one it is worked from."""
    for surface in Surface:
        level = surface_level(surface, panel)
        low, high = bar.span(surface.axis)
        if surface is feature.surface or not low - _REACHES <= level <= high + _REACHES:
            continue
        a, b = (axis for axis in PANEL_AXES if axis is not surface.axis)
        (a0, a1), (b0, b1) = ((max(0.0, lo), min(panel.extent(x), hi)) for x in (a, b) for lo, hi in [bar.span(x)])
        start = PanelPoint(0.0, 0.0, 0.0).with_(surface.axis, level)
        corners = ((a0, b0), (a1, b0), (a1, b1), (a0, b1))
        points = tuple(_flat(panel, surface, start.with_(a, x).with_(b, y)) for x, y in corners)
        yield surface, Path(points=points, closed=True, pen=Pen.FEATURE)


def _flat(panel: Panel, surface: Surface, at: PanelPoint) -> Place:
    """Return a place on a surface in the coordinates of its face."""
    place = panel.frame.to_case(at) - panel.box.low
    a, b = axes_of(_way(panel, surface))
    return place.along(a), place.along(b)


def axes_of(way: Direction) -> tuple[Axis, Axis]:
    """Return the axes of the case that lie in a face that looks `way`, in their order."""
    a, b = (axis for axis in AXES if axis is not way.axis)
    return a, b


def _way(panel: Panel, surface: Surface) -> Direction:
    """Return the direction of the case in which a surface looks."""
    grows = panel.frame.direction(surface.axis)
    return grows if surface.is_far else grows.reverse
