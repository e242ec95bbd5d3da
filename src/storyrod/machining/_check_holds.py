"""Whether a jig can be stood on and clamped: arithmetic of its own, that shares nothing with the drawing-up of jigs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.model.machining import Area, Hold, HoldKind, JigPlan, Operation, Setting
from storyrod.model.workshop import Jig

CLAMP: Final = 40.0
"""The least room of a clamp, both ways."""

ALONE: Final = 150.0
"""A part shorter than this along the joint does not carry a router's base by itself."""

_NEAR: Final = 1e-6
_ROUNDED: Final = 0.05  # marks are rounded, parts are not


def held_wrong(
    jig: JigPlan, operation: Operation, setting: Setting, centres: Sequence[float], part: Area
) -> str | None:
    """Return what is wrong with how a jig lies and is held on a part, or None.

    Args:
        jig: the jig, in whose frame all is measured.
        operation: the placing, which names its hold.
        setting: the tool's setting, whose bush says how far the base moves.
        centres: where the openings used stand.
        part: what the part takes up under the jig.
    """
    hold = next((h for h in jig.holds if h.id == operation.hold), None)
    if hold is None:
        return "nothing holds it"
    if (setting.bush is None) != (jig.base is None):
        return "a base is reckoned with where none is, or none where one is"
    return next(_wrong(jig, hold, setting, centres, part), None)


def owned_wrong(jig: JigPlan, real: Jig | None) -> str | None:
    """Return what a plan takes an owned jig for that it is not, or None.

    Args:
        jig: the jig as it is planned with.
        real: the one of the workshop file, or None where it has none of that code.
    """
    if real is None:
        return "the workshop has no such jig"
    if any(min(abs(s - r) for r in real.stations) > _ROUNDED for s in jig.stations):
        return "it has no opening at one of the stations"
    if jig.base is not None and (real.near is None or real.far is None):
        return "a router runs on it, and how wide it is is not known"
    sides = ((-jig.start, real.behind_stop), (jig.end, real.length), (-jig.near, real.near), (jig.far, real.far))
    if any(there is not None and taken > there + _NEAR for taken, there in sides):
        return "its template is not as large as that"
    return None


def _wrong(jig: JigPlan, hold: Hold, setting: Setting, centres: Sequence[float], part: Area) -> Iterator[str]:
    template = Area(left=jig.start, right=jig.end, near=jig.near, far=jig.far)
    bases = [_base(jig, setting, at) for at in centres]
    if any(not _inside(base, template) for base in bases if jig.base is not None):
        yield "the base leaves the template"
    if len(hold.clamps) < 2:
        yield "it has not two clamps"
    for clamp in hold.clamps:
        yield from _clamp_wrong(jig, hold, clamp, bases, part)
    if _meet(hold.clamps[0], hold.clamps[1]):
        yield "both clamps are in one place"
    is_narrow = jig.reference > 0 and part.right - part.left < ALONE
    if jig.base is not None and is_narrow and hold.kind is not HoldKind.TROUGH:
        yield "the part is too narrow to carry the base"
    if jig.base is not None and hold.across and not hold.beside:
        yield "the base stands on one fence and the edge only"


def _base(jig: JigPlan, setting: Setting, at: float) -> Area:
    """Return what the base covers at a station, as far as the bush moves in its opening; a drill's opening alone."""
    size = jig.base or 0.0
    along, across = (o / 2 + size if setting.bush is None else (o - setting.bush) / 2 + size for o in jig.opening)
    return Area(left=at - along, right=at + along, near=-across, far=across)


def _clamp_wrong(jig: JigPlan, hold: Hold, clamp: Area, bases: Sequence[Area], part: Area) -> Iterator[str]:
    template = Area(left=jig.start, right=jig.end, near=jig.near, far=jig.far)
    lain_on = [part, *hold.beside]
    if hold.across:
        if clamp.right - clamp.left < CLAMP - _NEAR:
            yield "a clamp has too little room"
        if not any(a.left - _ROUNDED <= clamp.left and clamp.right <= a.right + _ROUNDED for a in lain_on):
            yield "a clamp across the fence meets no part"
        if clamp.far < jig.reference + _NEAR or clamp.near > part.near + _ROUNDED:
            yield "a clamp does not go across fence and part"
        return
    if min(clamp.right - clamp.left, clamp.far - clamp.near) < CLAMP - 1.0:
        yield "a clamp has too little room"
    if not _inside(clamp, template):
        yield "a clamp lies beside the template"
    if any(_meet(clamp, base) for base in bases):
        yield "a clamp stands in the path of the base"
    if not any(_inside(clamp, _grown(a)) for a in lain_on) and not _inside(clamp, _grown(_around(lain_on))):
        yield "a clamp presses on thin air"


def _around(areas: Sequence[Area]) -> Area:
    """Return the rectangle round a part and the boards that lie tight beside it."""
    return Area(
        left=min(a.left for a in areas),
        right=max(a.right for a in areas),
        near=min(a.near for a in areas),
        far=max(a.far for a in areas),
    )


def _grown(a: Area) -> Area:
    return Area(left=a.left - _ROUNDED, right=a.right + _ROUNDED, near=a.near - _ROUNDED, far=a.far + _ROUNDED)


def _inside(a: Area, b: Area) -> bool:
    return (
        a.left >= b.left - _NEAR and a.right <= b.right + _NEAR and a.near >= b.near - _NEAR and a.far <= b.far + _NEAR
    )


def _meet(a: Area, b: Area) -> bool:
    return a.left < b.right - _NEAR and b.left < a.right - _NEAR and a.near < b.far - _NEAR and b.near < a.far - _NEAR
