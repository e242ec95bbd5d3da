"""Where panels of one body touch: found from their boxes by one sweep, never listed by hand.

A joint is an edge or end of one panel (entering) against a face of another (receiving), or a back or drawer bottom
let into a rebate or groove that the carcass has made for it. Face against face and edge against edge are no joints.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.joinery._slab import Slab, Vec
from storyrod.measure.tolerance import TOUCH
from storyrod.model.job import BackKind
from storyrod.model.joint import JointKind
from storyrod.model.panel import Role

LEAST: Final = 1.0
"""A patch must be larger than this both ways (mm) to be a joint."""

FLUSH: Final = 0.01
"""A contact this close to the receiving panel's end or edge is a corner (mm)."""

_LET_IN: Final = (Role.BACK, Role.DRAWER_BOTTOM)


@dataclass(slots=True)
class Contact:
    """One patch in which two panels meet.

    Attributes:
        home: case axis along which the entering panel goes home.
        sign: +1 where it does so toward growing figures.
        run, across: case axes along the joint and through the entering panel's thickness.
        run_sign: +1 where stations grow along `run`.
        low, high: the patch in the case frame, flat along `home`.
        let_in: how far the boxes overlap along `home` in a channel that the carcass has made; else 0.
    """

    receiving: Slab
    entering: Slab
    kind: JointKind
    home: int
    sign: int
    run: int
    run_sign: int
    across: int
    low: Vec
    high: Vec
    let_in: float = 0.0
    at_corner: bool = False

    @property
    def length(self) -> float:
        """Length of the joint."""
        return self.high[self.run] - self.low[self.run]

    @property
    def start(self) -> float:
        """Case coordinate of station 0."""
        return self.low[self.run] if self.run_sign > 0 else self.high[self.run]

    @property
    def thinner(self) -> float:
        """Thickness of the thinner board, which decides the size of the connector."""
        return min(self.receiving.thickness, self.entering.thickness)

    @property
    def key(self) -> tuple[object, ...]:
        """Its place in the list of joints, whatever the order in which the panels came."""
        return (self.receiving.key, self.entering.key, self.low)


def find_contacts(slabs: Iterable[Slab], back: BackKind) -> list[Contact]:
    """Return every contact among the panels of one body, in an order of their own."""
    found = [c for a, b in _near_pairs(list(slabs)) if (c := _contact(a, b, back)) is not None]
    found.sort(key=lambda c: c.key)
    return found


def _near_pairs(slabs: list[Slab]) -> Iterator[tuple[Slab, Slab]]:
    """Yield the pairs whose boxes touch or overlap: one sweep upward, so far panels are never compared."""
    slabs.sort(key=lambda s: (s.low[2], s.key))
    active: list[Slab] = []
    for one in slabs:
        floor = one.low[2] - TOUCH
        active = [other for other in active if other.high[2] >= floor]
        low, high = one.low, one.high
        for other in active:
            if (
                other.low[0] - TOUCH <= high[0]
                and low[0] - TOUCH <= other.high[0]
                and other.low[1] - TOUCH <= high[1]
                and low[1] - TOUCH <= other.high[1]
            ):
                yield other, one
        active.append(one)


def _contact(a: Slab, b: Slab, back: BackKind) -> Contact | None:
    overlaps = [min(a.high[k], b.high[k]) - max(a.low[k], b.low[k]) for k in (0, 1, 2)]
    flat = [k for k in (0, 1, 2) if overlaps[k] <= TOUCH]
    if not flat:
        return _let_in(a, b, overlaps, back)
    if len(flat) > 1 or any(overlaps[k] <= LEAST for k in (0, 1, 2) if k != flat[0]):
        return None
    home = flat[0]
    faces = (a.thick_axis == home, b.thick_axis == home)
    if faces[0] == faces[1]:
        return None
    receiving, entering = (a, b) if faces[0] else (b, a)
    if _is_only_passed(receiving, back) or _is_only_passed(entering, back, also_enters=True):
        return None
    return _made(receiving, entering, home, let_in=0.0)


def _is_only_passed(slab: Slab, back: BackKind, *, also_enters: bool = False) -> bool:
    """Return whether a grooved back merely passes the other panel, or shelves stop at a back fitted between."""
    if slab.panel.role is not Role.BACK:
        return False
    return back is BackKind.GROOVED or (back is BackKind.BETWEEN and not also_enters)


def _let_in(a: Slab, b: Slab, overlaps: list[float], back: BackKind) -> Contact | None:
    inner, outer = (a, b) if a.panel.role in _LET_IN else (b, a)
    if inner.panel.role not in _LET_IN or outer.panel.role in _LET_IN:
        return None
    if inner.panel.role is Role.BACK and back is BackKind.REBATED:
        return _made(inner, outer, inner.thick_axis, let_in=overlaps[inner.thick_axis])
    if inner.thick_axis == outer.thick_axis:
        return None
    return _made(outer, inner, outer.thick_axis, let_in=overlaps[outer.thick_axis])


def _made(receiving: Slab, entering: Slab, home: int, *, let_in: float) -> Contact:
    middle = receiving.low[home] + receiving.high[home] - entering.low[home] - entering.high[home]
    sign = 1 if middle > 0 else -1
    plane = receiving.low[home] if sign > 0 else receiving.high[home]
    along = 1 if entering.axes[0] == home else 0  # an end runs along v, an edge along u
    contact = Contact(
        receiving=receiving,
        entering=entering,
        kind=JointKind.MID_PANEL,
        home=home,
        sign=sign,
        run=entering.axes[along],
        run_sign=entering.signs[along],
        across=entering.thick_axis,
        low=(0.0, 0.0, 0.0),
        high=(0.0, 0.0, 0.0),
        let_in=let_in,
    )
    place(contact, plane)
    m = contact.across
    contact.at_corner = (
        abs(contact.low[m] - receiving.low[m]) <= FLUSH or abs(contact.high[m] - receiving.high[m]) <= FLUSH
    )
    contact.kind = _kind(contact)
    return contact


def place(contact: Contact, plane: float | None = None) -> None:
    """Measure the patch again from the panels' boxes, as they are now."""
    r, e, k = contact.receiving, contact.entering, contact.home
    flat = contact.low[k] if plane is None else plane
    low = [max(r.low[i], e.low[i]) for i in (0, 1, 2)]
    high = [min(r.high[i], e.high[i]) for i in (0, 1, 2)]
    low[k] = high[k] = flat
    contact.low = (low[0], low[1], low[2])
    contact.high = (high[0], high[1], high[2])


def _kind(contact: Contact) -> JointKind:
    roles = (contact.receiving.panel.role, contact.entering.panel.role)
    if contact.receiving.panel.body != "carcass":
        return JointKind.DRAWER_BOX
    if Role.BACK in roles:
        return JointKind.BACK
    if Role.PLINTH in roles or Role.HANGING_RAIL in roles:
        return JointKind.PLINTH
    return JointKind.CORNER if contact.at_corner else JointKind.MID_PANEL
