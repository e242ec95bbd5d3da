"""Every half has its mate, and the two axes are one line in the case; the marks of both say the same."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from storyrod.faults import OUR_SLIP
from storyrod.measure.length import MM_PER_INCH
from storyrod.measure.space import AXES, Axis, Frame, PanelAxis, PanelPoint, Point
from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.detail import Details
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.mark import CaseSetOut, JointLine, Mark, SetOut
from storyrod.model.proof import Claim, Finding, figure
from storyrod.proof._shapes import gap_between
from storyrod.proof._tally import CaseView, Tally

MARKED: Final = 2e-6
"""Marks are kept to a millionth of a mm, each of the two rounded by half of one at the most in either axis."""


def mates_agree(details: Details, views: Sequence[CaseView]) -> Finding:
    """Return whether every half of a connector has its other half, both on one axis in the case frame."""
    tally = Tally(
        claim=Claim.MATES,
        subject="pairs of holes and slots",
        holds=f"meet within {figure(EXACT)} mm",
        fails="do not meet",
        one=f"pair of holes and slots meets within {figure(EXACT)} mm",
        measure="farthest off",
        code="proof-mates",
        limit=EXACT,
    )
    for view in views:
        _mates_of_case(details, view, tally)
    return tally.finding()


def _mates_of_case(details: Details, view: CaseView, tally: Tally) -> None:
    for feature in view.case.features:
        if feature.mate is None:
            if feature.joint and feature.station and not _may_stand_alone(details, view, feature):
                tally.see()
                tally.tell(
                    view.cause(feature.panel),
                    f"{view.cut(feature)} without its other half",
                    "a mate on the other panel of its joint",
                    OUR_SLIP,
                )
            continue
        mate = view.features.get(feature.mate)
        told = _told_wrong(feature, mate, view)
        if told:
            tally.see()
            tally.tell(view.cause(feature.panel), told, "one mate, on the other panel of the joint", OUR_SLIP)
        elif mate is not None and feature.id < mate.id:
            off = _apart(feature, mate, view.panels[feature.panel].frame, view.panels[mate.panel].frame)
            if not tally.see(off):
                tally.tell(
                    view.cause(feature.panel),
                    f"{view.cut(feature)} and its mate, the {view.cut(mate)}, {figure(off)} mm apart",
                    f"{figure(EXACT)} mm at most",
                    OUR_SLIP,
                )


def _told_wrong(feature: Feature, mate: Feature | None, view: CaseView) -> str:
    """Return what is wrong with the bond of two mates, or nothing."""
    if mate is None:
        return f"{view.cut(feature)}, whose mate is not there"
    if mate.mate != feature.id:
        return f"{view.cut(feature)}, whose mate names another"
    if mate.panel == feature.panel:
        return f"{view.cut(feature)}, whose mate is on the same panel"
    if (mate.joint, mate.station) != (feature.joint, feature.station):
        return f"{view.cut(feature)}, whose mate belongs to another place"
    return ""


def _may_stand_alone(details: Details, view: CaseView, feature: Feature) -> bool:
    """Return whether a cut needs no mate: its method cuts one panel only, or it opens into a mated cut.

    A pocket screw bores its own way into the other panel; a cam's hole opens into the bolt's bore.
    """
    joint = view.joints.get(feature.joint)
    if joint is None:
        return False
    thinner = min(view.panels[joint.receiving].thickness, view.panels[joint.entering].thickness)
    size = details.method(joint.method).size_for(thinner)
    if size is not None and not (size.receiving and size.entering):
        return True
    cuts = view.cuts[feature.panel]
    own = next(c for c in cuts if c.feature is feature)
    return any(
        gap_between(a, b) <= EXACT
        for other in cuts
        if other.feature.mate is not None
        and (other.feature.joint, other.feature.station) == (feature.joint, feature.station)
        for a in own.pieces
        for b in other.pieces
    )


def _apart(one: Feature, other: Feature, frame_one: Frame, frame_other: Frame) -> float:
    """Return the distance between the axes of two cuts as lines in the case frame (mm).

    Axes that run one way are apart across it; axes that cross at right angles are apart along the third axis.
    Cuts with a run (slots, pockets) must also run the same way.
    """
    ways = {frame_one.direction(one.surface.axis).axis, frame_other.direction(other.surface.axis).axis}
    runs = [
        frame.direction(run).axis
        for f, frame in ((one, frame_one), (other, frame_other))
        if (run := getattr(f.shape, "run", None)) is not None
    ]
    if len(ways) == 1 and len(runs) == 2 and runs[0] is not runs[1]:
        return math.inf
    return _line_gap(frame_one.to_case(one.at), frame_other.to_case(other.at), ways)


def _line_gap(one: Point, other: Point, ways: set[Axis]) -> float:
    return math.hypot(*(one.along(a) - other.along(a) for a in AXES if a not in ways))


def marks_agree(views: Sequence[CaseView], setout: SetOut) -> Finding:
    """Return whether the marks of both mates fall together, each entering panel put to its line as marked.

    In inches a sum of a fraction and decimals ends at half of the last digit, and so it does in millimetres where a
    board is no whole hundredth thick: 17.169 less a printed 13.13 is no figure that can be printed.
    """
    lengths = views[0].lengths if views else METRIC
    limit = lengths.half_digit + MARKED if _are_sums(views, lengths) else MARKED
    within = f"within {figure(limit / MM_PER_INCH)} in" if lengths.is_inch else f"within {figure(limit)} mm"
    tally = Tally(
        claim=Claim.MARKS,
        subject="pairs of marks",
        holds=f"carry the same rounded figure, {within}",
        fails="do not carry the same figure",
        one=f"pair of marks carries the same rounded figure, {within}",
        measure="farthest off",
        code="proof-marks",
        limit=limit,
    )
    for view, drawn in zip(views, setout.cases, strict=True):
        marks = _marks(drawn)
        lines: dict[str, JointLine] = {line.joint: line for p in drawn.panels for line in p.lines}
        for feature in view.case.features:
            if feature.mate is None or feature.mate < feature.id:
                continue
            one, other = marks.get(feature.id), marks.get(feature.mate)
            if one is None or other is None:
                continue  # told by `marks_are_true`
            off = _apart_as_marked(one, other, view, lines.get(feature.joint))
            if not (tally.see(off) and one.mate == other.label and other.mate == one.label):
                tally.tell(
                    view.cause(feature.panel),
                    f"marks {one.label} and {other.label} of two mates, {figure(off)} mm apart",
                    "one rounded figure for both, each naming the other",
                    OUR_SLIP,
                )
    return tally.finding()


def _are_sums(views: Sequence[CaseView], lengths: LengthWriter) -> bool:
    """Whether some marks are sums that end beside the last digit: in inches, and with a board that is no whole one."""
    thicknesses = {p.thickness for v in views for p in v.panels.values()}
    return lengths.is_inch or any(abs(lengths.printed(t) - t) > EXACT for t in thicknesses)


def _apart_as_marked(one: Mark, other: Mark, view: CaseView, line: JointLine | None) -> float:
    """Return how far apart the marks come to stand once the entering panel is put to its line, as marked."""
    frames = view.panels[one.panel].frame, view.panels[other.panel].frame
    ways = {f.direction(m.surface.axis).axis for f, m in zip(frames, (one, other), strict=True)}
    places = [
        f.to_case(PanelPoint(m.u, m.v, m.w)) + _put_to_line(m, view, line)
        for f, m in zip(frames, (one, other), strict=True)
    ]
    return _line_gap(places[0], places[1], ways)


def _put_to_line(mark: Mark, view: CaseView, line: JointLine | None) -> Point:
    """Return how far the panel of a mark moves when its face side is put to its line, as that is marked."""
    still = Point(0.0, 0.0, 0.0)
    if line is None or mark.panel != line.mate:
        return still
    frame, contact = view.panels[line.panel].frame, view.joints[line.joint].contact
    axis = PanelAxis.U if line.across_length else PanelAxis.V
    exact = sorted((frame.to_panel(contact.low).along(axis), frame.to_panel(contact.high).along(axis)))
    way, is_far = frame.direction(axis), line.face_side_line == line.far
    return still.with_(way.axis, (line.face_side_line - exact[is_far]) * way.sign)


def marks_are_true(views: Sequence[CaseView], setout: SetOut) -> Finding:
    """Return whether each cut has one mark, no farther from its exact place than rounding may move it.

    Half a step, and half the last digit that is written for each figure that it is the sum of: its place on its mate,
    and where that is no whole digit, as in inches, their sum.
    """
    lengths = views[0].lengths if views else METRIC
    limit = setout.mark_to / 2 + lengths.half_digit * (2 if _are_sums(views, lengths) else 1) + 1e-6
    step = views[0].told(setout.mark_to) if views else ""
    tally = Tally(
        claim=Claim.MARKS_TRUE,
        subject="marks",
        holds=f"stand within half of {step}, and the last digit, of their exact places",
        fails="do not stand where their cuts are",
        one=f"mark stands within half of {step}, and the last digit, of its exact place",
        measure="farthest off",
        code="proof-marks",
        limit=limit,
    )
    for view, drawn in zip(views, setout.cases, strict=True):
        marks = _marks(drawn)
        for feature in view.case.features:
            mark = marks.get(feature.id)
            if mark is None:
                tally.see()
                tally.tell(view.cause(feature.panel), f"{view.cut(feature)} without a mark", "one mark", OUR_SLIP)
                continue
            off = max(abs(mark.u - feature.at.u), abs(mark.v - feature.at.v), abs(mark.w - feature.at.w))
            if not (tally.see(off) and mark.panel == feature.panel and mark.surface is feature.surface):
                tally.tell(
                    view.cause(feature.panel),
                    f"mark {mark.label}, {figure(off)} mm from the {view.cut(feature)}",
                    f"{figure(limit)} mm at most, on the same surface",
                    OUR_SLIP,
                )
            elif (odd := _station_off_step(view, mark, setout.mark_to)) > MARKED:
                tally.tell(
                    view.cause(feature.panel),
                    f"mark {mark.label} for a station {figure(odd)} mm off a whole step",
                    f"stations in whole steps of {step}",
                    OUR_SLIP,
                )
    return tally.finding()


def _station_off_step(view: CaseView, mark: Mark, step: float) -> float:
    """Return how far the station that a mark stands for is from a whole number of steps (0 where it has none)."""
    feature = mark.feature
    joint = view.joints.get(feature.joint)
    if joint is None or not 0 < feature.station <= len(joint.stations):
        return 0.0
    frame, axis = view.panels[feature.panel].frame, joint.run.axis
    moved = frame.to_case(PanelPoint(mark.u, mark.v, mark.w)).along(axis) - frame.to_case(feature.at).along(axis)
    station = joint.stations[feature.station - 1] + moved * joint.run.sign
    return abs(station - round(station / step) * step)


def _marks(drawn: CaseSetOut) -> dict[FeatureId, Mark]:
    return {m.feature.id: m for p in drawn.panels for m in p.marks}
