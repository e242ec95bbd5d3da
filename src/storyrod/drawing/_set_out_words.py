"""Words on a set-out sheet: names of the edges, tags of the mates, numbers of the marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import Taken
from storyrod.drawing._lettering import DEPTH, width_of
from storyrod.drawing._pens import HEIGHTS, Pen, Role
from storyrod.drawing._symbols import line
from storyrod.drawing._types import Anchor, Bounds, Entity, Place, Text, around, text_box
from storyrod.drawing._unfolded import Unfolded
from storyrod.measure.space import PanelAxis
from storyrod.model.mark import Mark
from storyrod.model.panel import Surface

NAME, NOTE, NUMBER = HEIGHTS[Role.NAME], HEIGHTS[Role.NOTE], HEIGHTS[Role.NUMBER]
TIER = NAME + NOTE + 3.6
"""From one row of tags to the next: two lines of words and air."""


def edge_name_places(edge: Surface, words: str, unfolded: Unfolded, unit: float) -> Iterator[Text]:
    """Return where an edge's name may stand: within the edge as drawn, then beside its end, then ever further off."""
    way, panel = unfolded.way, unfolded.panel
    (left, low), (right, high) = unfolded.rectangle(edge)[0], unfolded.rectangle(edge)[2]
    middle = (left + right) / 2, (low + high) / 2
    half = width_of(words, NOTE) / 2 * unit + 1.2 * unit
    lies = edge.axis is PanelAxis.V
    length = right - left if lies else high - low
    for share in (0.0, -0.15, 0.15, -0.3, 0.3, -0.4, 0.4):
        if 2 * half < length * (1 - 2 * abs(share)):
            at = (middle[0] + share * length, middle[1]) if lies else (middle[0], middle[1] + share * length)
            yield Text(at=at, text=words, height=NOTE, angle_deg=0.0 if lies else 90.0, role=Role.NOTE)
    if lies:
        # In the gap between edge and face, as far from the face's datum bar as can be.
        y = low - (0.8 + NOTE / 2) * unit if edge is Surface.FAR_EDGE else high + (0.6 + NOTE / 2) * unit
        for share in (0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3, 0.4, -0.4):
            if 2 * half < length * (1 - 2 * abs(share)):
                yield Text(at=(middle[0] + share * length, y), text=words, height=NOTE, role=Role.NOTE)
        x = way * panel.length + way * 2.0 * unit
        yield Text(at=(x, middle[1]), text=words, height=NOTE, anchor=_start(way), role=Role.NOTE)
    # Above the end, reaching inward over the face, or outward.
    inward = way if edge is Surface.DATUM_END else -way
    for up in range(40):
        y = panel.width + (1.4 + NOTE / 2 + up) * unit
        for out in (inward, -inward):
            x = left if out > 0 else right
            yield Text(at=(x, y), text=words, height=NOTE, anchor=_start(out), role=Role.NOTE)


def _start(way: int) -> Anchor:
    return Anchor.START if way > 0 else Anchor.END


@dataclass(frozen=True, slots=True)
class Tag:
    """A mate's name at its joint line: where the line lies, whose end or edge it is, and what holds it."""

    at: float
    name: str
    note: str

    def width(self, unit: float) -> float:
        """How wide its two lines come out, with a little air."""
        name = width_of(self.name, NAME, bold=True)
        return (max(name, width_of(self.note, NOTE)) + 4.0) * unit


