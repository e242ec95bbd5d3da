"""Comparing eight methods on the folder cabinet, against running eight plans one by one without sharing anything.

The money of every method that fits must be the same by either way, to the cent.
"""

from __future__ import annotations

import contextlib
from pathlib import Path

from benchmarks._timing import show_table, time_in_turns
from storyrod.adapters.files import read_job
from storyrod.faults import JobError
from storyrod.ledger import by_method
from storyrod.model.job import JointClass
from storyrod.planning import Plan

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "rehearsal-room.toml"
METHODS = (
    "dowels",
    "biscuits",
    "loose tenons",
    "carcass screws",
    "pocket screws",
    "cam and bolt",
    "two-part clip connector",
    "glued butt",
)
CARCASS = (JointClass.CORNER, JointClass.MID_PANEL, JointClass.PLINTH)


def main() -> None:
    """Print seconds of both, and their ratio."""
    told = read_job(EXAMPLE)

    told_by: dict[str, dict[str, float]] = {}

    def shared() -> None:
        found = Plan(told.job, told.workshop).compared(methods=METHODS)
        assert len(found.rows) + len(found.misfits) == len(METHODS)
        accounts = {row.candidate.method: row.candidate.account for row in found.rows}
        told_by["shared"] = {code: account.cost_cents for code, account in accounts.items() if account is not None}

    def one_by_one() -> None:
        told_by["one by one"] = {}
        for code in METHODS:
            # One of them may have no way to be built here, which is found by either way of asking.
            with contextlib.suppress(JobError):
                account = Plan(by_method(told.job, code, CARCASS), told.workshop).account
                told_by["one by one"][code] = account.cost_cents

    together, apart = time_in_turns({"compare": shared, "one by one": one_by_one}, repeats=3)
    assert told_by["shared"] == told_by["one by one"]
    rows = [
        [t.name, t.median_ms / 1000, t.processor_ms / 1000, apart.ratio_to(t), apart.work_ratio_to(t)]
        for t in (together, apart)
    ]
    heads = ("how", "s", "processor s", "times faster than one by one", "by processor time")
    show_table(f"Eight methods on the folder cabinet, {len(told_by['shared'])} of which fit", heads, rows)


if __name__ == "__main__":
    main()
