"""The kinds of proposal: how an inside can be cut, in the order in which they are tried, and which a look allows."""

from __future__ import annotations

from typing import Final

from storyrod.model.wish import Wish
from storyrod.wish._layout import Band, Kind
from storyrod.wish._space import LEAST_COLUMN, Space, up

KINDS: Final = (
    Kind(columns=2),
    Kind(columns=1),
    Kind(columns=2, mirrored=True),
    Kind(columns=2, lines=True),
    Kind(columns=1, loose=True),
    Kind(columns=2, loose=True),
    Kind(columns=2, apart=True),
    Kind(columns=3, mirrored=True),
    Kind(columns=3, lines=True),
    Kind(columns=2, band=Band.BOTTOM),
    Kind(columns=2, band=Band.TOP),
    Kind(columns=3),
    Kind(columns=4, lines=True, mirrored=True),
    Kind(columns=3, apart=True),
)
"""Every kind that is tried, the quickest found first."""

FREE: Final = (
    Kind(columns=1),
    Kind(columns=2),
    Kind(columns=3),
    Kind(columns=4),
    Kind(columns=2, band=Band.TOP),
    Kind(columns=2, band=Band.BOTTOM),
)
"""The kinds that hold whatever any other holds, but for cases apart: what none of these holds cannot be met."""

APART: Final = (Kind(columns=2, apart=True), Kind(columns=3, apart=True))
"""Cases apart hold more than one case only where the place is wider than a back that one sheet gives."""


def kinds_for(space: Space) -> tuple[Kind, ...]:
    """Return the kinds that a wish's look allows and its place has room for."""
    return tuple(k for k in KINDS if allows(space.wish, k) and _has_room(space, k))


def allows(wish: Wish, kind: Kind) -> bool:
    """Return whether a kind looks as a wish asks."""
    look = wish.look
    if look.columns is not None and kind.columns != look.columns:
        return False
    if look.lines and not (kind.lines and kind.columns > 1):
        return False
    return not look.symmetric or kind.mirrored or kind.columns == 1


def _has_room(space: Space, kind: Kind) -> bool:
    frames = 2 * kind.columns if kind.apart else kind.columns + 1
    clear = space.width - frames * space.t
    return clear >= kind.columns * up(LEAST_COLUMN)
