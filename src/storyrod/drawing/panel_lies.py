"""A small picture of a panel as it lies on the bench: which side is up, which edge is near, where its datum end is.

It is seen slanting from above, from where the maker stands: the half disc. What is measured from has the heavy bars,
the loop is on the face side and the V on the face edge, as on the set-out; a loop in dashes is on the side that lies
down.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._symbols import arrow_head, edge_mark, face_mark, line
from storyrod.drawing._types import Arc, Entity, Path, Place, Text
from storyrod.model.panel import Panel, Surface

_AROUND: Final = (Surface.FACE_EDGE, Surface.FAR_END, Surface.FAR_EDGE, Surface.DATUM_END)
"""The edges in the order in which they go round a panel, against the clock, whose datum end lies at the left."""

_LONGEST_EDGE: Final = 20.0  # mm on paper of the longest near edge
_SHORTEST_EDGE: Final = 10.0
_DEEP: Final = (5.0, 7.0)  # mm on paper from the near edge to the one beyond, at least and at most
_SLANTED: Final = 0.45  # how much shorter what runs away from the maker is seen
_CLOSER: Final = 0.86  # the far edge is seen so much shorter than the near one
_THICK: Final = 2.4  # a board is drawn thicker than it is, so that the V on its edge can be read
_BAR: Final = 1.3  # from the panel to a bar
_LOOP: Final = 0.5  # of its size on a set-out sheet
_LINE: Final = 28.0  # mm of width for marks
_LINE_HIGH: Final = 4.4
_RUN: Final = 3  # from so many marks on a run is told by its ends
_ARROW: Final = 3.8
_HEAD: Final = 1.9
_MAKER: Final = 2.0  # radius, as large as on the plans of feed


@dataclass(frozen=True, slots=True)
class Lie:
    """How a panel lies flat before the maker.

    Attributes:
        up: the face that looks up.
        near: the edge or end toward the maker.
        mirrored: whether its frame is a mirrored one, so that its datum end is at the left of its face side.
    """

    up: Surface
    near: Surface
    mirrored: bool

    @classmethod
    def of(cls, panel: Panel, up: Surface, near: Surface = Surface.FACE_EDGE) -> Lie:
        """Return how a panel lies with one face up and one edge near."""
        return cls(up, near, panel.frame.is_mirrored)

    @property
    def around(self) -> tuple[Surface, Surface, Surface, Surface]:
        """What lies toward the maker, at the right, away from them, at the left."""
        round_ = _AROUND if self.mirrored == (self.up is Surface.FACE) else _AROUND[::-1]
        at = round_.index(self.near)
        near, right, away, left = round_[at:] + round_[:at]
        return near, right, away, left

    def place_of(self, surface: Surface) -> str:
        """Return where an edge or end lies, as it is said."""
        return ("toward you", "at the right", "away from you", "at the left")[self.around.index(surface)]

    @property
    def words(self) -> str:
        """How it lies, in a sentence: its face, its edge, its end."""
        edge, end = (f"{s.value} {self.place_of(s)}" for s in (Surface.FACE_EDGE, Surface.DATUM_END))
        return f"{self.up.value.capitalize()} up, {edge}, {end}."


def panel_lies(
    lie: Lie, panel: Panel, worked: frozenset[Surface] = frozenset(), names: tuple[str, ...] = ()
) -> Drawing:
    """Return the picture of a panel that lies so, about 27 by 16 mm on paper; an arrow shows each `worked` surface.

    Where several ways to lie are told apart, `names` stand under it: the face that is up, or the panels that lie so.
    """
    along, across = (panel.length, panel.width)
    if lie.near in (Surface.DATUM_END, Surface.FAR_END):
        along, across = across, along
    wide = min(_LONGEST_EDGE, max(_SHORTEST_EDGE, _LONGEST_EDGE * along / across))
    deep = min(_DEEP[1], max(_DEEP[0], wide * across / along * _SLANTED))
    return _drawn(lie, round(wide, 1), round(deep, 1), worked, names)


@lru_cache(maxsize=512)
def _drawn(lie: Lie, wide: float, deep: float, worked: frozenset[Surface], names: tuple[str, ...]) -> Drawing:
    arrows = ", ".join(s.value for s in Surface if s in worked)
    told = f" Arrows into the {arrows}." if arrows else ""
    told += f" For: {', '.join(names)}." if names else ""
    items = (*_Picture(lie, wide, deep).items(worked), *_lines_of(names))
    parts = (lie.up, lie.near, *(s for s in Surface if s in worked))
    name = "-".join(s.name.lower().replace("_", "-") for s in parts)
    return Drawing(
        id="-".join((f"lies-{name}-{'left' if lie.mirrored else 'right'}-{wide:g}-{deep:g}", *names)).replace(" ", "-"),
        title="How it lies",
        alt=f"The panel on the bench, seen from where you stand. {lie.words}{told}",
        items=items,
    )


def _lines_of(names: tuple[str, ...]) -> list[Text]:
    """Return names under the picture, in as many lines as they ask for; marks that follow each other are a run."""
    lines: list[str] = []
    height = HEIGHTS[Role.NAME]
    for name in runs_told(names):
        longer = f"{lines[-1]}, {name}" if lines else name
        if lines and width_of(longer, height, bold=True) <= _LINE:
            lines[-1] = longer
        else:
            lines.append(name)
    told = [f"{text}," if n < len(lines) - 1 else text for n, text in enumerate(lines)]
    places = [(0.0, -_THICK - 7.4 - _LINE_HIGH * n) for n in range(len(told))]
    return [
        Text(at=at, text=text, height=height, bold=True, role=Role.NAME) for at, text in zip(places, told, strict=True)
    ]


def runs_told(marks: Iterable[str]) -> list[str]:
    """Return marks with what follows each other as one: A3, A4, A5 is `A3 to A5`, of two each is told."""
    runs: list[list[str]] = []
    for mark in marks:
        code, number = _parted(mark)
        if runs and number is not None and _parted(runs[-1][-1]) == (code, number - 1):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    return [name for run in runs for name in (run if len(run) < _RUN else [f"{run[0]} to {run[-1]}"])]


def _parted(mark: str) -> tuple[str, int | None]:
    """Return the letters of a mark and its number."""
    code = mark.rstrip("0123456789")
    return code, int(mark[len(code) :]) if mark != code and code else None


class _Picture:
    """The places of one picture: x to the right, y up the page, the near edge's upper arris at y = 0."""

    def __init__(self, lie: Lie, wide: float, deep: float) -> None:
        self._lie = lie
        half, far = wide / 2, wide / 2 * _CLOSER
        self._corners: tuple[Place, Place, Place, Place] = ((-half, 0.0), (half, 0.0), (far, deep), (-far, deep))
        self._half, self._far, self._deep = half, far, deep

    def items(self, worked: frozenset[Surface]) -> list[Entity]:
        """Return everything drawn."""
        low = -_THICK
        strip = ((-self._half, 0.0), (-self._half, low), (self._half, low), (self._half, 0.0))
        board = Fill(Tint.PAPER)
        found: list[Entity] = [
            Path(points=self._corners, closed=True, pen=Pen.OUTLINE, fill=board),
            Path(points=strip, closed=True, pen=Pen.OUTLINE, fill=board),
        ]
        found += [line(*self._bar(s), pen=Pen.DATUM) for s in (Surface.FACE_EDGE, Surface.DATUM_END)]
        found += self._signs()
        for surface in (*self._lie.around, self._lie.up):
            if surface in worked:
                found += self._arrow(surface)
        y = -_THICK - 4.9
        found.append(Arc(centre=(0.0, y), radius=_MAKER, start_deg=0.0, end_deg=180.0, pen=Pen.OUTLINE))
        found.append(line((-_MAKER, y), (_MAKER, y), pen=Pen.OUTLINE))
        return found

    def _bar(self, surface: Surface) -> tuple[Place, Place]:
        """The heavy bar beside an edge that is measured from."""
        half, far, deep, off = self._half, self._far, self._deep, _BAR
        return {
            0: ((-half, -_THICK - off), (half, -_THICK - off)),
            1: ((half + off, 0.0), (far + off, deep)),
            2: ((-far, deep + off), (far, deep + off)),
            3: ((-half - off, 0.0), (-far - off, deep)),
        }[self._lie.around.index(surface)]

    def _signs(self) -> list[Entity]:
        """The loop on the face side, its tail toward the face edge, and the V where the face edge can be seen."""
        face_up = self._lie.up is Surface.FACE
        nth = self._lie.around.index(Surface.FACE_EDGE)
        at = -0.22 * self._half if nth in (0, 2) else 0.0
        loop = face_mark((at, 0.2), min(_LOOP, self._deep / 10.0))
        points = tuple(self._seen(place, nth) for place in loop.points)
        signs: list[Entity] = [Path(points=points, pen=Pen.MARK if face_up else Pen.HIDDEN_SMALL)]
        if nth == 0:
            x = at + 0.9
            apex, out = ((x, 0.0), (0.0, -1.0)) if face_up else ((x, -_THICK), (0.0, 1.0))
            signs.append(edge_mark(apex, out, 0.85 * _THICK, 0.5))
        return signs

    def _seen(self, place: Place, nth: int) -> Place:
        """Return where a place lies that is told along an edge and from it into the panel."""
        (x, y), side = place, (self._half + self._far) / 2
        return ((x, y), (side - y, self._deep / 2 + x), (-x, self._deep - y), (y - side, self._deep / 2 - x))[nth]

    def _arrow(self, surface: Surface) -> list[Entity]:
        """The arrow of the tool into a surface."""
        half, far, deep, mid = self._half, self._far, self._deep, self._deep / 2
        x = 0.45 * half
        if surface is self._lie.up:
            tip, way = (x, mid), (0.0, -1.0)
        else:
            side = (half + far) / 2
            tip, way = (
                ((x, -_THICK), (0.0, 1.0)),
                ((side, mid), (-1.0, 0.0)),
                ((-x, deep), (0.0, -1.0)),
                ((-side, mid), (1.0, 0.0)),
            )[self._lie.around.index(surface)]
        off = 0.0 if surface is self._lie.up else _BAR + 0.9
        tip = tip[0] - way[0] * off, tip[1] - way[1] * off
        tail = tip[0] - way[0] * _ARROW, tip[1] - way[1] * _ARROW
        return [line(tail, tip, pen=Pen.MOVE), arrow_head(tip, way, 1.0, Pen.MOVE, _HEAD)]
