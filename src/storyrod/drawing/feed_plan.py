"""A small plan of one set-up, seen from above: the guide, the cutter and how it turns, the way of the feed, the hands.

The person stands at the foot of the plan. It is a scheme, not to scale: which way, not how far.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._symbols import arrow_head, line, move_arrow, rectangle
from storyrod.drawing._types import Anchor, Arc, Circle, Entity, Path, Place, Text
from storyrod.model.feed import Feed, FeedKind, Moves, Spin

WIDE: Final = 60.0  # of the work, and so of the plan (mm on paper)
_HIGH: Final = 32.0
_SMALL: Final = 36.0  # the same where the tool goes straight in
_LOW: Final = 20.0
_BOARD: Final = Fill(Tint.BOARD_1)
_METAL: Final = Fill(Tint.CUTTER)
_WOOD: Final = Fill(Tint.JIG, Hatch.LEVEL)
_HAND: Final = Fill(Tint.INK)
_CUTTER: Final = 2.6
_SLOT_X: Final = 19.0  # middle of a template's slot
_BESIDE: Final = 41.0  # words beside a template

_STOPS: Final = (
    "",
    "The base runs against a stop block at the stopped end.",
    "The base runs against a stop block at either end.",
)

_STRAIGHT_IN: Final = frozenset({FeedKind.DRILL, FeedKind.POCKET})

Items = Iterator[Entity]


@lru_cache(maxsize=64)
def feed_plan(feed: Feed, stops: int = 0) -> Drawing:
    """Return the plan of a direction of feed, at most about 62 by 45 mm on paper; the same drawing for the same feed.

    `stops` is how many stop blocks the tool's base meets: one where the feed ends, two with one where it begins.
    """
    blocked = stops if feed.kind is FeedKind.ALONG_STRAIGHT_EDGE else 0
    items = (*(_to_stops(feed, blocked) if blocked else _DRAWN[feed.kind](feed)), *_person(feed))
    name = f"feed-{feed.kind.name.lower()}-{feed.guide.name.lower()}".replace("_", "-")
    return Drawing(
        id=name,
        title="Direction of feed",
        alt=f"Plan from above. {feed.text} {feed.more} {_STOPS[blocked]}".rstrip(),
        items=items,
    )


def _person(feed: Feed) -> Items:
    """Where one stands: out of the line of the piece at a table saw, else in the middle."""
    wide = _SMALL if feed.kind in _STRAIGHT_IN else WIDE
    x = 14.0 if feed.kind is FeedKind.SAW_TABLE else 6.0 if wide == _SMALL else WIDE / 2
    yield Arc(centre=(x, -7.0), radius=2.6, start_deg=0.0, end_deg=180.0, pen=Pen.OUTLINE)
    yield line((x - 2.6, -7.0), (x + 2.6, -7.0), pen=Pen.OUTLINE)
    yield _note((x + 4.5, -6.0), "you", Anchor.START)
    if feed.kind not in (FeedKind.PROGRAM, FeedKind.DRILL_PRESS):
        yield Circle(centre=(wide - 9.0, -6.0), radius=1.5, pen=Pen.THIN, fill=_HAND)
        yield _note((wide - 6.0, -6.0), "hand", Anchor.START)


# --- one for each kind of feed ---------------------------------------------------------------------------------------


def _straight_edge(feed: Feed) -> Items:
    yield from _work()
    yield from _named((1.0, 24.0), (WIDE - 1.0, 30.0), "")
    yield _note((WIDE / 2, _HIGH + 2.6), "straight edge", Anchor.MIDDLE)
    yield _channel((0.0, 10.9), (22.0, 16.1))
    yield from _router((22.0, 13.5), feed, base=10.5)
    yield from _arrow((34.5, 13.5), (WIDE - 4.0, 13.5), feed)
    yield from _hands((11.5, 13.5), (32.5, 9.0))


def _to_stops(feed: Feed, stops: int) -> Items:
    """A cut along a straight edge between stop blocks: their faces meet the base, not the cutter."""
    base, y, last = 10.5, 13.5, WIDE - 4.0
    first = 4.0 if stops > 1 else 0.0
    start = first + base if stops > 1 else 0.0
    yield from _work()
    yield from _named((1.0, 24.0), (WIDE - 1.0, 30.0), "")
    yield _note((0.0, _HIGH + 2.6), "straight edge", Anchor.START)
    yield line((last - base, y - _CUTTER), (last - base, y + 1.2), pen=Pen.CUT)
    yield _channel((start - (_CUTTER if stops > 1 else 0.0), y - _CUTTER), (24.0, y + _CUTTER))
    yield from _router((24.0, y), feed, base=base)
    yield from _arrow((36.0, y), (last - 1.0, y), feed)
    for low in (last, first - 4.0)[:stops]:
        yield rectangle((low, 5.0), (low + 4.0, 22.0), pen=Pen.OUTLINE, fill=_WOOD)
    yield _note((WIDE, _HIGH + 2.6), "stop, clamped" if stops == 1 else "stops, clamped", Anchor.END)
    yield from _hands((13.5, y), (34.5, 9.0))


def _side_fence(feed: Feed) -> Items:
    yield rectangle((0.0, 7.0), (WIDE, _HIGH), pen=Pen.OUTLINE, fill=_BOARD)
    yield _channel((0.0, 14.9), (22.0, 20.1))
    yield from _named((13.0, 2.5), (31.0, 7.0), "")
    yield _note((34.0, 4.2), "side fence", Anchor.START)
    yield from _router((22.0, 17.5), feed, base=10.5)
    yield from _arrow((34.5, 17.5), (WIDE - 4.0, 17.5), feed)
    yield from _hands((11.5, 17.5), (32.5, 13.0))


def _table_fence(feed: Feed) -> Items:
    yield rectangle((0.0, 0.0), (WIDE, _HIGH + 2.0), pen=Pen.THIN)
    yield from _named((1.0, 27.0), (WIDE - 1.0, 33.0), "fence")
    yield rectangle((20.0, 9.0), (WIDE - 2.0, 26.6), pen=Pen.OUTLINE, fill=_BOARD)
    yield _channel((28.0 - _CUTTER, 19.5 - _CUTTER), (20.0, 19.5 + _CUTTER))
    yield from _cutter((28.0, 19.5), feed)
    yield from _arrow((18.0, 14.0), (3.0, 14.0), feed)
    yield from _hands((40.0, 12.0), (WIDE - 4.0, 16.0))


def _round_opening(feed: Feed) -> Items:
    yield from _named((0.0, 0.0), (WIDE, _HIGH), "")
    yield _note((2.0, _HIGH + 2.6), "template", Anchor.START)
    yield _rounded((7.0, 5.0), (WIDE - 7.0, _HIGH - 5.0), 8.0, fill=Fill(Tint.PAPER))
    yield from _bush((22.0, _HIGH - 9.6), feed)
    yield from _arrow((29.0, _HIGH - 9.6), (44.0, _HIGH - 9.6), feed, above=False)
    yield from move_arrow(((38.0, 8.2), (22.0, 8.2)), 1.0)
    yield from _hands((3.4, 16.0), (WIDE - 3.4, 16.0))


def _slot(feed: Feed) -> Items:
    yield from _template_slot()
    yield from _bush((_SLOT_X, 9.0), feed)
    yield from move_arrow(((_SLOT_X, 15.5), (_SLOT_X, 27.0)), 1.0)
    yield _note((_BESIDE, 21.0), "router", Anchor.START)
    yield from _hands((_SLOT_X - 12.0, 9.0), (_SLOT_X + 12.0, 9.0))


def _hole(feed: Feed) -> Items:
    yield from _template()
    yield from _bush((_SLOT_X, 16.0), feed)
    yield from _into((_SLOT_X, 16.0))
    yield _note((_BESIDE, 16.0), "straight in", Anchor.START)
    yield from _hands((_SLOT_X - 12.0, 14.0), (_SLOT_X + 12.0, 14.0))


def _there_and_back(feed: Feed) -> Items:
    yield from _template_slot()
    yield from _bush((_SLOT_X, 9.0), feed)
    yield from move_arrow(((_SLOT_X - 1.8, 15.5), (_SLOT_X - 1.8, 26.0)), 1.0)
    yield from move_arrow(((_SLOT_X + 1.8, 26.0), (_SLOT_X + 1.8, 15.5)), 1.0)
    for n, words in enumerate(("1 plunge", "2 go", "3 come back", "4 stop, lift")):
        yield _note((_BESIDE, 25.5 - 5.0 * n), words, Anchor.START)
    yield from _hands((_SLOT_X - 12.0, 9.0), (_SLOT_X + 12.0, 9.0))


def _plunge(feed: Feed) -> Items:
    yield rectangle((0.0, 18.0), (WIDE, _HIGH), pen=Pen.OUTLINE, fill=_BOARD)
    yield rectangle((18.0, 12.5), (42.0, 17.6), pen=Pen.THIN, fill=_METAL)
    yield rectangle((24.0, 1.0), (36.0, 12.5), pen=Pen.THIN, fill=_METAL)
    yield _note((45.0, 14.8), "base", Anchor.START)
    yield from _arrow((30.0, 14.0), (30.0, 27.0), feed)
    yield from _hands((30.0, 3.5), (21.5, 9.5))


def _drill(feed: Feed) -> Items:
    """Straight in: nothing moves along the work, so that a small plan says all."""
    yield rectangle((0.0, 0.0), (_SMALL, _LOW), pen=Pen.OUTLINE, fill=_BOARD)
    if feed.guide.value == "jig":
        yield from _named((7.0, 7.5), (_SMALL - 7.0, _LOW - 2.0), "")
        yield _note((_SMALL / 2, _LOW + 2.6), "jig, clamped", Anchor.MIDDLE)
    yield from _into((_SMALL / 2, 12.5))
    yield _note((_SMALL / 2, 3.0), "straight in", Anchor.MIDDLE)
    yield from _hands((3.5, 9.5), (_SMALL - 3.5, 9.5))


def _press(feed: Feed) -> Items:
    yield from _named((1.0, 27.0), (WIDE - 1.0, 33.0), "fence")
    yield rectangle((1.0, 10.0), (46.0, 26.6), pen=Pen.OUTLINE, fill=_BOARD)
    yield from _into((36.0, 18.0))
    yield from _turning((36.0, 18.0), feed.spin)
    yield _note((3.0, 22.5), "long end", Anchor.START)
    yield rectangle((10.0, 11.5), (16.0, 17.5), pen=Pen.OUTLINE, fill=_WOOD)
    yield _note((17.5, 12.5), "clamp", Anchor.START)


def _table_saw(feed: Feed) -> Items:
    yield rectangle((0.0, 0.0), (WIDE, _HIGH + 4.0), pen=Pen.THIN)
    yield from _named((50.0, 2.0), (55.0, _HIGH + 3.0), "")
    yield _note((57.0, _HIGH + 7.0), "fence", Anchor.END)
    yield rectangle((26.0, 2.0), (49.6, 17.0), pen=Pen.OUTLINE, fill=_BOARD)
    yield rectangle((38.0, 15.0), (39.4, 29.0), pen=Pen.FEATURE, fill=_METAL)
    yield _note((36.0, 26.5), "blade", Anchor.END)
    yield from _arrow((44.5, 10.0), (44.5, 29.0), feed, beside=False)
    yield _note((28.0, 12.5), feed.moves.value, Anchor.START)
    yield from _hands((29.0, 7.0), (44.5, 4.5))


def _rail(feed: Feed) -> Items:
    yield from _work()
    yield from _named((12.0, 0.5), (27.0, _HIGH - 0.5), "")
    yield _note((12.0, _HIGH + 2.6), "rail, on the part kept", Anchor.START)
    yield line((28.2, 0.0), (28.2, 14.0), pen=Pen.CUT)
    yield rectangle((20.0, 4.0), (38.0, 14.0), pen=Pen.THIN, fill=_METAL)
    yield rectangle((27.5, 5.0), (28.9, 16.0), pen=Pen.FEATURE, fill=_METAL)
    yield from _arrow((28.2, 17.5), (28.2, 29.0), feed)
    yield from _hands((23.5, 6.5), (34.5, 9.0))


def _notch(feed: Feed) -> Items:
    yield from _work()
    yield rectangle((38.0, 0.0), (WIDE, 14.0), pen=Pen.THIN, fill=Fill(Tint.PAPER, Hatch.SLANT))
    yield rectangle((43.0, 4.6), (55.0, 9.4), fill=Fill(Tint.PAPER))
    yield _note((49.0, 7.0), "waste", Anchor.MIDDLE)
    yield from move_arrow(((39.5, 0.5), (39.5, 13.0)), 1.0)
    yield from move_arrow(((WIDE - 0.5, 12.6), (41.0, 12.6)), 1.0)
    yield _note((36.0, 18.0), "stop at the corner", Anchor.MIDDLE)
    yield from _hands(*(((14.0, 20.0),) if feed.kind is FeedKind.HAND_SAW else ((33.0, 5.0), (33.0, 10.0))))


def _program(feed: Feed) -> Items:
    yield from _work()
    yield _note((WIDE / 2, 16.0), feed.way.value, Anchor.MIDDLE)


_DRAWN: Final[dict[FeedKind, Callable[[Feed], Items]]] = {
    FeedKind.ALONG_STRAIGHT_EDGE: _straight_edge,
    FeedKind.ALONG_SIDE_FENCE: _side_fence,
    FeedKind.PAST_TABLE_FENCE: _table_fence,
    FeedKind.ROUND_OPENING: _round_opening,
    FeedKind.IN_SLOT: _slot,
    FeedKind.INTO_HOLE: _hole,
    FeedKind.KEYHOLE: _there_and_back,
    FeedKind.UNDERCUT_SLOT: _there_and_back,
    FeedKind.UNDERCUT_FROM_BASE: _plunge,
    FeedKind.PLUNGE: _plunge,
    FeedKind.DRILL: _drill,
    FeedKind.DRILL_PRESS: _press,
    FeedKind.POCKET: _drill,
    FeedKind.SAW_TABLE: _table_saw,
    FeedKind.SAW_RAIL: _rail,
    FeedKind.HAND_SAW: _notch,
    FeedKind.JIGSAW: _notch,
    FeedKind.PROGRAM: _program,
}


# --- what they are made of -------------------------------------------------------------------------------------------


def _work() -> Items:
    yield rectangle((0.0, 0.0), (WIDE, _HIGH), pen=Pen.OUTLINE, fill=_BOARD)


def _named(a: Place, b: Place, name: str) -> Items:
    """A guide of wood; its name above it, since no word stands on a hatch."""
    yield rectangle(a, b, pen=Pen.OUTLINE, fill=_WOOD)
    if name:
        yield _note(((a[0] + b[0]) / 2, b[1] + 2.6), name, Anchor.MIDDLE)


def _channel(a: Place, b: Place) -> Path:
    return rectangle(a, b, pen=Pen.FEATURE, fill=Fill(Tint.PAPER))


def _template() -> Items:
    yield from _named((0.0, 0.0), (_BESIDE - 2.0, _HIGH), "")
    yield _note((2.0, _HIGH + 2.6), "template", Anchor.START)


def _template_slot() -> Items:
    yield from _template()
    yield _rounded((_SLOT_X - 5.0, 4.0), (_SLOT_X + 5.0, _HIGH - 3.0), 5.0, fill=Fill(Tint.PAPER))


def _rounded(a: Place, b: Place, corner: float, *, fill: Fill) -> Path:
    (x0, y0), (x1, y1), c = a, b, corner
    points = (
        *((x0 + c, y0), (x1 - c, y0), (x1, y0 + c), (x1, y1 - c)),
        *((x1 - c, y1), (x0 + c, y1), (x0, y1 - c), (x0, y0 + c)),
    )
    quarter = math.tan(math.pi / 8)
    return Path(points=points, bulges=(0.0, quarter) * 4, closed=True, pen=Pen.FEATURE, fill=fill)


def _router(at: Place, feed: Feed, *, base: float) -> Items:
    (x, y) = at
    yield rectangle((x - base, y - base), (x + base, y + base), pen=Pen.THIN)
    yield from _cutter(at, feed)


def _bush(at: Place, feed: Feed) -> Items:
    yield Circle(centre=at, radius=4.6, pen=Pen.THIN, fill=Fill(Tint.CUTTER, Hatch.BACK_SLANT))
    yield Circle(centre=at, radius=_CUTTER, pen=Pen.FEATURE, fill=_METAL)
    yield from _turning(at, feed.spin)


def _cutter(at: Place, feed: Feed) -> Items:
    yield Circle(centre=at, radius=_CUTTER, pen=Pen.FEATURE, fill=_METAL)
    yield from _turning(at, feed.spin)


def _turning(at: Place, spin: Spin) -> Items:
    """An arrow round the cutter that says how it turns."""
    if spin is Spin.NONE:
        return
    radius, start, end = 6.4, 35.0, 300.0
    yield Arc(centre=at, radius=radius, start_deg=start, end_deg=end, pen=Pen.FEATURE)
    tip, sense = (start, -1.0) if spin is Spin.CLOCKWISE else (end, 1.0)
    angle = math.radians(tip)
    place = at[0] + radius * math.cos(angle), at[1] + radius * math.sin(angle)
    yield arrow_head(place, (-sense * math.sin(angle), sense * math.cos(angle)), 1.0, Pen.FEATURE)


def _arrow(a: Place, b: Place, feed: Feed, *, above: bool = True, beside: bool = True) -> Items:
    """The arrow of the feed, with what goes along it."""
    yield from move_arrow((a, b), 1.0)
    if not beside:
        return
    name = feed.moves.value if feed.moves is Moves.WORK or feed.spin is Spin.NONE else "router"
    level = a[1] == b[1]
    at = ((a[0] + b[0]) / 2, a[1] + (3.2 if above else -3.2)) if level else (a[0] + 2.5, (a[1] + b[1]) / 2)
    yield _note(at, name, Anchor.MIDDLE if level else Anchor.START)


def _into(at: Place) -> Items:
    """The sign for a way into the page: an arrow seen from behind."""
    (x, y), r = at, 3.0
    s = r / math.sqrt(2)
    yield Circle(centre=at, radius=r, pen=Pen.MOVE)
    yield line((x - s, y - s), (x + s, y + s), pen=Pen.MOVE)
    yield line((x - s, y + s), (x + s, y - s), pen=Pen.MOVE)


def _hands(*places: Place) -> Items:
    for at in places:
        yield Circle(centre=at, radius=1.5, pen=Pen.THIN, fill=_HAND)


def _note(at: Place, text: str, anchor: Anchor) -> Text:
    return Text(at=at, text=text, height=HEIGHTS[Role.NOTE], anchor=anchor)
