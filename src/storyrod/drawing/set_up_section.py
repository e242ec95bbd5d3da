"""A section through the work at one set-up: board, jig or fence, packer and cutter, with the figures on them.

The reference (face, end or line) lies at x = 0 with the board to its right; the surface worked lies at y = 0 with the
tool above it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._set_up_figures import BESIDE, across, mirrored, upright
from storyrod.drawing._set_up_slope import slope_items
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Anchor, Dimension, Entity, Text
from storyrod.measure.writing import LengthWriter
from storyrod.model.machining import LEAST_PACKER, SectionData

ROOM: Final = (160.0, 110.0)
"""Room on the page that a section is fitted to (mm)."""

_DEEP: Final = 62.0  # how much of a board is shown below a worked edge
_WIDE: Final = 84.0  # how much of a face is shown to the right of the reference
_LEFT: Final = 46.0  # and to the left of a line
_FENCE: Final = 18.0
_SHANK: Final = 24.0
_TABLE: Final = 12.0  # thickness of a table's top
_AWAY: Final = 8.0  # from the work to the line of a figure of depth, on paper
_EDGE_LEFT: Final = 82.0  # how much of a face is shown beside a straight edge
_SPOIL: Final = 9.0  # thickness of a spoil board
_BASE: Final = 6.0  # thickness of a router's base
_FAR: Final = 58.0  # a cut further off than this is drawn here, its figure true


@dataclass(frozen=True, slots=True)
class _Scene:
    """Where things stand in the section."""

    data: SectionData
    figures: Figures
    x: float  # middle of the cut
    low: float  # where the board ends below
    right: float
    unit: float  # mm of the thing for one on paper

    @property
    def is_line(self) -> bool:
        """Whether the reference is a line on the face."""
        return not self.data.reference_at_end

    @property
    def has_reference(self) -> bool:
        """Whether a distance from a reference is set at all."""
        return self.data.centre is not None


def set_up_section(
    data: SectionData,
    *,
    id: str,  # noqa: A002  # as every drawing has it
    title: str,
    figures: Figures | None = None,
    room: tuple[float, float] = ROOM,
) -> Drawing:
    """Return the section of a set-up at the largest usual scale that fits `room`, full size at the most."""
    wanted = data.centre if data.centre is not None else 30.0
    if data.on_edge and data.centre is None:
        wanted = data.board / 2
    x = min(wanted, _FAR) if not data.on_edge else wanted
    if data.slant_deg is not None:
        x = min(wanted, _FAR)
    right = data.board if data.on_edge else max(_WIDE, x + 30.0)
    if data.open_edge and not data.fence:
        right = x + data.cutter / 2
    low = -_DEEP if data.on_edge else -data.board
    # Settings are made to a tenth at least, whatever the marks of the job are rounded to.
    shown = figures or Figures()

    def drawn(unit: float) -> Drawing:
        items = _items(_Scene(data, shown, x, low, right, unit))
        items = mirrored(items) if data.below else items
        return Drawing(
            id=id, title=title, alt=_alt(data, title, shown.lengths), items=items, unit=unit, notes=_notes(data)
        )

    return fitted(lambda unit: drawn(max(unit, 1.0)), room, (right + _LEFT, data.guide + _SHANK - low))


def _items(scene: _Scene) -> tuple[Entity, ...]:
    if scene.data.slant_deg is not None:
        return (
            *_board(scene),
            *_guide(scene),
            *slope_items(scene.data, scene.figures, scene.x, scene.right, scene.unit),
        )
    return (
        *_board(scene),
        *_packer(scene),
        *_guide(scene),
        *_straight_edge(scene),
        *_cutter(scene),
        *_across_figures(scene),
        *_depth_figures(scene),
    )


def _alt(data: SectionData, title: str, lengths: LengthWriter) -> str:
    told = lengths.told
    place = "an edge" if data.on_edge else "a face"
    return (
        f"Section through the work: {title}. A cut {told(data.depth)} deep in {place} of a board of {told(data.board)}."
    )


def _notes(data: SectionData) -> tuple[str, ...]:
    notes = []
    if data.centre is not None and not data.on_edge and data.centre > _FAR:
        notes.append("Drawn nearer to the edge than it is; the figure is true.")
    if data.centre is None and not data.mate and data.straight_edge is None:
        notes.append("Its place is where the marks are.")
    if data.straight_edge is not None:
        notes.append(
            "The straight edge is drawn nearer than it is; the figure is true. Its place is given panel by panel."
        )
    if data.below:
        notes.append("As it lies on the table: the worked face down, the cutter coming up from below.")
    return tuple(notes)


def _board(s: _Scene) -> Iterator[Entity]:
    left = -_LEFT if s.is_line or (not s.has_reference and not s.data.on_edge) else 0.0
    if not s.has_reference and not s.data.on_edge:
        left = s.x - (_LEFT if s.data.straight_edge is None else _EDGE_LEFT)
    yield rectangle((left, s.low), (s.right, 0.0), fill=Fill(Tint.BOARD_1, Hatch.SLANT))
    sides = [((left, 0.0), (s.right, 0.0))]
    if s.data.on_edge:
        sides += [((left, 0.0), (left, s.low)), ((s.right, 0.0), (s.right, s.low))]
    else:
        sides += [((left, s.low), (s.right, s.low))]
        if s.has_reference and not s.is_line:
            sides += [((0.0, 0.0), (0.0, s.low))]
        if s.data.open_edge and not s.data.fence:
            sides += [((s.right, 0.0), (s.right, s.low))]
    for a, b in sides:
        yield line(a, b, pen=Pen.OUTLINE)
    if s.is_line and s.has_reference:
        yield line((0.0, -4.0), (0.0, 9.0 if not s.data.guide else s.data.guide + 6.0), pen=Pen.MARK)
        foot = s.low - (_SPOIL if s.data.through else 0.0) - 4.0 * s.unit
        yield _note((2.0 * s.unit, foot), "face line", Anchor.START)
        yield line((1.0 * s.unit, foot), (0.0, foot), (0.0, -4.0), pen=Pen.EXTENSION)
    if s.data.through and not s.data.on_edge:
        yield rectangle((left, s.low - _SPOIL), (s.right, s.low), pen=Pen.THIN, fill=Fill(Tint.PAPER))
        at_left = s.x - left > s.right - s.x  # where the cutter's centre line is not in the way
        at, anchor = (left + 2.0, Anchor.START) if at_left else (s.right - 2.0, Anchor.END)
        under = 8.5 if s.is_line and s.has_reference else 3.0  # below the name of the face line, where there is one
        yield _note((at, s.low - _SPOIL - under * s.unit), "spoil board", anchor)


def _fence_face(s: _Scene) -> float:
    """Return where the face of the fence stands: the packer's thickness outside the reference."""
    return -s.data.packer


