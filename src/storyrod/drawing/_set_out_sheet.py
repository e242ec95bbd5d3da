"""One face of a set-out sheet, put together: outlines, cuts, joint lines, dimensions, tags, numbers, signs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from storyrod.drawing._breaks import clear_of_words
from storyrod.drawing._drawing import bounds_of
from storyrod.drawing._labels import Taken
from storyrod.drawing._layers import AXES, DATUM, JOINTS, OUTLINE, SIGNS, cut_layer, outline_layer
from storyrod.drawing._outlines import reach_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._scene import Scene
from storyrod.drawing._set_out_values import figures_box, lengths_of, widths_of
from storyrod.drawing._set_out_words import Tag, edge_name_places, number_rows, side_tag, top_tags
from storyrod.drawing._symbols import LOOP_HEIGHT, centre_cross, edge_mark, face_mark, grain_arrow, line
from storyrod.drawing._types import Bounds, Circle, Entity, Group, Path, Place, Running, Text, text_box
from storyrod.measure.space import PanelAxis
from storyrod.model.feature import Channel, Feature, SegmentPocket
from storyrod.model.mark import JointLine, Mark
from storyrod.model.panel import Grain, Surface

_ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Where along a panel the name of its scribe line may stand, as shares of its length."""


class Sheet:
    """Puts one face together. All lengths of paper are multiplied by `unit` to stand beside the panel's own."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        self.panel = scene.panel
        self.unfolded = scene.unfolded
        self.unit = scene.unit
        self.taken = Taken(scene.unit)
        self.items: list[Entity] = []
        self.boxes: dict[int, Bounds] = {}

    def draw(self) -> tuple[Entity, ...]:
        """Return everything on the sheet."""
        self._outlines()
        self._joint_lines()
        self._cuts()
        self._dimensions()
        self._face_signs()
        self._edge_names()
        self._tags()
        self._numbers()
        self._scribe_name()
        self._grain()
        return clear_of_words(self.items, self.unit)

    # Outlines, joint lines and cuts

    def _outlines(self) -> None:
        panel, unit = self.panel, self.unit
        outline = self.unfolded.rectangle(self.scene.face)
        board = Path(points=outline, closed=True, pen=Pen.OUTLINE, fill=Fill(Tint.PAPER), layer=OUTLINE)
        self.items.append(Group(items=(board,), id=panel.id, name=f"{panel.mark} {panel.name}", kind="panel"))
        self._block_rectangle(outline)
        for edge in self.scene.edges:
            corners = self.unfolded.rectangle(edge)
            self.items.append(
                Path(points=corners, closed=True, pen=Pen.FEATURE, fill=Fill(Tint.PAPER), layer=outline_layer(edge))
            )
            self._block_rectangle(corners)
        self._scribe_line()
        off, way = 1.9 * unit, self.unfolded.way
        along = ((-way * off, -off), (way * panel.length, -off))
        up = ((-way * off, -off), (-way * off, panel.width))
        for bar in (along, up):
            self.items.append(line(*bar, pen=Pen.DATUM, layer=DATUM))
            self._block(bar)

    def _scribe_line(self) -> None:
        """The line beyond which a panel is scribed to a wall."""
        panel, scribed, way = self.panel, self.panel.scribed, self.unfolded.way
        if scribed is None:
            return
        at = panel.width - scribed.allowance if scribed.edge.is_far else scribed.allowance
        self.items.append(line((0.0, at), (way * panel.length, at), pen=Pen.CENTRE, layer=JOINTS))
        self._block(((0.0, at), (way * panel.length, at)))

    def _scribe_name(self) -> None:
        panel, scribed, way = self.panel, self.panel.scribed, self.unfolded.way
        if scribed is None:
            return
        at = panel.width - scribed.allowance if scribed.edge.is_far else scribed.allowance
        height = HEIGHTS[Role.NOTE]
        inward = (-1.0 if scribed.edge.is_far else 1.0) * 0.9 * height * self.unit
        words = f"scribe {self.scene.figures.of(scribed.allowance)}"
        texts = (Text(at=(way * s * panel.length, at + inward), text=words, height=height) for s in _ALONG)
        text = self.taken.first_free(texts, self.unit, 0.3 * self.unit)
        if text is not None:
            self.items.append(text)
            self.taken.take(text_box(text, self.unit))

    def _joint_lines(self) -> None:
        for joint in self.scene.lines:
            ends = self._line_ends(joint, joint.near), self._line_ends(joint, joint.far)
            (a, b), (d, c) = ends
            self.items.append(Path(points=(a, b, c, d), closed=True, fill=Fill(Tint.PAPER, Hatch.LIGHT), layer=JOINTS))
            for pair in ends:
                self.items.append(line(*pair, pen=Pen.JOINT, layer=JOINTS))
                self._block(pair)
            middle = self._line_ends(joint, (joint.near + joint.far) / 2)
            self.items.append(line(*middle, pen=Pen.CENTRE, layer=JOINTS))
            self._block(middle)

    def _line_ends(self, joint: JointLine, at: float) -> tuple[Place, Place]:
        way = self.unfolded.way
        if joint.across_length:
            return (way * at, joint.start), (way * at, joint.end)
        return (way * joint.start, at), (way * joint.end, at)

    def _cuts(self) -> None:
        if not self.scene.true_size:
            for mark in self.scene.behind:
                lines = self.unfolded.drawn(mark.feature, self.scene.face, pen=self._hidden(mark))
                self.items.extend(lines)
                self.taken.take(bounds_of(lines, self.unit))
        times = {edge: self._edge_times(edge) for edge in self.scene.edges}
        for mark in self.scene.marks:
            self._cut(mark, times.get(mark.surface))

    def _cut(self, mark: Mark, times: tuple[float, float] | None) -> None:
        behind = mark.surface is self.scene.face.opposite
        lines: tuple[Entity, ...] = self.unfolded.drawn(
            mark.feature,
            self.scene.face if behind else mark.surface,
            pen=self._hidden(mark) if behind else Pen.FEATURE,
            times=_stretched(mark.feature, times),
            layer=cut_layer(mark.surface, mark.feature.shape),
        )
        first, last = lines[0], lines[-1]
        if isinstance(first, Circle):
            reach = max(last.radius if isinstance(last, Circle) else 0.0, 0.6 * self.unit) + 0.7 * self.unit
            lines = (*lines, *centre_cross(first.centre, reach, AXES))
        self.items.append(Group(items=lines, id=mark.feature.id, name=f"{mark.label}: {mark.what}", kind="mark"))
        self.boxes[mark.number] = bounds_of(lines, self.unit)
        self.taken.take(self.boxes[mark.number])

    def _hidden(self, mark: Mark) -> Pen:
        return Pen.HIDDEN_SMALL if reach_of(mark.feature.shape) < 4.0 * self.unit else Pen.HIDDEN

    def _edge_times(self, edge: Surface) -> tuple[float, float]:
        """How much larger than true the cuts in an edge may be drawn without meeting, and the edge's own stretch."""
        axis = PanelAxis.V if edge.axis is PanelAxis.U else PanelAxis.U
        cuts = sorted(
            ((m.feature.at.along(axis), reach_of(m.feature.shape)) for m in self.scene.marks if m.surface is edge),
        )
        times = self.unfolded.stretch
        for at, reach in cuts:
            room = min(at, self.panel.extent(axis) - at)
            times = min(times, room / reach) if room > 0 else times
        for (a, ra), (b, rb) in pairwise(cuts):
            if b - a > 1e-6:
                times = min(times, 0.8 * (b - a) / (ra + rb))
        return max(1.0, times), self.unfolded.stretch

    # Dimensions

    def _dimensions(self) -> None:
        manner = self.scene.manner
        if not manner.figured:
            return
        up = [_lettered(run, manner.widths) for run in widths_of(self.scene)]
        along = [
            _lettered(run, manner.lengths)
            for run in lengths_of(self.scene, [figures_box(run, self.unit) for run in up])
        ]
        for run in (*along, *up):
            self.items.append(run)
            for stop in run.stops:
                ends = ((stop.at, stop.start), (stop.at, run.line_at))
                self._block(ends if run.along_x else tuple((y, x) for x, y in ends), thin=True)
            self.taken.take(figures_box(run, self.unit))

    # Words

    def _edge_names(self) -> None:
        for edge in self.scene.edges:
            shapes = [m.feature.shape for m in self.scene.marks if m.surface is edge]
            cuts = self.scene.figures.call_out(shapes)
            places = edge_name_places(edge, f"{edge}: {cuts}" if cuts else str(edge), self.unfolded, self.unit)
            text = self.taken.first_free(places, self.unit, 0.3 * self.unit)
            if text is not None:
                self.items.append(text)

    def _tags(self) -> None:
        unit, unfolded, panel = self.unit, self.unfolded, self.panel
        across = [self._tag(li) for li in self.scene.lines if li.across_length]
        everything = bounds_of(self.items, unit)
        foot = panel.width + (unfolded.gap + unfolded.strip if Surface.FAR_EDGE in self.scene.edges else 0.0)
        level = max(foot + 2.0 * unit, everything.top + 1.0 * unit)
        ends = (-panel.length, 0.0) if unfolded.way < 0 else (0.0, panel.length)
        self._place(top_tags(across, foot, level, ends, unit))
        for li in self.scene.lines:
            if not li.across_length:
                a, b = sorted((unfolded.way * li.start, unfolded.way * li.end))
                self.items += side_tag(self._tag(li), (a, b), self.taken, ends)

    def _tag(self, joint: JointLine) -> Tag:
        shapes = [m.feature.shape for m in self.scene.marks if m.joint == joint.number and m.surface is joint.surface]
        middle = (joint.near + joint.far) / 2
        cuts = self.scene.figures.call_out(shapes, 2)
        called = self.scene.manner.mates.get(joint.number)
        name, note = (called, cuts) if called else (f"{joint.mate_mark} {joint.mate_surface}", joint.number)
        return Tag(
            at=self.unfolded.way * middle if joint.across_length else middle,
            name=name,
            note=": ".join(filter(None, dict.fromkeys((note, cuts)))),
        )

    def _place(self, items: list[Entity]) -> None:
        self.items.extend(items)
        if items:
            self.taken.take(bounds_of(items, self.unit))

    def _numbers(self) -> None:
        texts = number_rows(self.scene.marks, self.boxes, self.unfolded, self.taken, self.scene.figures)
        self.items.extend(texts)

    # Signs

    def _face_signs(self) -> None:
        """Face mark and edge mark, together, at the first free place along the face edge from the datum end."""
        unit, way, panel = self.unit, self.unfolded.way, self.panel
        width = 8.0 * unit
        steps = max(1, int(panel.length / (width / 2)))
        places = [panel.length * 0.3 + n * width / 2 for n in range(steps)] + [n * width / 2 for n in range(1, steps)]
        places = [p for p in places if width / 2 < p < panel.length - width / 2] or [panel.length / 2]
        at = next((p for p in places if self._is_free_for_signs(way * p, width)), places[0])
        x = way * at
        if self.scene.face is Surface.FACE:
            loop = face_mark((x, 0.0), unit, SIGNS)
            self.items.append(loop)
            self.taken.take(bounds_of((loop,), unit))
        if Surface.FACE_EDGE in self.scene.edges:
            # The arris of the face side: next to the face where that looks up, at the outside where it looks down.
            near, far = -self.unfolded.gap, -(self.unfolded.gap + self.unfolded.strip)
            apex, out = (near, -1.0) if self.scene.face is Surface.FACE else (far, 1.0)
            sign = edge_mark((x, apex), (0.0, out), 0.62 * self.unfolded.strip, unit, SIGNS)
            self.items.append(sign)
            self.taken.take(bounds_of((sign,), unit).grown(1.2 * unit))

    def _is_free_for_signs(self, x: float, width: float) -> bool:
        high = LOOP_HEIGHT * self.unit
        face = Bounds(left=x - width / 2, right=x + width / 2, bottom=0.3 * self.unit, top=high)
        low = -(self.unfolded.gap + self.unfolded.strip) + 0.3 * self.unit
        edge = Bounds(left=x - width / 3, right=x + width / 3, bottom=low, top=-self.unfolded.gap - 0.3 * self.unit)
        return self.taken.is_free(face) and self.taken.is_free(edge)

    def _grain(self) -> None:
        if self.panel.grain is Grain.FREE:
            return
        along_x = self.panel.grain is Grain.ALONG
        length, width = self.panel.length, self.panel.width
        run, across = (length, width) if along_x else (width, length)
        for half in (0.3 * run, 0.22 * run, 0.15 * run, 14.0 * self.unit, 9.0 * self.unit):
            for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88):
                for middle in (0.5, 0.35, 0.65, 0.2, 0.8):
                    x, y = (middle * run, share * across) if along_x else (share * across, middle * run)
                    if half < run * min(middle, 1 - middle) and self._grain_at(
                        (self.unfolded.way * x, y), half, along_x=along_x
                    ):
                        return

    def _grain_at(self, middle: Place, half: float, *, along_x: bool) -> bool:
        (x, y), across = middle, 1.3 * self.unit  # half the width of the arrow's heads
        dx, dy = (half, across) if along_x else (across, half)
        box = Bounds(left=x - dx, right=x + dx, bottom=y - dy, top=y + dy)
        if not self.taken.is_free(box, 0.8 * self.unit):
            return False
        arrow = grain_arrow(middle, half, self.unit, along_x=along_x)
        self.items.append(Group(items=arrow, name="grain", kind="grain"))
        self.taken.take(box)
        return True

    # What is taken

    def _block(self, ends: tuple[Place, ...], *, thin: bool = False) -> None:
        xs, ys = zip(*ends, strict=True)
        self.taken.take(Bounds(left=min(xs), right=max(xs), bottom=min(ys), top=max(ys)), thin=thin)

    def _block_rectangle(self, corners: tuple[Place, ...]) -> None:
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            self._block((a, b))


def _lettered(run: Running, letters: Mapping[str, str]) -> Running:
    """Return a running dimension with letters in place of the figures that have one."""
    if not letters:
        return run
    return replace(run, stops=tuple(replace(s, text=letters.get(s.text, s.text)) for s in run.stops))


def _stretched(feature: Feature, times: tuple[float, float] | None) -> tuple[float, float]:
    """Square-cornered cuts in an edge are stretched as the edge is; round ones keep their shape."""
    if times is None:
        return 1.0, 1.0
    if isinstance(feature.shape, Channel | SegmentPocket):
        return times
    return times[0], times[0]
