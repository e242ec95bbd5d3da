"""The witness: build every machined panel as a solid, put all in place, and look whether any two share wood.

It shares with the exact proof neither arithmetic nor its reading of the features.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import TYPE_CHECKING, Final

from storyrod.adapters.solid._build import Piece, less_pieces, pieces_of, placed, tube_solid
from storyrod.adapters.solid._profile import SIDES
from storyrod.faults import OUR_SLIP, Fault
from storyrod.measure.length import show_mm
from storyrod.measure.space import PANEL_AXES
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import AngledPocket, Channel, CutOut, Feature
from storyrod.model.panel import Panel, PanelId
from storyrod.model.proof import Claim, Finding, Overlap, PanelVolume, SolidWitness
from storyrod.model.removal import Bar, volume

if TYPE_CHECKING:
    from manifold3d import Manifold

OVERLAP_MM3: Final = 1.0
"""Two panels that touch over a whole side of a case share this much by float dust at the most, by a wide margin;
a film of 0.0001 mm over 600 x 18 mm has 1.08 mm3."""

DUST: Final = 1e-9
"""What float sums may make of a volume, as a share of the board's."""

Cut = tuple[Feature, tuple[Piece, ...]]
"""A feature and what it takes away, as solids."""


def witness(details: Details) -> SolidWitness:
    """Return what the solids show: panels that overlap beyond tolerance, and volumes that are not right.

    Volumes are those of box less features where the features share no wood; flat-sided circles make a solid
    larger than the true panel, by no more than their sides leave out.
    """
    volumes: list[PanelVolume] = []
    overlaps: list[Overlap] = []
    faults_apart: list[Fault] = []
    pairs, greatest = 0, 0.0
    for case in details.cases:
        solids: dict[PanelId, Manifold] = {}
        for panel in case.panels:
            cuts = [(f, pieces_of(panel, f)) for f in case.on(panel.id)]
            solids[panel.id] = placed(less_pieces(panel, [p for _, group in cuts for p in group]), panel)
            volumes.append(_volume_of(panel, cuts, solids[panel.id]))
        for one, other in combinations(case.panels, 2):
            pairs += 1
            if not one.box.intersects(other.box, 0.0):
                continue  # their boxes show that they keep apart
            shared = solids[one.id] ^ solids[other.id]
            mm3 = shared.volume()
            greatest = max(greatest, mm3)
            if mm3 > OVERLAP_MM3:
                found = Overlap(
                    case=case.built.case.code, one=one.name, other=other.name, volume_mm3=mm3, size=_size(shared)
                )
                overlaps.append(found)
                faults_apart.append(_overlap_fault(case, other, found))
        for met, panel in _in_tubes(case, solids):
            pairs += 1
            if met is not None:
                overlaps.append(met)
                faults_apart.append(_overlap_fault(case, panel, met))
    apart = Finding(
        claim=Claim.SOLID_APART,
        subject="pairs of machined panels, tubes of clothes rails among them, built as solids,"
        if any(c.built.rails for c in details.cases)
        else "pairs of machined panels, built as solids,",
        holds="overlap nowhere",
        fails="overlap",
        one="pair of machined panels, built as solids, does not overlap",
        checked=pairs,
        worst=greatest,
        limit=OVERLAP_MM3,
        unit="mm3",
        faults=tuple(faults_apart),
    )
    return SolidWitness(
        panels=len(volumes),
        pairs=pairs,
        volumes=tuple(volumes),
        overlaps=tuple(overlaps),
        findings=(apart, _volumes_finding(details, volumes)),
    )


def _in_tubes(case: DetailedCase, solids: Mapping[PanelId, Manifold]) -> Iterator[tuple[Overlap | None, Panel]]:
    """Yield, for each tube and panel, what they share beyond tolerance, or None."""
    for rail in case.built.rails:
        tube = tube_solid(rail)
        for panel in case.panels:
            if not rail.box.intersects(panel.box, 0.0):
                yield None, panel
                continue
            shared = tube ^ solids[panel.id]
            mm3 = shared.volume()
            code, name = case.built.case.code, f"the tube of {rail.name}"
            found = Overlap(case=code, one=name, other=panel.name, volume_mm3=mm3, size=_size(shared))
            yield (found if mm3 > OVERLAP_MM3 else None), panel


def _size(solid: Manifold) -> tuple[float, float, float]:
    box = solid.bounding_box()
    return box[3] - box[0], box[4] - box[1], box[5] - box[2]


def _overlap_fault(case: DetailedCase, panel: Panel, found: Overlap) -> Fault:
    size = " x ".join(show_mm(s, 2) for s in found.size)
    return Fault(
        code="solid-overlap",
        field=panel.cause or case.built.case.field,
        found=f"{found.one} and {found.other} of case {found.case} share {found.volume_mm3:,.0f} mm3 ({size} mm)",
        allowed="none",
        do=OUR_SLIP,
    )


