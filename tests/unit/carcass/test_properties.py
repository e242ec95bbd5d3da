"""What holds for every case: nothing overlaps, nothing is left out, mirror in is mirror out, order does not matter."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.measure.space import AXES, PANEL_AXES, Axis, Box, PanelAxis, Point
from storyrod.model.carcass import BuiltCase, Carcass
from storyrod.model.feature import Channel, CutOut, Hole
from storyrod.model.job import BackKind, Case, HingeSide, Holds, Job, Opening, Split
from storyrod.model.panel import Panel, Role
from storyrod.model.removal import Bar, removed
from tests.builders import case, columns, door, doors, drawer, job, opening, rows, shelves, workshop
from tests.strategies import jobs

BUILD = settings(max_examples=20)


def built(drawn: Job) -> Carcass:
    """Return a drawn job's cases; one whose board or filler no screw of the workshop fits is passed over."""
    try:
        return build(drawn, workshop())
    except JobError as told:
        if all(f.field.endswith((".runner", ".board", "fillers.left", "fillers.right")) for f in told.faults):
            reject()
        raise


@st.composite
def trees(draw: st.DrawFn, width: float, height: float, level: int = 0) -> Opening:
    """Draw an inside whose parts all have room, without hand holds."""
    ways = [s for s, room in ((Split.ROWS, height > 460), (Split.COLUMNS, width > 560)) if room]
    if level < 2 and ways and draw(st.booleans()):
        if draw(st.sampled_from(ways)) is Split.ROWS:
            first = draw(st.integers(200, int(height) - 220))
            upper, lower = trees(width, first, level + 1), trees(width, height - first - 18, level + 1)
            return rows(replace(draw(upper), size=float(first)), draw(lower))
        first = draw(st.integers(250, int(width) - 270))
        left, right = trees(first, height, level + 1), trees(width - first - 18, height, level + 1)
        return columns(replace(draw(left), size=float(first)), draw(right))
    kinds = [opening(), drawer(), shelves(1), door(hinged="left"), door(hinged="right"), doors()]
    return draw(st.sampled_from(kinds if height >= 200 and width >= 240 else [opening()]))


@st.composite
def plain_cases(draw: st.DrawFn) -> Case:
    width, height = float(draw(st.integers(500, 1200))), float(draw(st.integers(500, 1000)))
    inside = draw(trees(width - 36, height - 36))
    return case(width=width, height=height, depth=450.0, inside=inside)


def mirrored(node: Opening) -> Opening:
    """Return the inside as a mirror on its left side would show it."""
    inside = tuple(mirrored(n) for n in node.inside)
    hinged = HingeSide.RIGHT if node.hinged is HingeSide.LEFT else HingeSide.LEFT
    if node.split is Split.COLUMNS:
        inside = tuple(reversed(inside))
    return replace(node, inside=inside, hinged=hinged)


def corners(box: Box, width: float = 0.0) -> tuple[float, ...]:
    """Return the box in whole thousandths, mirrored about the middle of `width` where that is given."""
    low, high = box.low, box.high
    if width:
        low, high = Point(width - box.high.x, low.y, low.z), Point(width - box.low.x, high.y, high.z)
    return tuple(round(p.along(a), 3) + 0.0 for p in (low, high) for a in AXES)


def takes_in(of: BuiltCase, one: Panel, other: Panel) -> bool:
    """Whether all that two panels share lies in a channel cut into one of them, or between the bevels of two cleats.

    Those are sawn at 45 degrees: the point of one reaches as far past the point of the other as the board is thick.
    """
    common = one.box.overlap(other.box)
    assert common is not None
    if one.bevel is not None and other.bevel is not None:
        return abs(common.size(Axis.Z) - one.thickness) < 1e-6
    for host in (one, other):
        for feature in of.fittings:
            if feature.panel != host.id or not isinstance(feature.shape, Channel):
                continue
            (bar,) = removed(feature)
            assert isinstance(bar, Bar)
            room = _in_case(host, bar)
            if all(
                room.low.along(a) - 1e-6 <= common.low.along(a) and common.high.along(a) <= room.high.along(a) + 1e-6
                for a in AXES
            ):
                return True
    return False


