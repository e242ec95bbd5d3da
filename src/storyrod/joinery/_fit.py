"""Whether a method can hold a joint at all: class, boards, depths, room in the edge, and stations."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum, auto
from functools import lru_cache
from itertools import pairwise
from typing import Final

from storyrod.faults import Fault, WayOut
from storyrod.joinery._codes import GROOVE, SCREWED_BACK
from storyrod.joinery._contacts import Contact
from storyrod.joinery._stations import DUST, shortest, stations_of
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.job import JointClass, Limits, Spread
from storyrod.model.joint import JointKind
from storyrod.model.method import Cut, CutKind, CutPlace, Method, SizeForBoard
from storyrod.model.panel import Role

EDGE: Final = 0.02
"""Even a countersink stays this far inside the panel (mm)."""

NAMED: Final = 3
"""So many joints are named in one fault; the rest are counted."""


class Rule(Enum):
    """The rules whose figures may differ from joint to joint."""

    BOARD = auto()
    SKIN = auto()
    WALL_AT_END = auto()
    WALL_IN_EDGE = auto()
    SKIN_IN_EDGE = auto()
    REACH = auto()
    SKIN_IN_FACE = auto()
    LENGTH = auto()
    END = auto()
    GAP = auto()


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a method cannot hold a joint.

    `rule` is the one that is broken, for its figures may differ from joint to joint: 6 mm at one side, 5.9 at another.
    """

    code: str
    found: str
    allowed: str
    do: str = ""
    rule: Rule | None = None


@dataclass(frozen=True, slots=True)
class Reach:
    """How far the cuts of one station go along the joint, toward its start and its end."""

    back: float
    ahead: float


def reason_against(
    contact: Contact, method: Method, spread: Spread, limits: Limits, lengths: LengthWriter = METRIC
) -> Reason | None:
    """Return the first reason why `method` cannot hold this joint, in lengths as the writer tells them, or None."""
    return next(_reasons(contact, method, spread, limits, lengths), None)


@dataclass(frozen=True, slots=True)
class Misfit:
    """One joint that its method cannot hold, and where the maker chose it."""

    reason: Reason
    contact: Contact
    field: str
    spread: Spread

    @property
    def names(self) -> str:
        """The two panels."""
        return f"{self.contact.entering.panel.name} and {self.contact.receiving.panel.name}"


def faults_of(misfits: Iterable[Misfit], limits: Limits, methods: Iterable[Method]) -> list[Fault]:
    """Return one fault for all joints that break one rule, with the methods that would fit every one of them."""
    alike: dict[tuple[str, str, Rule | Reason], list[Misfit]] = {}
    for misfit in misfits:
        reason = misfit.reason
        alike.setdefault((misfit.field, reason.code, reason.rule or reason), []).append(misfit)
    known = tuple(methods)
    return [_fault(field, group[0].reason, group, limits, known) for (field, _, _), group in alike.items()]


def _fault(field: str, reason: Reason, group: list[Misfit], limits: Limits, methods: tuple[Method, ...]) -> Fault:
    others = [m.code for m in methods if all(reason_against(g.contact, m, g.spread, limits) is None for g in group)]
    by_figures: dict[str, list[str]] = {}
    for one in group[:NAMED]:
        by_figures.setdefault(one.reason.found, []).append(one.names)
    if len(group) > NAMED:
        by_figures[group[NAMED - 1].reason.found].append(f"and {len(group) - NAMED} more")
    which = "this joint" if len(group) == 1 else "these joints"
    choose = f"Choose another method for {which}: {', '.join(others)}." if others else f"No method here fits {which}."
    return Fault(
        code=reason.code,
        field=field,
        found="; ".join(f"{found} ({'; '.join(names)})" for found, names in by_figures.items()),
        allowed=" or ".join(dict.fromkeys(g.reason.allowed for g in group[:NAMED])),
        do=f"{choose} {reason.do}".rstrip(),
        ways=tuple(WayOut(field=field, value=code) for code in others[:4]),
    )


def _reasons(
    contact: Contact, method: Method, spread: Spread, limits: Limits, lengths: LengthWriter
) -> Iterator[Reason]:
    mm = lengths.told
    yield from _class_reasons(contact, method)
    size = method.size_for(contact.thinner)
    if size is None:
        yield Reason(
            "method-board",
            f"{method.name} in a board of {mm(contact.thinner)}",
            " or ".join(f"{mm(s.low)} to under {mm(s.high)}" for s in _merged(method.sizes)),
            "Or use a board of a thickness the method has a size for.",
            Rule.BOARD,
        )
        return
    yield from _entering_reasons(contact, method, size, limits, lengths)
    yield from _receiving_reasons(contact, method, size, limits, lengths)
    yield from _station_reasons(contact, method, size, spread, limits, lengths)


