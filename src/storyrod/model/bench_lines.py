"""Every line that a card prints about the hand: which way to feed, and what to heed; one kind, one sentence.

Paper, page and plan.json show these same lines. A sentence has named gaps, `{rpm}`, that `bench_line` fills; lengths
come as words, in the job's unit. Sources: a school's router safety sheet; a router workshop's page on direction; Health
and Safety Executive, Circular saw benches (WIS16) and Wood dust; the rest common practice, no source. They are
reminders, not training.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.measure.length import MM_PER_INCH, nearest_fraction
from storyrod.measure.writing import LengthWriter
from storyrod.model.feed import FeedKind


@dataclass(frozen=True, slots=True)
class FeedWords:
    """Which way to feed, as one line, and after it where the hands are and why."""

    line: str
    more: str


FEED_WORDS: Final[Mapping[FeedKind, FeedWords]] = {
    FeedKind.ALONG_STRAIGHT_EDGE: FeedWords(
        "The router goes from left to right, with the straight edge beyond it.",
        "Both hands on the router, the same side of its base against the straight edge all along. The cutter turns "
        "clockwise and pulls the base against the straight edge; from right to left it would climb and run away.",
    ),
    FeedKind.ALONG_SIDE_FENCE: FeedWords(
        "The router goes from left to right, with its side fence and the edge of the board toward you.",
        "Both hands on the router. The cutter turns clockwise and pulls the side fence against the edge; from right "
        "to left it would climb and run away.",
    ),
    FeedKind.PAST_TABLE_FENCE: FeedWords(
        "The work goes from right to left, with the fence beyond it.",
        "The left hand holds it to the fence, the right hand pushes it with a push block. Seen from above the cutter "
        "turns anticlockwise and pulls the work against the fence; from left to right it would climb and be snatched "
        "away.",
    ),
    FeedKind.ROUND_OPENING: FeedWords(
        "The router goes clockwise round the inside of the opening, with the bush against the template.",
        "Both hands on the router. The other way round it would climb.",
    ),
    FeedKind.IN_SLOT: FeedWords(
        "The router goes along the slot, away from you, with the bush in the template.",
        "Both hands on the router. At the end let the cutter stop, then lift.",
    ),
    FeedKind.INTO_HOLE: FeedWords(
        "The router goes straight down, with the bush in the template.",
        "Both hands on the router. Let the cutter stop before you lift the router off.",
    ),
    FeedKind.KEYHOLE: FeedWords(
        "The router plunges at the wide end, goes to the narrow end and comes back, with the bush in the template.",
        "Both hands on the router. Back at the wide end let the cutter stop, then lift.",
    ),
    FeedKind.UNDERCUT_SLOT: FeedWords(
        "The router plunges at the wide end, goes to the other end and comes back, with the bush in the template.",
        "Both hands on the router. Back at the wide end let the cutter stop, then lift.",
    ),
    FeedKind.UNDERCUT_FROM_BASE: FeedWords(
        "The tool goes straight in, with its base on the reference face, and comes straight out.",
        "Both hands on the tool, none in front of it.",
    ),
    FeedKind.PLUNGE: FeedWords(
        "The tool goes straight in, with its base on the reference face, and comes straight out.",
        "Both hands on the tool, none in front of it.",
    ),
    FeedKind.DRILL: FeedWords(
        "The drill goes straight in, in line with the hole.",
        "Both hands on the drill, neither behind the work where the bit comes out.",
    ),
    FeedKind.DRILL_PRESS: FeedWords(
        "The drill comes straight down, with the fence beyond the work and the work clamped.",
        "The drill turns clockwise. If it catches, it throws a long end on the left against the fence, and one on the "
        "right at you: clamp the work at that end before every hole. Hold up long work as high as the table.",
    ),
    FeedKind.POCKET: FeedWords(
        "The drill goes straight in, down the slope of the jig.",
        "Both hands on the drill, the jig and the work clamped.",
    ),
    FeedKind.SAW_TABLE: FeedWords(
        "The work goes away from you, past the blade, with the fence to the right of it.",
        "Stand to the left of the line of the piece. The right hand pushes with a push block, the left hand stays "
        "before the blade.",
    ),
    FeedKind.SAW_RAIL: FeedWords(
        "The saw goes away from you along the rail, with the rail on the part that is kept.",
        "Both hands on the saw. Never draw it back in the cut.",
    ),
    FeedKind.HAND_SAW: FeedWords(
        "The saw goes down both lines on the waste side and stops at the corner.",
        "One hand on the saw, the other holds the work, away from the line.",
    ),
    FeedKind.JIGSAW: FeedWords(
        "The saw goes away from you on the waste side of both lines and stops at the corner.",
        "Both hands on the saw, none under the work.",
    ),
    FeedKind.PROGRAM: FeedWords(
        "The machine goes by its program, which sets the direction of the cut.",
        "No hand on the table while it runs.",
    ),
}


class LineKind(StrEnum):
    """The kinds of line that a card or a saw list prints; each has one sentence in `LINE_WORDS`."""

    UNPLUG = "unplug"
    EYES_EARS = "eyes and ears"
    DUST = "dust"
    DUST_FIBREBOARD = "dust of fibreboard"
    FREED_WASTE = "freed waste"
    WORK_HELD = "work held"
    CUTTER_IN_COLLET = "cutter in the collet"
    DEPTH = "depth of a pass"
    SPEED = "speed"
    TEMPLATE = "template"
    UNDERCUT = "undercut"
    WIDEN_FAR_FIRST = "far wall first"
    WIDEN_NEAR_FIRST = "near wall first"
    ROUTER_TABLE = "router table"
    STOPPED_ON_TABLE = "stopped cut on a table"
    CORE_SCREWED = "piece inside, screwed down"
    CORE_CLEARED = "piece inside, cleared"
    DRILL = "drill"
    DRILL_PRESS = "drill press"
    PLUNGING_TOOL = "plunging tool"
    PROGRAM = "program"
    HAND_SAW = "hand saw"
    JIGSAW = "jigsaw"
    TRACK_SAW = "track saw"
    TABLE_SAW_GUARD = "table saw, guard"
    TABLE_SAW_JAM = "table saw, fence and stop"
    TABLE_SAW_THIN = "table saw, thin sheet"
    TABLE_SAW_PUSH = "table saw, push block"
    GROOVE_MACHINE = "groove, which machine"
    GROOVE_GUARD = "groove, guard"
    GROOVE_DROP = "groove, no dropping on"
    KICKBACK = "kickback"
    REMINDER = "reminder"


LINE_WORDS: Final[Mapping[LineKind, str]] = {
    LineKind.UNPLUG: "Unplug, or take the battery out, before you change cutter, bit, blade, depth or fence.",
    LineKind.EYES_EARS: "Eye and ear protection on.",
    LineKind.DUST: (
        "Dust: extraction at the tool, a mask, no dry sweeping. Hardwood dust harms most, and plywood dust counts as "
        "hardwood dust. Look up today's limit."
    ),
    LineKind.DUST_FIBREBOARD: "MDF and chipboard: treat the dust as hardwood dust.",
    LineKind.FREED_WASTE: (
        "Loose waste: hold it down, or leave it until the cutter has stopped; never reach for it before."
    ),
    LineKind.WORK_HELD: "Work clamped, so that both hands are on the tool.",
    LineKind.CUTTER_IN_COLLET: (
        "Cutter: shank {shank} or more in the collet, or to the maker's mark; spanner off first."
    ),
    LineKind.DEPTH: ("Depth: {passes} of {step}; no pass is deeper than half the cutter's diameter, nor than {cap}."),
    LineKind.SPEED: ("Speed: not above {rpm} turns a minute for a cutter of {diameter}; the limit marked on it rules."),
    LineKind.TEMPLATE: (
        "Template: the cutter clears the bush, and the bush stands proud of the cutter's nut; template longer than the "
        "cut and clamped at two places. Never climb-cut with a bush in a slot."
    ),
    LineKind.UNDERCUT: (
        "Undercut cutter: plunge, go, come back to where it went in, let it stop, then lift; never lift in the "
        "undercut."
    ),
    LineKind.WIDEN_FAR_FIRST: (
        "Far wall first, near wall last: then every pass is cut against the rotation. The near wall first would make "
        "the last pass a climb cut."
    ),
    LineKind.WIDEN_NEAR_FIRST: (
        "Near wall first, far wall last: then every pass is cut against the rotation. The far wall first would make "
        "the last pass a climb cut."
    ),
    LineKind.ROUTER_TABLE: (
        "Router table: guard over the cutter, hold-downs before and behind it, push block for narrow parts and for the "
        "last of every part; never feed work between cutter and fence."
    ),
    LineKind.STOPPED_ON_TABLE: (
        "Stopped cut: begin at the open end; mark on the fence where the work stops, switch off there, and lift once "
        "the cutter has stopped. Never drop work on to the cutter."
    ),
    LineKind.CORE_SCREWED: (
        "The piece inside comes free at the last pass and can be thrown: screw it to the spoil board through its "
        "middle before that pass."
    ),
    LineKind.CORE_CLEARED: (
        "The piece inside, {width} wide, is too small to screw down, and would be thrown when it comes free: clear "
        "it away at every depth, going round clockwise from the middle outward."
    ),
    LineKind.DRILL_PRESS: (
        "Drill press: work clamped; a large bit runs slowly, at what its maker allows; key out of the chuck before you "
        "switch on; depth stop tried in scrap; chips brushed off once it has stopped; no gloves, no loose "
        "sleeves, hair tied back."
    ),
    LineKind.DRILL: (
        "Drill: jig and work clamped; side handle for big bits; stop collar tight and tried in scrap; clear the chips; "
        "no gloves, no loose sleeves."
    ),
    LineKind.PLUNGING_TOOL: "Plunging tool: base pressed flat; let the cutter stop before you put the tool down.",
    LineKind.PROGRAM: "Machine under program: run it in the air first; guards closed; stay at the stop button.",
    LineKind.HAND_SAW: (
        "Hand saw: work clamped; start with light strokes, fingers away from the line. Chisel: sharp, both hands "
        "behind its edge."
    ),
    LineKind.JIGSAW: (
        "Jigsaw: base flat on the work, blade clear of bench and cable; let it stop before you lift it out."
    ),
    LineKind.TRACK_SAW: (
        "Track saw: rail clamped or known not to creep; work held up on both sides of the cut, or it closes on the "
        "blade and kicks the saw back at you; blade {below_low} to {below_high} below the sheet; cable and hose behind "
        "the saw. Where the piece is narrower than the rail, a board as thick as it lies beside it under the rail."
    ),
    LineKind.TABLE_SAW_GUARD: (
        "Table saw: riving knife and guard fitted and set; blade sharp; never reach over it. Most accidents happen "
        "with the guard missing or badly set."
    ),
    LineKind.TABLE_SAW_JAM: "Never rip fence and crosscut stop on one cut: the piece jams.",
    LineKind.TABLE_SAW_THIN: "Thin sheet: hold it down near the blade, guard on: it can ride up.",
    LineKind.TABLE_SAW_PUSH: "Push stick or push block for narrow parts and for the last {last} of every part.",
    LineKind.GROOVE_MACHINE: (
        "Groove on a table saw: ask first whether a guarded router or spindle moulder is the better machine."
    ),
    LineKind.GROOVE_GUARD: (
        "This cut is not through: the usual guard and riving knife do not fit it. Riving knife set below the top of "
        "the blade, or off and put back after this card; tunnel guard, or pressure pads and hold-downs that keep the "
        "work to table and fence."
    ),
    LineKind.GROOVE_DROP: "Never drop work on to the turning blade; feed every part through from end to end.",
    LineKind.KICKBACK: (
        "Kickback: the blade can throw a piece at you. Stand out of the line of the piece; nothing small between blade "
        "and fence; leave offcuts until the blade has stopped."
    ),
    LineKind.REMINDER: (
        "Reminders, not training: your tool's manual, the law and codes where you work, and a licensed or trained "
        "person's word come before this card."
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchLine:
    """One line of caution: its kind, and the sentence with its gaps filled."""

    kind: LineKind
    text: str

    def __str__(self) -> str:
        return self.text

    @property
    def is_on_every_card(self) -> bool:
        """Whether it is the same on every card of a powered tool, whichever tool it is."""
        return self.kind in POWERED or self.kind in (LineKind.DUST_FIBREBOARD, LineKind.REMINDER)


def bench_line(kind: LineKind, **gaps: str) -> BenchLine:
    """Return a line with its gaps filled; `gaps` are exactly those that its sentence names."""
    return BenchLine(kind=kind, text=LINE_WORDS[kind].format_map(gaps))


IN_COLLET: Final = 13.0
"""Least length of a shank in the collet (mm): a school's router safety sheet."""

