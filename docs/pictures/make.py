"""Draw the pictures of these pages with the project's own drawing package.

    python docs/pictures/make.py

Frames, joints and stations are read from the code that makes them, so that a picture cannot say anything else.
"""

# ruff: noqa: INP001  # a script among the pages

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path as FilePath

from storyrod.adapters import svg
from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.drawing import (
    HEIGHTS,
    Anchor,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Fill,
    Hatch,
    Path,
    Pen,
    Place,
    Role,
    Running,
    Shown,
    Stop,
    Text,
    Tint,
    View,
    bounds_of,
    case_view,
)
from storyrod.drawing._symbols import edge_mark, face_mark, line, move_arrow, rectangle
from storyrod.joinery._stations import stations_of
from storyrod.measure.length import show_mm
from storyrod.measure.space import Axis, Frame, Point
from storyrod.model.job import Spread
from storyrod.model.method import StationRules
from storyrod.model.panel import Panel, PanelId
from storyrod.planning import Plan

HERE = FilePath(__file__).resolve().parent
EXAMPLES = HERE.parent.parent / "examples"

LIT, HALF, DIM = (Fill(Tint.BOARD_1, shade=n) for n in range(3))
SAWN = Fill(Tint.BOARD_1, Hatch.SLANT)
SAWN_TOO = Fill(Tint.BOARD_2, Hatch.BACK_SLANT)
NOTE, FIGURE = HEIGHTS[Role.NOTE], HEIGHTS[Role.FIGURE]
END = Anchor.END
START = Anchor.START


def words(at: Place, text: str, *, anchor: Anchor = Anchor.MIDDLE, bold: bool = False, angle_deg: float = 0.0) -> Text:
    """Return one line of words."""
    return Text(at=at, text=text, height=NOTE, anchor=anchor, bold=bold, angle_deg=angle_deg)


def pointed(at: Place, start: Place, text: str, *, anchor: Anchor = START) -> tuple[Entity, ...]:
    """Return words at `start` with a thin line from them to `at`, which ends in a dot."""
    gap = 1.2 if anchor is START else -1.2
    dot = Circle(centre=at, radius=0.5, fill=Fill(Tint.INK))
    return line(start, at, pen=Pen.THIN), dot, words((start[0] + gap, start[1]), text, anchor=anchor)


def size(a: Place, b: Place, away: float, text: str) -> Dimension:
    """Return one dimension."""
    return Dimension(a=a, b=b, away=away, text=text, height=NOTE)


def finished(name: str, title: str, alt: str, items: Sequence[Entity], unit: float = 1.0) -> Drawing:
    """Return the drawing with room at its edges for a reader's own lettering, which may run wider than ours."""
    bounds = bounds_of(items, unit)
    return Drawing(id=name, title=title, alt=alt, items=tuple(items), unit=unit, window=bounds.grown(9.0 * unit))


# The case frame


def case_frame() -> Drawing:
    """Return the box that a case fills, its origin and its three directions."""
    view, unit = View(), 8.0
    wide, deep, high = 600.0, 400.0, 720.0

    def at(x: float, y: float, z: float) -> Place:
        return view.on(Point(x, y, z))

    hidden = [((0, deep, 0), (0, 0, 0)), ((0, deep, 0), (wide, deep, 0)), ((0, deep, 0), (0, deep, high))]
    seen = [
        ((0, 0, 0), (wide, 0, 0)), ((wide, 0, 0), (wide, deep, 0)), ((0, 0, high), (wide, 0, high)),
        ((wide, 0, high), (wide, deep, high)), ((0, 0, high), (0, deep, high)), ((0, deep, high), (wide, deep, high)),
        ((0, 0, 0), (0, 0, high)), ((wide, 0, 0), (wide, 0, high)), ((wide, deep, 0), (wide, deep, high)),
    ]  # fmt: skip
    front = (at(0, 0, 0), at(wide, 0, 0), at(wide, 0, high), at(0, 0, high))
    items: list[Entity] = [Path(points=front, closed=True, fill=LIT)]
    items += [line(at(*a), at(*b), pen=Pen.HIDDEN_SMALL) for a, b in hidden]
    items += [line(at(*a), at(*b), pen=Pen.OUTLINE) for a, b in seen]
    for tip, name, right, higher in (
        ((290.0, 0.0, 0.0), "x, to the right", 2.5, 2.5),
        ((0.0, 300.0, 0.0), "y, to the back", 8.5, 5.5),
        ((0.0, 0.0, 300.0), "z, up", 2.5, 2.5),
    ):
        items += move_arrow((at(0, 0, 0), at(*tip)), unit)
        x, y = at(*tip)
        items.append(words((x + right * unit, y + higher * unit), name, anchor=START))
    items.append(Circle(centre=at(0, 0, 0), radius=1.5 * unit, fill=Fill(Tint.INK)))
    x, y = at(0, 0, 0)
    items.append(words((x - 3 * unit, y - 3 * unit), "origin", anchor=END))
    items += [
        size(at(0, 0, 0), at(wide, 0, 0), -9 * unit, "width"),
        size(at(wide, 0, 0), at(wide, deep, 0), -9 * unit, "depth"),
        size(at(0, 0, 0), at(0, 0, high), 9 * unit, "height"),
        words(at(wide / 2, 0, high * 0.78), "front"),
    ]
    alt = (
        "A box seen from the front, right and above. "
        "Its origin is the front, left, bottom corner: x runs right, y back, z up."
    )
    return finished("case-frame", "The case frame", alt, items, unit)


