"""Figures: one neutral drawing made of lines, arcs, words and dimensions, read by every writer."""

from storyrod.drawing._case_view import Shown, case_exploded, case_thumbnail, case_view
from storyrod.drawing._drawing import Drawing, bounds_of, flattened
from storyrod.drawing._elevation import case_elevation
from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import Taken, spread
from storyrod.drawing._lettering import CAP, DEPTH, DEPTH_SIGN, FONT_NAME, Run, run_width, runs_of, width_of
from storyrod.drawing._pens import HEIGHTS, STROKES, Fill, Hatch, Pen, Role, Stroke, Tint, board_fill
from storyrod.drawing._projection import View, painted
from storyrod.drawing._set_out import ROOM, panel_set_out, panel_true_size, worked_faces
from storyrod.drawing._types import (
    Anchor,
    Arc,
    Bounds,
    Circle,
    Dimension,
    Entity,
    Group,
    Path,
    Place,
    Running,
    Stop,
    Text,
    em_of,
    foot_of,
    text_box,
    text_corners,
)

__all__ = [
    "CAP",
    "DEPTH",
    "DEPTH_SIGN",
    "FONT_NAME",
    "HEIGHTS",
    "ROOM",
    "STROKES",
    "Anchor",
    "Arc",
    "Bounds",
    "Circle",
    "Dimension",
    "Drawing",
    "Entity",
    "Figures",
    "Fill",
    "Group",
    "Hatch",
    "Path",
    "Pen",
    "Place",
    "Role",
    "Run",
    "Running",
    "Shown",
    "Stop",
    "Stroke",
    "Taken",
    "Text",
    "Tint",
    "View",
    "board_fill",
    "bounds_of",
    "case_elevation",
    "case_exploded",
    "case_thumbnail",
    "case_view",
    "em_of",
    "flattened",
    "foot_of",
    "painted",
    "panel_set_out",
    "panel_true_size",
    "run_width",
    "runs_of",
    "spread",
    "text_box",
    "text_corners",
    "width_of",
    "worked_faces",
]
