"""Marks: every cut of a panel, numbered, with running figures from its datum end and face edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from storyrod.measure.space import Point
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.job import Job
from storyrod.model.mark import Mark
from storyrod.model.panel import Panel, PanelId, Surface
from storyrod.setout._places import Places
from storyrod.setout._words import size_words

Placed = tuple[Feature, float, float, float]
"""A cut, with u, v and w of its mark."""

_ORDER = {s: n for n, s in enumerate(Surface)}


def marks_by_panel(
    job: Job,
    panels: Mapping[PanelId, Panel],
    features: Sequence[Feature],
    moves: Mapping[FeatureId, Point],
    places: Places,
    joint_numbers: Mapping[str, str],
) -> dict[PanelId, tuple[Mark, ...]]:
    """Return the numbered marks of every panel, mates named by their labels."""
    placed: dict[PanelId, list[Placed]] = {p: [] for p in panels}
    for feature in features:
        placed[feature.panel].append((feature, *places.of(feature, moves[feature.id])))
    ordered = {panel_id: _in_order(entries) for panel_id, entries in placed.items()}
    labels = {
        feature.id: f"{panels[panel_id].mark}.{number}"
        for panel_id, entries in ordered.items()
        for number, (feature, *_) in enumerate(entries, start=1)
    }
    words = _Words(job.lengths)
    return {
        panel_id: tuple(
            _mark(number, entry, labels, joint_numbers, words) for number, entry in enumerate(entries, start=1)
        )
        for panel_id, entries in ordered.items()
    }


def _in_order(entries: list[Placed]) -> list[Placed]:
    """Return a panel's cuts in the order a maker marks them: by surface, joints along the length, then fittings.

    The cuts of one kind of fitting stay together, row by row, so that a row of pin holes has running numbers.
    """
    groups: dict[tuple[int, bool, str, str], list[Placed]] = {}
    for entry in entries:
        feature = entry[0]
        fitting = ("", "") if feature.joint else (feature.item or feature.why, feature.kind)
        groups.setdefault((_ORDER[feature.surface], not feature.joint, *fitting), []).append(entry)
    return [entry for key in sorted(groups) for entry in _by_rows(groups[key], is_fitting=key[1])]


def _by_rows(group: list[Placed], *, is_fitting: bool) -> list[Placed]:
    if is_fitting and len({round(v, 3) for _, _, v, _ in group}) < len({round(u, 3) for _, u, _, _ in group}):
        return sorted(group, key=lambda e: (e[2], e[1], e[3], e[0].kind, e[0].id))
    return sorted(group, key=lambda e: (e[1], e[2], e[3], e[0].kind, e[0].id))


class _Words:
    """Size words, worked out once for each distinct shape."""

    def __init__(self, lengths: LengthWriter) -> None:
        self._lengths = lengths
        self._known: dict[object, str] = {}

    def of(self, feature: Feature) -> str:
        """Return size and depth of the feature in words."""
        known = self._known.get(feature.shape)
        if known is None:
            known = self._known[feature.shape] = size_words(feature.shape, self._lengths)
        return known


def _mark(
    number: int,
    entry: Placed,
    labels: Mapping[FeatureId, str],
    joint_numbers: Mapping[str, str],
    words: _Words,
) -> Mark:
    feature, u, v, w = entry
    return Mark(
        number=number,
        label=labels[feature.id],
        panel=feature.panel,
        surface=feature.surface,
        feature=feature,
        what=words.of(feature),
        u=u,
        v=v,
        w=w,
        mate=labels[feature.mate] if feature.mate is not None else "",
        joint=joint_numbers.get(feature.joint, ""),
    )
