"""A set-out sheet for every panel, or for several that are marked together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.adapters.packet._blocks import Block, Row, Section, Together
from storyrod.adapters.packet._card_room import strip
from storyrod.adapters.packet._kind_tables import kind_tables, sums_apart
from storyrod.adapters.packet._kinds import Kind, Parts, kinds_of
from storyrod.adapters.packet._page_room import GUTTER
from storyrod.adapters.packet._set_out_tables import set_out_tables
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Drawing, Figures, Manner, case_thumbnail, gang_stack, panel_set_out_small, worked_faces
from storyrod.drawing.panel_lies import Lie, panel_lies
from storyrod.measure.space import PanelAxis
from storyrod.model.detail import DetailedCase
from storyrod.model.mark import Gang, PanelSetOut
from storyrod.model.panel import PanelId, Surface, surface_at
from storyrod.planning import Plan
from storyrod.telling.blocks import Picture, Words
from storyrod.telling.panels import bevel_words, counts, edging_words, hand_words, scribe_words
from storyrod.telling.shown import Shown

_SHOWS = 0.3  # mm by which a mate runs past a panel from which on a hand sets it so
_MOST_HIGH = 0.62  # of a page's height for one drawing
_STACK = (44.0, 28.0)  # room for the picture of a gang as it lies to be marked, beside the heading's words
_PLACE = 21.0  # mm wide: the small picture of where the panel is
_NEARLY = 1.15  # times the width of a page: two faces that take more are not drawn smaller to stand abreast
_HARDLY = 1.4  # times as many mm for one on paper: so much smaller may two faces be drawn to stand abreast
_BETWEEN = 2.0  # mm between two drawings side by side, which have air of their own
Lies = tuple[Picture, Words]
"""How a panel lies to be marked: as a picture, and in words."""

_SUMS = ("Length", "Width")
_LEAST_WORDS = 29.0  # mm of width for words beside a drawing


def set_out_sections(plan: Plan) -> tuple[Section, ...]:
    """Return one section for each gang; panels without any mark have none, the cutting list names them."""
    sheets = _Sheets(plan)
    return tuple(sheets.of_kind(one) if isinstance(one, Kind) else sheets.of(one) for one in sheets.kinds())


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
        self._room = (width, height * _MOST_HIGH)
        self._figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)

    def kinds(self) -> list[Kind | Gang]:
        """Return the gangs of the job, those of one kind as one."""
        cases = list(self._plan.details.cases)
        drawers = {d.opening: d.name for c in cases for d in c.built.drawers}
        parts = Parts(panels={p.id: p for c in cases for p in c.panels}, drawers=drawers)
        return kinds_of(self._plan.set_out.gangs, self._outs, parts, self._shown, self._figures)

    def of_kind(self, kind: Kind) -> Section:
        """Return the sheet of parts of one kind: one drawing a hand with letters, and what they come to on each."""
        outs = kind.members[kind.drawn]
        gang = kind.gangs[kind.drawn]
        title = "; ".join(" + ".join(o.panel.mark for o in own) for own in kind.members)
        blocks: list[Block] = []
        for n, out in enumerate(_one_a_hand(outs)):
            manner = kind.manner(out, self._figures, figured=n == 0)
            words = self._about_kind(kind, gang, outs) if n == 0 else (self._hand_row(out),)
            blocks += self._drawn(out, words, manner)
        blocks += kind_tables(kind, self._marks_of, self._shown)
        case = self._cases[outs[0].panel.id].built.case
        head = f"{case.code}, set-out {kind.name}"
        return Section(
            title=title, short=kind.name, head=head, group="Set-out sheets", blocks=tuple(blocks), flows=True
        )

    def _about_kind(self, kind: Kind, gang: Gang, outs: Sequence[PanelSetOut]) -> tuple[Block, ...]:
        panel = outs[0].panel
        board = self._plan.job.board(panel.board)
        every = [own[0].panel for own in kind.members]
        sizes = (
            kind.told("u", [self._shown.n(p.length) for p in every]),
            kind.told("v", [self._shown.n(p.width) for p in every]),
            self._shown.n(panel.thickness),
        )
        edging = f", edged: {edging_words(panel)}" if panel.edged else ""
        told = [f"{' × '.join(sizes)}, {board.name}{edging}."]
        if len(outs) > 1:
            told.append(f"Marked together: {gang.why}.")
        told += [f"{_SUMS[n]}: {panel.sums[n]}." for n in (0, 1) if n not in sums_apart(kind)]
        told.append("A letter is a size that differs from part to part: the table gives it.")
        name = kind.name[:1].upper() + kind.name[1:]
        drawn = f"{name}, drawn for {outs[0].panel.mark}. {self._many(kind)}"
        lines: list[Block] = [Words(text=drawn.strip(), strong=True), Words(text=" ".join(told))]
        if len(outs) > 1:
            lines.append(Picture(drawing=gang_stack(gang, [o.panel for o in outs], room=_STACK), notes=False))
        small = case_thumbnail(self._cases[panel.id], panel.id, room=(_PLACE, _PLACE))
        return (*lines, Picture(drawing=small, notes=False))

    def _many(self, kind: Kind) -> str:
        many = [(o.panel.mark, self._counts[o.panel.id]) for own in kind.members for o in own]
        told = [f"{mark}: {count} off" for mark, count in many if count > 1]
        return f"{'; '.join(told)}." if told else ""

    def of(self, gang: Gang) -> Section:
        """Return the sheet of one gang: what it is, a drawing for each hand, and every mark to tick."""
        outs = [self._outs[p] for p in gang.panels]
        words = self._about(gang, outs)
        blocks: list[Block] = []
        for n, out in enumerate(_one_a_hand(outs)):
            blocks += self._drawn(out, (self._hand_row(out),) if n else words, Manner(figured=n == 0))
        blocks += set_out_tables(outs, self._marks_of, self._shown)
        blocks += [Words(text=words) for out in outs for words in self._past(out)]
        first = outs[0].panel
        title = " + ".join(o.panel.mark for o in outs) if len(outs) > 1 else f"{first.mark}: {first.name}"
        case = self._cases[first.id].built.case
        head = f"{case.code}, set-out {title}"
        short = title if len(outs) > 1 else first.mark
        return Section(title=title, short=short, head=head, group="Set-out sheets", blocks=tuple(blocks), flows=True)

    def _drawn(self, out: PanelSetOut, words: tuple[Block, ...], manner: Manner) -> Iterator[Block]:
        """Yield the drawings of a panel's faces, with what is said of them and of the panel beside them."""
        width = self._room[0]
        drawings = self._faces(out, manner)
        lies = tuple(
            _lie(out, face, d, named=len(drawings) > 1) for face, d in zip(worked_faces(out), drawings, strict=True)
        )
        widths = [d.paper_size[0] for d in drawings]
        pictures = tuple(Picture(drawing=d, notes=False) for d in drawings)
        if len(drawings) > 1 and sum(widths) + _BETWEEN <= width:
            yield from self._side_by_side(pictures, lies, words)
            return
        for n, (picture, lie) in enumerate(zip(pictures, lies, strict=True)):
            said = () if n else words
            taken = picture.drawing.paper_size[0]
            if taken + GUTTER + _LEAST_WORDS <= width:
                rest = width - GUTTER - taken
                yield Row(cells=((picture,), _beside((*said, *lie), rest)), shares=(taken, rest))
            else:
                yield Together(blocks=(_above((*said, *lie)), picture))

    def _faces(self, out: PanelSetOut, manner: Manner) -> tuple[Drawing, ...]:
        """Return the drawings of a panel's faces: two that are hardly smaller for it, so that they stand abreast."""
        drawings = tuple(panel_set_out_small(out, figures=self._figures, room=self._room, manner=manner))
        width, height = self._room
        wide = sum(d.paper_size[0] for d in drawings) + _BETWEEN
        if len(drawings) != 2 or not width < wide < _NEARLY * width:
            return drawings
        half = ((width - _BETWEEN) / 2, height)
        small = tuple(panel_set_out_small(out, figures=self._figures, room=half, manner=manner))
        is_abreast = sum(d.paper_size[0] for d in small) + _BETWEEN <= width
        is_clear = all(s.unit <= _HARDLY * d.unit for s, d in zip(small, drawings, strict=True))
        return small if is_abreast and is_clear else drawings

    def _side_by_side(
        self, pictures: Sequence[Picture], lies: Sequence[Lies], words: tuple[Block, ...]
    ) -> Iterator[Block]:
        """Yield both faces beside each other, the words beside them too where there is room, and how each lies."""
        width = self._room[0]
        widths = [p.drawing.paper_size[0] for p in pictures]
        shown = (*words, *(picture for picture, _ in lies), *(how for _, how in lies))
        faces = tuple((p,) for p in pictures)
        rest = width - sum(widths) - 2 * GUTTER
        if words and rest >= _LEAST_WORDS:
            yield Row(cells=(*faces, _beside(shown, rest)), shares=(*widths, rest))
            return
        yield Together(blocks=(_above(shown), Row(cells=faces, shares=tuple(widths))))

    def _about(self, gang: Gang, outs: Sequence[PanelSetOut]) -> tuple[Block, ...]:
        """Return what a gang's panels are, and where in the case the first of them is."""
        panel = outs[0].panel
        board = self._plan.job.board(panel.board)
        lines: list[Block] = []
        if len(outs) > 1 or self._counts[panel.id] > 1:
            lines.append(Words(text=self._names(outs), strong=True))
        edging = f", edged: {edging_words(panel)}" if panel.edged else ""
        told = [f"{self._shown.size(panel)}, {board.name}{edging}."]
        told += [w for w in (bevel_words(panel, self._shown), scribe_words(panel, self._shown)) if w]
        hand = hand_words(outs[0])
        if len(outs) > 1:
            told.append(f"Marked together: {gang.why}.")
        elif hand:
            told.append(f"{hand.capitalize()}.")
        told.append(f"Length: {panel.sums[0]}. Width: {panel.sums[1]}.")
        lines.append(Words(text=" ".join(told)))
        if len(outs) > 1:
            lines.append(Picture(drawing=gang_stack(gang, [o.panel for o in outs], room=_STACK), notes=False))
        small = case_thumbnail(self._cases[panel.id], panel.id, room=(_PLACE, _PLACE))
        return (*lines, Picture(drawing=small, notes=False))

    def _hand_row(self, out: PanelSetOut) -> Words:
        return Words(text=f"The other hand: {out.panel.mark} {out.panel.name}", strong=True)

    def _past(self, out: PanelSetOut) -> Iterator[str]:
        """Yield which mates run past the panel, at which end and how far, where no mark of their connectors says it.

        Pocket screws leave marks on the entering panel alone.
        """
        case = self._cases[out.panel.id]
        joints = {j.id: j for j in case.joints}
        boxes = {p.id: p.box for p in case.panels}
        for line in out.lines:
            held = [j for j in case.joints if line.mate in (j.entering, j.receiving)]
            marked = joints[line.joint].stations and any(m.joint == line.number for m in out.marks)
            if marked or len({j.run.axis for j in held}) > 1:
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
            f"{o.panel.mark} {o.panel.name}" + (f", {self._counts[o.panel.id]} off" * (self._counts[o.panel.id] > 1))
            for o in outs
        )