def _packer(s: _Scene) -> Iterator[Entity]:
    data = s.data
    if data.packer <= 0 or not s.has_reference:
        return
    under_tool = data.reference_to_centre is not None and data.reference_to_centre < (data.centre or 0.0) - 1e-6
    if under_tool:
        yield rectangle((0.0, 2.0), (data.packer, 34.0), pen=Pen.FEATURE, fill=Fill(Tint.PACKER, Hatch.CROSSED))
    else:
        low, high = (0.0, 14.0) if s.is_line else (max(s.low, -38.0), 0.0)
        yield rectangle((-data.packer, low), (0.0, high), pen=Pen.FEATURE, fill=Fill(Tint.PACKER, Hatch.CROSSED))


def _guide(s: _Scene) -> Iterator[Entity]:
    data = s.data
    if data.guide > 0:
        yield from _template(s)
    if data.below:
        yield from _table(s)
    if not data.fence or not s.has_reference:
        return
    face = _fence_face(s)
    under = 0.0
    if data.reference_to_centre is not None and data.reference_to_centre < (data.centre or 0.0) - 1e-6:
        face = 0.0
    if s.is_line:
        if data.guide and data.reference_to_centre is not None and _edge_is_free(s):
            yield from _block((face - 26.0, under), (face, 16.0), "batten", s.unit)
        elif not data.guide:
            yield from _block((face - 26.0, under), (face, 18.0), "straight edge", s.unit)
    else:
        name = "base" if data.base else "fence"
        low = max(s.low, -40.0) if data.on_edge else min(s.low - 6.0, -24.0)
        yield from _block((face - _FENCE, low), (face, 0.0 if data.guide or data.below else 10.0), name, s.unit)


