"""The words of a step: what is done, what is fitted before, held, clamped and glued, and what to check and heed."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.model.assembly import Diagonals, Step, StepKind
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import PanelId
from storyrod.telling.blocks import Block, Bullets, Warning_, Words, right, table, wide
from storyrod.telling.shown import Shown
from storyrod.telling.step_notes import StepNotes, joined
from storyrod.telling.steps_alike import Run

_FEW = 3  # panels up to which each is named, not only marked
_MET = 5  # panels met up to which they are named in a heading

_FIRST = (StepKind.SHELF, StepKind.RAIL, StepKind.PLINTH)
"""Steps in which what is done by hand comes before the part goes in."""

_REMINDER = "This is a reminder, not training: the law and codes where you work come first."
_TITLES = {
    "lift": "Lifting",
    "turning": "Turning the work",
    "tip-in": "Tipping",
    "open-time": "Glue",
    "stands-tall": "Standing tall",
    "worktop-lift": "The worktop",
}


class StepWords:
    """Tells the steps of one case."""

    def __init__(self, case: DetailedCase, shown: Shown) -> None:
        self._shown = shown
        self._panels = {p.id: p for p in case.panels}
        self._joints_by_id = {j.id: j for j in case.joints}
        self._notes = StepNotes(case)
        told = shown.lengths.told
        self._tubes = {r.id: f"cut the tube of {r.name} to {told(r.length)} and lay it in" for r in case.built.rails}
        self._bodies = {d.id: d.name for d in case.built.drawers} | {r.id: r.name for r in case.built.rails}

    def blocks(self, step: Step) -> tuple[Block, ...]:
        """Return the words beside a step's picture; each caution stands in full on the step that it is for.

        They are read, and done, from the top down: connectors and glue stand before the move that closes on them, what
        is held and clamped before what is driven then, the pins of a shelf before the shelf, and the cutting of a tube
        before it is laid in.
        """
        done: tuple[Block, ...] = (Bullets(items=(" ".join((*self._notes.beforehand(step), step.text)),), ticks=True),)
        by_hand = tuple(one.text for one in step.by_hand)
        driven: tuple[Block, ...] = (Bullets(items=by_hand, ticks=True),) if by_hand else ()
        items = tuple(self._notes.heeded(step))
        heeded: tuple[Block, ...] = (Bullets(items=items),) if items else ()
        found: list[Block] = [*driven, *done, *heeded] if step.kind in _FIRST else [*done, *heeded, *driven]
        if step.diagonals is not None:
            found += self._square(step.diagonals)
        if step.do_not_turn:
            found.append(Words(text=step.do_not_turn, strong=True))
        found += cautions_of(step)
        found.append(Words(text=self._weights(step), quiet=True))
        return tuple(found)

    def title(self, step: Step) -> str:
        """Return what moves, in a few words."""
        if step.kind is StepKind.TURN:
            return "Turn the work"
        if step.kind is StepKind.PLACE:
            return "Stand the case in its place"
        if step.kind in {StepKind.FIT, StepKind.FEET}:
            return f"Fittings on {self._listed(step.onto)}"
        if step.kind is StepKind.DRAWER:
            name = self.body_name(step.body)
            return f"{name[:1].upper()}{name[1:]} into the case"
        if step.kind is StepKind.RAIL:
            name = self.body_name(step.body)
            return f"{name[:1].upper()}{name[1:]} into its sockets"
        moving = self._listed(step.moving)
        met = [p for p in self._panels if p in self._met(step)]
        return f"{moving} onto {joined([self._panels[p].mark for p in met])}" if 0 < len(met) <= _MET else moving

    def body_name(self, body: str) -> str:
        """Return the maker's name of a body."""
        if body in self._bodies:
            return self._bodies[body]
        panel = self._panels.get(PanelId(body))
        return panel.name if panel is not None else body

    def twin_names(self, run: Run) -> str:
        """Return which drawers, fronts or shelves go like the one that was told."""
        return joined([self.body_name(twin[0].body) for twin in run.twins])

    def twin_cells(self, step: Step) -> tuple[str, ...]:
        """Return a step of a twin: what, its joints, what is fitted before, and the weight that moves."""
        what = "turn the work" if step.kind is StepKind.TURN else ", ".join(self._panels[p].mark for p in step.moving)
        if step.kind is StepKind.FIT:
            what = "fit " + ", ".join(self._panels[p].mark for p in step.onto)
        elif step.kind is StepKind.DRAWER:
            what = "slide it in"
        elif step.kind is StepKind.RAIL:
            what = self._tubes[step.body]
        elif step.onto and step.kind is StepKind.JOIN:
            what += " onto " + ", ".join(self._panels[p].mark for p in step.onto)
        elif step.kind is not StepKind.TURN:
            what = self._listed(step.moving)
        if step.diagonals is not None:
            what += f"; diagonals {self._shown.n(step.diagonals.length)}"
        fitted = "; ".join(t for t in (self._notes.fitted(step.fit_first), _used(step)) if t)
        moved = f"{step.moved_kg:.1f}" if step.moved_kg else ""
        return (what, self._notes.joints(step.joints), fitted, step.hands, moved)

    def _met(self, step: Step) -> frozenset[PanelId]:
        """Return the standing panels that a joint of the step meets."""
        met = {p for j in step.joints for p in (self._joints_by_id[j].receiving, self._joints_by_id[j].entering)}
        return frozenset(met & set(step.onto))

    def _square(self, check: Diagonals) -> tuple[Block, ...]:
        n = self._shown.n
        marks = joined([self._panels[p].mark for p in check.panels])
        what = f"corners of {marks} ({n(check.across)} \u00d7 {n(check.along)})"
        columns = (wide("check for square"), right("both diagonals", working=True), right("apart", working=True))
        made = table(columns, [(what, n(check.length), f"{n(check.allowed)} at most")], small=True)
        lean = f"If they differ, the frame leans {1 / check.per_mm:.1f} times that over its height."
        return made, Words(text=lean, quiet=True)

    def _weights(self, step: Step) -> str:
        rests = joined([self._panels[p].mark for p in step.rests_on])
        if step.kind is StepKind.TURN:
            return f"Needs {step.hands}. You turn {step.whole_kg:.1f} kg. It then rests on {rests}."
        if step.kind in {StepKind.FIT, StepKind.RAIL, StepKind.FEET, StepKind.PLACE}:
            return f"Needs {step.hands}."
        parts = [f"Needs {step.hands}. You move {step.moved_kg:.1f} kg."]
        parts += [f"It rests on {rests}."] if rests else []
        parts.append(f"Together it is {step.whole_kg:.1f} kg.")
        return " ".join(parts)

    def _listed(self, panels: Sequence[PanelId]) -> str:
        own = [self._panels[p] for p in panels]
        if len(own) > _FEW:
            return joined([p.mark for p in own])
        return joined([f"{p.mark} {p.name}" for p in own])


def cautions_of(step: Step, *, but: str = "") -> tuple[Warning_, ...]:
    """Return the cautions of a step, each in full, but for those of one kind."""
    return tuple(
        Warning_(
            text=f"{c.text} {c.do}".strip().removesuffix(_REMINDER).strip(),
            title=_TITLES.get(c.code, c.about),
        )
        for c in step.cautions
        if c.code != but
    )


def _used(step: Step) -> str:
    """Return what is used up by hand: `4 x pan-head screw 4 x 25`."""
    counts: dict[str, int] = {}
    for used in (u for one in step.by_hand for u in one.uses):
        counts[used.item] = counts.get(used.item, 0) + used.count
    return "; ".join(f"{count} \u00d7 {item}" for item, count in counts.items())
