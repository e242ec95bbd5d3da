"""From the facts to the pieces as they lie on the bench: what is cut in each, and where."""

from __future__ import annotations

from dataclasses import replace

from storyrod.measure.space import PANEL_AXES, PanelAxis, PanelPoint
from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, CutOut, Feature, FeatureId, Hole, SegmentPocket, Shape, Slot
from storyrod.model.joint import JointId
from storyrod.model.mark import SetOut
from storyrod.model.panel import Panel, PanelId
from storyrod.model.rescue import Damage, Piece, PieceId
from storyrod.rescue._faults import cuts_of
from storyrod.rescue._names import Named, Names


def pieces_of(
    details: Details, set_out: SetOut, facts: AsBuilt, case: str, copy: int, ticked: frozenset[FeatureId] = frozenset()
) -> dict[PanelId, Piece]:
    """Return the pieces of one copy of a case; what is `ticked`, or said to be cut, is cut where it should be."""
    names = Names(details, set_out)
    slips = [s for s in facts.standing if s.copy == copy]
    own = [n for n in names.by_mark.values() if n.case.built.case.code == case]
    glued = {j for s in slips if s.kind is SlipKind.GLUED for n in own if names.of(s.panel) is n for j in _glued(s, n)}
    held = {p for n in own for j in n.joints if j.id in glued for p in (j.entering, j.receiving)}
    of_glued = frozenset(f.id for n in own if n.panel.id in held for f in n.case.on(n.panel.id))
    cut = ticked | names.cut_as_marked(facts, copy) | of_glued
    found = {n.panel.id: _piece(n, [s for s in slips if names.of(s.panel) is n], cut) for n in own}
    for slip in slips:
        for named in own:
            if slip.off and names.of(slip.panel) is named:
                _close_where_glued(found, slip, named)
    return {
        named.panel.id: replace(found[named.panel.id], glued=frozenset(j.id for j in named.joints if j.id in glued))
        for named in own
    }


def blank(panel: Panel, suffix: str = "") -> Piece:
    """Return a piece without any cut, as large as a panel should be."""
    return Piece(
        id=PieceId(f"{panel.id}{suffix}"),
        meant_for=panel.id,
        board=panel.board,
        is_mirrored=panel.frame.is_mirrored,
        length=panel.length,
        width=panel.width,
        thickness=panel.thickness,
        edged=tuple(e.surface for e in panel.edged),
        is_new=bool(suffix),
    )


def _piece(named: Named, slips: list[Slip], cut: frozenset[FeatureId]) -> Piece:
    panel = named.panel
    piece = blank(panel)
    wanted = named.case.on(panel.id)
    about: dict[FeatureId, list[Slip]] = {}
    for slip in slips:
        for one in cuts_of(slip, named):
            about.setdefault(one, []).append(slip)
    cuts = []
    for feature in wanted:
        own = about.get(feature.id, [])
        if feature.id in cut or any(s.kind is not SlipKind.NOT_CUT for s in own):
            cuts += _as_cut(feature, own, panel)
    piece = replace(piece, cuts=tuple(cuts), is_lost=any(s.kind is SlipKind.LOST for s in slips))
    for slip in slips:
        piece = _with(piece, slip, named)
    return piece


def _as_cut(feature: Feature, slips: list[Slip], panel: Panel) -> list[Feature]:
    if any(s.kind is SlipKind.NOT_CUT for s in slips):
        return []
    made = [feature]
    for slip in slips:
        match slip.kind:
            case SlipKind.ELSEWHERE:
                made[0] = _moved(made[0], slip.along or 0.0, slip.across or 0.0)
            case SlipKind.WRONG_END:
                made[0] = _from_far_end(made[0], panel)
            case SlipKind.OTHER_FACE:
                made[0] = _through_the_board(made[0], panel)
            case SlipKind.DEPTH | SlipKind.WIDTH:
                made[0] = replace(made[0], shape=_with_measure(made[0].shape, slip))
            case _:
                made.append(_moved(feature, slip.along or 0.0, slip.across or 0.0))
    return made


def flat_axes(feature: Feature) -> tuple[PanelAxis, PanelAxis]:
    """Return the two axes of the surface that a cut is in: along it first."""
    first, second = (a for a in PANEL_AXES if a is not feature.surface.axis)
    return first, second


def _moved(feature: Feature, along: float, across: float) -> Feature:
    first, second = flat_axes(feature)
    return replace(feature, at=feature.at.moved(first, along).moved(second, across))


def _from_far_end(feature: Feature, panel: Panel) -> Feature:
    first, _ = flat_axes(feature)
    return replace(feature, at=feature.at.with_(first, panel.extent(first) - feature.at.along(first)))


def _through_the_board(feature: Feature, panel: Panel) -> Feature:
    axis = feature.surface.axis
    at = feature.at.with_(axis, panel.extent(axis) - feature.at.along(axis))
    return replace(feature, surface=feature.surface.opposite, at=at)


def _with_measure(shape: Shape, slip: Slip) -> Shape:
    if slip.kind is SlipKind.DEPTH and slip.depth is not None:
        if isinstance(shape, Hole | Slot | Channel | SegmentPocket | CutOut):
            return replace(shape, depth=slip.depth)
    elif slip.cut_width is not None:
        if isinstance(shape, Hole):
            return replace(shape, diameter=slip.cut_width)
        if isinstance(shape, Slot | Channel | SegmentPocket):
            return replace(shape, width=slip.cut_width)
    return shape


def _with(piece: Piece, slip: Slip, named: Named) -> Piece:
    match slip.kind:
        case SlipKind.SIZE:
            return replace(
                piece,
                length=slip.length or piece.length,
                width=slip.width or piece.width,
                thickness=slip.thickness or piece.thickness,
                out_of_square=slip.out_of_square or piece.out_of_square,
            )
        case SlipKind.DAMAGE if slip.surface is not None:
            at = _on_surface(slip, named.panel)
            return replace(piece, damage=(*piece.damage, Damage(surface=slip.surface, at=at, size=slip.size or 0.0)))
        case SlipKind.GLUED:
            return replace(piece, off=slip.off or 0.0)
    return piece


def _on_surface(slip: Slip, panel: Panel) -> PanelPoint:
    surface = slip.surface
    assert surface is not None  # noqa: S101 - asked for such slips only
    at = PanelPoint(slip.from_end or 0.0, slip.from_edge or 0.0, 0.0)
    return at.with_(surface.axis, panel.extent(surface.axis) if surface.is_far else 0.0)


def _glued(slip: Slip, named: Named) -> list[JointId]:
    return [j.id for j in named.joints if not slip.joints or j.number in slip.joints]


def _close_where_glued(found: dict[PanelId, Piece], slip: Slip, named: Named) -> None:
    """Put the cuts that a panel is glued to where it now stands: what is closed asks for no other cut."""
    way, by = named.panel.frame.into.axis, slip.off or 0.0
    joints = {j.id: j.receiving for j in named.joints if j.entering == named.panel.id and j.id in _glued(slip, named)}
    for receiving in set(joints.values()):
        piece, frame = found[receiving], named.case.panel(receiving).frame
        cuts = tuple(
            replace(c, at=frame.to_panel(frame.to_case(c.at).moved(way, by))) if c.joint in joints else c
            for c in piece.cuts
        )
        found[receiving] = replace(piece, cuts=cuts)
