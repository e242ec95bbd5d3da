"""Pilot holes of screws in solid wood, held against the lead hole that the wood wants.

A pilot is the workshop's or the fitting's own figure, and the same in every board. Solid wood is told apart: too
thin a pilot splits it or shears the screw, too thick a one gives the thread nothing to hold. Sheet material follows no
such rule, and a screw that bores its own way has no pilot.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from storyrod.faults import Caution
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import Feature, Hole
from storyrod.model.job import BoardKind
from storyrod.model.panel import Panel
from storyrod.trade.fasteners import Fastened, fastener_of
from storyrod.trade.lead_hole import DRILL_STEP, lead_hole, root_of
from storyrod.trade.woods import is_softwood


@dataclass(frozen=True, slots=True, kw_only=True)
class Pilot:
    """Screws of one size in the solid wood of a panel.

    Attributes:
        wood: what the board or lipping is called; `softwood` whether it is one, None where its name does not say.
        item: the screws as they are bought; `root`: diameter of their core (mm).
        bored: their pilot hole (mm).
    """

    panel: Panel
    wood: str
    softwood: bool | None
    item: str
    root: float
    bored: float

    @property
    def wanted(self) -> tuple[float, float]:
        """The least and greatest lead hole (mm): the same where it is known whether the wood is soft or hard."""
        return (
            lead_hole(self.root, softwood=self.softwood is not False),
            lead_hole(self.root, softwood=self.softwood is True),
        )

    @property
    def is_too_thin(self) -> bool:
        """Whether the next drill up is nearer to the lead hole."""
        return self.bored < self.wanted[0] - DRILL_STEP

    @property
    def is_too_thick(self) -> bool:
        """Whether the next drill down is nearer to the lead hole."""
        return self.bored > self.wanted[1] + DRILL_STEP


def pilots_of(case: DetailedCase, details: Details) -> Iterator[Pilot]:
    """Yield the pilot holes of every screw that holds in solid wood: of fittings, and of joints held by screws."""
    panels = {p.id: p for p in case.panels}
    holes = {f.id: f for f in case.features if isinstance(f.shape, Hole)}
    for fixing in case.built.fixings:
        screws = fixing.screws
        if screws is None:
            continue
        panel, root = panels[fixing.panel], screws.root or root_of(screws.diameter)
        bored_at: list[Feature | None] = [holes[f] for f in fixing.features if f in holes] or [None]
        for wood in dict.fromkeys(_wood(panel, hole, details) for hole in bored_at):
            if wood is not None:
                yield _pilot(panel, wood, screws.item, root, screws.pilot)
    in_panels: dict[tuple[str, str], Feature] = {}
    for hole in holes.values():
        in_panels.setdefault((str(hole.joint), str(hole.panel)), hole)
    for joint in case.joints:
        named = ((item, fastener_of(item)) for item, _ in joint.connectors)
        screw = next(((item, f) for item, f in named if f is not None and f.kind is Fastened.SCREW), None)
        bored = in_panels.get((str(joint.id), str(joint.entering)))
        if screw is None or bored is None or not details.method(joint.method).held_by_screws:
            continue
        wood = _wood(panels[joint.entering], bored, details)
        if wood is not None and isinstance(bored.shape, Hole):
            item, fastener = screw
            yield _pilot(panels[joint.entering], wood, item, root_of(fastener.diameter), bored.shape.diameter)


def _wood(panel: Panel, hole: Feature | None, details: Details) -> str | None:
    """Return what the solid wood at a hole is called, of lipping or board; None where it is a sheet."""
    for strip in panel.edged:
        edging = details.job.edging(strip.edging)
        if hole is None or not edging.solid:
            continue
        along = hole.at.along(strip.surface.axis)
        in_from = panel.extent(strip.surface.axis) - along if strip.surface.is_far else along
        if in_from < strip.thickness:
            return edging.name
    board = details.job.board(panel.board)
    return board.name if board.kind is BoardKind.SOLID else None


def _pilot(panel: Panel, wood: str, item: str, root: float, bored: float) -> Pilot:
    return Pilot(panel=panel, wood=wood, softwood=is_softwood(wood), item=item, root=root, bored=bored)


def pilot_cautions(case_name: str, pilots: Iterable[Pilot], lengths: LengthWriter) -> Iterator[Caution]:
    """Return a caution for each size of screw in each wood whose pilot hole is more than a drill from its lead hole."""
    alike: dict[tuple[str, str, float], list[Pilot]] = {}
    for pilot in pilots:
        if pilot.is_too_thin or pilot.is_too_thick:
            alike.setdefault((pilot.wood, pilot.item, pilot.bored), []).append(pilot)
    for (wood, item, bored), own in alike.items():
        least, most = (lengths.bought(round(w, 1)) for w in own[0].wanted)
        wanted = least if least == most else f"{least} to {most}"
        kind = {True: "softwood", False: "hardwood", None: "wood whose name does not say soft or hard"}
        harm = "so big that the thread holds less" if own[0].is_too_thick else "so small that it splits the wood"
        marks = ", ".join(dict.fromkeys(p.panel.mark for p in own))
        yield Caution(
            code="pilot-in-solid-wood",
            about=f"{case_name}, {item} in {marks}",
            text=(
                f"The pilot hole is {lengths.bought(bored)}, {harm}. In {wood} ({kind[own[0].softwood]}) this screw "
                f"needs {wanted}."
            ),
            do=(
                "Try one in a piece of the same wood; then correct the pilot hole in your workshop file. "
                "The screw's own sheet comes first."
            ),
            ids=tuple(dict.fromkeys(str(p.panel.id) for p in own)),
        )
