"""Which ways a workshop has for a need, with the cutter and bush each takes; and what is missing where it has none."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Final

from storyrod.machining._hold import hold_kind, not_held, openings_apart, swept
from storyrod.machining._leading import starts_stopped
from storyrod.machining._needs import Need
from storyrod.machining._overcut import overcut_words
from storyrod.machining._reference import Reference
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.machining import HoldKind
from storyrod.model.workshop import Along, Bush, Cutter, CutterKind, Registration, Tool, ToolKind, Way, Workshop
from storyrod.trade.bush import bush_offset, template_opening

SAME_SIZE: Final = 0.05
"""A cutter this near to the size of a cut has that size (mm)."""

CLEAR_OF_BUSH: Final = 1.0
"""The bore of a bush is at least this much wider than the cutter in it; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A way with its tool, cutter and bush.

    `guide` is the thickness that the cutter reaches through, `hold` what holds a jig and the part.
    """

    way: Way
    tool: Tool
    cutter: Cutter | None
    bush: Bush | None
    guide: float
    opening: tuple[float, float] | None = None
    hold: HoldKind = HoldKind.CLAMPED

    @property
    def offset(self) -> float:
        """From the cutter's wall to the bush's."""
        return bush_offset(self.bush.diameter, self.cutter.diameter) if self.bush and self.cutter else 0.0


@dataclass(slots=True)
class Offer:
    """The ways that will do, and for the others what each lacks.

    `choices` are those with tools that are owned, or where there are none, those with tools only thought of;
    `thought_of` holds the latter in any case.
    """

    choices: list[Choice] = field(default_factory=list)
    thought_of: list[Choice] = field(default_factory=list)
    lacks: list[tuple[str, ...]] = field(default_factory=list)


def offer_for(need: Need, reference: Reference, workshop: Workshop) -> Offer:
    """Return all ways of a workshop that can make a need."""
    offer = Offer()
    for way in workshop.ways:
        if need.kind not in way.makes or not (way.on_edges if need.on_edge else way.on_faces):
            continue
        if not _suits(way, need, reference):
            continue
        _try(way, need, reference, workshop, offer)
    owned = [c for c in offer.choices if c.tool.owned]
    offer.thought_of = [c for c in offer.choices if not c.tool.owned]
    offer.choices = owned or offer.choices
    return offer


def held(need: Need, reference: Reference, offer: Offer) -> Offer:
    """Return an offer whose jigs say what holds them on this part; without those that nothing holds."""
    if not any(c.way.along is Along.JIG for c in (*offer.choices, *offer.thought_of)):
        return offer
    lacks = list(offer.lacks)

    def holding(choices: list[Choice]) -> list[Choice]:
        found = []
        for choice in choices:
            if choice.way.along is not Along.JIG:
                found.append(choice)
                continue
            sweep = swept(choice.tool, choice.bush, choice.opening)
            lack = not_held(need, sweep)
            if lack:
                lacks.append((lack,))
            else:
                found.append(_held(choice, hold_kind(need, reference, sweep)))
        return found

    choices, thought_of = holding(offer.choices), holding(offer.thought_of)
    return Offer(choices or list(thought_of), thought_of, lacks)


def _held(choice: Choice, kind: HoldKind) -> Choice:
    return choice if choice.hold is kind else replace(choice, hold=kind)


def _suits(way: Way, need: Need, reference: Reference) -> bool:
    """Return whether a way's kind of registration fits a need at all."""
    shape = need.first
    if isinstance(shape, Channel):
        if any(shape.stopped) and not way.stopped:
            return False
        if way.tool is ToolKind.ROUTER_TABLE and starts_stopped(need, reference, shape):
            return False
        if way.registration is Registration.EDGE:
            reach = reference.wanted + shape.width / 2
            return need.joint is None and (way.from_edge is None or reach <= way.from_edge)
        return True
    if isinstance(shape, CutOut) and (shape.outline == "notch") != _saws(way):
        return way.registration is Registration.PROGRAM
    if way.registration is Registration.MATE:
        return need.through_mate > 0
    if way.registration is Registration.EDGE:  # a fence reaches no line in the middle of a face
        return reference.at_end and (way.from_edge is None or reference.wanted <= way.from_edge)
    if way.tool is ToolKind.DRILL_JIG and isinstance(shape, Hole) and shape.diameter < LEAST_BUSH:
        return False
    if way.along is Along.JIG and not need.locates and not isinstance(shape, CutOut | Keyhole | Slot | UndercutSlot):
        return len(need.marks) >= (_PINS if need.lines_up else _ROW)
    return True