def top_tags(tags: Sequence[Tag], foot: float, level: float, ends: tuple[float, float], unit: float) -> list[Entity]:
    """Return the tags of the lines that run across the panel, in as few rows above it as keep them apart.

    A leader goes straight up from its line at `foot`; the words start beside it, in the row where neither words nor
    leaders meet. `level` is where the lowest row stands; words stay between the panel's `ends` where they can.
    """
    placed: list[tuple[Tag, int, float, float]] = []  # tag, row, left and right of its words
    for tag in sorted(tags, key=lambda t: -t.at):
        width = tag.width(unit)
        left = tag.at if tag.at + width <= ends[1] + 4 * unit or tag.at - width < ends[0] else tag.at - width
        if left < tag.at:  # to the left of its leader: only where no tag to come would run through it
            crossed = any(tag.at - width < other.at < tag.at for other in tags)
            left = tag.at if crossed else left
        row = max((r + 1 for other, r, lo, hi in placed if lo < left + width and left < hi), default=0)
        placed.append((tag, row, left, left + width))
    items: list[Entity] = []
    for tag, row, left, _ in placed:
        low = level + row * TIER * unit
        items.append(line((tag.at, foot + 0.8 * unit), (tag.at, low + (TIER - 1.5) * unit), pen=Pen.EXTENSION))
        before = left < tag.at
        x = tag.at - 1.2 * unit if before else tag.at + 1.2 * unit
        items += _tag_words(tag, (x, low + (NOTE + 2.1 + NAME / 2) * unit), unit, before=before)
    return items


def side_tag(tag: Tag, ends: tuple[float, float], taken: Taken, limits: tuple[float, float]) -> list[Entity]:
    """Return the tag of a line that runs along the panel between x `ends`, near it where there is room.

    Beside the line's ends, above or below it, then ever further off with a leader, within the panel's `limits` first
    and beyond them after.
    """
    unit = taken.unit
    width = tag.width(unit) - 3.0 * unit
    for within, off in (*((True, o) for o in _OFFS[:7]), *((False, o) for o in _OFFS)):
        for x, y in _tag_spots(tag, ends, width, off * unit, unit):
            if within and not (limits[0] < x and x + width < limits[1]):
                continue
            words = _tag_words(tag, (x, y), unit, before=False)
            boxes = [text_box(w, unit) for w in words]
            if all(taken.is_free(box, 0.4 * unit) for box in boxes):
                leader = _leader_to_line(tag.at, ends, boxes[0], boxes[1], taken)
                for box in boxes:
                    taken.take(box)
                return [*leader, *words]
    return []


_OFFS = (0.0, 2.0, 4.0, 7.0, 10.0, 14.0, 19.0, 25.0, 32.0, 40.0)
"""How far from its line a tag may stand, on paper; beyond the panel's ends only where there is no room within."""


def _tag_spots(tag: Tag, ends: tuple[float, float], width: float, off: float, unit: float) -> Iterator[Place]:
    """Yield where a tag may stand at a distance: beside the line's ends, above it, below it."""
    left, right = ends
    tall = (NAME / 2 + NOTE + 2.0) * unit
    yield right + 2.5 * unit + off, tag.at + 0.9 * unit
    yield left - 2.5 * unit - off - width, tag.at + 0.9 * unit
    spots = [left + (right - left - width) * share for share in (0.5, 0.25, 0.75, 0.0, 1.0, 0.1, 0.9)]
    yield from ((x, tag.at + 1.6 * unit + tall + off) for x in spots)
    yield from ((x, tag.at - 1.6 * unit - NAME * 0.62 * unit - off) for x in spots)


def _leader_to_line(at: float, ends: tuple[float, float], name: Bounds, note: Bounds, taken: Taken) -> list[Entity]:
    """A thin line from a tag to the line it names, where it does not stand right beside it; broken at other words."""
    unit, (left, right) = taken.unit, ends
    if name.right < left or name.left > right:
        x, end = (name.right + 0.6 * unit, left) if name.right < left else (name.left - 0.6 * unit, right)
        return _broken((x, at), (end, at), taken) if abs(end - x) > 1.5 * unit else []
    x = min(max(name.left + 2.0 * unit, left), right)
    y = note.bottom if note.bottom > at else name.top
    return _broken((x, y), (x, at), taken) if abs(y - at) > 1.5 * unit else []


def _broken(start: Place, end: Place, taken: Taken) -> list[Entity]:
    return [line(a, b, pen=Pen.EXTENSION) for a, b in taken.stretches(start, end, 0.3 * taken.unit)]


