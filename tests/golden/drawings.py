"""Drawings by meaning: what is drawn, sorted, with places to a tenth, so that a golden file tells what changed.

A person who has looked at the new drawings accepts them by `python -m tests.golden.drawings` in the project's root.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path as File
from typing import Any

from storyrod.drawing import (
    Arc,
    Circle,
    Drawing,
    Path,
    Shown,
    Text,
    case_elevation,
    case_view,
    joint_detail,
    panel_set_out,
    panel_true_size,
    rod_tiles,
)
from tests.unit.drawing.cabinets import BOARDS, detailed
from tests.unit.drawing.samples import every_kind, pin_side, shelf, side
from tests.unit.drawing.test_rods import rod

FOLDER = File(__file__).parent / "drawings"


def _rod() -> Drawing:
    return rod_tiles(rod())[0]


GOLDEN: dict[str, Callable[[], Drawing]] = {
    "set-out-side": lambda: panel_set_out(side())[0],
    "set-out-pin-side": lambda: panel_set_out(pin_side())[0],
    "set-out-shelf": lambda: panel_set_out(shelf())[0],
    "set-out-far-face": lambda: panel_set_out(every_kind())[1],
    "file-every-kind": lambda: panel_true_size(every_kind()),
    "elevation": lambda: case_elevation(detailed(), fronts=False),
    "view": lambda: case_view(detailed(), Shown(boards=BOARDS, hatched=False)),
    "rod-tile": _rod,
    "section": lambda: joint_detail(detailed(), detailed().joints[0]),
}


def meaning_of(drawing: Drawing) -> dict[str, Any]:
    """Return what a drawing says: title, notes, scale, and every entity as one sorted line."""
    return {
        "title": drawing.title,
        "alt": drawing.alt,
        "notes": list(drawing.notes),
        "scale": drawing.scale,
        "items": sorted(_line(item) for item in drawing.flat()),
    }


def _line(item: Path | Circle | Arc | Text) -> str:
    if isinstance(item, Text):
        turned = f" turned {item.angle_deg:g}" if item.angle_deg else ""
        return f"text {item.text!r} {item.height:g} {item.anchor} at {_place(item.at)}{turned}"
    pen = item.pen or "no line"
    fill = "" if isinstance(item, Arc) or item.fill is None else f" {item.fill.tint} {item.fill.hatch}"
    layer = f" [{item.layer}]" if item.layer else ""
    if isinstance(item, Path):
        points = " ".join(_place(p) for p in item.points)
        return f"{'area' if item.closed else 'line'} {pen}{fill}{layer} {points}"
    kind = "circle" if isinstance(item, Circle) else f"arc {item.start_deg:.0f} to {item.end_deg:.0f}"
    return f"{kind} {pen}{fill}{layer} at {_place(item.centre)} r {item.radius:.1f}"


def _place(at: tuple[float, float]) -> str:
    return f"{round(at[0], 1) + 0.0:.1f},{round(at[1], 1) + 0.0:.1f}"


def accept() -> None:
    """Write every golden file anew."""
    FOLDER.mkdir(exist_ok=True)
    for name, draw in GOLDEN.items():
        text = json.dumps(meaning_of(draw()), indent=1, ensure_ascii=False)
        (FOLDER / f"{name}.json").write_text(f"{text}\n", encoding="utf-8", newline="\n")


if __name__ == "__main__":
    accept()
