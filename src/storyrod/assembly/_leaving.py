"""Which groups of panels can leave a body by a movement: the smallest ones, and all their unions.

For one movement the panels that stop each other make a blocking graph; a panel leaves with all that stop it, and with
what stops these, and so on.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from storyrod.assembly._bits import bits
from storyrod.assembly._groups import Groups

MANY: Final = 1 << 12
"""No more leaving groups than this are listed for one group; a search that meets more ends there."""


class Growth:
    """Unions of the smallest groups that can leave, each only with others that are joined to it.

    Every leaving group in one piece is reached so, panel by panel along its joints. Without `whole`, all unions are.
    """

    def __init__(self, groups: Groups, group: int, closures: Iterable[int], *, whole: bool) -> None:
        self.is_done = False
        self.is_too_large = False
        self._group = group
        self._whole = whole
        self._steps = [(closure, closure | groups.joined_to_any(closure)) for closure in closures]
        self.found = dict(self._steps)
        self._waiting = list(self.found)

    def advance(self, count: int = 32) -> bool:
        """Grow `count` more unions; return whether there are no more."""
        found, group, whole = self.found, self._group, self._whole
        for _ in range(count):
            if not self._waiting or len(found) > MANY:
                self.is_too_large = bool(self._waiting)
                self.is_done = True
                break
            union = self._waiting.pop()
            touched = found[union]
            for closure, beyond in self._steps:
                grown = union | closure
                if grown not in found and grown != group and (closure & touched or not whole):
                    found[grown] = touched | beyond
                    self._waiting.append(grown)
        return self.is_done


def closures_of(group: int, stops: Sequence[int], locked: Sequence[int] | None = None) -> list[int]:
    """Return, for the panels of a group, the panels that must leave with each; those that need all left out.

    `locked` adds the panels that each cannot part from while the group is as it is.
    """
    members = bits(group)
    if locked is None:
        return closed_under(group, members, [stops[i] & group | 1 << i for i in members])
    return closed_under(group, members, [(stops[i] | locked[i]) & group | 1 << i for i in members])


def closed_under(group: int, members: Sequence[int], rows: Sequence[int]) -> list[int]:
    """Return the same from each member's row: itself, and the members of the group that it needs."""
    reach = dict(zip(members, rows, strict=True))
    whole: dict[int, int] = {}
    found: dict[int, None] = {}
    for panel in sorted(members, key=lambda i: reach[i].bit_count()):  # What few stop is soon known, and helps others.
        closed = reach[panel]
        edge = closed & ~(1 << panel)
        while edge and closed != group:
            low = edge & -edge
            near = low.bit_length() - 1
            known = whole.get(near)
            if known is None:
                new = reach[near] & ~closed
                closed |= new
                edge = edge ^ low | new
            else:
                closed |= known
                edge &= ~known
        whole[panel] = closed
        if closed != group:
            found[closed] = None
    return list(found)
