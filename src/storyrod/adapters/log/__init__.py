"""The bench log: ticks, stop-watch spans, trial joints, stock; kept in one database that outlives a crash."""

from storyrod.adapters.log._carry import carry_over
from storyrod.adapters.log._csv import export_log, import_log
from storyrod.adapters.log._log import BenchLog, open_log
from storyrod.adapters.log._rack import (
    CutSheets,
    KeptOffcuts,
    confirmed_versions,
    cut_sheets_of,
    keep_offcuts,
    plan_with_rack,
    read_cut_sheets,
    take_off,
    with_rack,
)
from storyrod.adapters.log._rescue import rescue
from storyrod.adapters.log._taken import fresh_timings, note_taken, taken_acts
from storyrod.adapters.log._types import CarriedOver, Changed, Offcut, RackEntry, Rescued, Span, Tick, Trial
from storyrod.adapters.log._watch import StopWatch
from storyrod.telling.cards import things_of
from storyrod.telling.things import Thing, is_still

__all__ = [
    "BenchLog",
    "CarriedOver",
    "Changed",
    "CutSheets",
    "KeptOffcuts",
    "Offcut",
    "RackEntry",
    "Rescued",
    "Span",
    "StopWatch",
    "Thing",
    "Tick",
    "Trial",
    "carry_over",
    "confirmed_versions",
    "cut_sheets_of",
    "export_log",
    "fresh_timings",
    "import_log",
    "is_still",
    "keep_offcuts",
    "note_taken",
    "open_log",
    "plan_with_rack",
    "read_cut_sheets",
    "rescue",
    "take_off",
    "taken_acts",
    "things_of",
    "with_rack",
]
