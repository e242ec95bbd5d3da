"""Whether a jig that is owned carries the tool: its own outline, against what the base sweeps and clamps take up.

A new jig is drawn as large as base and clamps need. One that is owned is as large as it is: it is held to the same
figures, and turned away with the reason where it falls short of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from storyrod.machining._choose import Made
from storyrod.machining._hold import BASE_ROOM, Swept, hold_of
from storyrod.machining._jig_holds import Outline, Under, widened
from storyrod.model.machining import FENCE_THICKNESS, HoldKind
from storyrod.model.workshop import Jig

_SHORT: Final = 1e-6


def runs_in(jig: Jig, m: Made) -> bool:
    """Return whether the openings and the thickness of a jig are those that a placing is made with."""
    opening = m.choice.opening
    if opening is None or abs(jig.thickness - m.choice.guide) > 0.1:
        return False
    return abs(jig.opening_length - opening[0]) <= 0.1 and abs(jig.opening_width - opening[1]) <= 0.1


def is_held(jig: Jig, m: Made) -> bool:
    """Return whether a jig is not too long to be clamped to the part."""
    return jig.length <= hold_of(m.need.run_length)


def joint_words(m: Made) -> str:
    """Return what a placing is for, in words."""
    return f"joint {m.need.joint.number} of case {m.need.panel.case}" if m.need.joint else m.need.panel.name


def owned_outline(jig: Jig, reference: float, sweep: Swept, placings: Sequence[Under], *, fenced: bool) -> Outline:
    """Return the template of an owned jig as it is; what is not known of its width as wide as it is needed."""
    wanted = [_wanted(p, (0.0,), reference, sweep, fenced=fenced) for p in placings]
    return Outline(
        start=-jig.behind_stop,
        end=jig.length,
        near=min(w.near for w in wanted) if jig.near is None else -jig.near,
        far=max(w.far for w in wanted) if jig.far is None else jig.far,
        reference=reference,
        sweep=sweep,
    )


def clamped_on(outline: Outline) -> Outline:
    """Return as much of a wide template as clamps are set on: as on a new one, on the strips next to the sweep."""
    near = outline.sweep.near
    return replace(outline, near=max(outline.near, near), far=max(outline.reference, min(outline.far, -near)))


def too_small(
    jig: Jig, p: Under, stations: Sequence[float], sweep: Swept, told: Callable[[float], str], *, fenced: bool
) -> tuple[str, str]:
    """Return why a jig does not carry the tool, or has no room for its clamps, and what to do; ("", "") where it does.

    Args:
        jig: the jig as it is in the workshop file.
        p: a placing under it.
        stations: those of the jig that the placing uses.
        sweep: what the tool passes over at a station.
        told: writes a length with its unit.
        fenced: whether the jig hangs on the part by a fence.
    """
    what = joint_words(p.made)
    if sweep.base is not None and (jig.near is None or jig.far is None):
        why = (
            f"The workshop file does not say how far its template reaches on either side of its openings, and a "
            f"router's base must sit on it at {what}"
        )
        return why, "Measure the jig and write its near and far into the workshop file."
    wanted = _wanted(p, stations, p.made.reference.wanted, sweep, fenced=fenced)
    for has, needs, where in _sides(jig, wanted):
        if needs > has + _SHORT:
            takes = "the clamps need" if sweep.base is None else "the router's base and the clamps need"
            return (
                f"Its template reaches {told(has)} {where}, and at {what} {takes} {told(needs)}",
                "Make it a larger template, or correct its length, behind_stop, near and far in the workshop file.",
            )
    return "", ""


def _wanted(p: Under, stations: Sequence[float], reference: float, sweep: Swept, *, fenced: bool) -> Outline:
    """Return the least template that carries the base at these stations and has its clamps on it."""
    long, wide = p.made.choice.opening or (0.0, 0.0)
    hold = p.made.choice.hold
    across = wide / 2 if sweep.base is None else sweep.across + BASE_ROOM
    along = long / 2 if sweep.base is None else sweep.end_room
    below = hold in (HoldKind.FENCES, HoldKind.BACKING) or (hold is HoldKind.TROUGH and p.made.need.on_edge)
    plain = Outline(
        start=min(stations) - along,
        end=max(stations) + along,
        near=-across if below else sweep.near,
        far=max(across, reference + (FENCE_THICKNESS if fenced else 0.0)),
        reference=reference,
        sweep=sweep,
    )
    return widened(plain, [p])


def _sides(jig: Jig, wanted: Outline) -> Iterator[tuple[float, float, str]]:
    """Yield how far a jig reaches to each side, how far it should, and where that is."""
    yield jig.behind_stop, -wanted.start, "behind its stop"
    yield jig.length, wanted.end, "from its stop"
    if jig.near is not None:
        yield jig.near, -wanted.near, "from the middle of its openings to the near edge"
    if jig.far is not None:
        yield jig.far, wanted.far, "from the middle of its openings to the far edge"