def _class_reasons(contact: Contact, method: Method) -> Iterator[Reason]:
    in_groove = contact.let_in > 0 and contact.receiving.panel.role is not Role.BACK
    if (method.code == GROOVE) != in_groove:
        found = f"{method.name} for a panel that lies in a groove" if in_groove else f"{method.name} without a groove"
        yield Reason("method-class", found, GROOVE if in_groove else "a grooved back or drawer bottom")
    if method.code == SCREWED_BACK and contact.receiving.panel.role not in {Role.BACK, Role.DRAWER_BOTTOM}:
        yield Reason(
            "method-class", f"{method.name} where no back or bottom covers an edge", "an applied or rebated back"
        )
    kind = JointClass(contact.kind.value)
    where = JointClass.CORNER if contact.at_corner else JointClass.MID_PANEL
    is_between = contact.kind is JointKind.BACK and contact.entering.panel.role is Role.BACK and contact.let_in <= 0
    wanted = JointClass.MID_PANEL if is_between else kind  # a back fitted between stands in a joint like a shelf's
    if wanted not in method.classes:
        words = ", ".join(c.value for c in method.classes)
        yield Reason("method-class", f"{method.name} for a {wanted.value} joint", f"{words} joints")
    enters = any(s.enters > 0 for s in method.sizes)
    if enters and wanted is not where and where not in method.classes:
        place = "at the end of a panel" if contact.at_corner else "in the middle of a panel"
        other = "away from the end" if contact.at_corner else "at the end, as a rebate"
        yield Reason("method-class", f"{method.name} {place}", f"a joint {other}")


def _receiving_reasons(
    contact: Contact, method: Method, size: SizeForBoard, limits: Limits, lengths: LengthWriter
) -> Iterator[Reason]:
    mm = lengths.told
    board = contact.receiving.thickness
    deepest = max([size.enters, *(c.depth or 0.0 for c in size.receiving if not c.through)])
    if deepest + limits.skin > board + DUST:
        word = "a housing or rebate" if size.enters >= deepest else "a cut"
        deeper = ", deeper than the board" if deepest >= board else ""
        yield Reason(
            "method-skin",
            f"{method.name}: {word} {mm(deepest)} deep in a board of {mm(board)}{deeper}",
            f"up to {lengths.told_most(board - limits.skin)} deep, so that {mm(limits.skin)} of board is left",
            "Or use a thicker board.",
            Rule.SKIN,
        )
    across = contact.across
    middle = (contact.low[across] + contact.high[across]) / 2
    room = min(middle - contact.receiving.low[across], contact.receiving.high[across] - middle)
    for cut in size.receiving:
        width = _bore_width(cut)
        if room - abs(cut.across) - width / 2 < limits.wall / 2 - DUST or room * 2 <= width_of(cut) + EDGE:
            yield Reason(
                "method-wall",
                f"{method.name}: a {cut.kind.value} {mm(width)} wide, {mm(room)} from the panel's end",
                f"at least {lengths.told_least(limits.wall / 2)} of board between the two",
                "Or use a thicker board.",
                Rule.WALL_AT_END,
            )


def _entering_reasons(
    contact: Contact, method: Method, size: SizeForBoard, limits: Limits, lengths: LengthWriter
) -> Iterator[Reason]:
    mm = lengths.told
    board = contact.entering.thickness
    edge = contact.high[contact.across] - contact.low[contact.across]
    length = contact.entering.high[contact.home] - contact.entering.low[contact.home]
    for cut in size.entering:
        if cut.place is CutPlace.JOINT:
            beside = edge / 2 - abs(cut.across) - width_of(cut) / 2
            if beside < limits.wall - DUST:
                yield Reason(
                    "method-wall",
                    f"{method.name}: a {cut.kind.value} {mm(width_of(cut))} wide in an edge of {mm(edge)}",
                    f"at least {lengths.told_least(limits.wall)} of board on either side of it",
                    "Or use a thicker board.",
                    Rule.WALL_IN_EDGE,
                )
            if (cut.depth or 0.0) + limits.skin > length + DUST:
                yield Reason(
                    "method-skin",
                    f"{method.name}: a {cut.kind.value} {mm(cut.depth or 0.0)} deep in a panel {mm(length)} across",
                    f"up to {lengths.told_most(length - limits.skin)} deep",
                    "Or make the panel wider.",
                    Rule.SKIN_IN_EDGE,
                )
            continue
        if reach_from_edge(cut, board) + limits.wall > length + DUST:
            yield Reason(
                "method-wall",
                f"{method.name}: its {cut.kind.value} reaches {mm(reach_from_edge(cut, board))} from the edge, in a "
                f"panel {mm(length)} across",
                f"panels at least {lengths.told_least(reach_from_edge(cut, board) + limits.wall)} across",
                "Or make the panel wider.",
                Rule.REACH,
            )
        if depth_in_face(cut) + limits.skin > board + DUST and not cut.through:
            yield Reason(
                "method-skin",
                f"{method.name}: a {cut.kind.value} {mm(depth_in_face(cut))} deep in a board of {mm(board)}",
                f"up to {lengths.told_most(board - limits.skin)} deep, so that {mm(limits.skin)} of board is left",
                "Or use a thicker board.",
                Rule.SKIN_IN_FACE,
            )


