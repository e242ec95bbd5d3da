"""No two cuts of a panel meet, but for those that meet on purpose; cuts from opposite sides keep a skin.

On purpose meet (`docs/proof.md` says it in full):

- cuts of one station of one joint, and a joint's whole-length channel with the joint's own stations;
- two channels that cross, as a housing crosses the groove of a back;
- a notch or scoop that a channel runs into, as the groove of a drawer's bottom runs into the runner's notches;
- a cut in the floor or wall of a channel, made for the very panel that the channel takes in.

All others keep apart; a joint's cuts keep the job's `wall` to those of other joints and of fittings.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.measure.tolerance import EXACT, TOUCH
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, CutOut, Feature, Hole
from storyrod.model.panel import Panel, Surface
from storyrod.model.proof import Claim, Finding
from storyrod.proof._pieces import CutPieces, room_of
from storyrod.proof._shapes import gap_between
from storyrod.proof._tally import CaseView, Tally

_OPPOSITE: Final = {s: s.opposite for s in Surface}

FAR: Final = 40.0
"""Cuts farther apart than this (mm) are not measured: their boxes show that they keep apart."""


def cuts_keep_apart(details: Details, views: Sequence[CaseView]) -> tuple[Finding, Finding]:
    """Return whether the cuts of each panel keep apart, and those from opposite surfaces keep the job's `skin`."""
    skin, wall, told = details.job.limits.skin, details.job.limits.wall, details.job.lengths.told
    apart = Tally(
        claim=Claim.MEETINGS,
        subject="pairs of cuts in one panel",
        holds=f"do not meet; those of a joint keep at least {told(wall)} to those of others",
        fails="come too near each other",
        one=f"pair of cuts in one panel does not meet; a joint's cuts keep at least {told(wall)} to others",
        code="proof-meeting",
        limit=EXACT,
        at_least=True,
    )
    opposite = Tally(
        claim=Claim.OPPOSITE,
        subject="pairs of cuts from opposite surfaces",
        holds=f"keep at least {told(skin)} between them",
        fails="leave too little between them",
        one=f"pair of cuts from opposite surfaces keeps at least {told(skin)} between them",
        code="proof-skin",
        limit=skin,
        at_least=True,
    )
    for view in views:
        for panel in view.case.panels:
            _Panel(view, panel, wall).check(apart, opposite)
    return apart.finding(), opposite.finding()


class _Panel:
    """The cuts of one panel, two by two."""

    def __init__(self, view: CaseView, panel: Panel, wall: float) -> None:
        self.view = view
        self.panel = panel
        self.wall = wall

    def check(self, apart: Tally, opposite: Tally) -> None:
        """Look at every pair whose boxes come near each other; the boxes themselves clear the rest."""
        in_order = sorted(self.view.cuts[self.panel.id], key=lambda c: (c.bounds.low[0], c.feature.id))
        for n, one in enumerate(in_order):
            for other in in_order[n + 1 :]:
                is_opposite = _from_opposite_surfaces(one.feature, other.feature)
                tally = opposite if is_opposite else apart
                if one.bounds.gap(other.bounds) >= FAR:
                    tally.checked += 1
                elif not self._on_purpose(one, other):
                    self._measure(one, other, tally, None if is_opposite else self._room(one, other))

    def _room(self, one: CutPieces, other: CutPieces) -> float:
        """Return what must be between two cuts: the job's `wall` where a joint meets a stranger, else anything."""
        return self.wall if one.feature.joint != other.feature.joint else EXACT

    def _measure(self, one: CutPieces, other: CutPieces, tally: Tally, room: float | None) -> None:
        limit = (tally.limit or 0.0) if room is None else room
        known = FAR if tally.worst is None else tally.worst
        box_gap = one.bounds.gap(other.bounds)
        if box_gap >= max(known, limit):
            tally.checked += 1  # neither at fault nor worse than what is known
            return
        left = min(gap_between(a, b) for a in one.pieces for b in other.pieces)
        if not tally.see(left, limit=limit):
            tally.tell(
                self.view.cause(self.panel.id),
                f"{self.view.told(left)} between the {self.view.cut(one.feature)} and the "
                f"{self.view.cut(other.feature)}",
                f"{self.view.told(limit)} or more" if limit > TOUCH else "no meeting",
                "Move one of them, or choose another method for one of the joints.",
            )

    def _on_purpose(self, one: CutPieces, other: CutPieces) -> bool:
        a, b = one.feature, other.feature
        if a.joint and a.joint == b.joint and (a.station == b.station or not a.station or not b.station):
            return True
        if isinstance(a.shape, Channel) and isinstance(b.shape, Channel):
            return a.shape.run is not b.shape.run and _OPPOSITE[a.surface] is not b.surface
        if not (a.joint or b.joint) and {_is_open(a), _is_open(b)} == {True, False}:
            return isinstance(a.shape, Channel) or isinstance(b.shape, Channel)
        return self._made_for_the_panel_taken_in(one, other) or self._made_for_the_panel_taken_in(other, one)

    def _made_for_the_panel_taken_in(self, channel: CutPieces, cut: CutPieces) -> bool:
        """Return whether `cut` starts in `channel`, for a joint with a panel that stands in that channel."""
        joint = self.view.joints.get(cut.feature.joint)
        if joint is None or not isinstance(channel.feature.shape, Channel):
            return False
        mate_id = joint.entering if joint.receiving == self.panel.id else joint.receiving
        mate = self.view.panels.get(mate_id)
        return mate is not None and room_of(channel, self.panel).intersects(mate.box)


def _from_opposite_surfaces(one: Feature, other: Feature) -> bool:
    """Return whether two blind cuts come from opposite surfaces, with board between their bottoms."""
    return _OPPOSITE[one.surface] is other.surface and not (_goes_through(one) or _goes_through(other))


def _is_open(feature: Feature) -> bool:
    """Return whether a cut is open at an edge of the board, through its whole thickness."""
    return isinstance(feature.shape, CutOut) and feature.shape.outline in {"notch", "scoop"}


def _goes_through(feature: Feature) -> bool:
    return isinstance(feature.shape, CutOut) or (isinstance(feature.shape, Hole) and feature.shape.through)
