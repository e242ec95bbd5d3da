"""Rods at full size: for each gang a strip with every position, cut into tiles that fit the paper."""

from __future__ import annotations

from storyrod.adapters.packet._blocks import Block, Section, Tiles, Words
from storyrod.adapters.packet._typeset import PAPERS
from storyrod.drawing import Drawing, Figures, rod_tiles
from storyrod.model.job import Paper
from storyrod.plan import Plan

_ABOVE_AND_BELOW = 22.0  # mm of a page kept for its foot and for what printers can not reach
_BETWEEN = 6.0

HOW_TO = (
    "Print these pages at 100 % and hold a rule against a check bar: it is 100 mm long. Cut along the outlines, lay "
    "the crosses over each other, and stick the strip to a batten with the black end flush. Lengths run from the datum "
    "end along one edge, widths from the face edge along the other; a band shows where a mating panel stands."
)


def rod_sections(plan: Plan) -> tuple[Section, ...]:
    """Return the rods of all gangs that have something to mark, or nothing where there is none."""
    figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)
    rods = [r for r in plan.set_out.rods if r.lengths or r.widths]
    tiles = [t for rod in rods for t in rod_tiles(rod, plan.job.paper, figures=figures)]
    if not tiles:
        return ()
    pages = filled_pages(tiles, plan.job.paper)
    blocks: list[Block] = [Words(text=HOW_TO), *(Tiles(drawings=tuple(page)) for page in pages)]
    return (Section(title="Rods at full size", head="rods", blocks=tuple(blocks)),)


def filled_pages(tiles: list[Drawing], paper: Paper) -> list[list[Drawing]]:
    """Return full-size tiles page by page, in order, as many on a page that lies on its side as it holds."""
    _, short, _ = PAPERS[paper.value]
    room = short - _ABOVE_AND_BELOW
    pages: list[list[Drawing]] = []
    left = 0.0
    for tile in tiles:
        height = tile.paper_size[1] + _BETWEEN
        if not pages or height > left:
            pages.append([])
            left = room
        pages[-1].append(tile)
        left -= height
    return pages
