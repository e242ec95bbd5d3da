"""Comparing eight methods on the folder cabinet, against running eight plans one by one without sharing anything."""

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

    def shared() -> None:
        found = Plan(told.job, told.workshop).compared(methods=METHODS)
        assert len(found.rows) + len(found.misfits) == len(METHODS)

    def one_by_one() -> None:
        for code in METHODS:
            # One of them may have no way to be built here, which is found by either way of asking.
            with contextlib.suppress(JobError):
                assert Plan(by_method(told.job, code, CARCASS), told.workshop).account.price_cents > 0

    together, apart = time_in_turns({"compare": shared, "one by one": one_by_one}, repeats=3)
    rows = [[t.name, t.median_ms / 1000, t.ratio_to(apart)] for t in (together, apart)]
    show_table("Eight methods on the folder cabinet", ("how", "s", "of one by one"), rows)


if __name__ == "__main__":
    main()
