"""How panels are laid for a set-up: which face up, which edge near, where the datum end is; with a picture of each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from storyrod.drawing import Drawing
from storyrod.drawing.panel_lies import Lie, panel_lies
from storyrod.model.feed import Feed, GuideSide
from storyrod.model.machining import Operation, SetUp, WorkStage
from storyrod.model.panel import Panel, PanelId, Surface

THE_REST: Final = "all others"
"""What stands under the picture of how most panels of a card lie, where the others are named."""

_MANY: Final = 4
_FACES: Final = frozenset({Surface.FACE, Surface.FAR_FACE})
_BY_NAME: Final = {s.value: s for s in Surface}


def laid_for(set_ups: Sequence[SetUp], panels: Mapping[PanelId, Panel]) -> tuple[Drawing, ...]:
    """Return a picture of each way in which panels lie for set-ups of one card; several have the marks of their panels.

    Nothing is drawn of what is bored in place, where no panel lies by itself.
    """
    found: dict[Lie, list[Operation]] = {}
    for set_up in set_ups:
        if set_up.setting is None or set_up.stage is not WorkStage.MACHINE:
            continue
        below = set_up.section is not None and set_up.section.below
        for o in set_up.operations:
            lie = _lie_of(o, panels[o.panel], set_up.setting.feed, below=below)
            if lie is not None:
                found.setdefault(lie, []).append(o)
    if len(found) < 2:  # one alone needs no names
        return tuple(_laid(lie, own, panels, ()) for lie, own in found.items())
    marks = {lie: tuple(dict.fromkeys(o.panel_mark for o in own)) for lie, own in found.items()}
    most = max(marks, key=lambda lie: len(marks[lie]))
    in_two = {m for lie, own in marks.items() if lie is not most for m in own} & set(marks[most])
    if len(marks[most]) >= _MANY and not in_two:
        marks[most] = (THE_REST,)
    return tuple(_laid(lie, own, panels, marks[lie]) for lie, own in found.items())


def _laid(lie: Lie, own: Sequence[Operation], panels: Mapping[PanelId, Panel], names: tuple[str, ...]) -> Drawing:
    worked = frozenset(o.surface for o in own if o.surface is not None and o.surface is not lie.up.opposite)
    return panel_lies(lie, panels[own[0].panel], worked, names)


def _lie_of(o: Operation, panel: Panel, feed: Feed | None, *, below: bool) -> Lie | None:
    """Return how a panel lies for one placing; None where no surface is worked, or a table's cutter works an edge."""
    if o.surface is None or (below and o.surface not in _FACES):
        return None
    reference = _BY_NAME.get(o.reference)
    if o.surface in _FACES:
        up = o.surface.opposite if below else o.surface
    else:  # what is placed from a face is placed on it
        up = reference if reference is not None and reference in _FACES else Surface.FACE
    return Lie.of(panel, up, _near(o, reference, feed))


def _near(o: Operation, reference: Surface | None, feed: Feed | None) -> Surface:
    """Return the edge toward whoever stands there: what guides the tool lies beyond, or toward them by a side fence."""
    side = GuideSide.NONE if feed is None else feed.guide_side
    beyond = o.places[0].beyond if o.places and side is GuideSide.BEYOND else None
    if beyond is not None and beyond not in _FACES:
        return beyond.opposite
    if reference is not None and reference not in _FACES:
        if side is GuideSide.BEYOND:
            return reference.opposite
        if side is GuideSide.TOWARD_YOU:
            return reference
    return Surface.FACE_EDGE