# The panel frames


def panel_frames() -> Drawing:
    """Return one panel of each hand, with its face side, face edge and datum end, as a real case has them."""
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    case = Plan(read.job, read.workshop).details.cases[0]
    drawer = case.built.drawers[0].id
    cells = (
        ("side-left", "left side"),
        ("side-right", "right side, dividers"),
        ("base", "top, base, shelves, rails,", "drawer bottoms"),
        ("back", "back, plinth, doors, drawer", "fronts, box fronts and backs"),
        (f"{drawer.split('.', 1)[1]}.side-left", "drawer's left side"),
        (f"{drawer.split('.', 1)[1]}.side-right", "drawer's right side"),
    )
    items: list[Entity] = []
    for n, (suffix, *titles) in enumerate(cells):
        panel = case.panel(PanelId(f"{case.built.case.code}.{suffix}"))
        middle = (n % 3) * 62.0, -(n // 3) * 70.0
        items += _framed(panel, middle)
        items += [words((middle[0], middle[1] - 32.0 - 5.0 * row), title) for row, title in enumerate(titles)]
    alt = (
        "Six panels as they stand in a case, each with its face side lit, a heavy line along face edge and datum end, "
        "and arrows for u (length), v (width) and w (into the board)."
    )
    return finished("panel-frames", "Face side, face edge, datum end", alt, items)


def _framed(panel: Panel, middle: Place) -> list[Entity]:
    """One panel of plain proportions, in the directions that its own frame has."""
    frame = panel.frame
    length, width, thick = (42.0, 26.0, 4.5) if frame.u.axis is not Axis.Z else (40.0, 28.0, 4.5)
    view = View(turn_deg=-28.0 if frame.into.axis is Axis.X and frame.into.sign > 0 else 28.0, tilt_deg=24.0)

    def on(u: float, v: float, w: float) -> Place:
        place = [0.0, 0.0, 0.0]
        for way, by in ((frame.u, u - length / 2), (frame.v, v - width / 2), (frame.into, w - thick / 2)):
            place[way.nth] += way.sign * by
        x, y = view.on(Point(*place))
        return x + middle[0], y + middle[1]

    def quad(*corners: tuple[float, float, float], fill: Fill) -> Path:
        return Path(points=tuple(on(*c) for c in corners), closed=True, pen=Pen.FEATURE, fill=fill)

    el, wi, th = length, width, thick
    faces = {
        "far": ((0, 0, th), (el, 0, th), (el, wi, th), (0, wi, th)),
        "face edge": ((0, 0, 0), (el, 0, 0), (el, 0, th), (0, 0, th)),
        "far edge": ((0, wi, 0), (el, wi, 0), (el, wi, th), (0, wi, th)),
        "datum end": ((0, 0, 0), (0, wi, 0), (0, wi, th), (0, 0, th)),
        "far end": ((el, 0, 0), (el, wi, 0), (el, wi, th), (el, 0, th)),
        "face": ((0, 0, 0), (el, 0, 0), (el, wi, 0), (0, wi, 0)),
    }

    def nearness(corners: Sequence[tuple[float, float, float]]) -> float:
        return sum(_toward_viewer(frame, c, (el, wi, th), view) for c in corners)

    items: list[Entity] = []
    for name, corners in sorted(faces.items(), key=lambda f: nearness(f[1])):
        items.append(quad(*corners, fill=LIT if name == "face" else DIM))
    items += [line(on(0, wi, 0), on(0, 0, 0), on(el, 0, 0), pen=Pen.DATUM)]
    items.append(Circle(centre=on(0, 0, 0), radius=1.3, fill=Fill(Tint.INK)))
    items += move_arrow((on(6, wi * 0.42, 0), on(el * 0.62, wi * 0.42, 0)), 0.8)
    items += move_arrow((on(6, wi * 0.42, 0), on(6, wi * 0.9, 0)), 0.8)
    ux, uy = on(el * 0.74, wi * 0.42, 0)
    vx, vy = on(12.5, wi * 0.8, 0)
    items += [words((ux, uy), "u"), words((vx, vy), "v")]
    u, v, into = frame.u.word, frame.v.word, frame.into.word
    items.append(words((middle[0], middle[1] - 27.0), f"u {u}, v {v}, w {into}"))
    return items


def _toward_viewer(
    frame: Frame, corner: tuple[float, float, float], extent: tuple[float, float, float], view: View
) -> float:
    place = [0.0, 0.0, 0.0]
    for way, by, whole in zip((frame.u, frame.v, frame.into), corner, extent, strict=True):
        place[way.nth] += way.sign * (by - whole / 2)
    side = 1.0 if view.turn_deg > 0 else -1.0
    return side * place[0] * 0.5 - place[1] + place[2] * 0.6


# The surfaces of one panel, and a mirrored pair


def surfaces() -> Drawing:
    """Return a panel as it lies on the bench, its edges and ends folded out, with one running dimension."""
    el, wi, t, gap = 96.0, 52.0, 7.0, 11.0
    mark = (58.0, 24.0)
    items: list[Entity] = [rectangle((0, 0), (el, wi), pen=Pen.OUTLINE, fill=LIT)]
    strips = {
        "face edge": ((0, -gap - t), (el, -gap)),
        "far edge": ((0, wi + gap), (el, wi + gap + t)),
        "datum end": ((-gap - t, 0), (-gap, wi)),
        "far end": ((el + gap, 0), (el + gap + t, wi)),
    }
    for name, (a, b) in strips.items():
        upright = "end" in name
        items.append(rectangle(a, b, pen=Pen.FEATURE, fill=HALF))
        items.append(words(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), name, angle_deg=90.0 if upright else 0.0))
    items += [
        line((-1.9, wi), (-1.9, -1.9), (el, -1.9), pen=Pen.DATUM),
        face_mark((8, 0), 1.0),
        edge_mark((18, -gap), (0, -1), 4.5, 1.0),
        words((el * 0.5, wi * 0.86), "face side"),
        words((el * 0.5, wi * 0.74), "far face: under it"),
        Circle(centre=mark, radius=2.0, pen=Pen.FEATURE, fill=Fill(Tint.PAPER)),
        line((mark[0] - 3.5, mark[1]), (mark[0] + 3.5, mark[1]), pen=Pen.THIN),
        line((mark[0], mark[1] - 3.5), (mark[0], mark[1] + 3.5), pen=Pen.THIN),
        line((mark[0], mark[1] - 4), (mark[0], -4.5), pen=Pen.EXTENSION),
        line((mark[0] - 4, mark[1]), (-4.5, mark[1]), pen=Pen.EXTENSION),
        words((mark[0] - 1.5, 12), "u 290", anchor=END),
        words((30, mark[1] + 2.8), "v 120"),
        *pointed((18, -gap - 2.5), (26, -gap - t - 5), "edge mark, its point to the face side"),
        *pointed((10.5, 6), (el + gap + t + 4, -4.0), "face mark"),
    ]
    items += pointed((el * 0.8, -1.9), (el + gap + t + 4, -10.0), "measure from here")
    alt = (
        "A panel seen from above with its four edges folded out: face edge below, far edge above, datum end "
        "at the left, far end at the right. A hole is placed by u from the datum end and v from the face edge."
    )
    return finished("surfaces", "The six surfaces of a panel", alt, items)


