"""A set-out sheet for every panel, or for several that are marked together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from storyrod.adapters.packet._blocks import Block, PageBreak, Row, Section
from storyrod.adapters.packet._set_out_tables import height_of_tables, set_out_tables
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Drawing, Drawn, Figures, case_thumbnail, gang_stack, panel_set_out
from storyrod.measure.space import PanelAxis
from storyrod.model.detail import DetailedCase
from storyrod.model.mark import Gang, PanelSetOut
from storyrod.model.panel import PanelId, surface_at
from storyrod.planning import Plan
from storyrod.telling.blocks import Picture, Words
from storyrod.telling.panels import counts, edging_words, hand_words
from storyrod.telling.shown import Shown

_SHOWS = 0.3  # mm by which a mate runs past a panel from which on a hand sets it so
_HEADING_ROOM = 62.0  # mm of the page's height kept for title, small picture and notes
_STACK = (50.0, 38.0)  # room for the picture of a gang as it lies to be marked, beside the heading's words
_GANG_WORDS = 8.0  # mm for what a gang's heading says more
_NOTES = 16.0  # mm for the notes under a second drawing on a page
_NO_HEADING = 40.0  # mm that a page has more where it goes on without heading and small picture
_SMALLER = 1.7  # a drawing is made smaller by this at the most, to save a page
_LEAST = 50.0  # mm of height that a drawing must have
_SHARES = (0.5, 0.55, 0.6, 0.65, 0.45)  # of a page's height for the first of two faces


def set_out_sections(plan: Plan) -> tuple[Section, ...]:
    """Return one section for each gang; panels without any mark have none, the cutting list names them."""
    sheets = _Sheets(plan)
    return tuple(sheets.of(gang) for gang in plan.set_out.gangs)


class _Sheets:
    """What all sheets of a packet share."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._shown = Shown.of(plan.job)
        self._outs = {p.panel.id: p for c in plan.set_out.cases for p in c.panels}
        self._cases: dict[PanelId, DetailedCase] = {p.id: c for c in plan.details.cases for p in c.panels}
        self._marks_of = {p.id: p.mark for c in plan.details.cases for p in c.panels}
        self._counts = counts(plan)
        width, height = room_on(plan.job.paper.value)
        self._room = (width, height - _HEADING_ROOM)
        self._figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)

    def of(self, gang: Gang) -> Section:
        """Return the sheet of one gang: what it is, a drawing for each hand, and every mark to tick."""
        outs = [self._outs[p] for p in gang.panels]
        blocks: list[Block] = [self._title_row(gang, outs)]
        tables = set_out_tables(outs, self._marks_of, self._shown)
        hands = self._one_a_hand(outs)
        for n, out in enumerate(hands):
            if n:
                blocks += [PageBreak(), self._hand_row(out)]
            taken = -_NO_HEADING if n else _GANG_WORDS if len(outs) > 1 else 0.0
            below = height_of_tables(tables) if out is hands[-1] else 0.0
            blocks += [Picture(drawing=d) for d in self._drawings(out, taken, below)]
        blocks += tables
        blocks += [Words(text=words) for out in outs for words in self._past(out)]
        first = outs[0].panel
        title = " + ".join(o.panel.mark for o in outs) if len(outs) > 1 else f"{first.mark}: {first.name}"
        case = self._cases[first.id].built.case
        head = f"{case.code}, set-out {title}"
        short = title if len(outs) > 1 else first.mark
        return Section(title=title, short=short, head=head, group="Set-out sheets", blocks=tuple(blocks))

    def _drawings(self, out: PanelSetOut, taken: float, below: float) -> Sequence[Drawing]:
        """Return the drawing of each worked face, so that a sheet turns few pages.

        All faces go on one page, with the table below them where there is room for it, if that makes none of them much
        smaller than a page of its own would.
        """
        width, height = self._room[0], self._room[1] - taken
        drawn: Drawn = {}

        def at(high: float) -> Sequence[Drawing]:
            return panel_set_out(out, figures=self._figures, room=(width, high), drawn=drawn)

        whole = at(height)
        notes = _NOTES * (len(whole) - 1)
        for room in (height - below, height):
            if len(whole) > 1 or room < height:
                tried = _together(at, whole, room - notes)
                if tried:
                    return tried
        return whole

    def _one_a_hand(self, outs: Sequence[PanelSetOut]) -> list[PanelSetOut]:
        found: dict[bool, PanelSetOut] = {}
        for out in outs:
            found.setdefault(out.panel.frame.is_mirrored, out)
        return list(found.values())

    def _title_row(self, gang: Gang, outs: Sequence[PanelSetOut]) -> Row:
        panel = outs[0].panel
        board = self._plan.job.board(panel.board)
        lines: list[Block] = []
        if len(outs) > 1 or self._counts[panel.id] > 1:
            lines.append(Words(text=self._names(outs), strong=True))
        edging = f", edged: {edging_words(panel)}" if panel.edged else ""
        lines.append(Words(text=f"{self._shown.size(panel)}, {board.name}{edging}."))
        hand = hand_words(outs[0])
        if len(outs) > 1:
            lines.append(Words(text=f"Marked together: {gang.why}."))
        elif hand:
            lines.append(Words(text=hand.capitalize() + "."))
        lines.append(Words(text=f"Length: {panel.sums[0]}. Width: {panel.sums[1]}.", quiet=True))
        small = case_thumbnail(self._cases[panel.id], panel.id)
        where = Picture(drawing=small, width=34.0, notes=False)
        if len(outs) == 1:
            return Row(cells=(tuple(lines), (where,)), shares=(1.0, 0.0))
        stack = gang_stack(gang, [o.panel for o in outs], room=_STACK)
        return Row(cells=(tuple(lines), (Picture(drawing=stack, notes=False),), (where,)), shares=(1.0, 0.0, 0.0))

    def _hand_row(self, out: PanelSetOut) -> Words:
        return Words(text=f"The other hand: {out.panel.mark} {out.panel.name}", strong=True)

    def _past(self, out: PanelSetOut) -> Iterator[str]:
        """Yield which mates without connectors run past the panel, at which end and how far: nothing else tells it."""
        case = self._cases[out.panel.id]
        joints = {j.id: j for j in case.joints}
        boxes = {p.id: p.box for p in case.panels}
        for line in out.lines:
            held = [j for j in case.joints if line.mate in (j.entering, j.receiving)]
            if joints[line.joint].stations or len({j.run.axis for j in held}) > 1:
                continue  # its connectors tell where it lies, or what holds its other edges
            axis = PanelAxis.V if line.across_length else PanelAxis.U
            frame, box = out.panel.frame, boxes[line.mate]
            low, high = sorted(frame.to_panel(at).along(axis) for at in (box.low, box.high))
            over = {False: -low, True: high - out.panel.extent(axis)}
            told = [
                f"{self._shown.n(mm)} past the {surface_at(axis, far=far).value}"
                for far, mm in over.items()
                if mm > _SHOWS
            ]
            if told:
                yield f"On {out.panel.mark}, {self._marks_of[line.mate]} ({line.number}) runs {' and '.join(told)}."

    def _names(self, outs: Sequence[PanelSetOut]) -> str:
        return "; ".join(
            f"{o.panel.mark} {o.panel.name}" + (f", {self._counts[o.panel.id]} of it" * (self._counts[o.panel.id] > 1))
            for o in outs
        )


def _together(at: Callable[[float], Sequence[Drawing]], whole: Sequence[Drawing], room: float) -> Sequence[Drawing]:
    """Return the drawings of all faces that go on one page with the least of them made smaller, or nothing.

    `at` draws all faces at a height; `whole` are those that have a page each. With two faces, the one with the edges
    round it may have more of the room.
    """
    best: Sequence[Drawing] = ()
    least = _SMALLER
    for share in _SHARES if len(whole) == 2 else (1.0,):
        rooms = [room * share, room * (1.0 - share)][: len(whole)]
        if min(rooms) < _LEAST:
            continue
        tried = [at(high)[n] for n, high in enumerate(rooms)]
        smaller = max(t.unit / w.unit for t, w in zip(tried, whole, strict=True))
        if sum(d.paper_size[1] for d in tried) <= room and smaller <= least:
            best, least = tried, smaller - 1e-9
    return best
