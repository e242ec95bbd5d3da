"""Overhangs of a worktop: how far an edge goes down under a person who sits on it, what the board and the screws bear.

A cantilever from the case's edge: drop at its end `F a^2 (3 l - a) / (6 E I)`, stress `6 F a / (b t^2)`, with F at `a`
of an overhang `l`, on a strip `b` that spreads at 45 degrees (statics of a beam that is held at one end). Screws: the
worktop is taken as stiff, so that it turns about the edge and pulls at them by how far they are from it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis, Point
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.fixing import FixingKind, Screws
from storyrod.model.job import Board, BoardKind
from storyrod.model.panel import Grain, Panel, Role
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.model.weight import case_weight
from storyrod.model.worktop import Overhang, Side
from storyrod.soundness._boards import stiffness_of, strength_of
from storyrod.soundness._joints import SCREW_IN_EDGE_N
from storyrod.trade.strength import OVEN_DRY, screw_withdrawal_n

PERSON_N: Final = 750.0
"""Somebody who sits on the edge of a worktop (N): from memory, as tests of tables load an edge."""

EDGE_IN: Final = 50.0
"""So far in from the edge the force stands (mm): from memory, as tests of tables place it."""

SEAT: Final = 400.0
"""A person bears on so much of an edge (mm); common practice, no source."""

COLUMNS: Final = 2
"""So many screws beside each other share a pull; common practice, no source."""

DEEP_ENOUGH: Final = 15.0
"""Tests of screws in boards drive them so deep (mm): EN 320, from memory."""


def overhangs_of(case: DetailedCase, details: Details, thresholds: Thresholds) -> tuple[Overhang, ...]:
    """Return what every overhang on which a person can sit has to bear: those of more than 50 mm."""
    worktop = case.built.case.worktop
    top = next((p for p in case.panels if p.role is Role.WORKTOP), None)
    if worktop is None or top is None:
        return ()
    reaches = {
        Side.FRONT: worktop.front,
        Side.BACK: worktop.back,
        Side.LEFT: worktop.left,
        Side.RIGHT: worktop.right,
    }
    return tuple(
        _of_side(case, details, thresholds, top, side, reach) for side, reach in reaches.items() if reach > EDGE_IN
    )


def _of_side(
    case: DetailedCase, details: Details, thresholds: Thresholds, top: Panel, side: Side, reach: float
) -> Overhang:
    board = details.job.board(top.board)
    ends = side in {Side.LEFT, Side.RIGHT}
    at = reach - EDGE_IN
    strip = min(SEAT + reach, top.width if ends else top.length)
    stiff = stiffness_of(top, board)
    modulus = stiff.along if ends else stiff.across or (None if stiff.along is None else stiff.along / 20)
    laid = top if ends else _turned(top)
    strength = strength_of(laid, board)
    rigidity = None if modulus is None else modulus * strip * top.thickness**3 / 12
    screws, pull = _pull(case, side, at)
    holds, source = _holds(screws, board)
    return Overhang(
        panel=top.id,
        side=side,
        reach=reach,
        force_n=PERSON_N,
        at=at,
        sag=None if rigidity is None else PERSON_N * at**2 * (3 * reach - at) / (6 * rigidity),
        limit=2 * reach / thresholds.sag_limit,
        stress_n_mm2=6 * PERSON_N * at / (strip * top.thickness**2),
        usable_n_mm2=None if strength is None else strength * thresholds.stress_share,
        screw=screws.item,
        screw_n=pull,
        holds_n=holds,
        ratio=_sideways(case, details, at) if ends else None,
        source=source,
    )


def _turned(panel: Panel) -> Panel:
    """Return a panel as it bends across its length: its grain the other way."""
    other = {Grain.ALONG: Grain.ACROSS, Grain.ACROSS: Grain.ALONG}.get(panel.grain, panel.grain)
    return replace(panel, grain=other)


def _pull(case: DetailedCase, side: Side, at: float) -> tuple[Screws, float]:
    """Return the screws, and what pulls at the one that is pulled hardest: `M d / sum of d^2`, of two columns."""
    axis = Axis.X if side in {Side.LEFT, Side.RIGHT} else Axis.Y
    own = case.built.case
    edge = {Side.FRONT: 0.0, Side.BACK: own.depth, Side.LEFT: 0.0, Side.RIGHT: own.width}[side]
    fixings = [f for f in case.built.fixings if f.kind is FixingKind.WORKTOP and f.screws is not None]
    levels = sorted({round(abs(p.along(axis) - edge), 3) for p in _screw_places(case)})
    moment = PERSON_N * at
    hardest = moment * max(levels) / (COLUMNS * sum(d * d for d in levels))
    screws = min((f.screws for f in fixings if f.screws is not None), key=lambda s: s.bite)
    return screws, hardest


def _screw_places(case: DetailedCase) -> Iterator[Point]:
    cuts = {f.id: f for f in case.built.fittings}
    for fixing in case.built.fixings:
        if fixing.kind is FixingKind.WORKTOP:
            for cut in (cuts[f] for f in fixing.features):
                yield case.panel(cut.panel).frame.to_case(cut.at)


def _holds(screws: Screws, board: Board) -> tuple[float | None, str]:
    """Return what one screw holds by a formula or by tests; what holds in an edge holds in a face as well."""
    if board.kind is BoardKind.SOLID:
        gravity = board.density_kg_m3 / 1000 * OVEN_DRY
        return screw_withdrawal_n(gravity, screws.diameter, screws.bite), "108.25 G2 D L, Wood Handbook ch. 8"
    known = SCREW_IN_EDGE_N.get(board.kind)
    if known is None or screws.bite < DEEP_ENOUGH:
        return None, "not known: no formula or test for this screw in this board"
    return known[0], f"no less than in an edge: {known[1]}"


def _sideways(case: DetailedCase, details: Details, at: float) -> float:
    """Return what keeps the empty case standing over what turns it about its side's outer face."""
    whole = case_weight(case.panels, details.job, case.features)
    own = case.built.case
    lever = min(whole.centre.x, own.width - whole.centre.x)
    return whole.mass_kg * GRAVITY * lever / (PERSON_N * at)


