"""One step of putting a case together: what stands, as it lies on the bench, and what moves, pulled apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import Final, Protocol

from storyrod.drawing._case_view import _faces, _outline_without_seams
from storyrod.drawing._drawing import Drawing, bounds_of
from storyrod.drawing._figures import Figures
from storyrod.drawing._fitting_picture import fitting_picture
from storyrod.drawing._lying import Lying, lying_for, lying_on
from storyrod.drawing._panel_words import Spans
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint, board_fill
from storyrod.drawing._projection import Piece, View, painted
from storyrod.drawing._rails import Bought, rails_shown
from storyrod.drawing._scale import fitted
from storyrod.drawing._step_arrows import LEAST_LEG, StepArrow, arrow_of, at_least, covered_by, turn_arrow
from storyrod.drawing._step_marks import step_marks
from storyrod.drawing._symbols import caution_sign, rectangle
from storyrod.drawing._types import Anchor, Bounds, Entity, Group, Path, Text, around, text_box
from storyrod.measure.space import AXES, Axis, Box, Direction, Point
from storyrod.model.assembly import Step, StepKind
from storyrod.model.carcass import DoorPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Panel, PanelId
from storyrod.model.panel import Role as PanelRole

STEP_ROOM: Final = (78.0, 70.0)
"""Paper for the picture of a step unless set (mm): two or three go on a page, with words beside them."""

_APART: Final = 0.2
"""What moves is drawn at least so far off, as a share of the mean size of what is shown."""

_MANY: Final = 9
"""With more panels than this only those that meet are named, so that the marks stay clear."""


class _Look(Enum):
    """What a panel is to the step."""

    STANDS = auto()
    BEARS = auto()
    MOVES = auto()
    OPEN = auto()  # A door that stands open meanwhile.


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """A panel, or something bought, as it lies and where it is drawn."""

    panel: Panel | Bought
    box: Box
    look: _Look
    named: bool


def assembly_step(
    case: DetailedCase,
    step: Step,
    earlier: Sequence[Step] = (),
    *,
    boards: tuple[str, ...] = (),
    figures: Figures | None = None,
    room: tuple[float, float] = STEP_ROOM,
    view: View | None = None,
) -> Drawing:
    """Return the picture of one step, as the work lies on the bench while it is done.

    A turn is drawn twice: as it lies before, with the arrow of the turn, and after it.

    Args:
        case: the case, for its panels.
        step: the step to be drawn.
        earlier: the steps of the case before this one: what they brought in is standing already.
        boards: codes of the job's boards in their order, for their tints.
        figures: how the length of a slide is written.
        room: paper for the whole picture (mm).
        view: the direction of looking.
    """
    scene = _Scene(
        case=case,
        step=step,
        earlier=earlier,
        boards=boards,
        figures=figures or Figures(),
        view=view or View(),
        room=room,
    )
    if step.kind is StepKind.TURN:
        return _turn(scene)
    if step.kind in {StepKind.FIT, StepKind.FEET}:
        return fitting_picture(case, step, room=room)
    return _join(scene, _standing(case, step, earlier))


def assembly_key(boards: tuple[str, ...] = ()) -> Drawing:
    """Return the key to the pictures of steps: what moves, what bears it, what else stands, and the arrow."""
    board = boards[0] if boards else ""
    looks = ((_Look.MOVES, "moves"), (_Look.BEARS, "it rests on this"), (_Look.STANDS, "stands already"))
    items: list[Entity] = []
    x = 0.0
    for look, word in looks:
        items.append(rectangle((x, 0.0), (x + 8.0, 5.0), pen=_pen(look), fill=_fill(look, board, boards, 0)))
        text = Text(at=(x + 10.0, 2.5), text=word, height=HEIGHTS[Role.NOTE], anchor=Anchor.START)
        items.append(text)
        x = text_box(text, 1.0).right + 7.0
    return Drawing(
        id="assembly.key",
        title="Key to the steps",
        alt="The part that moves is tinted with a heavy outline; what carries the work is hatched; the rest is plain.",
        items=tuple(items),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scene:
    """What one picture is made from."""

    case: DetailedCase
    step: Step
    earlier: Sequence[Step]
    boards: tuple[str, ...]
    figures: Figures
    view: View
    room: tuple[float, float]

    @property
    def id(self) -> str:
        """Name of the drawing."""
        return f"{self.case.built.case.code}.step-{self.step.number}"

    @property
    def alt(self) -> str:
        """The step for who cannot see it."""
        return f"Step {self.step.number} of case {self.case.built.case.code}: {self.step.text}"

    def panels(self, ids: Sequence[PanelId] | frozenset[PanelId]) -> list[Panel]:
        """Return panels in the order of the case."""
        wanted = frozenset(ids)
        return [p for p in self.case.panels if p.id in wanted]


def _standing(case: DetailedCase, step: Step, earlier: Sequence[Step]) -> frozenset[PanelId]:
    """Return what stands while a step is done: for a body being joined its own panels, later the whole case."""
    if step.kind in {StepKind.JOIN, StepKind.FIT}:
        return frozenset(step.onto)
    placed = {p.id for p in case.panels if p.body == "carcass"}
    for before in earlier:
        if before.kind not in {StepKind.JOIN, StepKind.TURN, StepKind.FIT}:
            placed |= set(before.moving)
    return frozenset(placed - set(step.moving))


def _join(scene: _Scene, standing: frozenset[PanelId]) -> Drawing:
    """Return the picture of a step that brings something: drawn small first, to learn how far off it must be shown."""
    draw, unit = _joined(scene, standing, 1.0)
    if len(scene.step.legs) > 1:  # of a single leg, nothing depends on the scale
        draw, unit = _joined(scene, standing, unit)
    return draw(unit)


def _joined(scene: _Scene, standing: frozenset[PanelId], about: float) -> tuple[_Draws, float]:
    """Return what draws the step with its movement long enough for a scale of `about`, and the scale that fits."""
    step = scene.step
    lying, legs = _legs_as_they_lie(scene, standing, about)
    parts = _parts(scene, standing, lying)
    arrow = StepArrow(hull=_hull([q.box for q in parts if q.look is _Look.MOVES]), legs=legs)
    away = arrow.apart
    parts = [replace(q, box=q.box.moved(away)) if q.look is _Look.MOVES else q for q in parts]
    pieces = painted([q.box for q in parts], scene.view)
    arrow = replace(arrow, before=_before(parts, pieces, scene.view))
    extent = _extent(parts, scene.view)
    drawn = _drawn(parts, pieces, scene)
    outermost = _outermost(drawn)

    def draw(unit: float, *, marked: bool = True) -> Drawing:
        arrows = arrow_of(arrow, scene.view, unit, _slide_words(scene))
        labels, hidden = _marks(parts, pieces, scene.view, unit, covered_by(arrows, unit)) if marked else ([], [])
        items = (*(drawn if marked else outermost), *arrows, *labels)
        return Drawing(
            id=scene.id,
            title=f"Step {step.number}",
            alt=scene.alt,
            items=(*items, *_signs(step, items, unit)),
            unit=unit,
            notes=_notes(lying, hidden),
        )

    return draw, _scale(draw, scene.room, extent)


def _before(parts: Sequence[_Part], pieces: Sequence[Piece], view: View) -> tuple[Spans, ...]:
    """Return the pictures of what is painted over something that moves."""
    moves = [parts[piece.thing].look is _Look.MOVES for piece in pieces]
    first = moves.index(True)
    return tuple(view.spans(p.box) for p, own in zip(pieces[first:], moves[first:], strict=True) if not own)


def _turn(scene: _Scene) -> Drawing:
    step, view = scene.step, scene.view
    before, after = lying_on(step.was_down or step.down), lying_on(step.down)
    panels = scene.panels(step.moving)
    first = [_part(p, before, _Look.MOVES, named=True) for p in panels]
    then = [_part(p, after, _Look.BEARS if p.id in step.rests_on else _Look.STANDS, named=True) for p in panels]
    left = _extent(first, view)
    aim = turn_arrow(left, before.place(_unit(after.up)), view)
    left = around((*aim.points, (left.left, left.bottom), (left.right, left.top)))
    right = _extent(then, view)
    gap = 0.12 * max(left.width, right.width)
    by = left.right + gap - right.left, left.bottom - right.bottom
    then = [replace(q, box=q.box.moved(_in_picture(by, view))) for q in then]
    pieces = painted([q.box for q in first], view), painted([q.box for q in then], view)
    width, height = left.width + gap + right.width, max(left.height, right.height)
    drawn = (*_drawn(first, pieces[0], scene), *_drawn(then, pieces[1], scene))
    outermost = _outermost(drawn)

    def draw(unit: float, *, marked: bool = True) -> Drawing:
        aimed = aim.drawn(unit)
        used = covered_by(aimed, unit) if marked else ()
        labels: list[Entity] = []
        for parts, own in zip((first, then), pieces, strict=True) if marked else ():
            named = [text_box(t, unit) for t in labels if isinstance(t, Text)]
            labels += _marks(parts, own, view, unit, (*used, *named))[0]
        items = (*(drawn if marked else outermost), *aimed, *labels)
        return Drawing(
            id=scene.id,
            title=f"Step {step.number}",
            alt=f"{scene.alt} Before it and after it.",
            items=(*items, *_signs(step, items, unit)),
            unit=unit,
            notes=(f"After it: {after.words[0].lower()}{after.words[1:]}",),
        )

    return draw(_scale(draw, scene.room, Bounds(left=0.0, bottom=0.0, right=width, top=height)))


class _Draws(Protocol):
    def __call__(self, unit: float, *, marked: bool = True) -> Drawing: ...


def _scale(draw: _Draws, room: tuple[float, float], extent: Bounds) -> float:
    """Return the scale at which a picture fits; while it is sought, panels are an outline without their marks."""
    return fitted(lambda unit: draw(unit, marked=False), room, (extent.width, extent.height)).unit


def _outermost(drawn: Sequence[Entity]) -> tuple[Entity, ...]:
    """Return what takes as much room as the panels drawn, by which a scale is found; without words, at any scale."""
    whole = bounds_of(drawn, 1.0)
    return (Path(points=((whole.left, whole.bottom), (whole.right, whole.top))),)


def _legs_as_they_lie(scene: _Scene, standing: frozenset[PanelId], about: float) -> tuple[Lying, tuple[Point, ...]]:
    """Return how the work lies, and the movement as it lies, long enough to be seen at a scale of `about`."""
    step, view = scene.step, scene.view
    whole = _hull([p.box for p in scene.panels(standing | set(step.moving))])
    mean = sum(whole.size(a) for a in AXES) / 3
    lying = lying_for(step)
    legs = [lying.place(leg.vector) for leg in step.legs]
    leasts = (_APART * mean, *(LEAST_LEG * about for _ in legs[1:]))
    return lying, tuple(at_least(leg, least, view) for leg, least in zip(legs, leasts, strict=False))


def _slide_words(scene: _Scene) -> str:
    """Return the length of a slide after entry, to be written at the arrow's bend."""
    legs = scene.step.legs
    if scene.step.kind is StepKind.RAIL:
        return f"down {scene.figures.of(legs[1].distance)}"
    return f"slide {scene.figures.of(legs[1].distance)}" if len(legs) > 1 else ""


