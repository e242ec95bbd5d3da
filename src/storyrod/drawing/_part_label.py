"""The label of one part: its mark in large letters, what it is, which edges are edged, and a code for a camera."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._lettering import least_height, width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._symbols import LOOP_HEIGHT, arrow_head, edge_mark, face_mark, line, rectangle
from storyrod.drawing._types import Anchor, Bounds, Entity, Place, Text
from storyrod.model.panel import EdgeStrip, Grain, Panel, Surface
from storyrod.model.saw_list import PartLabel

MODULE: Final = 0.5
"""Side of one square of the code on paper (mm): read at arm's length by a plain camera; a rule of thumb, unsourced."""

QUIET: Final = 2.0  # white round the code: four squares, as its standard asks (ISO/IEC 18004)
_MARK: Final = 5.5  # height of the mark
_WORDS: Final = 2.5  # height of the other words
_COLUMN: Final = 19.0  # least width for the small picture
_LEAST_SKETCH: Final = (12.0, 6.0)
_LINE: Final = 1.46


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSize:
    """A label on its paper: `edge` is kept free inside it, since printers do not reach the edge of the paper."""

    width: float
    height: float
    edge: float = 2.0


def part_label(
    label: PartLabel,
    panel: Panel,
    size: LabelSize,
    *,
    board: str = "",
    figures: Figures | None = None,
    code: str = "",
) -> Drawing:
    """Return the label at true size, `size` wide and high, nothing nearer to its edge than `size.edge`.

    The small picture is the part lying as on its set-out sheet: face side up, face edge toward the maker, the bar at
    the datum end; edged edges are the thick ones. `code` is what a camera reads; the label's own unless set.
    """
    drawn = _Label(label, panel, size, board or label.board, figures or Figures())
    return drawn.drawing(code or label.code)


class _Label:
    def __init__(self, label: PartLabel, panel: Panel, size: LabelSize, board: str, figures: Figures) -> None:
        self.label, self.panel, self.size, self.board, self.figures = label, panel, size, board, figures

    def drawing(self, code: str) -> Drawing:
        w, h, edge = self.size.width, self.size.height, self.size.edge
        squares = _squares(code)
        side = len(squares) * MODULE
        corner = (w - edge - side, h - edge - side)
        left = min(corner[0] - QUIET, w - edge - _COLUMN)
        items: list[Entity] = [*_code(squares, corner)]
        items += self._words(edge, h - edge, left - edge)
        items += self._sketch(Bounds(left=left, right=w - edge, bottom=edge, top=corner[1] - QUIET))
        mark = self.label.mark
        return Drawing(
            id=f"label.{self.label.code}",
            title=f"Label of {mark}",
            alt=f"{mark}, {self.label.name}, {self._finished()}; {self._edged()}.",
            items=tuple(items),
            window=Bounds(left=0.0, bottom=0.0, right=w, top=h),
        )

    def _finished(self) -> str:
        length, width, *_ = self.label.size
        return f"{self.figures.of(length)} × {self.figures.of(width)}"

    def _cut(self) -> str:
        length, width, cut_length, cut_width = self.label.size
        if (length, width) == (cut_length, cut_width):
            return ""
        return f"cut {self.figures.of(cut_length)} × {self.figures.of(cut_width)}"

    def _edged(self) -> str:
        edges = [e.surface.value for e in self.panel.edged]
        if not edges:
            return "not edged"
        return "edged all round" if len(edges) == 4 else "edged: " + ", ".join(edges)

    def _words(self, left: float, top: float, width: float) -> Iterator[Entity]:
        """Yield the words from the top down, the weightiest first, as many lines as there is room for."""
        label = self.label
        y = top - _MARK / 2
        mark = _shortened(label.mark, _MARK, width, bold=True)
        yield Text(at=(left, y), text=mark, height=_MARK, anchor=Anchor.START, bold=True, role=Role.TITLE)
        if label.copies > 1:
            x = left + width_of(mark, _MARK, bold=True) + 2.5
            which = f"{label.copy} of {label.copies}"
            if x + width_of(which, HEIGHTS[Role.NAME]) <= left + width:
                foot = y - _MARK / 2 + HEIGHTS[Role.NAME] / 2
                yield Text(at=(x, foot), text=which, height=HEIGHTS[Role.NAME], anchor=Anchor.START, role=Role.NAME)
        y -= _MARK / 2 + 1.0
        rows = [label.name, self._finished(), self._edged(), self._cut(), f"sheet {label.sheet}", self.board]
        for row in filter(None, rows):
            height = least_height(row, _WORDS)
            pitch = height * _LINE
            if y - pitch / 2 - height * 0.62 < self.size.edge:
                continue  # a lower line may still go in
            if "×" in row and width_of(row, height) > width:
                continue  # half a size is worse than none
            text = _shortened(row, height, width)
            yield Text(at=(left, y - pitch / 2), text=text, height=height, anchor=Anchor.START, role=Role.NOTE)
            y -= pitch

    def _sketch(self, room: Bounds) -> Iterator[Entity]:
        """Yield the part in small, where its room is not too small to read."""
        if room.width < _LEAST_SKETCH[0] or room.height < _LEAST_SKETCH[1]:
            return
        scale = min((room.width - 5.0) / self.panel.length, (room.height - 1.9) / self.panel.width)
        w, h = max(self.panel.length * scale, 5.0), max(self.panel.width * scale, 4.2)
        x, y = (room.left + room.right - w) / 2, room.bottom + 1.6
        yield rectangle((x, y), (x + w, y + h), pen=Pen.FEATURE, fill=Fill(Tint.PAPER))
        at_left = self.panel.frame.is_mirrored
        for strip in self.panel.edged:
            yield _edging(strip, (x, y), (w, h), at_left=at_left)
        bar = x - 1.1 if at_left else x + w + 1.1
        yield line((bar, y), (bar, y + h), pen=Pen.MARK)
        yield edge_mark((x + w * 0.3, y), (0.0, -1.0), 1.4, 0.42)
        yield face_mark((x + w * 0.3, y), min(0.42, (h - 0.6) / LOOP_HEIGHT))
        yield from self._grain((x, y), (w, h))

    def _grain(self, at: Place, size: tuple[float, float]) -> Iterator[Entity]:
        if self.label.grain is Grain.FREE:
            return
        (x, y), (w, h) = at, size
        along = self.label.grain is Grain.ALONG
        middle = (x + 0.72 * w, y + 0.5 * h)
        half = (0.2 * w if along else 0.36 * h) - 0.2
        if half < 1.0:
            return
        dx, dy = (1.0, 0.0) if along else (0.0, 1.0)
        a, b = ((middle[0] + s * dx * half, middle[1] + s * dy * half) for s in (-1, 1))
        yield line(a, b, pen=Pen.THIN)
        yield arrow_head(a, (-dx, -dy), 1.0, Pen.THIN, 1.2)
        yield arrow_head(b, (dx, dy), 1.0, Pen.THIN, 1.2)


