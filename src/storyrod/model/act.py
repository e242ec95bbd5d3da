"""Acts: the single things that minutes are counted for, each by the one name under which a workshop file times it.

Their minutes are in one place only, `[times]` of the packaged workshop, over which a maker's own are laid. What a way
of the workshop takes (`place_act`, `cut_act`) may be an act of the maker's own, with minutes of its own.
"""

from __future__ import annotations

from enum import StrEnum

from storyrod.faults import Fault, JobError


class Act(StrEnum):
    """Every act that the plan itself counts, or that the packaged ways take."""

    READ_CARD = "read the card, per panel"
    FACE_EDGE_MARKS = "face and edge marks, per panel"
    MARK_JOINT_LINE = "mark a joint line"
    MARK_CONNECTOR = "mark a connector"
    CLAMP_JIG = "clamp the jig"
    DRILL_HOLE = "drill a hole"
    ROUT_SLOT = "rout a slot"
    PLUNGE_SLOT = "plunge a slot"
    ROUT_KEYHOLE = "rout a keyhole"
    ROUT_HOUSING = "rout a housing"
    ROUT_REBATE = "rout a rebate, per metre"
    FIT_DRY_CONNECTOR = "fit a dry connector"
    GLUE_CONNECTOR = "glue a connector"
    DRIVE_CARCASS_SCREW = "drive a carcass screw"
    DRILL_AT_PRESS = "drill a hole at the press"
    MARK_DRILL_HOLE = "mark and drill a hole"
    COUNTERSINK_HOLE = "countersink a hole"
    ROUT_CUT_OUT = "rout a cut-out"
    ROUT_ALONG_FENCE = "rout along the fence, per metre"
    SAW_GROOVE = "saw a groove, per metre"
    SAW_NOTCH = "saw a notch"
    JIGSAW_NOTCH = "jigsaw a notch"
    CUT_BY_PROGRAM = "cut by program"
    SET_JIG_TO_MARK = "set the jig to a mark"
    HOLD_TO_MARK = "hold to a mark"
    HOLD_TO_MATE = "hold to the mate"
    LAY_PANEL_ON_MACHINE = "lay a panel on the machine"
    MAKE_JIG = "make a jig"
    MAKE_JIG_STATION = "make a station of a jig"
    MAKE_PIN_TEMPLATE = "make a pin template"
    DRILL_PIN_TEMPLATE = "drill a hole of a pin template"
    CUT_GUARD_BOARDS = "cut guard boards"
    MAKE_HOLDING_TROUGH = "make a holding trough"
    HOLD_NARROW_PART = "hold a narrow part"
    FETCH_PANEL = "fetch a panel from the stack"
    TAKE_UP_TOOL = "take up another tool"
    CHANGE_DRILL = "change the drill"
    SET_DEPTH_COLLAR = "set the depth collar"
    CHANGE_BUSH = "change the bush"
    CHANGE_STOP = "change the stop"
    CHANGE_JIG_OVER = "change a jig over"
    CHANGE_DEPTH = "change the depth"
    CHANGE_CUTTER = "change the cutter"
    CHANGE_FENCE = "change the fence"
    CHANGE_BLADE = "change the blade"
    TRIAL_JOINT = "trial joint"
    CUT_PANEL_TABLE_SAW = "cut a panel, table saw"
    CUT_PANEL_TRACK_SAW = "cut a panel, track saw"
    BREAK_DOWN_SHEET = "break down a sheet"
    EDGE_IRON = "edge with an iron, per metre"
    EDGE_MACHINE = "edge with a machine, per metre"
    LIP_SOLID_WOOD = "lip with solid wood, per metre"
    CLOSE_JOINT_LINE = "close a joint line"
    CHECK_DIAGONALS = "check the diagonals"
    FIT_BACK = "fit the back"
    MAKE_DRAWER_BOX = "make a drawer box"
    FIT_RUNNERS = "fit a pair of runners"
    HANG_DOOR = "hang a door"
    FIT_CLOTHES_RAIL = "fit a clothes rail"
    LAY_IN_SHELF = "lay in a loose shelf"
    WIPE_OFF_GLUE = "wipe off glue, per joint line"
    LEAVE_IN_CLAMPS = "leave in clamps"
    CLEAR_UP = "clear up and check the count"
    FIX_DRAWER_FRONT = "fix a drawer front"
    FIT_FOOT = "fit a levelling foot"
    CLIP_PLINTH = "clip on a plinth board"
    FIX_WORKTOP = "fix a worktop"
    SCRIBE = "scribe an edge to a wall"
    TURN_CAM = "turn a cam"
    FINISH_COAT = "put on a coat of finish, per m2"


def unknown_act(act: str) -> JobError:
    """Return the fault of an act that has no minutes: it would count nothing without a word."""
    return JobError(
        Fault(
            code="unknown-act",
            field="times",
            found=f'"{act}", which has no minutes',
            allowed="an act that `times` of the workshop has",
            do=f'Write low, usual and high minutes for it under [times."{act}"].',
        )
    )