def _station_reasons(
    contact: Contact, method: Method, size: SizeForBoard, spread: Spread, limits: Limits, lengths: LengthWriter
) -> Iterator[Reason]:
    mm = lengths.told
    rules = method.rules
    if rules is None:
        return
    reach = reach_of(size)
    room = max(reach.back, reach.ahead) + limits.wall
    stations = stations_of(contact.length, rules, spread, reach=room)
    if stations is None:
        yield Reason(
            "method-stations",
            f"{method.name} in a joint {mm(contact.length)} long",
            f"at least {lengths.told_least(shortest(rules, room))}"
            + ("" if rules.single else f" for {rules.least} connectors, {mm(rules.end_min)} from each end"),
            "Or make the joint longer.",
            Rule.LENGTH,
        )
    elif min(stations[0] - reach.back, contact.length - stations[-1] - reach.ahead) < limits.wall - DUST:
        yield Reason(
            "method-stations",
            f"{method.name}: a cut that reaches {mm(max(reach.back, reach.ahead))} from its station, "
            f"{mm(min(stations[0], contact.length - stations[-1]))} from the end of the joint",
            f"at least {lengths.told_least(limits.wall)} of board between a cut and the end",
            "Or correct the method's end and end_min.",
            Rule.END,
        )
    elif len(stations) > 1 and min(b - a for a, b in pairwise(stations)) < reach.back + reach.ahead - DUST:
        yield Reason(
            "method-stations",
            f"{method.name}: cuts that take up {mm(reach.back + reach.ahead)} along the joint, "
            f"{mm(min(b - a for a, b in pairwise(stations)))} apart",
            "stations at least as far apart as their cuts are long",
            "Or correct the method's gap_min and pitch.",
            Rule.GAP,
        )


@lru_cache(maxsize=4096)
def reach_of(size: SizeForBoard) -> Reach:
    """Return how far the cuts of a station go along the joint, in both panels."""
    return _reach((*size.receiving, *size.entering))


@lru_cache(maxsize=4096)
def receiving_reach(size: SizeForBoard) -> Reach:
    """Return how far the cuts of a station go along the joint, in the receiving panel."""
    return _reach(size.receiving)


def _reach(cuts: tuple[Cut, ...]) -> Reach:
    return Reach(
        max((_half(c) - c.along for c in cuts), default=0.0), max((_half(c) + c.along for c in cuts), default=0.0)
    )


def _half(cut: Cut) -> float:
    match cut.kind:
        case CutKind.SLOT:
            return (cut.length or 0.0) / 2
        case CutKind.UNDERCUT_SLOT:
            return ((cut.length or 0.0) + (cut.undercut_width or 0.0) - (cut.width or 0.0)) / 2
        case CutKind.KEYHOLE:
            return (cut.travel or 0.0) + (cut.diameter or 0.0) / 2
        case CutKind.SEGMENT_POCKET:
            radius, depth = (cut.disc or 0.0) / 2, cut.depth or 0.0
            return math.sqrt(max(0.0, 2 * radius * depth - depth * depth))
    return max(cut.diameter or 0.0, cut.countersink or 0.0) / 2


def width_of(cut: Cut) -> float:
    """Return how wide a cut is across the joint."""
    if cut.kind in {CutKind.HOLE, CutKind.KEYHOLE}:
        return max(cut.diameter or 0.0, cut.countersink or 0.0)
    return max(cut.width or 0.0, cut.undercut_width or 0.0)


def _bore_width(cut: Cut) -> float:
    """Return how wide a cut is across the joint below its countersink."""
    return (cut.diameter or 0.0) if cut.kind is CutKind.HOLE else width_of(cut)


def depth_in_face(cut: Cut) -> float:
    """Return how deep a cut goes below the face it is made in, at its deepest place."""
    if cut.kind is CutKind.ANGLED_POCKET:
        slope = math.radians(cut.angle_deg or 0.0)
        return (cut.length or 0.0) * math.sin(slope) + (cut.diameter or 0.0) / 2 * math.cos(slope)
    return cut.depth or 0.0


def reach_from_edge(cut: Cut, board: float) -> float:
    """Return how far a cut in a face of the entering panel reaches from the edge that enters."""
    if cut.kind is not CutKind.ANGLED_POCKET:
        return (cut.inset or 0.0) + width_of(cut) / 2
    slope = math.radians(cut.angle_deg or 0.0)
    return inset_of(cut, board) + (cut.diameter or 0.0) / 2 / math.sin(slope)  # where its mouth ends on the face


def inset_of(cut: Cut, board: float) -> float:
    """Return the distance from the edge; a pocket's axis leaves the edge in the middle of the board."""
    if cut.inset is not None or cut.kind is not CutKind.ANGLED_POCKET:
        return cut.inset or 0.0
    return board / 2 / math.tan(math.radians(cut.angle_deg or 0.0))


def _merged(sizes: tuple[SizeForBoard, ...]) -> list[SizeForBoard]:
    """Return the ranges of thickness, neighbours made one."""
    from dataclasses import replace

    merged: list[SizeForBoard] = []
    for size in sorted(sizes, key=lambda s: s.low):
        if merged and abs(merged[-1].high - size.low) < DUST:
            merged[-1] = replace(merged[-1], high=size.high)
        else:
            merged.append(size)
    return merged
