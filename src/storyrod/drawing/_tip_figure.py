"""A case from the side, as it stands in the worst of the conditions of tipping: what steadies it, what tips it."""

from __future__ import annotations

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import Taken
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import arrow_head, centre_cross, line, rectangle
from storyrod.drawing._types import Anchor, Bounds, Circle, Entity, Path, Place, Text
from storyrod.measure.space import Box
from storyrod.model.carcass import DrawerPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Role as PanelRole
from storyrod.model.soundness import Tipping
from storyrod.model.thresholds import Thresholds

_FLOOR = 8.0
_FORCE = 11.0
"""How far floor and arrows reach, on paper."""


def tip_figure(
    case: DetailedCase,
    tipping: Tipping,
    thresholds: Thresholds,
    *,
    figures: Figures | None = None,
    room: tuple[float, float] = (110.0, 110.0),
) -> Drawing:
    """Return the side view of a case in the condition that counts and in which it stands worst; its front is left."""
    about, worst = case.built.case, tipping.worst
    shown = figures or Figures()
    state = "stands" if worst.stands else "tips over"
    alt = f"Case {about.code} from the side, front at the left: {worst.what}: it {state}, by the sum {worst.ratio:.2f}."

    def draw(unit: float) -> Drawing:
        return Drawing(
            id=f"{about.code}.tipping",
            title=f"{about.code} {about.name}: {worst.what}",
            alt=alt,
            items=tuple(_Side(case, tipping, thresholds, shown, unit).items()),
            unit=unit,
            notes=(*_notes(tipping, shown), shown.said),
        )

    return fitted(draw, room, (about.depth * 1.9, about.height * 1.1))


def _notes(tipping: Tipping, figures: Figures) -> list[str]:
    worst = tipping.worst
    notes = [
        f"The worst case looked at: {worst.what}.",
        f"What steadies it, divided by what tips it: {worst.ratio:.2f}. Below 1 it tips; aim for {tipping.wanted:g}.",
    ]
    if tipping.fixing is not None:
        up = figures.of(tipping.fixing.height)
        notes.append(f"Arrow behind: what each of {len(tipping.fixing.places)} wall fixings must hold, {up} up.")
    return notes


