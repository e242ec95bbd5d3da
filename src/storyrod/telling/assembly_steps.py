"""The words of a step: what is done, what is fitted before, held, clamped and glued, and what to check and heed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.model.assembly import Connectors, Diagonals, Step, StepKind
from storyrod.model.detail import DetailedCase
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId
from storyrod.telling.blocks import Block, Bullets, Warning_, Words, right, table, wide
from storyrod.telling.shown import Shown
from storyrod.telling.steps_alike import Run

_FEW = 3  # panels up to which each is named, not only marked
_MET = 5  # panels met up to which they are named in a heading

_REMINDER = "This is a reminder, not training: the law and codes where you work come first."
_TITLES = {
    "lift": "Lifting",
    "turning": "Turning the work",
    "tip-in": "Tipping",
    "open-time": "Glue",
    "stands-tall": "Standing tall",
}


class StepWords:
    """Tells the steps of one case."""

    def __init__(self, case: DetailedCase, shown: Shown) -> None:
        self._shown = shown
        self._panels = {p.id: p for p in case.panels}
        self._joints_by_id = {j.id: j for j in case.joints}
        self._numbers = {j.id: j.number for j in case.joints}
        self._bodies = {d.id: d.name for d in case.built.drawers}

    def blocks(self, step: Step) -> tuple[Block, ...]:
        """Return the words beside a step's picture; each caution stands in full on the step that it is for."""
        found: list[Block] = [Bullets(items=(step.text,), ticks=True)]
        if step.by_hand:
            found.append(Bullets(items=tuple(one.text for one in step.by_hand), ticks=True))
        items = tuple(self._to_heed(step))
        if items:
            found.append(Bullets(items=items))
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
        if step.kind is StepKind.FIT:
            return f"Fittings on {self._listed(step.onto)}"
        if step.kind is StepKind.DRAWER:
            name = self.body_name(step.body)
            return f"{name[:1].upper()}{name[1:]} into the case"
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
        elif step.onto and step.kind is StepKind.JOIN:
            what += " onto " + ", ".join(self._panels[p].mark for p in step.onto)
        elif step.kind is not StepKind.TURN:
            what = self._listed(step.moving)
        if step.diagonals is not None:
            what += f"; diagonals {self._shown.n(step.diagonals.length)}"
        fitted = "; ".join(t for t in (self._fitted(step.fit_first), _used(step)) if t)
        moved = f"{step.moved_kg:.1f}" if step.moved_kg else ""
        return (what, self._joints(step.joints), fitted, step.hands, moved)

    def _met(self, step: Step) -> frozenset[PanelId]:
        """Return the standing panels that a joint of the step meets."""
        met = {p for j in step.joints for p in (self._joints_by_id[j].receiving, self._joints_by_id[j].entering)}
        return frozenset(met & set(step.onto))

    def _to_heed(self, step: Step) -> Iterator[str]:
        if step.fit_first:
            yield f"Before: fit {self._fitted(step.fit_first)}."
        if step.glue:
            yield f"Glue {self._joints(step.glue)}: about {_minutes(step.glue_min)} to spread and close."
        elif step.kind is StepKind.JOIN:
            yield "No glue."
        yield from step.hold
        if step.clamps:
            yield f"Clamp across {self._joints(step.clamps)}: {_counted(step.clamp_count, 'clamp')}."

    def _square(self, check: Diagonals) -> tuple[Block, ...]:
        n = self._shown.n
        marks = joined([self._panels[p].mark for p in check.panels])
        what = f"corners of {marks} ({n(check.across)} \u00d7 {n(check.along)})"
        columns = (wide("check for square"), right("both diagonals", working=True), right("apart", working=True))
        made = table(columns, [(what, n(check.length), f"{n(check.allowed)} at most")], small=True)
        lean = f"Over its height the frame leans {1 / check.per_mm:.1f} times as far as they differ."
        return made, Words(text=lean, quiet=True)

    def _weights(self, step: Step) -> str:
        rests = joined([self._panels[p].mark for p in step.rests_on])
        if step.kind is StepKind.TURN:
            return f"For it: {step.hands}. To turn: {step.whole_kg:.1f} kg. It then rests on {rests}."
        if step.kind is StepKind.FIT:
            return f"For it: {step.hands}."
        parts = [f"For it: {step.hands}. Moves {step.moved_kg:.1f} kg."]
        parts += [f"It rests on {rests}."] if rests else []
        parts.append(f"All together then {step.whole_kg:.1f} kg.")
        return " ".join(parts)

    def _fitted(self, fitted: Sequence[Connectors]) -> str:
        """Return connectors by item, then by panel: `2 x dowel in A3 (J1) and A4 (J2)`."""
        items: dict[str, list[Connectors]] = {}
        for one in fitted:
            items.setdefault(one.item, []).append(one)
        told = []
        for item, ones in items.items():
            where = joined([f"{self._panels[c.panel].mark} ({self._numbers[c.joint]})" for c in ones])
            counts = [c.count for c in ones]
            each = " each" if len(counts) > 1 else ""
            if len(set(counts)) > 1:
                where = joined([f"{c.count} in {self._panels[c.panel].mark} ({self._numbers[c.joint]})" for c in ones])
                told.append(f"{sum(counts)} \u00d7 {item}, {where}")
            else:
                told.append(f"{counts[0]} \u00d7 {item}{each} in {where}")
        return "; ".join(told)

    def _joints(self, joints: Sequence[JointId]) -> str:
        return joined([self._numbers[j] for j in joints])

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


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" + ("" if count == 1 else "s")


def joined(names: Sequence[str]) -> str:
    """Return names as a list in a sentence: `a, b and c`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _used(step: Step) -> str:
    """Return what is used up by hand: `4 x pan-head screw 4 x 25`."""
    counts: dict[str, int] = {}
    for used in (u for one in step.by_hand for u in one.uses):
        counts[used.item] = counts.get(used.item, 0) + used.count
    return "; ".join(f"{count} \u00d7 {item}" for item, count in counts.items())


def _minutes(minutes: float) -> str:
    """Return minutes rounded up to halves: a rule of thumb has no tenths."""
    halves = -(-minutes * 2 // 1) / 2
    return f"{halves:g} min"