def _volume_of(panel: Panel, cuts: Sequence[Cut], solid: Manifold) -> PanelVolume:
    return PanelVolume(
        panel=panel.id,
        name=f"{panel.name} of case {panel.case}",
        meshed=solid.volume(),
        exact=_exact_volume(panel, cuts),
        tolerance=sum(p.left_out for _, group in cuts for p in group),
    )


def _exact_volume(panel: Panel, cuts: Sequence[Cut]) -> float | None:
    """Return box less features, or None where their volumes do not simply add up.

    Crossing channels and notches do: what is common to blocks is counted once. Any other cuts that share wood do not.
    """
    if any(isinstance(f.shape, AngledPocket) or _runs_out(panel, group) for f, group in cuts):
        return None
    in_order = sorted(cuts, key=lambda c: min(p.bounds.low.u for p in c[1]))
    for n, one in enumerate(in_order):
        end = max(p.bounds.high.u for p in one[1])
        for other in in_order[n + 1 :]:
            if min(p.bounds.low.u for p in other[1]) >= end:
                break
            if not (_is_block(one[0]) and _is_block(other[0])) and _share_wood(one[1], other[1]):
                return None
    others = sum(volume(f) for f, _ in cuts if not _is_block(f))
    blocks = [p.bounds for f, group in cuts if _is_block(f) for p in group]
    return panel.volume - others - _union_of_blocks(blocks)


def _is_block(feature: Feature) -> bool:
    """Return whether a feature takes away one square block."""
    shape = feature.shape
    return isinstance(shape, Channel) or (isinstance(shape, CutOut) and shape.outline == "notch")


def _runs_out(panel: Panel, group: Sequence[Piece]) -> bool:
    """Return whether a part of what a feature takes away lies beyond the board."""
    return any(
        p.bounds.low.along(a) < -1e-6 or p.bounds.high.along(a) > panel.extent(a) + 1e-6
        for p in group
        for a in PANEL_AXES
    )


def _share_wood(one: Sequence[Piece], other: Sequence[Piece]) -> bool:
    return any(a.bounds.meets(b.bounds) and (a.solid ^ b.solid).volume() > 1e-6 for a in one for b in other)


def _union_of_blocks(bars: Sequence[Bar]) -> float:
    """Return the volume of all blocks together, common parts once: cells of the grid of all their planes."""
    planes = [sorted({x for b in bars for x in b.span(a)}) for a in PANEL_AXES]
    total = 0.0
    for u0, u1 in zip(planes[0], planes[0][1:], strict=False):
        for v0, v1 in zip(planes[1], planes[1][1:], strict=False):
            for w0, w1 in zip(planes[2], planes[2][1:], strict=False):
                middle = (u0 + u1) / 2, (v0 + v1) / 2, (w0 + w1) / 2
                if any(_holds(b, middle) for b in bars):
                    total += (u1 - u0) * (v1 - v0) * (w1 - w0)
    return total


def _holds(bar: Bar, at: tuple[float, float, float]) -> bool:
    return all(bar.low.along(a) < x < bar.high.along(a) for a, x in zip(PANEL_AXES, at, strict=True))


def _volumes_finding(details: Details, volumes: Sequence[PanelVolume]) -> Finding:
    """Return whether each volume is right: never below box less features, above it by the flat sides at most."""
    fields: dict[str, str] = {p.id: p.cause or c.built.case.field for c in details.cases for p in c.panels}
    faults: list[Fault] = []
    worst, limit, told = 0.0, None, 0
    for v in volumes:
        if v.exact is None:
            continue
        told += 1
        off, dust = v.meshed - v.exact, DUST * max(v.meshed, 1.0) + 1e-3
        if not -dust <= off <= v.tolerance + dust:
            faults.append(
                Fault(
                    code="solid-volume",
                    field=fields[v.panel],
                    found=f"{v.name} of {v.meshed:,.1f} mm3 as a solid",
                    allowed=f"{v.exact:,.1f} mm3 as box less features, up to {v.tolerance:,.1f} mm3 more",
                    do=OUR_SLIP,
                )
            )
        if limit is None or off > worst:
            worst, limit = off, v.tolerance
    left = len(volumes) - told
    rest = f" ({left} more have cuts that share wood, and no plain sum)" if left else ""
    return Finding(
        claim=Claim.SOLID_VOLUMES,
        subject="solids",
        holds=f"have the volume of their box less their cuts, within what {SIDES}-sided circles make of it{rest}",
        fails="do not have the volume of their box less their cuts",
        one=f"solid has the volume of its box less its cuts, within what {SIDES}-sided circles make of it{rest}",
        measure="greatest difference",
        checked=told,
        worst=worst,
        limit=limit,
        unit="mm3",
        faults=tuple(faults),
    )
