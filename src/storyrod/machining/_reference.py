"""What a line of cuts is placed from: the reference across it, why this one, and which hand results."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.machining._needs import Half, Need
from storyrod.measure.space import Direction, PanelAxis
from storyrod.model.joint import Joint
from storyrod.model.machining import Hand, LineToMark
from storyrod.model.panel import Panel, Surface, surface_at

_FLUSH = 0.01
NEAREST = " is nearest, so the setting is short and accurate."
"""How the reason of what is placed from the nearest edge or end goes on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """What a need is placed from across its line.

    Attributes:
        words: the surface or line, in words.
        wanted: from there to the middle of the cuts.
        at_end: whether a fence can hang over an edge or end of the panel there.
        line, line_at: what must be marked instead, and where from the panel's datum.
        why: why this one.
        same_face: whether the mate is placed from the same face.
        toward: direction of the case from the cuts to the reference.
    """

    words: str
    wanted: float
    at_end: bool
    line: LineToMark
    line_at: float | None
    why: str
    same_face: bool
    toward: Direction


_SAME = (
    "Both halves are placed from the {face} of the {panel}, so an error in its thickness shows on the other face only."
)


def reference_of(need: Need, mates: dict[str, Panel]) -> Reference:
    """Return what a need is placed from; `mates` holds the panels of its case by id."""
    if need.half is Half.OTHER or need.joint is None or (need.half is Half.RECEIVING and need.line is None):
        return _from_nearest_edge(need)
    entering, receiving = mates[need.joint.entering], mates[need.joint.receiving]
    face = reference_face(need.joint, entering, receiving)
    why = _SAME.format(face=face.value, panel=entering.name)
    if need.half is Half.ENTERING:
        return _on_entering(need, face, why)
    return _on_receiving(need, face, entering, why)


def reference_face(joint: Joint, entering: Panel, receiving: Panel) -> Surface:
    """Return the face of the entering panel from which both halves are placed.

    Its face side, unless at a corner only its far face lies flush with the receiving panel's end: there the fence can
    hang over that end, and the far face is what must come flush.
    """
    axis = entering.frame.into.axis
    planes = dict(zip((False, True), entering.box.span(axis), strict=True))
    face_high = entering.frame.into.sign < 0
    ends = receiving.box.span(axis)
    flush = {s: any(abs(planes[h] - e) < _FLUSH for e in ends) for s, h in _sides(face_high=face_high)}
    if joint.at_corner and flush[Surface.FAR_FACE] and not flush[Surface.FACE]:
        return Surface.FAR_FACE
    return Surface.FACE


def _sides(*, face_high: bool) -> tuple[tuple[Surface, bool], ...]:
    return ((Surface.FACE, face_high), (Surface.FAR_FACE, not face_high))


def _on_entering(need: Need, face: Surface, why: str) -> Reference:
    depth = need.at
    wanted = depth if face is Surface.FACE else need.panel.thickness - depth
    into = need.panel.frame.into
    toward = into.reverse if face is Surface.FACE else into
    return _at_edge(face.value, wanted, why, toward)


def _on_receiving(need: Need, face: Surface, entering: Panel, why: str) -> Reference:
    line = need.line
    assert line is not None  # noqa: S101  # the caller has looked
    other = line.far if line.face_side_line == line.near else line.near
    at = line.face_side_line if face is Surface.FACE else other
    exact = need.marks[0].feature.at.along(need.across)
    extent = need.panel.extent(need.across)
    grows = need.panel.frame.direction(need.across)
    for end, far in ((0.0, False), (extent, True)):
        surface = surface_at(need.across, far=far)
        plane = _plane_of(need.panel, surface)
        if abs(_face_plane(entering, face) - plane) < _FLUSH:
            toward = grows if far else grows.reverse
            return _at_edge(surface.value, abs(exact - end), why, toward)
    toward = grows if at > need.at else grows.reverse
    words = f"line of the {face.value} of the {entering.name}"
    return Reference(
        words=words,
        wanted=abs(need.at - at),
        at_end=False,
        line=LineToMark.FACE_LINE,
        line_at=at,
        why=why,
        same_face=True,
        toward=toward,
    )


def _at_edge(words: str, wanted: float, why: str, toward: Direction) -> Reference:
    """Return a reference that a fence can hang on, from which the mate is placed as well."""
    return Reference(
        words=words,
        wanted=wanted,
        at_end=True,
        line=LineToMark.NONE,
        line_at=None,
        why=why,
        same_face=True,
        toward=toward,
    )


def _plane_of(panel: Panel, surface: Surface) -> float:
    way = panel.frame.direction(surface.axis)
    low, high = panel.box.span(way.axis)
    return high if (way.sign > 0) == surface.is_far else low


def _face_plane(panel: Panel, face: Surface) -> float:
    return _plane_of(panel, face)


def _from_nearest_edge(need: Need) -> Reference:
    extent = need.panel.extent(need.across)
    far = need.at > extent / 2
    surface = surface_at(need.across, far=far)
    grows = need.panel.frame.direction(need.across)
    why = f"The {surface.value}{NEAREST}"
    if need.across is PanelAxis.W:
        why = f"Depth is measured from the {surface.value}."
    return Reference(
        words=surface.value,
        wanted=extent - need.at if far else need.at,
        at_end=True,
        line=LineToMark.NONE,
        line_at=None,
        why=why,
        same_face=False,
        toward=grows if far else grows.reverse,
    )


def hand_of(need: Need, toward: Direction) -> Hand:
    """Return whether a jig lies as drawn: x along the cuts, y to the reference, z out of the work, right-handed."""
    along = need.panel.frame.direction(need.along)
    along = along.reverse if need.from_far else along
    out = need.panel.frame.direction(need.surface.axis)
    out = out if need.surface.is_far else out.reverse
    order = (along.nth, toward.nth, out.nth)
    even = order in ((0, 1, 2), (1, 2, 0), (2, 0, 1))
    sign = along.sign * toward.sign * out.sign * (1 if even else -1)
    return Hand.AS_DRAWN if sign > 0 else Hand.TURNED
