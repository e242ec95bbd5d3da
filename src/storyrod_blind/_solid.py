"""The panels as solids, cut as printed and put in their places: whether any two want the same room."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

import manifold3d

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import Span
from storyrod_blind._paper import Cut, Panel, Paper
from storyrod_blind._poses import Body, Pose
from storyrod_blind._what import CHANNELS, OPEN_CUTS

FILM = 0.02  # mm: what is thinner than this is a rounding of the solids, no wood
_TWO_CUTS = 4  # printed figures: the size of each of two panels, and a cut in each
_BEYOND = 1.0  # mm that a cut open at an edge reaches past it, so that no skin of no thickness is left


def check_room(paper: Paper, bodies: list[Body]) -> Iterator[Finding]:
    """Yield pairs of panels of one body that share room, with how deep they go into each other."""
    for body in bodies:
        solids = {mark: _solid(paper, mark, pose) for mark, pose in body.poses.items()}
        for one, other in combinations(solids, 2):
            deep = _deep(solids[one], solids[other])
            if deep > FILM:
                between = body.figures[one] + body.figures[other] + _TWO_CUTS
                yield Finding(FindingKind.ROOM_SHARED, f"{one} and {other}", "they share room", deep, between)


def shared_room(paper: Paper, one: tuple[str, Pose], other: tuple[str, Pose]) -> float:
    """Return how deep two panels in one frame go into each other, in mm; 0 where they do not."""
    a, b = one[1].box(paper.panels[one[0]]), other[1].box(paper.panels[other[0]])
    if any(min(a[1][n], b[1][n]) - max(a[0][n], b[0][n]) <= Fraction(FILM) for n in range(3)):
        return 0.0
    return _deep(_solid(paper, *one), _solid(paper, *other))


def _deep(one: manifold3d.Manifold, other: manifold3d.Manifold) -> float:
    """Return how deep two solids go into each other.

    What they share is mostly a film: of thickness t over an area A it has the volume t A and the surface 2 A.
    """
    pieces = (one ^ other).decompose()
    return max((2.0 * p.volume() / p.surface_area() for p in pieces if p.surface_area() > 0), default=0.0)


def _solid(paper: Paper, mark: str, pose: Pose) -> manifold3d.Manifold:
    panel = paper.panels[mark]
    low, high = pose.box(panel)
    solid = _block(low, high)
    for cut in paper.cuts_of(mark):
        if cut.what.kind in CHANNELS | OPEN_CUTS:
            region = _region(panel, cut)
            if region is not None:
                solid -= _block(*pose.region(*region))
    return solid


Stretch = tuple[Fraction, Fraction]


def _region(panel: Panel, cut: Cut) -> tuple[Stretch, Stretch, Stretch] | None:
    """Return the stretches of u, v and w that a channel or an open cut takes away."""
    if cut.u is None or cut.v is None:
        return None
    beyond = Fraction(_BEYOND)
    if cut.what.through:
        w = (-beyond, panel.thickness + beyond)
    elif "depth" not in cut.what.sizes:
        return None
    elif cut.surface == "face side":
        w = (-beyond, cut.what.sizes["depth"].mm)
    else:
        w = (panel.thickness - cut.what.sizes["depth"].mm, panel.thickness + beyond)
    return _open(cut.u, panel.length), _open(cut.v, panel.width), w


def _open(span: Span, size: Fraction) -> Stretch:
    low = span.low.mm - (Fraction(_BEYOND) if span.low.mm <= 0 else 0)
    high = span.high.mm + (Fraction(_BEYOND) if span.high.mm >= size else 0)
    return low, high


def _block(low: tuple[Fraction, ...], high: tuple[Fraction, ...]) -> manifold3d.Manifold:
    size = tuple(float(b - a) for a, b in zip(low, high, strict=True))
    return manifold3d.Manifold.cube((size[0], size[1], size[2])).translate(
        (float(low[0]), float(low[1]), float(low[2]))
    )