LEAST_BUSH: Final = 5.0
"""Dowelling jigs have no bushes for thinner drills (mm); common practice, no source."""

_PINS: Final = 2
"""Two holes of one upright for the pins of shelves are drilled through a template; common practice, no source."""

_ROW: Final = 4
"""From so many cuts in a line on, a row jig is thought of; common practice, no source."""


def _saws(way: Way) -> bool:
    return way.tool in (ToolKind.HAND_SAW, ToolKind.JIGSAW) or way.cutter is CutterKind.SAW_BLADE


def _try(way: Way, need: Need, reference: Reference, workshop: Workshop, offer: Offer) -> None:
    tools = [t for t in workshop.tools if t.kind is way.tool]
    lacks = [] if tools else [_a(way.tool.value)]
    guide = _guide(way, need, workshop)
    cutters = [c for c in workshop.cutters if c.kind is way.cutter] if way.cutter else [None]
    least = guide + need.first.depth - 1e-9
    open_side = _is_open(way, need.first)
    fitting = [c for c in cutters if c is None or ((open_side or _fits(c, need.first)) and c.reach >= least)]
    if not fitting:
        lacks.append(_cutter_words(way, need.first, guide, need.lengths.bought))
    found = None
    for cutter in sorted(fitting, key=lambda c: _rank(c, need.first, open_side=open_side)):
        bush, lack = _bush(way, cutter, guide, workshop, need.lengths)
        if lack:
            lacks.append(lack)
            continue
        found = (cutter, bush)
        break
    wrong = {t.code: said for t in tools if (said := _stands_wrong(way, t, reference, need.lengths))}
    lacks.extend(wrong.values())
    tools = [t for t in tools if t.code not in wrong]
    if found and (past := overcut_words(found[0], need.first, need.lengths)):
        lacks.append(past)
        found = None
    if found and tools:
        cutter, bush = found
        tool = min(tools, key=lambda t: (not t.owned, t.error if t.error is not None else 9.0))
        opening = _opening(need, cutter, bush) if way.along is Along.JIG else None
        if opening is not None and closest(need) < openings_apart(opening) - 1e-6:
            offer.lacks.append((*dict.fromkeys(lacks), _too_near_words(need, opening, bush)))
            return
        offer.choices.append(Choice(way, tool, cutter, bush, guide, opening))
    else:
        offer.lacks.append(tuple(dict.fromkeys(lacks)))


def closest(need: Need) -> float:
    """Return how far the nearest two cuts of a need stand apart along its line; infinite for one alone."""
    return min((b - a for a, b in pairwise(sorted(need.stations))), default=math.inf)


def _too_near_words(need: Need, opening: tuple[float, float], bush: Bush | None) -> str:
    """Return what is missing where the openings of a jig would run into each other."""
    room = math.floor(closest(need) - openings_apart(None) - opening[0] + (bush.diameter if bush else 0.0) + 1e-9)
    bought, told = need.lengths.bought, need.lengths.told
    if bush is None or room <= 0:
        return "a tool that is set to each mark"
    return f"a guide bush of {bought(room)} or less, so that openings {told(closest(need))} apart do not meet"


def _is_open(way: Way, shape: Shape) -> bool:
    """Return whether a cutter may hang over the board's edge: in a rebate, whose inner wall the straight edge sets."""
    rebate = isinstance(shape, Channel) and shape.kind == "rebate"
    return rebate and way.registration is Registration.LINE and way.cutter is not CutterKind.SAW_BLADE


