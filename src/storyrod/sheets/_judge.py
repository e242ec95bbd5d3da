"""The judge: exact, and sharing nothing with the search but the model.

All arithmetic is exact, on the decimal figures in the plan. It looks only at the placements; the tree,
the cuts and the offcuts are then held against them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from storyrod.model.panel import Grain
from storyrod.model.sheet import (
    Cut,
    CutNode,
    CutRules,
    CuttingPlan,
    Part,
    PieceKind,
    Placement,
    SheetPlan,
    StockSheet,
    Trim,
    Way,
)

type Exact = int | Fraction

_NEAR = 20_000  # 0.02 mm in millionths: places are rounded up to hundredths, part by part


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing wrong with a plan: the rule broken, the sheet, and what it is."""

    rule: str
    sheet: str
    text: str


@dataclass(frozen=True, slots=True)
class _Rect:
    x0: Exact
    y0: Exact
    x1: Exact
    y1: Exact
    name: str

    def low(self, axis: int) -> Exact:
        return self.x0 if axis == 0 else self.y0

    def high(self, axis: int) -> Exact:
        return self.x1 if axis == 0 else self.y1


@lru_cache(maxsize=1 << 14)
def exact(mm: float) -> Exact:
    """Return the decimal figure as written, free of binary dust: millionths of a mm, whole where they are."""
    millionths = Fraction(repr(float(mm))) * 1_000_000
    return millionths.numerator if millionths.denominator == 1 else millionths


def judge(
    plan: CuttingPlan, parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules | None = None
) -> tuple[Finding, ...]:
    """Return everything that is wrong with a plan; an empty tuple when it can be cut as told.

    Held to: every copy of every part once and at its size; grain kept; within the trim; a kerf between neighbours;
    apart by straight through-cuts; no more copies of a sheet than there are, nor an offcut twice; matching parts
    next to each other in order; the cutting tree and the cuts true to the placements; every factory edge that a part
    would keep sawn off, and an edge opposite those that all is measured from only then.
    """
    rules = rules or plan.rules
    by_id = {p.id: p for p in parts}
    stock_by_id = {s.id: s for s in stock}
    found = [*_counts(plan, parts), *_stock(plan, stock_by_id)]
    for sheet in plan.sheets:
        bought = stock_by_id.get(sheet.stock)
        if bought is not None:
            found.extend(_sheet(sheet, bought, by_id, rules))
    found.extend(_strips(plan, parts, exact(rules.kerf)))
    return tuple(found)


def _counts(plan: CuttingPlan, parts: Sequence[Part]) -> Iterator[Finding]:
    laid = Counter((p.part, p.copy) for s in plan.sheets for p in s.placements)
    wanted = {(p.id, c) for p in parts for c in range(1, p.copies + 1)}
    for who, times in laid.items():
        if who not in wanted:
            yield Finding(rule="stranger", sheet="", text=f"{who[0]} no. {who[1]} was never asked for")
        elif times > 1:
            yield Finding(rule="twice", sheet="", text=f"{who[0]} no. {who[1]} is laid {times} times")
    for part, copy in sorted(wanted - laid.keys()):
        yield Finding(rule="missing", sheet="", text=f"{part} no. {copy} is not laid")


def _stock(plan: CuttingPlan, stock: dict[str, StockSheet]) -> Iterator[Finding]:
    for name, used in Counter(s.stock for s in plan.sheets).items():
        sheet = stock.get(name)
        if sheet is None:
            yield Finding(rule="no such sheet", sheet=name, text="it is not in the stock")
            continue
        most = 1 if sheet.offcut and sheet.copies is None else sheet.copies
        if most is not None and used > most:
            yield Finding(rule="too many sheets", sheet=name, text=f"{used} used, {most} there")


def _sheet(sheet: SheetPlan, bought: StockSheet, parts: dict[str, Part], rules: CutRules) -> Iterator[Finding]:
    if (sheet.length, sheet.width) != (bought.length, bought.width):
        yield Finding(rule="sheet size", sheet=sheet.name, text="it is not the size of its stock sheet")
    trim, kerf = bought.trim or rules.trim, exact(rules.kerf)
    inside = _Rect(
        exact(trim.left),
        exact(trim.bottom),
        exact(bought.length) - exact(trim.right),
        exact(bought.width) - exact(trim.top),
        sheet.name,
    )
    rects: list[_Rect] = []
    for placed in sheet.placements:
        part = parts.get(placed.part)
        if part is None:
            continue
        if part.board != bought.board:
            yield Finding(rule="board", sheet=sheet.name, text=f"{part.id} is of another board")
        yield from _size_and_grain(sheet.name, placed, part)
        rect = _rect(placed)
        rects.append(rect)
        if rect.x0 < inside.x0 or rect.y0 < inside.y0 or rect.x1 > inside.x1 or rect.y1 > inside.y1:
            yield Finding(rule="trim", sheet=sheet.name, text=f"{rect.name} lies outside the trimmed sheet")
    yield from _apart(sheet.name, rects, kerf)
    yield from _tree(sheet, rects)
    yield from _cuts(sheet, rects, kerf)
    yield from _sawn(sheet, rects, kerf, _factory_edges(bought, trim))