def _parts(scene: _Scene, standing: frozenset[PanelId], lying: Lying) -> list[_Part]:
    """Return the panels shown, those that move first: their marks are placed first."""
    step = scene.step
    met = _met(scene, standing)
    parts = [_part(p, lying, _Look.MOVES, named=_is_named(p, step)) for p in scene.panels(step.moving)]
    for thing, box in rails_shown(scene.case, step, scene.earlier):
        look = _Look.MOVES if thing.id == step.body else _Look.STANDS
        parts.append(_Part(panel=thing, box=lying.box(box), look=look, named=False))
    doors = {d.panel: d for d in scene.case.built.doors}
    for panel in scene.panels(standing):
        if panel.id in step.open_first:
            opened = opened_box(panel.box, doors[panel.id])
            parts.append(_Part(panel=panel, box=lying.box(opened), look=_Look.OPEN, named=True))
        else:
            look = _Look.BEARS if panel.id in step.rests_on else _Look.STANDS
            parts.append(_part(panel, lying, look, named=panel.id in met))
    return sorted(parts, key=lambda q: not q.named)


def _met(scene: _Scene, standing: frozenset[PanelId]) -> frozenset[PanelId]:
    """Return the standing panels that are named: all of a few, else those that the step speaks of."""
    step = scene.step
    if step.kind is StepKind.JOIN:
        if len(standing) + len(step.moving) <= _MANY:
            return standing
        closing = [j for j in scene.case.joints if j.id in step.joints]
        return frozenset(p for j in closing for p in (j.receiving, j.entering)) & standing
    return frozenset((*step.onto, *step.rests_on)) & standing