def _lie(out: PanelSetOut, face: Surface, drawing: Drawing, *, named: bool) -> Lies:
    """Return the picture of how a panel lies with one face up, named where both are drawn, and the same in words."""
    drawn = panel_lies(Lie.of(out.panel, face), out.panel, names=(f"{face} up",) if named else ())
    return Picture(drawing=drawn, notes=False), Words(text=drawing.notes[0])


def _beside(blocks: Sequence[Block], width: float) -> tuple[Block, ...]:
    """Return a column of words and small pictures: pictures abreast, or one beside its words, where they fit."""
    pictures = [b for b in blocks if isinstance(b, Picture)]
    if len(pictures) > 1:
        first = next(n for n, b in enumerate(blocks) if isinstance(b, Picture))
        rest = tuple(b for b in blocks[first:] if not isinstance(b, Picture))
        return (*blocks[:first], *strip(pictures, width), *rest)
    fits = bool(pictures) and pictures[0].drawing.paper_size[0] + GUTTER + _LEAST_WORDS <= width
    if fits and blocks[-2] is pictures[0]:
        return (*blocks[:-2], Row(cells=tuple((b,) for b in blocks[-2:]), shares=(0.0, 1.0)))
    return tuple(blocks)


def _above(words: Sequence[Block]) -> Block:
    """Return what stands above a drawing: words with the small pictures beside them."""
    pictures = [b for b in words if isinstance(b, Picture)]
    if not pictures:
        return Together(blocks=tuple(words))
    said = tuple(b for b in words if not isinstance(b, Picture))
    return Row(cells=(said, *((p,) for p in pictures)), shares=(1.0, *(0.0 for _ in pictures)))


def _one_a_hand(outs: Sequence[PanelSetOut]) -> list[PanelSetOut]:
    found: dict[bool, PanelSetOut] = {}
    for out in outs:
        found.setdefault(out.panel.frame.is_mirrored, out)
    return list(found.values())
