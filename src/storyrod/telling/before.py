"""Before it happens: on each panel and card, what comes of laying a panel the wrong way round."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from storyrod.measure.space import PanelPoint
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.machining import SetUp
from storyrod.model.mark import PanelSetOut
from storyrod.model.rescue import Signs
from storyrod.planning import Plan
from storyrod.rescue import WrongWay, wrong_ways

MOST_WAYS: Final = 2
"""Slips that are told of a panel, or of a card."""

_TURNED: Final[Mapping[Signs, str]] = {
    (-1, -1, 1): "turned end for end",
    (1, -1, -1): "with the far face up, its ends as they are",
    (-1, 1, -1): "turned over end for end",
    (1, 1, -1): "cut like its twin",
    (1, -1, 1): "cut from its far edge like its twin",
    (-1, 1, 1): "cut from its far end like its twin",
    (-1, -1, -1): "turned about like its twin",
}


def before_panel(out: PanelSetOut, lengths: LengthWriter) -> tuple[str, ...]:
    """Return what to mind before a panel is cut: the two slips that are noticed last, or that none can be made."""
    cuts = [_as_marked(out)[m.feature.id] for m in out.marks]
    if not cuts:
        return ()
    ways = wrong_ways(out.panel, cuts)
    wrong = [w for w in ways if not w.is_right]
    if not wrong:
        return (f"{out.panel.mark} cannot go wrong: whichever way round it lies, its cuts are right.",)
    lines = [_line(out.panel.mark, w, lengths) for w in wrong[:MOST_WAYS]]
    same = [_TURNED[w.signs] for w in ways if w.is_right]
    return (*lines, *((f"{out.panel.mark} {' or '.join(same)} makes no difference.",) if same else ()))


def before_card(plan: Plan, set_up: SetUp) -> tuple[str, ...]:
    """Return what to mind before the cuts of a set-up: the slips noticed last, and the panels that none can befall."""
    by_panel: dict[str, set[FeatureId]] = {}
    for operation in set_up.operations if set_up.is_cut else ():
        by_panel.setdefault(operation.panel, set()).update(operation.features)
    outs: dict[str, PanelSetOut] = {p.panel.id: p for c in plan.set_out.cases for p in c.panels}
    found: dict[WrongWay, list[str]] = {}
    safe: list[str] = []
    for panel, features in by_panel.items():
        out = outs.get(panel)
        cuts = [f for i, f in _as_marked(out).items() if i in features] if out is not None else []
        if out is None or not cuts:
            continue
        wrong = [w for w in wrong_ways(out.panel, cuts) if not w.is_right]
        if not wrong:
            safe.append(out.panel.mark)
        for way in wrong[:1]:
            found.setdefault(way, []).append(out.panel.mark)
    nearest = sorted(found.items(), key=lambda f: (f[0].off, f[1]))[:MOST_WAYS]
    lines = [_line(", ".join(marks), way, plan.job.lengths) for way, marks in nearest]
    return (*lines, *((f"Cannot go wrong here: {', '.join(safe)}.",) if safe else ()))


def _line(marks: str, way: WrongWay, lengths: LengthWriter) -> str:
    how = _TURNED[way.signs]
    if way.surface is not None:
        return f"{marks} {how}: cuts in the {way.surface.value}, where none of them belongs."
    return f"{marks} {how}: cuts fall up to {lengths.told(way.off)} beside their mates."


def _as_marked(out: PanelSetOut) -> Mapping[FeatureId, Feature]:
    """Return the cuts of a panel where their marks are: by these it is cut."""
    return {m.feature.id: replace(m.feature, at=PanelPoint(m.u, m.v, m.w)) for m in out.marks}


def all_before(plan: Plan) -> Mapping[str, Sequence[str]]:
    """Return what to mind before each set-up, by its id."""
    return {s.id: before_card(plan, s) for s in plan.machining.set_ups}