def overhang_cautions(case_name: str, overhangs: tuple[Overhang, ...], lengths: LengthWriter) -> Iterator[Caution]:
    """Return what must be said of overhangs: bent too far, screws pulled too hard, a case that turns over sideways."""
    for one in overhangs:
        about, ids = f"{case_name}, worktop, {one.side.value}", (str(one.panel),)
        sits = f"With someone sitting on its edge ({one.force_n:,.0f} N, {lengths.told(one.at)} past the case)"
        if one.bends_too_much:
            goes = (
                "" if one.sag is None else f" it goes down {lengths.about(one.sag)}, where {lengths.about(one.limit)} "
            )
            goes += "is allowed," if one.sag is not None else ""
            may = "" if one.usable_n_mm2 is None else f" of the {one.usable_n_mm2:.1f} that it may be"
            yield Caution(
                code="worktop-bends",
                about=about,
                text=f"{sits}{goes} and is bent to {one.stress_n_mm2:.1f} N/mm²{may}. An estimate.",
                do="Make the overhang less or the worktop thicker, or set a bracket or leg under it.",
                ids=ids,
            )
        if one.pulls_out and one.holds_n is not None:
            yield Caution(
                code="worktop-screws-weak",
                about=about,
                text=f"{sits} a screw is pulled with {one.screw_n:,.0f} N; {one.screw} holds {one.holds_n:,.0f} N in "
                "tests, a third of which may be used. An estimate.",
                do="Make the overhang less or the worktop thicker, so that longer screws go in, or set a leg under it.",
                ids=ids,
            )
        if one.ratio is not None and one.ratio < 1 and math.isfinite(one.ratio):
            yield Caution(
                code="tip-sideways",
                about=about,
                text=f"{sits} the empty case turns over: its own weight is {one.ratio:.2f} of what would keep it "
                f"standing.",
                do="Fix the case to the wall or the floor before it is used, set a leg under the overhang, or make it "
                "less. Calculated, not tested: this is not a certificate, and local codes come first.",
                ids=ids,
            )
