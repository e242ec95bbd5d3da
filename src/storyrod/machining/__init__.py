"""Machining: jigs, packers, settings, and an order of work that changes set-ups rarely and misses nothing."""

from storyrod.machining._check import check_run
from storyrod.machining._packers import stack_packers
from storyrod.machining._plan_work import plan_work
from storyrod.machining._share import share_stations
from storyrod.machining._standing import standing_jigs
from storyrod.machining._trial import trial_fence, trial_gap, trial_step

__all__ = [
    "check_run",
    "plan_work",
    "share_stations",
    "stack_packers",
    "standing_jigs",
    "trial_fence",
    "trial_gap",
    "trial_step",
]