def hands() -> Drawing:
    """Return the two sides of a case as they lie on the bench, face side up: mirrored, and marked from like ends."""
    unit = 8.0
    el, wi = 560.0, 300.0
    holes = ((9.0, 50.0), (9.0, 210.0), (300.0, 50.0), (300.0, 210.0))
    items: list[Entity] = []
    for way, base, title in ((-1, 0.0, "left side"), (1, 700.0, "right side")):
        x0 = base if way > 0 else base + el

        def x(u: float, way: int = way, x0: float = x0) -> float:
            return x0 + way * u

        off = 1.9 * unit
        items.append(rectangle((base, 0), (base + el, wi), pen=Pen.OUTLINE, fill=LIT))
        items.append(line((x(-off), wi), (x(-off), -off), (x(el), -off), pen=Pen.DATUM))
        items += [Circle(centre=(x(u), v), radius=9.0, pen=Pen.FEATURE, fill=Fill(Tint.PAPER)) for u, v in holes]
        items.append(face_mark((x(430.0), 0), unit))
        stops = tuple(Stop(at=x(u), start=-off, label_at=x(u), value=u, text=show_mm(u)) for u in (300.0, el))
        items.append(
            Running(origin=(x(0), -off), along_x=True, line_at=-7 * unit, toward=-1, stops=stops, height=FIGURE)
        )
        items.append(words((base + el / 2, wi + 5 * unit), f"{title}, face edge toward you"))
        items.append(words((x(0) - way * 6 * unit, wi / 2), "datum end", angle_deg=90.0))
    alt = (
        "The left and the right side side by side, face side up and face edge toward you. The left side has its datum "
        "end at the right, the right side at the left; the holes are a mirror picture."
    )
    return finished("hands", "A mirrored pair", alt, items, unit)


