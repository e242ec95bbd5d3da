"""A sheet while it is cut: what is in hand, what comes off, what is off already."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from storyrod.drawing._pens import Fill, Tint
from storyrod.drawing._types import Bounds
from storyrod.model.sheet import Cut, CutNode, SheetPlan, Way

_HAIR: Final = -0.01  # mm by which a piece may stand over the piece it was cut from, figures being rounded


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """A sheet while it is cut: the cuts made now, those still to come, and what has come off.

    Attributes:
        later: numbers of the cuts that are still to be made.
        off: what comes off now; `gone` what came off before.
    """

    now: tuple[Cut, ...]
    later: frozenset[int]
    off: tuple[Bounds, ...]
    gone: tuple[Bounds, ...]

    @staticmethod
    def of(sheet: SheetPlan, steps: Mapping[int, int], at: int) -> Moment:
        """Return the sheet at one step; without `steps`, each cut is a step of its own."""
        step = {c.number: steps.get(c.number, c.number) for c in sheet.cuts}
        now = tuple(c for c in sheet.cuts if step[c.number] == at)
        freed: dict[Bounds, int] = {}
        for leaf in (n for n in pieces(sheet.tree) if n.way is None):
            box = Bounds(left=leaf.x, bottom=leaf.y, right=leaf.x + leaf.length, top=leaf.y + leaf.width)
            around = [step[c.number] for c in sheet.cuts if not c.trim and hand_of(c).holds(box.grown(_HAIR))]
            freed[box] = max(around, default=-1)  # a sheet that is one piece needs no cut to be free
        return Moment(
            now=now,
            later=frozenset(n for n, s in step.items() if s > at),
            off=(*(came_off(c) for c in now if not c.trim), *(b for b, s in freed.items() if s == at)),
            gone=tuple(b for b, s in freed.items() if -1 < s < at),
        )

    def fill_of(self, box: Bounds, usual: Tint = Tint.BOARD_1) -> Fill:
        """Return how a piece is filled: tinted where it comes off now, white where it is off already."""
        inside = box.grown(_HAIR)
        if any(b.holds(inside) for b in self.off):
            return Fill(Tint.CHOSEN)
        return Fill(Tint.PAPER if any(b.holds(inside) for b in self.gone) else usual)

    @property
    def words(self) -> str:
        """What is being cut, for who cannot see it."""
        told = (f"{c.way.value} of {c.piece}" + ("" if c.trim else f", {c.gives} comes off") for c in self.now)
        return f" Being cut now: {'; '.join(told)}." if self.now else ""


def hand_of(cut: Cut) -> Bounds:
    """Return where the piece in hand lies on the sheet; not told of trimming cuts."""
    low = cut.at - cut.setting
    if cut.way is Way.CROSSCUT:
        return Bounds(left=low, right=low + cut.piece_length, bottom=cut.start, top=cut.end)
    return Bounds(left=cut.start, right=cut.end, bottom=low, top=low + cut.piece_width)


def came_off(cut: Cut) -> Bounds:
    """Return where the piece that comes off at the setting lies on the sheet."""
    hand = hand_of(cut)
    return replace(hand, right=cut.at) if cut.way is Way.CROSSCUT else replace(hand, top=cut.at)


def pieces(node: CutNode) -> Iterable[CutNode]:
    """Yield a piece, and all that it is cut into."""
    yield node
    for child in node.children:
        yield from pieces(child)