def _is_named(moving: Panel, step: Step) -> bool:
    """Whether what moves is named: of a whole drawer its front says enough."""
    return step.kind is not StepKind.DRAWER or moving.role is PanelRole.DRAWER_BOX_FRONT


def _part(panel: Panel, lying: Lying, look: _Look, *, named: bool) -> _Part:
    return _Part(panel=panel, box=lying.box(panel.box), look=look, named=named)


def opened_box(box: Box, door: DoorPlace) -> Box:
    """Return the box of a door swung square open about the edge it hangs on."""
    width, thickness = box.size(Axis.X), box.size(Axis.Y)
    low, high = box.span(Axis.X)
    across = (low, low + thickness) if door.hinged == "left" else (high - thickness, high)
    rear = box.high.y
    return box.with_span(Axis.X, *across).with_span(Axis.Y, rear - width, rear)


def _drawn(parts: Sequence[_Part], pieces: Sequence[Piece], scene: _Scene) -> list[Entity]:
    items: list[Entity] = []
    for piece in pieces:
        part = parts[piece.thing]
        pen = _pen(part.look)
        faces: list[Entity] = []
        for face, shade, outlined in _faces(piece.box, scene.view, piece.seams):
            fill = _fill(part.look, part.panel.board, scene.boards, shade)
            if isinstance(part.panel, Bought) and part.look is _Look.STANDS:
                fill = Fill(Tint.PAPER, Hatch.NONE, shade)
            faces.append(Path(points=face, closed=True, pen=pen if outlined else None, fill=fill))
            if not outlined:
                faces += [_with_pen(edge, pen) for edge in _outline_without_seams(piece, face, scene.view)]
        kind = "moving" if part.look is _Look.MOVES else "panel"
        name = f"{part.panel.mark} {part.panel.name}".lstrip()
        items.append(Group(items=tuple(faces), id=part.panel.id, name=name, kind=kind))
    return items


