"""The case as it would stand: pieces of their real sizes, cuts as they really are, old ones left open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from storyrod.measure.space import PANEL_AXES, Box, PanelAxis
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.panel import Panel
from storyrod.model.rescue import Piece
from storyrod.rescue._draft import Bench, Draft, first_draft
from storyrod.rescue._plugs import swallows
from storyrod.rescue._reading import Lying, Reader, as_cut


def as_stands(draft: Draft, reader: Reader) -> DetailedCase:
    """Return the case as it would stand, for the proof: every old cut that is neither plugged nor cut away is in it."""
    panels, features = [], []
    for lying in reader.all(draft):
        panel = with_sizes(lying.panel, lying.piece)
        panels.append(panel)
        features += [_at_its_end(f, lying.panel, panel) for f in _cuts(draft, lying)]
    return replace(draft.case, panels=tuple(panels), features=tuple(features), _by_panel={})


def found_of(bench: Bench) -> DetailedCase:
    """Return the case as the slips left it, before anything is done about them."""
    return as_found(first_draft(bench), Reader())


def as_found(draft: Draft, reader: Reader) -> DetailedCase:
    """Return the case as the slips left it: a cut that went elsewhere stands there, in the place of the wanted one."""
    panels, features = [], []
    for lying in reader.all(draft):
        panel = with_sizes(lying.panel, lying.piece)
        panels.append(panel)
        by_id = {c.id: c for c in lying.old.values()}
        made = (_as_found(w, lying, by_id) for w in draft.case.on(panel.id))
        features += [_at_its_end(f, lying.panel, panel) for f in made]
    return replace(draft.case, panels=tuple(panels), features=tuple(features), _by_panel={})


def _as_found(wanted: Feature, lying: Lying, old: dict[FeatureId, Feature]) -> Feature:
    if wanted.id in lying.there:
        return replace(wanted, shape=lying.there[wanted.id][1].shape)
    cut = old.get(wanted.id)
    return wanted if cut is None else replace(wanted, surface=cut.surface, at=cut.at, shape=cut.shape)


def _cuts(draft: Draft, lying: Lying) -> Iterator[Feature]:
    wanted = draft.case.on(lying.panel.id)
    for one in wanted:
        yield as_cut(one, lying.there[one.id][1]) if one.id in lying.there else one
    plugged = {p.cut for p in draft.plugs if p.piece == lying.piece.id}
    for number, cut in lying.old.items():
        if number not in plugged and not any(swallows(one, cut) for one in lying.to_cut):
            yield left_open(cut, number)


def left_open(cut: Feature, number: int) -> Feature:
    """Return an old cut as one that serves nothing."""
    name = FeatureId(f"{cut.panel}:old.{number}")
    return replace(cut, id=name, joint="", station=0, mate=None, item="", pattern="", why="a slip")


def with_sizes(panel: Panel, piece: Piece) -> Panel:
    """Return a panel as large as its piece: less is gone at its far end, far edge and far face."""
    box = panel.box
    for axis, size in zip(PANEL_AXES, piece.sizes, strict=True):
        box = _grown(box, panel, axis, size - panel.extent(axis))
    return panel if box == panel.box else replace(panel, box=box)


def _grown(box: Box, panel: Panel, axis: PanelAxis, by: float) -> Box:
    way = panel.frame.direction(axis)
    low, high = box.span(way.axis)
    return box.with_span(way.axis, low, high + by) if way.sign > 0 else box.with_span(way.axis, low - by, high)


def _at_its_end(feature: Feature, planned: Panel, real: Panel) -> Feature:
    """Return a cut of a far surface at where that surface really is."""
    axis = feature.surface.axis
    if not feature.surface.is_far or planned is real:
        return feature
    return replace(feature, at=feature.at.with_(axis, real.extent(axis)))
