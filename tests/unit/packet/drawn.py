"""The drawings of a paper, as its pages show them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.adapters.packet._blocks import Block, Row, Tiles, Together
from storyrod.drawing import Drawing
from storyrod.telling.blocks import Picture


def drawn(blocks: Sequence[Block]) -> Iterator[tuple[Drawing, float]]:
    """Yield the drawings of blocks with the scale at which a page shows them."""
    for block in blocks:
        if isinstance(block, Picture):
            own = block.drawing.paper_size[0]
            yield block.drawing, (block.width or own) / own
        elif isinstance(block, Tiles):
            for row in block.drawings:
                yield from ((d, 1.0) for d in ((row,) if isinstance(row, Drawing) else row))
        elif isinstance(block, Row):
            for cell in block.cells:
                yield from drawn(cell)
        elif isinstance(block, Together):
            yield from drawn(block.blocks)
