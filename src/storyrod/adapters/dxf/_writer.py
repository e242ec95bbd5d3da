"""A drawing as a DXF file: true size in mm, plain layers, closed outlines, real dimensions, the same bytes every time.

Lengths are millimetres whatever unit the job is shown in: a drawing program converts them by `$INSUNITS`.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, Final

from storyrod.drawing import (
    DEPTH,
    STROKES,
    Anchor,
    Arc,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Group,
    Path,
    Pen,
    Running,
    Stop,
    Text,
    foot_of,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

MILLIMETRES: Final = 4
"""`$INSUNITS` for millimetres (DXF reference)."""

SAID: Final = "LENGTHS IN MILLIMETRES, EXACT, WHATEVER THE UNIT OF THE JOB"
"""What a file says of itself in its first lines, as a comment (group 999, DXF reference), which programs pass over."""

PLAIN: Final = "LINES"
"""The layer of what has none of its own."""

_LINE_TYPES: Final = {
    Pen.HIDDEN: ("DASHED", (1.4, -0.8)),
    Pen.HIDDEN_SMALL: ("DASHED FINE", (0.55, -0.4)),
    Pen.CENTRE: ("LONG DASH DOT", (6.0, -1.2, 0.6, -1.2)),
    Pen.GHOST: ("DOTTED", (1.0, -1.0)),
}
_STYLE: Final = "FIGURES"
_FONT: Final = "B612-Regular.otf"
"""The open font that the packet is set in; where a drawing program has it not, it takes its own."""
_WEIGHTS: Final = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)


def write(drawing: Drawing) -> str:
    """Return the drawing as the text of a DXF file (R2010)."""
    from ezdxf._options import options
    from ezdxf.filemanagement import new

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # Else the clock and chance would be written in.
    try:
        document = new("R2010", setup=False, units=MILLIMETRES)
        document.header["$MEASUREMENT"] = 1
        document.header["$LTSCALE"] = 1.0
        document.styles.add(_STYLE, font=_FONT)
        _Writer(document, drawing).items(drawing.items)
        for name in sorted(document.entitydb.dxf_types_in_use()):  # The library would write them as hashes fall.
            document.classes.add_class(name)
        out = io.StringIO()
        document.write(out)
        return f"999\n{SAID}\n{out.getvalue()}"
    finally:
        options.write_fixed_meta_data_for_testing = before


class _Writer:
    """Puts the entities of one drawing into a new document."""

    def __init__(self, document: Document, drawing: Drawing) -> None:
        self.document = document
        self.space: Modelspace = document.modelspace()
        self.unit = drawing.unit
        for name, dashes in _LINE_TYPES.values():
            lengths = [abs(d) * self.unit for d in dashes]
            pattern = [sum(lengths), *(d * self.unit for d in dashes)]
            document.linetypes.add(name, pattern, description=name.lower())
        self._dimension_style()

    def _dimension_style(self) -> None:
        style: Any = self.document.dimstyles.add("RUNNING")
        height = 3.5 * self.unit
        style.set_arrows(blk="OBLIQUE", blk1="OBLIQUE", blk2="OBLIQUE")
        style.dxf.dimtxt = height
        style.dxf.dimasz = 1.5 * self.unit
        style.dxf.dimexo = 0.0
        style.dxf.dimexe = 1.0 * self.unit
        style.dxf.dimgap = 0.8 * self.unit
        style.dxf.dimtad = 1
        style.dxf.dimdec = 2
        style.dxf.dimzin = 8  # no zeros at the end
        style.dxf.dimtxsty = _STYLE

    def items(self, items: Iterable[Entity]) -> None:
        for item in items:
            match item:
                case Group():
                    self.items(item.items)
                case Path():
                    self.path(item)
                case Text():
                    self.text(item)
                case Running():
                    self.running(item)
                case Dimension():
                    self.single(item)
                case _:
                    self.round(item)

    def round(self, item: Circle | Arc) -> None:
        if item.pen is None:
            return
        look = self.look(item.pen, item.layer)
        if isinstance(item, Circle):
            self.space.add_circle(item.centre, item.radius, dxfattribs=look)
        else:
            self.space.add_arc(item.centre, item.radius, item.start_deg, item.end_deg, dxfattribs=look)

    def running(self, run: Running) -> None:
        for stop in run.stops:
            if stop.text:
                self.stop(run, stop)

    def look(self, pen: Pen, layer: str) -> dict[str, Any]:
        """Return the layer, line type and weight of a line; the layer is made when first used."""
        name = layer or PLAIN
        if name not in self.document.layers:
            self.document.layers.add(name)
        width = round(STROKES[pen].width * 100)
        attributes: dict[str, Any] = {"layer": name, "lineweight": min(_WEIGHTS, key=lambda w: abs(w - width))}
        if pen in _LINE_TYPES:
            attributes["linetype"] = _LINE_TYPES[pen][0]
        return attributes

    def path(self, path: Path) -> None:
        if path.pen is None:  # a tint or hatch for paper only
            return
        attributes = self.look(path.pen, path.layer)
        if len(path.points) == 2 and not path.bulges:
            self.space.add_line(*path.points, dxfattribs=attributes)
            return
        bulges = path.bulges or (0.0,) * len(path.points)
        points = [(x, y, bulge) for (x, y), bulge in zip(path.points, bulges, strict=True)]
        self.space.add_lwpolyline(points, format="xyb", close=path.closed, dxfattribs=attributes)

    def text(self, text: Text) -> None:
        from ezdxf.enums import TextEntityAlignment

        align = {
            Anchor.START: TextEntityAlignment.LEFT,
            Anchor.MIDDLE: TextEntityAlignment.CENTER,
            Anchor.END: TextEntityAlignment.RIGHT,
        }[text.anchor]
        attributes = {**self.look(Pen.THIN, text.layer or "WORDS"), "style": _STYLE}
        del attributes["lineweight"]
        entity = self.space.add_text(
            _plain(text.text), height=text.height * self.unit, rotation=text.angle_deg, dxfattribs=attributes
        )
        entity.set_placement(foot_of(text, self.unit), align=align)

    def stop(self, run: Running, stop: Stop) -> None:
        """Add one value of a running dimension, an ordinate dimension from the datum."""
        out = run.line_at + run.toward * 3.5 * self.unit
        if run.along_x:
            foot, end = (stop.at, stop.start), (stop.label_at, out)
        else:
            foot, end = (stop.start, stop.at), (out, stop.label_at)
        offset = (end[0] - foot[0], end[1] - foot[1])
        add = self.space.add_ordinate_x_dim if run.along_x else self.space.add_ordinate_y_dim
        dimension = add(
            foot,
            offset,
            origin=(0.0, 0.0),
            dimstyle="RUNNING",
            text=_plain(stop.text),
            dxfattribs=self.look(Pen.DIMENSION, run.layer or "DIMENSIONS"),
        )
        dimension.render()

    def single(self, item: Dimension) -> None:
        (ax, ay), (bx, by) = item.a, item.b
        angle = math.degrees(math.atan2(by - ay, bx - ax))
        length = math.hypot(bx - ax, by - ay) or 1.0
        base = (ax - (by - ay) / length * item.away, ay + (bx - ax) / length * item.away)
        dimension = self.space.add_linear_dim(
            base=base,
            p1=item.a,
            p2=item.b,
            angle=angle,
            dimstyle="RUNNING",
            text=_plain(item.text),
            dxfattribs=self.look(Pen.DIMENSION, item.layer or "DIMENSIONS"),
        )
        dimension.render()


def _plain(words: str) -> str:
    """Return words without signs that the fonts of drawing programs lack."""
    return words.replace(f" {DEPTH}", " deep ").replace(DEPTH, "deep ").replace("×", "x")
