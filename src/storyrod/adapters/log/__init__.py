"""The bench log: ticks, stop-watch spans, trial joints, stock; kept in one database that outlives a crash."""

from storyrod.adapters.log._carry import carry_over, things_of
from storyrod.adapters.log._csv import export_log, import_log
from storyrod.adapters.log._log import BenchLog, open_log
from storyrod.adapters.log._rescue import rescue
from storyrod.adapters.log._types import CarriedOver, Changed, Offcut, Rescued, Span, Thing, Tick, Trial
from storyrod.adapters.log._watch import StopWatch

__all__ = [
    "BenchLog",
    "CarriedOver",
    "Changed",
    "Offcut",
    "Rescued",
    "Span",
    "StopWatch",
    "Thing",
    "Tick",
    "Trial",
    "carry_over",
    "export_log",
    "import_log",
    "open_log",
    "rescue",
    "things_of",
]
