"""In which order settings are made, so that fence, rail or stop is set as seldom as can be.

Every cut has a setting, and at most one cut that must be made before it: the one that gives its piece, or the one
before it on the same piece. With a setting made, all cuts that can be made with it are made. A setting of which
every cut still to come can be made now is made at once: it has to be made once more in any order, and it only opens
others. Only where there is no such setting is there a choice; the choices are searched, the most promising first
(A*: settings made, and different settings still wanted, and one more since some setting will be made again).
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from typing import Final

MOST_LOOKED_AT: Final = 600
"""States looked at before the best of them is finished by the next best choice: then the order is not proven best."""

type Group = list[int]
type _State = tuple[int, int]  # cuts made, cuts open: bit by bit


@dataclass(frozen=True, slots=True)
class _Node:
    """A state, how many settings it took, the last groups made, and where it came from."""

    state: _State
    steps: int
    groups: list[Group]
    parent: _Node | None

    def unrolled(self) -> list[Group]:
        """Return all groups from the beginning."""
        found: list[list[Group]] = []
        node: _Node | None = self
        while node is not None:
            found.append(node.groups)
            node = node.parent
        return [group for groups in reversed(found) for group in groups]


class Sequencer:
    """Finds the order for some cuts.

    Attributes:
        keys: of each cut, the number of its setting.
        before: of each cut, the cut that must be made before it, or -1.
        free: settings that cost nothing and are made first (trimming).
    """

    def __init__(self, keys: Sequence[int], before: Sequence[int], free: Collection[int] = ()) -> None:
        self.keys = keys
        self.free = frozenset(free)
        self.all = (1 << len(keys)) - 1
        self.after: list[list[int]] = [[] for _ in keys]
        self.of: dict[int, int] = {}
        roots = 0
        for cut, key in enumerate(keys):
            self.of[key] = self.of.get(key, 0) | 1 << cut
            if before[cut] < 0:
                roots |= 1 << cut
            else:
                self.after[before[cut]].append(cut)
        self.roots = roots

    def groups(self, rank: Callable[[int], tuple[float, ...]]) -> tuple[list[Group], bool]:
        """Return the cuts group by group, one setting each, and whether no order has fewer settings.

        `rank` orders cuts that may as well come first: of settings equally good, that of the least cut is made.
        """
        place = {cut: n for n, cut in enumerate(sorted(range(len(self.keys)), key=rank))}
        state, made = self._settled((0, self.roots), place)
        heap = [_Node(state, self._paid(made), made, None)]
        entries = [(0, 0, 0)]  # bound, cuts made (more is better), number in `heap`
        seen = {state[0]}
        looked = 0
        while True:
            node = heap[heapq.heappop(entries)[2]]
            looked += 1
            if node.state[0] == self.all:
                return node.unrolled(), looked <= MOST_LOOKED_AT
            keys = self._open_keys(node.state, place)
            if looked >= MOST_LOOKED_AT:  # From here on only the choice that makes most cuts is followed.
                keys = [max(keys, key=lambda k: len(self._made(node.state, k)[1]))]
                entries, seen = [], set()
            for key in keys:
                state, group = self._made(node.state, key)
                state, more = self._settled(state, place)
                if state[0] not in seen:
                    seen.add(state[0])
                    new = _Node(state, node.steps + 1 + self._paid(more), [group, *more], node)
                    heap.append(new)
                    entry = (new.steps + self._still(state[0]), -state[0].bit_count(), len(heap) - 1)
                    heapq.heappush(entries, entry)

    def _still(self, done: int) -> int:
        """Return how many settings are wanted at least from here."""
        left = sum(1 for key, cuts in self.of.items() if key not in self.free and cuts & ~done)
        return left + (left > 0)

    def _paid(self, groups: Sequence[Group]) -> int:
        return sum(1 for g in groups if self.keys[g[0]] not in self.free)

    def _open_keys(self, state: _State, place: dict[int, int]) -> list[int]:
        """Return the settings of the open cuts, that of the first cut first."""
        cuts = sorted(_bits(state[1]), key=place.__getitem__)
        return list(dict.fromkeys(self.keys[c] for c in cuts))

    def _made(self, state: _State, key: int) -> tuple[_State, Group]:
        """Make all cuts that can be made with a setting, those too that it opens itself."""
        done, open_cuts = state
        group: Group = []
        todo = sorted(_bits(open_cuts & self.of[key]))
        while todo:
            group.extend(todo)
            nexts: list[int] = []
            for cut in todo:
                done |= 1 << cut
                open_cuts &= ~(1 << cut)
                for child in self.after[cut]:
                    open_cuts |= 1 << child
                    if self.keys[child] == key:
                        nexts.append(child)
            todo = nexts
        return (done, open_cuts), group

    def _settled(self, state: _State, place: dict[int, int]) -> tuple[_State, list[Group]]:
        """Make every setting that need not come again, until there is none left."""
        groups: list[Group] = []
        while state[1]:
            for key in sorted(self._open_keys(state, place), key=lambda k: k not in self.free):
                after, group = self._made(state, key)
                if key in self.free or not self.of[key] & ~after[0]:
                    groups.append(group)
                    state = after
                    break
            else:
                break
        return state, groups


def _bits(mask: int) -> list[int]:
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found
