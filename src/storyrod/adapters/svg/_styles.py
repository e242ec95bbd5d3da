"""Colours and patterns of a drawing: on paper as they stand here, on the page by custom properties."""

from __future__ import annotations

from typing import Final

from storyrod.drawing import Fill, Hatch, Pen, Tint

PX_PER_MM: Final = 4.0
"""Screen pixels for a millimetre on paper: working figures (3.5 mm high) come out as a font of 18.4 px, the smallest
words (2.5 mm) as one of 13.2 px; the page's least are 16 and 13."""

FAMILY: Final = "B612, 'DejaVu Sans', Verdana, sans-serif"

INK: Final = "#1c1b19"
PENCIL: Final = "#5c5852"

TINTS: Final[dict[Tint, tuple[str, str, str]]] = {
    Tint.CLEAR: ("transparent", "transparent", "transparent"),
    Tint.PAPER: ("#ffffff", "#ffffff", "#ffffff"),
    Tint.INK: (INK, INK, INK),
    Tint.BOARD_1: ("#f7f0e1", "#efe4cd", "#e4d5b7"),
    Tint.BOARD_2: ("#eef2ee", "#e0e7df", "#cfd9cf"),
    Tint.BOARD_3: ("#f4ece6", "#e9dcd2", "#dccabc"),
    Tint.BOARD_4: ("#ecf0f4", "#dde4ea", "#cad5dd"),
    Tint.BOARD_5: ("#f3f1e4", "#e7e4ce", "#d8d4b5"),
    Tint.BOARD_6: ("#f2ecf2", "#e4dbe4", "#d4c8d4"),
    Tint.JIG: ("#e9e2d0", "#dcd2ba", "#cdc1a3"),
    Tint.CUTTER: ("#c9ccd0", "#b5b9be", "#a1a6ac"),
    Tint.PACKER: ("#f0d9a8", "#e4c98d", "#d7b973"),
    Tint.CHOSEN: ("#bcd6da", "#a5c6cb", "#8fb6bc"),
    Tint.CAUTION: ("#f3d58a", "#f3d58a", "#f3d58a"),
    Tint.FAULT: ("#e5b3a3", "#e5b3a3", "#e5b3a3"),
}
"""Each tint lit, half turned and turned from the light. Pale, so that black lines and words stay clear on them."""

COLOURS: Final[dict[Pen, str]] = {
    Pen.EXTENSION: PENCIL,
    Pen.GHOST: PENCIL,
    Pen.CAUTION: "#8a5a00",
    Pen.FAULT: "#9c2f1c",
}
"""Pens that are not ink."""

HATCHES: Final[dict[Hatch, tuple[float, float, str]]] = {
    Hatch.SLANT: (2.4, 45.0, "line"),
    Hatch.BACK_SLANT: (2.4, -45.0, "line"),
    Hatch.LEVEL: (2.2, 0.0, "line"),
    Hatch.UPRIGHT: (2.2, 90.0, "line"),
    Hatch.CROSSED: (3.0, 45.0, "cross"),
    Hatch.DOTS: (2.2, 30.0, "dot"),
    Hatch.LIGHT: (1.6, 45.0, "line"),
}
"""Step on paper in mm, turn in degrees, and what is repeated."""


def tint_of(fill: Fill) -> str:
    """Return the colour of a fill on paper."""
    return TINTS[fill.tint][fill.shade]


def page_styles() -> str:
    """Return the rules by which a page colours drawings written with `Look.PAGE`.

    Every colour is a custom property that the page's theme may set (`--ink`, `--pencil`, `--board-1`, `--chosen`
    and so on); where it does not, the paper's colour stands.
    """
    rules = [
        f".drawing {{ color: var(--ink, {INK}); font-family: {FAMILY}; }}",
        ".drawing text { fill: currentColor; stroke: none; }",
        ".drawing .line { stroke: currentColor; }",
    ]
    names = {PENCIL: "pencil", COLOURS[Pen.CAUTION]: "caution-ink", COLOURS[Pen.FAULT]: "fault-ink"}
    rules += [
        f".drawing .line.{pen} {{ stroke: var(--{names[colour]}, {colour}); }}" for pen, colour in COLOURS.items()
    ]
    for tint, shades in TINTS.items():
        rules += [
            f".drawing .tint.{tint}-{n} {{ fill: var(--{tint}-{n}, var(--{tint}, {shade})); }}"
            for n, shade in enumerate(shades)
        ]
    return "\n".join(rules) + "\n"