# Joints


def joints() -> Drawing:
    """Return sections of a corner joint, a mid-panel joint and two joints back to back."""
    items: list[Entity] = []
    items += _section(0.0, entering=((13.0, 52.0),), at=(47.0,), title="corner joint")
    items += _section(62.0, entering=((13.0, 52.0),), at=(28.0,), title="mid-panel joint")
    items += _section(150.0, entering=((13.0, 36.0), (-23.0, 0.0)), at=(28.0, 28.0), title="back to back")
    # What the parts are called, on the mid-panel joint; what is left of the board, on the corner.
    items += [
        *pointed((62.0 + 6, 50), (62.0 + 17, 52), "receiving panel"),
        *pointed((62.0 + 13, 45), (62.0 + 17, 45.5), "its face"),
        *pointed((62.0 + 40, 33), (62.0 + 30, 13), "entering panel"),
        *pointed((62.0 + 13, 24), (62.0 + 20, 6.0), "its end, at the joint line"),
        *pointed((2.0, 47.0), (18.0, 60.0), "skin"),
        *pointed((21.0, 42.2), (26.0, 33.0), "wall"),
    ]
    alt = (
        "Three sections: a panel that enters at the end of another (corner joint), in its middle (mid-panel "
        "joint), and two that enter from both faces in one line (back to back). A dowel hole in the face leaves a "
        "skin under it, one in the end a wall on both sides."
    )
    return finished("joints", "Entering and receiving", alt, items)


def _section(x: float, *, entering: Sequence[tuple[float, float]], at: Sequence[float], title: str) -> list[Entity]:
    """A receiving panel upright, 13 thick and seen from the front, and panels entering its faces at heights `at`."""
    t = 13.0
    top = max(at) + t / 2 if title == "corner joint" else 56.0
    items: list[Entity] = [rectangle((x, 0), (x + t, top), pen=Pen.CUT, fill=SAWN)]
    for (a, b), z in zip(entering, at, strict=True):
        items.append(rectangle((x + a, z - t / 2), (x + b, z + t / 2), pen=Pen.CUT, fill=SAWN_TOO))
        way = 1.0 if a > 0 else -1.0
        face = x + (t if a > 0 else 0.0)
        deep = 9.0 if len(entering) == 1 else 4.0
        items.append(
            rectangle((face - way * deep, z - 3), (face + way * 14.0, z + 3), pen=Pen.FEATURE, fill=Fill(Tint.PAPER))
        )
        items.append(line((face - way * (deep + 3), z), (face + way * 18.0, z), pen=Pen.CENTRE))
    items.append(words((x + t / 2 + (18 if len(entering) == 1 else 0), -6.0), title))
    return items


# Stations


def stations() -> Drawing:
    """Return ladders and an even spread by the rules that the dowels of the packaged workshop have."""
    method = packaged_workshop().method("dowels")
    if method is None or method.rules is None:
        raise LookupError("the packaged workshop has lost its dowels")
    rules = method.rules
    unit = 4.6
    items: list[Entity] = []
    y = 0.0
    for length, spread, title in (
        (560.0, Spread.LADDER, "ladder, 560 long"),
        (375.0, Spread.LADDER, "ladder, 375 long: more than a pitch would be left, so one more at the far end"),
        (90.0, Spread.LADDER, "90 long: too short for the ladder, so two spread evenly"),
        (560.0, Spread.EVEN, "even, 560 long"),
    ):
        items += _joint_with_stations(y, length, rules, spread, title, unit)
        y -= 40.0 * unit
    alt = "Four joints seen from the edge, with the places of their connectors in running figures from the face edge."
    told = f"end {show_mm(rules.end)}, end_min {show_mm(rules.end_min)}, pitch {show_mm(rules.pitch)}"
    items.append(
        words((0, 17 * unit), f"Dowels: {told}, gap_min {show_mm(rules.gap_min)}, least {rules.least}.", anchor=START)
    )
    return finished("stations", "Where the connectors stand", alt, items, unit)


