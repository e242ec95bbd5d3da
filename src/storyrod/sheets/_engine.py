"""How a second engine may help: a port, so that the stage never learns what runs behind it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from storyrod.sheets._fill import Filled, Filler
from storyrod.sheets._task import Task
from storyrod.sheets._tree import Node, from_rectangles, leaf


@dataclass(frozen=True, slots=True)
class PlainTask:
    """A board's task in whole numbers, kerf and trim folded in: through-cuts without kerf.

    Attributes:
        sheets: (width, height, cost, copies) of each size.
        parts: (width, height, copies, may turn) of each kind.
    """

    sheets: tuple[tuple[int, int, int, int], ...]
    parts: tuple[tuple[int, int, int, bool], ...]


type PlainSheet = tuple[int, tuple[tuple[int, int, int, int, int], ...]]
"""Number of the size, and its parts as (kind, x, y, width, height)."""


class Running(Protocol):
    """A second engine at work."""

    @property
    def shares_core(self) -> bool:
        """Whether it works on the one core that ours works on, so that its time is taken from ours."""

    def better(self) -> Sequence[PlainSheet] | None:
        """Return the newest plan found since the last time asked, or None; never waits."""

    def stop(self) -> None:
        """End it at once; harmless when it has ended."""


class SecondEngine(Protocol):
    """Starts a search of its own beside ours."""

    def start(self, task: PlainTask, limit_s: float) -> Running | None:
        """Start it for at most so many seconds, or return None where it cannot run here."""


def plain(task: Task) -> PlainTask:
    """Return the task as a second engine gets it."""
    copies = len(task.wanted)
    return PlainTask(
        sheets=tuple((s.w, s.h, s.cost, min(s.copies, copies)) for s in task.sizes),
        parts=tuple((*k.ways[0][:2], len(k.members), len(k.ways) > 1) for k in task.kinds),
    )


def from_plain(filler: Filler, sheets: Sequence[PlainSheet]) -> list[Filled] | None:
    """Return a second engine's plan as trees of ours, or None when it is not one: nothing it says is believed."""
    left = filler.left(())
    wanted = sorted(filler.task.wanted)
    found: list[int] = []
    filled: list[Filled] = []
    for size, rects in sheets:
        if not (0 <= size < len(left)) or not rects:
            return None
        left[size] -= 1
        nodes = [(x, y, _node(filler, kind, w, h)) for kind, x, y, w, h in rects]
        found.extend(kind for kind, *_ in rects)
        tree = from_rectangles([(x, y, n) for x, y, n in nodes if n is not None])
        sheet = filler.sizes[size]
        if tree is None or any(n is None for *_, n in nodes) or tree[0] > sheet.w or tree[1] > sheet.h:
            return None
        filled.append(filler.filled(size, tree))
    return filled if sorted(found) == wanted and min(left, default=0) >= 0 else None


def _node(filler: Filler, kind: int, w: int, h: int) -> Node | None:
    if not 0 <= kind < len(filler.ways):
        return None
    for i, way in enumerate(filler.ways[kind]):
        if (way[0], way[1]) == (w, h):
            return leaf(w, h, kind, turned=bool(i))
    return None
