"""Putting parts into sheets, one after another, each where it fits best: the building half of the search."""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from enum import IntEnum
from typing import Final

from storyrod.sheets._apart import Setting, settings_of
from storyrod.sheets._swaps import Edit, Piece, edited, node_at, pieces_of
from storyrod.sheets._task import Size, Task
from storyrod.sheets._tree import Node, Slot, kinds_in, put_in, slots_of

NO_LIMIT: Final = 10**24  # more than the area of all parts in the finest unit, and than any cost


class Fit(IntEnum):
    """How a place is judged: the smallest is taken."""

    SHORT_SIDE = 0  # what is left beside the part, the lesser way
    AREA = 1  # the size of the place
    CORNER = 2  # the area left over in both ways
    SETTINGS = 3  # the settings that the sheet does not have yet; then the short side


class Largest(IntEnum):
    """Which part is put in first."""

    AREA = 0
    SHORT_SIDE = 1
    LONG_SIDE = 2


class Opening(IntEnum):
    """Which sheet is begun when a part fits into none."""

    VALUE = 0  # the cheapest by area
    CHANCE = 1
    LARGEST = 2
    SNUG = 3  # the least that takes it


type Place = tuple[float, Slot, Node]


class Filled:
    """One sheet with parts in it. Never changed: a part put in makes a new one."""

    __slots__ = ("best", "count", "known", "pieces", "room", "root", "size", "slots", "used")

    def __init__(self, size: int, root: Node, used: int, count: int, slots: list[Slot]) -> None:
        self.size = size
        self.root = root
        self.used = used  # area of its parts
        self.count = count  # number of its parts
        self.slots = slots
        self.room = max([s[0] * s[1] for s in slots]) if slots else 0  # area of the biggest place
        self.best: dict[int, Place | None] = {}  # best place by kind and rule, worked out when first asked for
        self.known: dict[Setting, int] | None = None  # cuts that each setting serves, kerf folded in; when asked for
        self.pieces: list[Piece] | None = None  # what can be exchanged; when asked for


