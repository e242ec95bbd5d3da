"""A study drawn for people to look at, each picture with its numbers in a table beside it.

    curve.svg, curve.csv     the figure over what varies, with the sizes from which on other sheets are bought
    map.svg, map.csv         which option is best over two things that vary, and how sure that is
    unbeaten.svg             every variant by two of price, minutes and yield, and those that nothing beats

Drawn by Matplotlib (the extra `study`), in ink on paper: lines differ by dash and mark, fields by hatch and letter, so
that they read in black and white. Letters are outlines, so that any viewer shows them.
"""

from __future__ import annotations

import csv
import io
import itertools
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from importlib.resources import files
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.csv_cells import FORMULA
from storyrod.adapters.files.studying import Variants
from storyrod.adapters.study._store import put_whole
from storyrod.model.study import Asked, Column, Kind, Row
from storyrod.telling.study_views import CLOSE, BestMap, Curve, curve_of, map_of
from storyrod.telling.unbeaten import measures_in

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

PAPER: Final = "#faf7f0"
INK: Final = "#1d1b18"
PENCIL: Final = "#6b665e"
ACCENT: Final = "#7a2e1d"
TINTS: Final = ("#efe3c8", "#cfd9d3", "#e3cfc4", "#d3d0df", "#dfe2c0", "#c9d7e0", "#e9d8e2", "#d9d3c7")
HATCHES: Final = ("", "//", "..", "\\\\", "xx", "--", "||", "++")
DASHES: Final = ("-", "--", "-.", ":", (0, (6, 1, 1, 1, 1, 1)))
MARKS: Final = ("o", "s", "^", "D", "v")
LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

MOST_OPTIONS: Final = len(HATCHES)
"""So many options of a map can be told apart; of more, no map is drawn, and its table says all."""


def is_installed() -> bool:
    """Return whether the library that draws is there."""
    return find_spec("matplotlib") is not None


def write_pictures(
    variants: Variants, columns: Sequence[Column], rows: Sequence[Row], front: Sequence[Row], folder: Path
) -> tuple[str, ...]:
    """Write the pictures that a study has something for, with their tables, and return their names."""
    found = pictures_of(variants, columns, rows, front)
    for name, data in found.items():
        put_whole(folder / name, data)
    return tuple(found)


def pictures_of(
    variants: Variants, columns: Sequence[Column], rows: Sequence[Row], front: Sequence[Row]
) -> dict[str, bytes]:
    """Return the pictures that a study has something for, with their tables, by name; tables alone where the library
    that draws is not there.
    """
    names = [v.name or v.varies for v in variants.study.vary]
    figure = variants.study.least
    cents = figure in {Asked.PRICE, Asked.COST}
    label = f"{figure.value}, {variants.own.currency}" if cents and variants.own.currency else figure.value
    found: dict[str, bytes | None] = {}
    curve, best = curve_of(columns, rows, names), map_of(columns, rows, names)
    if curve is not None:
        found["curve.csv"] = _table(_curve_lines(curve, label, 100 if cents else 1))
        found["curve.svg"] = _drawn(curve_figure, curve, label, 100 if cents else 1)
    if best is not None:
        found["map.csv"] = _table(_map_lines(best, label, 100 if cents else 1))
        found["map.svg"] = _drawn(map_figure, best, label) if len(best.options) <= MOST_OPTIONS else None
    if front:
        found["unbeaten.svg"] = _drawn(front_figure, columns, rows, front)
    return {name: data for name, data in found.items() if data is not None}


def _drawn(draw: Any, *words: Any) -> bytes | None:  # noqa: ANN401 - any of the figures below
    if not is_installed():
        return None
    out = io.BytesIO()
    with _look():
        draw(*words).savefig(out, format="svg", metadata={"Date": None, "Creator": None}, bbox_inches="tight")
    return out.getvalue()


@contextmanager
def _look() -> Iterator[None]:
    import matplotlib as mpl

    _add_fonts()
    look: Any = {
        "svg.hashsalt": "storyrod",
        "font.family": "B612",
        "font.size": 11,
        "figure.facecolor": PAPER,
        "savefig.facecolor": PAPER,
        "axes.facecolor": PAPER,
        "axes.edgecolor": INK,
        "axes.labelcolor": INK,
        "text.color": INK,
        "xtick.color": INK,
        "ytick.color": INK,
        "axes.spines.top": False,
        "axes.spines.right": False,
        "hatch.color": PENCIL,
        "hatch.linewidth": 0.6,
        "legend.frameon": False,
    }
    with mpl.rc_context(look):
        yield


@cache
def _add_fonts() -> None:
    from matplotlib import font_manager

    for name in ("B612-Regular.otf", "B612-Bold.otf"):
        font_manager.fontManager.addfont(str(files("storyrod") / "data" / "fonts" / name))


def _figure() -> tuple[Figure, Axes]:
    from matplotlib.figure import Figure as Made

    figure = Made(figsize=(7.5, 4.8))
    return figure, figure.subplots()


