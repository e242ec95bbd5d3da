"""Questions that several tests ask of a case: which way a panel leaves, and what is shut out."""

from __future__ import annotations

from storyrod.assembly import try_assembly
from storyrod.assembly._body import Body, make_body, make_ties
from storyrod.assembly._order import preferred
from storyrod.assembly._parts import bodies_of
from storyrod.assembly._shapes import WAYS
from storyrod.measure.space import Direction
from storyrod.model.assembly import ShutOut
from storyrod.model.detail import Choices, Joined
from storyrod.model.panel import PanelId
from tests.unit.assembly.pieces import shop


def body_of(made: Joined, *, any_lock: bool = False) -> Body:
    (parts,) = bodies_of(made, made.cases[0], shop(), ())
    return make_body(parts, {} if any_lock else preferred(make_ties(parts, {}), {}))


def leaves(made: Joined, name: str, *, any_lock: bool = False) -> set[Direction]:
    """Return the ways in which a panel can leave all others in one straight move."""
    body = body_of(made, any_lock=any_lock)
    group = 1 << next(i for i, p in enumerate(body.panels) if p.name == name)
    place = group.bit_length() - 1
    moves = [move for move, stops in zip(body.moves, body.stops, strict=True) if not stops[place] & ~group]
    return {WAYS[m.out] for m in moves if m.unseat < 0}


def ids(*names: str) -> tuple[PanelId, ...]:
    return tuple(PanelId(f"A.{n.replace(' ', '-')}") for n in names)


def shut_out(made: Joined, *, kept: tuple[tuple[PanelId, ...], ...] = (), fixed: Choices | None = None) -> ShutOut:
    plan = try_assembly(made, shop(), kept=kept, fixed=fixed)
    assert not plan.cases[0].steps
    (found,) = plan.cases[0].shut_out
    return found