def _in_case(panel: Panel, bar: Bar) -> Box:
    a, b = panel.frame.to_case(bar.low), panel.frame.to_case(bar.high)
    low = Point(*(min(a.along(x), b.along(x)) for x in AXES))
    return Box(low, Point(*(max(a.along(x), b.along(x)) for x in AXES)))


@BUILD
@given(drawn=jobs())
def test_panels_overlap_only_where_a_rebate_or_groove_swallows_one(drawn: Job) -> None:
    for of in built(drawn).cases:
        for one, other in combinations(of.panels, 2):
            if one.box.intersects(other.box):
                assert takes_in(of, one, other), (one.name, other.name)


@BUILD
@given(drawn=jobs())
def test_openings_and_the_panels_that_part_them_fill_the_inside(drawn: Job) -> None:
    """Seen from the front, the areas add up and no two of them overlap."""
    for of in built(drawn).cases:
        whole = [o.box for o in of.openings if not o.children]
        parting = [p.box for p in of.panels if p.role in {Role.SHELF, Role.DIVIDER}]
        area = sum(b.size(Axis.X) * b.size(Axis.Z) for b in (*whole, *parting))
        assert area == pytest.approx(of.inside.size(Axis.X) * of.inside.size(Axis.Z))
        for one, other in combinations((*whole, *parting), 2):
            assert not all(
                min(one.high.along(a), other.high.along(a)) - max(one.low.along(a), other.low.along(a)) > 1e-6
                for a in (Axis.X, Axis.Z)
            )


@BUILD
@given(drawn=jobs())
def test_every_frame_stands_in_its_panels_corner_and_looks_the_right_way(drawn: Job) -> None:
    for of in built(drawn).cases:
        for p in of.panels:
            end = p.frame.to_case(p.frame.to_panel(p.box.centre))
            assert corners(Box(end, end)) == corners(Box(p.box.centre, p.box.centre))
            middle = p.frame.to_panel(p.box.centre)
            half = (p.length / 2, p.width / 2, p.thickness / 2)
            assert (middle.u, middle.v, middle.w) == pytest.approx(half)
            assert p.frame.is_mirrored is not _is_right_handed(p)


def _is_right_handed(p: Panel) -> bool:
    """Whether u x v looks into the board, worked out by the cross product."""
    vectors = []
    for axis in PANEL_AXES:
        way = p.frame.direction(axis)
        vectors.append([way.sign * (a is way.axis) for a in AXES])
    (a, b, c), (d, e, f), w = vectors
    return [b * f - c * e, c * d - a * f, a * e - b * d] == w


@BUILD
@given(drawn=jobs())
def test_every_fitting_lies_in_its_panel_and_leaves_the_skin(drawn: Job) -> None:
    for of in built(drawn).cases:
        for f in of.fittings:
            p = of.panel(f.panel)
            level = p.extent(f.surface.axis) if f.surface.is_far else 0.0
            assert f.at.along(f.surface.axis) == pytest.approx(level, abs=1e-9)
            low, high = ([g(s.bounds.span(a)) for s in removed(f)] for a, g in ((PanelAxis.U, min), (PanelAxis.U, max)))
            assert min(low) >= -1e-6
            assert max(high) <= p.length + 1e-6
            across = [s.bounds.span(PanelAxis.V) for s in removed(f)]
            assert min(a for a, _ in across) >= -1e-6
            assert max(b for _, b in across) <= p.width + 1e-6
            if not (isinstance(f.shape, CutOut) or (isinstance(f.shape, Hole) and f.shape.through)):
                assert f.depth <= p.thickness - drawn.limits.skin + 1e-6


@BUILD
@given(drawn=jobs())
def test_ids_names_and_marks_are_unique_and_every_cause_is_told(drawn: Job) -> None:
    for of in built(drawn).cases:
        for told in ([p.id for p in of.panels], [p.name for p in of.panels], [p.mark for p in of.panels]):
            assert len(set(told)) == len(told)
        assert len({f.id for f in of.fittings}) == len(of.fittings)
        assert all(p.cause for p in of.panels)
        assert all(f.why for f in of.fittings)


@BUILD
@given(drawn=jobs())
def test_every_clearance_is_as_wanted_or_more(drawn: Job) -> None:
    for of in built(drawn).cases:
        for c in of.clearances:
            assert c.left >= c.wanted - 1e-6, c