def curve_figure(curve: Curve, label: str, per: int) -> Figure:
    """Return the figure over what varies: a line for each option, a ring where other sheets are bought."""
    figure, axes = _figure()
    for n, (option, points) in enumerate(curve.lines):
        across, up = [p.at for p in points], [p.figure / per for p in points]
        dash, mark = DASHES[n % len(DASHES)], MARKS[n % len(MARKS)]
        axes.plot(across, up, color=INK, linestyle=dash, marker=mark, markersize=3, linewidth=1.1, label=option or None)
        steps = [p for p in points if p.is_step]
        axes.plot(
            [p.at for p in steps], [p.figure / per for p in steps], "o", color=ACCENT, markersize=9, fillstyle="none"
        )
        for point in steps if len(curve.lines) == 1 else ():
            place = (point.at, point.figure / per)
            axes.annotate(
                f"{point.at:g}", place, textcoords="offset points", xytext=(6, -14), fontsize=10, color=ACCENT
            )
    axes.set_xlabel(curve.across)
    axes.set_ylabel(label)
    axes.grid(visible=True, color=PENCIL, alpha=0.25, linewidth=0.5)
    if len(curve.lines) > 1 or curve.lines[0][0]:
        axes.legend(loc="best", fontsize=10)
    if any(p.is_step for _, points in curve.lines for p in points):
        axes.set_title("Ring: from here on other sheets are bought", fontsize=10, loc="left", color=ACCENT)
    return figure


def map_figure(best: BestMap, label: str) -> Figure:
    """Return the field of each option: its letter, tint and hatch; a question mark where the second is as good."""
    from matplotlib.patches import Patch, Rectangle

    figure, axes = _figure()
    across, up = _edges({p.across for p in best.places}), _edges({p.up for p in best.places})
    few = len(best.places) <= 400  # more letters run into each other: tint and hatch say it alone
    for place in best.places:
        n = best.options.index(place.option)
        (left, right), (low, high) = across[place.across], up[place.up]
        size = (right - left, high - low)
        look: Any = {"facecolor": PAPER if place.is_close else TINTS[n], "hatch": HATCHES[n], "edgecolor": PENCIL}
        axes.add_patch(Rectangle((left, low), *size, linewidth=0.3, **look))
        if few:
            letter = LETTERS[n] + ("?" if place.is_close else "")
            axes.text(left + size[0] / 2, low + size[1] / 2, letter, ha="center", va="center", fontsize=9)
    axes.set_xlim(min(a for a, _ in across.values()), max(b for _, b in across.values()))
    axes.set_ylim(min(a for a, _ in up.values()), max(b for _, b in up.values()))
    axes.set_xlabel(best.across)
    axes.set_ylabel(best.up)
    won = {p.option for p in best.places}
    keys = [
        Patch(facecolor=TINTS[n], hatch=HATCHES[n], edgecolor=PENCIL, label=f"{LETTERS[n]}  {option}")
        for n, option in enumerate(best.options)
        if option in won
    ]
    axes.legend(handles=keys, loc="upper left", bbox_to_anchor=(1.0, 1.0), fontsize=10)
    axes.set_title(f"Least {label}. No tint and ?: the next best is within {CLOSE:.0%}", fontsize=10, loc="left")
    return figure


def front_figure(columns: Sequence[Column], rows: Sequence[Row], front: Sequence[Row]) -> Figure:
    """Return every variant by the first two of price, minutes and yield, those that nothing beats ringed."""
    figure, axes = _figure()
    at = {c.name: (n, 100 if c.kind is Kind.MONEY else 1) for n, c in enumerate(columns)}
    x, y = (at[name] for name in measures_in(columns)[:2])
    looks: tuple[tuple[Sequence[Row], Any], ...] = (
        ([r for r in rows if r.rank is not None], {"marker": ".", "color": PENCIL, "markersize": 4}),
        (front, {"marker": "o", "color": INK, "markersize": 8, "fillstyle": "none"}),
    )
    for some, look in looks:
        places = [(_figure_in(r, x), _figure_in(r, y)) for r in some]
        known = [(a, b) for a, b in places if a is not None and b is not None]
        axes.plot([a for a, _ in known], [b for _, b in known], linestyle="none", **look)
    axes.set_xlabel(measures_in(columns)[0])
    axes.set_ylabel(measures_in(columns)[1])
    axes.set_title("Ring: no variant beats it", fontsize=10, loc="left")
    return figure


def _figure_in(row: Row, at: tuple[int, int]) -> float | None:
    cell = row.cells[at[0]]
    return float(cell) / at[1] if isinstance(cell, int | float) else None


def _edges(values: set[float]) -> dict[float, tuple[float, float]]:
    """Return from where to where each value's field goes: half way to its neighbours."""
    order = sorted(values)
    middles = [(a + b) / 2 for a, b in itertools.pairwise(order)]
    first, last = order[0] - (middles[0] - order[0]), order[-1] + (order[-1] - middles[-1])
    return dict(zip(order, zip([first, *middles], [*middles, last], strict=True), strict=True))


def _curve_lines(curve: Curve, label: str, per: int) -> Iterator[Sequence[object]]:
    yield (curve.across, "option", label, "other sheets from here on")
    for option, points in curve.lines:
        for point in points:
            yield (point.at, option, point.figure / per, "yes" if point.is_step else "")


def _map_lines(best: BestMap, label: str, per: int) -> Iterator[Sequence[object]]:
    yield (best.across, best.up, "best", label, "next best", "next best more by")
    for p in best.places:
        more = "" if p.ahead is None else f"{p.ahead:.4f}"
        yield (p.across, p.up, p.option, p.figure / per, p.second, more)


def _table(lines: Iterator[Sequence[object]]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out).writerows([FORMULA.sub(r"\1'", str(cell)) for cell in line] for line in lines)
    return out.getvalue().encode()
