"""What stands on each part's label."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.model.saw_list import PartLabel
from storyrod.model.sheet import CuttingPlan, Part


def part_labels(plan: CuttingPlan, parts: Sequence[Part]) -> tuple[PartLabel, ...]:
    """Return the label of every part in the order in which the sheets give them."""
    by_id = {p.id: p for p in parts}
    return tuple(_label(by_id[p.part], p.copy, sheet.name) for sheet in plan.sheets for p in sheet.placements)


def _label(part: Part, copy: int, sheet: str) -> PartLabel:
    length, width = part.finished or (part.length, part.width)
    return PartLabel(
        code=f"{part.id}#{copy}",
        part=part.id,
        mark=part.mark or part.id,
        name=part.name or part.id,
        copy=copy,
        copies=part.copies,
        board=part.board,
        sheet=sheet,
        size=(length, width, part.length, part.width),
        grain=part.grain,
        edged=tuple(f"{e.surface.value}: {e.edging}" for e in part.edges),
        face_mark=part.face_mark,
    )
