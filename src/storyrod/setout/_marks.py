"""Marks: every cut of a panel, numbered, with running figures from its datum end and face edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from storyrod.measure.length import Unit
from storyrod.measure.space import PanelPoint, Point
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.job import Job
from storyrod.model.mark import Mark
from storyrod.model.panel import Panel, PanelId, Surface
from storyrod.setout._rounding import STILL
from storyrod.setout._words import size_words

_ORDER = {s: n for n, s in enumerate(Surface)}


def marks_by_panel(
    job: Job,
    panels: Mapping[PanelId, Panel],
    features: Sequence[Feature],
    moves: Mapping[FeatureId, Point],
    joint_numbers: Mapping[str, str],
) -> dict[PanelId, tuple[Mark, ...]]:
    """Return the numbered marks of every panel, mates named by their labels."""
    placed: dict[PanelId, list[tuple[Feature, PanelPoint]]] = {p: [] for p in panels}
    for feature in features:
        placed[feature.panel].append((feature, _marked_at(feature, panels[feature.panel], moves[feature.id])))
    ordered = {panel_id: _in_order(entries) for panel_id, entries in placed.items()}
    labels = {
        feature.id: f"{panels[panel_id].mark}.{number}"
        for panel_id, entries in ordered.items()
        for number, (feature, _) in enumerate(entries, start=1)
    }
    words = _Words(job.unit, job.fraction)
    return {
        panel_id: tuple(
            _mark(n, feature, at, labels, joint_numbers, words) for n, (feature, at) in enumerate(entries, start=1)
        )
        for panel_id, entries in ordered.items()
    }


def _in_order(entries: list[tuple[Feature, PanelPoint]]) -> list[tuple[Feature, PanelPoint]]:
    """Return a panel's cuts in the order a maker marks them: by surface, joints along the length, then fittings.

    The cuts of one kind of fitting stay together, row by row, so that a row of pin holes has running numbers.
    """
    groups: dict[tuple[int, bool, str, str], list[tuple[Feature, PanelPoint]]] = {}
    for feature, at in entries:
        fitting = ("", "") if feature.joint else (feature.item or feature.why, feature.kind)
        groups.setdefault((_ORDER[feature.surface], not feature.joint, *fitting), []).append((feature, at))
    return [entry for key in sorted(groups) for entry in _by_rows(groups[key], is_fitting=key[1])]


def _by_rows(group: list[tuple[Feature, PanelPoint]], *, is_fitting: bool) -> list[tuple[Feature, PanelPoint]]:
    rows, places = {round(a.v, 3) for _, a in group}, {round(a.u, 3) for _, a in group}
    if is_fitting and len(rows) < len(places):
        return sorted(group, key=lambda e: (e[1].v, e[1].u, e[1].w, e[0].kind, e[0].id))
    return sorted(group, key=lambda e: (e[1].u, e[1].v, e[1].w, e[0].kind, e[0].id))


class _Words:
    """Size words, worked out once for each distinct shape."""

    def __init__(self, unit: Unit, parts: int) -> None:
        self._unit, self._parts = unit, parts
        self._known: dict[object, str] = {}

    def of(self, feature: Feature) -> str:
        """Return size and depth of the feature in words."""
        known = self._known.get(feature.shape)
        if known is None:
            known = self._known[feature.shape] = size_words(feature.shape, self._unit, self._parts)
        return known


def _marked_at(feature: Feature, panel: Panel, move: Point) -> PanelPoint:
    """Return where the mark stands, free of float dust (a millionth of a mm)."""
    moved = feature.at if move is STILL else panel.frame.to_panel(panel.frame.to_case(feature.at) + move)
    return PanelPoint(round(moved.u, 6), round(moved.v, 6), round(moved.w, 6))


def _mark(
    number: int,
    feature: Feature,
    at: PanelPoint,
    labels: Mapping[FeatureId, str],
    joint_numbers: Mapping[str, str],
    words: _Words,
) -> Mark:
    return Mark(
        number=number,
        label=labels[feature.id],
        panel=feature.panel,
        surface=feature.surface,
        feature=feature,
        what=words.of(feature),
        u=at.u,
        v=at.v,
        w=at.w,
        mate=labels[feature.mate] if feature.mate is not None else "",
        joint=joint_numbers.get(feature.joint, ""),
    )
