"""The day's work as data."""

from __future__ import annotations

from typing import Any

from storyrod.planning import Days
from storyrod.telling.day import buy_by
from storyrod.telling.plain import plain


def day_document(days: Days) -> dict[str, Any]:
    """Return tasks, slots, when jobs are ready, what is bought by when; moments in minutes from the first midnight."""
    plan = days.plan
    return {
        "first": days.first.isoformat(),
        "now": days.now,
        "jobs": [plain(j) for j in days.work.jobs],
        "shared_set_ups": days.work.merged,
        "tasks": [plain(t) for t in plan.tasks],
        "held": [plain(h) for h in plan.held],
        "clamps": plan.clamps,
        "days": [plain(d) for d in plan.days if any(d.opens < s.end for s in plan.slots)],
        "slots": [plain(s) for s in plan.slots],
        "ready": [plain(r) for r in plan.ready],
        "found": plan.found.value,
        "bound": plan.bound,
        "buy_by": [plain(b) for b in buy_by(days)],
    }
