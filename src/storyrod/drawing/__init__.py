"""Figures: one neutral drawing made of lines, arcs, words and dimensions, read by every writer."""

from storyrod.drawing._assembly_step import STEP_ROOM, assembly_key, assembly_step
from storyrod.drawing._case_view import Shown, case_exploded, case_thumbnail, case_view
from storyrod.drawing._depth_section import depth_section
from storyrod.drawing._drawing import Drawing, bounds_of, flattened
from storyrod.drawing._elevation import Editing, case_elevation
from storyrod.drawing._face_cuts import face_cuts
from storyrod.drawing._figures import Figures
from storyrod.drawing._gang import gang_stack
from storyrod.drawing._joint_detail import joint_detail
from storyrod.drawing._labels import Taken, spread
from storyrod.drawing._let_in import let_in
from storyrod.drawing._lettering import CAP, DEPTH, DEPTH_SIGN, FONT_NAME, Run, run_width, runs_of, width_of
from storyrod.drawing._lying import Lying
from storyrod.drawing._mark_place import mark_place
from storyrod.drawing._part_label import LabelSize, part_label
from storyrod.drawing._pens import HEIGHTS, STROKES, Fill, Hatch, Pen, Role, Stroke, Tint, board_fill
from storyrod.drawing._projection import View, painted
from storyrod.drawing._pulled_apart import moved_apart
from storyrod.drawing._rod import CHECK_BAR, OVERLAP, TILE, check_bar_drawing, rod_strip, rod_tiles
from storyrod.drawing._scene import Manner
from storyrod.drawing._set_out import ROOM, Drawn, panel_set_out, panel_set_out_small, panel_true_size, worked_faces
from storyrod.drawing._sheet_layout import SHEET_ROOM, sheet_layout, short_name
from storyrod.drawing._step_shown import StepShown, step_shown
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
    "CHECK_BAR",
    "DEPTH",
    "DEPTH_SIGN",
    "FONT_NAME",
    "HEIGHTS",
    "OVERLAP",
    "ROOM",
    "SHEET_ROOM",
    "STEP_ROOM",
    "STROKES",
    "TILE",
    "Anchor",
    "Arc",
    "Bounds",
    "Circle",
    "Dimension",
    "Drawing",
    "Drawn",
    "Editing",
    "Entity",
    "Figures",
    "Fill",
    "Group",
    "Hatch",
    "LabelSize",
    "Lying",
    "Manner",
    "Path",
    "Pen",
    "Place",
    "Role",
    "Run",
    "Running",
    "Shown",
    "StepShown",
    "Stop",
    "Stroke",
    "Taken",
    "Text",
    "Tint",
    "View",
    "assembly_key",
    "assembly_step",
    "board_fill",
    "bounds_of",
    "case_elevation",
    "case_exploded",
    "case_thumbnail",
    "case_view",
    "check_bar_drawing",
    "depth_section",
    "em_of",
    "face_cuts",
    "flattened",
    "foot_of",
    "gang_stack",
    "joint_detail",
    "let_in",
    "mark_place",
    "moved_apart",
    "painted",
    "panel_set_out",
    "panel_set_out_small",
    "panel_true_size",
    "part_label",
    "rod_strip",
    "rod_tiles",
    "run_width",
    "runs_of",
    "sheet_layout",
    "short_name",
    "spread",
    "step_shown",
    "text_box",
    "text_corners",
    "width_of",
    "worked_faces",
]