def _factory_edges(bought: StockSheet, trim: Trim) -> dict[tuple[int, bool], Exact]:
    """Return where the edges lie that are no part's own, by axis and whether far; an edge without trim is clean."""
    widths = {(0, False): trim.left, (0, True): trim.right, (1, False): trim.bottom, (1, True): trim.top}
    long = (exact(bought.length), exact(bought.width))
    return {s: long[s[0]] - exact(w) if s[1] else exact(w) for s, w in widths.items() if w > 0}


def _sawn(
    sheet: SheetPlan, rects: list[_Rect], kerf: Exact, factory: dict[tuple[int, bool], Exact]
) -> Iterator[Finding]:
    """Where a part lies at a factory edge, that is sawn off all along it; no other trim is asked for.

    The two edges from which all is measured are trimmed whether or not a part is there in the end. A part that ends a
    hair inside a far edge, by places that are rounded up, is sawn off there by a cut of its own, which does as well.
    """
    cuts = [(0 if c.way is Way.CROSSCUT else 1, c) for c in sheet.cuts]
    serves: set[int] = set()
    for r in rects:
        for (axis, far), edge in factory.items():
            side = r.high(axis) if far else r.low(axis)
            if not -_NEAR <= side - edge <= _NEAR:
                continue
            found = [c for a, c in cuts if a == axis and _trims_off(c, (far, edge), r, kerf)]
            serves.update(c.number for c in found if c.trim)
            if not found:
                yield Finding(rule="factory edge", sheet=sheet.name, text=f"{r.name} keeps an edge that was not sawn")
    for axis, cut in cuts:
        if not cut.trim:
            continue
        is_far = any(
            a == axis and far and -_NEAR <= exact(cut.at) - edge <= _NEAR for (a, far), edge in factory.items()
        )
        if is_far and cut.number not in serves:
            yield Finding(rule="needless trim", sheet=sheet.name, text=f"cut {cut.number} trims an edge of no part")


def _trims_off(cut: Cut, side: tuple[bool, Exact], rect: _Rect, kerf: Exact) -> bool:
    """Tell whether a trim of the rectangle's axis goes right along it."""
    axis, (far, edge) = 0 if cut.way is Way.CROSSCUT else 1, side
    at = exact(cut.at) if far else exact(cut.at) + kerf
    along = exact(cut.start) <= rect.low(1 - axis) and rect.high(1 - axis) <= exact(cut.end)
    return along and -_NEAR <= at - edge <= _NEAR


def _rect(placed: Placement) -> _Rect:
    x, y = exact(placed.x), exact(placed.y)
    return _Rect(x, y, x + exact(placed.length), y + exact(placed.width), f"{placed.part} no. {placed.copy}")


def _size_and_grain(sheet: str, placed: Placement, part: Part) -> Iterator[Finding]:
    own = (exact(part.length), exact(part.width))
    laid = (exact(placed.length), exact(placed.width))
    if laid != (own[::-1] if placed.turned else own):
        yield Finding(rule="size", sheet=sheet, text=f"{part.id} is not laid at its size")
    if part.grain is Grain.ALONG and placed.turned and own[0] != own[1]:
        yield Finding(rule="grain", sheet=sheet, text=f"{part.id} lies across the grain")
    if part.grain is Grain.ACROSS and not placed.turned and own[0] != own[1]:
        yield Finding(rule="grain", sheet=sheet, text=f"{part.id} lies along the grain")


def _apart(sheet: str, rects: list[_Rect], kerf: Exact) -> Iterator[Finding]:
    for i, a in enumerate(rects):
        for b in rects[:i]:
            if not _closer(a, b, kerf):
                continue
            if _closer(a, b, 0):
                yield Finding(rule="overlap", sheet=sheet, text=f"{a.name} and {b.name} overlap")
            else:
                yield Finding(rule="kerf", sheet=sheet, text=f"less than the kerf between {a.name} and {b.name}")
    if not _comes_apart(rects, kerf):
        yield Finding(rule="not through", sheet=sheet, text="no straight cuts right through take it apart")


