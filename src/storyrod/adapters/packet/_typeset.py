"""Hand a packet to the typesetter: data as JSON, drawings as SVG, pages as PDF.

The same packet gives the same bytes: no clock is read, and the date printed is the one the caller gives.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Sequence
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any, Final

from storyrod.adapters import svg
from storyrod.adapters.packet._blocks import Block, Packet, Row, Section, Tiles, Together
from storyrod.adapters.packet._columns import breakable_rows, laid_out
from storyrod.adapters.packet._letters import printed
from storyrod.adapters.packet._page_room import height_of, rooms_of
from storyrod.drawing import Drawing
from storyrod.telling.blocks import Bullets, Heading, Picture, Table, Warning_, Words

PAPERS: Final = {"A4": ("a4", 210.0, 297.0), "A3": ("a3", 297.0, 420.0), "Letter": ("us-letter", 215.9, 279.4)}
"""Name for the typesetter, width and height in mm (ISO 216; ANSI/ASME Y14.1)."""

LEFT_MARGIN: Final = 20.0
RIGHT_MARGIN: Final = 8.0
HEAD_AND_FOOT: Final = 26.0
_WHOLE: Final = 0.3  # of a page's height: a part that flows and is no higher is never parted


def room_on(paper: str) -> tuple[float, float]:
    """Return the width and height (mm) between the margins of a page."""
    _, width, height = PAPERS[paper]
    return width - LEFT_MARGIN - RIGHT_MARGIN, height - HEAD_AND_FOOT


def typeset(packet: Packet) -> bytes:
    """Return the packet as PDF."""
    with tempfile.TemporaryDirectory(prefix="storyrod-") as name:
        root = Path(name)
        return _compiled(root, "packet.typ", _Pages(root, PAPERS[packet.paper]).of(packet))


def typeset_pages(drawings: Sequence[Drawing], paper: str) -> bytes:
    """Return drawings of the paper's size as PDF, each a page without margins, head or foot."""
    with tempfile.TemporaryDirectory(prefix="storyrod-") as name:
        root = Path(name)
        typst_paper, width, height = PAPERS[paper]
        pages = _Pages(root, PAPERS[paper])
        told = {
            "width": width,
            "height": height,
            "typst_paper": typst_paper,
            "pages": [pages.file(d) for d in drawings],
        }
        return _compiled(root, "pages.typ", told)


def _compiled(root: Path, source: str, told: dict[str, Any]) -> bytes:
    """Return what the typesetter makes of one of our sources and its data, which it reads from `packet.json`."""
    import typst

    (root / "packet.json").write_text(printed(json.dumps(told, ensure_ascii=False)), encoding="utf-8")
    with as_file(files("storyrod") / "data") as data:
        (root / source).write_bytes((data / "packet" / source).read_bytes())
        compiled = typst.compile(
            str(root / source),
            root=str(root),
            font_paths=[str(data / "fonts")],
            ignore_system_fonts=True,
            timestamp=0,
        )
    return bytes(compiled)


class _Pages:
    """Turns blocks into plain data, and writes each distinct drawing once."""

    def __init__(self, root: Path, paper: tuple[str, float, float]) -> None:
        self._root = root
        self._paper = paper
        self._width = paper[1] - LEFT_MARGIN - RIGHT_MARGIN
        self._files: dict[int, str] = {}
        self._kept: list[Drawing] = []  # so that no id is used twice while we work

    def of(self, packet: Packet) -> dict[str, Any]:
        """Return the whole packet as data."""
        return {
            "title": packet.title,
            "mark": packet.mark,
            "foot": packet.foot,
            "maker": packet.maker,
            "date": packet.date,
            "unit": packet.unit,
            "typst_paper": self._paper[0],
            "sections": [self._section(s) for s in packet.sections],
        }

    def _section(self, section: Section) -> dict[str, Any]:
        blocks = [self._block(b, self._width) for b in section.blocks]
        if section.part == "cover":
            blocks.append({"kind": "contents"})
        entry = {"title": section.title, "group": section.group, "short": section.short or section.title}
        told = {"head": section.head, "listed": section.listed, "lying": section.lying, "blocks": blocks}
        told |= {
            "flows": section.flows,
            "whole": self._is_whole(section),
            "foot": section.foot,
            "foot_high": section.foot_high,
        }
        return told | entry

    def _is_whole(self, section: Section) -> bool:
        """Return whether a part that flows is small enough to stay on one page."""
        height = self._paper[2] - HEAD_AND_FOOT
        return section.flows and sum(height_of(b, self._width) for b in section.blocks) <= _WHOLE * height

    def _block(self, block: Block, width: float) -> dict[str, Any]:  # one case a kind of block
        match block:
            case Table():
                return self._table(block, width)
            case Words():
                return {"kind": "words", "text": block.text, "strong": block.strong, "quiet": block.quiet}
            case Bullets():
                return {"kind": "bullets", "items": list(block.items), "ticks": block.ticks}
            case Heading():
                return {"kind": "heading", "text": block.text}
            case Picture():
                notes = list(block.drawing.notes) if block.notes else []
                return {"kind": "picture", "width": block.width, "notes": notes} | self.file(block.drawing)
            case Row():
                return self._row(block, width)
            case Warning_():
                return {"kind": "warning", "title": block.title, "text": block.text, "items": list(block.items)}
            case Together():
                return {"kind": "together", "blocks": [self._block(b, width) for b in block.blocks]}
            case Tiles():
                rows = [d if isinstance(d, tuple) else (d,) for d in block.drawings]
                return {"kind": "tiles", "rows": [[self.file(d) for d in row] for row in rows]}

    def _row(self, block: Row, width: float) -> dict[str, Any]:
        """Return cells side by side; one that is as wide as its content has no width to reckon with."""
        cells = [
            [self._block(b, room) for b in cell] for cell, room in zip(block.cells, rooms_of(block, width), strict=True)
        ]
        return {"kind": "row", "cells": cells, "shares": list(block.shares)}

    def _table(self, table: Table, width: float) -> dict[str, Any]:
        block, widths = laid_out(table, width)
        return {
            "kind": "table",
            "title": block.title,
            "small": block.small,
            "widths": widths,
            "columns": [
                {"head": c.head, "align": c.align.value, "share": c.share, "working": c.working} for c in block.columns
            ],
            "rows": breakable_rows(block, widths),
            "groups": [list(g) for g in block.groups],
            "plain": list(block.plain),
        }

    def file(self, drawing: Drawing) -> dict[str, Any]:
        """Write a drawing, if it is not there yet, and return what the typesetter needs of it."""
        name = self._files.get(id(drawing))
        if name is None:
            name = f"drawing-{len(self._files) + 1}.svg"
            self._files[id(drawing)] = name
            self._kept.append(drawing)
            (self._root / name).write_text(printed(svg.write(drawing)), encoding="utf-8")
        width, height = drawing.paper_size
        return {"file": name, "alt": drawing.alt, "paper_width": width, "paper_height": height}
