"""Where the tool is placed from, and where marks and cuts lie, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.machining import CutPlace, Hand, LineToMark, Operation, SetUp, WorkPlan
from storyrod.model.mark import Mark
from storyrod.model.panel import Panel
from storyrod.telling.mark_extent import PlaceAxis, extent

_DATUMS: Final[Mapping[PlaceAxis, str]] = {"u": "datum end", "v": "face edge", "w": "face side"}


def placed_from(o: Operation, lengths: LengthWriter, *, hand_said: bool = False) -> str:
    """Return where the tool or jig is placed from, in words: the reference, the line, the stop, which way round.

    `hand_said` is for what stands under a heading that says which way round already.

    Cuts that are set by their walls say both walls, the middle, both ends, and where the straight edge is clamped.
    """
    along_edge = any(p.straight_edge is not None and p.walls for p in o.places)
    parts = [] if along_edge else [o.reference]
    if o.line is LineToMark.FACE_LINE and o.line_at is not None:
        datum = f" from the {o.line_from}" if o.line_from else ""
        parts.append(f"line at {lengths.n(o.line_at)}{datum}")
    for place in o.places:
        parts += place_words(place, lengths)
    if o.stop:
        parts.append(f"stop {o.stop_label} on the {o.stop}")
    if o.held_in is not None:
        parts.append(o.held_in.value)
    if o.hand is Hand.TURNED and not (hand_said and not o.places):
        parts.append("jig turned over")
    return "; ".join(p for p in parts if p) if o.places else ", ".join(p for p in parts if p)


def place_words(place: CutPlace, lengths: LengthWriter) -> Iterator[str]:
    """Yield where a cut lies, wall by wall and end by end, and where its straight edge and its stops are clamped.

    The sentences are read again by what proves the packet: each figure keeps its words and its datum beside it.
    """
    across = place.across_from.value
    if place.walls is not None:
        low, high = map(lengths.n, place.walls)
        yield f"walls at {low} and {high}, middle at {lengths.n(sum(place.walls) / 2)}, from the {across}"
    if place.ends is not None and place.along_from is not None:
        yield _end_words(place, place.ends, place.along_from.value, lengths)
    if place.straight_edge is not None and place.beyond is not None:
        at, side = lengths.n(place.straight_edge), place.beyond.value
        yield f"straight edge at {at} from the {across}, on the {side} side"
    if place.off_board:
        yield "an offcut of the same board, flush with the panel, under the straight edge"


def _end_words(place: CutPlace, ends: tuple[float, float], along: str, lengths: LengthWriter) -> str:
    """Return from where to where a cut runs, where it stops within the panel, and where the base meets a stop."""
    words = f"runs from {lengths.n(ends[0])} to {lengths.n(ends[1])} from the {along}"
    stops = [lengths.n(end) for end, is_stopped in zip(ends, place.stopped, strict=True) if is_stopped]
    if not stops:
        return words
    words += f", stopped at {' and '.join(stops)}"
    base = [lengths.n(at) for at in place.base_stops if at is not None]
    if base:
        words += f", base to a stop at {' and '.join(base)}"
    by_eye = [lengths.n(end) for end in place.by_eye]
    return f"{words}, by eye at {' and '.join(by_eye)}" if by_eye else words


def mark_place(mark: Mark, panel: Panel, lengths: LengthWriter) -> str:
    """Return where a mark lies on its surface, as on the set-out: from the datum end and the face edge or face.

    A channel, notch or scoop is told from where to where it goes.
    """
    found: list[str] = []
    for axis, datum in _DATUMS.items():
        if axis != mark.surface.axis.value:
            low, high = (lengths.n(end) for end in extent(mark, panel, axis))
            found.append(f"{low if low == high else f'{low} to {high}'} from the {datum}")
    return ", ".join(found)


def changes_over(set_up: SetUp, work: WorkPlan) -> dict[str, str]:
    """Return before which operations, by id, the jig of a set-up is changed over for the other hand, in words."""
    setting, found = set_up.setting, dict[str, str]()
    if not set_up.turns or setting is None:
        return found
    over = "fence and stops" if work.jig(setting.jig).has_fence else "stops"
    hand = None if set_up.turned_first else set_up.operations[0].hand
    for o in set_up.operations:
        if o.hand is not hand:
            found[o.id] = f"first change over its {over}"
        hand = o.hand
    return found
