"""The cards of the bench: everything that can be ticked in a plan, each thing on one card, in the order of the work.

First the panels are cut, then come the set-ups in the order of the run, then assembly case by case.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.faults import JobError
from storyrod.measure.writing import LengthWriter
from storyrod.model.assembly import ByHand, HandAct, Step, StepKind
from storyrod.model.board import BoardKind
from storyrod.model.machining import Operation, SetUp, WorkStage
from storyrod.model.mark import Mark
from storyrod.model.panel import Panel
from storyrod.planning import Plan
from storyrod.telling import identity
from storyrod.telling.placing import changes_over, mark_place, placed_from
from storyrod.telling.step_notes import StepNotes
from storyrod.telling.things import Thing, ThingKind, coats_of, joint_words, made_in, things_made


class CardKind(StrEnum):
    """What a card is about."""

    SET_UP = "set-up"
    ASSEMBLY = "assembly"
    REST = "rest"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One thing to tick.

    Attributes:
        label: what it is called on this card, as short as can be: a mark's number, a panel's name.
        words: where it lies or what is done, with figures.
        kind: what it is, and `about` the id of the panel, cut, joint or body that it is about.
        panel: id of the panel that it is done to, by which "left on this panel" is counted; "" for none alone.
        case: code of the case, whose copies are ticked apart.
    """

    thing: Thing
    kind: ThingKind | HandAct
    about: str
    label: str
    words: str
    panel: str
    case: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Rows done one after the other without moving the tool: one placing on one panel, a case, a step.

    Attributes:
        operation: id of the operation, or "".
        title: what is worked: a panel and its surface, a case, a step.
        placed: what is cut and where the tool or jig is placed from, in words; or what the step is.
        copies: how often it is done in the batch; each copy is ticked by itself.
        rows: none for a step at which nothing is ticked, as when the work is turned over.
        hands: how many people and clamps a step takes.
        cautions: what must be heeded at a step, to be read before it, never folded away.
        before: what a step wants before anything moves: a panel laid down, connectors fitted, glue spread.
        notes: what a step wants besides: screws, clamps, what is held, what is checked.
    """

    title: str
    placed: str
    case: str
    copies: int
    rows: tuple[Row, ...]
    operation: str = ""
    hands: str = ""
    cautions: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One set-up, or one case's assembly, with all that is ticked there."""

    id: str
    kind: CardKind
    title: str
    groups: tuple[Group, ...]
    set_up: SetUp | None = None

    @property
    def rows(self) -> tuple[Row, ...]:
        """All rows, in order."""
        return tuple(r for g in self.groups for r in g.rows)

    @property
    def ticks(self) -> int:
        """How many ticks it takes, copies counted."""
        return sum(g.copies * len(g.rows) for g in self.groups)


def cards_of(plan: Plan) -> tuple[Card, ...]:
    """Return the cards of a plan; everything that is made, and every operation, stands on exactly one of them.

    Raises:
        JobError: a cut that no way here can make, or a case that cannot be put together.
    """
    return tuple(c for c in _Cards(plan).cards() if c.rows)


def things_on(cards: Iterable[Card]) -> tuple[Thing, ...]:
    """Return everything that can be ticked on these cards."""
    return tuple(r.thing for c in cards for r in c.rows)


def things_of(plan: Plan) -> tuple[Thing, ...]:
    """Return everything that can be ticked, in the order of the work, each for every copy of its case.

    Panels cut, cuts made and joints closed; where the work can be set out, also what is done between: edging, marking,
    fitting connectors, hanging doors.
    """
    try:
        return things_on(cards_of(plan))
    except JobError:
        return things_made(plan)


_PLACED: Final[Mapping[StepKind, str]] = {
    StepKind.DRAWER: "put in",
    StepKind.FRONT: "fixed",
    StepKind.DOOR: "hung",
    StepKind.SHELF: "laid in",
    StepKind.WORKTOP: "fixed",
    StepKind.PLINTH: "clipped on",
    StepKind.FILLER: "scribed and fixed",
}


_TICKED_ELSEWHERE: Final = frozenset({HandAct.DRIVE, HandAct.FRONT, HandAct.WORKTOP, HandAct.FILLER})
"""Screws are ticked with the joint they close, or with the front or worktop they hold."""


OILY_RAGS: Final = (
    "Rags with oil on them can set themselves on fire in a heap: spread them out flat outdoors to dry, and air the "
    "room. The tin's own words and local rules come first."
)


