"""What the builder found: kinds of shortfall of a paper, and one finding of a kind."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class FindingKind(StrEnum):
    """The kinds of finding. The first half is what the paper leaves unsaid, the second what does not fit as built."""

    UNREAD = "words that cannot be read"
    OVERPRINTED = "words printed over each other"
    PAGE_WITHOUT_UNIT = "a page with figures that does not say its unit"
    FIGURE_WITHOUT_UNIT = "a figure without its unit"
    CUT_WITHOUT_ENDS = "a channel without its ends and walls"
    CUT_WITHOUT_WAY = "a long cut that does not say which way it runs"
    CUT_WITHOUT_DEPTH = "a cut without its depth"
    MARK_WITHOUT_USE = "a mark that does not say what it is for"
    MATE_MISSING = "a mate's mark that is not on the other panel"
    JOINT_UNTOLD = "a joint whose line is on no panel"
    PANEL_WITHOUT_HAND = "a panel whose sheet does not say how it lies"
    MARK_ON_NO_CARD = "a mark that no card cuts"
    CARD_WITHOUT_MARK = "a card that cuts a mark which is not set out"
    CARD_WITHOUT_SETTING = "a card without a setting that its way needs"
    SCREW_WITHOUT_SIZE = "a screw without its diameter and length"
    HARDWARE_NEVER_FITTED = "hardware that no step or card fits"
    PANEL_NEVER_FITTED = "a panel that no step puts in"
    JOINT_NEVER_CLOSED = "a joint that no step closes"
    FITTED_TWICE = "a panel that is put in twice, or a joint that two steps close"
    NOT_READY = "a step that needs what is not there yet"
    FITTING_NEVER_FIXED = "marks for a fitting that no step fixes"
    TUBE_NEVER_LAID = "sockets into which no step lays a tube"
    GLUE_NEVER_CLAMPED = "glue that nothing presses"
    HANDLE_UNSAID = "a front that nothing opens"
    GAP_UNSAID = "a front whose gaps are not said"
    DEPTH_UNSAID = "a front between panels that does not say how far back its face is"
    LAP_UNSAID = "a door that does not say how much of it is over the panel that it hangs on"
    HEIGHT_UNSAID = "a drawer's box whose height is not said"
    JIG_UNSAID = "a jig that a card names and no page tells how to make"
    BENCH_MISSING = "what only the paper or only the bench page says"
    PANEL_UNPLACED = "a panel whose place cannot be worked out"

    SIZES_DISAGREE = "two places that print one size differently"
    MATES_APART = "two halves of a joint that do not meet"
    LINE_OFF = "lines that are not as far apart as the panel is thick"
    PANEL_BETWEEN_LINES = "a panel that does not fit between its lines"
    OUTSIDE_OFF = "an outside size that is not what the cover says"
    HAND_WRONG = "a panel that would have to be the other hand"
    CARD_OFF = "a card's figure that is not the mark's"
    JIG_OFF = "a jig that does not bring the tool to a mark"
    FASTENINGS_OFF = "fastenings in another number than there are marks, or than are bought"
    BENCH_OFF = "a bench page that says otherwise than the paper"
    FILE_OFF = "a file that says otherwise than the paper"
    HINGE_OFF = "a hinge cup and its plate that are not level"
    FRONT_OFF = "a front that does not leave the gaps that are told"
    RUNNER_OFF = "runners that are not level, left and right"
    PINS_OFF = "shelf pins that are not level"
    SOCKETS_OFF = "sockets of a clothes rail that are not level"
    TUBE_OFF = "a tube that does not lie between its sockets, or is bought in another length"
    WORKTOP_OFF = "a worktop that its overhangs, or its screws, do not fit"
    PLINTH_OFF = "a plinth board that the feet and clips do not fit"
    SKIRTING_OFF = "notches that do not go over the skirting board that is told"
    FILLER_OFF = "a filler that does not go into its gap, or whose screws do not fit"
    DRAWER_TIGHT = "a drawer that does not go into its opening"
    BACK_TIGHT = "a back that does not go into its recess"
    ROOM_SHARED = "two panels that share room"


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """One thing that is unsaid, or does not fit.

    Attributes:
        kind: what sort of thing.
        about: what it concerns: a panel's mark, a joint, a card, a page.
        words: what was found.
        by_mm: by how much, where it is a length; 0 else.
        figures: how many printed figures it is at most a sum of. Each is out by half its last digit at most, so the sum
            is by so many half digits; 0 where it is a matter of one figure.
    """

    kind: FindingKind
    about: str
    words: str
    by_mm: float = 0.0
    figures: int = 0