class _Side:
    """Draws one case from its right side: y runs to the right, z up."""

    def __init__(
        self, case: DetailedCase, tipping: Tipping, thresholds: Thresholds, figures: Figures, unit: float
    ) -> None:
        self.case = case
        self.tipping = tipping
        self.limits = thresholds
        self.figures = figures
        self.unit = unit
        self.taken = Taken(unit=unit)

    def items(self) -> list[Entity]:
        """Return everything, what lies behind first."""
        body = [p.box for p in self.case.panels if p.body == "carcass"]
        low, high = min(b.low.y for b in body), max(b.high.y for b in body)
        top = max(b.high.z for b in body)
        items: list[Entity] = [rectangle((low, 0.0), (high, top), pen=Pen.OUTLINE, fill=Fill(Tint.BOARD_1))]
        items += self._inside()
        items += self._open()
        items += self._floor(low, high)
        items += self._pivot(top)
        self._keep_clear(low, high, top)
        items += self._centre(high)
        items += self._forces(high)
        return items

    def _keep_clear(self, low: float, high: float, top: float) -> None:
        """Take the lines of the case, so that no figure is struck through by one."""
        for x in (low, high):
            self.taken.take(Bounds(left=x, bottom=0.0, right=x, top=top))
        for z in (0.0, top):
            self.taken.take(Bounds(left=low, bottom=z, right=high, top=z))
        for panel in self.case.panels:
            box = panel.box
            level = panel.body == "carcass" and box.high.z - box.low.z < box.high.y - box.low.y
            if level and panel.role not in {PanelRole.SIDE_LEFT, PanelRole.SIDE_RIGHT, PanelRole.DIVIDER}:
                self.taken.take(Bounds(left=box.low.y, bottom=box.low.z, right=box.high.y, top=box.high.z))

    def _inside(self) -> list[Entity]:
        """Level panels and shut fronts, so that one knows the case."""
        items: list[Entity] = []
        for panel in self.case.panels:
            if panel.body != "carcass" or panel.role in {PanelRole.SIDE_LEFT, PanelRole.SIDE_RIGHT, PanelRole.DIVIDER}:
                continue
            items.append(self._box(panel.box, pen=Pen.HIDDEN_SMALL))
        out = {p for d in self.case.built.drawers if d.id in self.tipping.worst.opened for p in _parts(d)}
        for panel in self.case.panels:
            door = panel.role is PanelRole.DOOR and not self.tipping.worst.doors
            if door or (panel.role is PanelRole.DRAWER_FRONT and panel.id not in out):
                items.append(self._box(panel.box, pen=Pen.EDGE, fill=Fill(Tint.BOARD_2)))
        return items

    def _box(self, box: Box, *, pen: Pen, fill: Fill | None = None, by: float = 0.0) -> Path:
        return rectangle((box.low.y - by, box.low.z), (box.high.y - by, box.high.z), pen=pen, fill=fill)

    def _open(self) -> list[Entity]:
        """Drawers as far out as they come, and doors at right angles."""
        items: list[Entity] = []
        worst = self.tipping.worst
        for door in self.case.built.doors if worst.doors else ():
            box = self.case.panel(door.panel).box
            wide = box.high.x - box.low.x
            items.append(
                rectangle((box.high.y - wide, box.low.z), (box.high.y, box.high.z), pen=Pen.EDGE, fill=Fill(Tint.PAPER))
            )
        for drawer in self.case.built.drawers:
            if drawer.id in worst.opened:
                items.append(self._box(drawer.box, pen=Pen.EDGE, fill=Fill(Tint.BOARD_3), by=drawer.extension))
                if drawer.front is not None:
                    front = self.case.panel(drawer.front).box
                    items.append(self._box(front, pen=Pen.OUTLINE, fill=Fill(Tint.BOARD_2), by=drawer.extension))
        return items

    def _floor(self, low: float, high: float) -> list[Entity]:
        u = self.unit
        reach = max((d.extension for d in self.case.built.drawers if d.id in self.tipping.worst.opened), default=0.0)
        ends = (low - reach - _FLOOR * u, high + _FLOOR * u)
        items: list[Entity] = [line((ends[0], 0.0), (ends[1], 0.0), pen=Pen.CUT)]
        if self.tipping.worst.code.endswith("carpet"):
            height = max(self.limits.block, 1.4 * u)
            items.append(rectangle((high - 25.0, 0.0), (high, height), pen=Pen.FEATURE, fill=Fill(Tint.INK)))
            words = f"carpet: rear raised {self.figures.of(self.limits.block)}"
            items += self._word(words, [(low, -6.8 * u)], Anchor.START)
        return items

    def _pivot(self, top: float) -> list[Entity]:
        """The line about which it tips: all to its right steadies."""
        u, x = self.unit, self.tipping.pivot
        size = 3.0 * u
        triangle = ((x, 0.0), (x - size / 2, -size), (x + size / 2, -size))
        items: list[Entity] = [
            line((x, 0.0), (x, top + 6.0 * u), pen=Pen.CENTRE),
            Path(points=triangle, closed=True, pen=Pen.FEATURE, fill=Fill(Tint.INK)),
        ]
        self.taken.take(Bounds(left=x - size, bottom=-size, right=x + size, top=0.0))
        items += self._word("tips", [(x - 1.5 * u, top + 4.5 * u)], Anchor.END)
        items += self._word("steadies", [(x + 1.5 * u, top + 4.5 * u)], Anchor.START)
        return items

    def _centre(self, high: float) -> list[Entity]:
        """The centre of mass with the weight: inside where there is room, else behind the case, with a leader."""
        u, at = self.unit, (self.tipping.centre.y, self.tipping.centre.z)
        items: list[Entity] = [
            Circle(centre=at, radius=1.8 * u, pen=Pen.FEATURE, fill=Fill(Tint.PAPER)),
            *centre_cross(at, 3.0 * u),
        ]
        self.taken.take(Bounds(left=at[0] - 3 * u, bottom=at[1] - 3 * u, right=at[0] + 3 * u, top=at[1] + 3 * u))
        words = f"{self.tipping.body_kg:.0f} kg"
        height = HEIGHTS[Role.FIGURE]
        inside = [
            Text(at=(at[0] + 4.0 * u, at[1] + d * u), text=words, height=height, anchor=Anchor.START, role=Role.FIGURE)
            for d in (0.0, 5.0, -5.0, 8.0, -8.0)
        ]
        free = self.taken.first_free(inside, u, 0.5 * u)
        if free is not None:
            return [*items, free]
        end = high + 4.0 * u
        items.append(line((at[0] + 3.0 * u, at[1]), (end, at[1]), pen=Pen.DIMENSION))
        return items + self._word(words, [(end + 1.0 * u, at[1])], Anchor.START, figure=True)

    def _forces(self, high: float) -> list[Entity]:
        worst, u = self.tipping.worst, self.unit
        items: list[Entity] = []
        opened = [d for d in self.case.built.drawers if d.id in worst.opened]
        if worst.code.startswith("child") and opened:
            drawer = opened[0]
            front = self.case.panel(drawer.front).box.low.y if drawer.front else drawer.box.low.y
            tip = (front - drawer.extension, drawer.box.high.z)
            items += self._arrow((tip[0], tip[1] + _FORCE * u), tip, f"{self.limits.child_kg:g} kg")
        if worst.pull_height is not None:
            height = worst.pull_height
            start = self._foremost()
            items += self._arrow((start, height), (start - _FORCE * u, height), f"{self.limits.pull_n:g} N")
        if self.tipping.fixing is not None:
            z = self.tipping.fixing.height
            items += self._arrow((high, z), (high + _FORCE * u, z), f"{self.tipping.fixing.each_n:,.0f} N")
        return items

    def _foremost(self) -> float:
        """The front of whatever stands open farthest."""
        opened = [d for d in self.case.built.drawers if d.id in self.tipping.worst.opened]
        fronts = [0.0, *(d.box.low.y - d.extension for d in opened)]
        for door in self.case.built.doors if self.tipping.worst.doors else ():
            box = self.case.panel(door.panel).box
            fronts.append(box.high.y - (box.high.x - box.low.x))
        return min(fronts)

    def _arrow(self, start: Place, tip: Place, words: str) -> list[Entity]:
        """A force: its arrow, with its figure at the tail of one that goes down, at the tip of one sideways."""
        u = self.unit
        dx, dy = tip[0] - start[0], tip[1] - start[1]
        size = abs(dx) + abs(dy)
        items: list[Entity] = [
            line(start, tip, pen=Pen.MOVE),
            arrow_head(tip, (dx / size, dy / size), u, Pen.MOVE, 3.0),
        ]
        if dx == 0:
            places = [(start[0], start[1] + 3.0 * u), (start[0], start[1] + 8.0 * u)]
            return items + self._word(words, places, Anchor.MIDDLE, figure=True)
        way = 1.0 if dx > 0 else -1.0
        places = [(tip[0] + way * 1.5 * u, tip[1] + d * u) for d in (0.0, 5.0, -5.0)]
        return items + self._word(words, places, Anchor.START if way > 0 else Anchor.END, figure=True)

    def _word(self, words: str, places: list[Place], anchor: Anchor, *, figure: bool = False) -> list[Entity]:
        role = Role.FIGURE if figure else Role.NOTE
        texts = [Text(at=p, text=words, height=HEIGHTS[role], anchor=anchor, role=role) for p in places]
        text = self.taken.first_free(texts, self.unit, 0.5 * self.unit)
        return [text or texts[0]]


def _parts(drawer: DrawerPlace) -> tuple[str, ...]:
    return (*drawer.panels, *([drawer.front] if drawer.front else ()))
