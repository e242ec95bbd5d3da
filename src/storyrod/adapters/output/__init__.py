"""What a plan is written to: plan.json and lists as data, and a folder that holds one whole plan."""

from storyrod.adapters.output._batch import batch_buying_csv, batch_document, batch_paid_csv, batch_traces_csv
from storyrod.adapters.output._buying import buying_csv
from storyrod.adapters.output._day import day_document
from storyrod.adapters.output._document import plan_document
from storyrod.adapters.output._lists import connector_list, cutting_list
from storyrod.adapters.output._sheets import saw_list_csv
from storyrod.adapters.output._write import LAST, OutFile, Written, write_plan

__all__ = [
    "LAST",
    "OutFile",
    "Written",
    "batch_buying_csv",
    "batch_document",
    "batch_paid_csv",
    "batch_traces_csv",
    "buying_csv",
    "connector_list",
    "cutting_list",
    "day_document",
    "plan_document",
    "saw_list_csv",
    "write_plan",
]
