"""The checker shares no code with the search, and notices what a way out must not ask."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.model.rescue import MoveKind, Plug, Seat, Way
from storyrod.planning import Plan, rescue
from storyrod.rescue import check_way, pieces_of

FACTS = AsBuilt(cut=("A1", "A2"), slips=(Slip(panel="A1", kind=SlipKind.ELSEWHERE, cuts=("J3",), along=5.0),))


def faults(plan: Plan, way: Way) -> list[str]:
    pieces = pieces_of(plan.details, plan.set_out, FACTS, "A", 1)
    found = check_way(plan.details.cases[0], pieces, way, wall=2.0, size=0.3)
    return [f.found for f in found]


@pytest.fixture(scope="module")
def plugged(plan: Plan) -> Way:
    return next(w for w in rescue(plan, FACTS, "A").ways if w.plugs and len(w.moves) == 1)


def test_a_sound_way_passes(plan: Plan, plugged: Way) -> None:
    assert plugged.moves[0].kind is MoveKind.PLUG
    assert faults(plan, plugged) == []


def moved_cut(way: Way) -> Way:
    side = next(p for p in way.pieces.values() if p.id == "A.side-left")
    first = replace(side.cuts[0], at=replace(side.cuts[0].at, v=side.cuts[0].at.v + 0.5))
    return replace(way, pieces={**way.pieces, side.id: replace(side, cuts=(first, *side.cuts[1:]))})


def lost_cut(way: Way) -> Way:
    side = next(p for p in way.pieces.values() if p.id == "A.side-left")
    return replace(way, pieces={**way.pieces, side.id: replace(side, cuts=side.cuts[1:])})


def small_plugs(way: Way) -> Way:
    return replace(way, plugs=tuple(Plug(piece=p.piece, cut=p.cut, size=8.0) for p in way.plugs))


def untold(way: Way) -> Way:
    return replace(way, old=way.old[1:])


def not_cut(way: Way) -> Way:
    return replace(way, to_cut=frozenset())


def one_piece_twice(way: Way) -> Way:
    seats = {**way.seats, next(p.id for p in way.case.panels if p.mark == "A2"): Seat(piece=way.plugs[0].piece)}
    return replace(way, seats=seats)


def mirrored(way: Way) -> Way:
    seats = {k: replace(s, signs=(1, 1, -1)) if s.piece == "A.side-left" else s for k, s in way.seats.items()}
    return replace(way, seats=seats)


def mate_elsewhere(way: Way) -> Way:
    cuts = [f for f in way.case.features if f.panel == "A.shelf-1"]
    new = replace(cuts[0], at=replace(cuts[0].at, v=cuts[0].at.v + 1.0))
    features = tuple(new if f.id == new.id else f for f in way.case.features)
    return replace(way, case=replace(way.case, features=features, _by_panel={}))


SPOILED: dict[str, tuple[Callable[[Way], Way], str]] = {
    "a cut that would have to be elsewhere": (moved_cut, "elsewhere than it is"),
    "a cut that is gone": (lost_cut, "gone or new"),
    "plugs that are too small": (small_plugs, "across the glue line of a plug"),
    "an old cut that is not told": (untold, "not told"),
    "a cut that nobody makes": (not_cut, "neither there nor to be cut"),
    "one piece in two places": (one_piece_twice, "one piece in two places"),
    "a piece mirrored": (mirrored, "that no turning brings there"),
    "mates that do not meet": (mate_elsewhere, "do not meet"),
}


@pytest.mark.parametrize(("spoil", "words"), SPOILED.values(), ids=SPOILED)
def test_it_notices(plan: Plan, plugged: Way, spoil: Callable[[Way], Way], words: str) -> None:
    assert any(words in f for f in faults(plan, spoil(plugged))), faults(plan, spoil(plugged))