def _rank(cutter: Cutter | None, shape: Shape, *, open_side: bool) -> tuple[bool, float]:
    """Return the order in which cutters are tried: the widest first; the least that covers a rebate in one pass."""
    if cutter is None:
        return False, 0.0
    if open_side and isinstance(shape, Channel) and cutter.diameter >= shape.width:
        return False, cutter.diameter
    return open_side, -cutter.diameter


def _guide(way: Way, need: Need, workshop: Workshop) -> float:
    if way.registration is Registration.MATE:
        return need.through_mate
    if way.along is not Along.JIG:
        return 0.0
    return way.jig_thickness if way.jig_thickness is not None else workshop.template_thickness


def _stands_wrong(way: Way, tool: Tool, reference: Reference, lengths: LengthWriter) -> str:
    """Return what is wrong with a tool whose fence or base stands fixed, or ""."""
    if way.along is Along.JIG or tool.base_to_centre is None or way.registration is not Registration.FENCE:
        return ""
    if tool.base_to_centre >= reference.wanted - 1e-9:
        return ""
    return f"a {tool.kind.value} whose bushes stand at least {lengths.told(reference.wanted)} from its fence"


def _bush(
    way: Way, cutter: Cutter | None, guide: float, workshop: Workshop, lengths: LengthWriter
) -> tuple[Bush | None, str]:
    """Return the smallest bush that a cutter clears, or what is missing."""
    if not way.bush or cutter is None:
        return None, ""
    clear = cutter.diameter + CLEAR_OF_BUSH
    for bush in sorted(workshop.bushes, key=lambda b: b.diameter):
        if bore_of(bush) >= clear - 1e-9 and bush.diameter > cutter.diameter and bush.length < guide:
            return bush, ""
    bought = lengths.bought
    return None, f"a guide bush with a bore of {bought(clear)} or more, shorter than the {bought(guide)} template"


def bore_of(bush: Bush) -> float:
    """Return the bore of a bush; its outside less 2 mm unless set."""
    return bush.bore if bush.bore is not None else bush.diameter - 2


def _same(a: float, b: float, tolerance: float = SAME_SIZE) -> bool:
    return abs(a - b) <= tolerance + 1e-9


_WIDE_HOLE: Final = 20.0
"""From this diameter on a hole may be routed round a template rather than plunged; common practice, no source."""


def _fits(cutter: Cutter, shape: Shape) -> bool:
    """Return whether a cutter of the right kind can leave a shape, its reach aside."""
    size = cutter.diameter
    match shape:
        case Hole():
            wide = cutter.kind is CutterKind.STRAIGHT and shape.diameter >= _WIDE_HOLE
            return size <= shape.diameter if wide else _same(size, shape.diameter)
        case Slot():
            return shape.width / 2 <= size <= shape.width + SAME_SIZE
        case Keyhole():
            fits = size <= shape.entry_diameter + SAME_SIZE
            return fits and _undercuts(cutter, shape.slot_width, shape.undercut_width, shape.depth - shape.lip)
        case UndercutSlot():
            goes_in = size <= shape.width + SAME_SIZE  # a slot has no wide end: the head must pass its mouth
            return goes_in and _undercuts(cutter, shape.width, shape.undercut_width, shape.depth - shape.lip)
        case SegmentPocket():
            return _same(size, shape.disc, 0.5) and (cutter.width or 0.0) <= shape.width + SAME_SIZE
        case Channel():
            wide_cut = (cutter.width or 0.0) if cutter.kind is CutterKind.SAW_BLADE else size
            return wide_cut <= shape.width + SAME_SIZE
        case CutOut():
            return _rounds(cutter, shape)
        case AngledPocket():
            return _same(size, shape.diameter)


def _undercuts(cutter: Cutter, mouth: float, undercut: float, height: float) -> bool:
    """Return whether a necked cutter leaves a lip as wide as wanted, and its head is no higher than the undercut."""
    neck = cutter.neck if cutter.neck is not None else cutter.diameter
    head = cutter.width if cutter.width is not None else 0.0
    same_lip = _same(cutter.diameter - neck, undercut - mouth, 0.1)
    return same_lip and cutter.diameter <= undercut + SAME_SIZE and head <= height + SAME_SIZE


