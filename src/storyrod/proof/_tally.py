"""Counting what was checked, keeping the worst figure and the faults, and saying things in a maker's words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property

from storyrod.faults import Fault
from storyrod.measure.space import Box
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Channel, CutOut, Feature, FeatureId
from storyrod.model.joint import Joint
from storyrod.model.panel import Panel, PanelId, Surface
from storyrod.model.proof import Claim, Finding
from storyrod.proof._pieces import CutPieces, cut_pieces, room_of


@dataclass(kw_only=True)
class Tally:
    """One claim while it is being checked."""

    claim: Claim
    subject: str
    holds: str
    fails: str
    one: str
    code: str
    limit: float | None = None
    at_least: bool = False
    measure: str = ""
    checked: int = 0
    worst: float | None = None
    faults: list[Fault] = field(default_factory=list)

    def see(self, figure: float | None = None, *, limit: float | None = None) -> bool:
        """Count one thing checked; return whether its figure keeps the limit (or has none to keep).

        A figure nearer to its limit than the worst so far takes its place; `limit` stands in for the tally's own.
        """
        self.checked += 1
        if figure is None or self.limit is None:
            return True
        if self.worst is None or (figure < self.worst if self.at_least else figure > self.worst):
            self.worst = figure
        bound = self.limit if limit is None else limit
        # Distances of curved pieces are known to a hundred-thousandth; a limit of 1e-6 itself stays sharp to 1e-9.
        dust = min(1e-5, bound * 1e-3) if bound else 1e-9
        return figure >= bound - dust if self.at_least else figure <= bound + dust

    def tell(self, where: str, found: str, allowed: str, do: str) -> None:
        """Add one fault; `where` is the field of the job that caused it."""
        self.faults.append(Fault(code=self.code, field=where, found=found, allowed=allowed, do=do))

    def finding(self) -> Finding:
        """Return the claim as it stands."""
        return Finding(
            claim=self.claim,
            subject=self.subject,
            holds=self.holds,
            fails=self.fails,
            one=self.one,
            checked=self.checked,
            worst=self.worst,
            limit=self.limit,
            at_least=self.at_least,
            measure=self.measure,
            faults=tuple(self.faults),
        )


class CaseView:
    """One case as the proof reads it, once for all claims: panels by id, cuts by panel, and their names."""

    def __init__(self, case: DetailedCase, lengths: LengthWriter = METRIC) -> None:
        self.case = case
        self.lengths = lengths
        self.told = lengths.told
        self.code = case.built.case.code
        self.panels: dict[PanelId, Panel] = {p.id: p for p in case.panels}
        self.joints: dict[str, Joint] = {j.id: j for j in case.joints}
        self.features: dict[FeatureId, Feature] = {f.id: f for f in case.features}
        self.cuts: dict[PanelId, list[CutPieces]] = {p.id: [] for p in case.panels}
        for feature in case.features:
            self.cuts[feature.panel].append(cut_pieces(feature))

    def every_cut(self) -> Iterator[tuple[Panel, CutPieces]]:
        """Return each cut of the case with its panel."""
        for panel in self.case.panels:
            for cut in self.cuts[panel.id]:
                yield panel, cut

    @cached_property
    def rooms(self) -> dict[PanelId, list[Box]]:
        """The square rooms cut in each panel (channels and notches), as boxes in the case frame."""
        return {p.id: [room_of(c, p) for c in self.cuts[p.id] if _is_square(c.feature)] for p in self.case.panels}

    def panel(self, panel_id: PanelId) -> str:
        """Return a panel's name with its case, as `shelf 1 of case A`."""
        panel = self.panels.get(panel_id)
        return f"{panel.name if panel else panel_id} of case {self.code}"

    def cut(self, feature: Feature) -> str:
        """Return what and where a cut is, as `hole 8, 13 deep, in the face side of shelf 1 of case A (u 37, v 9)`."""
        across, down = _coordinates(feature)
        return (
            f"{feature.kind} in the {feature.surface.value} of {self.panel(feature.panel)} "
            f"({across[0]} {self.told(across[1])}, {down[0]} {self.told(down[1])})"
        )

    def cause(self, panel_id: PanelId) -> str:
        """Return the field of the job that made a panel, or that of its case."""
        panel = self.panels.get(panel_id)
        return (panel.cause if panel else "") or self.case.built.case.field


def _is_square(feature: Feature) -> bool:
    shape = feature.shape
    return isinstance(shape, Channel) or (isinstance(shape, CutOut) and shape.outline == "notch")


def _coordinates(feature: Feature) -> tuple[tuple[str, float], tuple[str, float]]:
    from_end, from_edge = ("from the datum end", feature.at.u), ("from the face edge", feature.at.v)
    below = ("below the face side", feature.at.w)
    if feature.surface in {Surface.DATUM_END, Surface.FAR_END}:
        return from_edge, below
    if feature.surface in {Surface.FACE_EDGE, Surface.FAR_EDGE}:
        return from_end, below
    return from_end, from_edge
