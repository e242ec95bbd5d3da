"""Checks of one method by itself: figures that are there, and that agree with each other."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from storyrod.adapters.files._fields import nearest, show
from storyrod.faults import Fault, joined
from storyrod.measure.tolerance import EXACT
from storyrod.model.method import Cut, CutKind, CutPlace, Method, Motion, SizeForBoard, StationRules
from storyrod.model.workshop import CutterKind, ToolKind

Told = Callable[[float], str]

_NEEDED: Final[dict[CutKind, tuple[str, ...]]] = {
    CutKind.HOLE: ("diameter",),
    CutKind.SLOT: ("length", "width", "depth"),
    CutKind.KEYHOLE: ("diameter", "width", "undercut_width", "lip", "depth", "travel"),
    CutKind.SEGMENT_POCKET: ("disc", "width", "depth"),
    CutKind.UNDERCUT_SLOT: ("length", "width", "undercut_width", "lip", "depth"),
    CutKind.ANGLED_POCKET: ("diameter", "length", "angle_deg"),
}
_WHOLE_LINE: Final = (CutKind.HOUSING, CutKind.REBATE, CutKind.GROOVE)


def check_method(method: Method, connectors: tuple[float | None, ...], place: str, mm: Told) -> Iterator[Fault]:
    """Yield what is wrong with a method; `connectors` are the connector lengths of its sizes, where given.

    `mm` tells a length (mm) in the unit of the file.
    """
    yield from _needs(method, place)
    yield from _slides(method, place, mm)
    if method.whole_line and method.rules is not None:
        yield _fault(
            joined(place, "rules"), "rules of position", "none with whole_line = true", "Leave one of the two out."
        )
    if not method.whole_line and method.rules is None:
        yield _fault(
            joined(place, "rules"),
            "nothing",
            "end, end_min, pitch and gap_min",
            "Say where the stations are, or write whole_line = true.",
        )
    if method.rules is not None:
        yield from _rules(method.rules, joined(place, "rules"), mm)
    if not method.sizes:
        yield _fault(
            joined(place, "sizes"), "no size", "at least one", "Give the cuts for at least one thickness of board."
        )
    for i, (size, connector) in enumerate(zip(method.sizes, connectors, strict=True)):
        spot = joined(place, f"sizes[{i}]")
        yield from _size(method, size, spot, mm)
        yield from _connector(size, connector, spot, mm)
        if i and size.low < method.sizes[i - 1].high:
            before = method.sizes[i - 1].high
            yield _fault(
                joined(spot, "low"),
                f"{mm(size.low)}",
                f"{mm(before)} or more",
                "Write the sizes from the thinnest board up, without overlap.",
            )


def _slides(method: Method, place: str, mm: Told) -> Iterator[Fault]:
    """A keyhole holds by sliding: the panel slides as far as the keyhole is long, and does slide."""
    for i, size in enumerate(method.sizes):
        for n, cut in enumerate(size.receiving):
            if cut.kind is not CutKind.KEYHOLE:
                continue
            if method.motion is not Motion.STRAIGHT_THEN_SLIDE:
                yield _fault(
                    joined(place, "motion"),
                    show(method.motion.value),
                    show(Motion.STRAIGHT_THEN_SLIDE.value),
                    "A panel held in keyholes goes straight in, then slides.",
                )
            if cut.travel is not None and abs(cut.travel - method.slide_travel) > EXACT:
                yield _fault(
                    joined(place, f"sizes[{i}].receiving[{n}].travel"),
                    f"{mm(cut.travel)}",
                    f"the method's slide_travel, {mm(method.slide_travel)}",
                    "Give the same figure in both places.",
                )


def _fault(field: str, found: str, allowed: str, do: str, code: str = "method") -> Fault:
    return Fault(code=code, field=field, found=found, allowed=allowed, do=do)


def _needs(method: Method, place: str) -> Iterator[Fault]:
    known = (*(k.value for k in ToolKind), *(k.value for k in CutterKind))
    for i, word in enumerate(method.needs):
        if word not in known:
            near = nearest(word, known)
            do = f'Did you mean "{near}"?' if near else "Write one of these words."
            yield _fault(joined(place, f"needs[{i}]"), show(word), ", ".join(known), do, "choice")


def _rules(rules: StationRules, place: str, mm: Told) -> Iterator[Fault]:
    if rules.end < rules.end_min:
        yield _fault(
            joined(place, "end"),
            f"{mm(rules.end)}",
            f"{mm(rules.end_min)} (end_min) or more",
            "Give a first station that keeps to end_min.",
        )
    if rules.pitch < rules.gap_min:
        yield _fault(
            joined(place, "pitch"),
            f"{mm(rules.pitch)}",
            f"{mm(rules.gap_min)} (gap_min) or more",
            "Give a pitch that keeps to gap_min.",
        )


def _size(method: Method, size: SizeForBoard, place: str, mm: Told) -> Iterator[Fault]:
    if size.high <= size.low:
        yield _fault(
            joined(place, "high"),
            f"{mm(size.high)}",
            f"more than low, {mm(size.low)}",
            "Give the thickness below which the size is used.",
        )
    if size.enters >= size.low:
        yield _fault(
            joined(place, "enters"),
            f"{mm(size.enters)}, deeper than the board",
            f"less than {mm(size.low)}, the thinnest board it is for",
            "Enter less deep; a quarter to a third of the board is usual.",
        )
    if size.stop_short > 0 and size.enters <= 0:
        yield _fault(
            joined(place, "stop_short"),
            f"{mm(size.stop_short)}",
            "0 where nothing enters",
            "Give enters as well, or leave it out.",
        )
    if method.whole_line and (size.receiving or size.entering):
        yield _fault(
            joined(place, "receiving"),
            "cuts at stations",
            "none with whole_line = true",
            "Leave the cuts out: enters describes the housing or rebate.",
        )
    for side, cuts in (("receiving", size.receiving), ("entering", size.entering)):
        for i, cut in enumerate(cuts):
            yield from _cut(cut, size, side, joined(place, f"{side}[{i}]"), mm)


def _cut(cut: Cut, size: SizeForBoard, side: str, place: str, mm: Told) -> Iterator[Fault]:
    if cut.kind in _WHOLE_LINE:
        yield _fault(
            joined(place, "kind"),
            show(cut.kind.value),
            "a cut made at a station",
            "Use enters for a housing or rebate.",
        )
        return
    for name in _NEEDED[cut.kind]:
        if getattr(cut, name) is None:
            yield _fault(
                joined(place, name),
                "nothing",
                f"the {name.replace('_', ' ')} of the {cut.kind.value}",
                "Write this field.",
                "missing",
            )
    if cut.kind is CutKind.HOLE and cut.depth is None and not cut.through:
        yield _fault(
            joined(place, "depth"), "nothing", "a depth, or through = true", "Say how deep the hole is.", "missing"
        )
    yield from _places(cut, side, place)
    yield from _proportions(cut, place, mm)
    on_face = (side == "receiving") == (cut.place in {CutPlace.JOINT, CutPlace.OUTSIDE})
    if on_face and cut.depth is not None and not cut.through and cut.depth >= size.low:
        yield _fault(
            joined(place, "depth"),
            f"{mm(cut.depth)}, deeper than the board",
            f"less than {mm(size.low)}, the thinnest board it is for",
            "Cut less deep, or raise low.",
        )
    wide = max(cut.diameter or 0.0, cut.width or 0.0, cut.undercut_width or 0.0)
    if side == "entering" and cut.place is CutPlace.JOINT and wide >= size.low:
        yield _fault(
            place,
            f"{mm(wide)} across the edge",
            f"less than {mm(size.low)}, the thinnest board it is for",
            "Make it narrower, or raise low.",
        )


def _places(cut: Cut, side: str, place: str) -> Iterator[Fault]:
    allowed = (
        (CutPlace.JOINT, CutPlace.OUTSIDE)
        if side == "receiving"
        else (CutPlace.JOINT, CutPlace.FACE_SIDE, CutPlace.FAR_FACE)
    )
    if cut.place not in allowed:
        words = " or ".join(f'"{p.value}"' for p in allowed)
        yield _fault(joined(place, "place"), show(cut.place.value), words, f"A cut of the {side} panel is made there.")
    in_face = cut.place in {CutPlace.FACE_SIDE, CutPlace.FAR_FACE}
    if in_face and cut.inset is None and cut.kind is not CutKind.ANGLED_POCKET:
        yield _fault(
            joined(place, "inset"),
            "nothing",
            "the distance from the edge to the cut's centre",
            "Write this field.",
            "missing",
        )
    if cut.kind is CutKind.ANGLED_POCKET and not in_face:
        yield _fault(
            joined(place, "place"),
            show(cut.place.value),
            '"face side" or "far face"',
            "A pocket is bored in a face of the entering panel.",
        )
    if cut.kind is CutKind.KEYHOLE and side == "entering":
        yield _fault(
            joined(place, "kind"), show(cut.kind.value), "a keyhole in the receiving panel", "Write it under receiving."
        )


def _proportions(cut: Cut, place: str, mm: Told) -> Iterator[Fault]:
    pairs: list[tuple[str, float | None, str, float | None]] = [
        ("length", cut.length, "width", cut.width if cut.kind in {CutKind.SLOT, CutKind.UNDERCUT_SLOT} else None),
        ("countersink", cut.countersink, "diameter", cut.diameter),
        ("undercut_width", cut.undercut_width, "width", cut.width),
        ("depth", cut.depth, "lip", cut.lip),
        ("diameter", cut.diameter if cut.kind is CutKind.KEYHOLE else None, "undercut_width", cut.undercut_width),
        (
            "travel",
            cut.travel,
            "half the entry's diameter",
            (cut.diameter or 0.0) / 2 if cut.travel is not None else None,
        ),
    ]
    for name, value, other, least in pairs:
        if value is not None and least is not None and value < least:
            yield _fault(
                joined(place, name),
                f"{mm(value)}",
                f"at least the {other}, {mm(least)}",
                "Check both figures with callipers.",
            )
    if cut.disc is not None and cut.depth is not None and cut.depth > cut.disc / 2:
        yield _fault(
            joined(place, "depth"),
            f"{mm(cut.depth)}",
            f"up to half the disc, {mm(cut.disc / 2)}",
            "Check both figures.",
        )


def _connector(size: SizeForBoard, connector: float | None, place: str, mm: Told) -> Iterator[Fault]:
    """A connector that lies in both panels needs the sum of the two depths, or it bottoms and holds the joint open."""
    if connector is None:
        return
    both = [
        [c for c in cuts if c.place is CutPlace.JOINT and c.depth is not None]
        for cuts in (size.receiving, size.entering)
    ]
    if not both[0] or not both[1]:
        return
    room = sum(max(c.depth or 0.0 for c in cuts) for cuts in both)
    if room < connector:
        yield _fault(
            joined(place, "connector_length"),
            f"{mm(connector)} in depths that add up to {mm(room)}",
            f"up to {mm(room)}",
            "Cut deeper, or use a shorter connector: this one would bottom out and hold the joint open.",
        )
    if room > connector + 10:
        yield _fault(
            joined(place, "connector_length"),
            f"{mm(connector)} in depths that add up to {mm(room)}",
            f"at least {mm(room - 10)}",
            "Cut less deep, or use a longer connector: this one would barely hold.",
        )
