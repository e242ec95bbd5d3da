"""Fittings on panels that joints have made longer: the same places in the case, in the grown panel's frame.

A channel or a notch that ran out of an end or edge of the panel still does; one that stopped, stops where it did.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from storyrod.joinery._slab import PANEL_AXIS, Slab, Vec, vector
from storyrod.measure.space import PanelAxis, PanelPoint
from storyrod.measure.tolerance import EXACT
from storyrod.model.feature import NOTCH, Channel, CutOut, Feature, Hole
from storyrod.model.fixing import Fixing
from storyrod.model.panel import Panel, PanelId


def fitted(fittings: Iterable[Feature], before: Iterable[Panel], slabs: dict[PanelId, Slab]) -> Iterator[Feature]:
    """Yield the fittings, those on grown panels moved; `before` are the panels as the carcass made them."""
    grown = {p.id: p for p in before if slabs[p.id].panel is not p}
    for feature in fittings:
        panel = grown.get(feature.panel)
        yield feature if panel is None else _moved(feature, panel, slabs[panel.id])


def to_the_tips(fittings: Iterable[Feature], fixings: Iterable[Fixing]) -> Iterator[Feature]:
    """Yield the fittings as deep as their screws go: the tip of a screw runs on where its pilot hole ends.

    Cuts from the other face must keep clear of the tip, not of the pilot alone.
    """
    bites = {f: x.screws.bite for x in fixings if x.screws is not None for f in x.features}
    for feature in fittings:
        shape, bite = feature.shape, bites.get(feature.id, 0.0)
        if isinstance(shape, Hole) and not shape.through and shape.depth < bite:
            yield replace(feature, shape=replace(shape, depth=bite))
        else:
            yield feature


def _moved(feature: Feature, before: Panel, slab: Slab) -> Feature:
    """Return a fitting in the frame of its grown panel."""
    start = slab.uvw(vector(before.frame.origin))  # how much the panel grew at its datum end and face edge
    at = [feature.at.u + start[0], feature.at.v + start[1], feature.at.w + start[2]]
    shape = feature.shape
    if isinstance(shape, Channel):
        run = PANEL_AXIS.index(shape.run)
        size = (before.length, before.width, before.thickness)[run]
        low = 0.0 if shape.stopped[0] else start[run]
        high = 0.0 if shape.stopped[1] else slab.size[run] - start[run] - size
        at[run] += (high - low) / 2
        shape = replace(shape, length=shape.length + low + high)
    elif isinstance(shape, CutOut) and shape.outline == NOTCH and shape.run is PanelAxis.U:
        ends, edges = _opened(feature, before, shape)
        low, high = (start[0] if ends[0] else 0.0), (_grown(slab, before, start)[0] if ends[1] else 0.0)
        into = _grown(slab, before, start)[1] if edges[1] else start[1] if edges[0] else 0.0
        at[0] += (high - low) / 2
        at[1] += into if edges[1] else -into
        shape = replace(shape, length=shape.length + low + high, height=shape.height + into)
    return replace(feature, at=_point((at[0], at[1], at[2])), shape=shape)


def _grown(slab: Slab, before: Panel, start: Sequence[float]) -> tuple[float, float]:
    """Return by how much a panel grew at its far end and its far edge (mm)."""
    return slab.size[0] - start[0] - before.length, slab.size[1] - start[1] - before.width


def _opened(feature: Feature, before: Panel, shape: CutOut) -> tuple[tuple[bool, bool], tuple[bool, bool]]:
    """Return at which ends (datum end first) and edges a notch runs out of its panel as the carcass made it."""
    at, half = feature.at, shape.length / 2
    ends = (at.u - half < EXACT, at.u + half > before.length - EXACT)
    return ends, (abs(at.v) < EXACT, abs(at.v - before.width) < EXACT)


def _point(at: Vec) -> PanelPoint:
    return PanelPoint(*at)
