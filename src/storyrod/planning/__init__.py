"""The plan of a job: its stages in their order, each worked out when it is first asked for, and kept.

Everything that shows a plan (command line, packet, page, notebook) reads the same `Plan`.
"""

from storyrod.planning._batch import Batch, faults_alone, plan_batch
from storyrod.planning._days import DayJob, Days, DayTasks, plan_days, tasks_of_batch, tasks_of_job
from storyrod.planning._plan import Plan
from storyrod.planning._rescuing import cautions_anew, rescue, set_out_anew, weaker_anew
from storyrod.planning._standing import Family, FamilyJob, owned_jigs, plan_family
from storyrod.planning._wishing import ENOUGH, Dropped, Proposal, Proposed, Proposing, can_search, misfits_of, weigh

__all__ = [
    "ENOUGH",
    "Batch",
    "DayJob",
    "DayTasks",
    "Days",
    "Dropped",
    "Family",
    "FamilyJob",
    "Plan",
    "Proposal",
    "Proposed",
    "Proposing",
    "can_search",
    "cautions_anew",
    "faults_alone",
    "misfits_of",
    "owned_jigs",
    "plan_batch",
    "plan_days",
    "plan_family",
    "rescue",
    "set_out_anew",
    "tasks_of_batch",
    "tasks_of_job",
    "weaker_anew",
    "weigh",
]
