"""What is cut in each outer face of a panel, in the plane of the face: both halves of a joint meet in the case."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from storyrod.drawing import Circle, Path, face_cuts
from storyrod.measure.space import AXES, Direction, Point
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Channel, CutOut, Hole
from storyrod.model.panel import Panel
from tests.unit.drawing.cabinets import detailed


def in_case(panel: Panel, way: Direction, at: tuple[float, float]) -> Point:
    """Return the place in the case of a place in a face, told anew: corner of the box, and the two other axes."""
    lo, hi = panel.box.span(way.axis)
    a, b = (axis for axis in AXES if axis is not way.axis)
    place = panel.box.low.with_(way.axis, hi if way.sign > 0 else lo)
    return place.moved(a, at[0]).moved(b, at[1])


def circles(case: DetailedCase, panel: Panel) -> Iterator[tuple[Direction, Circle]]:
    for way, lines in face_cuts(panel, case.on(panel.id)).items():
        for line in lines:
            if isinstance(line, Circle):
                yield way, line


def test_both_bores_of_every_dowel_meet_in_the_case() -> None:
    case = detailed()
    bored = {p.id: [(way, in_case(p, way, c.centre)) for way, c in circles(case, p)] for p in case.panels}
    tried = 0
    for feature in case.features:
        mate = next((f for f in case.features if f.id == feature.mate), None)
        if mate is None or not isinstance(feature.shape, Hole) or not isinstance(mate.shape, Hole):
            continue
        at = case.panel(feature.panel).frame.to_case(feature.at)
        for panel in (feature.panel, mate.panel):
            # Along the bore the two faces may differ: a back lies in its rebate.
            assert min(b.with_(way.axis, at.along(way.axis)).distance(at) for way, b in bored[panel]) < 1e-6
        tried += 1
    assert tried > 40


def test_every_cut_is_on_the_face_it_is_worked_from_and_within_it() -> None:
    case = detailed()
    for panel in case.panels:
        cuts = face_cuts(panel, case.on(panel.id))
        for feature in case.on(panel.id):
            grows = panel.frame.direction(feature.surface.axis)
            assert (grows if feature.surface.is_far else grows.reverse) in cuts
        for way, lines in cuts.items():
            a, b = (axis for axis in AXES if axis is not way.axis)
            for line in lines:
                points = [line.centre] if isinstance(line, Circle) else line.points
                assert all(-1e-6 <= x <= panel.box.size(a) + 1e-6 for x, _ in points)
                assert all(-1e-6 <= y <= panel.box.size(b) + 1e-6 for _, y in points)


def test_what_goes_through_shows_on_both_faces() -> None:
    case = detailed()
    tried = 0
    for panel in case.panels:
        through = [f for f in case.on(panel.id) if isinstance(f.shape, CutOut) and f.shape.outline == "slot"]
        cuts = face_cuts(panel, through)
        if through:
            tried += 1
            assert set(cuts) == {panel.frame.into, panel.frame.into.reverse}
            assert cuts[panel.frame.into] == cuts[panel.frame.into.reverse]
    assert tried >= 3


def test_a_rebate_shows_where_it_runs_out() -> None:
    """The back's rebate in a side: in the face, and along the rear edge, as deep there as the back is thick."""
    case = detailed()
    side = next(p for p in case.panels if p.id == "A.side-left")
    rebate = next(f for f in case.on(side.id) if isinstance(f.shape, Channel) and f.shape.kind == "rebate")

    cuts = face_cuts(side, [rebate])

    assert Direction.RIGHT in cuts  # the face side of a left side
    (edge,) = cuts[Direction.BACKWARD]
    assert isinstance(edge, Path)
    across = [x for x, _ in edge.points]
    assert max(across) - min(across) == pytest.approx(rebate.shape.depth)
    assert max(across) == pytest.approx(side.thickness)


def test_a_mirrored_pair_has_mirrored_cuts() -> None:
    case = detailed()
    left, right = (next(p for p in case.panels if p.id == f"A.side-{hand}") for hand in ("left", "right"))
    both = ("dowels of top in", "dowels of base in", "dowels of plinth in")  # shelves end at the left side only
    of_joints = {p.id: face_cuts(p, [f for f in case.on(p.id) if f.why.startswith(both)]) for p in (left, right)}

    one = sorted(c.centre for c in of_joints[left.id][Direction.RIGHT] if isinstance(c, Circle))
    other = sorted(c.centre for c in of_joints[right.id][Direction.LEFT] if isinstance(c, Circle))

    assert [x for place in one for x in place] == pytest.approx([x for place in other for x in place])


def test_round_ends_bulge_outward_on_every_face() -> None:
    """An arc that turned the other way would bite into a slot, or leave it open."""
    case = detailed()
    tried = 0
    for panel in case.panels:
        for lines in face_cuts(panel, case.on(panel.id)).values():
            for line in lines:
                if isinstance(line, Path) and any(line.bulges):
                    assert all(b == 0 or (b > 0) == (_area(line) > 0) for b in line.bulges), (
                        "arcs turn the way the line goes round"
                    )
                    tried += 1
    assert tried >= 6


def _area(path: Path) -> float:
    ends = zip(path.points, (*path.points[1:], path.points[0]), strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in ends) / 2
