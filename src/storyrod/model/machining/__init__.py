"""How the cuts are made: settings, jigs, set-ups, the order of work, and what is counted at its end.

A *need* is a line of like cuts on one surface of one panel. Making it once is an *operation*: one placing of the tool
or jig. Operations with the same tool, cutter, depth, jig and registration are one *set-up*; the *run* is their order.
"""

from storyrod.model.machining._count import Count, Reconciliation
from storyrod.model.machining._error import ExpectedStep, Stack
from storyrod.model.machining._jig import (
    FENCE_THICKNESS,
    STOP_LENGTH,
    STOP_THICKNESS,
    WIDEST_BIT,
    Area,
    Hold,
    HoldKind,
    JigKind,
    JigPlan,
    JigTally,
    LineUp,
    Piece,
    Sentence,
    Stop,
)
from storyrod.model.machining._place import CutPlace
from storyrod.model.machining._run import Lot, Run, RunStep, Sureness
from storyrod.model.machining._set_up import Operation, SectionData, SetUp
from storyrod.model.machining._setting import (
    LEAST_PACKER,
    TAPE,
    THIN_PACKER,
    Hand,
    LineToMark,
    PackerSide,
    PackerStack,
    Setting,
    SidePass,
    Wall,
    WorkStage,
)
from storyrod.model.machining._trial import Correction, RunCheck, TrialKind
from storyrod.model.machining._work_plan import StationAdvice, WorkPlan

__all__ = [
    "FENCE_THICKNESS",
    "LEAST_PACKER",
    "STOP_LENGTH",
    "STOP_THICKNESS",
    "TAPE",
    "THIN_PACKER",
    "WIDEST_BIT",
    "Area",
    "Correction",
    "Count",
    "CutPlace",
    "ExpectedStep",
    "Hand",
    "Hold",
    "HoldKind",
    "JigKind",
    "JigPlan",
    "JigTally",
    "LineToMark",
    "LineUp",
    "Lot",
    "Operation",
    "PackerSide",
    "PackerStack",
    "Piece",
    "Reconciliation",
    "Run",
    "RunCheck",
    "RunStep",
    "SectionData",
    "Sentence",
    "SetUp",
    "Setting",
    "SidePass",
    "Stack",
    "StationAdvice",
    "Stop",
    "Sureness",
    "TrialKind",
    "Wall",
    "WorkPlan",
    "WorkStage",
]
