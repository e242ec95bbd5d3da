"""Which end of a part comes to the cutter first on a router table: it must not be a stopped one.

The work lies with the worked face down and its reference edge to the fence, and goes from right to left, so the way it
lies says which end leads. A cut that begins within that end could only be made by dropping the work on to the cutter.
"""

from __future__ import annotations

from storyrod.machining._needs import Need
from storyrod.machining._reference import Reference
from storyrod.model.feature import Channel


def starts_stopped(need: Need, reference: Reference, shape: Channel) -> bool:
    """Return whether the end that leads on a router table is one at which the cut stops."""
    frame = need.panel.frame
    along, out = frame.direction(need.along), frame.direction(need.surface.axis)
    out = out if need.surface.is_far else out.reverse
    order = (along.nth, reference.toward.nth, out.nth)
    even = order in ((0, 1, 2), (1, 2, 0), (2, 0, 1))
    sense = along.sign * reference.toward.sign * out.sign * (1 if even else -1)
    # On the table: fence beyond (y), worked face down (-z). Where (along, fence, face) is left-handed there, along runs
    # to the right, and its low end leads to the left.
    low_leads = sense < 0
    low, high = shape.stopped
    return low if low_leads else high
