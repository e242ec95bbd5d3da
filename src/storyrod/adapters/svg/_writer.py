"""A drawing as SVG text: small, quick to write, the same bytes every time."""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum
from html import escape

from storyrod.adapters.svg._styles import COLOURS, FAMILY, HATCHES, INK, PX_PER_MM, tint_of
from storyrod.drawing import (
    DEPTH_SIGN,
    STROKES,
    Arc,
    Bounds,
    Circle,
    Drawing,
    Entity,
    Fill,
    Group,
    Hatch,
    Path,
    Pen,
    Place,
    Run,
    Text,
    em_of,
    flattened,
    foot_of,
    run_width,
    runs_of,
)


class Look(StrEnum):
    """For which reader a drawing is written."""

    PAPER = "paper"
    """Sized in mm, colours written in: for the packet and for files."""

    PAGE = "page"
    """Sized in screen pixels, colours left to the page's style sheet (`page_styles`)."""


def write(drawing: Drawing, look: Look = Look.PAPER, *, prefix: str = "") -> str:
    """Return the drawing as SVG.

    `prefix` keeps the names of patterns apart where several drawings stand in one page; the drawing's id unless set.
    """
    return _Writer(drawing, look, prefix or drawing.id).whole()


class _Writer:
    """Gathers the pieces of one drawing; lines of one pen that follow each other become one path."""

    def __init__(self, drawing: Drawing, look: Look, prefix: str) -> None:
        self.drawing = drawing
        self.look = look
        self.prefix = "".join(c if c.isalnum() and c.isascii() else "-" for c in prefix)
        self.unit = drawing.unit
        self.box: Bounds = drawing.bounds
        self.places = 2 if drawing.unit >= 4 else 3
        self.out: list[str] = []
        self.hatches: dict[str, str] = {}
        self.pen: Pen | None = None
        self.waiting: list[str] = []
        self.heads: dict[Pen, str] = {}

    def whole(self) -> str:
        self.items(self.drawing.items)
        self.flush()
        width, height = self.box.width / self.unit, self.box.height / self.unit
        times, name = (PX_PER_MM, "") if self.look is Look.PAGE else (1.0, "mm")
        size = f'width="{width * times:.2f}{name}" height="{height * times:.2f}{name}"'
        view = f'viewBox="0 0 {self.n(self.box.width)} {self.n(self.box.height)}"'
        face = "" if self.look is Look.PAGE else f' font-family="{FAMILY}" fill="{INK}"'
        defs = f"<defs>{''.join(self.hatches.values())}</defs>" if self.hatches else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" {size} {view}{face}>'
            f"<title>{escape(self.drawing.title)}</title><desc>{escape(self.drawing.alt)}</desc>"
            f"{defs}{''.join(self.out)}</svg>\n"
        )

    def items(self, items: Iterable[Entity]) -> None:
        for item in items:
            if isinstance(item, Group):
                self.group(item)
            elif isinstance(item, Path | Circle | Arc):
                self.shape(item)
            elif isinstance(item, Text):
                self.flush()
                self.text(item)
            else:
                self.items(flattened((item,), self.unit))

    def group(self, group: Group) -> None:
        self.flush()
        named = f' data-id="{escape(group.id)}"' if group.id else ""
        kind = f' class="{escape(group.kind)}"' if group.kind else ""
        title = f"<title>{escape(group.name)}</title>" if group.name else ""
        self.out.append(f"<g{named}{kind}>{title}")
        self.items(group.items)
        self.flush()
        self.out.append("</g>")

    def shape(self, item: Path | Circle | Arc) -> None:
        way = self.way(item)
        fill = None if isinstance(item, Arc) else item.fill
        if fill is not None:
            self.flush()
            self.area(way, fill)
        if item.pen is not None:
            if item.pen is not self.pen:
                self.flush()
                self.pen = item.pen
            self.waiting.append(way)

    def flush(self) -> None:
        """Write the lines that wait, all of one pen."""
        if self.waiting and self.pen is not None:
            head = self.heads.get(self.pen)
            if head is None:
                head = self.heads[self.pen] = self.head(self.pen)
            self.out.append(f'{head} d="{"".join(self.waiting)}"/>')
            self.waiting = []
        self.pen = None

    def head(self, pen: Pen) -> str:
        """Return what every path of a pen begins with."""
        stroke = STROKES[pen]
        dashes = f' stroke-dasharray="{" ".join(self.n(d * self.unit) for d in stroke.dashes)}"'
        ends = "" if pen in {Pen.DATUM, Pen.CENTRE, Pen.HIDDEN, Pen.GHOST} else ' stroke-linecap="round"'
        colour = "" if self.look is Look.PAGE else f' stroke="{COLOURS.get(pen, INK)}"'
        return (
            f'<path class="line {pen}" fill="none"{colour} stroke-width="{self.n(stroke.width * self.unit)}"'
            f'{dashes if stroke.dashes else ""}{ends} stroke-linejoin="round"'
        )

    def area(self, way: str, fill: Fill) -> None:
        colour = "" if self.look is Look.PAGE else f' fill="{tint_of(fill)}"'
        self.out.append(f'<path class="tint {fill.tint}-{fill.shade}"{colour} d="{way}"/>')
        if fill.hatch is not Hatch.NONE:
            name = f"{self.prefix}-{fill.hatch}"
            self.hatches.setdefault(name, self.pattern(name, fill.hatch))
            self.out.append(f'<path class="hatch" fill="url(#{name})" d="{way}"/>')

    def pattern(self, name: str, hatch: Hatch) -> str:
        step, turn, what = HATCHES[hatch]
        step *= self.unit
        s = self.n(step)
        ways = {"line": f"M0 0H{s}", "cross": f"M0 0H{s}M0 0V{s}", "dot": f"M0 0h{self.n(0.01 * self.unit)}"}
        width = 0.4 if what == "dot" else 0.13
        colour = 'stroke="currentColor"' if self.look is Look.PAGE else f'stroke="{INK}"'
        return (
            f'<pattern id="{name}" patternUnits="userSpaceOnUse" width="{s}" height="{s}" '
            f'patternTransform="rotate({-turn:g})"><path d="{ways[what]}" fill="none" {colour} '
            f'stroke-linecap="round" stroke-opacity="0.55" stroke-width="{self.n(2 * width * self.unit)}"/></pattern>'
        )

    def way(self, item: Path | Circle | Arc) -> str:
        if isinstance(item, Path):
            return self.path_way(item)
        if isinstance(item, Circle):
            (x, y), r = self.at(item.centre), self.n(item.radius)
            d = self.n(2 * item.radius)
            return f"M{self.n(x - item.radius)} {self.n(y)}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0Z"
        turn = (item.end_deg - item.start_deg) % 360.0
        start, end = _on(item.centre, item.radius, item.start_deg), _on(item.centre, item.radius, item.end_deg)
        r = self.n(item.radius)
        return f"M{self.place(start)}A{r} {r} 0 {int(turn > 180)} 0 {self.place(end)}"

    def path_way(self, path: Path) -> str:
        if not path.bulges:  # most are: written without a call for each figure, which comes to the same (`place`)
            left, top, places = self.box.left, self.box.top, self.places
            ends = [f"{round(x - left, places) + 0.0:.7g} {round(top - y, places) + 0.0:.7g}" for x, y in path.points]
            return f"M{'L'.join(ends)}{'Z' if path.closed else ''}"
        pieces = [f"M{self.place(path.points[0])}"]
        rest = path.points[1:] + (path.points[:1] if path.closed else ())
        here = path.points[0]
        for there, bulge in zip(rest, path.bulges, strict=False):
            if bulge:
                chord = math.hypot(there[0] - here[0], there[1] - here[1])
                r = self.n(chord * (1 + bulge * bulge) / (4 * abs(bulge)))
                pieces.append(f"A{r} {r} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} {self.place(there)}")
            else:
                pieces.append(f"L{self.place(there)}")
            here = there
        return "".join(pieces) + ("Z" if path.closed else "")

    def text(self, text: Text) -> None:
        runs = runs_of(text.text)
        em = em_of(text, self.unit)
        weight = ' font-weight="700"' if text.bold else ""
        head = f'class="{text.role}" font-size="{self.n(em)}"{weight}'
        if any(run.is_depth for run in runs):
            self.drawn_text(text, runs, head, em)
            return
        x, y = self.at(foot_of(text, self.unit))
        turn = f' transform="rotate({-text.angle_deg:g} {self.n(x)} {self.n(y)})"' if text.angle_deg else ""
        anchor = "" if text.anchor == "start" else f' text-anchor="{text.anchor}"'
        words = self.tspans(runs, em)
        self.out.append(f'<text {head}{anchor} x="{self.n(x)}" y="{self.n(y)}"{turn}>{words}</text>')

    def drawn_text(self, text: Text, runs: tuple[Run, ...], head: str, em: float) -> None:
        """Write a text that holds depth symbols: each piece at its own place, the symbols as lines."""
        widths = [run_width(run, bold=text.bold) * em for run in runs]
        shift = {"start": 0.0, "middle": -sum(widths) / 2, "end": -sum(widths)}[text.anchor]
        x0, y0 = self.at(foot_of(text, self.unit))
        turn = f" rotate({-text.angle_deg:g})" if text.angle_deg else ""
        self.out.append(f'<g transform="translate({self.n(x0)} {self.n(y0)}){turn}">')
        for run, width in zip(runs, widths, strict=True):
            if run.is_depth:
                self.depth_sign(shift, em)
            elif run.text.strip():
                size = f'class="{text.role}" font-size="{self.n(em * run.scale)}"' if run.scale != 1 else head
                lead = run_width(Run(run.text[: len(run.text) - len(run.text.lstrip())]), bold=text.bold) * em
                x, y = self.n(shift + lead), self.n(-run.rise * em)
                self.out.append(f'<text {size} x="{x}" y="{y}">{escape(run.text.strip())}</text>')
            shift += width
        self.out.append("</g>")

    def depth_sign(self, x: float, em: float) -> None:
        way = "".join(
            "M" + "L".join(f"{self.n(x + px * em)} {self.n(-py * em)}" for px, py in stroke) for stroke in DEPTH_SIGN
        )
        colour = "" if self.look is Look.PAGE else f' stroke="{INK}"'
        self.out.append(
            f'<path class="line depth" fill="none"{colour} stroke-width="{self.n(em * 0.075)}" '
            f'stroke-linecap="round" stroke-linejoin="round" d="{way}"/>'
        )

    def tspans(self, runs: tuple[Run, ...], em: float) -> str:
        """Return the words of a text, the figures of fractions small and raised."""
        if len(runs) == 1 and runs[0].scale == 1:
            return escape(runs[0].text)
        pieces, rise = [], 0.0
        for run in runs:
            down = self.n((rise - run.rise) * em)
            rise = run.rise
            pieces.append(f'<tspan font-size="{self.n(em * run.scale)}" dy="{down}">{escape(run.text)}</tspan>')
        return "".join(pieces)

    def at(self, place: Place) -> Place:
        return place[0] - self.box.left, self.box.top - place[1]

    def place(self, place: Place) -> str:
        x, y = self.at(place)
        return f"{self.n(x)} {self.n(y)}"

    def n(self, value: float) -> str:
        """Return a number as short as it can be written."""
        return "%.7g" % (round(value, self.places) + 0.0)


def _on(centre: Place, radius: float, angle_deg: float) -> Place:
    angle = math.radians(angle_deg)
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)