class Filler:
    """Builds filled sheets for one task; nodes are gathered for a part on top of them, unless that is not wanted."""

    def __init__(self, task: Task, chance: random.Random, *, gathers: bool = True) -> None:
        self.gathers = gathers
        self.work = 0  # parts on all the sheets that were filled or changed so far: a measure of time that repeats
        self.task = task
        self.chance = chance
        self.sizes: tuple[Size, ...] = task.sizes
        self.ways = [kind.ways for kind in task.kinds]
        self.area = [kind.area for kind in task.kinds]
        self.short = [min(kind.ways[0][:2]) for kind in task.kinds]
        self.long = [max(kind.ways[0][:2]) for kind in task.kinds]
        self.whole = [size.w * size.h for size in task.sizes]
        self.least_w = min(way[0] for kind in task.kinds for way in kind.ways)
        self.least_h = min(way[1] for kind in task.kinds for way in kind.ways)

    def filled(self, size: int, root: Node) -> Filled:
        """Return a sheet filled with a tree."""
        kinds = kinds_in(root)
        return self._filled(size, root, self.area_of(kinds), len(kinds))

    def _filled(self, size: int, root: Node, used: int, count: int) -> Filled:
        self.work += count
        sheet = self.sizes[size]
        slots = slots_of(root, sheet.w, sheet.h, self.least_w, self.least_h, gathered=self.gathers)
        return Filled(size, root, used, count, slots)

    def with_part(self, sheet: Filled, slot: Slot, way: Node, kind: int) -> Filled:
        """Return the sheet with one more part."""
        return self.with_node(sheet, slot, way, kind, 1)

    def with_node(self, sheet: Filled, slot: Slot, node: Node, kind: int, n: int) -> Filled:
        """Return the sheet with a node of `n` more parts of one kind."""
        root = put_in(sheet.root, slot, node)
        return self._filled(sheet.size, root, sheet.used + n * self.area[kind], sheet.count + n)

    def exchanged(self, sheet: Filled, edit: Edit) -> Filled:
        """Return the sheet with a piece of it replaced."""
        gone, come = kinds_in(node_at(sheet.root, edit)), kinds_in(edit[2])
        used = sheet.used + self.area_of(come) - self.area_of(gone)
        return self._filled(sheet.size, edited(sheet.root, (edit,)), used, sheet.count + len(come) - len(gone))

    def area_of(self, kinds: Iterable[int]) -> int:
        """Return the area of parts."""
        area = self.area
        return sum([area[k] for k in kinds])

    def cost(self, sheets: Iterable[Filled]) -> int:
        """Return what the sheets weigh in the goal."""
        return sum([self.sizes[s.size].cost for s in sheets])

    def bought_area(self, sheets: Iterable[Filled]) -> int:
        """Return the area of parts on sheets that cost money: at one cost, the rack gives all it can."""
        return sum([s.used for s in sheets if self.sizes[s.size].cost])

    def left(self, sheets: Iterable[Filled]) -> list[int]:
        """Return how many copies of each size are still free."""
        left = [size.copies for size in self.sizes]
        for sheet in sheets:
            left[sheet.size] -= 1
        return left

    def ordered(self, kinds: list[int], order: Largest, noise: float) -> list[int]:
        """Return the parts in an order, big ones first, a little shuffled."""
        key = {Largest.AREA: self.area, Largest.SHORT_SIDE: self.short, Largest.LONG_SIDE: self.long}[order]
        roll = self.chance.random
        return sorted(kinds, key=lambda k: -key[k] * (1 - noise + 2 * noise * roll()))

    def grouped(self, kinds: list[int], order: Largest, noise: float) -> list[int]:
        """Return the parts in an order in which parts of one kind stay together."""
        key = {Largest.AREA: self.area, Largest.SHORT_SIDE: self.short, Largest.LONG_SIDE: self.long}[order]
        roll = self.chance.random
        rank = {k: (-key[k] * (1 - noise + 2 * noise * roll()), k) for k in sorted(set(kinds))}
        return sorted(kinds, key=rank.__getitem__)

    def best_place(self, sheet: Filled, kind: int, fit: Fit) -> Place | None:
        """Return the best place for a part in a sheet, with its score, or None where there is none."""
        if fit is Fit.SETTINGS:
            return self._fewest_settings(sheet, kind)
        place: Place | None = None
        best = float(NO_LIMIT)
        for way in self.ways[kind]:
            w, h = way[0], way[1]
            for slot in sheet.slots:
                dw = slot[0] - w
                if dw < 0:
                    continue
                dh = slot[1] - h
                if dh < 0:
                    continue
                if fit is Fit.AREA:
                    score = slot[0] * slot[1]
                elif fit is Fit.SHORT_SIDE:
                    score = min(dw, dh)
                else:
                    score = dw * dh
                if score < best:
                    best = score
                    place = (score, slot, way)
        sheet.best[kind * 4 + fit] = place
        return place

    def settings(self, sheet: Filled) -> dict[Setting, int]:
        """Return how many cuts each setting serves on a sheet, the kerf folded in."""
        if sheet.known is None:
            size = self.sizes[sheet.size]
            sheet.known = {}
            settings_of(sheet.root, (size.w, size.h), sheet.known)
        return sheet.known

    def pieces(self, sheet: Filled) -> list[Piece]:
        """Return the pieces of a sheet that may be exchanged with others."""
        if sheet.pieces is None:
            size = self.sizes[sheet.size]
            sheet.pieces = pieces_of(sheet.root, size.w, size.h)
        return sheet.pieces

    def _fewest_settings(self, sheet: Filled, kind: int) -> Place | None:
        size = self.sizes[sheet.size]
        known = self.settings(sheet)
        place: Place | None = None
        best = float(NO_LIMIT)
        most = size.w + size.h
        for way in self.ways[kind]:
            sides = way[0], way[1]
            new = [(axis, sides[axis]) not in known for axis in (0, 1)]
            for slot in sheet.slots:
                spare = slot[0] - sides[0], slot[1] - sides[1]
                if spare[0] < 0 or spare[1] < 0:
                    continue
                wanted = (new[0] and spare[0] > 0) + (new[1] and spare[1] > 0)
                score = wanted * most + min(spare)
                if score < best:
                    best = score
                    place = (score, slot, way)
        sheet.best[kind * 4 + Fit.SETTINGS] = place
        return place

    def fill(  # noqa: PLR0913 - keyword-only dials
        self,
        sheets: list[Filled],
        kinds: Sequence[int],
        *,
        budget: int,
        left: list[int],
        fit: Fit,
        opening: Opening | None = None,
        blink: float = 0.0,
        most_out: int = NO_LIMIT,
    ) -> list[int]:
        """Put the parts into the sheets (changed in place) in the order given; return those that found no place.

        A new sheet is begun, where `opening` is given, only when a part fits nowhere, copies are `left`, and its
        cost stays within the `budget` for all. With `blink`, a sheet is now and then overlooked. As soon as parts of
        more than the area `most_out` found no place, the rest is given up: neither put in nor returned.
        """
        roll = self.chance.random
        out: list[int] = []
        hopeless: set[int] = set()
        money = budget - self.cost(sheets)
        lost = 0
        for kind in kinds:
            if lost > most_out:
                break
            if kind in hopeless:
                out.append(kind)
                lost += self.area[kind]
                continue
            best = float(NO_LIMIT)
            chosen: Place | None = None
            at = -1
            key = kind * 4 + fit
            area = self.area[kind]
            for i, sheet in enumerate(sheets):
                if sheet.room < area:
                    continue
                try:
                    place = sheet.best[key]
                except KeyError:
                    place = self.best_place(sheet, kind, fit)
                if place is not None and place[0] < best and (not blink or roll() > blink):
                    best, chosen, at = place[0], place, i
            if chosen is not None:
                sheets[at] = self.with_part(sheets[at], chosen[1], chosen[2], kind)
                continue
            begun = None if opening is None else self._begin(kind, money, left, opening)
            if begun is None:
                hopeless.add(kind)
                out.append(kind)
                lost += self.area[kind]
                continue
            sheets.append(begun)
            money -= self.sizes[begun.size].cost
            left[begun.size] -= 1
        return out

    def _begin(self, kind: int, money: int, left: list[int], opening: Opening) -> Filled | None:
        fits = [
            (i, way)
            for i, size in enumerate(self.sizes)
            if size.cost <= money and left[i] > 0
            for way in self.ways[kind]
            if way[0] <= size.w and way[1] <= size.h
        ]
        if not fits:
            return None
        i, way = self._chosen(fits, opening)
        return self._filled(i, way, self.area[kind], 1)

    def _chosen(self, fits: list[tuple[int, Node]], opening: Opening) -> tuple[int, Node]:
        if opening is Opening.CHANCE:
            return fits[int(self.chance.random() * len(fits))]

        def rank(choice: tuple[int, Node]) -> tuple[float, int]:
            size = self.sizes[choice[0]]
            area = size.w * size.h
            if opening is Opening.LARGEST:
                return (-area, 0)
            if opening is Opening.SNUG:
                return (area, 0)
            # Of equal value, the offcut and then the smaller: an offcut used up is one less to keep.
            return (size.cost / area, area)

        return min(fits, key=rank)
