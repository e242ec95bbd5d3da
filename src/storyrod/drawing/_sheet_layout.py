"""A sheet as it is cut: parts with marks and sizes, cuts in their order, trim, kerf, and what is left over."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.drawing._drawing import Drawing, bounds_of, flattened
from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import Taken, spread
from storyrod.drawing._layers import DIMENSIONS, GRAIN, OUTLINE, WORDS
from storyrod.drawing._lettering import least_height, width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._sheet_moment import Moment, hand_of, pieces
from storyrod.drawing._symbols import arrow_head, grain_arrow, line, rectangle
from storyrod.drawing._types import Bounds, Circle, Dimension, Entity, Group, Place, Text, around, text_box
from storyrod.model.panel import Grain
from storyrod.model.sheet import Cut, CutNode, Offcut, Part, PieceKind, Placement, SheetPlan, Way

PARTS: Final = "PARTS"
CUTS: Final = "CUTS"
TRIM: Final = "TRIM"
OFFCUTS: Final = "OFFCUTS TO KEEP"
WASTE: Final = "WASTE"
NUMBERS: Final = "CUT NUMBERS"

PART = Fill(Tint.BOARD_1)
KEPT = Fill(Tint.PAPER, Hatch.SLANT)
LOST = Fill(Tint.PAPER, Hatch.CROSSED)

SHEET_ROOM: Final = (175.0, 150.0)
"""Room on a page for one sheet (mm), its words included."""

_CLEAR: Final = 0.3  # between a cut's number and the ring round it, on paper
_LOOKED_AT: Final = 240  # free places for a number among which one with a clear leader is sought
_SECOND: Final = 0.5  # between the two rings round the number of the first cut, on paper
_AIR: Final = 1.0  # round words, on paper
_FOOT: Final = 0.6  # radius of the dot at which a number's leader begins, on paper
_ARROW: Final = 6.0  # least half length of a grain arrow in a part, on paper
_ALONE: Final = 1.15  # a line of words that stands alone, in heights
_LINE: Final = 1.45  # from one line of words to the next, in heights


def sheet_layout(  # noqa: PLR0913 - keyword-only dials, each with a sound default
    sheet: SheetPlan,
    parts: Sequence[Part],
    *,
    kerf: float = 0.0,
    grain: bool = True,
    steps: Mapping[int, int] | None = None,
    figures: Figures | None = None,
    room: tuple[float, float] = SHEET_ROOM,
    unit: float | None = None,
    at_step: int | None = None,
    patterns: Mapping[str, Hatch] | None = None,
) -> Drawing:
    """Return the sheet to scale, its length lying; as large as `room` allows, or at `unit` (1 is true size).

    `grain` says whether the board has a grain, which then runs along the sheet. `steps` gives the step of the saw's
    list in which each cut (by its number) is made, and that is what stands on its line; without it, its own number.

    `at_step` shows the sheet while it is cut: cuts of earlier steps are made, those of later ones are thin; those of
    this step alone bear their number, what is in hand has a heavy outline, what comes off is tinted, and pieces that
    are off already are left white.

    `patterns` tells parts of several jobs apart, by the part's id; words in them stand on clear ground.
    """
    by_id = {p.id: p for p in parts}
    moment = None if at_step is None else Moment.of(sheet, steps or {}, at_step)
    drawn = _Sheet(sheet, by_id, kerf, grain, steps or {}, figures or Figures(), moment)
    drawn.patterns = patterns or {}
    return drawn.at(unit) if unit is not None else fitted(drawn.at, room, (sheet.length, sheet.width))


def short_name(sheet: str, piece: str) -> str:
    """Return what a piece is called beside its sheet: `strip 3`, `offcut 2`, or the name itself."""
    if piece == sheet:
        return "sheet"
    tail = piece.removeprefix(f"{sheet}/")
    words = {"S": "strip", "O": "offcut", "W": "waste"}
    return f"{words[tail[0]]} {tail[1:]}" if tail != piece and tail[:1] in words else piece


@dataclass(slots=True)
class _Page:
    """What is drawn at one scale, and which places words have taken."""

    unit: float
    items: list[Entity]
    taken: Taken
    outside: list[tuple[Place, str]]
    rings: list[Entity]

    def put(self, text: Text) -> None:
        self.taken.take(text_box(text, self.unit))
        self.items.append(text)

    def stretches(self, foot: Place, at: Place) -> list[tuple[Place, Place]]:
        """Return the parts of a leader that strike nothing through."""
        return self.taken.stretches(foot, at, 0.1 * self.unit)

    def is_clear(self, foot: Place, at: Place) -> bool:
        """Tell whether a number may stand at `at`: its leader, if it needs one, meets neither word nor number."""
        if foot == at:
            return True
        return self.stretches(foot, at) == [(foot, at)] and self.taken.is_free(_ball(foot, _FOOT * self.unit))


class _Sheet:
    """One sheet, ready to be drawn at any scale."""

    def __init__(
        self,
        sheet: SheetPlan,
        parts: Mapping[str, Part],
        kerf: float,
        grain: bool,  # noqa: FBT001
        steps: Mapping[int, int],
        figures: Figures,
        moment: Moment | None = None,
    ) -> None:
        self.patterns: Mapping[str, Hatch] = {}
        self.sheet, self.parts, self.kerf, self.grain = sheet, parts, kerf, grain
        self.steps, self.figures, self.moment = steps, figures, moment
        self.first = next((c.number for c in sheet.cuts if not c.trim), 0)  # the cut that parts the sheet
        high = HEIGHTS[Role.NUMBER]
        wide = max((width_of(str(self.steps.get(c.number, c.number)), high, bold=True) for c in sheet.cuts), default=0)
        self.ball = math.hypot(wide, high) / 2 + _CLEAR  # radius of the ring round a cut's number, on paper

    def at(self, unit: float) -> Drawing:
        sheet = self.sheet
        page = _Page(unit, [], Taken(unit), [], [])
        self._ground(page)
        for offcut in sheet.offcuts:
            self._offcut(page, offcut)
        for placement in sheet.placements:
            self._part(page, placement)
        self._sizes(page)
        for place, _ in page.outside:
            page.taken.take(_ball(place, 0.9 * unit))
        under = len(page.items)
        self._cuts(page)
        self._strips(page)
        self._called_out(page, under)
        kept = sum(1 for o in sheet.offcuts if o.keep)
        size = f"{self.figures.of(sheet.length)} × {self.figures.of(sheet.width)}"
        return Drawing(
            id=f"sheet.{sheet.name}",
            title=f"Sheet {sheet.name}",
            alt=f"Sheet {sheet.name}, {size}, with {len(sheet.placements)} parts, {len(sheet.cuts)} numbered cuts and "
            f"{kept} {'offcut' if kept == 1 else 'offcuts'} to keep.{self.moment.words if self.moment else ''}",
            items=tuple(page.items),
            unit=unit,
        )

    def _ground(self, page: _Page) -> None:
        s, t = self.sheet, self.sheet.trim
        page.items.append(rectangle((0, 0), (s.length, s.width), pen=Pen.OUTLINE, fill=LOST, layer=OUTLINE))
        inner = (t.left, t.bottom), (s.length - t.right, s.width - t.top)
        page.items.append(rectangle(*inner, pen=Pen.THIN, fill=Fill(Tint.PAPER), layer=TRIM))

    def _part(self, page: _Page, at: Placement) -> None:
        part = self.parts[at.part]
        box = Bounds(left=at.x, bottom=at.y, right=at.x + at.length, top=at.y + at.width)
        fill = PART if self.moment is None else self.moment.fill_of(box)
        fill = replace(fill, hatch=self.patterns.get(at.part, fill.hatch))
        outline = rectangle((box.left, box.bottom), (box.right, box.top), pen=Pen.FEATURE, fill=fill, layer=PARTS)
        mark = part.mark or part.id
        # The size is told as on the cutting list: length by width of the part, however it lies.
        size = f"{self.figures.of(part.length)} × {self.figures.of(part.width)}"
        name = part.name or mark
        page.items.append(Group(items=(outline,), id=part.id, name=f"{mark} {name}, {size}", kind="part"))
        before = len(page.items)
        texts = self._words(page, box, mark, size)
        if texts is None:
            page.outside.append((((box.left + box.right) / 2, (box.bottom + box.top) / 2), mark))
        elif fill.hatch is not Hatch.NONE:
            _clear(page, before, texts, PARTS)
        if self.grain and part.grain is not Grain.FREE:
            self._arrow(page, box)

    def _words(self, page: _Page, box: Bounds, mark: str, size: str) -> list[Text] | None:
        """Write mark and size into a piece the first way they fit, the mark alone at worst; None where
        nothing fits.
        """
        u = page.unit
        ring = (2 * self.ball - 0.2) * u  # what one takes up beside words that have their own air
        long, times, wide = size.partition(" ×")
        in_rows = ((mark, size), (f"{mark}  {size}",), (mark, f"{long}{times}", wide.strip()))
        ways = [(rows, angle) for angle in (0.0, 90.0) for rows in in_rows]
        for rows, angle in [*ways, ((mark,), 0.0), ((mark,), 90.0)]:
            room = (box.width, box.height) if angle == 0 else (box.height, box.width)
            texts = _lines(box, rows, u, angle)
            need_w = max(width_of(t.text, t.height * u, bold=t.bold) for t in texts) + 2 * _AIR * u
            need_h = sum(t.height for t in texts) * u * (_LINE if len(texts) > 1 else _ALONE) + 0.2 * u
            if need_w <= room[0] and need_h <= room[1]:
                spare = room[0] - need_w
                if angle == 0 and ring <= spare < 2 * ring:  # so that a cut's ring has room at the left
                    texts = [replace(t, at=(t.at[0] + spare / 2, t.at[1])) for t in texts]
                for text in texts:
                    page.put(text)
                return texts
        return None

    def _arrow(self, page: _Page, box: Bounds) -> None:
        """Draw the grain in a part, below its words or above them, where there is room."""
        u = page.unit
        half = min(max(box.width * 0.22, _ARROW * u), 14.0 * u)
        if 2 * half > box.width - 3 * u:
            return
        x = (box.left + box.right) / 2
        for y in (box.bottom + 0.24 * box.height, box.top - 0.24 * box.height):
            space = Bounds(left=x - half, right=x + half, bottom=y - 1.3 * u, top=y + 1.3 * u)
            if box.grown(-0.8 * u).holds(space) and page.taken.is_free(space, 0.4 * u):
                page.taken.take(space)
                page.items.append(line((x - half, y), (x + half, y), pen=Pen.THIN, layer=GRAIN))
                for way in (-1.0, 1.0):
                    page.items.append(arrow_head((x + way * half, y), (way, 0.0), u, Pen.THIN, 2.0, layer=GRAIN))
                return

    def _offcut(self, page: _Page, offcut: Offcut) -> None:
        a, b = (offcut.x, offcut.y), (offcut.x + offcut.length, offcut.y + offcut.width)
        fill, layer = (KEPT, OFFCUTS) if offcut.keep else (LOST, WASTE)
        if self.moment is not None:
            box = Bounds(left=a[0], bottom=a[1], right=b[0], top=b[1])
            fill = Fill(self.moment.fill_of(box, Tint.PAPER).tint, fill.hatch)
        page.items.append(rectangle(a, b, pen=Pen.THIN, fill=fill, layer=layer))
        if not offcut.keep:
            return
        box = Bounds(left=a[0], bottom=a[1], right=b[0], top=b[1])
        size = f"{self.figures.of(offcut.length)} × {self.figures.of(offcut.width)}"
        before = len(page.items)
        name = short_name(self.sheet.name, offcut.name)
        texts = self._words(page, box, name, size)
        if texts is None:
            page.outside.append((((box.left + box.right) / 2, (box.bottom + box.top) / 2), name))
            return
        _clear(page, before, texts, OFFCUTS)

    def _cuts(self, page: _Page) -> None:
        moment = self.moment
        for cut in self.sheet.cuts:
            later = moment is not None and cut.number in moment.later
            page.items.append(self._line(cut) if later else self._kerf(cut))
        self._in_hand(page)
        numbered = self.sheet.cuts if moment is None else moment.now
        # Long cuts have many places for their number, short ones few: these choose first.
        for cut in sorted(numbered, key=lambda c: (c.trim, c.length)):
            self._number(page, cut)
        page.items += page.rings  # over every leader and its dot

    def _in_hand(self, page: _Page) -> None:
        """Draw a heavy line round what is in hand, and along the cut that is made now."""
        for cut in self.moment.now if self.moment is not None else ():
            if not cut.trim:
                box = hand_of(cut)
                corners = (box.left, box.bottom), (box.right, box.top)
                page.items.append(rectangle(*corners, pen=Pen.MARK, layer=CUTS))
            middle = cut.at + self.kerf / 2
            ends = ((cut.start, middle), (cut.end, middle))
            if cut.way is Way.CROSSCUT:
                ends = ((middle, cut.start), (middle, cut.end))
            page.items.append(line(*ends, pen=Pen.DATUM, layer=CUTS))

    def _line(self, cut: Cut) -> Entity:
        """Draw a cut that is still to be made."""
        ends = ((cut.start, cut.at), (cut.end, cut.at))
        if cut.way is Way.CROSSCUT:
            ends = ((cut.at, cut.start), (cut.at, cut.end))
        return line(*ends, pen=Pen.GHOST, layer=CUTS)

    def _kerf(self, cut: Cut) -> Entity:
        ends = ((cut.start, cut.at), (cut.end, cut.at + self.kerf))
        if cut.way is Way.CROSSCUT:
            ends = ((cut.at, cut.start), (cut.at + self.kerf, cut.end))
        return rectangle(*ends, pen=Pen.THIN, fill=Fill(Tint.INK), layer=CUTS)

    def _number(self, page: _Page, cut: Cut) -> None:
        """Put the cut's number in a ring on its line where it covers no word, else beside it with a leader."""
        u = page.unit
        out = self.ball + (_SECOND if cut.number == self.first else 0.0)
        free = (p for p in self._places(cut, u) if page.taken.is_free(_ball(p[1], out * u), 0.15 * u))
        foot, at = first = next(free)
        if not page.is_clear(*first):
            more = itertools.islice(free, _LOOKED_AT)
            foot, at = next((p for p in more if page.is_clear(*p)), first)
        if foot != at:
            dot = _ball(foot, _FOOT * u)
            has_room = page.taken.is_free(dot)  # not beside a word that fills its part
            drawn = [line(*ends, pen=Pen.THIN, layer=NUMBERS) for ends in page.stretches(foot, at)]
            page.items += drawn
            for leader in drawn:  # no later number stands on it, as if it were its own
                page.taken.take(around(leader.points))
            if has_room:
                page.items.append(Circle(centre=foot, radius=_FOOT * u, fill=Fill(Tint.INK), layer=NUMBERS))
                page.taken.take(dot)
        page.taken.take(_ball(at, out * u))
        words = str(self.steps.get(cut.number, cut.number))
        number = Text(at=at, text=words, height=HEIGHTS[Role.NUMBER], bold=True, role=Role.NUMBER, layer=NUMBERS)
        for radius in sorted({out, self.ball}, reverse=True):
            ring = Circle(centre=at, radius=radius * u, pen=Pen.FEATURE, fill=Fill(Tint.PAPER), layer=NUMBERS)
            page.rings.append(ring)
        page.rings.append(number)

    def _places(self, cut: Cut, u: float) -> Iterator[tuple[Place, Place]]:
        """Yield where a cut's number may stand, as (place on the cut, place of the number), ever further away."""
        middle = cut.at + self.kerf / 2
        if cut.trim:
            yield from ((p, p) for p in self._beside(cut, middle, u))
        ball = (self.ball + 0.6) * u
        near = [0.5, *(0.5 + way * n * 0.04 for n in range(1, 13) for way in (-1, 1))]
        alongs = [cut.start + share * cut.length for share in near]
        for along in alongs:
            if cut.length <= 2 * ball or cut.start + ball <= along <= cut.end - ball:
                on = (along, middle) if cut.way is Way.RIP else (middle, along)
                yield on, on
        for away in itertools.count(1):
            for along, side in itertools.product(alongs, (1, -1)):
                on = (along, middle) if cut.way is Way.RIP else (middle, along)
                off = middle + side * (away * ball + 0.8 * u)
                yield on, (along, off) if cut.way is Way.RIP else (off, along)

    def _beside(self, cut: Cut, middle: float, u: float) -> Iterator[Place]:
        """Yield places for a trimming cut's number: just outside the sheet, from the cut's start."""
        s, off = self.sheet, (self.ball + 0.8) * u
        for share in (0.06, 0.1, 0.14, 0.2, 0.3):
            along = cut.start + share * cut.length
            if cut.way is Way.RIP:
                yield along, -off if middle < s.width / 2 else s.width + off
            else:
                yield -off if middle < s.length / 2 else s.length + off, along

    def _strips(self, page: _Page) -> None:
        """Name the strips that are cut again, in whatever room their parts leave."""
        for node in pieces(self.sheet.tree):
            if node.kind is not PieceKind.STRIP:
                continue
            text = short_name(self.sheet.name, node.name)
            found = page.taken.first_free(self._strip_places(node, text, page.unit), page.unit, 0.3 * page.unit)
            if found is not None:
                box = text_box(found, page.unit).grown(0.3 * page.unit)
                ground = rectangle((box.left, box.bottom), (box.right, box.top), fill=Fill(Tint.PAPER), layer=WORDS)
                page.items += [ground, found]

    def _strip_places(self, node: CutNode, text: str, u: float) -> Iterator[Text]:
        height = HEIGHTS[Role.NUMBER]
        half_w, half_h = width_of(text, height * u) / 2 + 0.8 * u, (0.62 * height + 0.6) * u
        inside = Bounds(left=node.x, bottom=node.y, right=node.x + node.length, top=node.y + node.width)
        for dy in (0.0, 1.0):
            for share in (0.0, 0.12, 0.24, 0.36, 0.5, 0.64, 0.76, 0.88, 1.0):
                x = inside.left + half_w + share * (inside.width - 2 * half_w)
                y = inside.top - half_h - dy * (inside.height - 2 * half_h)
                box = Bounds(left=x - half_w, right=x + half_w, bottom=y - half_h, top=y + half_h)
                if inside.holds(box):
                    yield Text(at=(x, y), text=text, height=height, role=Role.NUMBER, layer=WORDS)

    def _called_out(self, page: _Page, under: int) -> None:
        """Name pieces too small for words above the sheet, each with a leader below all that was drawn from `under`."""
        if not page.outside:
            return
        u, s = page.unit, self.sheet
        height = HEIGHTS[Role.NAME]
        wanted = [place[0] for place, _ in page.outside]
        gap = height * 1.5 * u
        xs = spread(wanted, gap)
        foot = max(s.width + 4.0 * u, bounds_of(page.items, u).top) + 1.0 * u
        leaders: list[Entity] = []
        for (place, words), x in zip(page.outside, xs, strict=True):
            end = (x, foot)
            out = (place[0], s.width + 1.0 * u)
            leaders += [line(*ends, pen=Pen.EXTENSION, layer=WORDS) for ends in page.stretches(place, out)]
            leaders.append(line(out, end, pen=Pen.EXTENSION, layer=WORDS))
            leaders.append(Circle(centre=place, radius=0.5 * u, fill=Fill(Tint.INK), layer=WORDS))
            long = width_of(words, height * u) / 2 + 0.8 * u
            page.put(Text(at=(x, foot + long), text=words, height=height, angle_deg=90.0, layer=WORDS))

        page.items[under:under] = leaders

    def _sizes(self, page: _Page) -> None:
        u, s = page.unit, self.sheet
        away = 2 * self.ball + 4.0
        height = HEIGHTS[Role.FIGURE]
        sizes = [
            Dimension(a=(0, 0), b=(s.length, 0), away=-away * u, text=self.figures.of(s.length), height=height,
                      layer=DIMENSIONS),
            Dimension(a=(0, 0), b=(0, s.width), away=away * u, text=self.figures.of(s.width), height=height,
                      layer=DIMENSIONS),
        ]  # fmt: skip
        page.items += sizes
        for item in flattened(sizes, u):
            page.taken.take(bounds_of((item,), u))
        if self.grain:
            middle = (s.length / 2, -(away + 4.5) * u)
            page.items += grain_arrow(middle, 22.0 * u, u, along_x=True)
            at = (middle[0] + 25.0 * u + width_of("grain", HEIGHTS[Role.NOTE] * u) / 2, middle[1])
            page.items.append(Text(at=at, text="grain", height=HEIGHTS[Role.NOTE], layer=GRAIN))