def worked_out(told: str) -> float:
    """Return what a sum comes to as a maker reads it: "21 1/16" is one length, not two."""
    return float(eval(re.sub(r"(\d+) (\d+/\d+)", r"(\1 + \2)", told).replace("x", "*")))


def test_a_whole_inch_and_its_fraction_are_read_as_one_length() -> None:
    assert worked_out("(26 31/32 - 0.25) / 2") == pytest.approx((26.96875 - 0.25) / 2)
    assert worked_out("34 35/64 - 2 x 3/4") == pytest.approx(34.546875 - 1.5)


@BUILD
@given(drawn=jobs())
def test_written_sums_come_to_the_size_they_explain(drawn: Job) -> None:
    """Each figure in a sum is shown to 0.01 mm or 0.001 inch, so a sum of a few may be off by a few of these."""
    inch = drawn.unit is Unit.INCH
    for of in built(drawn).cases:
        for p in of.panels:
            for told, size in zip(p.sums, (p.length, p.width), strict=True):
                assert re.fullmatch(r"[0-9. x+/()-]+", told), told
                value = worked_out(told) * (MM_PER_INCH if inch else 1.0)
                assert value == pytest.approx(size, abs=0.15 if inch else 0.06), (p.name, told)


@BUILD
@given(one=plain_cases())
def test_mirror_in_is_mirror_out(one: Case) -> None:
    other = replace(one, inside=mirrored(one.inside))
    of, mirror = (build(job(c), workshop()).cases[0] for c in (one, other))

    def shape(built: BuiltCase, width: float) -> list[tuple[str, tuple[float, ...]]]:
        def role(p: Panel) -> str:
            return "side" if p.role in {Role.SIDE_LEFT, Role.SIDE_RIGHT} else p.role.value

        return sorted((role(p), corners(p.box, width)) for p in built.panels)

    assert shape(of, one.width) == shape(mirror, 0.0)
    assert sorted(corners(o.box, one.width) for o in of.openings) == sorted(corners(o.box) for o in mirror.openings)
    assert len(of.fittings) == len(mirror.fittings)
    assert [(h.item, h.count) for h in of.hardware] == [(h.item, h.count) for h in mirror.hardware]


@BUILD
@given(one=plain_cases(), other=plain_cases())
def test_the_order_of_cases_does_not_matter(one: Case, other: Case) -> None:
    first, second = replace(one, code="A"), replace(other, code="B")
    forward, backward = (build(job(*c), workshop()).cases for c in ((first, second), (second, first)))

    for a, b in zip(forward, reversed(backward), strict=True):
        assert [(p.id, p.box, p.sums) for p in a.panels] == [(p.id, p.box, p.sums) for p in b.panels]
        assert [(f.id, f.at, f.shape) for f in a.fittings] == [(f.id, f.at, f.shape) for f in b.fittings]


@BUILD
@given(one=plain_cases(), more=st.integers(1, 400))
def test_a_deeper_case_changes_depths_only(one: Case, more: int) -> None:
    """Without drawers, whose runners come in steps, every panel that reaches the back grows by as much."""
    bare = replace(one, inside=_without_drawers(one.inside))
    of, deeper = (build(job(c), workshop()).cases[0] for c in (bare, replace(bare, depth=bare.depth + more)))

    for p, q in zip(of.panels, deeper.panels, strict=True):
        assert (p.box.span(Axis.X), p.box.span(Axis.Z)) == (q.box.span(Axis.X), q.box.span(Axis.Z))
        grows = p.role is not Role.DOOR
        assert q.box.size(Axis.Y) - p.box.size(Axis.Y) == pytest.approx(more if grows else 0.0)


def _without_drawers(node: Opening) -> Opening:
    holds = Holds.OPEN if node.holds is Holds.DRAWER else node.holds
    return replace(node, holds=holds, inside=tuple(_without_drawers(n) for n in node.inside))


@BUILD
@given(drawn=jobs())
def test_the_same_job_is_built_the_same_twice(drawn: Job) -> None:
    assert built(drawn) == built(drawn)


@BUILD
@given(drawn=jobs())
def test_an_applied_back_and_only_that_lies_behind_the_sides(drawn: Job) -> None:
    for of in built(drawn).cases:
        side = next(p for p in of.panels if p.role is Role.SIDE_LEFT)
        applied = of.case.back.kind is BackKind.APPLIED
        assert (side.box.high.y < of.case.depth - 1e-9) == applied