def _with_pen(item: Entity, pen: Pen) -> Entity:
    return replace(item, pen=pen) if isinstance(item, Path) else item


def _pen(look: _Look) -> Pen:
    return {_Look.MOVES: Pen.OUTLINE, _Look.OPEN: Pen.GHOST}.get(look, Pen.THIN)


def _fill(look: _Look, board: str, boards: tuple[str, ...], shade: int) -> Fill | None:
    if look is _Look.OPEN:
        return None
    if look is _Look.MOVES:
        return Fill(Tint.CHOSEN, Hatch.NONE, shade)
    plain = board_fill(board, boards, shade=shade, hatched=False)
    return replace(plain, hatch=Hatch.LIGHT) if look is _Look.BEARS else plain


def _marks(
    parts: Sequence[_Part], pieces: Sequence[Piece], view: View, unit: float, used: Sequence[Bounds]
) -> tuple[list[Entity], list[str]]:
    """Return the marks of the parts that are named, and the names of those out of sight."""
    named = [(q.panel, q.look is _Look.MOVES) for q in parts if q.named]
    return step_marks(named, pieces, view, unit, used)


def _notes(lying: Lying, hidden: Sequence[str]) -> tuple[str, ...]:
    seen = () if lying.is_usual else (lying.words,)
    return (*seen, *((f"Out of sight: {', '.join(hidden)}.",) if hidden else ()))


def _signs(step: Step, items: Sequence[Entity], unit: float) -> Iterator[Entity]:
    """Yield the caution's triangle and word, over the picture and clear of it."""
    words = _caution_words(step)
    if words:
        whole = bounds_of(items, unit)
        height = HEIGHTS[Role.NAME]
        foot = (whole.left + height * unit, whole.top + 1.5 * unit)
        yield from caution_sign(foot, words, unit, height)


def _caution_words(step: Step) -> str:
    codes = {c.code for c in step.cautions}
    who = f"with {step.persons} people" if step.persons > 1 else "with help"
    if "turning" in codes:
        return f"turn {who}"
    if "lift" in codes or step.persons > 1:
        return f"lift {who}"
    return "can tip" if "tip-in" in codes else ""


def _extent(parts: Sequence[_Part], view: View) -> Bounds:
    return bounds_of([Path(points=f) for q in parts for f, _, _ in _faces(q.box, view)], 1.0)


def _in_picture(by: tuple[float, float], view: View) -> Point:
    """Return the vector that moves a picture by so much to the right and up."""
    (ax, _), (bx, _) = view.on(Point(1.0, 0.0, 0.0)), view.on(Point(0.0, 1.0, 0.0))
    _, cy = view.on(Point(0.0, 0.0, 1.0))
    return Point(by[0] * ax, by[0] * bx, by[1] / cy)


def _unit(way: Direction) -> Point:
    return Point(0.0, 0.0, 0.0).with_(way.axis, float(way.sign))


def _hull(boxes: Sequence[Box]) -> Box:
    low = Point(*(min(b.low.along(a) for b in boxes) for a in AXES))
    return Box(low, Point(*(max(b.high.along(a) for b in boxes) for a in AXES)))