def _clear(page: _Page, before: int, texts: Sequence[Text], layer: str) -> None:
    """Lay clear ground under words that would stand on a pattern, below all that was drawn since `before`."""
    ground = [text_box(t, page.unit).grown(0.5 * page.unit) for t in texts]
    page.items[before:before] = [
        rectangle((g.left, g.bottom), (g.right, g.top), fill=Fill(Tint.PAPER), layer=layer) for g in ground
    ]


def _lines(box: Bounds, rows: Sequence[str], u: float, angle: float) -> list[Text]:
    """Return the rows as words centred in a piece, the first one bold, along it or turned."""
    heights = [max(HEIGHTS[Role.NAME if n == 0 else Role.NUMBER], least_height(row)) for n, row in enumerate(rows)]
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    total = sum(heights) * u * _LINE
    texts, done = [], 0.0
    for n, (row, height) in enumerate(zip(rows, heights, strict=True)):
        off = total / 2 - done - height * u * _LINE / 2
        done += height * u * _LINE
        at = (x, y + off) if angle == 0 else (x - off, y)
        texts.append(Text(at=at, text=row, height=height, bold=n == 0, angle_deg=angle, role=Role.NAME, layer=WORDS))
    return texts


def _ball(at: Place, r: float) -> Bounds:
    return Bounds(left=at[0] - r, right=at[0] + r, bottom=at[1] - r, top=at[1] + r)