PUSH_LAST: Final = 300.0
"""From here on a push stick or block feeds the work (mm): Health and Safety Executive, Circular saw benches."""

LEAST_CORE: Final = 40.0
"""From this width on a piece that comes free is screwed down (mm), the screw clear of the cutter; common practice, no
source."""

BELOW_LEAST: Final = 3.0
BELOW_MOST: Final = 5.0
"""How far the blade of a track saw reaches below the sheet (mm); common practice, no source."""

POWERED: Final = (LineKind.FREED_WASTE, LineKind.UNPLUG, LineKind.EYES_EARS, LineKind.DUST)
"""What every powered tool's card carries."""

_WHOLE_INCHES: Final = 100.0  # mm: from here on a length is said in whole inches, below it in sixteenths

_TRACK: Final = (LineKind.TRACK_SAW,)
_TABLE: Final = (
    *(LineKind.TABLE_SAW_GUARD, LineKind.TABLE_SAW_PUSH, LineKind.KICKBACK),
    *(LineKind.TABLE_SAW_JAM, LineKind.TABLE_SAW_THIN),
)


def length_gaps(lengths: LengthWriter) -> dict[str, str]:
    """Return the lengths that sentences name, each a round figure of the job's unit."""

    def told(mm: float) -> str:
        parts = 1 if mm >= _WHOLE_INCHES else 16
        return lengths.told(float(nearest_fraction(mm, parts)) * MM_PER_INCH if lengths.is_inch else mm)

    return {
        "shank": told(IN_COLLET),
        "last": told(PUSH_LAST),
        "below_low": told(BELOW_LEAST),
        "below_high": told(BELOW_MOST),
    }


def sizing_lines(lengths: LengthWriter, *, track_saw: bool) -> tuple[BenchLine, ...]:
    """Return the lines for sawing sheets to size, every cut through: those of the saw that is used."""
    gaps = length_gaps(lengths)
    kinds = (*(_TRACK if track_saw else _TABLE), *POWERED, LineKind.REMINDER)
    return tuple(bench_line(kind, **gaps) for kind in kinds)


def feed_words(kind: FeedKind) -> FeedWords:
    """Return what a card says about a direction of feed."""
    return FEED_WORDS[kind]
