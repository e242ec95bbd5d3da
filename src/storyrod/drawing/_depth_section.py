"""The case cut open from front to back, beside its elevation: what the front cannot show."""

from __future__ import annotations

from dataclasses import replace

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._elevation import Editing
from storyrod.drawing._figures import Figures
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint, board_fill
from storyrod.drawing._rails import rails_cut
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Dimension, Entity, Group
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Panel
from storyrod.model.panel import Role as PanelRole

_BEYOND = frozenset({PanelRole.SIDE_LEFT, PanelRole.SIDE_RIGHT, PanelRole.DIVIDER, PanelRole.DRAWER_SIDE})
"""Panels that stand along the cut: seen beyond it, not cut."""


def depth_section(
    case: DetailedCase,
    *,
    figures: Figures | None = None,
    boards: tuple[str, ...] = (),
    room: tuple[float, float] = (70.0, 100.0),
    editing: Editing | None = None,
) -> Drawing:
    """Return the case cut through its widest opening, seen from the left: its front at the left, its back at the right.

    Its depth is a group of its own, so that it can be chosen.
    """
    shown, marked = replace(figures or Figures(), seen=True), editing or Editing()
    about = case.built.case
    at = _cut_at(case)
    beyond = [p for p in case.panels if p.role in _BEYOND and p.box.high.x > at]
    cut = [p for p in case.panels if p.role not in _BEYOND and p.box.low.x < at < p.box.high.x]
    low = min(p.box.low.y for p in (*beyond, *cut))

    def draw(unit: float) -> Drawing:
        items: list[Entity] = [_piece(p, boards, cut=False) for p in sorted(beyond, key=lambda p: -p.box.low.x)]
        items += [_piece(p, boards, cut=True) for p in cut]
        items += rails_cut(case, at)
        size = Dimension(
            a=(0.0, about.height),
            b=(about.depth, about.height),
            away=6.0 * unit,
            text=shown.of(about.depth),
            height=HEIGHTS[Role.FIGURE],
        )
        thing = f"{about.code}.depth"
        kind = "size chosen" if thing in marked.chosen else "size"
        items.append(Group(items=(size,), id=thing, name="depth over all", kind=kind))
        if thing in marked.faults:
            edge = rectangle((0.0, 0.0), (about.depth, about.height), pen=Pen.FAULT)
            items.append(Group(items=(edge,), id=f"fault.{thing}", name=marked.faults[thing], kind="fault-mark"))
        return Drawing(
            id=f"{about.code}.depth-section",
            title=f"{about.code} {about.name}, cut open",
            alt=f"Case {about.code} cut open from front to back: {shown.of(about.depth)} deep.",
            items=tuple(items),
            unit=unit,
            notes=(shown.said,),
        )

    return fitted(draw, room, (about.depth - min(low, 0.0), about.height))


def _cut_at(case: DetailedCase) -> float:
    """Return where (x) the case is cut: through the middle of its widest opening."""
    leaves = [o.box for o in case.built.openings if not o.children]
    widest = max(leaves, key=lambda b: (round(b.high.x - b.low.x, 1), -b.low.x))
    return (widest.low.x + widest.high.x) / 2


def _piece(panel: Panel, boards: tuple[str, ...], *, cut: bool) -> Group:
    lo, hi = panel.box.low, panel.box.high
    fill = board_fill(panel.board, boards, shade=2) if cut else Fill(Tint.PAPER)
    pen = Pen.CUT if cut else Pen.THIN
    shape = rectangle((lo.y, lo.z), (hi.y, hi.z), pen=pen, fill=fill)
    return Group(items=(shape,), id=panel.id, name=f"{panel.mark} {panel.name}", kind="panel")