def _edge_is_free(s: _Scene) -> bool:
    """Return whether the template's own edge stands at the line."""
    data = s.data
    return data.reference_to_centre is not None and data.reference_to_centre - (data.opening or 0.0) / 2 >= 3.0


def _block(a: tuple[float, float], b: tuple[float, float], name: str, unit: float) -> Iterator[Entity]:
    """A piece of wood with its name at its left: no word stands on a hatch, nor on the face of the work."""
    yield rectangle(a, b, pen=Pen.OUTLINE, fill=Fill(Tint.JIG, Hatch.LEVEL))
    middle = (a[1] + b[1]) / 2
    clear = 0.62 * HEIGHTS[Role.NOTE] * unit + 0.6 * unit
    yield _note((a[0] - 2.0 * unit, max(middle, clear) if a[1] >= 0.0 else middle), name, Anchor.END)


def _template(s: _Scene) -> Iterator[Entity]:
    data = s.data
    half = (data.opening or data.cutter) / 2
    left = s.x - 60.0
    if s.has_reference and not s.is_line:
        left = _fence_face(s) - _FENCE
    elif s.has_reference and _edge_is_free(s):
        left = _fence_face(s)
    right = max(s.x + 52.0, s.right if data.on_edge else 0.0)
    fill = Fill(Tint.JIG, Hatch.LEVEL)
    yield rectangle((left, 0.0), (s.x - half, data.guide), pen=Pen.OUTLINE, fill=fill)
    yield rectangle((s.x + half, 0.0), (right, data.guide), pen=Pen.OUTLINE, fill=fill)
    yield _beside_cutter(s, right - 2.0, data.guide, "mate" if data.mate else "jig")


def _table(s: _Scene) -> Iterator[Entity]:
    """The table's top with its opening, on which the worked face lies."""
    half, fill = s.data.cutter / 2 + 5.0, Fill(Tint.CUTTER, Hatch.BACK_SLANT)
    for a, b in ((-_FENCE - 30.0, s.x - half), (s.x + half, s.right + 6.0)):
        yield rectangle((a, 0.0), (b, _TABLE), pen=Pen.THIN, fill=fill)
    yield _beside_cutter(s, s.right + 4.0, _TABLE, "table")


def _beside_cutter(s: _Scene, end: float, top: float, name: str) -> Text:
    """Return the name of what the cutter stands in, above it: it ends at `end`, or further out to clear the cutter."""
    reach = max(s.data.cutter, s.data.bush or 0.0) / 2
    clear = s.x + reach + width_of(name, HEIGHTS[Role.NOTE]) * s.unit + 0.8 * s.unit
    return _note((max(end, clear), top + 3.0 * s.unit), name, Anchor.END)


def _straight_edge(s: _Scene) -> Iterator[Entity]:
    """A straight edge clamped across, the base of the tool against it, and the figure to the near wall."""
    data = s.data
    if data.straight_edge is None:
        return
    wall = s.x - data.cutter / 2
    face = s.x - 50.0
    yield from _block((face - 27.0, 0.0), (face, 18.0), "straight edge", s.unit)
    yield rectangle((face, 0.5), (s.x + 24.0, _BASE), pen=Pen.THIN, fill=Fill(Tint.CUTTER))
    top = data.guide + _SHANK + 4.0
    text = s.figures.of(data.straight_edge)
    height = HEIGHTS[Role.FIGURE]
    yield Dimension(a=(face, top), b=(wall, top), away=7.0 * s.unit, text=text, height=height)