def _tag_words(tag: Tag, at: Place, unit: float, *, before: bool) -> list[Text]:
    anchor = Anchor.END if before else Anchor.START
    below = at[0], at[1] - (NAME / 2 + NOTE / 2 + 1.6) * unit
    return [
        Text(at=at, text=tag.name, height=NAME, anchor=anchor, bold=True, role=Role.NAME),
        Text(at=below, text=tag.note, height=NOTE, anchor=anchor, role=Role.NOTE),
    ]


def number_rows(
    marks: Sequence[Mark], boxes: dict[int, Bounds], unfolded: Unfolded, taken: Taken, figures: Figures
) -> list[Entity]:
    """Return the number of each mark beside it; long even rows that stand too close show their first and last.

    `boxes` holds what each mark's cut fills on the drawing; paper's unit is that of `taken`.
    """
    unit = taken.unit
    shown = set(marks)
    rows = []
    for row in _even_rows(marks):
        room = max(width_of(str(m.number), NUMBER, bold=True) for m in row) + 1.6
        a, b = (unfolded.on(m.surface, m.feature.at) for m in row[:2])
        if abs(a[0] - b[0]) + abs(a[1] - b[1]) < room * unit:
            shown -= set(row[1:-1])
            rows.append(row)
    items: list[Entity] = []
    ends = [m for row in rows for m in (row[0], row[-1]) if m in shown]
    for mark in ends:
        items += _number(mark, boxes[mark.number], _surface(mark, unfolded), taken)
    for row in rows:
        items += _row_note(row, unfolded, taken, figures, unit)
    for mark in marks:
        if mark in shown and mark not in ends:
            items += _number(mark, boxes[mark.number], _surface(mark, unfolded), taken)
    return items


def _surface(mark: Mark, unfolded: Unfolded) -> Bounds:
    """The rectangle of the surface on which a mark is shown."""
    corners = unfolded.rectangle(mark.surface)
    return around(corners)


def _number(mark: Mark, box: Bounds, surface: Bounds, taken: Taken) -> list[Entity]:
    """A mark's number at the first free place about its cut, on the surface it is cut in if there is room.

    With a leader where it stands far off, or outside its surface.
    """
    unit = taken.unit
    words = str(mark.number)
    half, high = width_of(words, NUMBER, bold=True) / 2 * unit, NUMBER * 0.62 * unit

    def filled(at: Place) -> Bounds:
        return Bounds(left=at[0] - half, right=at[0] + half, bottom=at[1] - high, top=at[1] + high)

    def first(*, inside: bool, steps: tuple[float, ...]) -> Place | None:
        for at in _around(box, (half, high), unit, steps):
            place = filled(at)
            if surface.holds(place) is inside and taken.is_free(place, 0.25 * unit):
                return at
        return None

    near, wide = _STEPS[:3], _STEPS[3:6]
    at = (
        first(inside=True, steps=near)
        or first(inside=False, steps=near)
        or first(inside=True, steps=wide)
        or first(inside=False, steps=_STEPS)
        or first(inside=True, steps=_STEPS)
    )
    if at is None:
        return []
    taken.take(filled(at))
    text = Text(at=at, text=words, height=NUMBER, bold=True, role=Role.NUMBER)
    x, y = at
    to = min(max(x, box.left), box.right), min(max(y, box.bottom), box.top)
    far = abs(to[0] - x) + abs(to[1] - y)
    if far > 5.5 * unit or (far > 4.0 * unit and not surface.holds(filled(at))):
        stop = (y - to[1]) and (1 if to[1] > y else -1) * NUMBER * 0.62 * unit
        return [line(to, (x, y + stop), pen=Pen.EXTENSION), text]
    return [text]


_STEPS = (0.3, 1.2, 2.5, 4.0, 6.0, 9.0, 13.0, 18.0, 24.0, 32.0)
"""How far from its cut a number may stand, on paper."""


