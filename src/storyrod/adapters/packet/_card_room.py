"""How the parts of a set-up card stand to each other: what is set, its pictures, how panels lie, what to watch for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.adapters.packet._blocks import Block, Row
from storyrod.adapters.packet._page_room import GUTTER
from storyrod.telling.blocks import Picture

_LEAST_TOLD: Final = 66.0  # mm of width for what is set, beside two pictures
_LEAST_MIND: Final = 58.0  # the same for what to watch for, beside pictures


def arranged(
    told: Sequence[Block], drawn: Sequence[Picture], mind: Sequence[Block], lies: Sequence[Picture], width: float
) -> Iterator[tuple[Block, ...]]:
    """Yield the ways in which what is set, its pictures and what to watch for may stand: the card takes the lowest.

    `lies` are pictures of how panels lie. They stand in columns beside the rest, or in a row below it.
    """
    below = tuple(strip(lies, width))
    if not drawn:
        yield (*told, *mind, *below)
        return
    feed, *rest = drawn
    for columns in _columns_of(lies):
        for count in range(len(mind)):
            yield from _one_row((*told, *mind[:count]), (*columns, drawn), width, _LEAST_TOLD, mind[count:])
            yield from _one_row((*told, *mind[:count]), (drawn,), width, _LEAST_TOLD, (), (columns, mind[count:]))
        for section in rest:
            top = [*_one_row(told, ((feed,),), width, _LEAST_TOLD, ())]
            yield from ((*t, *m) for t in top for m in _one_row(mind, ((section,), *columns), width, _LEAST_MIND, ()))
            for count in range(len(mind)):
                both = ((section,), (feed,))
                own = (*told, *mind[:count])
                yield from _one_row(own, both, width, _LEAST_TOLD, (), (columns, mind[count:]))
                yield from _one_row(own, (*columns, *both), width, _LEAST_TOLD, mind[count:])
    for count in range(len(mind)):
        yield from _one_row((*told, *mind[:count]), (drawn,), width, 0.0, (*mind[count:], *below))


Columns = Sequence[Sequence[Picture]]
"""Pictures that stand in columns beside words."""


def _columns_of(lies: Sequence[Picture]) -> Iterator[Columns]:
    """Yield pictures in one column, in two, and so on, until each has its own."""
    for count in range(1, len(lies) + 1):
        high = -(-len(lies) // count)
        yield [lies[n : n + high] for n in range(0, len(lies), high)]
    if not lies:
        yield ()


def _one_row(
    words: Sequence[Block],
    columns: Columns,
    width: float,
    least: float,
    after: Sequence[Block],
    then: tuple[Columns, Sequence[Block]] | None = None,
) -> Iterator[tuple[Block, ...]]:
    """Yield words with columns of pictures at their right, and what follows; nothing where words have too little room.

    `then` is a second row: pictures, and words at their right.
    """
    widths = [max(p.drawing.paper_size[0] for p in own) for own in columns]
    room = width - sum(w + GUTTER for w in widths)
    if room < least:
        return
    row = Row(cells=(tuple(words), *map(tuple, columns)), shares=(room, *widths))
    if then is None:
        yield row, *after
        return
    pictures, mind = then
    widths = [max(p.drawing.paper_size[0] for p in own) for own in pictures]
    room = width - sum(w + GUTTER for w in widths)
    if room >= _LEAST_MIND and mind:
        yield row, Row(cells=(*map(tuple, pictures), tuple(mind)), shares=(*widths, room)), *after


def strip(pictures: Sequence[Picture], width: float) -> Iterator[Block]:
    """Yield pictures in rows, as many abreast as there is room for."""
    row: list[Picture] = []
    for picture in pictures:
        if row and sum(p.drawing.paper_size[0] + GUTTER for p in (*row, picture)) - GUTTER > width:
            yield _row(row)
            row = []
        row.append(picture)
    if row:
        yield _row(row)


def _row(pictures: Sequence[Picture]) -> Row:
    return Row(cells=tuple((p,) for p in pictures), shares=(0.0,) * len(pictures))
