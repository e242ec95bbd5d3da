"""The bodies of a case: which panels are joined into one, and what is known of them before any order."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.assembly._body import Parts
from storyrod.model.detail import Joined, JoinedCase
from storyrod.model.panel import Panel, PanelId
from storyrod.model.weight import panel_mass_kg
from storyrod.model.workshop import Workshop


def bodies_of(
    joined: Joined, case: JoinedCase, workshop: Workshop, kept: Sequence[tuple[PanelId, ...]]
) -> tuple[Parts, ...]:
    """Return the bodies of more than one panel, the carcass first, each with its joints and masses."""
    by_body: dict[str, list[Panel]] = {}
    for panel in case.panels:
        by_body.setdefault(panel.body, []).append(panel)
    methods = {m.code: m for m in (*workshop.methods, *joined.methods)}
    found = []
    for code, panels in by_body.items():
        ids = {p.id for p in panels}
        if len(panels) > 1:
            found.append(
                Parts(
                    code=code,
                    job=joined.job,
                    methods=methods,
                    case=case,
                    panels=tuple(panels),
                    joints=tuple(j for j in case.joints if j.entering in ids and j.receiving in ids),
                    mass_kg=tuple(panel_mass_kg(p, joined.job.board(p.board)) for p in panels),
                    kept=tuple(group for group in kept if ids.issuperset(group)),
                )
            )
    return tuple(sorted(found, key=lambda parts: parts.code != "carcass"))
