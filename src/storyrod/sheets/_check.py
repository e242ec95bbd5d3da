"""What must be right before anything is laid out; all faults are told at once."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from storyrod.faults import Fault, within
from storyrod.measure.length import Unit
from storyrod.model.panel import Grain
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim
from storyrod.sheets._grid import Grid, grid_of
from storyrod.trade.sold import SOLD

MOST_PARTS = 5000

type Extent = tuple[int, int]
"""Extents along the sheet and across it, in units of the grid."""


def faults_in(parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules) -> Iterator[Fault]:
    """Yield every fault of parts, stock and rules that can be told without laying anything out."""
    yield from _rules(rules)
    yield from _same_ids(parts, stock)
    for part in parts:
        yield from _part(part)
    for sheet in stock:
        yield from _sheet(sheet, rules)
    if sum(p.copies for p in parts) > MOST_PARTS:
        yield Fault(
            code="too-many-parts",
            field="parts",
            found=f"{sum(p.copies for p in parts)} parts",
            allowed=f"at most {MOST_PARTS} at a time",
            do="Lay the job out in two or more lots.",
        )
    yield from _strips(parts)


def faults_of_fit(parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules) -> Iterator[Fault]:
    """Yield the faults of parts that no sheet can give, and of too little stock, board by board."""
    for board in dict.fromkeys(p.board for p in parts):
        own = [p for p in parts if p.board == board]
        sheets = [s for s in stock if s.board == board]
        if not sheets:
            yield Fault(
                code="no-sheet",
                field=own[0].field or f"boards.{board}",
                found=f"no sheet of {board}",
                allowed="at least one sheet size, or an offcut, for every board used",
                do=f"Add a sheet size for {board} with its length, width and price.",
            )
            continue
        too_large = list(_too_large(own, sheets, rules))
        yield from too_large
        if not too_large:
            yield from list(_too_little(board, own, sheets, rules)) or _none_left(board, own, sheets, rules)


def _rules(rules: CutRules) -> Iterator[Fault]:
    yield from within("saw.kerf", rules.kerf, 0, 20, do="Measure the width of a saw cut in scrap, as 2.2.")
    yield from _trim("saw.trim", rules.trim)
    yield from within("saw.offcut_length", rules.offcut_length, 0, 20000, do="Say the least length worth keeping.")
    yield from within("saw.offcut_width", rules.offcut_width, 0, 20000, do="Say the least width worth keeping.")


def _trim(field: str, trim: Trim) -> Iterator[Fault]:
    for edge in ("left", "right", "bottom", "top"):
        yield from within(f"{field}.{edge}", getattr(trim, edge), 0, 1000, do="Say how much is cut off this edge.")


def _same_ids(parts: Sequence[Part], stock: Sequence[StockSheet]) -> Iterator[Fault]:
    for what, things in (("parts", parts), ("stock", stock)):
        counts = Counter(t.id for t in things)
        for name, times in counts.items():
            if times > 1:
                last = [t for t in things if t.id == name][-1]
                offcut = isinstance(last, StockSheet) and last.offcut
                yield Fault(
                    code="offcut-twice" if offcut else "listed-twice",
                    field=last.field or f"{what}.{name}",
                    found=f"{name} listed {times} times",
                    allowed="each offcut once: it can be cut only once" if offcut else "each name once",
                    do="Delete one of them, or give it a name of its own.",
                )


def _part(part: Part) -> Iterator[Fault]:
    field = part.field or f"parts.{part.id}"
    yield from within(f"{field}.length", part.length, 0.01, 20000, do="Give the part a length.")
    yield from within(f"{field}.width", part.width, 0.01, 20000, do="Give the part a width.")
    if part.copies < 1:
        yield Fault(
            code="copies", field=f"{field}.copies", found=str(part.copies), allowed="1 or more", do="Say how many."
        )


def _sheet(sheet: StockSheet, rules: CutRules) -> Iterator[Fault]:
    field = sheet.field or f"stock.{sheet.id}"
    yield from within(f"{field}.length", sheet.length, 1, 20000, do="Give the sheet's length along the grain.")
    yield from within(f"{field}.width", sheet.width, 1, 20000, do="Give the sheet's width across the grain.")
    if sheet.trim is not None:
        yield from _trim(f"{field}.trim", sheet.trim)
    if sheet.price_cents is not None and sheet.price_cents < 0:
        yield Fault(
            code="price",
            field=f"{field}.price",
            found=f"{sheet.price_cents / 100:.2f}",
            allowed="0 or more",
            do="Correct the price; leave it out when it is not known.",
        )
    if sheet.copies is not None and sheet.copies < 0:
        yield Fault(
            code="copies", field=f"{field}.copies", found=str(sheet.copies), allowed="0 or more", do="Say how many."
        )
    trim = sheet.trim or rules.trim
    usable, told = usable_of(sheet, rules), rules.lengths.told
    if min(usable) <= 0 and all(map(math.isfinite, (sheet.length, sheet.width, *usable))):
        yield Fault(
            code="trim-too-large",
            field=f"{field}.trim" if sheet.trim else "saw.trim",
            found=f"trim {told(trim.left)} + {told(trim.right)} by {told(trim.bottom)} + {told(trim.top)}",
            allowed=f"less than the sheet, {rules.lengths.told_size(sheet.length, sheet.width)}",
            do="Trim less, or leave this sheet out.",
        )


def _strips(parts: Iterable[Part]) -> Iterator[Fault]:
    groups: dict[str, list[Part]] = {}
    for part in parts:
        if part.strip:
            groups.setdefault(part.strip, []).append(part)
    for name, members in groups.items():
        differ = [
            words
            for words, values in (
                ("boards", {p.board for p in members}),
                ("numbers of copies", {p.copies for p in members}),
                ("ways of the grain", {p.grain for p in members}),
                ("directions of the strip", {p.end_to_end for p in members}),
            )
            if len(values) > 1
        ]
        if differ:
            yield Fault(
                code="strip",
                field=members[0].field or f"parts.{members[0].id}",
                found=f"{name}: parts with different {' and '.join(differ)}",
                allowed="one board, one grain, one direction, as many copies of each",
                do="Make them the same, or do not ask them to match.",
            )


def sold_sizes(rules: CutRules) -> tuple[tuple[float, float], ...]:
    """Return the sizes in which board is commonly sold where one reckons so (mm), smallest first."""
    return SOLD[Unit.INCH if rules.lengths.is_inch else Unit.MM]


def usable_of(sheet: StockSheet, rules: CutRules) -> tuple[float, float]:
    """Return the length and width of a sheet inside its trim (mm)."""
    trim = sheet.trim or rules.trim
    return sheet.length - trim.left - trim.right, sheet.width - trim.bottom - trim.top


def _usable(sheet: StockSheet, rules: CutRules, grid: Grid) -> Extent:
    """Return the same as the search measures it: what is left of hundredths is no room."""
    trim = sheet.trim or rules.trim
    return (
        grid.down(sheet.length) - grid.up(trim.left) - grid.up(trim.right),
        grid.down(sheet.width) - grid.up(trim.bottom) - grid.up(trim.top),
    )


def _extents(part: Part, grid: Grid) -> list[Extent]:
    length, width = grid.up(part.length), grid.up(part.width)
    along, across = (length, width), (width, length)
    if part.grain is Grain.FREE:
        return [along] if part.strip else [along, across]
    return [along] if part.grain is Grain.ALONG else [across]


def _pieces(parts: Sequence[Part], grid: Grid) -> Iterator[tuple[str, str, list[Extent]]]:
    """Yield what must come out of one sheet whole: name, field and ways to lie, as the search measures them.

    A strip counts as one.
    """
    strips: dict[str, list[Part]] = {}
    for part in parts:
        if part.strip:
            strips.setdefault(part.strip, []).append(part)
        else:
            yield part.name or part.mark or part.id, part.field or f"parts.{part.id}", _extents(part, grid)
    for name, members in strips.items():
        ways = [_extents(p, grid)[0] for p in members]
        axis = 0 if members[0].end_to_end else 1
        run = sum(w[axis] for w in ways) + grid.kerf * (len(ways) - 1)
        cross = max(w[1 - axis] for w in ways)
        field = members[0].field or f"parts.{members[0].id}"
        yield f"the strip of {name}", field, [(run, cross) if axis == 0 else (cross, run)]


def _too_large(parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules) -> Iterator[Fault]:
    grid = grid_of(rules.kerf)
    room = [_usable(s, rules, grid) for s in stock]
    for name, field, units in _pieces(parts, grid):
        if _fits(units, room):
            continue
        ways = [(grid.mm(w), grid.mm(h)) for w, h in units]
        largest = max(stock, key=lambda s: s.length * s.width)
        usable, told = usable_of(largest, rules), rules.lengths.told
        yield Fault(
            code="part-too-large",
            field=field,
            found=f"{name}, {told(ways[0][0])} along the grain x {told(ways[0][1])}",
            allowed=f"what a sheet gives inside its trim: at most {rules.lengths.told_size(*usable)} of {largest.id}",
            do=_nearest(ways, rules),
        )


def _fits(ways: Sequence[Extent], usable: Iterable[Extent]) -> bool:
    """Return whether a piece that may lie in any of these ways comes out of any of these sheets."""
    return any(w[0] <= u[0] and w[1] <= u[1] for u in usable for w in ways)


def _none_left(board: str, parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules) -> Iterator[Fault]:
    """Pieces that only a sheet could give of which there is none: not too large, but without stock."""
    grid = grid_of(rules.kerf)
    there = [_usable(s, rules, grid) for s in stock if s.copies != 0]
    without = [(n, ways[0]) for n, _, ways in _pieces(parts, grid) if not _fits(ways, there)]
    if without:
        gone = [s for s in stock if s.copies == 0]
        yield not_enough(
            board, sum(grid.mm(a) * grid.mm(b) for _, (a, b) in without), gone, rules, ", ".join(n for n, _ in without)
        )


def _nearest(ways: Sequence[tuple[float, float]], rules: CutRules) -> str:
    trim, size_told = rules.trim, rules.lengths.told_size
    need = [(w[0] + trim.left + trim.right, w[1] + trim.bottom + trim.top) for w in ways]
    for size in sold_sizes(rules):
        if any(n[0] <= size[0] and n[1] <= size[1] for n in need):
            return f"A sheet of {size_told(*size)} would do; or make the part smaller or join two."
    n = min(need, key=lambda s: s[0] * s[1])
    return f"A sheet of at least {size_told(*n)} would do; or make the part smaller or join two."


def _too_little(board: str, parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules) -> Iterator[Fault]:
    """The area of the parts, kerf counted, is more than all the sheets have."""
    if any(s.copies is None and not s.offcut for s in stock):
        return
    k = rules.kerf
    want = sum((p.length + k) * (p.width + k) * p.copies for p in parts)
    usable = [(u[0] + k) * (u[1] + k) * copies_of(s) for s in stock for u in (usable_of(s, rules),)]
    short = want - sum(usable)
    if short > 0:
        yield not_enough(board, short, stock, rules, f"{sum(p.copies for p in parts)} parts")


def copies_of(sheet: StockSheet) -> int:
    """Return how many there are of a sheet that is not endless; an offcut is there once unless set."""
    return 1 if sheet.copies is None else sheet.copies


def not_enough(board: str, short_mm2: float, stock: Sequence[StockSheet], rules: CutRules, left: str) -> Fault:
    """Return the fault that says how much board is missing, and how many sheets of which size would do at least."""
    sizes = [s for s in stock if not s.offcut] or list(stock)
    best = max(sizes, key=lambda s: s.length * s.width)
    usable = usable_of(best, rules)
    more = math.ceil(short_mm2 / (usable[0] * usable[1]))
    have = ", ".join(f"{copies_of(s) if s.copies is not None or s.offcut else 'any number'} of {s.id}" for s in stock)
    size = sold_sizes(rules)[0] if best.offcut else (best.length, best.width)
    return Fault(
        code="not-enough-stock",
        field=best.field or f"stock.{best.id}",
        found=f"{board}: {short_mm2 / 1e6:.2f} m2 short for {left}; there: {have}",
        allowed="enough sheets for every part",
        do=f"Get at least {more} more of {rules.lengths.told_size(*size)}.",
    )