def _closer(a: _Rect, b: _Rect, gap: Exact) -> bool:
    """Tell whether two rectangles are closer than the gap both ways; with no gap, whether they overlap."""
    return a.x0 < b.x1 + gap and b.x0 < a.x1 + gap and a.y0 < b.y1 + gap and b.y0 < a.y1 + gap


def _comes_apart(rects: Sequence[_Rect], kerf: Exact) -> bool:
    """Tell whether through-cuts part all rectangles.

    Any through-cut that hits none may be made at once: it never spoils one that was possible before. So the first
    that is found, either way, is made, and each side looked at by itself.
    """
    if len(rects) <= 1:
        return True
    for axis in (0, 1):
        order = sorted(rects, key=lambda r: r.low(axis))
        reach = order[0].high(axis)
        for i in range(1, len(order)):
            if order[i].low(axis) >= reach + kerf:
                return _comes_apart(order[:i], kerf) and _comes_apart(order[i:], kerf)
            reach = max(reach, order[i].high(axis))
    return False


def _tree(sheet: SheetPlan, rects: list[_Rect]) -> Iterator[Finding]:
    """The leaves of the tree are the placements and the offcuts, no piece overlaps another, children lie within."""
    leaves = list(_leaves(sheet.tree))
    told = sorted((n.part, n.copy, n.x, n.y, n.length, n.width) for n in leaves if n.kind is PieceKind.PART)
    laid = sorted((p.part, p.copy, p.x, p.y, p.length, p.width) for p in sheet.placements)
    if told != laid:
        yield Finding(rule="tree", sheet=sheet.name, text="the cutting tree does not end in the parts laid")
    rest = [n for n in leaves if n.kind is not PieceKind.PART]
    boxes = [*rects, *(_box(n) for n in rest)]
    for i, a in enumerate(boxes):
        if any(_closer(a, b, 0) for b in boxes[:i]):
            yield Finding(rule="offcut", sheet=sheet.name, text=f"{a.name} overlaps another piece")
    kept = sorted((n.x, n.y, n.length, n.width) for n in rest)
    if kept != sorted((o.x, o.y, o.length, o.width) for o in sheet.offcuts):
        yield Finding(rule="offcut", sheet=sheet.name, text="the offcuts told are not those of the cutting tree")


def _box(node: CutNode) -> _Rect:
    x, y = exact(node.x), exact(node.y)
    return _Rect(x, y, x + exact(node.length), y + exact(node.width), node.name)


def _leaves(node: CutNode) -> Iterator[CutNode]:
    if not node.children:
        yield node
    for child in node.children:
        yield from _leaves(child)


def _cuts(sheet: SheetPlan, rects: list[_Rect], kerf: Exact) -> Iterator[Finding]:
    """No cut may touch a part with its kerf."""
    for cut in sheet.cuts:
        axis = 0 if cut.way is Way.CROSSCUT else 1
        low, high = exact(cut.at), exact(cut.at) + kerf
        start, end = exact(cut.start), exact(cut.end)
        for r in rects:
            along = r.low(1 - axis) < end and start < r.high(1 - axis)
            if along and r.low(axis) < high and low < r.high(axis):
                yield Finding(rule="cut", sheet=sheet.name, text=f"cut {cut.number} runs into {r.name}")


def _strips(plan: CuttingPlan, parts: Sequence[Part], kerf: Exact) -> Iterator[Finding]:
    groups: dict[str, list[Part]] = {}
    for part in parts:
        if part.strip:
            groups.setdefault(part.strip, []).append(part)
    where = {(p.part, p.copy): (s.name, _rect(p)) for s in plan.sheets for p in s.placements}
    for name, members in groups.items():
        order = sorted(members, key=lambda p: (p.strip_order, p.id))
        axis = 0 if order[0].end_to_end else 1
        for copy in range(1, order[0].copies + 1):
            laid = [where[p.id, copy] for p in order if (p.id, copy) in where]
            if len(laid) == len(order) and not _in_a_row(laid, axis, kerf):
                yield Finding(rule="strip", sheet=laid[0][0], text=f"{name} is not cut from one strip in order")


def _in_a_row(laid: Sequence[tuple[str, _Rect]], axis: int, kerf: Exact) -> bool:
    """Same sheet, one edge in line, each right behind the one before: a kerf away, and at most 0.02 mm more."""
    most = kerf + _NEAR
    return all(
        a[0] == b[0] and a[1].low(1 - axis) == b[1].low(1 - axis) and kerf <= b[1].low(axis) - a[1].high(axis) <= most
        for a, b in pairwise(laid)
    )
