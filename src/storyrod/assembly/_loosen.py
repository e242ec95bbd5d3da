"""Whether a body comes apart at all: no points, no resting, only what stops what.

Taking panels away never stops another, nor a driver, so nothing is lost by parting a group wherever it parts: what is
stuck then is stuck in every order.
"""

from __future__ import annotations

from storyrod.assembly._body import Body
from storyrod.assembly._leaving import closures_of


def find_stuck(body: Body, group: int | None = None, *, driven: bool = True) -> tuple[int, ...]:
    """Return the groups that no movement of the body's moves parts; none when it all comes apart.

    Joints to whose screws no driver comes stay closed, unless `driven` is false: then it is by shapes alone.
    """
    waiting = [body.everything if group is None else group]
    stuck = []
    while waiting:
        whole = waiting.pop()
        if not whole & (whole - 1) or whole in body.kept:
            continue
        leaving = _leaving(body, whole, body.locked(whole) if driven else None)
        if leaving:
            waiting += [leaving, whole & ~leaving]
        else:
            stuck.append(whole)
    return tuple(sorted(stuck))


def _leaving(body: Body, group: int, locked: tuple[int, ...] | None) -> int:
    for stops in body.stops:
        closures = closures_of(group, stops, locked)
        if closures:
            return min(closures)
    return 0