def _around(box: Bounds, words: tuple[float, float], unit: float, steps: tuple[float, ...]) -> Iterator[Place]:
    """Places for a number, nearest first: beside a cut, above, below and at its corners, then further out."""
    half, high = words
    cx, cy = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    for more in steps:
        dx, dy = box.width / 2 + more * unit + half, box.height / 2 + more * unit + high
        beside = [(x, share * box.height) for share in _shares(box.height, unit) for x in (dx, -dx)]
        above = [(share * box.width, y) for share in _shares(box.width, unit) for y in (dy, -dy)]
        corners = [(x * dx, y * dy) for x, y in _CORNERS]
        sides = [*above, *beside] if box.width > 4 * box.height else [*beside, *above]
        for x, y in (*sides, *corners):
            yield cx + x, cy + y


_CORNERS = tuple((x * sx, y * sy) for x, y in ((1, 1), (1, 0.5), (0.5, 1)) for sx in (1, -1) for sy in (1, -1))


def _shares(length: float, unit: float) -> tuple[float, ...]:
    """How far from a cut's middle its number may stand along it: a long cut gives more places."""
    return (0.0, 0.3, -0.3, 0.15, -0.15, 0.45, -0.45) if length > 12.0 * unit else (0.0, 0.3, -0.3)


def _row_note(row: Sequence[Mark], unfolded: Unfolded, taken: Taken, figures: Figures, unit: float) -> list[Entity]:
    """What a row is: how many of which size, and the step; above or below its middle, in fewer words on a small panel.

    Where no place is free of them, it stands on extension lines, which are broken there.
    """
    a, b = (unfolded.on(m.surface, m.feature.at) for m in (row[0], row[-1]))
    step = abs(row[1].u - row[0].u) + abs(row[1].v - row[0].v)
    count, size, each = len(row), figures.size(row[0].feature.shape), f"each {figures.of(step)}"
    ways = (f"{count} × {size}, {each}", f"{count} × {size.partition(f' {DEPTH}')[0]}, {each}", f"{count}, {each}")
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    flat = abs(a[0] - b[0]) >= abs(a[1] - b[1])
    offs = [s * d * unit for d in (3.2, 4.2, 5.4, 7.0, 8.5, 10.0, 13.0) for s in (1, -1)]
    length = (abs(a[0] - b[0]) + abs(a[1] - b[1])) / 2
    slides = [s * length for s in (0.0, 0.3, -0.3, 0.6, -0.6)]
    texts = [
        Text(
            at=(middle[0] + (slide if flat else off), middle[1] + (off if flat else slide)),
            text=words,
            height=NOTE,
            angle_deg=0.0 if flat else 90.0,
            role=Role.NOTE,
        )
        for words in ways
        for off in offs
        for slide in slides
    ]
    text = taken.first_free(texts, unit, 0.3 * unit) or taken.first_free(texts, unit, 0.3 * unit, over_thin=True)
    return [text] if text else []


def _even_rows(marks: Sequence[Mark]) -> Iterator[list[Mark]]:
    """Rows of five or more equal cuts in equal steps on one surface, along either axis."""
    for along, across in ((PanelAxis.U, PanelAxis.V), (PanelAxis.V, PanelAxis.U)):
        lines: dict[tuple[object, ...], list[Mark]] = {}
        for mark in marks:
            if along is not mark.surface.axis:
                at = mark.feature.at
                key = (mark.surface, mark.feature.shape, round(at.along(across), 3), round(at.w, 3))
                lines.setdefault(key, []).append(mark)
        for members in lines.values():
            members.sort(key=lambda m: m.feature.at.along(along))
            yield from _even([(m.feature.at.along(along), m) for m in members])


def _even(members: Sequence[tuple[float, Mark]]) -> Iterator[list[Mark]]:
    first = 0
    while first < len(members) - 1:
        step = members[first + 1][0] - members[first][0]
        last = first + 1
        while last + 1 < len(members) and abs(members[last + 1][0] - members[last][0] - step) < 1e-6:
            last += 1
        if last - first >= 4:
            yield [m for _, m in members[first : last + 1]]
        first = last