def _cutter(s: _Scene) -> Iterator[Entity]:
    data, x = s.data, s.x
    ink = Fill(Tint.CUTTER)
    top = data.guide + _SHANK
    half = data.cutter / 2
    if data.undercut is not None and data.lip is not None:
        neck = half - (data.undercut - data.cutter) / 2 if data.undercut > data.cutter else half * 0.5
        neck = max(2.0, min(neck, half - 1.0))
        yield rectangle((x - half, -data.depth), (x + half, -data.lip), pen=Pen.FEATURE, fill=ink)
        yield rectangle((x - neck, -data.lip), (x + neck, top), pen=Pen.FEATURE, fill=ink)
    else:
        yield rectangle((x - half, -data.depth), (x + half, top), pen=Pen.FEATURE, fill=ink)
    if data.bush is not None:
        outer = data.bush / 2
        metal = Fill(Tint.CUTTER, Hatch.BACK_SLANT)
        for sign in (-1, 1):
            inner = x + sign * (half + 1.0)
            rim = x + sign * outer
            yield rectangle((min(inner, rim), 1.0), (max(inner, rim), data.guide), pen=Pen.FEATURE, fill=metal)
            flange = x + sign * (outer + 6.0)
            low, high = min(inner, flange), max(inner, flange)
            yield rectangle((low, data.guide), (high, data.guide + 2.5), pen=Pen.FEATURE, fill=metal)
    yield line((x, -data.depth - 6.0), (x, top + 5.0), pen=Pen.CENTRE)


def _across_figures(s: _Scene) -> Iterator[Entity]:
    data = s.data
    if data.centre is None:
        return
    height, unit = HEIGHTS[Role.FIGURE], s.unit
    top = data.guide + _SHANK + 4.0
    if data.near_wall is not None:
        wall = s.x - data.cutter / 2
        if data.near_wall > 0:
            yield from across((0.0, top), (wall, top), 7.0, s.figures.of(data.near_wall), unit)
    else:
        yield from across((0.0, top), (s.x, top), 7.0, s.figures.of(data.centre), unit)
    if data.packer > 0 and data.reference_to_centre is not None:
        face = s.x - data.reference_to_centre
        words = f"{s.figures.of(data.reference_to_centre)} to {_to_what(data)}"
        level = top + 9.0 * unit
        yield from across((face, level), (s.x, level), 7.0, words, unit)
        foot = -44.0 if data.on_edge else min(s.low - 10.0, -28.0)
        at = (-data.packer - 4.0 * unit, foot - 3.0 * unit)
        text = f"{'tape' if data.packer < LEAST_PACKER + 1e-6 else 'packer'} {s.figures.of(data.packer)}"
        yield Text(at=at, text=text, height=height, anchor=Anchor.END, role=Role.FIGURE)
        level = 7.0 if s.is_line else -20.0
        yield line((at[0] + unit, at[1]), (-data.packer / 2, at[1]), (-data.packer / 2, level), pen=Pen.EXTENSION)


def _to_what(data: SectionData) -> str:
    if data.base:
        return "base"
    return "fence" if data.fence else "edge"


def _depth_figures(s: _Scene) -> Iterator[Entity]:
    data = s.data
    unit = s.unit
    edge = max(s.right, s.x + 52.0 if data.guide else s.right)
    if data.through and not data.guide:
        height = HEIGHTS[Role.FIGURE]
        yield Text(at=(edge + 4.0 * unit, -data.depth / 2), text="through", height=height, anchor=Anchor.START)
    else:
        yield from upright(edge, -data.depth, 0.0, _AWAY, s.figures.of(data.depth), unit, clear_of=0.0)
    if data.guide > 0:
        yield from upright(edge, 0.0, data.guide, _AWAY, s.figures.of(data.guide), unit, clear_of=0.0)
        total = f"plunge {s.figures.of(data.guide + data.depth)}"
        beside = max(width_of(s.figures.of(v), HEIGHTS[Role.FIGURE]) for v in (data.depth, data.guide))
        past = _AWAY + BESIDE + beside + 1.0  # its lines begin beyond the figures of the two
        yield from upright(edge + past * unit, -data.depth, data.guide, 3.0, total, unit)
    if data.on_edge:
        low = s.low - 1.0
        yield from across((0.0, low), (data.board, low), -7.0, s.figures.of(data.board), unit)


def _note(at: tuple[float, float], text: str, anchor: Anchor) -> Text:
    return Text(at=at, text=text, height=HEIGHTS[Role.NOTE], anchor=anchor)