class _Cards:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.lengths = plan.job.lengths
        self.left = {m.thing.id: m for m in made_in(plan)}
        self.lines = {str(p.panel.id): len(p.lines) for c in plan.set_out.cases for p in c.panels}
        self.marks: dict[str, Mark] = {
            str(m.feature.id): m for c in plan.set_out.cases for p in c.panels for m in p.marks
        }
        self.panels = {str(p.id): p for c in plan.details.cases for p in c.panels}
        self.drawers = {d.id: d.name for c in plan.details.cases for d in c.built.drawers}
        self.boards = {b.code: b.name for b in plan.job.boards}
        self.joints = {str(j.id): j for c in plan.details.cases for j in c.joints}
        self.notes = {c.built.case.code: StepNotes(c) for c in plan.details.cases}
        self.copies = {c.built.case.code: c.built.case.count for c in plan.details.cases}

    def cards(self) -> Iterator[Card]:
        for set_up in self.plan.machining.set_ups:
            singly = set_up.is_cut
            groups = self._placings(set_up) if singly else self._by_case(set_up)
            yield Card(id=set_up.id, kind=CardKind.SET_UP, title=set_up.title, groups=tuple(groups), set_up=set_up)
        for case in self.plan.assembly.cases:
            steps = [*(self._step(case.case, step) for step in case.steps), *self._coats(case.case)]
            yield Card(
                id=f"case-{case.case}",
                kind=CardKind.ASSEMBLY,
                title=f"put case {case.case} together",
                groups=tuple(steps),
            )
        yield Card(id="rest", kind=CardKind.REST, title="what is on no other card", groups=tuple(self._rest()))

    def _placings(self, set_up: SetUp) -> Iterator[Group]:
        changes = changes_over(set_up, self.plan.machining)
        for o in set_up.operations:
            rows = [self._cut_row(o, str(f), finish=False) for f in o.features]
            rows += [self._cut_row(o, str(f), finish=True) for f in o.finishes]
            surface = f", {o.surface.value}" if o.surface is not None else ""
            yield Group(
                title=f"{o.panel_mark} {o.panel_name}{surface}",
                placed=_placed(o, self.lengths),
                case=o.case,
                copies=o.copies,
                rows=tuple(r for r in rows if r is not None),
                operation=o.id,
                notes=tuple(sentence for at, sentence in changes.items() if at == o.id),
            )

    def _cut_row(self, o: Operation, feature: str, *, finish: bool) -> Row | None:
        kind = ThingKind.FINISH if finish else ThingKind.CUT
        thing = self._taken(kind, feature)
        mark = self.marks[feature]
        if finish:
            n = self.lengths.n
            content = f"{o.what}, at u {n(mark.u)}, v {n(mark.v)}, w {n(mark.w)}"
            name = f"{o.panel_mark} {o.panel_name}, mark {mark.number} finished"
            thing = Thing(id=kind.of(feature), name=name, content=content, key=identity.of_finish(mark.feature, mark))
        if thing is None:
            return None
        words = mark_place(mark, self.panels[str(o.panel)], self.lengths)
        return Row(
            thing=thing,
            kind=kind,
            about=feature,
            label=str(mark.number),
            words=words,
            panel=str(o.panel),
            case=o.case,
        )

    def _taken(self, kind: ThingKind, about: str) -> Thing | None:
        """Return a thing that stands on no card yet, and hold that it now does."""
        made = self.left.pop(kind.of(about), None)
        return made.thing if made is not None else None

    def _by_case(self, set_up: SetUp) -> Iterator[Group]:
        for case in dict.fromkeys(o.case for o in set_up.operations):
            rows = [self._op_row(set_up, o) for o in set_up.operations if o.case == case]
            yield Group(title=f"case {case}", placed="", case=case, copies=self.copies[case], rows=tuple(rows))

    def _op_row(self, set_up: SetUp, o: Operation) -> Row:
        name = f"{o.panel_mark} {o.panel_name}"
        words = f"{o.what} ({o.joint_number})" if o.joint_number else o.what
        panel = self.panels[str(o.panel)]
        kind, about, key = _worked(set_up.stage, o, panel, self.lines.get(str(o.panel), 0))
        thing = self._taken(kind, about) or Thing(id=kind.of(about), name=f"{name}: {words}", content=words, key=key)
        if kind is ThingKind.PANEL:
            words = f"{words} x {self.lengths.n(panel.thickness)}, {self.boards[panel.board]}"
        return Row(thing=thing, kind=kind, about=about, label=name, words=words, panel=str(o.panel), case=o.case)

    def _joint_words(self, joint: str) -> str:
        """Return what a joint holds, by what and where, in the job's unit."""
        told = self.joints[joint]
        names = {p: f"{self.panels[str(p)].mark} {self.panels[str(p)].name}" for p in (told.entering, told.receiving)}
        return joint_words(told, names, self.plan.details.method(told.method).name, self.lengths)

    def _step(self, case: str, step: Step) -> Group:
        rows = []
        for joint in step.joints:
            thing = self._taken(ThingKind.JOINT, joint)
            if thing is not None:
                rows.append(
                    Row(
                        thing=thing,
                        kind=ThingKind.JOINT,
                        about=str(joint),
                        label=thing.name,
                        words=self._joint_words(str(joint)),
                        panel="",
                        case=case,
                    )
                )
        rows += [self._hand_row(case, one) for one in step.by_hand if one.act not in _TICKED_ELSEWHERE]
        word = _PLACED.get(step.kind)
        if word is not None and step.moving:
            first = self.panels[str(step.moving[0])]
            name = self.drawers[step.body] if step.kind is StepKind.DRAWER else first.name
            kind = ThingKind.PLACE
            thing = Thing(
                id=kind.of(step.body),
                name=f"{name} {word}",
                content=f"{word} in case {case}",
                key=identity.of_placing(step.kind),
            )
            placed = Row(
                thing=thing, kind=kind, about=step.body, label=thing.name, words=thing.content, panel="", case=case
            )
            rows.insert(0 if step.kind is StepKind.DOOR else len(rows), placed)
        return Group(
            title=f"step {step.number}",
            placed=step.text,
            case=case,
            copies=self.copies[case],
            rows=tuple(rows),
            hands=step.hands,
            cautions=tuple(f"{c.text} {c.do}".strip() for c in step.cautions),
            before=tuple(self.notes[case].beforehand(step)),
            notes=tuple(self._step_notes(case, step)),
        )

    def _coats(self, case: str) -> Iterator[Group]:
        """Yield the finish of a case that has bare boards, coat by coat."""
        finish = self.plan.job.finish
        bare = {b.code for b in self.plan.job.boards if b.kind is not BoardKind.FACED_CHIPBOARD}
        panels = next(c.panels for c in self.plan.details.cases if c.built.case.code == case)
        if finish is None or not any(p.board in bare for p in panels):
            return
        rows = [
            Row(
                thing=thing,
                kind=ThingKind.COAT,
                about=f"{case} {n}",
                label=thing.name,
                words=thing.content,
                panel="",
                case=case,
            )
            for n, thing in enumerate(coats_of(finish, case), start=1)
        ]
        yield Group(
            title="finish",
            placed=f"{finish.name}, in coats: each dries {finish.dries_h:g} hours before the next.",
            case=case,
            copies=self.copies[case],
            rows=tuple(rows),
            cautions=(OILY_RAGS,),
        )

    def _step_notes(self, case: str, step: Step) -> Iterator[str]:
        yield from self.notes[case].heeded(step)
        yield from (one.text for one in step.by_hand if one.act in _TICKED_ELSEWHERE)
        notes = self.notes[case]
        square = notes.square(step, self.lengths)
        yield from (words for words in (square, step.do_not_turn) if words)

    def _hand_row(self, case: str, one: ByHand) -> Row:
        thing = Thing(id=hand_id(one), name=one.name, content=one.text, key=identity.of_hand(one))
        return Row(
            thing=thing,
            kind=one.act,
            about=one.about,
            label=one.name,
            words=one.text,
            panel=one.panel,
            case=case,
        )

    def _rest(self) -> Iterator[Group]:
        """Return what no operation and no step named, so that nothing can be missed."""
        for case, copies in self.copies.items():
            mine = [m for m in self.left.values() if m.case == case]
            rows = [
                Row(
                    thing=m.thing,
                    kind=m.kind,
                    about=m.about,
                    label=m.thing.name,
                    words=m.thing.content,
                    panel="",
                    case=case,
                )
                for m in mine
            ]
            if rows:
                yield Group(title=f"case {case}", placed="", case=case, copies=copies, rows=tuple(rows))


def _worked(stage: WorkStage, o: Operation, panel: Panel, lines: int) -> tuple[ThingKind, str, str]:
    """Return what is ticked where a whole panel or a joint's connectors are worked: kind, what it is about, its key."""
    if stage is WorkStage.CUT:
        return ThingKind.PANEL, str(panel.id), identity.of_panel(panel)
    if stage is WorkStage.EDGE:
        return ThingKind.EDGE, str(panel.id), identity.of_edging(panel)
    if stage is WorkStage.MARK:
        return ThingKind.MARK, str(panel.id), identity.of_marking(lines)
    return ThingKind.FIT, f"{o.joint} {o.item}", identity.of_fitting(o.item, o.count)


def hand_id(one: ByHand) -> str:
    """Return the id of the tick of something done by hand."""
    own = f" {one.panel}" if one.panel and one.panel != one.about else ""
    return f"{one.act.value} {one.about}{own}"


def _placed(o: Operation, lengths: LengthWriter) -> str:
    place = placed_from(o, lengths)
    return f"{o.what}; placed from {place}" if place else o.what