def _rounds(cutter: Cutter, shape: CutOut) -> bool:
    """Return whether a cutter is thin enough for the inner corners of a cut-out."""
    if cutter.kind is CutterKind.SAW_BLADE or shape.outline == "notch":
        return True
    corners = {"round": shape.length / 2, "slot": min(shape.length, shape.height) / 2}
    corner = corners.get(shape.outline, shape.corner)
    return corner <= 0 or cutter.diameter / 2 <= corner + SAME_SIZE


def _cutter_words(way: Way, shape: Shape, guide: float, bought: Callable[[float], str]) -> str:
    """Return the cutter that is missing, in words."""
    reach = f"with at least {bought(math.ceil(guide + shape.depth - 1e-9))} reach"
    kind = way.cutter.value if way.cutter else "cutter"
    size = f"{_a(kind)}"
    noun = kind if kind in ("drill", "stepped drill", "saw blade") else f"{kind} cutter"
    match shape:
        case Hole() if kind == "straight" and shape.diameter >= _WIDE_HOLE:
            size = f"a straight cutter of {bought(shape.diameter)} or less"
        case Hole() | AngledPocket():
            size = f"{_a(f'{bought(shape.diameter)}')} {noun}"
        case Slot():
            size = f"{_a(f'{bought(shape.width)}')} {noun}"
        case Keyhole():
            under = shape.undercut_width - shape.slot_width
            size = (
                f"a keyhole cutter of {bought(shape.undercut_width)} or less whose neck is {bought(under)} thinner, "
                f"its head up to {bought(shape.depth - shape.lip)} high,"
            )
        case UndercutSlot():
            size = (
                f"a tool that goes in through a mouth of {bought(shape.width)} and then undercuts (a router's head of "
                f"{bought(shape.undercut_width)} does not go in),"
            )
        case SegmentPocket():
            size = f"a disc of {bought(shape.disc)} x {bought(shape.width)}"
        case Channel():
            size = f"{_a(noun)} of {bought(shape.width)} or less"
        case CutOut():
            size = f"{_a(noun)} for corners of {bought(shape.corner)}"
    return f"{size} {reach}"


def _a(words: str) -> str:
    return f"an {words}" if words[0] in "aeio" or words.startswith(("8", "11 ", "18 ")) else f"a {words}"


def _opening(need: Need, cutter: Cutter | None, bush: Bush | None) -> tuple[float, float]:
    """Return the opening of a jig, length along the line of cuts and width across it."""
    shape = need.first
    size = cutter.diameter if cutter else 0.0
    neck = cutter.neck if cutter and cutter.neck is not None else size
    match shape:
        case Hole():
            wide = _opened(shape.diameter, bush, size)
            return wide, wide
        case Slot():
            sizes, run = (_opened(shape.length, bush, size), _opened(shape.width, bush, size)), shape.run
        case Keyhole():  # the entry is plunged: the neck's run is what the opening guides
            sizes = (_opened(shape.travel + neck, bush, neck), _opened(shape.slot_width, bush, neck))
            run = shape.run
        case UndercutSlot():
            sizes, run = (_opened(shape.length, bush, neck), _opened(shape.width, bush, neck)), shape.run
        case CutOut():
            high = shape.length if shape.outline == "round" else shape.height
            sizes, run = (_opened(shape.length, bush, size), _opened(high, bush, size)), shape.run
        case _:
            wide = _opened(size, bush, size)
            return wide, wide
    return sizes if run is need.along else (sizes[1], sizes[0])


def _opened(cut: float, bush: Bush | None, cutter: float) -> float:
    return template_opening(cut, bush.diameter, cutter) if bush else cut


def missing_words(offer: Offer) -> Iterator[str]:
    """Yield what would let a need be made, the least to get first; nothing that asks for more than one told before."""
    told: list[set[str]] = []
    for lack in sorted(offer.lacks, key=len):
        if lack and not any(less <= set(lack) for less in told):
            told.append(set(lack))
            yield " and ".join(lack)