def _edging(strip: EdgeStrip, at: Place, size: tuple[float, float], *, at_left: bool) -> Entity:
    """Return an edged edge as a thick, hatched band just inside the outline."""
    (x, y), (w, h) = at, size
    band = 0.8
    datum = ((x, y), (x + band, y + h))
    far = ((x + w - band, y), (x + w, y + h))
    places: dict[Surface, tuple[Place, Place]] = {
        Surface.FACE_EDGE: ((x, y), (x + w, y + band)),
        Surface.FAR_EDGE: ((x, y + h - band), (x + w, y + h)),
        Surface.DATUM_END: datum if at_left else far,
        Surface.FAR_END: far if at_left else datum,
    }
    return rectangle(*places[strip.surface], fill=Fill(Tint.INK, Hatch.NONE))


def _shortened(text: str, height: float, width: float, *, bold: bool = False) -> str:
    """Return the text, cut short with dots where it is wider than its room."""
    if width_of(text, height, bold=bold) <= width:
        return text
    while text and width_of(f"{text}...", height, bold=bold) > width:
        text = text[:-1].rstrip(" ,:;×")
    return f"{text}..."


def _squares(words: str) -> tuple[tuple[bool, ...], ...]:
    """Return the code (QR, ISO/IEC 18004) as rows of squares from the top, true where one is dark."""
    import segno

    made = segno.make(words, error="m", micro=False, boost_error=False)
    return tuple(tuple(bool(cell) for cell in row) for row in made.matrix)


def _code(squares: tuple[tuple[bool, ...], ...], corner: Place) -> Iterator[Entity]:
    """Yield the dark squares, those beside each other as one, a hair too high so that no white shows between rows."""
    rows = len(squares)
    for n, row in enumerate(squares):
        bottom = corner[1] + (rows - 1 - n) * MODULE
        start: int | None = None
        for i, dark in enumerate((*row, False)):
            if dark and start is None:
                start = i
            elif not dark and start is not None:
                a, b = corner[0] + start * MODULE, corner[0] + i * MODULE
                yield rectangle((a, bottom - 0.01), (b, bottom + MODULE), fill=Fill(Tint.INK))
                start = None
