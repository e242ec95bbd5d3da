"""Clothes rails: how far the tube sags, how hard it is bent, and what its sockets' screws carry.

The tube lies on its two sockets and turns freely there; what hangs on it is spread evenly. Each socket takes half, each
of its screws an equal share of that, straight down across itself. How far the tube bears from the board, which pulls a
little at the screws, is left out: an estimate.
"""

from __future__ import annotations

from collections.abc import Iterator

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.measure.writing import LengthWriter
from storyrod.model.carcass import RailPlace
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.fitting import RailMaterial
from storyrod.model.fixing import Screws
from storyrod.model.job import Board, BoardKind
from storyrod.model.panel import PanelId
from storyrod.model.soundness import RailLoad
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.soundness._loads import opening_named
from storyrod.soundness._sag import long_run_factor
from storyrod.soundness._span import sag
from storyrod.trade.screw_shear import effective_diameter, embedment_n_mm2, screw_shear_n, shear_words, usable_n
from storyrod.trade.tube import MATERIALS, area_mm2, bending_n_mm2, inertia_mm4


def rail_loads(case: DetailedCase, details: Details, thresholds: Thresholds) -> tuple[RailLoad, ...]:
    """Return what every clothes rail of a case has to carry, and what its tube and screws make of it."""
    return tuple(_of_rail(rail, case, details, thresholds) for rail in case.built.rails)


def _of_rail(rail: RailPlace, case: DetailedCase, details: Details, thresholds: Thresholds) -> RailLoad:
    made = MATERIALS[rail.material]
    span = opening_named(case.built, rail.opening).box.size(Axis.X)
    own = area_mm2(rail.diameter, rail.wall) * rail.length * 1e-9 * made.density_kg_m3
    whole_n = (own + rail.load_kg) * GRAVITY
    at_once = sag(whole_n, span, made.stiffness_n_mm2 * inertia_mm4(rail.diameter, rail.wall))
    factor: float | None = 1.0
    if rail.material is RailMaterial.HARDWOOD:
        factor = long_run_factor(own, rail.load_kg, BoardKind.SOLID, details, thresholds)
    panel, screws, holds = _weaker(rail, case, details)
    board = details.job.board(case.panel(panel).board)
    metre = details.job.use.loads.rail_kg_m
    return RailLoad(
        rail=rail.id,
        name=rail.name,
        span=span,
        load_kg=rail.load_kg,
        why=f"{rail.load_kg:g} kg, as you set" if rail.load_given else f"clothes, {metre:g} kg a metre of rail",
        own_kg=own,
        at_once=at_once,
        lasting=None if factor is None else at_once * factor,
        limit=span / thresholds.sag_limit,
        stress_n_mm2=bending_n_mm2(whole_n * span / 8, rail.diameter, rail.wall),
        usable_n_mm2=made.strength_n_mm2 * made.usable,
        panel=panel,
        screw=screws.item,
        bite=screws.bite,
        screws=screws.count,
        each_n=whole_n / 2 / screws.count,
        holds_n=holds,
        usable_n=None if holds is None else usable_n(board.kind, holds),
        source=shear_words(board.kind),
    )


def _weaker(rail: RailPlace, case: DetailedCase, details: Details) -> tuple[PanelId, Screws, float | None]:
    """Return the upright whose screws may carry the least, with them and what one holds; not known is the weakest."""
    found = []
    for fixing in case.built.fixings:
        if fixing.about == rail.id and fixing.screws is not None:
            panel = case.panel(fixing.panel)
            board = details.job.board(panel.board)
            holds = _holds(fixing.screws, board, panel.thickness)
            may = None if holds is None else usable_n(board.kind, holds)
            found.append((0.0 if may is None else may, fixing.panel, fixing.screws, holds))
    _, panel_id, screws, holds = min(found, key=lambda f: (f[0], f[1]))
    return panel_id, screws, holds


def _holds(screws: Screws, board: Board, thickness: float) -> float | None:
    diameter = effective_diameter(screws.diameter, screws.root)
    embedment = embedment_n_mm2(board.kind, diameter, thickness, board.density_kg_m3)
    return None if embedment is None else screw_shear_n(embedment, diameter, screws.bite)


def rail_cautions(case_name: str, rails: tuple[RailLoad, ...], lengths: LengthWriter) -> Iterator[Caution]:
    """Return what must be said of clothes rails: a tube that bends too much, and screws that are too weak."""
    for rail in rails:
        about, ids = f"{case_name}, {rail.name}", (str(rail.panel),)
        if rail.bends_too_much:
            yield Caution(
                code="clothes-rail-bends",
                about=about,
                text=f"Under {rail.load_kg:.0f} kg its tube sags {lengths.about(rail.lasting or rail.at_once)} over "
                f"{lengths.about(rail.span)}, where {lengths.about(rail.limit)} is allowed, and is stressed to "
                f"{rail.stress_n_mm2:,.0f} N/mm² of the {rail.usable_n_mm2:.0f} it may take. An estimate.",
                do="Choose a stronger kind, divide the opening, or hang less on it.",
                ids=ids,
            )
        if rail.used is not None and rail.usable_n is not None and rail.used > 1:
            yield Caution(
                code="clothes-rail-screws-weak",
                about=about,
                text=f"Each screw of its sockets has to carry {rail.each_n:,.0f} N; {rail.screw}, "
                f"{lengths.told(rail.bite)} deep in the board, may carry {rail.usable_n:,.0f} N permanently. An "
                f"estimate.",
                do="Hang less on it, or choose longer screws in a thicker board. Where two rails meet at one divider, "
                "set them at different heights.",
                ids=ids,
            )
