"""Jigs at full size: tiles to be pasted on a board, page by page."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.adapters.packet._blocks import Block, Section, Tiles
from storyrod.adapters.packet._page_room import ABOVE_AND_BELOW
from storyrod.adapters.packet._typeset import PAPERS
from storyrod.drawing import Drawing, Figures
from storyrod.drawing.jig_tiles import jig_tiles
from storyrod.model.job import Job, Paper
from storyrod.model.machining import JigPlan
from storyrod.planning import Plan
from storyrod.telling.blocks import TICK, Column, Words, right, table, wide

_BETWEEN = 6.0

HOW_TO = (
    "Print these pages at 100 % and lay a rule along a check bar: it must measure 100 mm. Lay the crosses of "
    "neighbouring tiles over each other, paste them on the jig's board, and work through the paper. Hatched areas "
    "show where fence and stops are screwed on. Paper stretches when it is wet: measure from the zero to the last "
    "station before you drill. Where the board is larger than the paper, set its edges out from the centre line and "
    "the "
    "zero, by the sizes on the jig's own page."
)


def jig_tile_sections(plan: Plan) -> tuple[Section, ...]:
    """Return every jig that is to be made, at full size, or nothing where there is none."""
    return tiles_of([j for j in plan.machining.jigs if not j.owned], plan.job)


def tiles_of(jigs: Sequence[JigPlan], job: Job) -> tuple[Section, ...]:
    """Return some jigs at full size, on a job's paper and in its unit; nothing where there is none."""
    figures = Figures.of_job(job)
    lengths = job.lengths
    if not jigs:
        return ()
    of_each = [jig_tiles(jig, job.paper, figures=figures) for jig in jigs]
    rows = [
        [j.id, j.name, lengths.n(j.length), lengths.n(j.width), str(len(tiles)), TICK]
        for j, tiles in zip(jigs, of_each, strict=True)
    ]
    heads: list[Column | str] = ["jig", wide("what"), right("length"), right("width"), right("tiles"), "pasted"]
    blocks: list[Block] = [Words(text=HOW_TO), table(heads, rows)]
    pages = _pages([t for tiles in of_each for t in tiles], job.paper)
    blocks += [Tiles(drawings=tuple(page)) for page in pages]
    return (Section(title="Jigs at full size", head="jigs at full size", blocks=tuple(blocks)),)


def _pages(tiles: list[Drawing], paper: Paper) -> list[list[Drawing]]:
    """Return the tiles page by page, in order, as many on a page that lies on its side as it holds."""
    _, short, _ = PAPERS[paper.value]
    pages: list[list[Drawing]] = []
    left = 0.0
    for tile in tiles:
        height = tile.paper_size[1] + _BETWEEN
        if not pages or height > left:
            pages.append([])
            left = short - ABOVE_AND_BELOW
        pages[-1].append(tile)
        left -= height
    return pages
