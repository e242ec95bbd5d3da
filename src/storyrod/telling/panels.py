"""Panels: how many of each, which hand, and what is on their edges."""

from __future__ import annotations

from storyrod.measure.space import Direction
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Panel, PanelId
from storyrod.planning import Plan
from storyrod.telling.shown import Shown


def panels_of(plan: Plan) -> list[tuple[Panel, int]]:
    """Return every panel of the job with how many of it are made."""
    return [(p, c.built.case.count) for c in plan.details.cases for p in c.panels]


def counts(plan: Plan) -> dict[PanelId, int]:
    """Return how many of each panel the job makes."""
    return {p.id: c.built.case.count for c in plan.details.cases for p in c.panels}


def hand_words(out: PanelSetOut) -> str:
    """Return what the maker must know of a panel's hand."""
    panel = out.panel
    if panel.twin is None:
        return ""
    side = "left" if panel.frame.into is Direction.LEFT else "right"  # sides of cases and drawers face their inside
    return f"{side} hand; its twin is the mirror"


def bevel_words(panel: Panel, shown: Shown) -> str:
    """Return which edge is sawn at 45 degrees and how wide that leaves the faces; "" where none is."""
    bevel = panel.bevel
    if bevel is None:
        return ""
    wide, narrow = bevel.short.opposite.value, bevel.short.value
    return (
        f"Saw its {bevel.edge.value} at 45°: the {wide} stays {shown.n(panel.width)} wide, the {narrow} is "
        f"{shown.n(panel.width - panel.thickness)}."
    )


def scribe_words(panel: Panel, shown: Shown) -> str:
    """Return which edge is scribed to a wall, and how much of the width is there for it; "" where none is."""
    if panel.scribed is None:
        return ""
    by = shown.n(panel.scribed.allowance)
    return f"Its {panel.scribed.edge.value} goes to the wall: {by} of its width is there to scribe."


def edging_words(panel: Panel) -> str:
    """Return which edges are edged, in words."""
    edges = [strip.surface.value for strip in panel.edged]
    return "all round" if len(edges) == 4 else ", ".join(edges)
