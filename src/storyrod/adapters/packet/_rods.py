"""Rods at full size: for each gang a strip with every position, cut into tiles that fit the paper."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from storyrod.adapters.packet._blocks import Block, Section, Tiles
from storyrod.adapters.packet._page_room import ABOVE_AND_BELOW, height_of
from storyrod.adapters.packet._typeset import PAPERS
from storyrod.drawing import TILE, Drawing, Figures, check_bar_drawing, rod_tiles
from storyrod.faults import Fault, raise_if_any
from storyrod.model.mark import Rod
from storyrod.planning import Plan
from storyrod.telling.blocks import Words

_BESIDE = 5.0  # mm between tiles side by side
_BELOW = 3.0  # mm between rows of tiles
_HEADING = 12.0  # mm for the heading of the first page
_FEWEST = 3  # places from which on a rod is quicker than a rule

Rows = list[tuple[Drawing, ...]]

HOW_TO = (
    "Print these pages at 100 % and lay a rule along a check bar: it must measure 100 mm. Cut along the outlines, lay "
    "the crosses over each other, and stick the strip to a batten with the black end flush. Lengths run from the datum "
    "end along one edge, widths from the face edge along the other; a band shows where a mating panel goes."
)


def rod_sections(plan: Plan, marks: Collection[str] = ()) -> tuple[Section, ...]:
    """Return the rods of all gangs that have enough to mark, or nothing where there is none.

    With `marks`, only the rods of these panels, however little there is to mark.

    Raises:
        JobError: no panel of these marks has a rod.
    """
    figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)
    paper = plan.job.paper
    asked = _asked(plan, marks)
    few = [] if marks else [r for r in asked if 0 < _places(r) < _FEWEST]
    tiles = [rod_tiles(r, paper, figures=figures) for r in asked if _places(r) >= (1 if marks else _FEWEST)]
    if not tiles:
        return ()
    words = [Words(text=HOW_TO)]
    if few:
        words.append(
            Words(text=f"A rule is quicker for one mark or two: {', '.join(r.name for r in few)}.", quiet=True)
        )
    width, (_, short, _) = TILE[paper], PAPERS[paper.value]
    bar = check_bar_drawing()
    room = short - ABOVE_AND_BELOW - bar.paper_size[1] - _BELOW
    lead = _HEADING + sum(height_of(w, width) for w in words)
    pages = _pages(_rows(tiles, width), room, lead)
    blocks: list[Block] = [*words, *(Tiles(drawings=((bar,), *page)) for page in pages)]
    return (Section(title="Rods at full size", head="rods", lying=True, blocks=tuple(blocks)),)


def has_rods(plan: Plan) -> bool:
    """Return whether any panel has enough to mark for a rod."""
    return any(_places(r) >= _FEWEST for r in plan.set_out.rods)


def _asked(plan: Plan, marks: Collection[str]) -> Sequence[Rod]:
    """Return the rods of the panels that are named, all where none is."""
    if not marks:
        return plan.set_out.rods
    panels = {p.id: p.mark for c in plan.details.cases for p in c.panels}
    rods = {r.gang: r for r in plan.set_out.rods if _places(r)}
    of_mark = {panels[p]: rods[g.id] for g in plan.set_out.gangs for p in g.panels if g.id in rods}
    raise_if_any(
        Fault(
            code="no-rod",
            field="rods",
            found=f'"{mark}"',
            allowed=f"marks of panels with a rod: {', '.join(of_mark)}",
            do="Name panels by their marks, such as A1, with commas between them.",
        )
        for mark in marks
        if mark not in of_mark
    )
    return list({r.gang: r for m in marks for r in (of_mark[m],)}.values())


def _places(rod: Rod) -> int:
    return len(rod.lengths) + len(rod.widths)


def _rows(rods: Sequence[Sequence[Drawing]], width: float) -> Rows:
    """Return the tiles in rows no wider than `width`: whole tiles alone, short ends side by side with like ones."""
    rows: list[list[Drawing]] = []
    ends: list[tuple[int, Drawing]] = []
    for tiles in rods:
        for tile in tiles:
            if tile.paper_size[0] + _BESIDE > width - min(t[-1].paper_size[0] for t in rods):
                rows.append([tile])
            else:
                ends.append((len(rows), tile))
    shared: list[tuple[int, list[Drawing]]] = []
    for at, tile in sorted(ends, key=lambda e: (-round(e[1].paper_size[1] / 4), -e[1].paper_size[0], e[1].id)):
        row = next((r for _, r in shared if _width([*r, tile]) <= width), None)
        if row is None:
            shared.append((at, [tile]))
        else:
            row.append(tile)
    for at, row in sorted(shared, key=lambda r: r[0], reverse=True):
        rows.insert(at, row)
    return [tuple(row) for row in rows]


def _width(row: Sequence[Drawing]) -> float:
    return sum(t.paper_size[0] for t in row) + _BESIDE * (len(row) - 1)


def _pages(rows: Rows, room: float, lead: float) -> list[Rows]:
    """Return the rows page by page, each on the first page that holds it; the first page has `lead` less room."""
    pages: list[Rows] = [[]]
    left = [room - lead]
    for row in rows:
        height = max(t.paper_size[1] for t in row) + _BELOW
        n = next((n for n, free in enumerate(left) if height <= free), len(pages))
        if n == len(pages):
            pages.append([])
            left.append(room)
        pages[n].append(row)
        left[n] -= height
    return pages