def _joint_with_stations(
    y: float, length: float, rules: StationRules, spread: Spread, title: str, unit: float
) -> list[Entity]:
    places = stations_of(length, rules, spread) or ()
    t = 7.0 * unit
    items: list[Entity] = [
        rectangle((0, y), (length, y + t), pen=Pen.OUTLINE, fill=LIT),
        line((-1.9 * unit, y), (-1.9 * unit, y + t), pen=Pen.DATUM),
        words((0, y + t + 4 * unit), title, anchor=START),
    ]
    for at in places:
        items.append(Circle(centre=(at, y + t / 2), radius=1.6 * unit, pen=Pen.FEATURE, fill=Fill(Tint.PAPER)))
        items.append(line((at, y - unit), (at, y + t + unit), pen=Pen.CENTRE))
    stops = tuple(Stop(at=v, start=y - 1.5 * unit, label_at=v, value=v, text=show_mm(v)) for v in (*places, length))
    items.append(Running(origin=(0, y), along_x=True, line_at=y - 6 * unit, toward=-1, stops=stops, height=FIGURE))
    return items


# Backs


def backs() -> Drawing:
    """Return the four kinds of back, sawn through level: the rear corner of a side, the back, and a shelf."""
    items: list[Entity] = []
    for n, (title, back_y, back_x, side_rear, bite) in enumerate(
        (
            ("applied", (52.0, 56.0), 0.0, 52.0, None),
            ("rebated", (52.0, 56.0), 5.0, 56.0, (52.0, 56.0, 5.0)),
            ("grooved", (32.0, 36.0), 7.0, 56.0, (32.0, 36.6, 3.4)),
            ("between", (32.0, 36.0), 10.0, 56.0, None),
        )
    ):
        x, t = n * 46.0, 10.0
        items.append(rectangle((x, 0), (x + t, side_rear), pen=Pen.CUT, fill=SAWN))
        if bite:
            low, high, deep = bite
            items.append(rectangle((x + t - deep, low), (x + t, high), pen=Pen.CUT, fill=Fill(Tint.PAPER)))
        items.append(rectangle((x + back_x, back_y[0]), (x + 36.0, back_y[1]), pen=Pen.CUT, fill=SAWN_TOO))
        shelf = rectangle((x + t, 0), (x + 36.0, back_y[0]), pen=Pen.OUTLINE, fill=LIT)
        items += [shelf, words((x + 23.0, 15.0), "shelf")]
        items.append(words((x + t / 2, 15.0), "side", angle_deg=90.0))
        items.append(words((x + 18.0, 65.0), title, bold=True))
        items.append(line((x - 2, 0), (x + 38.0, 0), pen=Pen.DATUM))
        items.append(line((x + 10.0, 56.0), (x + 38.0, 56.0), pen=Pen.GHOST))
        if n >= 2:
            items.append(size((x + 27.0, back_y[1]), (x + 27.0, 56.0), -3.0, "inset"))
    items.append(words((0, -6.0), "front edge of the carcass", anchor=START))
    alt = (
        "Level sections of a side, a shelf and the back. Applied: behind the shortened sides. Rebated: in a step "
        "at the sides' rear edge. Grooved: set in from the rear edge, in a groove. Between: set in, between the sides."
    )
    return finished("backs", "The four kinds of back", alt, items)


# The README's case


def folder_cabinet() -> Drawing:
    """Return the folder cabinet of the example as it stands."""
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    plan = Plan(read.job, read.workshop)
    boards = tuple(b.code for b in plan.job.boards)
    return case_view(plan.details.cases[0], Shown(boards=boards), room=(120.0, 90.0))


PICTURES: dict[str, Callable[[], Drawing]] = {
    "backs": backs,
    "case-frame": case_frame,
    "folder-cabinet": folder_cabinet,
    "hands": hands,
    "joints": joints,
    "panel-frames": panel_frames,
    "stations": stations,
    "surfaces": surfaces,
}


def main() -> None:
    """Draw every picture anew."""
    for name, draw in PICTURES.items():
        drawing = draw()
        (HERE / f"{name}.svg").write_text(svg.write(drawing), encoding="utf-8")


if __name__ == "__main__":
    main()
