"""A joint seen along its line: where its connectors stand, from the end that they are measured from."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._pens import HEIGHTS, Pen, Role, board_fill
from storyrod.drawing._running import Side, Wanted, laid_out
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Anchor, Circle, Entity, Text

_LEAST_HALF = 3.0
"""Half the height of the board on paper, where to scale it would be a mere line (mm)."""


def station_row(
    length: float,
    stations: Sequence[float],
    thickness: float,
    *,
    figures: Figures | None = None,
    board: str = "",
    room: float = 150.0,
) -> Drawing:
    """Return the edge of the entering board, `length` long, with its stations; `room` is the width on paper (mm)."""
    shown = figures or Figures()
    unit = max(length / (room * 0.84), 0.05)
    half = max(thickness / 2, _LEAST_HALF * unit)
    items: list[Entity] = [
        rectangle((0.0, -half), (length, half), pen=Pen.OUTLINE, fill=board_fill(board, (board,), shade=0)),
        line((0.0, -half - 1.5 * unit), (0.0, half + 1.5 * unit), pen=Pen.DATUM),
    ]
    for place in stations:
        items.append(Circle(centre=(place, 0.0), radius=min(half * 0.45, 1.6 * unit), pen=Pen.FEATURE))
        items.append(line((place, -half), (place, half), pen=Pen.CENTRE))
    wanted = [Wanted(s, -half) for s in stations] + [Wanted(length, -half)]
    side = Side(along_x=True, way=1, line_at=-half - 6.0 * unit, toward=-1, extent=length, every=True)
    items.append(laid_out(wanted, shown, unit, side))
    at = (0.0, half + 4.5 * unit)
    words = "measured from this end"
    items.append(Text(at=at, text=words, height=HEIGHTS[Role.NOTE], anchor=Anchor.START, role=Role.NOTE))
    told = ", ".join(shown.of(s) for s in stations)
    many = f"{len(stations)} connector{'' if len(stations) == 1 else 's'}"
    return Drawing(
        id="station-row",
        title=f"Along a joint of {shown.of(length)}",
        alt=f"Along a joint of {shown.of(length)}: {many}, at {told} from its end.",
        items=tuple(items),
        unit=unit,
        notes=(shown.said,),
    )
